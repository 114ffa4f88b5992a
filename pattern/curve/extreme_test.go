package curve

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Figures by hand: a spike of the old path, 2 mm wide and 5 deep, stands between
// two samples of a new path that runs 3 mm beside it. At its middle the new path
// lies inside the spike, 2 mm from the tip along it, so 2 sin(atan(1/5)) from its
// sides; beside it, 3 mm outside.
func TestSidewaysFindsASpikeBetweenSamples(t *testing.T) {
	for _, at := range []float64{203, 204.1, 71.7} {
		old := chain(Pt(0, 0), Pt(at-1, 0), Pt(at, -5), Pt(at+1, 0), Pt(400, 0))
		m := Sideways(old, chain(Pt(0, -3), Pt(400, -3)), still)
		assert.InDelta(t, 3, m.Out.Dist, 1e-4)
		assert.InDelta(t, -2*0.19611613513818404, m.In.Dist, 1e-4) // sin(atan(1/5)) = 1/sqrt(26)
		assert.InDelta(t, at, m.In.New.X, 1e-3)
		assert.Contains(t, m.Samples, m.In)
	}
}

// Reference: brute force, each new path measured at 3000 places a segment. No
// place may be beyond the extremes by more than 1e-4 mm.
func TestSidewaysMissesNoBump(t *testing.T) {
	r := rand.New(rand.NewPCG(161, 162))
	for i := range 60 {
		old := randomOutline(r, 0.5)[:3]
		new := clonePath(old)
		for k := range new {
			s := new[k]
			new[k] = Cubic(s.P0, s.P1.Add(shift(r)), s.P2.Add(shift(r)), s.P3)
		}
		if i%3 == 0 {
			old, new = Path{wildCubic(r)}, Path{wildCubic(r)}
		}
		m := Sideways(old, new, still)
		ruler, ok := newRuler(old)
		assert.True(t, ok)
		out, in := 0.0, 0.0
		for _, s := range new {
			for k := range 3001 {
				d := ruler.measure(s.At(float64(k) / 3000)).Dist
				out, in = max(out, d), min(in, d)
			}
		}
		assert.GreaterOrEqual(t, m.Out.Dist, out-1e-4, "pair %d", i)
		assert.LessOrEqual(t, m.In.Dist, in+1e-4, "pair %d", i)
	}
}
