package alter

import (
	"fmt"
	"math"

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
	Left          float64 // greatest difference of an inner segment, which no corner can mend, mm
}

// True makes the two sides of a seam agree by sliding the corners at its ends
// along the seam's own edges, beyond the end along the tangent. move names the
// piece whose corners move, or Both for half the way each. Each end takes up
// the difference of the segment next to it; segments between notches stay. The
// neighbouring edges keep their handles and end at the new corner, and notches
// keep their place on the cloth. Coordinates are rounded to 0.001 mm.
//
// It refuses, with a *Refusal, a seam whose sides have several edges, spans, a
// mirror or a corner in common, and a move after which an outline would cross itself, turn over or
// lose an edge.
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
		start, end := before.Ends()
		return nil, &Refusal{Seam: seam, Why: why,
			Hint: fmt.Sprintf("the amounts are %.2f at the %s end and %.2f at the %s end", start, before.First.StartName(), end, before.First.EndName())}
	}
	first, second, err := shares(s, move)
	if err != nil {
		return nil, err
	}
	t := &Trued{Garment: pattern.Clone(g), Before: before, After: before}
	if err := t.agree(s, first, second, tol); err != nil {
		return nil, err
	}
	for _, seg := range t.After.Segments {
		t.Left = max(t.Left, math.Abs(seg.Difference))
	}
	return t, t.sound(g, s)
}

// agree slides the corners until the ends are right. Mostly once is enough; a
// whole ease is spread in proportion to the second side, so that moving that
// side shifts a little of it, less each time.
func (t *Trued) agree(s *pattern.Seam, first, second, tol float64) error {
	const passes, right = 6, 2 * pattern.Grid
	for range passes {
		start, end := t.After.Ends()
		for _, part := range []struct {
			side  measure.Side
			share float64
		}{{t.After.First, first}, {t.After.Second, -second}} {
			if part.share == 0 {
				continue
			}
			if err := t.slide(s, part.side, part.share*start, part.share*end, tol); err != nil {
				return err
			}
		}
		var problem *diag.Problem
		if t.After, problem = measure.WalkSeam(t.Garment, t.Garment.Seam(s.Name), tol); problem != nil {
			return &Refusal{Seam: s.Name, Why: "afterwards " + problem.Message()}
		}
		if start, end = t.After.Ends(); math.Abs(start) < right && math.Abs(end) < right {
			break
		}
	}
	return nil
}

// shares splits the difference between the first and the second side.
func shares(s *pattern.Seam, move string) (first, second float64, err error) {
	a, b := s.First[0].Piece, s.Second[0].Piece
	switch {
	case move == Both || a == b && move == a:
		return 0.5, 0.5, nil
	case move == a:
		return 1, 0, nil
	case move == b:
		return 0, 1, nil
	}
	return 0, 0, &Refusal{Seam: s.Name, Why: "piece " + move + " is not on it", Hint: fmt.Sprintf("--move %s, %s or %s", a, b, Both)}
}

// slide moves both corners of one side; the amounts are in the side's walking
// direction.
func (t *Trued) slide(s *pattern.Seam, side measure.Side, start, end, tol float64) error {
	for _, corner := range []struct {
		atEnd  bool
		amount float64
	}{{false, start}, {true, end}} {
		if math.Abs(corner.amount) < pattern.Grid/2 {
			continue
		}
		again, err := sideNow(t.Garment, s, side, tol)
		if err != nil {
			return err
		}
		if err := t.move(s, again, corner.atEnd, corner.amount, tol); err != nil {
			return err
		}
	}
	return nil
}

// sideNow lays out the same side on the altered copy.
func sideNow(g *pattern.Garment, s *pattern.Seam, side measure.Side, tol float64) (measure.Side, error) {
	w, problem := measure.WalkSeam(g, s, tol)
	if problem != nil {
		return measure.Side{}, &Refusal{Seam: s.Name, Why: problem.Message()}
	}
	if side.Refs[0] == w.First.Refs[0] {
		return w.First, nil
	}
	return w.Second, nil
}

func (t *Trued) move(s *pattern.Seam, side measure.Side, atEnd bool, amount, tol float64) error {
	p, edge, corner, path, err := side.Slide(atEnd, amount, tol)
	if err != nil {
		return &Refusal{Seam: s.Name, Why: err.Error(), Hint: "move the other piece, or both: seamkeep true " + s.Name + " --move both"}
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

// sound refuses an alteration after which one of the pieces is no outline any
// more.
func (t *Trued) sound(before *pattern.Garment, s *pattern.Seam) error {
	bad := worse(outlineErrors(before), outlineErrors(t.Garment))
	if len(bad) > 0 {
		return &Refusal{Seam: s.Name, Why: "the outline would not survive it: " + bad[0].Found, Problems: bad,
			Hint: "move the other piece, or both; or redraw the edge"}
	}
	for _, slid := range t.Slid {
		if edge, turned := turnedOver(before.Piece(slid.Piece), t.Garment.Piece(slid.Piece)); turned {
			return &Refusal{Seam: s.Name, Why: fmt.Sprintf("edge %s.%s would turn over", slid.Piece, edge),
				Hint: "move the other piece, or both; or redraw the edge"}
		}
	}
	return nil
}

func outlineErrors(g *pattern.Garment) diag.List {
	var out diag.List
	for _, x := range check.Run(check.Input{Garment: g}) {
		switch x.ID {
		case "outline.crosses", "outline.clockwise", "edge.short", "notch.no-place", "mark.outside":
			out = append(out, x)
		}
	}
	return out
}

// worse gives the findings that were not there before.
func worse(before, after diag.List) diag.List {
	there := map[string]bool{}
	for _, x := range before {
		there[x.Address()] = true
	}
	var out diag.List
	for _, x := range after {
		if !there[x.Address()] {
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
