package match

import (
	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// PieceParts says which part of one version of a piece is which of the other:
// what Register, Edges, Corners, Notches and Marks give.
type PieceParts struct {
	Fit     curve.Rigid // Register's movement, which all the others use
	OK      bool        // Register found how the versions lie on each other
	Edges   []EdgeMatch
	Corners []PartMatch
	Notches []PartMatch
	Marks   []PartMatch
}

// Parts matches all parts of two versions of a piece at once: the outlines are
// measured and laid on each other a single time. The garments give the levels;
// either may be nil.
func Parts(ga, gb *pattern.Garment, a, b *pattern.Piece, o Options) PieceParts {
	f := frameOf(a, b, o.filled())
	p := PieceParts{Fit: f.fit, OK: f.ok, Edges: edgesIn(f)}
	p.Corners = cornersIn(f, p.Edges)
	p.Notches = notchesIn(ga, gb, f, p.Edges)
	p.Marks = marksIn(f)
	return p
}
