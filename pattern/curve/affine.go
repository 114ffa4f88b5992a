package curve

import "math"

// Affine is a map of the plane: x' = A x + C y + E, y' = B x + D y + F, the
// order of numbers that SVG uses.
type Affine struct{ A, B, C, D, E, F float64 }

// Identity leaves every point where it is.
func Identity() Affine { return Affine{A: 1, D: 1} }

// Translate moves by x and y mm.
func Translate(x, y float64) Affine { return Affine{A: 1, D: 1, E: x, F: y} }

// Scale multiplies by x and y about the origin.
func Scale(x, y float64) Affine { return Affine{A: x, D: y} }

// Rotate turns anticlockwise (y up) about the origin by an angle in radians.
func Rotate(rad float64) Affine {
	sin, cos := math.Sincos(rad)
	return Affine{A: cos, B: sin, C: -sin, D: cos}
}

// Then is the map that does m first and n after it.
func (m Affine) Then(n Affine) Affine {
	o := n.Apply(Point{m.E, m.F})
	x, y := n.turn(Point{m.A, m.B}), n.turn(Point{m.C, m.D})
	return Affine{A: x.X, B: x.Y, C: y.X, D: y.Y, E: o.X, F: o.Y}
}

// Apply gives the image of p.
func (m Affine) Apply(p Point) Point { return m.turn(p).Add(Point{m.E, m.F}) }

// turn maps a vector: the shift does not touch it.
func (m Affine) turn(p Point) Point {
	return Point{
		float64(m.A*p.X) + float64(m.C*p.Y),
		float64(m.B*p.X) + float64(m.D*p.Y),
	}
}

// Det is the factor by which areas grow; negative where the map mirrors.
func (m Affine) Det() float64 { return float64(m.A*m.D) - float64(m.B*m.C) }

// Inverse undoes m; false where m flattens the plane to a line or has numbers
// that are not finite.
func (m Affine) Inverse() (Affine, bool) {
	d := m.Det()
	if d == 0 || math.IsNaN(d) || math.IsInf(d, 0) {
		return Affine{}, false
	}
	n := Affine{A: m.D / d, B: -m.B / d, C: -m.C / d, D: m.A / d}
	o := n.turn(Point{m.E, m.F})
	n.E, n.F = -o.X, -o.Y
	return n, true
}

// Transform gives the image of s: exact, since a cubic's image is the cubic of
// the images of its control points.
func (s Segment) Transform(m Affine) Segment {
	return Segment{
		P0: m.Apply(s.P0), P1: m.Apply(s.P1), P2: m.Apply(s.P2), P3: m.Apply(s.P3),
		Straight: s.Straight,
	}
}

// Transform gives the image of p. A map that mirrors turns an anticlockwise
// ring into a clockwise one: reverse it afterwards if that matters.
func (p Path) Transform(m Affine) Path {
	q := make(Path, len(p))
	for i, s := range p {
		q[i] = s.Transform(m)
	}
	return q
}
