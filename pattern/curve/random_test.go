package curve

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/integrate/quad"
)

// The three kinds of random cubics on which lengths are tried. Seeds are fixed.

// gentleCubic is like an edge of a panel: a chord of 50 to 800 mm, handles of a
// quarter to half the chord, ends turned by at most 40 degrees.
func gentleCubic(r *rand.Rand) Segment {
	chord, turn := 50+750*r.Float64(), 2*math.Pi*r.Float64()
	a := Pt(1000*r.Float64()-500, 1000*r.Float64()-500)
	along := func(ang, l float64) Point { return Pt(l*math.Cos(ang), l*math.Sin(ang)) }
	b := a.Add(along(turn, chord))
	bend := func() float64 { return (2*r.Float64() - 1) * 40 * math.Pi / 180 }
	h := a.Add(along(turn+bend(), chord*(0.25+0.25*r.Float64())))
	k := b.Sub(along(turn+bend(), chord*(0.25+0.25*r.Float64())))
	return Cubic(a, h, k, b)
}

// wildCubic has its four points anywhere in 500 by 500 mm: loops, turns, near cusps.
func wildCubic(r *rand.Rand) Segment {
	p := func() Point { return Pt(500*r.Float64(), 500*r.Float64()) }
	return Cubic(p(), p(), p(), p())
}

// cuspCubic has its velocity zero at a parameter c, exactly or nearly.
func cuspCubic(r *rand.Rand) Segment {
	c := 0.1 + 0.8*r.Float64()
	s := wildCubic(r)
	// The velocity's Bernstein points e0, e1, e2 with the mean at c moved to zero.
	e0, e1 := s.P1.Sub(s.P0), s.P2.Sub(s.P1)
	u := 1 - c
	e2 := e0.Mul(-u * u / (c * c)).Add(e1.Mul(-2 * u / c))
	s.P3 = s.P2.Add(e2)
	if k := r.IntN(4); k > 0 {
		off := math.Pow(10, -float64(2*k))
		s.P2 = s.P2.Add(Pt(off, -off))
	}
	return s
}

// panelLength integrates the speed with gonum's 32-point rule over many panels,
// graded towards the parameter where the speed is least.
func panelLength(s Segment, panels int) float64 {
	slow, least := 0.0, math.Inf(1)
	for i := range 4001 {
		t := float64(i) / 4000
		if v := s.Deriv(t).Len(); v < least {
			slow, least = t, v
		}
	}
	// Newton on the slope of the squared speed.
	third := s.P3.Sub(s.P0).Sub(s.P2.Sub(s.P1).Mul(3)).Mul(6)
	for range 50 {
		d1, d2 := s.Deriv(slow), s.second(slow)
		next := slow - d1.Dot(d2)/(d2.Dot(d2)+d1.Dot(third))
		if !(math.Abs(next-slow) < 1e-3) {
			break
		}
		slow = next
	}
	slow = clamp01(slow)
	speed := func(t float64) float64 { return s.Deriv(t).Len() }
	sum := 0.0
	for _, end := range [2]float64{0, 1} {
		at := end
		for k := range panels {
			next := slow + (end-slow)*math.Pow(1-float64(k+1)/float64(panels), 4)
			sum += math.Abs(quad.Fixed(speed, min(at, next), max(at, next), 32, quad.Legendre{}, 0))
			at = next
		}
	}
	return sum
}

// randomOutline is a ring round the origin with 4 to 20 edges, a third of them
// straight.
func randomOutline(r *rand.Rand, rough float64) Path {
	n := 4 + r.IntN(17)
	pts := make([]Point, n)
	for i := range pts {
		a := 2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n)
		d := 150 + 200*r.Float64()
		pts[i] = Pt(d*math.Cos(a), d*math.Sin(a))
	}
	ring := make(Path, n)
	for i, a := range pts {
		b := pts[(i+1)%n]
		if r.IntN(3) == 0 {
			ring[i] = Line(a, b)
			continue
		}
		l := a.Dist(b) * rough
		shift := func() Point { return Pt(l*(2*r.Float64()-1), l*(2*r.Float64()-1)) }
		ring[i] = Cubic(a, a.Lerp(b, 0.33).Add(shift()), a.Lerp(b, 0.67).Add(shift()), b)
	}
	return ring
}

// smoothOutline is a ring of 4 to 12 cubics without corners, in thousandths of a
// mm as the text keeps it.
func smoothOutline(r *rand.Rand, rough float64) Path {
	n := 4 + r.IntN(9)
	pts, way := make([]Point, n), make([]Point, n)
	for i := range pts {
		a := 2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n)
		d := 150 + 200*r.Float64()
		pts[i] = Pt(d*math.Cos(a), d*math.Sin(a))
	}
	for i := range way {
		way[i] = pts[(i+1)%n].Sub(pts[(i+n-1)%n]).Mul(rough * (0.2 + r.Float64()))
	}
	ring := make(Path, n)
	for i, a := range pts {
		k := (i + 1) % n
		ring[i] = rounded(Cubic(a, a.Add(way[i]), pts[k].Sub(way[k]), pts[k]))
	}
	return ring
}
