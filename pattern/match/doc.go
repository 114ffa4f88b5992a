// Package match tells which piece, edge, corner, notch and mark of one version
// of a garment is which of another. It judges identity only: how much a part
// changed is for package compare to say.
//
// Shape goes before names: an edge whose curve still lies where it lay is the
// same edge whatever it is called now, so a swap of two names is seen as two
// renames and not as two redrawn edges. Only what shape leaves open is matched
// by name, then by corners, then by how much of it is shared.
//
// A part that the versions share may have moved with its whole piece. Register
// finds that movement from the edges that kept their shape, and from those
// alone: a fit over all points would spread one redrawn edge over the others.
//
// Lengths are in mm, angles in radians, anticlockwise. Two places are the same
// within Options.Within in the pieces' own frames, and within twice that where
// a piece moved, since its turned coordinates were rounded once more.
//
// The results do not depend on the order of records or on where an outline
// begins, but for their own order, which is that of the later version followed
// by what only the earlier one has. Nothing panics on outlines that are broken;
// their parts are matched by name alone.
package match
