package curve

import "math"

// Segment is a straight line or a cubic Bezier curve, walked from P0 to P3.
// A line keeps its handles P1 and P2 at the thirds, so that every formula for
// cubics holds for it too; Straight says that it is meant to be a line.
type Segment struct {
	P0, P1, P2, P3 Point
	Straight       bool
}

// Line is the straight segment from a to b.
func Line(a, b Point) Segment {
	return Segment{P0: a, P1: a.Lerp(b, 1.0/3), P2: a.Lerp(b, 2.0/3), P3: b, Straight: true}
}

// Cubic is the Bezier curve from a to b with the handles h and k.
func Cubic(a, h, k, b Point) Segment { return Segment{P0: a, P1: h, P2: k, P3: b} }

// At is the point at the parameter t: 0 is P0 and 1 is P3, both exactly. The
// parameter is not the distance: see ParamAt.
func (s Segment) At(t float64) Point {
	if s.Straight {
		return s.P0.Lerp(s.P3, t)
	}
	if t == 1 {
		return s.P3
	}
	u := 1 - t
	a, b := float64(u*u), float64(t*t)
	k0, k1, k2, k3 := float64(a*u), float64(3*a)*t, float64(3*b)*u, float64(b*t)
	return Point{
		float64(s.P0.X*k0) + float64(s.P1.X*k1) + float64(s.P2.X*k2) + float64(s.P3.X*k3),
		float64(s.P0.Y*k0) + float64(s.P1.Y*k1) + float64(s.P2.Y*k2) + float64(s.P3.Y*k3),
	}
}

// Deriv is the derivative by the parameter, in mm per unit of t. It is zero at
// a cusp and at an end whose handle has no length.
func (s Segment) Deriv(t float64) Point {
	if s.Straight {
		return s.P3.Sub(s.P0)
	}
	u := 1 - t
	k0, k1, k2 := float64(3*u)*u, float64(6*u)*t, float64(3*t)*t
	a, b, c := s.P1.Sub(s.P0), s.P2.Sub(s.P1), s.P3.Sub(s.P2)
	return Point{
		float64(a.X*k0) + float64(b.X*k1) + float64(c.X*k2),
		float64(a.Y*k0) + float64(b.Y*k1) + float64(c.Y*k2),
	}
}

// second is the second derivative by the parameter.
func (s Segment) second(t float64) Point {
	if s.Straight {
		return Point{}
	}
	a := s.P2.Sub(s.P1).Sub(s.P1.Sub(s.P0))
	b := s.P3.Sub(s.P2).Sub(s.P2.Sub(s.P1))
	return a.Mul(6 * (1 - t)).Add(b.Mul(6 * t))
}

// Split cuts the segment at the parameter t into the part before and the part
// after (de Casteljau); both share the point bit for bit.
func (s Segment) Split(t float64) (Segment, Segment) {
	if s.Straight {
		m := s.At(t)
		return Line(s.P0, m), Line(m, s.P3)
	}
	a, b, c := s.P0.Lerp(s.P1, t), s.P1.Lerp(s.P2, t), s.P2.Lerp(s.P3, t)
	d, e := a.Lerp(b, t), b.Lerp(c, t)
	m := d.Lerp(e, t)
	return Cubic(s.P0, a, d, m), Cubic(m, e, c, s.P3)
}

// halves splits a cubic in the middle: as Split(0.5), but faster.
func (s *Segment) halves() (Segment, Segment) {
	a, b, c := mid(s.P0, s.P1), mid(s.P1, s.P2), mid(s.P2, s.P3)
	d, e := mid(a, b), mid(b, c)
	m := mid(d, e)
	return Segment{P0: s.P0, P1: a, P2: d, P3: m}, Segment{P0: m, P1: e, P2: c, P3: s.P3}
}

func mid(p, q Point) Point { return Point{(p.X + q.X) / 2, (p.Y + q.Y) / 2} }

// Sub is the part from the parameter t0 to t1; walked backwards where t1 < t0.
func (s Segment) Sub(t0, t1 float64) Segment {
	if t1 < t0 {
		return s.Sub(t1, t0).Reverse()
	}
	if t1 < 1 {
		s, t0 = first(s.Split(t1)), ratio(t0, t1)
	}
	if t0 > 0 {
		_, s = s.Split(t0)
	}
	return s
}

func first(a, _ Segment) Segment { return a }

// between is the number at the part u of the way from a to b.
func between(a, b, u float64) float64 { return a + float64((b-a)*u) }

// ratio is a/b for 0 <= a <= b, and 0 where b is 0.
func ratio(a, b float64) float64 {
	if b <= 0 {
		return 0
	}
	return min(a/b, 1)
}

// Reverse is the same curve walked from the other end.
func (s Segment) Reverse() Segment {
	return Segment{P0: s.P3, P1: s.P2, P2: s.P1, P3: s.P0, Straight: s.Straight}
}

// size is a bound of all coordinates' magnitude, the measure of rounding noise.
func (s *Segment) size() float64 {
	return max(math.Abs(s.P0.X), math.Abs(s.P0.Y), math.Abs(s.P1.X), math.Abs(s.P1.Y),
		math.Abs(s.P2.X), math.Abs(s.P2.Y), math.Abs(s.P3.X), math.Abs(s.P3.Y))
}

// noise is how far rounding may have moved a point of the segment, in mm.
func (s *Segment) noise() float64 { return float64(s.size() * 4e-16) }

// point says that all four points coincide: the segment has no direction.
func (s *Segment) point() bool {
	if s.Straight {
		return s.P0 == s.P3
	}
	return s.P0 == s.P1 && s.P0 == s.P2 && s.P0 == s.P3
}

// StartTangent is the unit direction in which the walk leaves P0. A handle
// without length (up to rounding) is passed over for the next control point.
// False only where all four points coincide.
func (s Segment) StartTangent() (Point, bool) {
	if s.Straight {
		return s.P3.Sub(s.P0).Unit()
	}
	floor := s.noise()
	for _, q := range [3]Point{s.P1, s.P2, s.P3} {
		if d := q.Sub(s.P0); d.Len() > floor {
			return d.Unit()
		}
	}
	for _, q := range [3]Point{s.P1, s.P2, s.P3} {
		if u, ok := q.Sub(s.P0).Unit(); ok {
			return u, true
		}
	}
	return Point{}, false
}

// EndTangent is the unit direction of the walk on arriving at P3; see StartTangent.
func (s Segment) EndTangent() (Point, bool) {
	u, ok := s.Reverse().StartTangent()
	return Point{}.Sub(u), ok
}

// Tangent is the unit direction of the walk at the parameter t. At a cusp,
// where the walk turns back on itself, it is the direction after the cusp. False
// only where all four points coincide.
func (s Segment) Tangent(t float64) (Point, bool) {
	if t <= 0 {
		return s.StartTangent()
	}
	if t >= 1 {
		return s.EndTangent()
	}
	// Where the first derivative is only noise the next one leads the way.
	floor := 16 * s.noise()
	if d := s.Deriv(t); d.Len() > floor {
		return d.Unit()
	}
	if d := s.second(t); d.Len() > floor {
		return d.Unit()
	}
	_, after := s.Split(t)
	if u, ok := after.StartTangent(); ok {
		return u, true
	}
	return s.StartTangent()
}
