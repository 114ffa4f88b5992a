package curve

import "math"

// hodograph is the velocity of a cubic over a stretch of its parameter that is
// scaled to z in [-1,1]: w(z) = a + b z + c z^2 as a complex number (x + i y).
// The length of the stretch is the integral of |w|.
type hodograph struct{ a, b, c Point }

// hodograph gives the velocity of the whole segment.
func (s *Segment) hodograph() hodograph {
	d0, d1, d2 := s.P1.Sub(s.P0), s.P2.Sub(s.P1), s.P3.Sub(s.P2)
	return hodograph{
		a: Point{(d0.X + d1.X + d1.X + d2.X) * 0.375, (d0.Y + d1.Y + d1.Y + d2.Y) * 0.375},
		b: Point{(d2.X - d0.X) * 0.75, (d2.Y - d0.Y) * 0.75},
		c: Point{(d0.X - d1.X + (d2.X - d1.X)) * 0.375, (d0.Y - d1.Y + (d2.Y - d1.Y)) * 0.375},
	}
}

// between is the velocity over the stretch from z0 to z1 only.
func (w *hodograph) between(z0, z1 float64) hodograph {
	m, h := (z0+z1)/2, (z1-z0)/2
	hh := float64(h * h)
	return hodograph{
		a: Point{
			float64((w.a.X + float64((w.b.X+float64(w.c.X*m))*m)) * h),
			float64((w.a.Y + float64((w.b.Y+float64(w.c.Y*m))*m)) * h),
		},
		b: Point{(w.b.X + float64(2*m*w.c.X)) * hh, (w.b.Y + float64(2*m*w.c.Y)) * hh},
		c: Point{w.c.X * hh * h, w.c.Y * hh * h},
	}
}

// speed is |w| at z.
func (w *hodograph) speed(z float64) float64 {
	x := w.a.X + float64((w.b.X+float64(w.c.X*z))*z)
	y := w.a.Y + float64((w.b.Y+float64(w.c.Y*z))*z)
	return math.Sqrt(float64(x*x) + float64(y*y))
}

// bracket gives the chord and the control polygon of the stretch: its length
// lies between the two. The polygon's sides are 2/3 of the velocity's Bernstein
// coefficients a-b+c, a-c and a+b+c.
func (w *hodograph) bracket() (chord, polygon float64) {
	chord = Point{2*w.a.X + float64(w.c.X*(2.0/3)), 2*w.a.Y + float64(w.c.Y*(2.0/3))}.Len()
	sum := w.a.Add(w.c)
	polygon = sum.Sub(w.b).Len() + w.a.Sub(w.c).Len() + sum.Add(w.b).Len()
	return chord, polygon * (2.0 / 3)
}

// all is the length over z in [-1,1], the error at most tol or what doubles
// hold. Very large and very small curves are brought to size first, so that no
// product in rule leaves the range of doubles.
func (w *hodograph) all(tol float64) float64 {
	chord, polygon := w.bracket()
	tol = tolerance(tol, polygon)
	if !(polygon-chord > 2*tol) || math.IsInf(polygon, 0) {
		return (chord + polygon) / 2
	}
	if polygon > 1e-60 && polygon < 1e60 {
		return w.length(tol, 0)
	}
	k := 1 / polygon
	unit := hodograph{w.a.Mul(k), w.b.Mul(k), w.c.Mul(k)}
	return unit.length(tol*k, 0) * polygon
}

// maxHalvings ends the halving where rounding has eaten all digits.
const maxHalvings = 60

// length is the integral of |w| with a truncation error of at most tol > 0.
func (w *hodograph) length(tol float64, depth int) float64 {
	if rule := w.rule(tol); rule != nil {
		return w.integrate(rule)
	}
	chord, polygon := w.bracket()
	if !(polygon-chord > 2*tol) || depth >= maxHalvings {
		return (chord + polygon) / 2
	}
	left, right := w.between(-1, 0), w.between(0, 1)
	return left.length(tol/2, depth+1) + right.length(tol/2, depth+1)
}

// integrate applies the rule to |w|.
func (w *hodograph) integrate(rule gaussRule) float64 {
	sum := 0.0
	for i := range rule {
		g := &rule[i]
		x, y := w.a.X+float64(w.c.X*g.xx), w.a.Y+float64(w.c.Y*g.xx)
		dx, dy := float64(w.b.X*g.x), float64(w.b.Y*g.x)
		px, py, mx, my := x+dx, y+dy, x-dx, y-dy
		p := math.Sqrt(float64(px*px) + float64(py*py))
		m := math.Sqrt(float64(mx*mx) + float64(my*my))
		sum += float64(g.weight * (p + m))
	}
	return sum
}

// rule picks the smallest rule whose error is known beforehand to be at most
// tol, or nil where none is good enough.
//
// |w| = sqrt(w(z) conj w(conj z)) is analytic in the Bernstein ellipse (foci
// -1 and 1) through the nearest root of w. With rho the sum of its half axes
// and M a bound of |w| on it, the Chebyshev coefficients of |w| are at most
// 2 M rho^-k. The rule with N nodes is exact for degrees below 2N and for odd
// ones; for the others the rule (weights positive, sum 2) and the integral
// (2/(k^2-1)) differ by at most 2 + 2/63. Summed over even k >= 2N:
//
//	error <= 4.07 M rho^-2N / (1 - rho^-2)
//
// which is the bound of L. N. Trefethen, Approximation Theory and Approximation
// Practice, theorem 19.3 (from memory), written out for an even N.
//
// A cheap ellipse inside the nearest root's is tried first: finding the roots
// takes longer than a few more nodes.
func (w *hodograph) rule(tol float64) gaussRule {
	half, most := w.innerEllipse()
	if r := ruleFor(half, most, tol); r != nil && len(r) <= len(gauss16) {
		return r
	}
	half = w.ellipse()
	most = w.a.bound() + float64(half*(w.b.bound()+float64(half*w.c.bound())))
	return ruleFor(half, most, tol)
}

// ruleFor is the smallest rule that errs by at most tol where |w| is analytic in
// the ellipse with the long half axis half and no larger than most there.
func ruleFor(half, most, tol float64) gaussRule {
	if !(half > 1.001) {
		return nil
	}
	q := half - math.Sqrt(float64(half*half)-1) // 1/rho
	q = float64(q * q)
	limit := tol * (1 - q) / (4.07 * most)
	q4 := q * q * q * q
	q8 := q4 * q4
	q16 := q8 * q8
	switch {
	case q4 <= limit:
		return gauss4
	case q8 <= limit:
		return gauss8
	case q8*q4 <= limit:
		return gauss12
	case q16 <= limit:
		return gauss16
	case q16*q8 <= limit:
		return gauss24
	case q16*q16 <= limit:
		return gauss32
	}
	return nil
}

// farEllipse is the half axis that stands for roots at infinity.
const farEllipse = 1e4

// innerEllipse gives the long half axis of an ellipse without roots of w, and a
// bound of |w| on it. In Chebyshev polynomials w = (a + c/2) + b T1 + (c/2) T2,
// and on the ellipse |T1| <= h, |T2| <= 2h^2 - 1: no root as long as
// |b| h + |c| (h^2 - 1/2) < |a + c/2|.
func (w *hodograph) innerEllipse() (half, most float64) {
	k, b, c := w.a.Add(w.c.Mul(0.5)), w.b, w.c
	lk, lb, lc := math.Sqrt(k.Dot(k)), math.Sqrt(b.Dot(b)), math.Sqrt(c.Dot(c))
	top := lk + lc/2
	half = 2 * top / (lb + math.Sqrt(float64(lb*lb)+float64(4*lc*top)))
	return min(half*(1-1e-9), farEllipse), 2 * lk
}

// bound is a bound of the vector's length that needs no root.
func (p Point) bound() float64 { return math.Abs(p.X) + math.Abs(p.Y) }

// ellipse gives the long half axis of the Bernstein ellipse through the nearest
// root of w, at most farEllipse, less what the rounding of the roots may matter.
// With the roots written as n/c and a/n no complex division is needed.
func (w *hodograph) ellipse() float64 {
	a, b, c := w.a, w.b, w.c
	// s = sqrt(b^2 - 4 a c), complex, on b's side so that nothing cancels.
	dx := float64(b.X*b.X) - float64(b.Y*b.Y) - 4*(float64(a.X*c.X)-float64(a.Y*c.Y))
	dy := 2 * (float64(b.X*b.Y) - 2*(float64(a.X*c.Y)+float64(a.Y*c.X)))
	s := complexRoot(dx, dy)
	if s.Dot(b) < 0 {
		s = Point{-s.X, -s.Y}
	}
	n := Point{-(b.X + s.X) / 2, -(b.Y + s.Y) / 2}
	return math.Sqrt(min(halfAxis(n, c), halfAxis(a, n))) * (1 - 1e-6)
}

// halfAxis is the square of the half axis (|r-1| + |r+1|)/2 of the ellipse
// through r = n/d, at most that of farEllipse; 1 for 0/0, where r can be
// anything, and no number where the range of doubles is left.
func halfAxis(n, d Point) float64 {
	const far = farEllipse * farEllipse
	nn, dd := n.Dot(n), d.Dot(d)
	diff, sum := n.Sub(d), n.Add(d)
	top := nn + dd + math.Sqrt(float64(diff.Dot(diff)*sum.Dot(sum)))
	switch {
	case top < far*2*dd:
		return top / (2 * dd)
	case top > 0:
		return far
	case top == 0:
		return 1
	}
	return math.NaN()
}

// complexRoot is a square root of x + i y.
func complexRoot(x, y float64) Point {
	r := math.Sqrt(float64(x*x) + float64(y*y))
	if r == 0 {
		return Point{}
	}
	big := math.Sqrt((r + math.Abs(x)) / 2)
	small := math.Abs(y) / (2 * big)
	if x < 0 {
		big, small = small, big
	}
	return Point{big, math.Copysign(small, y)}
}
