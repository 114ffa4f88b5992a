package alter

import (
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Both is the word for moving the corners of both sides, each half the way.
const Both = "both"

// Refusal says why an alteration cannot be made and what can be done.
type Refusal struct {
	Seam     string
	Why      string
	Hint     string
	Problems diag.List // what would be wrong with the pieces afterwards
}

// Error gives the reason in one line.
func (r *Refusal) Error() string { return "seam " + r.Seam + ": " + r.Why }

// Slid is one corner that truing moved.
type Slid struct {
	Piece, Corner string
	From, To      curve.Point
	Amount        float64 // mm along the edge: positive shortens the side
}

// Trued is a seam made to agree.
type Trued struct {
	Garment       *pattern.Garment // the altered copy
	Before, After *measure.Walk
	Slid          []Slid
	Left          float64 // greatest difference of a segment afterwards, mm
}

// True makes the two sides of a seam agree by sliding the corners at its ends
// along the seam's own edges, beyond the end along the tangent. move names the
// piece whose corners move, or Both for half the way each. Each end takes up
// the difference of the segment next to it, an end that is matched by a notch
// or the waist none; segments between notches stay. The neighbouring edges keep
// their handles and end at the new corner, and notches keep their place on the
// cloth. Coordinates are rounded to 0.001 mm. A seam that matches already stays
// as it is.
//
// It refuses, with a *Refusal, a seam whose sides have several edges, spans, a
// mirror or a corner in common; a seam that would not match afterwards or match
// worse; and a move after which an outline would cross itself, turn over or lose
// an edge.
func True(g *pattern.Garment, seam, move string, tol float64) (*Trued, error) {
	s := g.Seam(seam)
	if s == nil {
		return nil, &Refusal{Seam: seam, Why: "there is no such seam"}
	}
	before, problem := measure.WalkSeam(g, s, tol)
	if problem != nil {
		return nil, &Refusal{Seam: seam, Why: problem.Message(), Hint: problem.Hint}
	}
	if why := check.CannotTrue(before); why != "" {
		return nil, refusedFor(g, before, move, why, tol)
	}
	first, second, ok := shares(s, move)
	if !ok {
		return nil, refusal(before, move, "piece "+move+" is not on it")
	}
	t := &Trued{Garment: copied(g, s), Before: before, After: before}
	if v := check.Judge(g, before); v.OK && !v.Near {
		t.Left = t.left()
		return t, nil
	}
	if err := t.agree(s, first, second, move, tol); err != nil {
		return nil, err
	}
	t.Left = t.left()
	if err := t.sound(g, s, move); err != nil {
		return nil, err
	}
	return t, t.better(g, move, tol)
}

// copied gives a garment whose pieces on the seam are copies; it shares the
// others, which truing does not touch.
func copied(g *pattern.Garment, s *pattern.Seam) *pattern.Garment {
	c := *g
	c.Pieces = append([]*pattern.Piece{}, g.Pieces...)
	for i, p := range c.Pieces {
		if p.Name == s.First[0].Piece || p.Name == s.Second[0].Piece {
			c.Pieces[i] = pattern.Clone(p)
		}
	}
	return &c
}

func (t *Trued) left() float64 { return math.Abs(t.After.Worst().Difference) }

// agree slides the corners until the ends are right. Mostly once is enough; a
// whole ease is spread in proportion to the second side, so that moving that
// side shifts a little of it, less each time.
func (t *Trued) agree(s *pattern.Seam, first, second float64, move string, tol float64) error {
	const passes, right = 6, 2 * pattern.Grid
	for range passes {
		start, end := t.due()
		for _, part := range []struct {
			side  measure.Side
			share float64
		}{{t.After.First, first}, {t.After.Second, -second}} {
			if part.share == 0 {
				continue
			}
			if err := t.slide(s, part.side, part.share*start, part.share*end, move, tol); err != nil {
				return err
			}
		}
		var problem *diag.Problem
		if t.After, problem = measure.WalkSeam(t.Garment, t.Garment.Seam(s.Name), tol); problem != nil {
			return refusal(t.Before, move, "afterwards "+problem.Message())
		}
		if start, end = t.due(); math.Abs(start) < right && math.Abs(end) < right {
			break
		}
	}
	t.Slid = slices.DeleteFunc(t.Slid, func(s Slid) bool { return math.Abs(s.Amount) < pattern.Grid })
	return nil
}

// due gives what is still to slide at the two ends, by the stations that the
// seam had at first: a corner that slides over the waist makes it a station of
// the seam, or none, and that must not change where the difference goes.
func (t *Trued) due() (start, end float64) {
	was, is := t.Before.Segments, t.After.Segments
	switch {
	case len(was) == 1 && len(is) > 1:
		whole := measure.Walk{Segments: []measure.Segment{{Difference: t.After.Difference}}, Agreed: t.Before.Agreed}
		return whole.Ends()
	case len(is) < len(was) && t.After.Agreed == t.Before.Agreed:
		return 0, 0
	}
	return t.After.Ends()
}

// shares splits the difference between the first and the second side; false
// where the piece to move is on neither.
func shares(s *pattern.Seam, move string) (first, second float64, ok bool) {
	a, b := s.First[0].Piece, s.Second[0].Piece
	switch {
	case move == Both || a == b && move == a:
		return 0.5, 0.5, true
	case move == a:
		return 1, 0, true
	case move == b:
		return 0, 1, true
	}
	return 0, 0, false
}

// slide moves both corners of one side; the amounts are in the side's walking
// direction.
func (t *Trued) slide(s *pattern.Seam, side measure.Side, start, end float64, move string, tol float64) error {
	for _, corner := range []struct {
		atEnd  bool
		amount float64
	}{{false, start}, {true, end}} {
		if math.Abs(corner.amount) < pattern.Grid {
			continue
		}
		w, problem := measure.WalkSeam(t.Garment, s, tol)
		if problem != nil {
			return refusal(t.Before, move, problem.Message())
		}
		again := w.Second
		if side.Refs[0] == w.First.Refs[0] {
			again = w.First
		}
		if err := t.move(again, corner.atEnd, corner.amount, tol); err != nil {
			return refusal(t.Before, move, err.Error())
		}
	}
	return nil
}

// move slides one corner and what goes with it.
func (t *Trued) move(side measure.Side, atEnd bool, amount, tol float64) error {
	p, edge, corner, path, err := side.Slide(atEnd, amount, tol)
	if err != nil {
		return err
	}
	was, to := p.Corners[corner].At, path.Start()
	beside := (edge + len(p.Edges) - 1) % len(p.Edges)
	if corner != edge {
		to, beside = path.End(), corner
	}
	length := p.EdgePath(beside).Length(tol)
	p.Corners[corner].At = pattern.Round(to)
	p.Edges[edge].Segs = pattern.SegsOf(path)
	keepNotches(p, edge, corner, amount)
	keepNotches(p, beside, corner, length-p.EdgePath(beside).Length(tol))
	retouch(p, tol)
	t.record(Slid{Piece: p.Name, Corner: p.Corners[corner].Name, From: was, To: p.Corners[corner].At, Amount: amount})
	return nil
}

// record adds what a corner did to what it did before.
func (t *Trued) record(s Slid) {
	for i := range t.Slid {
		if old := &t.Slid[i]; old.Piece == s.Piece && old.Corner == s.Corner {
			old.To, old.Amount = s.To, old.Amount+s.Amount
			return
		}
	}
	t.Slid = append(t.Slid, s)
}

// keepNotches corrects the distance of each notch of the edge that is measured
// from the corner that moved, so that it stays where it was on the cloth.
func keepNotches(p *pattern.Piece, edge, corner int, amount float64) {
	for i := range p.Notches {
		n := &p.Notches[i]
		if n.Edge.Name == p.Edges[edge].Name && n.On.Kind == pattern.FromCorner && n.On.Corner == p.Corners[corner].Name {
			n.On.Distance = pattern.RoundLength(n.On.Distance - amount)
		}
	}
}

// retouch records the true length of every edge that records one.
func retouch(p *pattern.Piece, tol float64) {
	for i := range p.Edges {
		if p.Edges[i].Length.Set {
			p.Edges[i].Length = pattern.Some(pattern.RoundLength(p.EdgePath(i).Length(tol)))
		}
	}
}
