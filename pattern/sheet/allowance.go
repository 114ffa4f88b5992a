package sheet

import "seamkeep/pattern"

// AllowanceOf is how much cloth edge i of piece p has outside its sewing line, in
// mm: what the most specific record says (PIECE.EDGE before a run, that before
// PIECE, that before all; of two equal ones the later), 0 where none does, and 0 on
// an edge on which the piece is cut on the fold of any of its cloths.
func AllowanceOf(g *pattern.Garment, p *pattern.Piece, i int) float64 {
	if onFold(p, i) {
		return 0
	}
	mm, _ := g.AllowanceOn(p.Name, p.Edges[i].Name)
	return mm
}

// onFold tells whether edge i lies on the fold of one of the piece's cloths.
func onFold(p *pattern.Piece, i int) bool {
	for _, c := range p.Cloths {
		if c.Cut == pattern.OnFold && c.Fold.Name == p.Edges[i].Name {
			return true
		}
	}
	return false
}

// JoinKind is how the ends of an edge's allowance are cut.
type JoinKind string

// The ways to cut a corner.
const (
	// Mitre lets both cut lines run on until they meet; a tip farther from the
	// corner than MitreLimit allows is cut off.
	Mitre JoinKind = "mitre"
	// Square ends the allowance at a right angle to its own sewing line, there
	// where that line, drawn on, comes out of the neighbour's allowance.
	Square JoinKind = "square"
	// Fold gives the end of a hem the mirror image of the cloth above it, so that
	// the allowance lies on it when it is turned up.
	Fold JoinKind = "fold"
	// Clip cuts the tip off as near to the corner as the wider allowance lets.
	Clip JoinKind = "clip"
)

// joinOf is how edge i joins its neighbours, and how specific the record is that
// says so; mitre where none does.
func joinOf(g *pattern.Garment, p *pattern.Piece, i int) (JoinKind, pattern.Fit) {
	best, kind := pattern.FitNone, Mitre
	for _, j := range g.Joins {
		if fit := g.Fit(j.Target, p.Name, p.Edges[i].Name); fit > pattern.FitNone && fit >= best {
			best, kind = fit, JoinKind(j.Kind)
		}
	}
	return kind, best
}
