package vector

import (
	"math"

	"seamkeep/pattern/curve"
)

// arc reads the arguments of one elliptical arc and draws it.
func (p *pathPen) arc(from curve.Point) *fault {
	start := p.at
	var v [5]float64 // radii, turn, end
	var flags [2]bool
	for i := range v {
		if i > 0 {
			p.separator()
		}
		var bad *fault
		if i == 3 {
			for k := range flags {
				if flags[k], bad = p.flag(); bad != nil {
					return bad
				}
				p.separator()
			}
		}
		if v[i], bad = p.number(); bad != nil {
			return bad
		}
	}
	to := curve.Pt(from.X+v[3], from.Y+v[4])
	for _, s := range arcCubics(p.cur, to, v[0], v[1], v[2]*math.Pi/180, flags[0], flags[1], p.arcTol) {
		if !finite(s) {
			return &fault{at: start, found: "an arc with radii near zero", expected: "an arc that can be drawn"}
		}
		p.add(s)
	}
	p.cur, p.after = to, 0
	return nil
}

// arcCubics gives an elliptical arc as cubics that stay within tol of it (SVG 2,
// implementation notes B.2: from the end points to the centre, radii that are
// too small scaled up). A radius of zero gives a line, equal ends nothing.
func arcCubics(from, to curve.Point, rx, ry, turn float64, large, sweep bool, tol float64) curve.Path {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if from == to {
		return nil
	}
	if rx == 0 || ry == 0 {
		return curve.Path{curve.Line(from, to)}
	}
	// In the plane where the ellipse is a circle of radius 1 the half chord is h.
	back := curve.Rotate(-turn).Then(curve.Scale(1/rx, 1/ry))
	h := back.Apply(from.Sub(to).Mul(0.5))
	if l := h.Len(); l > 1 {
		rx, ry, h = rx*l, ry*l, h.Mul(1/l)
	}
	k := math.Sqrt(max(0, 1/h.Dot(h)-1))
	if large == sweep {
		k = -k
	}
	centre := curve.Pt(k*h.Y, -k*h.X)
	a0 := math.Atan2(h.Y-centre.Y, h.X-centre.X)
	a1 := math.Atan2(-h.Y-centre.Y, -h.X-centre.X)
	span := a1 - a0
	if sweep && span <= 0 {
		span += 2 * math.Pi
	} else if !sweep && span >= 0 {
		span -= 2 * math.Pi
	}
	out := curve.Scale(rx, ry).Then(curve.Rotate(turn))
	mid := from.Lerp(to, 0.5)
	out.E, out.F = mid.X, mid.Y
	out = curve.Translate(centre.X, centre.Y).Then(out)
	return arcPieces(from, to, a0, span, arcCount(span, max(rx, ry), tol), out)
}

// arcCount is how many cubics keep an arc within tol: one over a quarter of a
// circle strays by 2.7253e-4 of the radius (Mortensen, "Approximate a circle
// with cubic Bezier curves"), and the error falls with the sixth power of the
// angle. 3e-4 leaves room for that law being an approximation.
func arcCount(span, radius, tol float64) int {
	step := math.Pi / 2
	if worst := 3e-4 * radius; worst > tol {
		step *= math.Pow(tol/worst, 1.0/6)
	}
	n := math.Ceil(math.Abs(span) / step)
	if !(n > 1) { // also where radii near zero left no number
		return 1
	}
	return int(min(n, 4096))
}

// arcPieces draws n equal parts of the unit circle from angle a0 on, mapped by
// out; the ends are exactly from and to.
func arcPieces(from, to curve.Point, a0, span float64, n int, out curve.Affine) curve.Path {
	path := make(curve.Path, 0, n)
	step := span / float64(n)
	k := 4.0 / 3 * math.Tan(step/4)
	cur := from
	for i := range n {
		s0, c0 := math.Sincos(a0 + float64(i)*step)
		s1, c1 := math.Sincos(a0 + float64(i+1)*step)
		end := out.Apply(curve.Pt(c1, s1))
		if i == n-1 {
			end = to
		}
		path = append(path, curve.Cubic(cur,
			out.Apply(curve.Pt(c0-k*s0, s0+k*c0)), out.Apply(curve.Pt(c1+k*s1, s1-k*c1)), end))
		cur = end
	}
	return path
}

func finite(s curve.Segment) bool {
	sum := s.P0.Len() + s.P1.Len() + s.P2.Len() + s.P3.Len()
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}
