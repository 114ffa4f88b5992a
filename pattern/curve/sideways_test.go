package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const still = 1e-3 // mm that count as no movement

func TestSidewaysOfABulge(t *testing.T) {
	// The cubic (0,0)(133,h)(267,h)(400,0) leaves its chord by 3/4 h at most: its
	// height is 3 h t (1-t). Left of the walk is into the piece.
	old := Path{Line(Pt(0, 0), Pt(400, 0))}
	for _, h := range []float64{0.01, 1, 20, -20} {
		m := Sideways(old, Path{Cubic(Pt(0, 0), Pt(133, h), Pt(267, h), Pt(400, 0))}, still)
		worst, other := m.In, m.Out
		if h < 0 {
			worst, other = m.Out, m.In
		}
		assert.InDelta(t, -0.75*h, worst.Dist, 1e-7*math.Abs(h)+1e-9)
		assert.Equal(t, Sample{}, other)
		assert.InDelta(t, 200, worst.At, 0.1)
		assert.True(t, m.Moved)
		assert.Contains(t, m.Samples, worst)
	}
	assert.False(t, Sideways(old, Path{Cubic(Pt(0, 0), Pt(133, 0.001), Pt(267, 0.001), Pt(400, 0))}, still).Moved)
}

// Figures by hand: the old edge is a line, the new one lies beside it and runs
// past both ends, as where a neighbour was raised.
func TestSidewaysPastTheEnds(t *testing.T) {
	old := Path{Line(Pt(0, 0), Pt(60, 0)), Line(Pt(60, 0), Pt(100, 0))}
	for _, c := range []struct {
		name         string
		new          Path
		out, in      float64
		first, final float64 // At of the first and last sample
	}{
		{"longer only", chain(Pt(-30, 0), Pt(140, 0)), 0, 0, 0, 100},
		{"shorter only", chain(Pt(20, 0), Pt(70, 0)), 0, 0, 20, 70},
		{"parallel, out", chain(Pt(-30, -5), Pt(140, -5)), 5, 0, 0, 100},
		{"parallel, in", chain(Pt(-30, 5), Pt(140, 5)), 0, -5, 0, 100},
		{"wholly beyond the end", chain(Pt(150, -2), Pt(190, -3)), 3, 0, 100, 100},
		{"turned about its middle", chain(Pt(0, -10), Pt(100, 10)), 10, -10, 0, 100},
		{"a longer path with a step", chain(Pt(-500, 0), Pt(50, 0), Pt(50, -7), Pt(900, -7)), 7, 0, 0, 100},
	} {
		m := Sideways(old, c.new, still)
		assert.InDelta(t, c.out, m.Out.Dist, 1e-9, c.name)
		assert.InDelta(t, c.in, m.In.Dist, 1e-9, c.name)
		assert.Equal(t, c.out != 0 || c.in != 0, m.Moved, c.name)
		assert.InDelta(t, c.first, m.Samples[0].At, 1e-4, c.name)
		assert.InDelta(t, c.final, m.Samples[len(m.Samples)-1].At, 1e-4, c.name)
		for _, s := range m.Samples {
			assert.InDelta(t, math.Abs(s.Dist), s.Old.Dist(s.New), 1e-6)
		}
	}
}

func TestSidewaysOfConcentricArcs(t *testing.T) {
	// A quarter circle grown from 100 to 110: 10 everywhere, but for the 0.0273 % by
	// which the cubic strays outside (spencermortensen.com, bezier-circle).
	old, grown := Path{quarter(100, 100)}, Path{quarter(110, 110)}
	m := Sideways(old, grown, still)
	assert.Zero(t, m.In.Dist)
	assert.InDelta(t, 10.00273, m.Out.Dist, 1e-4)
	for _, s := range m.Samples {
		assert.InDelta(t, 10, s.Dist, 0.003)
	}
	m = Sideways(grown, old, still)
	assert.InDelta(t, -10.00273, m.In.Dist, 1e-4)
	// Walked the other way round, out and in change places.
	m = Sideways(old.Reverse(), grown.Reverse(), still)
	assert.InDelta(t, -10.00273, m.In.Dist, 1e-4)
}

// Reference: parallel curves. Each point of the new edge is a point of the old
// one moved along its normal, by 30 mm at most in the middle.
func TestSidewaysFindsTheNormalDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(131, 132))
	for range 40 {
		s := gentleCubic(r)
		d := 20*r.Float64() - 10
		var flat []Point
		for i := range 401 {
			u, _ := s.Tangent(float64(i) / 400)
			flat = append(flat, s.At(float64(i)/400).Sub(u.Left().Mul(d))) // to the right
		}
		m := Sideways(Path{s}, chain(flat...), still)
		for _, x := range m.Samples {
			assert.InDelta(t, d, x.Dist, 0.02)
		}
	}
}

func TestSidewaysOfTheSameCurve(t *testing.T) {
	r := rand.New(rand.NewPCG(141, 142))
	for range 60 {
		p := randomOutline(r, 0.4)[:3]
		total := p.Length(1e-9)
		var cut Path
		for i := range 5 {
			cut = append(cut, p.SubPath(total*float64(i)/5, total*float64(i+1)/5, 1e-9)...)
		}
		for _, pair := range [][2]Path{{p, p}, {p, cut}, {cut, p}} {
			m := Sideways(pair[0], pair[1], 0)
			assert.False(t, m.Moved)
			require.NotEmpty(t, m.Samples)
			for _, s := range m.Samples {
				assert.Zero(t, s.Dist)
			}
			assert.InDelta(t, 0, m.Samples[0].At, 1e-4)
			assert.InDelta(t, total, m.Samples[len(m.Samples)-1].At, 1e-4)
		}
		// Rounded to a thousandth, as the text keeps it, it moves by less than one.
		for i := range cut {
			cut[i] = rounded(cut[i])
		}
		m := Sideways(p, cut, still)
		assert.False(t, m.Moved, "%v %v", m.Out, m.In)
	}
}

func rounded(s Segment) Segment {
	k := func(p Point) Point { return Pt(math.Round(p.X*1000)/1000, math.Round(p.Y*1000)/1000) }
	return Segment{k(s.P0), k(s.P1), k(s.P2), k(s.P3), s.Straight}
}

// Reference: brute force over 2000 points of the new edge against a polyline of
// the old one, lengthened by straight pieces along its end tangents.
func TestSidewaysAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(151, 152))
	for i := range 40 {
		a := gentleCubic(r)
		b := a
		shift := func() Point { return Pt(40*r.Float64()-20, 40*r.Float64()-20) }
		b.P0, b.P1, b.P2, b.P3 = b.P0.Add(shift()), b.P1.Add(shift()), b.P2.Add(shift()), b.P3.Add(shift())
		u, _ := a.StartTangent()
		v, _ := a.EndTangent()
		flat := append([]Point{a.P0.Sub(u.Mul(500))}, a.Flatten(1e-4)...)
		flat = append(flat, a.P3.Add(v.Mul(500)))
		out, in := 0.0, 0.0
		for k := range 2001 {
			d := signedDist(flat, b.At(float64(k)/2000))
			out, in = math.Max(out, d), math.Min(in, d)
		}
		m := Sideways(Path{a}, Path{b}, still)
		assert.InDelta(t, out, m.Out.Dist, 4e-4, "%d: %v %v", i, a, b)
		assert.InDelta(t, in, m.In.Dist, 4e-4, "%d: %v %v", i, a, b)
	}
}

// signedDist is the distance to a polyline, positive to its right.
func signedDist(pts []Point, q Point) float64 {
	best, sign := math.Inf(1), 1.0
	for i := 0; i+1 < len(pts); i++ {
		d, f := pts[i+1].Sub(pts[i]), q.Sub(pts[i])
		u := math.Min(1, math.Max(0, f.Dot(d)/d.Dot(d)))
		if l := f.Sub(d.Mul(u)).Len(); l < best {
			best, sign = l, 1
			if d.Cross(f) > 0 {
				sign = -1
			}
		}
	}
	return sign * best
}

func TestSidewaysRoundACornerOfTheOldPath(t *testing.T) {
	// An old edge with a corner that points out (to the right), a new one beside it.
	old := chain(Pt(0, 0), Pt(50, -50), Pt(100, 0))
	m := Sideways(old, chain(Pt(0, -20), Pt(50, -70), Pt(100, -20)), still)
	assert.InDelta(t, 20, m.Out.Dist, 1e-6, "at the corner")
	assert.Zero(t, m.In.Dist)
	for _, s := range m.Samples {
		assert.Greater(t, s.Dist, 10/math.Sqrt2)
	}
	m = Sideways(old, chain(Pt(0, 20), Pt(50, -30), Pt(100, 20)), still)
	assert.Zero(t, m.Out.Dist)
	assert.InDelta(t, -20/math.Sqrt2, m.In.Dist, 1e-6)
}

func TestSidewaysOfAStronglyBentEdge(t *testing.T) {
	// Most of a circle: the extension of one end passes close to the other end, and
	// must not serve there.
	ring := arcs(100, 8)
	old := ring[:7]
	m := Sideways(old, arcs(110, 8)[:7], still)
	for _, s := range m.Samples {
		assert.InDelta(t, 10, s.Dist, 0.01, "%v", s)
	}
	// A closed old path has no ends to extend.
	m = Sideways(ring, arcs(90, 8), still)
	for _, s := range m.Samples {
		assert.InDelta(t, -10, s.Dist, 0.01, "%v", s)
	}
}

func TestSidewaysOfNothing(t *testing.T) {
	p, o := chain(Pt(0, 0), Pt(9, 0)), Pt(4, 4)
	dot := Path{Cubic(o, o, o, o)}
	assert.Equal(t, Movement{}, Sideways(nil, nil, still))
	assert.Equal(t, Movement{}, Sideways(p, nil, still))
	assert.Equal(t, Movement{}, Sideways(nil, p, still))
	assert.Equal(t, Movement{}, Sideways(dot, p, still))
	assert.Equal(t, Movement{}, Sideways(dot, dot, still))
	m := Sideways(p, dot, still)
	assert.InDelta(t, -4, m.In.Dist, 1e-12)
	for _, s := range m.Samples {
		assert.False(t, math.IsNaN(s.At+s.Dist+s.Old.X+s.New.X))
	}
}
