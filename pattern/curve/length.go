package curve

import "math"

// floorTol is the smallest tolerance, as a part of the control polygon's
// length, that doubles can keep.
const floorTol = 2e-15

// tolerance makes a usable tolerance of what the caller asked for.
func tolerance(tol, size float64) float64 {
	floor := float64(size*floorTol) + 1e-300
	if !(tol > floor) { // also where tol is not a number
		return floor
	}
	return tol
}

// Length is the length of the segment in mm. The error is at most tol plus the
// rounding of doubles (about 1e-15 of the length): the rule is chosen by a
// bound known beforehand, not by comparing two rules. A line is exact, a
// segment whose points coincide has length 0. A tol that is not positive asks
// for all digits.
func (s Segment) Length(tol float64) float64 {
	if s.Straight {
		return s.P0.Dist(s.P3)
	}
	w := s.hodograph()
	if rule := w.rule(tol); rule != nil {
		return w.integrate(rule)
	}
	return w.all(tol)
}

// LengthBetween is the length in mm between two parameters, clamped to [0,1]; it
// is negative where t1 < t0. The error is as for Length.
func (s Segment) LengthBetween(t0, t1, tol float64) float64 {
	t0, t1 = clamp01(t0), clamp01(t1)
	switch {
	case t1 < t0:
		return -s.LengthBetween(t1, t0, tol)
	case s.Straight:
		return float64(s.P0.Dist(s.P3) * (t1 - t0))
	case t0 == 0 && t1 == 1:
		return s.Length(tol)
	}
	w := s.hodograph()
	return w.measure(t0, t1, tol)
}

// measure is the length between the parameters t0 <= t1 of the segment.
func (w *hodograph) measure(t0, t1, tol float64) float64 {
	part := w.between(2*t0-1, 2*t1-1)
	if rule := part.rule(tol); rule != nil {
		return part.integrate(rule)
	}
	return part.all(tol)
}

func clamp01(t float64) float64 {
	if !(t > 0) {
		return 0
	}
	return min(t, 1)
}

// ParamAt is the parameter at which the length from P0 is dist mm, clamped to
// [0,1]. The point there lies within tol, measured along the curve, of the
// true one (plus rounding). 0 for a segment whose points coincide.
func (s Segment) ParamAt(dist, tol float64) float64 {
	if !(dist > 0) || s.point() {
		return 0
	}
	total := s.Length(tol / 8)
	if dist >= total {
		return 1
	}
	return s.paramAt(dist, total, tol)
}

// paramAt does it for 0 < dist < total, where total is the length to tol/4.
func (s *Segment) paramAt(dist, total, tol float64) float64 {
	if s.Straight {
		return clamp01(dist / total)
	}
	w := s.hodograph()
	return w.paramAt(dist, total, tolerance(tol, total))
}

// maxSteps ends the search where the bracket no longer shrinks.
const maxSteps = 200

// paramAt finds 0 < dist < total by Newton's method inside a bracket. Each step
// measures only the piece to the nearer end of the bracket; the tolerances of
// the pieces, halved each time, sum to at most tol/4.
func (w *hodograph) paramAt(dist, total, tol float64) float64 {
	lo, hi, atLo, atHi := 0.0, 1.0, 0.0, total
	t, share, before := w.guess(dist, total), tol/8, math.Inf(1)
	for range maxSteps {
		if !(t > lo && t < hi) {
			t = lo + (hi-lo)/2
		}
		if t <= lo || t >= hi {
			break // neighbouring doubles
		}
		var at float64
		if t-lo <= hi-t {
			at = atLo + w.measure(lo, t, share)
		} else {
			at = atHi - w.measure(t, hi, share)
		}
		share /= 2
		miss := at - dist
		if math.Abs(miss) <= tol/2 {
			break
		}
		if miss > 0 {
			hi, atHi = t, at
		} else {
			lo, atLo = t, at
		}
		if math.Abs(miss) > before/2 { // Newton creeps: a halving, then Newton again
			t, before = lo+(hi-lo)/2, math.Inf(1)
			continue
		}
		before = math.Abs(miss)
		t -= miss / (2 * w.speed(2*t-1))
	}
	return t
}

// guess starts the search on the cubic that has the length and the speed right
// at both ends.
func (w *hodograph) guess(dist, total float64) float64 {
	v0, v1 := 2*w.speed(-1), 2*w.speed(1)
	k3, k2 := v0+v1-2*total, float64(3*total)-float64(2*v0)-v1
	t := dist / total
	for range 2 {
		slope := v0 + float64((2*k2+float64(3*k3*t))*t)
		next := t - (float64((v0+float64((k2+float64(k3*t))*t))*t)-dist)/slope
		if !(slope > 0 && next > 0 && next < 1) {
			break
		}
		t = next
	}
	return t
}

// Length is the length of the path in mm, the error at most tol for the whole
// of it plus rounding. 0 for an empty path.
func (p Path) Length(tol float64) float64 {
	sum := 0.0
	each := tol / float64(max(1, len(p)))
	for i := range p {
		sum += p[i].Length(each)
	}
	return sum
}

// Locate finds the segment and the parameter at dist mm from the start, clamped
// to the ends: the point there is within tol, measured along the path, of the
// true one. A place within tol/4 of a joint is taken to be the joint, given as
// the start of the later segment. An empty path gives 0, 0.
func (p Path) Locate(dist, tol float64) (i int, t float64) {
	if len(p) == 0 || !(dist > 0) {
		return 0, 0
	}
	each, snap := tol/4/float64(len(p)), tol/4
	for i = range p {
		l := p[i].Length(each)
		if dist < l-snap {
			if dist <= snap {
				return i, 0
			}
			return i, p[i].paramAt(dist, l, tol/2)
		}
		dist -= l
	}
	return len(p) - 1, 1
}

// LengthTo is the length in mm from the start to the parameter t of segment i,
// the error at most tol. A number of a segment that does not exist is taken as
// the nearest one.
func (p Path) LengthTo(i int, t, tol float64) float64 {
	if len(p) == 0 || i < 0 {
		return 0
	}
	if i >= len(p) {
		i, t = len(p)-1, 1
	}
	each := tol / float64(i+1)
	return p[:i].Length(each*float64(i)) + p[i].LengthBetween(0, t, each)
}

// PointAt is the point at dist mm from the start, clamped to the ends and exact
// to tol. The zero Point for an empty path.
func (p Path) PointAt(dist, tol float64) Point {
	if len(p) == 0 {
		return Point{}
	}
	i, t := p.Locate(dist, tol)
	return p[i].At(t)
}

// TangentAt is the unit direction of the walk at dist mm from the start, at a
// joint the one in which the walk leaves it. False where the path has no
// direction.
func (p Path) TangentAt(dist, tol float64) (Point, bool) {
	if len(p) == 0 {
		return Point{}, false
	}
	i, t := p.Locate(dist, tol)
	if u, ok := p[i].Tangent(t); ok {
		return u, true
	}
	if u, ok := p[i:].StartTangent(); ok { // a segment without length lends its neighbour's
		return u, true
	}
	return p[:i].EndTangent()
}
