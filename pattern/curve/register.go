package curve

import "math"

// Rigid is a motion of the plane that keeps all lengths: a turn about the origin,
// then a shift.
type Rigid struct {
	Angle float64 // radians, anticlockwise, from -pi to pi
	Shift Point   // mm
}

// Affine gives the motion as a map.
func (r Rigid) Affine() Affine {
	return Rotate(r.Angle).Then(Translate(r.Shift.X, r.Shift.Y))
}

// Register finds the motion that lays the points from on the points to, each on
// the one with its number, with the smallest sum of squared distances. The second
// answer is the root of the mean of those squares, in mm. Nothing is mirrored or
// scaled: cloth is cut as it lies. Exact but for rounding.
//
// False where the lists differ in number, where one of them has fewer than two
// distinct points, and where no turn is better than another.
//
// Method: the best motion keeps the centres of mass together, and its angle is
// atan2(sum of vector products, sum of scalar products) of the places about them
// (the plane case of W. Kabsch, A solution for the best rotation to relate two
// sets of vectors, Acta Cryst. A32, 1976, from memory).
func Register(from, to []Point) (Rigid, float64, bool) {
	if len(from) != len(to) {
		return Rigid{}, 0, false
	}
	return register(from, to, nil)
}

// register does it with a weight for each pair; nil stands for equal ones.
func register(from, to []Point, weights []float64) (Rigid, float64, bool) {
	if len(from) == 0 {
		return Rigid{}, 0, false
	}
	a, b := from[0], to[0] // about these, so that lists far from the origin lose nothing
	var m moments
	for i := range from {
		w := 1.0
		if weights != nil {
			w = weights[i]
		}
		m.add(from[i].Sub(a), to[i].Sub(b), w)
	}
	angle, ok := m.angle(a, b)
	if !ok {
		return Rigid{}, 0, false
	}
	turn := Rotate(angle)
	ca, cb := a.Add(m.p.Mul(1/m.weight)), b.Add(m.q.Mul(1/m.weight))
	sum := 0.0
	for i := range from {
		d := turn.turn(from[i].Sub(ca)).Sub(to[i].Sub(cb))
		if weights != nil {
			sum += float64(weights[i] * d.Dot(d))
		} else {
			sum += d.Dot(d)
		}
	}
	return Rigid{angle, cb.Sub(turn.turn(ca))}, math.Sqrt(sum / m.weight), true
}

// moments are the weighted sums over pairs of places p and q.
type moments struct {
	weight             float64
	p, q               Point
	dot, cross, pp, qq float64
}

func (m *moments) add(p, q Point, w float64) {
	m.weight += w
	wp := Point{float64(p.X * w), float64(p.Y * w)}
	m.p = m.p.Add(wp)
	m.q = Point{m.q.X + float64(q.X*w), m.q.Y + float64(q.Y*w)}
	m.dot += wp.Dot(q)
	m.cross += wp.Cross(q)
	m.pp += wp.Dot(p)
	m.qq += float64(w * q.Dot(q))
}

// angle is the best turn about the centres; false where the places coincide up to
// rounding (a and b tell how large the coordinates are), or the sums are nothing else.
func (m *moments) angle(a, b Point) (float64, bool) {
	k := 1 / m.weight
	dot, cross := m.dot-float64(m.p.Dot(m.q)*k), m.cross-float64(m.p.Cross(m.q)*k)
	pp, qq := m.pp-float64(m.p.Dot(m.p)*k), m.qq-float64(m.q.Dot(m.q)*k)
	const tiny = 1e-15
	floor := func(c Point) float64 { return float64(m.weight * tiny * tiny * c.Dot(c)) }
	turns := math.Hypot(dot, cross)
	ok := pp > floor(a)+tiny*m.pp && qq > floor(b)+tiny*m.qq && turns > 1e-14*math.Sqrt(pp)*math.Sqrt(qq)
	return math.Atan2(cross, dot), ok && !math.IsInf(turns, 0)
}

// RegisterPaths finds the motion that lays paths on others, each on the one with
// its number and walked the same way: the least mean square, over the length of
// from, between the places that are the same part of the way along. The second
// answer is the root of that mean, in mm. The places are sampled every 1/128 of
// the whole length, at least 8 a path, each within tol of its place along the
// path (a tol below 1e-9 mm is taken as that), and summed by Simpson's rule.
//
// False as Register, and where some path on one side only has no length; a pair
// of such is passed over.
func RegisterPaths(from, to []Path, tol float64) (Rigid, float64, bool) {
	if len(from) != len(to) {
		return Rigid{}, 0, false
	}
	if !(tol > 1e-9) {
		tol = 1e-9
	}
	total := 0.0
	lengths := make([][2]float64, len(from))
	for i := range from {
		lengths[i] = [2]float64{from[i].Length(tol / 4), to[i].Length(tol / 4)}
		if (lengths[i][0] <= samePlace) != (lengths[i][1] <= samePlace) {
			return Rigid{}, 0, false
		}
		total += lengths[i][0]
	}
	var s samples
	for i, l := range lengths {
		if l[0] > samePlace {
			s.add(from[i], to[i], l, total, tol)
		}
	}
	return register(s.from, s.to, s.weights)
}

// samples are matching places of paths, weighted by length.
type samples struct {
	from, to []Point
	weights  []float64
}

// add samples one pair of paths of the lengths l.
func (s *samples) add(from, to Path, l [2]float64, total, tol float64) {
	const whole, least = 128, 8
	n := max(least, int(math.Ceil(whole*l[0]/total)))
	n += n % 2
	for k := range n + 1 {
		u := float64(k) / float64(n)
		w := 2.0
		switch {
		case k == 0 || k == n:
			w = 1
		case k%2 == 1:
			w = 4
		}
		s.from = append(s.from, from.PointAt(l[0]*u, tol/2))
		s.to = append(s.to, to.PointAt(l[1]*u, tol/2))
		s.weights = append(s.weights, w*l[0]/float64(3*n))
	}
}
