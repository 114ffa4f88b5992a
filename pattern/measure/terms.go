package measure

import "seamkeep/pattern"

// Term is one summand of a gap, with the sign that it has in the sum, mm.
type Term struct {
	Name  string
	Value float64
}

// The names of the terms of a gap.
const (
	TermBody      = "body"
	TermReduce    = "reduction"
	TermThickness = "thickness"
	TermRigid     = "cloth without stretch"
	TermGive      = "its give"
	TermElastic   = "elastic at rest"
	TermStretch   = "its stretch"
	TermOverlap   = "overlap"
	TermCords     = "cords"
)

// Terms lists what a gap is made of, mm over both halves, always the same nine in
// the same order. Their sum is the room that all lacings have together: Value
// times Lacings.
//
// gap = B - c + thickness - [ W_rigid (1 + give) + W_elastic (1 + s) - overlap - cords ]
func (g Gap) Terms() []Term {
	return []Term{
		{TermBody, g.Body},
		{TermReduce, -g.Reduce},
		{TermThickness, g.Thickness},
		{TermRigid, -g.Girth.Rigid},
		{TermGive, -g.Girth.Give},
		{TermElastic, -g.Girth.Elastic},
		{TermStretch, -g.Girth.Stretched},
		{TermOverlap, g.Girth.Overlap},
		{TermCords, g.Girth.Cords},
	}
}

// Calibrated is the gap with what fittings showed beside the prediction at its
// level: the predicted gap plus the garment's calibration, which is 0 where none is
// recorded. The prediction itself never holds it.
func (g Gap) Calibrated(garment *pattern.Garment) float64 {
	return g.Value() + garment.CalibrateAt(g.Level)
}
