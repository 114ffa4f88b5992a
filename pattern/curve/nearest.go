package curve

import "math"

// Near is the place on a path that is nearest to a point, and its distance.
type Near struct {
	Seg   int
	T     float64
	Point Point
	Dist  float64
}

// nearSlack is how much nearer, in mm, a place may be that Nearest passes over.
const nearSlack = 5e-8

// Nearest finds the place on the path that is nearest to q, over the whole path:
// Dist is within 1e-7 mm of the smallest distance there is. Of places equally
// near one is given. For an empty path Dist is infinite.
//
// Method: the squared distance is a polynomial of degree six; its Bernstein
// coefficients bound it from below, so whole stretches drop out; a stretch on
// which the coefficients fall and then rise has one minimum, found by Newton's
// method in a bracket.
func (p Path) Nearest(q Point) Near {
	best := Near{Dist: math.Inf(1)}
	first, low := -1, math.Inf(1)
	for i := range p {
		h := p[i].hull()
		if d := h.distTo(q); d < low {
			first, low = i, d
		}
	}
	if first < 0 {
		return best
	}
	p[first].nearest(q, first, &best)
	for i := range p {
		h := p[i].hull()
		if i != first && h.distTo(q) < best.Dist-nearSlack {
			p[i].nearest(q, i, &best)
		}
	}
	return best
}

// nearest betters best by the places of s, the segment with the number seg.
func (s *Segment) nearest(q Point, seg int, best *Near) {
	if s.Straight {
		d := s.P3.Sub(s.P0)
		t := 0.0
		if dd := d.Dot(d); dd > 0 {
			t = clamp01(q.Sub(s.P0).Dot(d) / dd)
		}
		s.tryNear(q, seg, t, best)
		return
	}
	s.tryNear(q, seg, 0, best)
	s.tryNear(q, seg, 1, best)
	local := Segment{P0: s.P0.Sub(q), P1: s.P1.Sub(q), P2: s.P2.Sub(q), P3: s.P3.Sub(q)}
	search := nearSearch{s: s, q: q, seg: seg, best: best}
	search.in(&local, 0, 1)
}

// tryNear keeps the place at t if it is nearer than best.
func (s *Segment) tryNear(q Point, seg int, t float64, best *Near) {
	at := s.At(t)
	if d := at.Dist(q); d < best.Dist {
		*best = Near{seg, t, at, d}
	}
}

type nearSearch struct {
	s    *Segment
	q    Point
	seg  int
	best *Near
}

// in searches the piece c, which is s between t0 and t1 as seen from q.
func (n *nearSearch) in(c *Segment, t0, t1 float64) {
	b := squares(c)
	low, turns, falls := b[0], 0, b[1] < b[0]
	valley := falls
	for i := 1; i < len(b); i++ {
		low = min(low, b[i])
		if f := b[i] < b[i-1]; f != falls {
			turns++
			falls = f
		}
	}
	reach := n.best.Dist - nearSlack
	if reach <= 0 || low >= reach*reach {
		return
	}
	if turns == 0 || turns == 1 && !valley || t1-t0 < 1e-13 {
		n.s.tryNear(n.q, n.seg, t0, n.best)
		n.s.tryNear(n.q, n.seg, t1, n.best)
		return
	}
	if turns == 1 {
		u := valleyOf(c)
		n.s.tryNear(n.q, n.seg, between(t0, t1, u), n.best)
		return
	}
	left, right := c.halves()
	tm := (t0 + t1) / 2
	n.s.tryNear(n.q, n.seg, tm, n.best)
	n.in(&left, t0, tm)
	n.in(&right, tm, t1)
}

// squares gives the Bernstein coefficients of the squared distance from the
// origin along c.
func squares(c *Segment) [7]float64 {
	a, b, d, e := c.P0, c.P1, c.P2, c.P3
	ad, ae, bd := a.Dot(d), a.Dot(e), b.Dot(d)
	return [7]float64{
		a.Dot(a),
		a.Dot(b),
		float64(0.4*ad) + float64(0.6*b.Dot(b)),
		float64(0.1*ae) + float64(0.9*bd),
		float64(0.4*b.Dot(e)) + float64(0.6*d.Dot(d)),
		d.Dot(e),
		e.Dot(e),
	}
}

// valleyOf finds the one minimum of the distance from the origin along c.
func valleyOf(c *Segment) float64 {
	lo, hi, t := 0.0, 1.0, 0.5
	for range 80 {
		at, d1 := c.At(t), c.Deriv(t)
		slope := at.Dot(d1)
		wide := hi - lo
		if slope > 0 {
			hi = t
		} else {
			lo = t
		}
		step := slope / (d1.Dot(d1) + at.Dot(c.second(t)))
		next := t - step
		if !(next > lo && next < hi) || hi-lo > wide/2 && math.Abs(step) > wide/4 {
			next = lo + (hi-lo)/2
		}
		if math.Abs(next-t) < 1e-15 || next <= lo || next >= hi {
			return next
		}
		t = next
	}
	return t
}
