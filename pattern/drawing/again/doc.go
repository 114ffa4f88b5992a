// Package again brings a drawn outline back into a piece that is already kept:
// the frame, the names, the notches and the numbers of all that was not drawn
// anew stay as they are.
//
// A drawing program moves and turns a path on its sheet, writes eight digits,
// begins the path at another point, cuts segments and turns lines into curves;
// none of that changes the cloth. So the drawn ring is first laid on the piece
// by the edges that kept their shape (frame.go), then cut at the piece's corners
// (place.go), and only the edges whose line really changed are taken from it
// (build.go). What lies within Noise of the old line is the old line, number for
// number.
//
// Merge does so in three ways, when the piece was changed in the pattern since
// the drawing was made: edge by edge (merge.go, chain.go).
//
// The data flows one way: ring -> loop (loop.go) -> frame -> plan -> piece.
// Nothing panics on outlines that are broken, and no answer holds a NaN.
package again
