package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// graphOf is the cubic over x from 0 to 400 whose height at x = 400 t is
// c0 + c1 t + c2 t^2 + c3 t^3.
func graphOf(c0, c1, c2, c3 float64) Segment {
	b1, b2 := c0+c1/3, c0+2*c1/3+c2/3
	return Cubic(Pt(0, c0), Pt(400.0/3, b1), Pt(800.0/3, b2), Pt(400, c0+c1+c2+c3))
}

// Exact places: two graphs that differ by h (t - 0.2)(t - 0.45)(t - 0.9) cross at
// these, however near they run. One of them is cut and walked the other way, so
// that parameters tell nothing.
func TestCurvesAHairApartCrossWhereTheyDo(t *testing.T) {
	for _, h := range []float64{100, 1, 1e-2, 1e-4, 1e-6} {
		a := graphOf(0, 90, -150, 40)
		k0, k1, k2 := -0.2*0.45*0.9, 0.2*0.45+0.2*0.9+0.45*0.9, -(0.2 + 0.45 + 0.9)
		b := graphOf(h*k0, 90+h*k1, -150+h*k2, 40+h).Sub(0.1, 0.97).Reverse()
		hits := Intersections(a, b)
		if h < 1e-5 { // what is nearer than 1e-6 mm all along is the same place
			assert.Len(t, hits, 1)
			continue
		}
		require.Len(t, hits, 3, "h = %g", h)
		for i, want := range []float64{0.2, 0.45, 0.9} {
			assert.InDelta(t, want, hits[i].TA, 1e-9/h+1e-9, "h = %g", h)
			assert.InDelta(t, (0.97-want)/0.87, hits[i].TB, 1e-9/h+1e-9, "h = %g", h)
		}
	}
}

// Exact place: y = x^2/240 and the same moved by (d, e) cross where
// x = (d^2 + 240 e) / (2 d).
func TestAParabolaAndItsShadowCrossOnce(t *testing.T) {
	for _, d := range []float64{1, 0.01, 0.002, 1e-4} {
		for _, x := range []float64{10, 150, 280} {
			e := (2*d*x - d*d) / 240
			hits := Intersections(parabola(), parabola().Transform(Translate(d, e)))
			require.Len(t, hits, 1)
			assert.InDelta(t, x, hits[0].Point.X, 1e-8/d)
		}
		assert.Empty(t, Intersections(parabola(), parabola().Transform(Translate(0, d))))
	}
}

// The work stays small however near two curves run: pairs of pieces looked at,
// and not time, so that the check does not depend on the machine.
func TestCurvesAHairApartAreQuick(t *testing.T) {
	r := rand.New(rand.NewPCG(171, 172))
	for i := range 2000 {
		a := gentleCubic(r)
		switch i % 3 {
		case 1:
			a = wildCubic(r)
		case 2:
			a = cuspCubic(r)
		}
		b, d := a, math.Pow(10, -6*r.Float64())
		move := func() Point { return shift(r).Mul(d / 10) }
		if i%2 == 0 {
			b.P0, b.P3 = b.P0.Add(move()), b.P3.Add(move())
		}
		b.P1, b.P2 = b.P1.Add(move()), b.P2.Add(move())
		x := crosser{a: &a, b: &b}
		x.search(&pieceOf{a, 0, 1}, &pieceOf{b, 0, 1})
		assert.Less(t, x.nodes, 2000, "%g: %v", d, a)
		for _, h := range x.finish() {
			assert.InDelta(t, 0, a.At(h.TA).Dist(b.At(h.TB)), 1e-8)
		}
	}
}
