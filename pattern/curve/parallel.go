package curve

import "math"

// finestOffset is the smallest tolerance, in mm, that offsets are fitted to.
const finestOffset = 1e-6

// Parallel is the parallel curve of the segment: every place of it moved d mm
// straight to the right of the walk (to the left where d is negative). A line
// gives a line, exactly; a cubic gives a chain of cubics, none of whose places is
// farther than tol (taken as 1e-6 mm where it is finer) from the true parallel
// curve. Nothing is trimmed: where the curve bends to that side with a radius
// under |d| the parallel curve runs backwards between two cusps, which are joints
// of the chain. Where the segment itself has a cusp or folds back the gap is
// filled as by Path.Parallel. Nil for a segment whose points coincide.
//
// Method: cut where 1 + d k = 0, k the curvature (W. Tiller and E. G. Hanson,
// Offsets of two-dimensional profiles, 1984, for the parallel curve and its
// cusps, from memory); between the cuts a cubic with the right ends and end
// directions, its two handles by least squares on the distance that is missing
// to d; halved until that is within tol. The distance and its slope are measured
// at five feet, and between them bounded by the cubic through values and slopes;
// what that leaves out is h^4/384 of the fourth derivative, which is not bounded.
func (s Segment) Parallel(d, tol float64) Path {
	switch {
	case s.point():
		return nil
	case d == 0:
		return Path{s}
	}
	if u, ok := s.axis(); s.Straight || ok {
		return s.parallelLine(u, d, tol)
	}
	tol = max(tol, finestOffset)
	if at, ok := s.cusp(samePlace); ok {
		return s.parallelCusp(at, d, tol)
	}
	o := offsetter{s: &s, d: d, tol: tol}
	stops := o.stops()
	for i := 1; i < len(stops); i++ {
		o.cover(o.station(stops[i-1]), o.station(stops[i]), 0)
	}
	return o.out
}

// parallelLine handles a segment whose points lie on one line; one that folds
// back along it is taken leg by leg.
func (s *Segment) parallelLine(axis Point, d, tol float64) Path {
	if _, folds := s.foldback(); !folds {
		u, _ := s.P3.Sub(s.P0).Unit()
		move := u.Left().Mul(-d)
		return Path{Line(s.P0.Add(move), s.P3.Add(move))}
	}
	h := s.heights(func(p Point) float64 { return axis.Dot(p.Sub(s.P0)) })
	list, n := h.stretches()
	legs := make(Path, 0, n)
	for _, m := range list[:n] {
		if a, b := s.At(m.t0), s.At(m.t1); a != b {
			legs = append(legs, Line(a, b))
		}
	}
	return legs.Parallel(d, tol)
}

// station is a place of the segment with what the parallel curve needs there.
type station struct {
	t     float64
	at    Point   // on the segment
	way   Point   // unit direction of the walk
	speed float64 // of the parallel curve along way; negative where it runs backwards
}

// off is the place on the parallel curve.
func (a *station) off(d float64) Point { return a.at.Sub(a.way.Left().Mul(d)) }

type offsetter struct {
	s      *Segment
	d, tol float64
	out    Path
}

func (o *offsetter) station(t float64) station {
	way, _ := o.s.Tangent(t)
	return station{t, o.s.At(t), way, o.speed(t)}
}

// speed is |C'| (1 + d k), 0 where the segment stands still.
func (o *offsetter) speed(t float64) float64 {
	v := o.s.Deriv(t)
	vv := v.Dot(v)
	if vv == 0 {
		return 0
	}
	return math.Sqrt(vv) + float64(o.d*(v.Cross(o.s.second(t))/vv))
}

// stops are the parameters between which the parallel curve keeps its
// direction: 0, where its speed changes sign, 1. Two changes nearer to each other
// than 1/24 may be overlooked: the fit then shows how little they matter.
func (o *offsetter) stops() []float64 {
	const n = 24
	list := []float64{0}
	t0, v0 := 1e-6, o.speed(1e-6)
	for i := 1; i <= n; i++ {
		t1 := float64(i) / n
		if i == n {
			t1 = 1 - 1e-6
		}
		v1 := o.speed(t1)
		if v0 < 0 != (v1 < 0) {
			list = append(list, o.turn(t0, t1, v0))
		}
		t0, v0 = t1, v1
	}
	return append(list, 1)
}

// turn finds where the speed changes its sign, v0 being that at t0.
func (o *offsetter) turn(t0, t1, v0 float64) float64 {
	for range 45 {
		m := t0 + (t1-t0)/2
		if v := o.speed(m); v < 0 == (v0 < 0) {
			t0 = m
		} else {
			t1 = m
		}
	}
	return t0
}

// maxOffsetHalvings is never reached with coordinates up to 1e5 mm.
const maxOffsetHalvings = 48

// cover adds the parallel curve from a to b.
func (o *offsetter) cover(a, b station, depth int) {
	m := o.station((a.t + b.t) / 2)
	if a.way.Dot(m.way) > 0.7 && m.way.Dot(b.way) > 0.7 {
		if c, ok := o.fit(&a, &m, &b); ok {
			o.add(c)
			return
		}
	}
	if depth >= 4 {
		part := o.s.Sub(a.t, b.t)
		if part.hullSize() < o.tol/8 || depth >= maxOffsetHalvings {
			o.bend(&part, a.off(o.d), b.off(o.d))
			return
		}
	}
	o.cover(a, m, depth+1)
	o.cover(m, b, depth+1)
}

func (o *offsetter) add(c Segment) {
	if n := len(o.out); n > 0 {
		c.P0 = o.out[n-1].P3
	}
	if !c.point() {
		o.out = append(o.out, c)
	}
}

// bend adds what a stretch gives that is no more than a point beside the
// tolerance, whatever it turns: an arc about it, leg by leg of its polygon.
func (o *offsetter) bend(part *Segment, from, to Point) {
	var way Point
	centre, last := mid(part.P0, part.P3), from
	for _, leg := range part.legs() {
		u, ok := leg.Unit()
		if !ok {
			continue
		}
		if way != (Point{}) {
			for _, c := range swing(centre, way, u, o.d, way.Cross(u) > 0, o.tol/2) {
				o.add(Line(last, c.P0))
				o.add(c)
				last = c.P3
			}
		}
		way = u
	}
	o.add(Line(last, to))
}

// fit looks for one cubic from a to b, by way of m, within the tolerance.
func (o *offsetter) fit(a, m, b *station) (Segment, bool) {
	sign := math.Copysign(1, m.speed)
	p0, p3, h := a.off(o.d), b.off(o.d), (b.t-a.t)/3
	f := fitting{o: o, a: a, b: b, u0: a.way.Mul(sign), u3: b.way.Mul(sign)}
	f.alpha, f.beta = math.Abs(a.speed)*h, math.Abs(b.speed)*h
	for try := 0; try < 4; try++ {
		c := Cubic(p0, p0.Add(f.u0.Mul(f.alpha)), p3.Sub(f.u3.Mul(f.beta)), p3)
		worst := f.measure(&c)
		if worst <= 0.99*o.tol {
			return c, true
		}
		// Hopeless ones are halved at once.
		if worst > 1000*o.tol || try > 0 && worst > 8*o.tol || !f.better() {
			return Segment{}, false
		}
	}
	return Segment{}, false
}

// feet is how many places of a fitted cubic are measured.
const feet = 5

// fitting is the search for the two handles of one cubic.
type fitting struct {
	o           *offsetter
	a, b        *station
	u0, u3      Point   // unit directions of the parallel curve at its ends
	alpha, beta float64 // lengths of the handles
	// The normal equations of the least squares.
	aa, ab, bb, ae, be float64
}

// measure gives the largest distance of the cubic from the parallel curve, and
// gathers the equations for better handles.
func (f *fitting) measure(c *Segment) float64 {
	const h = 1.0 / (feet + 1)
	f.aa, f.ab, f.bb, f.ae, f.be = 0, 0, 0, 0, 0
	worst, before := 0.0, 0.0 // before: value plus slope a third ahead
	for i := 1; i <= feet; i++ {
		u := h * float64(i)
		e, n, ok := f.foot(c.At(u), between(f.a.t, f.b.t, u))
		if !ok {
			return math.Inf(1)
		}
		step := c.Deriv(u).Dot(n) * (h / 3)
		worst = max(worst, math.Abs(before), math.Abs(e-step), math.Abs(e))
		before = e + step
		w := 1 - u
		ka, kb := float64(3*u*w*w)*f.u0.Dot(n), -float64(3*u*u*w)*f.u3.Dot(n)
		f.aa += float64(ka * ka)
		f.ab += float64(ka * kb)
		f.bb += float64(kb * kb)
		f.ae += float64(ka * e)
		f.be += float64(kb * e)
	}
	return max(worst, math.Abs(before))
}

// foot finds the place of the segment that q stands upright on, near the
// parameter t: how much farther than d to the right q lies, and the unit normal
// to the right. False where no foot is found.
func (f *fitting) foot(q Point, t float64) (e float64, n Point, ok bool) {
	s := f.o.s
	for range 3 {
		v, r := s.Deriv(t), q.Sub(s.At(t))
		slope := r.Dot(s.second(t)) - v.Dot(v)
		if slope == 0 {
			break
		}
		step := r.Dot(v) / slope
		t = min(max(t-step, f.a.t), f.b.t)
		if math.Abs(step) < 1e-6*(f.b.t-f.a.t) {
			break
		}
	}
	v, r := s.Deriv(t), q.Sub(s.At(t))
	u, ok := v.Unit()
	if !ok {
		return 0, Point{}, false
	}
	n = u.Left().Mul(-1)
	// What q lies beside the foot counts with the square root of the sum of squares.
	return r.Dot(n) - f.o.d, n, math.Abs(r.Dot(u)) <= f.o.tol/8
}

// better takes one Gauss-Newton step; false where that leads nowhere.
func (f *fitting) better() bool {
	det := float64(f.aa*f.bb) - float64(f.ab*f.ab)
	if !(det > 1e-12*f.aa*f.bb) {
		return false
	}
	f.alpha -= (float64(f.bb*f.ae) - float64(f.ab*f.be)) / det
	f.beta -= (float64(f.aa*f.be) - float64(f.ab*f.ae)) / det
	return f.alpha >= 0 && f.beta >= 0 && f.alpha < 1e9 && f.beta < 1e9
}
