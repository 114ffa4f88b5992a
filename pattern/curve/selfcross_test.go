package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Figures by hand, or as said beside the case.
func TestSelfCrossingsOfKnownRings(t *testing.T) {
	o := Pt(0, 0)
	type place struct {
		a, b int
		at   Point
	}
	for _, c := range []struct {
		name string
		ring Path
		want []place
	}{
		{"square", polygon(o, Pt(9, 0), Pt(9, 9), Pt(0, 9)), nil},
		{"bow tie", polygon(o, Pt(10, 10), Pt(10, 0), Pt(0, 10)), []place{{0, 2, Pt(5, 5)}}},
		{"open chain that crosses", chain(o, Pt(10, 10), Pt(10, 0), Pt(0, 10)), []place{{0, 2, Pt(5, 5)}}},
		{"open chain whose ends meet is a ring", chain(o, Pt(10, 0), Pt(5, 9), o), nil},
		{"a corner that touches an edge", polygon(o, Pt(20, 0), Pt(20, 20), Pt(10, 0), Pt(0, 20)), []place{{0, 2, Pt(10, 0)}, {0, 3, Pt(10, 0)}}},
		{"a fold along the last edge", polygon(o, Pt(20, 0), Pt(12, 0), Pt(12, 9)), []place{{0, 2, Pt(12, 0)}, {0, 1, Pt(16, 0)}}},
		{"edges that run along each other", polygon(o, Pt(30, 0), Pt(30, 10), Pt(20, 0), Pt(10, 0), Pt(0, 10)), []place{{0, 4, Pt(10, 0)}, {0, 3, Pt(15, 0)}, {0, 2, Pt(20, 0)}}},
		{"a cubic that loops", Path{Cubic(o, Pt(100, 100), Pt(-50, 100), Pt(50, 0)), Line(Pt(50, 0), o)}, nil},
		{"neighbours that cross again", Path{Cubic(o, Pt(0, 40), Pt(100, 40), Pt(100, 0)), Cubic(Pt(100, 0), Pt(60, 0), Pt(60, 60), Pt(40, 60))}, nil},
		{"a lens of two arcs", Path{quarter(9, 9), Line(Pt(0, 9), Pt(9, 0))}, nil},
		{"one closed cubic", Path{Cubic(o, Pt(30, 30), Pt(-30, 30), o)}, nil},
		{"out and back", Path{Line(o, Pt(9, 0)), Line(Pt(9, 0), o)}, []place{{0, 1, Pt(4.5, 0)}}},
		{"folds back on itself", Path{Cubic(o, Pt(50, 0), Pt(100, 0), Pt(-50, 0))}, []place{{0, 0, Point{}}}},
		{"edges without length between neighbours", Path{Line(o, Pt(9, 0)), Line(Pt(9, 0), Pt(9, 0)), Line(Pt(9, 0), Pt(9, 9)), Line(Pt(9, 9), o), Line(o, o)}, nil},
		{"exact cusp", Path{cusp, Line(Pt(300, 0), o)}, nil},
		{"empty", nil, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := c.ring.SelfCrossings()
			switch c.name {
			case "a cubic that loops":
				// Symmetric about x = 25: 25 is passed at both parameters.
				require.Len(t, got, 1)
				assert.Equal(t, [2]int{0, 0}, [2]int{got[0].SegA, got[0].SegB})
				assert.InDelta(t, 25, got[0].Point.X, 1e-9)
				assert.InDelta(t, 0, c.ring[0].At(got[0].TA).Dist(c.ring[0].At(got[0].TB)), 1e-9)
				return
			case "neighbours that cross again":
				require.Len(t, got, 1)
				assert.Equal(t, [2]int{0, 1}, [2]int{got[0].SegA, got[0].SegB})
				assert.InDelta(t, 0, c.ring[0].At(got[0].TA).Dist(c.ring[1].At(got[0].TB)), 1e-7)
				return
			case "folds back on itself":
				require.Len(t, got, 1)
				assert.InDelta(t, 0, c.ring[0].At(got[0].TA).Dist(c.ring[0].At(got[0].TB)), 1e-9)
				return
			}
			require.Len(t, got, len(c.want), "got %v", got)
			for i, w := range c.want {
				assert.Equal(t, [2]int{w.a, w.b}, [2]int{got[i].SegA, got[i].SegB})
				assert.InDelta(t, 0, w.at.Dist(got[i].Point), 1e-6, "%v", got[i])
			}
		})
	}
}

// valid asks simplefeatures whether the flattened ring is a simple polygon.
func valid(ring Path, tol float64) bool {
	var xy []float64
	for _, p := range ring.Flatten(tol) {
		xy = append(xy, p.X, p.Y)
	}
	xy[len(xy)-2], xy[len(xy)-1] = xy[0], xy[1]
	line := geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
	return geom.NewPolygon([]geom.LineString{line}).Validate() == nil
}

// Reference: simplefeatures' polygon validity (rings simple) on flattened
// outlines; where the two differ the finest flattening decides, since a coarse
// one hides crossings close to a corner.
func TestSelfCrossingsAgreeWithSimplefeatures(t *testing.T) {
	r := rand.New(rand.NewPCG(111, 112))
	bad := 0
	for i := range 400 {
		ring := randomOutline(r, 0.2+0.6*r.Float64())
		if i%2 == 0 {
			ring = smoothOutline(r, 0.2+0.8*r.Float64())
		}
		list := ring.SelfCrossings()
		ok := valid(ring, 0.01)
		if ok != (len(list) == 0) {
			ok = valid(ring, 1e-5)
		}
		require.Equal(t, ok, len(list) == 0, "outline %d: %v\n%v", i, list, ring)
		if !ok {
			bad++
		}
		for _, c := range list {
			a, b := ring[c.SegA].At(c.TA), ring[c.SegB].At(c.TB)
			assert.InDelta(t, 0, a.Dist(b), 1e-8)
			assert.InDelta(t, 0, a.Dist(c.Point), 1e-9)
		}
	}
	assert.Greater(t, bad, 40, "the sample must hold crossing outlines")
	assert.Less(t, bad, 360, "the sample must hold sound outlines")
}

// Reference: crossings of fine polylines, counted edge by edge.
func TestIntersectionsOfRandomCubics(t *testing.T) {
	r := rand.New(rand.NewPCG(121, 122))
	total := 0
	for i := range 300 {
		a, b := wildCubic(r), wildCubic(r)
		want := polylineCrossings(a.Flatten(0.002), b.Flatten(0.002))
		got := Intersections(a, b)
		require.Len(t, got, want, "pair %d: %v %v: %v", i, a, b, got)
		total += want
		for _, h := range got {
			assert.InDelta(t, 0, a.At(h.TA).Dist(b.At(h.TB)), 1e-9)
		}
	}
	assert.Greater(t, total, 150)
}

func polylineCrossings(p, q []Point) int {
	count := 0
	for i := 0; i+1 < len(p); i++ {
		box := EmptyBox().Add(p[i]).Add(p[i+1])
		for k := 0; k+1 < len(q); k++ {
			if !box.Overlaps(EmptyBox().Add(q[k]).Add(q[k+1])) {
				continue
			}
			d, e := p[i+1].Sub(p[i]), q[k+1].Sub(q[k])
			s0, s1 := d.Cross(q[k].Sub(p[i])), d.Cross(q[k+1].Sub(p[i]))
			u0, u1 := e.Cross(p[i].Sub(q[k])), e.Cross(p[i+1].Sub(q[k]))
			if (s0 > 0) != (s1 > 0) && (u0 > 0) != (u1 > 0) {
				count++
			}
		}
	}
	return count
}

func TestIntersectionsAtTheEdgeOfCrossing(t *testing.T) {
	arch := quadBezier(Pt(0, 0), Pt(50, 100), Pt(100, 0)) // top at (50, 50)
	// A line at the height of the top touches, just below it cuts twice, above not.
	assert.Equal(t, 1, len(Intersections(arch, Line(Pt(0, 50), Pt(100, 50)))))
	assert.Equal(t, 2, len(Intersections(arch, Line(Pt(0, 49.9999), Pt(100, 49.9999)))))
	assert.Empty(t, Intersections(arch, Line(Pt(0, 50.0001), Pt(100, 50.0001))))
	// Two arches, one upside down, touch at their tops.
	assert.Equal(t, 1, len(Intersections(arch, arch.Transform(Affine{1, 0, 0, -1, 0, 100}))))
	// Two cubics cross at most 3 x 3 times (Bezout); these two do, at two ends and
	// seven places between.
	a := Cubic(Pt(0, 0), Pt(30, 300), Pt(70, -200), Pt(100, 100))
	b := a.Transform(Affine{0, 1, 1, 0, 0, 0})
	assert.Equal(t, 7, polylineCrossings(a.Flatten(1e-5), b.Flatten(1e-5)))
	assert.Equal(t, 9, len(Intersections(a, b)))
	// The same curve cut and reversed coincides: one place, its middle.
	_, tail := arch.Split(0.3)
	h := Intersections(arch, tail.Reverse())
	require.Len(t, h, 1)
	assert.InDelta(t, 0.65, h[0].TA, 1e-6)
	assert.InDelta(t, 0.5, h[0].TB, 1e-6)
	assert.Empty(t, Intersections(arch, Line(Pt(5, 5), Pt(5, 5))))
}

// A smooth joint, a joint that folds back with another bend, one that folds back
// exactly, and one that folds back and crosses close by.
func TestNeighboursAtTheirJoint(t *testing.T) {
	a := Cubic(Pt(-100, 0), Pt(-60, 30), Pt(-30, 0), Pt(0, 0))
	for _, c := range []struct {
		name string
		b    Segment
		want int
	}{
		{"smooth", Cubic(Pt(0, 0), Pt(30, 0), Pt(60, 40), Pt(90, 0)), 0},
		{"folds back and bends away", Cubic(Pt(0, 0), Pt(-30, 0), Pt(-60, -40), Pt(-90, -10)), 0},
		{"folds back along itself", a.Reverse(), 1},
		{"folds back along a part of itself", second(a.Split(0.4)).Reverse(), 1},
		{"folds back and crosses", Cubic(Pt(0, 0), Pt(-30, 0), Pt(-60, 10), Pt(-90, 90)), 1},
		// The heights differ by 1.5 t^2 (1-t) - 20 t^3, nearly, so they cross at t = 0.07.
		{"folds back and crosses near the joint", Cubic(Pt(0, 0), Pt(-30, 0), Pt(-60, 29.5), Pt(-100, 20)), 1},
		{"a corner", Cubic(Pt(0, 0), Pt(0, 30), Pt(-20, 60), Pt(-50, 60)), 0},
	} {
		assert.Equal(t, c.want, len(Path{a, c.b}.SelfCrossings()), c.name)
	}
}

func second(_, b Segment) Segment { return b }

// Curves that run beside each other at a hair's breadth are the costly case.
func TestNearlyCoincidentCurvesEnd(t *testing.T) {
	a := wildCubic(rand.New(rand.NewPCG(7, 7)))
	for k := 1; k <= 12; k++ {
		b := a.Transform(Translate(math.Pow(10, -float64(k)), 0))
		for _, h := range Intersections(a, b) {
			assert.LessOrEqual(t, a.At(h.TA).Dist(b.At(h.TB)), samePlace+1e-7)
		}
	}
}
