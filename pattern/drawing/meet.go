package drawing

import (
	"math"

	"seamkeep/pattern/curve"
)

// meet lets b begin where a ends. Lines that cross there lose their tails.
// Straight lines that would meet if they were
// longer or shorter meet there, so that neither turns; else both ends move half
// the way, the handles with them.
func meet(a, b curve.Segment) (curve.Segment, curve.Segment) {
	p, q := a.P3, b.P0
	if p == q {
		return a, b
	}
	if x, y, ok := trimmed(a, b, 2*p.Dist(q)); ok {
		return x, y
	}
	to := p.Lerp(q, 0.5)
	if a.Straight && b.Straight {
		if x, ok := cross(a, b); ok && max(x.Dist(p), x.Dist(q)) <= 2*p.Dist(q) {
			to = x
		}
	}
	if a.Straight {
		a = curve.Line(a.P0, to)
	} else {
		a = curve.Cubic(a.P0, a.P1, a.P2.Add(to.Sub(p)), to)
	}
	if b.Straight {
		b = curve.Line(to, b.P3)
	} else {
		b = curve.Cubic(to, b.P1.Add(to.Sub(q)), b.P2, b.P3)
	}
	return a, b
}

// cross is where two straight lines would meet if they were endless; false where
// they are nearly parallel.
func cross(a, b curve.Segment) (curve.Point, bool) {
	u, ok1 := a.P3.Sub(a.P0).Unit()
	v, ok2 := b.P3.Sub(b.P0).Unit()
	den := u.Cross(v)
	if !ok1 || !ok2 || math.Abs(den) < 0.1 {
		return curve.Point{}, false
	}
	return a.P3.Add(u.Mul(b.P0.Sub(a.P3).Cross(v) / den)), true
}

// trimmed cuts off the tails of lines that cross near the end of a and the
// start of b, or that run along each other there; false where they do not. No
// tail of more than reach is cut off a line that crosses.
func trimmed(a, b curve.Segment, reach float64) (curve.Segment, curve.Segment, bool) {
	if overlap(a, b) {
		return curve.Line(a.P0, b.P0), b, true
	}
	if !a.Bounds().Overlaps(b.Bounds()) {
		return a, b, false
	}
	best, ta, tb := reach, 0.0, 0.0
	for _, h := range curve.Intersections(a, b) {
		if d := max(h.Point.Dist(a.P3), h.Point.Dist(b.P0)); d <= best && h.TA > 0 && h.TB < 1 {
			best, ta, tb = d, h.TA, h.TB
		}
	}
	if ta == 0 {
		return a, b, false
	}
	a, b = a.Sub(0, ta), b.Sub(tb, 1)
	b.P0 = a.P3
	if b.Straight {
		b = curve.Line(b.P0, b.P3)
	}
	return a, b, true
}

// overlap tells whether two straight lines run on one line the same way, the
// start of b before the end of a.
func overlap(a, b curve.Segment) bool {
	const beside = 0.02 // mm
	if !a.Straight || !b.Straight {
		return false
	}
	u, ok1 := a.P3.Sub(a.P0).Unit()
	v, ok2 := b.P3.Sub(b.P0).Unit()
	if !ok1 || !ok2 || u.Dot(v) < 0.9999 {
		return false
	}
	start, end := u.Dot(b.P0.Sub(a.P0)), v.Dot(a.P3.Sub(b.P0))
	return math.Abs(u.Cross(b.P0.Sub(a.P0))) <= beside && math.Abs(v.Cross(a.P3.Sub(b.P0))) <= beside &&
		start > 0 && end >= 0 && end < b.P0.Dist(b.P3)
}
