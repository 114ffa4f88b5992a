package curve

import "math"

// Crossing is a place where a path meets a line: the parameter T of the segment
// with the number Seg, and the point there.
type Crossing struct {
	Seg   int
	T     float64
	Point Point
}

// CrossingsY finds where the path meets the horizontal line at y, in walking
// order. A meeting at a joint or an end counts once (a joint is given as the
// end of the earlier segment, the joint of a ring's end and start as its start),
// a touch counts once, and a stretch that lies along the line counts once, by
// its middle. What is nearer to the line than 1e-6 mm is on it.
func (p Path) CrossingsY(y float64) []Crossing {
	return p.meetings(func(q Point) float64 { return q.Y - y })
}

// CrossLine does the same for the endless line through a and b; nil where a and
// b coincide.
func (p Path) CrossLine(a, b Point) []Crossing {
	u, ok := b.Sub(a).Unit()
	if !ok {
		return nil
	}
	return p.meetings(func(q Point) float64 { return u.Cross(q.Sub(a)) })
}

// monotone is a stretch of a segment over which the height above a line only
// rises or only falls, from v0 to v1.
type monotone struct{ t0, t1, v0, v1 float64 }

// heights are the Bernstein values of a cubic's height above a line.
type heights [4]float64

func (s *Segment) heights(height func(Point) float64) heights {
	if s.Straight {
		return evenHeights(height(s.P0), height(s.P3))
	}
	return heights{height(s.P0), height(s.P1), height(s.P2), height(s.P3)}
}

// evenHeights are those of a line: a level one is level to the last bit.
func evenHeights(from, to float64) heights {
	third := (to - from) / 3
	return heights{from, from + third, to - third, to}
}

func (h *heights) at(t float64) float64 {
	u := 1 - t
	a, b := float64(u*u), float64(t*t)
	return float64(h[0]*float64(a*u)) + float64(h[1]*(3*float64(a*t))) +
		float64(h[2]*(3*float64(b*u))) + float64(h[3]*float64(b*t))
}

// stretches cuts the height at its turns; n of the result are in use.
func (h *heights) stretches() (list [3]monotone, n int) {
	q := turnsOf(h[0], h[1], h[2], h[3])
	t0, v0 := 0.0, h[0]
	for _, t := range q.roots[:q.n] {
		v := h.at(t)
		list[n] = monotone{t0, t, v0, v}
		n++
		t0, v0 = t, v
	}
	list[n] = monotone{t0, 1, v0, h[3]}
	return list, n + 1
}

// root finds the parameter in the stretch where the height is zero, the signs at
// its ends being different, to the last digits: Newton's method in a bracket.
func (h *heights) root(m monotone) float64 {
	lo, hi := m.t0, m.t1
	t := between(lo, hi, m.v0/(m.v0-m.v1))
	rising := m.v1 > m.v0
	for range 100 {
		if !(t > lo && t < hi) {
			t = lo + (hi-lo)/2
		}
		if t <= lo || t >= hi {
			break
		}
		v := h.at(t)
		if v == 0 {
			return t
		}
		wide := hi - lo
		if (v > 0) == rising {
			hi = t
		} else {
			lo = t
		}
		u := 1 - t
		slope := 3 * (float64(u*u*(h[1]-h[0])) + float64(2*u*t*(h[2]-h[1])) + float64(t*t*(h[3]-h[2])))
		next := t - v/slope
		if math.Abs(next-t) < 1e-17 {
			break
		}
		if hi-lo > wide/2 && math.Abs(next-t) > wide/4 {
			next = lo + (hi-lo)/2
		}
		t = next
	}
	return t
}

// place is a position on a path.
type place struct {
	seg int
	t   float64
}

// meeting is a stretch, mostly a single place, where the path is on the line.
type meeting struct{ from, to place }

// meetings collects the places on the line; stretches and touches that hang
// together through joints and turns become one.
func (p Path) meetings(height func(Point) float64) []Crossing {
	var list []meeting
	open := false // whether the walk is on the line just now
	for i := range p {
		h := p[i].heights(height)
		ms, n := h.stretches()
		for _, m := range ms[:n] {
			list = addStretch(list, i, &h, m, open)
			open = math.Abs(m.v1) <= samePlace
		}
	}
	return p.crossings(p.joinRound(list, open, height))
}

// addStretch adds what one monotone stretch has on the line.
func addStretch(list []meeting, seg int, h *heights, m monotone, open bool) []meeting {
	on0, on1 := math.Abs(m.v0) <= samePlace, math.Abs(m.v1) <= samePlace
	if on0 && !open {
		at := place{seg, m.t0}
		list = append(list, meeting{at, at})
	}
	switch {
	case on0 && on1:
		list[len(list)-1].to = place{seg, m.t1}
	case on1:
		at := place{seg, m.t1}
		list = append(list, meeting{at, at})
	case !on0 && (m.v0 < 0) != (m.v1 < 0):
		at := place{seg, h.root(m)}
		list = append(list, meeting{at, at})
	}
	return list
}

// joinRound makes one of the last and the first meeting of a ring where both
// are the joint of its end and start.
func (p Path) joinRound(list []meeting, open bool, height func(Point) float64) []meeting {
	if len(list) < 2 || !open || !p.closed() || math.Abs(height(p.Start())) > samePlace {
		return list
	}
	last := list[len(list)-1]
	list = list[:len(list)-1]
	if last.from != last.to {
		list[0].from = last.from
	}
	return list
}

// crossings gives each meeting's middle, by length where it is a stretch.
func (p Path) crossings(list []meeting) []Crossing {
	var out []Crossing
	for _, m := range list {
		at := m.from
		if m.from != m.to {
			at = p.middle(m)
		}
		out = append(out, Crossing{at.seg, at.t, p[at.seg].At(at.t)})
	}
	return out
}

// middle is the place halfway along a stretch that may pass the end of a ring.
func (p Path) middle(m meeting) place {
	const tol = samePlace / 4
	d0, d1 := p.LengthTo(m.from.seg, m.from.t, tol), p.LengthTo(m.to.seg, m.to.t, tol)
	if round := m.to.seg < m.from.seg || m.to.seg == m.from.seg && m.to.t < m.from.t; round {
		total := p.Length(tol)
		if d1 += total; d0+d1 >= 2*total {
			d0, d1 = d0-total, d1-total
		}
	}
	if d1-d0 <= samePlace {
		return m.from
	}
	i, t := p.Locate((d0+d1)/2, tol)
	return place{i, t}
}

// WidthAt is how much of the horizontal line just above y lies inside the ring,
// in mm, exact to 1e-9: the sum over the y-monotone pieces of the outline, each
// counted where ymin <= y < ymax, so that a level along a horizontal edge counts
// only for the shape above it. The direction of the ring makes no difference.
// Parts that the ring winds round twice count twice. 0 for an open or empty path
// that the line does not meet.
func (ring Path) WidthAt(y float64) float64 {
	sum := 0.0
	ring.passes(y, func(x float64, up bool) {
		if up {
			sum += x
		} else {
			sum -= x
		}
	})
	return math.Abs(sum)
}

// Contains says that the ring winds round q. A point on the outline itself may
// be either in or out.
func (ring Path) Contains(q Point) bool {
	winding := 0
	ring.passes(q.Y, func(x float64, up bool) {
		switch {
		case x <= q.X:
		case up:
			winding++
		default:
			winding--
		}
	})
	return winding != 0
}

// passes calls each with every place where the outline passes from "at or below
// y" to above it (up) or back. A segment's start takes the bits of the last
// one's end, so that no pass is lost or doubled at a joint.
func (ring Path) passes(y float64, each func(x float64, up bool)) {
	if len(ring) == 0 {
		return
	}
	before := ring[len(ring)-1].P3.Y
	if !ring.closed() {
		before = ring[0].P0.Y
	}
	for i := range ring {
		s := &ring[i]
		h := heights{before - y, s.P1.Y - y, s.P2.Y - y, s.P3.Y - y}
		before = s.P3.Y
		if s.Straight {
			h = evenHeights(h[0], h[3])
		}
		if h[0] > 0 && h[1] > 0 && h[2] > 0 && h[3] > 0 || h[0] < 0 && h[1] < 0 && h[2] < 0 && h[3] < 0 {
			continue
		}
		ms, n := h.stretches()
		for _, m := range ms[:n] {
			if (m.v0 > 0) == (m.v1 > 0) {
				continue
			}
			t := m.t0
			switch {
			case m.v1 == 0:
				t = m.t1
			case m.v0 != 0:
				t = h.root(m)
			}
			each(s.At(t).X, m.v1 > 0)
		}
	}
}
