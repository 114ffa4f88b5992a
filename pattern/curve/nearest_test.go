package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNearestPublished(t *testing.T) {
	// GEOS, DirectedHausdorffDistanceTest: from (1 6, 3 5, 1 4) to (1 10, 9 5, 1 2)
	// 3.39199, ending at (2.797752809, 8.876404494); back 6, from (9,5) to (3,5).
	n := chain(Pt(1, 10), Pt(9, 5), Pt(1, 2)).Nearest(Pt(1, 6))
	assert.InDelta(t, 3.39199, n.Dist, 1e-5)
	assert.InDelta(t, 0, n.Point.Dist(Pt(2.797752809, 8.876404494)), 1e-8)
	n = chain(Pt(1, 6), Pt(3, 5), Pt(1, 4)).Nearest(Pt(9, 5))
	assert.InDelta(t, 6, n.Dist, 1e-9)
	assert.Equal(t, Pt(3, 5), n.Point)
	// The true Hausdorff distance of (130 0, 0 0, 0 150) and (10 10, 10 150, 130 10),
	// computed exactly: 970/13, at the place of the slanted edge where x = y.
	n = chain(Pt(130, 0), Pt(0, 0), Pt(0, 150)).Nearest(Pt(970.0/13, 970.0/13))
	assert.InDelta(t, 970.0/13, n.Dist, 1e-9)
}

// The foot of (0, c) on y = x^2/240, c > 120: 2 x0^2 = ... y0 = c - 120, so the
// distance is sqrt(240 (c-120) + 120^2).
func TestNearestOnParabola(t *testing.T) {
	for _, c := range []float64{120.001, 121, 150, 300, 490} {
		n := Path{parabola()}.Nearest(Pt(0, c))
		assert.InDelta(t, math.Sqrt(240*(c-120)+14400), n.Dist, 1e-7, "%g", c)
		assert.InDelta(t, c-120, n.Point.Y, 0.1)
	}
	n := Path{parabola()}.Nearest(Pt(0, 120)) // the centre of curvature: all orders vanish
	assert.InDelta(t, 120, n.Dist, 1e-7)
	n = Path{parabola()}.Nearest(Pt(-30, -40))
	assert.Equal(t, Near{Seg: 0, T: 0, Point: Pt(0, 0), Dist: 50}, n)
}

// Reference: the distance to a polyline that strays at most 1e-4 from the path.
func TestNearestOfRandomPaths(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	for i := range 150 {
		p := Path{wildCubic(r)}
		if i%3 == 0 {
			p = randomOutline(r, 0.7)
		}
		flat := p.Flatten(1e-4)
		for range 5 {
			q := Pt(900*r.Float64()-300, 900*r.Float64()-300)
			if r.IntN(4) == 0 { // a point of the curve itself
				q = p[r.IntN(len(p))].At(r.Float64())
			}
			n := p.Nearest(q)
			assert.InDelta(t, polylineDist(flat, q), n.Dist, 2e-4)
			assert.InDelta(t, n.Dist, n.Point.Dist(q), 1e-12)
			assert.InDelta(t, 0, p[n.Seg].At(n.T).Dist(n.Point), 1e-12)
		}
	}
}

// polylineDist is the distance from q to a polyline, by hand.
func polylineDist(pts []Point, q Point) float64 {
	best := math.Inf(1)
	for i := 0; i+1 < len(pts); i++ {
		d, f := pts[i+1].Sub(pts[i]), q.Sub(pts[i])
		u := 0.0
		if l := d.Dot(d); l > 0 {
			u = math.Min(1, math.Max(0, f.Dot(d)/l))
		}
		best = math.Min(best, f.Sub(d.Mul(u)).Len())
	}
	return best
}

func TestNearestOnOddSegments(t *testing.T) {
	p := Pt(3, 4)
	assert.InDelta(t, 5, Path{Cubic(p, p, p, p)}.Nearest(Pt(0, 0)).Dist, 1e-12)
	assert.InDelta(t, 5, Path{Line(p, p)}.Nearest(Pt(0, 0)).Dist, 1e-12)
	assert.True(t, math.IsInf(Path(nil).Nearest(p).Dist, 1))
	// On the curve, at a cusp, at a fold.
	assert.InDelta(t, 0, Path{cusp}.Nearest(cusp.At(0.5)).Dist, 1e-7)
	fold := Cubic(Pt(0, 0), Pt(50, 0), Pt(100, 0), Pt(-50, 0))
	assert.InDelta(t, 20, Path{fold}.Nearest(Pt(10, 20)).Dist, 1e-7)
}
