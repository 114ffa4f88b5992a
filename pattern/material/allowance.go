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

// strength orders the records: the narrower decides.
func (s Source) strength() int {
	switch s {
	case FromAll:
		return 1
	case FromPiece:
		return 2
	case FromRun:
		return 3
	case FromEdge:
		return 4
	}
	return 0
}

// AllowanceOn gives the cloth outside the sewing line of an edge, mm: the record of
// the edge itself, else that of its run, else that of its piece, else that for
// all, of two equal ones the later; 0 where none is recorded. A fold is not asked for.
func AllowanceOn(g *pattern.Garment, piece, edge string) (mm float64, from Source) {
	for _, a := range g.Allowances {
		var s Source
		switch {
		case a.Target.Name == "":
			s = FromAll
		case a.Target.Edge != "":
			if a.Target.Name == piece && a.Target.Edge == edge {
				s = FromEdge
			}
		case a.Target.Name == piece:
			s = FromPiece
		case inRun(g, a.Target.Name, piece, edge):
			s = FromRun
		}
		if s != FromNone && s.strength() >= from.strength() {
			mm, from = a.Value, s
		}
	}
	return mm, from
}

func inRun(g *pattern.Garment, run, piece, edge string) bool {
	r := g.Run(run)
	if r == nil {
		return false
	}
	for _, ref := range r.Refs {
		if ref.Piece == piece && ref.Edge == edge {
			return true
		}
	}
	return false
}
