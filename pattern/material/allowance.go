package material

import "seamkeep/pattern"

// Source says which record gives an edge its allowance.
type Source string

// The sources.
const (
	FromNone  Source = ""      // no record: 0
	FromAll   Source = "all"   // the record without a target
	FromPiece Source = "piece" // that of the piece
	FromRun   Source = "run"   // that of a run which the edge is part of
	FromEdge  Source = "edge"  // that of the edge itself
	FromFold  Source = "fold"  // the edge lies on the fold
)

// AllowanceOn gives the cloth outside the sewing line of an edge, mm, and the record
// that says so: see pattern.Garment.AllowanceOn.
func AllowanceOn(g *pattern.Garment, piece, edge string) (mm float64, from Source) {
	mm, fit := g.AllowanceOn(piece, edge)
	switch fit {
	case pattern.FitAll:
		from = FromAll
	case pattern.FitPiece:
		from = FromPiece
	case pattern.FitRun:
		from = FromRun
	case pattern.FitEdge:
		from = FromEdge
	}
	return mm, from
}
