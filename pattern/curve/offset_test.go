package curve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Outward offset of a convex curve: length L + 2 pi d, area A + L d + pi d^2
// (M. P. do Carmo, Differential Geometry of Curves and Surfaces, exercise on
// parallel curves); for the square and the ellipse with half axes 50 and 30 worked
// out from that with the perimeter 4 a E(k).
func TestOffsetOfConvexRings(t *testing.T) {
	tests := []struct {
		name         string
		ring         Path
		d            float64
		length, area float64
	}{
		{"square 100", polygon(Pt(0, 0), Pt(100, 0), Pt(100, 100), Pt(0, 100)), 10, 462.8318530718, 14314.1592653590},
		{"rectangle 200 x 100", polygon(Pt(0, 0), Pt(200, 0), Pt(200, 100), Pt(0, 100)), 10, 662.8318530718, 26314.1592653590},
		{"ellipse 50 x 30", ellipse(50, 30, 64), 10, 318.1018417, 7579.2481321},
	}
	for _, tt := range tests {
		for _, tol := range []float64{0.1, 0.01, 0.001, 1e-5} {
			t.Run(fmt.Sprint(tt.name, " to ", tol), func(t *testing.T) {
				off, ok := tt.ring.Offset(tt.d, tol)
				require.True(t, ok)
				assert.Empty(t, off.SelfCrossings())
				// a ring within tol of the true one: its area is within tol times the length
				assert.InDelta(t, tt.area, off.Area(), tol*tt.length+1e-6)
				// and a convex one's length within 2 pi tol
				assert.InDelta(t, tt.length, off.Length(1e-9), 2*math.Pi*tol+1e-6)
			})
		}
	}
}

// The parallel curve of a circle is a circle; of its inside, the smaller one.
func TestParallelOfACircle(t *testing.T) {
	ring := ellipse(100, 100, 64) // strays by 1e-10
	for _, d := range []float64{-150, -99, -20, -0.01, 0.01, 5, 80, 5000} {
		off := ring.Parallel(d, 1e-3)
		for _, q := range off.Flatten(1) {
			assert.InDelta(t, math.Abs(100+d), q.Len(), 1e-3, "d = %v", d)
		}
	}
}

// How many cubics an ellipse of 300 x 120 (half axes, 8 cubics) takes. The
// simple way, derivatives as handles, took 12, 28 and 52.
func TestOffsetEllipseTakesFewCubics(t *testing.T) {
	ring := ellipse(300, 120, 8)
	for tol, most := range map[float64]int{0.1: 12, 0.01: 28, 0.001: 52} {
		off, ok := ring.Offset(15, tol)
		require.True(t, ok)
		assert.LessOrEqual(t, len(off), most, "to %v", tol)
		worst := 0.0
		for _, s := range off {
			for i := range 64 {
				worst = max(worst, math.Abs(ring.Nearest(s.At(float64(i)/64)).Dist-15))
			}
		}
		assert.LessOrEqual(t, worst, tol)
		t.Logf("to %v: %d cubics, farthest %.2g", tol, len(off), worst)
	}
}

// A place of the untrimmed parallel curve and the place of the true one at the
// same foot are no farther apart than the tolerance.
func TestParallelStaysWithinItsTolerance(t *testing.T) {
	kinds := map[string]func(*rand.Rand) Segment{"gentle": gentleCubic, "wild": wildCubic, "cusp": cuspCubic}
	for name, kind := range kinds {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(5, 6))
			pieces, n := 0, 18
			for i := range n {
				s := kind(r)
				d := []float64{-40, -12, -1, 1, 12, 40}[i%6]
				tol := []float64{0.1, 0.01, 0.001}[i/6%3]
				off := s.Parallel(d, tol)
				pieces += len(off)
				require.NotEmpty(t, off)
				worst := farFromParallel(s, d, off)
				assert.LessOrEqual(t, worst, tol+2e-4, "%v by %v to %v", s, d, tol)
				for k := 1; k < len(off); k++ {
					require.Equal(t, off[k-1].P3, off[k].P0)
				}
			}
			t.Logf("%.1f cubics each", float64(pieces)/float64(n))
		})
	}
}

// farFromParallel is how far places of off are from the nearest of very many
// places of the true parallel curve.
func farFromParallel(s Segment, d float64, off Path) float64 {
	ref := reference{s: s, d: d}
	for i := range 500 {
		ref.sample(float64(i)/500, float64(i+1)/500)
	}
	worst := 0.0
	for _, c := range off {
		for k := range 9 {
			worst = max(worst, ref.chords.Nearest(c.At(float64(k)/8)).Dist)
		}
	}
	return worst
}

// reference is the parallel curve in short chords; at a cusp of the segment, which
// may be passed by either side, the whole circle about it.
type reference struct {
	s      Segment
	d      float64
	chords Path
}

func (r *reference) sample(t0, t1 float64) {
	u0, _ := r.s.Tangent(t0)
	u1, _ := r.s.Tangent(t1)
	off := func(t float64, u Point) Point { return r.s.At(t).Sub(u.Left().Mul(r.d)) }
	switch {
	case u0.Dot(u1) > 0.9999995:
		r.chords = append(r.chords, Line(off(t0, u0), off(t1, u1)))
	case t1-t0 > 1e-9:
		r.sample(t0, (t0+t1)/2)
		r.sample((t0+t1)/2, t1)
	default:
		for _, c := range ellipse(r.d, r.d, 32) {
			r.chords = append(r.chords, c.Transform(Translate(r.s.At(t0).X, r.s.At(t0).Y)))
		}
	}
}

// The offset of a ring is where the distance from the ring is d: no place of it
// is nearer or farther. The distance is measured by simplefeatures on chords that
// stray by 0.001 mm.
func TestOffsetHasTheDistanceEverywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	count := 0
	for count < 8 {
		ring := randomOutline(r, 0.25)
		if len(ring.SelfCrossings()) > 0 || ring.Area() <= 0 {
			continue
		}
		count++
		for _, d := range []float64{1, 12, 60} {
			checkOffset(t, ring, d, 0.01)
		}
	}
}

func checkOffset(t *testing.T, ring Path, d, tol float64) {
	t.Helper()
	off, ok := ring.Offset(d, tol)
	if !assert.True(t, ok, "%v by %v", ring, d) {
		return
	}
	assert.Empty(t, off.SelfCrossings(), "%v by %v", ring, d)
	assert.True(t, off.closed())
	chords := lineString(t, ring.Flatten(0.001))
	for _, s := range off {
		for k := range 3 {
			q := s.At(float64(k) / 3)
			dist, ok := geom.Distance(geom.XY{X: q.X, Y: q.Y}.AsPoint().AsGeometry(), chords)
			require.True(t, ok)
			if !assert.InDelta(t, d, dist, tol+0.002, "%v by %v at %v", ring, d, q) {
				return
			}
		}
	}
	for _, q := range ring.Flatten(5) {
		assert.True(t, off.Contains(q))
	}
}

func lineString(t *testing.T, pts []Point) geom.Geometry {
	t.Helper()
	xy := make([]float64, 0, 2*len(pts))
	for _, p := range pts {
		xy = append(xy, p.X, p.Y)
	}
	return geom.NewLineString(geom.NewSequence(xy, geom.DimXY)).AsGeometry()
}

func TestOffsetOfNastyRings(t *testing.T) {
	tests := map[string]Path{
		"slit":            polygon(Pt(0, 0), Pt(100, 0), Pt(100, 100), Pt(52, 100), Pt(50, 20), Pt(48, 100), Pt(0, 100)),
		"nearly closed C": polygon(Pt(0, 0), Pt(100, 0), Pt(100, 45), Pt(30, 45), Pt(30, 80), Pt(100, 80), Pt(100, 120), Pt(0, 120)),
		"needle":          polygon(Pt(0, 0), Pt(200, 0), Pt(0, 1)),
		"tight bay": {Line(Pt(0, 0), Pt(100, 0)), Line(Pt(100, 0), Pt(100, 100)), Line(Pt(100, 100), Pt(60, 100)),
			Cubic(Pt(60, 100), Pt(60, 80), Pt(50, 80), Pt(50, 100)), Line(Pt(50, 100), Pt(0, 100)), Line(Pt(0, 100), Pt(0, 0))},
		"handles of no length": {Cubic(Pt(0, 0), Pt(0, 0), Pt(100, 0), Pt(100, 0)), Cubic(Pt(100, 0), Pt(100, 0), Pt(100, 60), Pt(50, 80)),
			Cubic(Pt(50, 80), Pt(30, 60), Pt(0, 0), Pt(0, 0))},
		"a tip that is a cusp":        tipped(0, 160),
		"a tip that is nearly a cusp": tipped(1e-7, 160),
		"a narrow tip":                tipped(1, 160),
		"a slit that ends in a cusp":  tipped(0, 40),
		"a slit that ends in a bend":  tipped(1, 40),
		"pinched bay": {Line(Pt(0, 0), Pt(100, 0)), Line(Pt(100, 0), Pt(100, 100)),
			Cubic(Pt(100, 100), Pt(40, 40), Pt(60, 40), Pt(0, 100)), Line(Pt(0, 100), Pt(0, 0))},
	}
	for name, ring := range tests {
		for _, d := range []float64{0.5, 3, 12, 40, 200} {
			t.Run(fmt.Sprint(name, " by ", d), func(t *testing.T) { checkOffset(t, ring, d, 0.01) })
		}
	}
}

// tipped is a square whose upper side runs up (or down) to a tip: a cusp where wide is
// 0, since the handles then lie in a place where the cubic stands still (its derivative
// is 3/4 (P3 + P2 - P1 - P0) in the middle, which is 0); round where it is more.
func tipped(wide, y float64) Path {
	return Path{Line(Pt(0, 0), Pt(100, 0)), Line(Pt(100, 0), Pt(100, 100)),
		Cubic(Pt(100, 100), Pt(wide, y), Pt(100-wide, y), Pt(0, 100)), Line(Pt(0, 100), Pt(0, 0))}
}

func TestOffsetOfNoRing(t *testing.T) {
	square := polygon(Pt(0, 0), Pt(1, 0), Pt(1, 1), Pt(0, 1))
	for name, ring := range map[string]Path{
		"empty": nil, "open": square[:3], "clockwise": square.Reverse(), "point": {Line(Pt(1, 1), Pt(1, 1))},
		"without area": polygon(Pt(0, 0), Pt(5, 0)),
	} {
		_, ok := ring.Offset(1, 0.01)
		assert.False(t, ok, name)
	}
	_, ok := square.Offset(-1, 0.01)
	assert.False(t, ok, "inwards")
}

// A parallel curve walked the other way is the parallel on the other side.
func TestParallelOfTheReverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(-300, 300)
		p := func(l string) Point { return Pt(n.Draw(t, l+"x"), n.Draw(t, l+"y")) }
		s := Cubic(p("a"), p("b"), p("c"), p("d"))
		d := rapid.Float64Range(-30, 30).Draw(t, "d")
		there, back := Path{s}.Parallel(d, 0.01), Path{s.Reverse()}.Parallel(-d, 0.01)
		if len(there) == 0 {
			return
		}
		assert.Less(t, len(there), 400)
		assert.LessOrEqual(t, Hausdorff(there, back, 1e-3).Dist, 0.022)
	})
}

func BenchmarkOffsetEllipse(b *testing.B) {
	ring := ellipse(300, 120, 8)
	var off Path
	for b.Loop() {
		off = ring.Parallel(15, 0.01)
	}
	b.ReportMetric(float64(len(off)), "cubics")
}

func BenchmarkOffsetRing(b *testing.B) {
	rings := benchOutlines(0.2)
	for i := 0; b.Loop(); i++ {
		rings[i&63].Offset(12, 0.01)
	}
}
