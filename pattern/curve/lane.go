package curve

import "math"

// lane is a pair of pieces that run side by side. In its frame, X along and Y
// off, both are graphs over the same stretch of X, walked in the direction in
// which X rises. What lies between them is a function of X alone, so that curves
// a hair apart are followed along, not cut until the pieces are as small as the
// hair is wide.
type lane struct {
	p, q           Segment
	p0, p1, q0, q1 float64 // parameters of their ends on the two segments
}

// steepest is the slope up to which pieces count as graphs over X.
const steepest = 0.5

// beside settles two pieces of much the same direction; false where they are not.
func (x *crosser) beside(p, q *pieceOf) bool {
	u, ok := p.c.P3.Sub(p.c.P0).Unit()
	if !ok {
		return false
	}
	o := p.c.P0
	l := lane{
		p: p.c.inFrame(o, u), q: q.c.inFrame(o, u),
		p0: p.t0, p1: p.t1, q0: q.t0, q1: q.t1,
	}
	if l.q.P3.X < l.q.P0.X {
		l.q, l.q0, l.q1 = l.q.Reverse(), l.q1, l.q0
	}
	if !l.p.isGraph() || !l.q.isGraph() {
		return false
	}
	lo, hi := max(l.p.P0.X, l.q.P0.X), min(l.p.P3.X, l.q.P3.X)
	switch {
	case hi < lo-touch:
	case hi-lo < grain: // end to end
		m := (lo + hi) / 2
		u, v := l.p.over(m), l.q.over(m)
		if l.p.At(u).Dist(l.q.At(v)) <= touch {
			x.add(between(l.p0, l.p1, u), between(l.q0, l.q1, v))
		}
	default:
		l = l.part(l.p.over(lo), l.p.over(hi), l.q.over(lo), l.q.over(hi))
		x.follow(&l)
	}
	return true
}

// inFrame gives s as seen from o, with X along the unit vector u.
func (s *Segment) inFrame(o, u Point) Segment {
	c := s.plain()
	see := func(p Point) Point {
		d := p.Sub(o)
		return Point{u.Dot(d), u.Cross(d)}
	}
	return Segment{P0: see(c.P0), P1: see(c.P1), P2: see(c.P2), P3: see(c.P3)}
}

// isGraph says that X rises all along s and Y by at most steepest times as much.
func (s *Segment) isGraph() bool {
	for _, d := range s.legs() {
		if !(math.Abs(d.Y) <= steepest*d.X) {
			return false
		}
	}
	return s.P3.X > s.P0.X
}

// over is the parameter at which X passes v, clamped to the ends.
func (s *Segment) over(v float64) float64 {
	switch {
	case v <= s.P0.X:
		return 0
	case v >= s.P3.X:
		return 1
	}
	h := heights{s.P0.X - v, s.P1.X - v, s.P2.X - v, s.P3.X - v}
	return h.root(monotone{0, 1, h[0], h[3]})
}

// part is the lane between two parameters of each piece.
func (l *lane) part(u0, u1, v0, v1 float64) lane {
	return lane{
		p: l.p.Sub(u0, u1), q: l.q.Sub(v0, v1),
		p0: between(l.p0, l.p1, u0), p1: between(l.p0, l.p1, u1),
		q0: between(l.q0, l.q1, v0), q1: between(l.q0, l.q1, v1),
	}
}

// follow finds the hits in a lane.
func (x *crosser) follow(l *lane) {
	x.nodes++
	low, high := l.gap()
	switch {
	case low > touch || high < -touch:
	case low >= -touch && high <= touch:
		x.addLane(l)
	case l.once():
		x.meet(l)
	case l.p.P3.X-l.p.P0.X < grain || x.nodes > maxNodes: // a touch, or too near to tell
		x.addLane(l)
	default:
		a, b := l.halves()
		x.follow(&a)
		x.follow(&b)
	}
}

// halves divides a lane at the middle of p.
func (l *lane) halves() (lane, lane) {
	a, b := l.p.halves()
	v := l.q.over(a.P3.X)
	c, d := l.q.Split(v)
	pm, qm := (l.p0+l.p1)/2, between(l.q0, l.q1, v)
	return lane{a, c, l.p0, pm, l.q0, qm}, lane{b, d, pm, l.p1, qm, l.q1}
}

// addLane keeps all of a lane as one hit.
func (x *crosser) addLane(l *lane) {
	ta, tb := (l.p0+l.p1)/2, between(l.q0, l.q1, l.q.over(l.p.At(0.5).X))
	x.spans = append(x.spans, span{
		a0: min(l.p0, l.p1), a1: max(l.p0, l.p1), b0: min(l.q0, l.q1), b1: max(l.q0, l.q1),
		at: Hit{ta, tb, x.a.At(ta)},
	})
}

// tilt is the slope of the chord of p. Gaps along Y are the same with it taken
// off both pieces.
func (l *lane) tilt() float64 { return (l.p.P3.Y - l.p.P0.Y) / (l.p.P3.X - l.p.P0.X) }

// gap bounds the height of q above p, over all X of the lane. q(t) stands above
// p(t) by no less and no more than its control points; it stands beside it by at
// most e, over which q rises by at most its slope times e.
func (l *lane) gap() (low, high float64) {
	k := l.tilt()
	low, high = math.Inf(1), math.Inf(-1)
	e, slope := 0.0, 0.0
	for _, d := range [4]Point{l.q.P0.Sub(l.p.P0), l.q.P1.Sub(l.p.P1), l.q.P2.Sub(l.p.P2), l.q.P3.Sub(l.p.P3)} {
		y := d.Y - float64(k*d.X)
		low, high, e = min(low, y), max(high, y), max(e, math.Abs(d.X))
	}
	for _, d := range l.q.legs() {
		if d.X > 0 {
			slope = max(slope, math.Abs(d.Y/d.X-k))
		}
	}
	return low - float64(slope*e), high + float64(slope*e)
}

// once says that the gap only grows or only shrinks, so that the pieces meet at
// most once: the vector product of their directions at equal parameters keeps its
// sign, and more than the change of q's slope over what the parameters of equal X
// may differ.
func (l *lane) once() bool {
	p, q := l.p.legs(), l.q.legs()
	c := [5]float64{
		p[0].Cross(q[0]),
		(p[0].Cross(q[1]) + p[1].Cross(q[0])) / 2,
		(p[0].Cross(q[2]) + 4*p[1].Cross(q[1]) + p[2].Cross(q[0])) / 6,
		(p[1].Cross(q[2]) + p[2].Cross(q[1])) / 2,
		p[2].Cross(q[2]),
	}
	low, high := min(c[0], c[1], c[2], c[3], c[4]), max(c[0], c[1], c[2], c[3], c[4])
	least := max(low, -high) // of the product's size
	narrow := min(q[0].X, q[1].X, q[2].X)
	if !(least > 0 && narrow > 0) {
		return false
	}
	wide := max(p[0].X, p[1].X, p[2].X) * max(q[0].X, q[1].X, q[2].X)
	e := max(math.Abs(l.q.P0.X-l.p.P0.X), math.Abs(l.q.P1.X-l.p.P1.X),
		math.Abs(l.q.P2.X-l.p.P2.X), math.Abs(l.q.P3.X-l.p.P3.X))
	bend := 0.0
	for _, d := range [2]Point{q[1].Sub(q[0]), q[2].Sub(q[1])} {
		bend = max(bend, math.Abs(q[0].Cross(d)), math.Abs(q[1].Cross(d)), math.Abs(q[2].Cross(d)))
	}
	// The slope's derivative by the parameter is 2 leg x second difference over the
	// square of the leg's X, and parameters of equal X differ by e over 3 legs' X.
	return least/wide > 2*bend/float64(narrow*narrow)*e/(3*narrow)
}

// meet finds where the pieces of a lane meet if they do so at most once.
func (x *crosser) meet(l *lane) {
	g0, g1 := l.q.P0.Y-l.p.P0.Y, l.q.P3.Y-l.p.P3.Y
	switch {
	case math.Abs(g0) <= touch:
		x.add(l.p0, l.q0)
		return
	case math.Abs(g1) <= touch:
		x.add(l.p1, l.q1)
		return
	case (g0 > 0) == (g1 > 0):
		return
	}
	lo, hi, side := 0.0, 1.0, 0
	u, v := 0.5, 0.5
	for range 100 { // false position, the Illinois form
		u = between(lo, hi, g0/(g0-g1))
		if !(u > lo && u < hi) {
			break
		}
		at := l.p.At(u)
		v = l.q.over(at.X)
		g := l.q.At(v).Y - at.Y
		if math.Abs(g) < touch/1000 {
			break
		}
		if (g > 0) == (g0 > 0) {
			if lo, g0 = u, g; side < 0 {
				g1 /= 2
			}
			side = -1
		} else {
			if hi, g1 = u, g; side > 0 {
				g0 /= 2
			}
			side = 1
		}
	}
	x.add(between(l.p0, l.p1, u), between(l.q0, l.q1, v))
}
