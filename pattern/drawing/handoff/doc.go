// Package handoff gives a pattern's pieces to a vector drawing program and
// writes them back into a drawing that the maker already has.
//
// Write makes a whole drawing (SVG) at true size. Into changes the outlines in
// an existing one and leaves every other byte as it is. Both say which line is
// which by attributes of a namespace of our own, which drawing programs keep:
//
//	seamkeep:piece  on the group of a piece: its name
//	seamkeep:base   there: git's id of the piece file that the lines show
//	seamkeep:at     there: where the piece's own 0 0 lies, "X Y" in mm from the top left
//	seamkeep:line   on a line: outline, mark KIND NAME, notch EDGE NAME,
//	                level NAME, grain, or check for what is not read back
package handoff

// The namespaces of a drawing.
const (
	nsSVG      = "http://www.w3.org/2000/svg"
	nsInkscape = "http://www.inkscape.org/namespaces/inkscape"
	nsSodipodi = "http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"
	nsOwn      = "seamkeep:drawing:1"
)
