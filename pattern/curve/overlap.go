package curve

import (
	"math"
	"sort"
)

// overlaps finds the stretches along which the two segments coincide within
// samePlace, and gives the middle of each. A stretch of one polynomial curve can
// end only where one of the two segments ends, so the four ends are the
// candidates; between two of them the segments coincide if they do at seven
// places more.
func (x *crosser) overlaps() []Hit {
	ends := x.commonEnds()
	var out []Hit
	for i := 0; i+1 < len(ends); i++ {
		from := ends[i].TA
		for i+1 < len(ends) && x.coincide(ends[i].TA, ends[i+1].TA) {
			i++
		}
		if x.a.LengthBetween(from, ends[i].TA, samePlace/4) > 2*samePlace {
			out = append(out, x.hitAt((from+ends[i].TA)/2))
		}
	}
	return out
}

// commonEnds gives the ends of either segment that lie on the other, along a.
func (x *crosser) commonEnds() []Hit {
	var list [4]Hit
	n := 0
	ab, bb := x.a.hull().Grow(samePlace), x.b.hull().Grow(samePlace)
	for _, t := range [2]float64{0, 1} {
		if p := x.a.At(t); bb.holds(p) {
			if h := x.b.nearTo(p); h.Dist <= samePlace {
				list[n] = Hit{t, h.T, p}
				n++
			}
		}
		if p := x.b.At(t); ab.holds(p) {
			if h := x.a.nearTo(p); h.Dist <= samePlace {
				list[n] = Hit{h.T, t, p}
				n++
			}
		}
	}
	if n < 2 {
		return nil
	}
	ends := append([]Hit(nil), list[:n]...)
	sort.Slice(ends, func(i, k int) bool { return ends[i].TA < ends[k].TA })
	return ends
}

func (s *Segment) nearTo(p Point) Near {
	best := Near{Dist: math.Inf(1)}
	s.nearest(p, 0, &best)
	return best
}

// hitAt is the place of a at the parameter t, with the nearest one of b.
func (x *crosser) hitAt(t float64) Hit {
	p := x.a.At(t)
	return Hit{t, x.b.nearTo(p).T, p}
}

// coincide says whether b runs along a between two parameters of a whose places
// lie on both.
func (x *crosser) coincide(t0, t1 float64) bool {
	const checks = 8
	for i := 1; i < checks; i++ {
		t := t0 + (t1-t0)*float64(i)/checks
		if x.b.nearTo(x.a.At(t)).Dist > samePlace {
			return false
		}
	}
	return true
}

// alongside settles two pieces that are straight and on one line within touch,
// each always making way: they share what their shadows on the line share.
func (x *crosser) alongside(p, q *pieceOf) bool {
	u, ok := p.c.P3.Sub(p.c.P0).Unit()
	if !ok {
		return false
	}
	off := func(r Point) float64 { return u.Cross(r.Sub(p.c.P0)) }
	along := func(r Point) float64 { return u.Dot(r.Sub(p.c.P0)) }
	if !p.c.heights(off).level() || !q.c.heights(off).level() {
		return false
	}
	hp, hq := p.c.heights(along), q.c.heights(along)
	if !hp.onward() || !hq.onward() {
		return false
	}
	low := max(min(hp[0], hp[3]), min(hq[0], hq[3]))
	high := min(max(hp[0], hp[3]), max(hq[0], hq[3]))
	if high < low-touch {
		return true
	}
	up, uq := hp.reach(low, high), hq.reach(low, high)
	ta := between(p.t0, p.t1, up[1])
	x.spans = append(x.spans, span{
		a0: between(p.t0, p.t1, up[0]), a1: between(p.t0, p.t1, up[2]),
		b0: between(q.t0, q.t1, uq[0]), b1: between(q.t0, q.t1, uq[2]),
		at: Hit{ta, between(q.t0, q.t1, uq[1]), x.a.At(ta)},
	})
	return true
}

// level says that all heights are no more than touch.
func (h heights) level() bool {
	return max(math.Abs(h[0]), math.Abs(h[1]), math.Abs(h[2]), math.Abs(h[3])) <= touch
}

// onward says that the heights only rise or only fall.
func (h *heights) onward() bool {
	u, v, w := h[1]-h[0], h[2]-h[1], h[3]-h[2]
	return u >= 0 && v >= 0 && w >= 0 || u <= 0 && v <= 0 && w <= 0
}

// reach gives the parameters at which heights that only rise or fall pass low,
// the middle and high, in rising order.
func (h *heights) reach(low, high float64) [3]float64 {
	var t [3]float64
	for i, v := range [3]float64{low, (low + high) / 2, high} {
		g := heights{h[0] - v, h[1] - v, h[2] - v, h[3] - v}
		switch {
		case (g[0] < 0) != (g[3] < 0) && g[0] != 0 && g[3] != 0:
			t[i] = g.root(monotone{0, 1, g[0], g[3]})
		case math.Abs(g[3]) < math.Abs(g[0]):
			t[i] = 1
		}
	}
	if t[0] > t[2] {
		t[0], t[2] = t[2], t[0]
	}
	return t
}

// longFold is the length in mm from which on neighbours that leave their joint in
// the same direction, and cannot be told apart, count as running along each other.
const longFold = 1e-2

// finish makes one hit of the spans that hang together. What hangs together with
// a joint is the joint, unless it is long.
func (x *crosser) finish() []Hit {
	if x.j.endStart {
		x.add(1, 0)
	}
	if x.j.startEnd {
		x.add(0, 1)
	}
	list := x.spans
	sort.Slice(list, func(i, k int) bool { return list[i].a0 < list[k].a0 })
	var out []Hit
	for i := 0; i < len(list); {
		all, joint, k := list[i], false, i
		for ; k < len(list) && (k == i || x.hangsOn(all, list[k])); k++ {
			s := list[k]
			joint = joint || x.isJoint(s.at)
			all = span{all.a0, max(all.a1, s.a1), min(all.b0, s.b0), max(all.b1, s.b1), Hit{}}
		}
		if !joint || x.a.LengthBetween(all.a0, all.a1, touch) > longFold {
			out = append(out, list[(i+k)/2].at)
		}
		i = k
	}
	return out
}

func (x *crosser) isJoint(h Hit) bool {
	return x.j.endStart && h.TA == 1 && h.TB == 0 || x.j.startEnd && h.TA == 0 && h.TB == 1
}

// hangsOn says that h goes on where g is: the way from one to the other is less
// than a thousandth of a mm, or than h is long, along both curves.
func (x *crosser) hangsOn(g, h span) bool {
	near := max(1e-3, x.a.LengthBetween(h.a0, h.a1, touch))
	return (h.a0 <= g.a1 || x.a.LengthBetween(g.a1, h.a0, touch) <= near) &&
		(h.b0 <= g.b1 || x.b.LengthBetween(g.b1, h.b0, touch) <= near) &&
		(g.b0 <= h.b1 || x.b.LengthBetween(h.b1, g.b0, touch) <= near)
}
