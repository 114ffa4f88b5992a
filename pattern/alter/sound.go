package alter

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// refusal says why a seam stays as it is, with the amounts at its ends and what
// else can be asked for than the move that was.
func refusal(w *measure.Walk, move, why string) *Refusal {
	s := w.Seam
	r := &Refusal{Seam: s.Name, Why: why, Hint: check.Amounts(w)}
	if s.Mirrored {
		return r
	}
	if check.CannotTrue(w) != "" {
		r.Hint += "\nmove the corners in the drawing or in the file"
		return r
	}
	others := Others(s, move)
	if len(others) == 0 {
		r.Hint += "\nredraw the edge"
		return r
	}
	r.Hint += "\nseamkeep true " + s.Name + " --move " + others[0]
	for _, o := range others[1:] {
		r.Hint += "|" + o
	}
	return r
}

// Others lists what else than move the corners of a seam's sides can be moved
// on: one piece, the other, or Both.
func Others(s *pattern.Seam, move string) []string {
	if len(s.First) == 0 || len(s.Second) == 0 {
		return nil
	}
	a, b := s.First[0].Piece, s.Second[0].Piece
	all := []string{a, b, Both}
	if a == b {
		all = []string{a}
		if move == Both {
			return nil // the same thing
		}
	}
	var out []string
	for _, o := range all {
		if o != move {
			out = append(out, o)
		}
	}
	return out
}

// better refuses an alteration after which the seam does not match, or matches
// worse than before.
func (t *Trued) better(g *pattern.Garment, move string, tol float64) error {
	was, is := check.Judge(g, t.Before), check.Judge(t.Garment, t.After)
	const hair = pattern.Grid
	if is.OK && is.Amount <= was.Amount+hair && len(t.Slid) > 0 {
		return nil
	}
	seg := t.After.Worst()
	return refusedFor(g, t.Before, move, fmt.Sprintf("sliding corners does not mend it: %s to %s would be off by %+.2f", seg.From, seg.To, seg.Difference), tol)
}

// refusedFor is refusal with another hint where no move of corners helps: the cure.
func refusedFor(g *pattern.Garment, w *measure.Walk, move, why string, tol float64) *Refusal {
	r := refusal(w, move, why)
	if w.Remains() > check.Judge(g, w).Warn {
		r.Hint = check.Cure(g, w, tol)
	}
	return r
}

// sound refuses an alteration after which one of the pieces is no outline any
// more.
func (t *Trued) sound(before *pattern.Garment, s *pattern.Seam, move string) error {
	var was, is []*pattern.Piece
	for i, p := range t.Garment.Pieces {
		if p != before.Pieces[i] {
			was, is = append(was, before.Pieces[i]), append(is, p)
		}
	}
	if bad := worse(check.Shapes(before, was), check.Shapes(t.Garment, is)); len(bad) > 0 {
		r := refusal(t.Before, move, "the outline would not survive it: "+bad[0].Found)
		r.Problems = bad
		return r
	}
	for i := range was {
		if edge, turned := turnedOver(was[i], is[i]); turned {
			return refusal(t.Before, move, fmt.Sprintf("edge %s.%s would turn over", is[i].Name, edge))
		}
	}
	return nil
}

// worse gives the findings that were not there before, or not as bad.
func worse(before, after diag.List) diag.List {
	type place struct {
		address string
		at      diag.Place
	}
	most, count := map[place]float64{}, map[place]int{}
	for _, x := range before {
		k := place{x.Address(), x.Place}
		most[k], count[k] = max(most[k], x.Amount), count[k]+1
	}
	var out diag.List
	for _, x := range after {
		k := place{x.Address(), x.Place}
		count[k]--
		grown := x.Amount > most[k]+10*pattern.Grid && x.ID != "outline.clockwise" // its amount is its area
		if count[k] < 0 || grown {
			out = append(out, x)
		}
	}
	return out
}

// turnedOver finds an edge whose ends have changed places: it now runs against
// its old direction.
func turnedOver(a, b *pattern.Piece) (string, bool) {
	for i := range a.Edges {
		was := a.EdgePath(i).End().Sub(a.EdgePath(i).Start())
		is := b.EdgePath(i).End().Sub(b.EdgePath(i).Start())
		if was.Dot(is) < 0 {
			return a.Edges[i].Name, true
		}
	}
	return "", false
}
