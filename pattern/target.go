package pattern

// Fit says how closely the target of a record fits an edge. Of several records the
// closest decides, of two equal ones the later.
type Fit int

// The fits, from none on.
const (
	FitNone  Fit = iota // the record is about something else
	FitAll              // it is for everything
	FitPiece            // for the edge's piece
	FitRun              // for a run that the edge is part of
	FitEdge             // for the edge itself
)

// Fit tells how closely a target fits an edge of a piece.
func (g *Garment) Fit(t Target, piece, edge string) Fit {
	switch {
	case t.Name == "":
		return FitAll
	case t.Edge != "":
		if t.Name == piece && t.Edge == edge {
			return FitEdge
		}
		return FitNone
	}
	if r := g.Run(t.Name); r != nil {
		for _, ref := range r.Refs {
			if ref.Piece == piece && ref.Edge == edge {
				return FitRun
			}
		}
	}
	if t.Name == piece {
		return FitPiece
	}
	return FitNone
}

// AllowanceOn gives the cloth outside the sewing line of an edge, mm, and how closely
// the record fits that says so; 0 where none does. A fold is not asked for.
func (g *Garment) AllowanceOn(piece, edge string) (mm float64, fit Fit) {
	for _, a := range g.Allowances {
		if f := g.Fit(a.Target, piece, edge); f > FitNone && f >= fit {
			mm, fit = a.Value, f
		}
	}
	return mm, fit
}
