package curve

import "math"

// Box is an upright rectangle, in mm. EmptyBox holds nothing.
type Box struct{ Min, Max Point }

// EmptyBox is the box of no points.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Min: Point{inf, inf}, Max: Point{-inf, -inf}}
}

// Empty says that the box holds no point. A box of a single point is not empty.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// Add widens the box so that it holds p.
func (b Box) Add(p Point) Box {
	return Box{
		Min: Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)},
		Max: Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)},
	}
}

// Union is the smallest box that holds both.
func (b Box) Union(c Box) Box {
	return Box{
		Min: Point{min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y)},
		Max: Point{max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y)},
	}
}

// Grow moves each side outward by d mm (inward where d is negative, which may
// leave it empty). An empty box stays empty.
func (b Box) Grow(d float64) Box {
	if b.Empty() {
		return b
	}
	return Box{Min: Point{b.Min.X - d, b.Min.Y - d}, Max: Point{b.Max.X + d, b.Max.Y + d}}
}

// Width is the size along x in mm, 0 for an empty box.
func (b Box) Width() float64 { return max(0, b.Max.X-b.Min.X) }

// Height is the size along y in mm, 0 for an empty box.
func (b Box) Height() float64 { return max(0, b.Max.Y-b.Min.Y) }

// Overlaps says that the boxes have a point in common, if only on their rims.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// holds says that p lies in the box or on its rim.
func (b Box) holds(p Point) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y
}

// distTo is the distance from q to the box, 0 inside.
func (b Box) distTo(q Point) float64 {
	dx := max(b.Min.X-q.X, 0, q.X-b.Max.X)
	dy := max(b.Min.Y-q.Y, 0, q.Y-b.Max.Y)
	return Point{dx, dy}.Len()
}

// hull is the box of the four control points: it holds the curve, loosely.
func (s *Segment) hull() Box {
	return Box{
		Min: Point{min(s.P0.X, s.P1.X, s.P2.X, s.P3.X), min(s.P0.Y, s.P1.Y, s.P2.Y, s.P3.Y)},
		Max: Point{max(s.P0.X, s.P1.X, s.P2.X, s.P3.X), max(s.P0.Y, s.P1.Y, s.P2.Y, s.P3.Y)},
	}
}

// Bounds is the tight box of the curve itself, from the ends and the places
// where it runs level or upright; exact but for rounding.
func (s Segment) Bounds() Box {
	b := EmptyBox().Add(s.P0).Add(s.P3)
	if s.Straight || b.holds(s.P1) && b.holds(s.P2) {
		return b
	}
	for _, q := range [2]quadratic{
		turnsOf(s.P0.X, s.P1.X, s.P2.X, s.P3.X),
		turnsOf(s.P0.Y, s.P1.Y, s.P2.Y, s.P3.Y),
	} {
		for _, t := range q.roots[:q.n] {
			b = b.Add(s.At(t))
		}
	}
	return b
}

// Bounds is the tight box of the path; empty for an empty path.
func (p Path) Bounds() Box {
	b := EmptyBox()
	for _, s := range p {
		b = b.Union(s.Bounds())
	}
	return b
}

// quadratic holds the roots inside (0,1), in rising order.
type quadratic struct {
	roots [2]float64
	n     int
}

func (q *quadratic) add(t float64) {
	if t > 0 && t < 1 && (q.n == 0 || t > q.roots[0]) {
		q.roots[q.n] = t
		q.n++
	}
}

// turnsOf finds where a cubic with the Bernstein values a, b, c, d turns: the
// roots of its derivative strictly between 0 and 1.
func turnsOf(a, b, c, d float64) quadratic {
	var q quadratic
	// The derivative is 3 ((1-t)^2 u + 2 t (1-t) v + t^2 w).
	u, v, w := b-a, c-b, d-c
	if u >= 0 && v >= 0 && w >= 0 || u <= 0 && v <= 0 && w <= 0 {
		return q
	}
	k2, k1 := float64(u-v)-(v-w), v-u // k2 t^2 + 2 k1 t + u
	disc := float64(k1*k1) - float64(k2*u)
	if disc < 0 {
		return q
	}
	// The form without cancellation: one root from the sum, the other from the product.
	m := -(k1 + math.Copysign(math.Sqrt(disc), k1))
	r0, r1 := m/k2, u/m
	if !(r0 <= r1) { // also where one of them is not a number
		r0, r1 = r1, r0
	}
	q.add(r0)
	q.add(r1)
	return q
}
