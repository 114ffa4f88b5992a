package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Continuous values of the tests of GEOS (LGPL; DirectedHausdorffDistanceTest
// and the PostGIS manual's pair, whose fraction 970/13 was worked out by hand:
// the largest min(x, y) along the slanted side), figures only.
func TestHausdorffOfPublishedPairs(t *testing.T) {
	for _, c := range []struct {
		name             string
		a, b             Path
		there, back, sym float64
		on, to           Point
	}{
		{
			"legs and a hook", chain(Pt(130, 0), Pt(0, 0), Pt(0, 150)), chain(Pt(10, 10), Pt(10, 150), Pt(130, 10)),
			0, 970.0 / 13, 970.0 / 13, Pt(970.0/13, 970.0/13), Point{},
		},
		{
			"two hooks", chain(Pt(0, 0), Pt(100, 0), Pt(10, 100)), chain(Pt(0, 100), Pt(0, 10), Pt(80, 10)),
			0, 0, 910.0 / 19, Point{}, Point{},
		},
		{
			"two wedges", chain(Pt(1, 6), Pt(3, 5), Pt(1, 4)), chain(Pt(1, 10), Pt(9, 5), Pt(1, 2)),
			3.39199, 6, 6, Pt(9, 5), Pt(3, 5),
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			const tol = 1e-6
			if c.there != 0 {
				assert.InDelta(t, c.there, Directed(c.a, c.b, tol).Dist, 5e-6)
			}
			if c.back != 0 {
				assert.InDelta(t, c.back, Directed(c.b, c.a, tol).Dist, 2*tol)
			}
			far := Hausdorff(c.a, c.b, tol)
			assert.InDelta(t, c.sym, far.Dist, 2*tol)
			assert.InDelta(t, far.Dist, far.On.Dist(far.To), 1e-12)
			if c.on != (Point{}) {
				assert.InDelta(t, 0, far.On.Dist(c.on), 1e-5)
				assert.True(t, far.Back)
			}
			if c.to != (Point{}) {
				assert.InDelta(t, 0, far.To.Dist(c.to), 1e-5)
			}
		})
	}
	// Where the worst place of the wedges ends (same test of GEOS).
	far := Directed(chain(Pt(1, 6), Pt(3, 5), Pt(1, 4)), chain(Pt(1, 10), Pt(9, 5), Pt(1, 2)), 1e-6)
	assert.InDelta(t, 0, far.To.Dist(Pt(2.797752809, 8.876404494)), 1e-6)
	// Same-shaped squares moved by (0.5, 0.5): sqrt(1/2) (GEOS and PostGIS tests).
	square := polygon(Pt(0, 0), Pt(10, 0), Pt(10, 10), Pt(0, 10))
	assert.InDelta(t, math.Sqrt(0.5), Hausdorff(square, square.Transform(Translate(0.5, 0.5)), 1e-6).Dist, 2e-6)
	// From the same tests, values that corners alone already reach.
	assert.InDelta(t, 1, Hausdorff(chain(Pt(0, 0), Pt(2, 1)), chain(Pt(0, 0), Pt(2, 0)), 1e-6).Dist, 2e-6)
	assert.InDelta(t, 2, Hausdorff(chain(Pt(0, 0), Pt(2, 0)), chain(Pt(0, 1), Pt(1, 2), Pt(2, 1)), 1e-6).Dist, 2e-6)
}

// The cubic (0,0)(133,h)(267,h)(400,0) has the height 3 h t (1-t): it leaves its
// chord by 3/4 h at most.
func TestHausdorffOfABulge(t *testing.T) {
	base := Path{Line(Pt(0, 0), Pt(400, 0))}
	for _, h := range []float64{0.01, 1, 20} {
		bulge := Path{Cubic(Pt(0, 0), Pt(133, h), Pt(267, h), Pt(400, 0))}
		for _, tol := range []float64{1e-2, 1e-4, 1e-6} {
			far := Directed(bulge, base, tol)
			assert.LessOrEqual(t, far.Dist, 0.75*h+1e-9)
			assert.GreaterOrEqual(t, far.Dist, 0.75*h-tol)
			assert.InDelta(t, 0.75*h, Hausdorff(base, bulge, tol).Dist, tol+1e-9)
		}
	}
}

// Concentric circles of 100 and 110 as 64 cubics each, those of one turned
// against those of the other: 10 mm everywhere.
func TestHausdorffOfCircles(t *testing.T) {
	a, b := arcs(100, 64), arcs(110, 64).Transform(Rotate(0.031))
	assert.InDelta(t, 10, Directed(a, b, 1e-5).Dist, 2e-5)
	assert.InDelta(t, 10, Hausdorff(b, a, 1e-5).Dist, 2e-5)
	// The centre line of a strip is equally near to both its sides.
	strip := Path{Line(Pt(0, 5), Pt(90, 5)), Line(Pt(90, 5), Pt(90, -5)), Line(Pt(90, -5), Pt(0, -5))}
	assert.InDelta(t, 5, Directed(chain(Pt(0, 0), Pt(80, 0)), strip, 1e-6).Dist, 1e-6)
}

// Reference: many places of one outline against the nearest place of the other.
// None may be farther than the answer by more than the tolerance.
func TestHausdorffAgainstSamples(t *testing.T) {
	r := rand.New(rand.NewPCG(201, 202))
	const tol = 1e-3
	for i := range 60 {
		a := randomOutline(r, 0.4)
		b := clonePath(a)
		k := r.IntN(len(b))
		switch i % 3 {
		case 0: // another outline altogether
			b = randomOutline(r, 0.4)
		case 1: // one corner moved
			d := Pt(20*r.Float64()-10, 20*r.Float64()-10)
			n := (k + 1) % len(b)
			b[k] = Cubic(b[k].P0, b[k].P1, b[k].P2.Add(d), b[k].P3.Add(d))
			b[n] = Cubic(b[k].P3, b[n].P1.Add(d), b[n].P2, b[n].P3)
		default: // handles of one edge
			b[k] = Cubic(b[k].P0, b[k].P1.Add(Pt(9, -4)), b[k].P2.Add(Pt(-3, 12)), b[k].P3)
		}
		far := Directed(a, b, tol)
		assert.InDelta(t, far.Dist, b.Nearest(far.On).Dist, 1e-12)
		assert.InDelta(t, 0, a[far.Seg].At(far.T).Dist(far.On), 1e-9)
		most := 0.0
		for _, s := range a {
			for n := range 401 {
				most = max(most, b.Nearest(s.At(float64(n)/400)).Dist)
			}
		}
		assert.GreaterOrEqual(t, far.Dist, most-tol, "outline %d", i)
		assert.LessOrEqual(t, far.Dist, most+2.5, "outline %d", i) // steps of up to 1.2 mm, slope at most 1
	}
}

func TestHausdorffOfNothing(t *testing.T) {
	p, o := chain(Pt(0, 0), Pt(9, 0)), Pt(4, 4)
	dot := Path{Cubic(o, o, o, o)}
	assert.Equal(t, Far{}, Hausdorff(nil, nil, 1e-3))
	assert.Equal(t, Far{}, Directed(nil, p, 1e-3))
	assert.True(t, math.IsInf(Directed(p, nil, 1e-3).Dist, 1))
	assert.True(t, math.IsInf(Hausdorff(nil, p, 1e-3).Dist, 1))
	assert.InDelta(t, 4, Directed(dot, p, 1e-3).Dist, 1e-9)
	assert.InDelta(t, math.Hypot(5, 4), Directed(p, dot, 1e-3).Dist, 1e-3)
	assert.Zero(t, Hausdorff(p, p, 1e-3).Dist)
	assert.InDelta(t, 4, Directed(dot, p, math.NaN()).Dist, 1e-6)
	assert.True(t, Lies(nil, p, 0))
	assert.False(t, Lies(p, nil, 1))
}

func TestLiesOnAPath(t *testing.T) {
	r := rand.New(rand.NewPCG(211, 212))
	for range 100 {
		p := randomOutline(r, 0.4)
		total := p.Length(1e-9)
		d0 := total * r.Float64()
		part := p.SubPath(d0, d0+(total-d0)*r.Float64(), 1e-9)
		assert.True(t, Lies(part, p, 1e-6), "a part")
		assert.True(t, Lies(part.Reverse(), p, 1e-6), "a part walked the other way")
		for i := range part {
			part[i] = rounded(part[i])
		}
		assert.True(t, Lies(part, p, 1e-3), "rounded to thousandths it moves by less")
	}
	// The bulge of 3/4 h.
	base := Path{Line(Pt(0, 0), Pt(400, 0))}
	bulge := Path{Cubic(Pt(0, 0), Pt(133, 0.004/3), Pt(267, 0.004/3), Pt(400, 0))}
	assert.True(t, Lies(bulge, base, 0.001), "on the very limit")
	assert.True(t, Lies(bulge, base, 0.0011))
	assert.False(t, Lies(bulge, base, 0.0009))
	assert.True(t, Lies(base, base.Transform(Translate(3, 0.001)), 3))
	assert.False(t, Lies(base, base.Transform(Translate(3, 0.001)), 2.9), "runs out beyond the end")
}

func TestHausdorffIsADistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c, m := anyPath(t), anyPath(t), anyPath(t), anyMotion(t)
		const tol = 1e-2
		ab := Hausdorff(a, b, tol).Dist
		agree(t, ab, Hausdorff(b, a, tol).Dist, tol+1e-6, "exchanged")
		agree(t, ab, Hausdorff(a.Reverse(), b, tol).Dist, tol+1e-6, "reversed")
		agree(t, ab, Hausdorff(a.Transform(m), b.Transform(m), tol).Dist, tol+1e-6, "moved")
		agree(t, 0, Hausdorff(a, a, tol).Dist, 0, "itself")
		if most := Hausdorff(a, c, tol).Dist + Hausdorff(c, b, tol).Dist; ab > most+3*tol {
			t.Fatalf("triangle: %v > %v", ab, most)
		}
		if Lies(a, b, ab-2*tol) && ab > 2*tol && Directed(b, a, tol).Dist < ab-tol {
			t.Fatalf("a strays by %v, yet lies within %v", ab, ab-2*tol)
		}
	})
}

func TestHausdorffIsBlindToACut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPath(t)
		d := p.Length(1e-9) * rapid.Float64Range(0, 1).Draw(t, "d")
		a, b := p.SplitAt(d, 1e-9)
		cut := append(a, b...)
		agree(t, 0, Hausdorff(p, cut, 1e-5).Dist, 1e-6, "cut")
		if !Lies(cut, p, 1e-6) || !Lies(p, cut, 1e-6) {
			t.Fatalf("the cut path no longer lies on itself")
		}
	})
}
