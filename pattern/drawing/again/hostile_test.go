package again

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// anyRing is a closed chain of whatever a file may hold: points that coincide,
// handles of no length, loops, spikes, segments far away.
func anyRing(t *rapid.T) curve.Path {
	number := rapid.OneOf(rapid.SampledFrom([]float64{0, 1e-9, 0.001, -13, 40, 168, -112, 1e5}), rapid.Float64Range(-300, 300))
	point := func() curve.Point { return curve.Pt(number.Draw(t, "x"), number.Draw(t, "y")) }
	n := rapid.IntRange(1, 8).Draw(t, "segments")
	start := point()
	from := start
	var ring curve.Path
	for i := range n {
		to := start
		if i < n-1 {
			to = point()
		}
		if rapid.Bool().Draw(t, "curved") {
			ring = append(ring, curve.Cubic(from, point(), point(), to))
		} else {
			ring = append(ring, curve.Line(from, to))
		}
		from = to
	}
	return ring
}

func TestNoRingGivesAPanicOrANumberThatIsNone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.SampledFrom(shapes()).Draw(t, "base")
		now := changed(base, rapid.SampledFrom(changesOf(base)).Draw(t, "change"))
		d := Drawn{Ring: anyRing(t)}
		take := rapid.SampledFrom([]Take{"", TakeDrawing, TakePattern}).Draw(t, "take")
		if rapid.Bool().Draw(t, "no base") {
			base = nil
		}
		got, _, problems := Merge(base, now, d, Options{Take: take})
		if got == nil {
			assert.True(t, problems.HasErrors())
			return
		}
		assert.Len(t, got.Edges, len(got.Corners))
		assert.GreaterOrEqual(t, len(got.Corners), 2)
		assert.Empty(t, names2(got), "names are there once")
		for _, s := range got.Outline() {
			for _, q := range []curve.Point{s.P0, s.P1, s.P2, s.P3} {
				assert.False(t, math.IsNaN(q.X+q.Y) || math.IsInf(q.X+q.Y, 0))
			}
		}
	})
}

// names2 lists the names that two corners or two edges bear.
func names2(p *pattern.Piece) []string {
	var out []string
	seen := map[string]bool{}
	for i := range p.Corners {
		for _, n := range []string{"corner " + p.Corners[i].Name, "edge " + p.Edges[i].Name} {
			if seen[n] {
				out = append(out, n)
			}
			seen[n] = true
		}
	}
	return out
}
