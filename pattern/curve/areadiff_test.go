package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Figures by hand.
func TestAreasOfKnownRings(t *testing.T) {
	square := polygon(Pt(0, 0), Pt(100, 0), Pt(100, 100), Pt(0, 100))
	arch := Path{quadBezier(Pt(0, 0), Pt(50, -60), Pt(100, 0)), square[1], square[2], square[3]} // + 100*60/3
	for _, c := range []struct {
		name         string
		old, new     Path
		gained, lost float64
	}{
		{"the same", square, square, 0, 0},
		{"begun at another corner", square, append(clonePath(square[2:]), square[:2]...), 0, 0},
		{"moved by a tenth", square, square.Transform(Translate(10, 0)), 1000, 1000},
		{"moved both ways", square, square.Transform(Translate(10, 20)), 2800, 2800},
		{"moved away", square, square.Transform(Translate(500, 0)), 10000, 10000},
		{"inside", square, polygon(Pt(10, 10), Pt(20, 10), Pt(20, 20), Pt(10, 20)), 0, 9900},
		{"a corner cut off", square, polygon(Pt(0, 0), Pt(100, 0), Pt(100, 70), Pt(60, 100), Pt(0, 100)), 0, 600},
		{"an edge that tilts", square, polygon(Pt(0, 0), Pt(100, 0), Pt(110, 100), Pt(0, 100)), 500, 0},
		{"an edge that turns about its middle", square, polygon(Pt(0, 0), Pt(90, 0), Pt(110, 100), Pt(0, 100)), 250, 250},
		{"an edge let out by an arch: 2/3 base times height", square, arch, 2000, 0},
		{"and taken in again", arch, square, 0, 2000},
		{"from nothing", nil, square, 10000, 0},
		{"to nothing", square, nil, 0, 10000},
		{"a hole's worth inside an arch", arch, arch.Transform(Scale(1, 1)), 0, 0},
	} {
		d := Areas(c.old, c.new, 1e-4)
		assert.True(t, d.OK, c.name)
		assert.InDelta(t, c.gained, d.Gained, 1e-8, c.name)
		assert.InDelta(t, c.lost, d.Lost, 1e-8, c.name)
		assert.InDelta(t, 0, d.Residual, 1e-8, c.name)
	}
	assert.Equal(t, AreaDiff{OK: true}, Areas(nil, nil, 1e-4))
}

// Circles of radius r whose centres are d apart: each has outside the other
// pi r^2 less the lens 2 r^2 acos(d/2r) - d/2 sqrt(4 r^2 - d^2) (Weisstein,
// Circle-Circle Intersection, MathWorld, from memory).
func TestAreasOfCrossingCircles(t *testing.T) {
	const r = 100.0
	ring := arcs(r, 256)
	for _, d := range []float64{1e-3, 0.1, 3, 50, 150, 199.9} {
		lens := 2*r*r*math.Acos(d/2/r) - d/2*math.Sqrt(4*r*r-d*d)
		for _, turn := range []float64{0, 1} {
			m := Translate(d*math.Cos(turn), d*math.Sin(turn))
			got := Areas(ring, ring.Transform(m), 1e-6)
			require.True(t, got.OK)
			assert.InDelta(t, math.Pi*r*r-lens, got.Gained, 1e-6, "apart by %g", d)
			assert.InDelta(t, math.Pi*r*r-lens, got.Lost, 1e-6, "apart by %g", d)
		}
	}
}

func TestAreasRefusesWhatHasNoClearInside(t *testing.T) {
	square := polygon(Pt(0, 0), Pt(9, 0), Pt(9, 9), Pt(0, 9))
	for name, bad := range map[string]Path{
		"clockwise":     square.Reverse(),
		"crosses":       polygon(Pt(0, 0), Pt(20, 20), Pt(20, 0), Pt(0, 10)),
		"wound twice":   append(clonePath(square), square...),
		"open":          square[:3],
		"out and back":  {Line(Pt(0, 0), Pt(9, 0)), Line(Pt(9, 0), Pt(0, 0))},
		"a point":       {Line(Pt(1, 1), Pt(1, 1))},
		"broken joints": {square[0], square[1].Transform(Translate(1, 0)), square[2], square[3]},
		"no numbers":    square.Transform(Translate(math.NaN(), 0)),
	} {
		assert.Equal(t, AreaDiff{}, Areas(square, bad, 1e-4), name)
		assert.Equal(t, AreaDiff{}, Areas(bad, square, 1e-4), name)
	}
}

// changes are the kinds of change between two versions of an outline.
var changes = []struct {
	name   string
	change func(*rand.Rand, Path) Path
}{
	{"handles of one edge", func(r *rand.Rand, p Path) Path {
		q, i := clonePath(p), r.IntN(len(p))
		q[i] = Cubic(p[i].P0, p[i].P1.Add(shift(r)), p[i].P2.Add(shift(r)), p[i].P3)
		return q
	}},
	{"one corner moved", func(r *rand.Rand, p Path) Path {
		q, i, d := clonePath(p), r.IntN(len(p)), shift(r)
		k := (i + 1) % len(p)
		q[i] = Segment{p[i].P0, p[i].P1, p[i].P2.Add(d), p[i].P3.Add(d), false}
		q[k] = Segment{q[i].P3, p[k].P1.Add(d), p[k].P2, p[k].P3, false}
		return q
	}},
	{"one edge split, same shape", func(r *rand.Rand, p Path) Path {
		i := r.IntN(len(p))
		a, b := p[i].Split(0.05 + 0.9*r.Float64())
		return append(append(clonePath(p[:i]), a, b), p[i+1:]...)
	}},
	{"all rounded again", func(r *rand.Rand, p Path) Path {
		off, q := Translate(r.Float64(), r.Float64()), clonePath(p)
		back, _ := off.Inverse()
		for i, s := range p.Transform(off) {
			q[i] = rounded(s).Transform(back)
		}
		return q
	}},
	{"turned and turned back", func(r *rand.Rand, p Path) Path {
		m := Rotate(r.Float64()).Then(Translate(100*r.Float64(), 0))
		back, _ := m.Inverse()
		return p.Transform(m).Transform(back)
	}},
}

func shift(r *rand.Rand) Point { return Pt(20*r.Float64()-10, 20*r.Float64()-10) }

// flatRing is the ring of a path's chords, and the same for simplefeatures; false
// where that is no sound polygon.
func flatRing(p Path, tol float64) (Path, geom.Geometry, bool) {
	pts := p.Flatten(tol)
	pts = pts[:len(pts)-1]
	xy := make([]float64, 0, 2*len(pts)+2)
	for _, q := range append(pts, pts[0]) {
		xy = append(xy, q.X, q.Y)
	}
	g := geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(xy, geom.DimXY))})
	return polygon(pts...), g.AsGeometry(), g.Validate() == nil
}

func outside(t *testing.T, a, b geom.Geometry) float64 {
	g, err := geom.Difference(a, b)
	require.NoError(t, err)
	return g.Area()
}

// Reference: github.com/peterstace/simplefeatures, differences both ways of the
// same polygons. The true curves may differ from their chords by the strip
// between them.
func TestAreasAgreeWithSimplefeatures(t *testing.T) {
	each := 1000
	if testing.Short() {
		each = 100
	}
	const tol = 0.1
	for k, c := range changes {
		t.Run(c.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(301, uint64(k)))
			seen, most := 0, 0.0
			for range each {
				p := randomOutline(r, 0.2)
				q := c.change(r, p)
				a, ga, okA := flatRing(p, tol)
				b, gb, okB := flatRing(q, tol)
				d := Areas(a, b, 1e-4)
				if !okA || !okB || !d.OK {
					require.Equal(t, okA && okB, d.OK, "%v\n%v", a, b)
					continue
				}
				seen++
				gained, lost := outside(t, gb, ga), outside(t, ga, gb)
				most = max(most, math.Abs(gained-d.Gained), math.Abs(lost-d.Lost))
				curved := Areas(p, q, 1e-4)
				if !curved.OK { // flattening may hide a crossing
					require.NotEmpty(t, append(p.SelfCrossings(), q.SelfCrossings()...))
					continue
				}
				strip := 2 * tol * p.Length(1)
				assert.InDelta(t, gained, curved.Gained, strip)
				assert.InDelta(t, lost, curved.Lost, strip)
				assert.InDelta(t, q.Area()-p.Area(), curved.Gained-curved.Lost, 1e-8)
			}
			assert.Less(t, most, 1e-7)
			assert.Greater(t, seen, each*8/10)
		})
	}
}

// Reference: the same sweep a hundred times finer, itself held to simplefeatures
// above; and nothing at all where the shape is the same.
func TestAreasKeepTheirAccuracy(t *testing.T) {
	for k, c := range changes {
		r := rand.New(rand.NewPCG(311, uint64(k)))
		for range 12 {
			p := smoothOutline(r, 0.1)
			q := c.change(r, p)
			coarse, fine := Areas(p, q, 1e-4), Areas(p, q, 1e-6)
			require.Equal(t, fine.OK, coarse.OK)
			assert.InDelta(t, fine.Gained, coarse.Gained, 2e-4, c.name)
			assert.InDelta(t, fine.Lost, coarse.Lost, 2e-4, c.name)
			switch k {
			case 2, 4:
				assert.InDelta(t, 0, coarse.Gained+coarse.Lost, 1e-6, c.name)
			case 3:
				assert.Less(t, coarse.Gained, 5e-4*p.Length(1))
			}
		}
	}
}

func TestAreasAreExchanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := func() Path {
			a, b := anyPoint(t, "a"), anyPoint(t, "b")
			p := polygon(a, b, anyPoint(t, "c"))
			p[1] = Cubic(p[1].P0, p[1].P1.Add(anyPoint(t, "h").Mul(0.1)), p[1].P2, p[1].P3)
			if p.Area() < 0 {
				p = p.Reverse()
			}
			return p
		}
		p, q, m := ring(), ring(), anyMotion(t)
		const tol = 1e-5 // the figures' ties at common chords may fall either way
		d, e := Areas(p, q, tol), Areas(q, p, tol)
		if d.OK != e.OK {
			t.Fatalf("%v, exchanged %v", d, e)
		}
		agree(t, d.Gained, e.Lost, 1e-4, "gained and lost back")
		agree(t, d.Lost, e.Gained, 1e-4, "lost and gained back")
		if !d.OK {
			return
		}
		agree(t, q.Area()-p.Area(), d.Gained-d.Lost, 1e-4, "difference of the areas")
		if d.Gained < 0 || d.Lost < 0 || d.Gained > q.Area()+1e-4 || d.Lost > p.Area()+1e-4 {
			t.Fatalf("%v of %v and %v", d, p.Area(), q.Area())
		}
		if f := Areas(p.Transform(m), q.Transform(m), tol); f.OK {
			agree(t, d.Gained, f.Gained, 1e-2+1e-8*p.Area(), "moved")
		}
		if f := Areas(p, p, tol); f.OK {
			agree(t, 0, f.Gained+f.Lost, 0, "itself")
		}
	})
}
