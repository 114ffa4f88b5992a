package curve

import (
	"math"
	"sort"
)

// SelfCrossing is a place that a path passes twice: on the segments SegA and
// SegB (SegA <= SegB, the same number where one segment crosses itself) at the
// parameters TA and TB.
type SelfCrossing struct {
	SegA, SegB int
	TA, TB     float64
	Point      Point
}

// SelfCrossings finds where a path meets itself, in the order of SegA and TA:
// crossings, touches (places nearer than 1e-9 mm may be given as touches, a
// crossing exactly at a corner is given for both segments there), and stretches
// that run along each other within 1e-6 mm (one each, by their middle). The
// joints of neighbours, and of the end and start of a ring, do not count; that
// neighbours cross again (more than 0.001 mm from the joint), or cannot be told
// apart for more than 0.01 mm on folding back, does. A segment that
// loops or folds back along itself counts. Segments without length are passed
// over. At a joint without an angle, what still counts as the joint may depend
// on the direction of the walk.
func (ring Path) SelfCrossings() []SelfCrossing {
	live := ring.withLength()
	boxes := make([]Box, len(live))
	for k, i := range live {
		boxes[k] = ring[i].hull().Grow(touch)
	}
	closed := ring.closed()
	var out []SelfCrossing
	for k, i := range live {
		s := &ring[i]
		if c, ok := s.loop(closed && len(live) == 1); ok {
			c.SegA, c.SegB = i, i
			out = append(out, c)
		}
		for l := k + 1; l < len(live); l++ {
			if !boxes[k].Overlaps(boxes[l]) {
				continue
			}
			j := joints{endStart: l == k+1, startEnd: closed && k == 0 && l == len(live)-1}
			for _, h := range intersect(s, &ring[live[l]], j) {
				out = append(out, SelfCrossing{i, live[l], h.TA, h.TB, h.Point})
			}
		}
	}
	sort.SliceStable(out, func(i, k int) bool {
		a, b := out[i], out[k]
		return a.SegA < b.SegA || a.SegA == b.SegA && a.TA < b.TA
	})
	return out
}

// withLength lists the segments that are more than a point.
func (p Path) withLength() []int {
	live := make([]int, 0, len(p))
	for i := range p {
		if !p[i].point() && p[i].hullSize() > samePlace {
			live = append(live, i)
		}
	}
	return live
}

func (s *Segment) hullSize() float64 {
	b := s.hull()
	return max(b.Width(), b.Height())
}

// loop finds where one segment passes the same place twice; ring says that its
// ends are one joint, which does not count.
//
// With the curve as a t^3 + b t^2 + c t + P0, two parameters t and u of one
// place have a (t^2 + t u + u^2) + b (t + u) + c = 0. The vector product with a
// gives the sum of the two, that with b their product.
func (s *Segment) loop(ring bool) (SelfCrossing, bool) {
	if s.Straight {
		return SelfCrossing{}, false
	}
	d0, d1, d2 := s.P1.Sub(s.P0), s.P2.Sub(s.P1), s.P3.Sub(s.P2)
	if c, ok := s.foldback(); ok {
		return c, true
	}
	a, b, c := d2.Sub(d1).Sub(d1.Sub(d0)), d1.Sub(d0).Mul(3), d0.Mul(3)
	ab, ac, bc := a.Cross(b), a.Cross(c), b.Cross(c)
	if ab == 0 {
		return SelfCrossing{}, false
	}
	sum := -ac / ab
	product := float64(sum*sum) - bc/ab
	disc := float64(sum*sum) - 4*product
	if !(disc > 0) {
		return SelfCrossing{}, false
	}
	m := (sum + math.Copysign(math.Sqrt(disc), sum)) / 2
	t, u := product/m, m
	if t > u {
		t, u = u, t
	}
	const slack = 1e-12
	if !(t >= -slack && u <= 1+slack) {
		return SelfCrossing{}, false
	}
	t, u = clamp01(t), clamp01(u)
	if ring && s.LengthBetween(0, t, touch) <= samePlace && s.LengthBetween(u, 1, touch) <= samePlace {
		return SelfCrossing{}, false
	}
	part := s.Sub(t, u)
	return SelfCrossing{TA: t, TB: u, Point: s.At(t)}, part.hullSize() > samePlace
}

// foldback finds where a segment whose points lie on one line turns round and
// runs back along itself; the middle of the shorter leg is given.
func (s *Segment) foldback() (SelfCrossing, bool) {
	axis, ok := s.axis()
	if !ok {
		return SelfCrossing{}, false
	}
	h := s.heights(func(p Point) float64 { return axis.Dot(p.Sub(s.P0)) })
	list, n := h.stretches()
	for k := 1; k < n; k++ {
		before, after := list[k-1], list[k]
		way := math.Copysign(1, before.v1-before.v0)
		back := min(way*(before.v1-before.v0), way*(after.v0-after.v1))
		if back <= samePlace {
			continue
		}
		v := before.v1 - way*back/2
		for i := range h {
			h[i] -= v
		}
		before.v0, before.v1, after.v0, after.v1 = before.v0-v, before.v1-v, after.v0-v, after.v1-v
		t, u := h.root(before), h.root(after)
		return SelfCrossing{TA: t, TB: u, Point: s.At(t)}, true
	}
	return SelfCrossing{}, false
}

// axis gives the direction of the line that all four points lie on, up to
// rounding; false where they lie on none.
func (s *Segment) axis() (Point, bool) {
	far := s.P3.Sub(s.P0)
	for _, p := range [2]Point{s.P1, s.P2} {
		if d := p.Sub(s.P0); d.Dot(d) > far.Dot(far) {
			far = d
		}
	}
	u, ok := far.Unit()
	if !ok {
		return Point{}, false
	}
	floor := max(samePlace/2, 8*s.noise())
	for _, p := range [3]Point{s.P1, s.P2, s.P3} {
		if math.Abs(u.Cross(p.Sub(s.P0))) > floor {
			return Point{}, false
		}
	}
	return u, true
}
