package drawing

import (
	"fmt"
	"math"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// What makes a corner. 10 degrees: common practice, no source.
const (
	cornerTurn  = 10   // degrees by which the outline turns
	shortHandle = 0.05 // mm; a shorter handle gives no direction
	shortPart   = 0.1  // mm; a shorter segment gives no direction
	nearCorner  = 1.0  // mm; no second corner is set so close to a corner
	nearJoint   = 0.05 // mm; no curve is split so close to a joint
)

// corners finds the corners of an anticlockwise ring, as indices of the
// segments that leave them, the one nearest the top left first. Where there are
// fewer than two it adds the lowest and the highest point, splits the ring
// there and says so.
func (r *recogniser) corners(o *outline, path curve.Path) (curve.Path, []int) {
	at := turns(path)
	if n := len(at); n < 2 {
		path, at = withExtremes(path, at)
		word := "no corner"
		if n == 1 {
			word = "one corner only"
		}
		place := o.place
		place.Piece = o.drawn.Name
		r.problem(place, diag.Note, "drawing.corner", o.drawn.Name,
			fmt.Sprintf("%s has %s, so that its lowest and highest points were made corners", r.kind(o.line), word),
			fmt.Sprintf("two corners at least, where the outline turns by more than %d degrees", cornerTurn), "")
	}
	first := topLeft(path, at)
	return path, append(at[first:len(at):len(at)], at[:first]...)
}

// turns lists the joints at which the direction changes by more than cornerTurn.
func turns(path curve.Path) []int {
	var at []int
	for i, turn := range path.Turns(shortPart, shortHandle) {
		if turn > cornerTurn {
			at = append(at, i)
		}
	}
	return at
}

// topLeft is the place in at of the corner nearest the top left of the ring's
// box: the top of the front edge, if the front lies left.
func topLeft(path curve.Path, at []int) int {
	box := path.Bounds()
	want := curve.Pt(box.Min.X, box.Max.Y)
	best := 0
	for i := range at {
		if path[at[i]].P0.Dist(want) < path[at[best]].P0.Dist(want) {
			best = i
		}
	}
	return best
}

// spot is a place on a ring: the parameter t of a segment, 0 at a joint.
type spot struct {
	seg int
	t   float64
}

// withExtremes adds corners at the lowest and at the highest point, unless a
// corner is there already.
func withExtremes(path curve.Path, at []int) (curve.Path, []int) {
	var spots []spot
	for _, i := range at {
		spots = append(spots, spot{seg: i})
	}
	for _, sign := range []float64{-1, 1} {
		s := extreme(path, sign)
		p := path[s.seg].At(s.t)
		free := true
		for _, o := range spots {
			free = free && path[o.seg].At(o.t).Dist(p) >= nearCorner
		}
		if free {
			spots = append(spots, s)
		}
	}
	return splitAt(path, spots)
}

// extreme is the highest place of the ring for sign 1, the lowest for -1; the
// first one where several are equal.
func extreme(path curve.Path, sign float64) spot {
	best, top := spot{}, math.Inf(-1)
	for i, s := range path {
		for _, t := range append(level(s), 0) {
			if y := sign * s.At(t).Y; y > top+pattern.Grid/2 {
				best, top = spot{i, t}, y
			}
		}
	}
	s := path[best.seg]
	switch p := s.At(best.t); {
	case p.Dist(s.P0) < nearJoint:
		best.t = 0
	case p.Dist(s.P3) < nearJoint:
		best = spot{seg: (best.seg + 1) % len(path)}
	}
	return best
}

// level gives the parameters inside (0,1) at which a curve runs level: the
// roots of the derivative of its height.
func level(s curve.Segment) []float64 {
	if s.Straight {
		return nil
	}
	u, v, w := s.P1.Y-s.P0.Y, s.P2.Y-s.P1.Y, s.P3.Y-s.P2.Y
	a, b := u-2*v+w, v-u // a t^2 + 2 b t + u
	disc := b*b - a*u
	if disc < 0 {
		return nil
	}
	q := -(b + math.Copysign(math.Sqrt(disc), b))
	var out []float64
	for _, t := range []float64{q / a, u / q} {
		if t > 0 && t < 1 {
			out = append(out, t)
		}
	}
	return out
}

// splitAt cuts the ring at the spots and gives the indices of the segments that
// begin there, in order.
func splitAt(path curve.Path, spots []spot) (curve.Path, []int) {
	sort.Slice(spots, func(i, j int) bool {
		return spots[i].seg < spots[j].seg || spots[i].seg == spots[j].seg && spots[i].t < spots[j].t
	})
	var out curve.Path
	var at []int
	for i, s := range path {
		from := 0.0
		for ; len(spots) > 0 && spots[0].seg == i; spots = spots[1:] {
			if t := spots[0].t; t > from {
				out = append(out, s.Sub(from, t))
				from = t
			}
			at = append(at, len(out))
		}
		out = append(out, s.Sub(from, 1))
	}
	for i := range out {
		s := &out[i]
		if s.Straight {
			continue // whole, and on the grid
		}
		s.P0, s.P1, s.P2, s.P3 = pattern.Round(s.P0), pattern.Round(s.P1), pattern.Round(s.P2), pattern.Round(s.P3)
	}
	return out, at
}
