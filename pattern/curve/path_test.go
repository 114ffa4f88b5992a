package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPointsOfPublishedCurves(t *testing.T) {
	// svg.path (MIT) tests, the examples of the SVG specification.
	c := Cubic(Pt(100, 200), Pt(100, 100), Pt(250, 100), Pt(250, 200))
	q := quadBezier(Pt(200, 300), Pt(400, 50), Pt(600, 300))
	for _, x := range []struct {
		s    Segment
		t    float64
		want Point
	}{
		{c, 0.3, Pt(132.4, 137)}, {c, 0.5, Pt(175, 125)}, {c, 0.9, Pt(245.8, 173)},
		{q, 0.3, Pt(320, 195)}, {q, 0.5, Pt(400, 175)},
	} {
		assert.InDelta(t, 0, x.s.At(x.t).Dist(x.want), 1e-12)
		a, b := x.s.Split(x.t)
		assert.InDelta(t, 0, a.P3.Dist(x.want), 1e-12)
		assert.Equal(t, a.P3, b.P0)
	}
}

func TestSplitAndSubKeepTheCurve(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 72))
	for range 200 {
		s := wildCubic(r)
		assert.Equal(t, s.P0, s.At(0))
		assert.Equal(t, s.P3, s.At(1))
		t0, t1 := r.Float64(), r.Float64()
		sub := s.Sub(t0, t1)
		for i := range 11 {
			u := float64(i) / 10
			assert.InDelta(t, 0, sub.At(u).Dist(s.At(t0+(t1-t0)*u)), 1e-11)
		}
	}
	l := Line(Pt(0, 0), Pt(9, 0)).Sub(1.0/3, 2.0/3)
	assert.True(t, l.Straight)
	assert.InDelta(t, 3, l.Length(1), 1e-15)
	assert.Equal(t, cusp, cusp.Sub(0, 1))
	assert.Equal(t, cusp.Reverse(), cusp.Sub(1, 0))
}

func TestTangentsOfOddHandles(t *testing.T) {
	o := Pt(0, 0)
	for _, c := range []struct {
		name       string
		s          Segment
		start, end Point
	}{
		{"line", Line(o, Pt(0, -3)), Pt(0, -1), Pt(0, -1)},
		{"first handle without length", Cubic(o, o, Pt(4, 0), Pt(4, 3)), Pt(1, 0), Pt(0, 1)},
		{"last handle without length", Cubic(o, Pt(0, 2), Pt(4, 3), Pt(4, 3)), Pt(0, 1), Pt(4, 1).Mul(1 / math.Sqrt(17))},
		{"no handles", Cubic(o, o, Pt(3, 4), Pt(3, 4)), Pt(0.6, 0.8), Pt(0.6, 0.8)},
		{"all handles at the start", Cubic(o, o, o, Pt(3, 4)), Pt(0.6, 0.8), Pt(0.6, 0.8)},
		{"out and back", Cubic(o, Pt(5, 0), Pt(5, 0), o), Pt(1, 0), Pt(-1, 0)},
		{"handles that are only rounding", Cubic(Pt(1e4, 0), Pt(1e4+2e-12, 0), Pt(1e4, 9), Pt(1e4, 9)), Pt(0, 1), Pt(0, 1)},
	} {
		u, ok := c.s.StartTangent()
		assert.True(t, ok, c.name)
		assert.InDelta(t, 0, u.Dist(c.start), 1e-12, "%s: %v", c.name, u)
		u, ok = c.s.EndTangent()
		assert.True(t, ok, c.name)
		assert.InDelta(t, 0, u.Dist(c.end), 1e-12, "%s: %v", c.name, u)
	}
	_, ok := Cubic(o, o, o, o).StartTangent()
	assert.False(t, ok)
	_, ok = Cubic(o, o, o, o).Tangent(0.5)
	assert.False(t, ok)
	// The exact cusp at its middle: it arrives upwards and leaves downwards.
	u, ok := cusp.Tangent(0.5)
	assert.True(t, ok)
	assert.InDelta(t, 0, u.Dist(Pt(0, -1)), 1e-12)
	before, _ := cusp.Tangent(0.5 - 1e-9)
	assert.InDelta(t, 0, before.Dist(Pt(0, 1)), 1e-6)
}

func TestBoundsAreTight(t *testing.T) {
	// The arch y = x(100-x)/50 has its top at 50; the S has x from 1/2 -+ sqrt3/6 turns.
	b := quadBezier(Pt(0, 0), Pt(50, 100), Pt(100, 0)).Bounds()
	assert.InDelta(t, 50, b.Max.Y, 1e-12)
	assert.InDelta(t, 100, b.Width(), 1e-12)
	r := rand.New(rand.NewPCG(81, 82))
	for range 300 {
		s := wildCubic(r)
		b, seen := s.Bounds(), EmptyBox()
		for i := range 4001 {
			seen = seen.Add(s.At(float64(i) / 4000))
		}
		assert.True(t, b.Grow(1e-9).holds(seen.Min) && b.Grow(1e-9).holds(seen.Max))
		assert.InDelta(t, b.Width(), seen.Width(), 1e-3)
		assert.InDelta(t, b.Height(), seen.Height(), 1e-3)
	}
	assert.True(t, Path(nil).Bounds().Empty())
	assert.False(t, EmptyBox().Overlaps(b))
	assert.True(t, EmptyBox().Grow(5).Empty())
	assert.Zero(t, EmptyBox().Width())
}

func TestAreaPublished(t *testing.T) {
	// Rosetta Code, shoelace formula: area 30 (given clockwise or not), perimeter 26.0901.
	ring := polygon(Pt(3, 4), Pt(5, 11), Pt(12, 8), Pt(9, 5), Pt(5, 6))
	assert.InDelta(t, 30, math.Abs(ring.Area()), 1e-12)
	assert.InDelta(t, 26.0901, ring.Length(1e-9), 5e-5)
	// Steiner: the parallel of a square of 100 at 10 has the area A + L d + pi d^2 =
	// 14314.159265359 and the perimeter L + 2 pi d (do Carmo, exercise on parallel
	// curves); mitred 14400 and 480, by arithmetic.
	assert.InDelta(t, 14400, polygon(Pt(-10, -10), Pt(110, -10), Pt(110, 110), Pt(-10, 110)).Area(), 1e-9)
	var round Path
	for i := range 4 {
		m := Rotate(float64(i) * math.Pi / 2)
		for _, s := range arcs(10, 64)[:16] {
			round = append(round, s.Transform(Translate(50, 50).Then(m)))
		}
		round = append(round, Line(round.End(), m.Apply(Pt(-50, 60))))
	}
	assert.InDelta(t, 14314.1592653590, round.Area(), 1e-7)
	assert.InDelta(t, 462.8318530718, round.Length(1e-9), 1e-7)
	// The area under a parabola, exactly: integral of x^2/240 from 0 to 300 is 37500.
	bowl := Path{parabola(), Line(Pt(300, 375), Pt(300, 0)), Line(Pt(300, 0), Pt(0, 0))}
	assert.InDelta(t, -37500, bowl.Area(), 1e-9)
	far := bowl.Transform(Translate(1e5, -1e5))
	assert.InDelta(t, -37500, far.Area(), 1e-5)
	// Ellipse: pi a b, the cubics inside by the sixth order of their number.
	assert.InDelta(t, math.Pi*300*120, ellipse(300, 120, 256).Area(), 1e-7)
	assert.Zero(t, Path(nil).Area())
	// An open chain counts to the origin: the triangle (0,0) (4,0) (4,3).
	assert.InDelta(t, 6, chain(Pt(4, 0), Pt(4, 3)).Area(), 1e-12)
}

// arcs is a circle round the origin as n cubics.
func arcs(radius float64, n int) Path { return ellipse(radius, radius, n) }

func TestSplitAtAndSubPath(t *testing.T) {
	r := rand.New(rand.NewPCG(91, 92))
	for range 60 {
		p := randomOutline(r, 0.5)
		total := p.Length(1e-9)
		d0 := total * r.Float64()
		d1 := d0 + (total-d0)*r.Float64()
		a, b := p.SplitAt(d0, 1e-6)
		assert.InDelta(t, d0, a.Length(1e-9), 1e-6)
		assert.InDelta(t, total-d0, b.Length(1e-9), 1e-6)
		assert.Equal(t, a.End(), b.Start())
		sub := p.SubPath(d0, d1, 1e-6)
		require.NotEmpty(t, sub)
		assert.InDelta(t, d1-d0, sub.Length(1e-9), 2e-6)
		assert.InDelta(t, 0, p.PointAt(d0, 1e-6).Dist(sub.Start()), 1e-12)
		assert.InDelta(t, 0, p.PointAt(d1, 1e-6).Dist(sub.End()), 1e-9)
	}
	p := chain(Pt(0, 0), Pt(10, 0), Pt(10, 10))
	a, b := p.SplitAt(10, 1e-6)
	assert.Equal(t, p[:1], a, "a cut at a joint makes no sliver")
	assert.Equal(t, p[1:], b)
	a, b = p.SplitAt(0, 1e-6)
	assert.Empty(t, a)
	assert.Equal(t, p, b)
	a, b = p.SplitAt(99, 1e-6)
	assert.Equal(t, p, a)
	assert.Empty(t, b)
	assert.Empty(t, p.SubPath(5, 5, 1e-6))
	assert.Empty(t, p.SubPath(7, 5, 1e-6))
	assert.Equal(t, p, p.SubPath(-5, 500, 1e-6))
	assert.Equal(t, p[1:], p.SubPath(10, 20, 1e-6))
	a, b = Path(nil).SplitAt(1, 1e-6)
	assert.Empty(t, a)
	assert.Empty(t, b)
	// What SplitAt gives shares nothing with the path.
	a, _ = p.SplitAt(15, 1e-6)
	a[0].P0 = Pt(7, 7)
	assert.Equal(t, Pt(0, 0), p[0].P0)
}

func TestPathEndsSkipSegmentsWithoutLength(t *testing.T) {
	o := Pt(0, 0)
	p := Path{Line(o, o), Line(o, Pt(3, 0)), Cubic(Pt(3, 0), Pt(3, 0), Pt(3, 0), Pt(3, 0))}
	u, ok := p.StartTangent()
	assert.True(t, ok)
	assert.Equal(t, Pt(1, 0), u)
	u, ok = p.EndTangent()
	assert.True(t, ok)
	assert.Equal(t, Pt(1, 0), u)
	_, ok = p[:1].StartTangent()
	assert.False(t, ok)
	assert.Equal(t, Point{}, Path(nil).End())
}

// Reference: the distance from points of the curve to the polyline.
func TestFlattenStaysWithinItsTolerance(t *testing.T) {
	r := rand.New(rand.NewPCG(101, 102))
	for range 60 {
		s := wildCubic(r)
		for _, tol := range []float64{1, 1e-2, 1e-3} {
			pts := s.Flatten(tol)
			assert.Equal(t, s.P0, pts[0])
			assert.Equal(t, s.P3, pts[len(pts)-1])
			for i := range 101 {
				assert.LessOrEqual(t, polylineDist(pts, s.At(float64(i)/100)), tol)
			}
		}
	}
	assert.Len(t, Line(Pt(0, 0), Pt(5, 5)).Flatten(1e-9), 2)
	assert.Len(t, polygon(Pt(0, 0), Pt(5, 5), Pt(0, 5)).Flatten(1e-9), 4)
	assert.Nil(t, Path(nil).Flatten(1))
	assert.Less(t, len(cusp.Flatten(0)), 100000)
}

func TestAffineMaps(t *testing.T) {
	m := Rotate(math.Pi / 2).Then(Translate(10, 0)) // first turned, then moved
	assert.InDelta(t, 0, m.Apply(Pt(3, 4)).Dist(Pt(6, 3)), 1e-12)
	// SVG's order of numbers: matrix(a b c d e f), x' = a x + c y + e.
	assert.Equal(t, Pt(1*7+3*8+5, 2*7+4*8+6), Affine{1, 2, 3, 4, 5, 6}.Apply(Pt(7, 8)))
	back, ok := Affine{1, 2, 3, 4, 5, 6}.Inverse()
	assert.True(t, ok)
	assert.InDelta(t, 0, back.Apply(Pt(36, 52)).Dist(Pt(7, 8)), 1e-12)
	_, ok = Scale(0, 1).Inverse()
	assert.False(t, ok)
	assert.Equal(t, Identity(), Identity().Then(Identity()))
	assert.InDelta(t, 6, Rotate(1).Then(Scale(2, 3)).Det(), 1e-12)
	mirrored := polygon(Pt(0, 0), Pt(4, 0), Pt(0, 3)).Transform(Scale(-1, 1))
	assert.InDelta(t, -6, mirrored.Area(), 1e-12)
	assert.True(t, mirrored[0].Straight)
}
