package curve

import "math"

// Point is a place or a vector in the plane, in mm, y up.
type Point struct{ X, Y float64 }

// Pt makes a Point.
func Pt(x, y float64) Point { return Point{x, y} }

// Add gives p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub gives p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul gives p scaled by k.
func (p Point) Mul(k float64) Point { return Point{float64(p.X * k), float64(p.Y * k)} }

// Dot gives the scalar product.
func (p Point) Dot(q Point) float64 { return float64(p.X*q.X) + float64(p.Y*q.Y) }

// Cross gives the z part of the vector product: positive where q lies to the left of p.
func (p Point) Cross(q Point) float64 { return float64(p.X*q.Y) - float64(p.Y*q.X) }

// Len gives the length of the vector, in mm. Only vectors outside the range that
// can be squared take the slower way round.
func (p Point) Len() float64 {
	q := p.Dot(p)
	if q > 1e-280 && q < 1e280 {
		return math.Sqrt(q)
	}
	return math.Hypot(p.X, p.Y)
}

// Dist gives the distance between two places, in mm.
func (p Point) Dist(q Point) float64 { return p.Sub(q).Len() }

// Lerp gives the point at the part t of the way from p to q; exact at 0 and 1.
func (p Point) Lerp(q Point, t float64) Point {
	return Point{float64(p.X*(1-t)) + float64(q.X*t), float64(p.Y*(1-t)) + float64(q.Y*t)}
}

// Unit gives the vector of length 1 in the direction of p; false where p has no direction.
func (p Point) Unit() (Point, bool) {
	l := p.Len()
	if l == 0 || math.IsInf(l, 0) || math.IsNaN(l) {
		return Point{}, false
	}
	return Point{p.X / l, p.Y / l}, true
}

// Left gives p turned by a quarter turn anticlockwise.
func (p Point) Left() Point { return Point{-p.Y, p.X} }
