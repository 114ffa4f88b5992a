package overlay

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

func TestFigures(t *testing.T) {
	assert.Equal(t, "0.0", mm(-0.01))
	assert.Equal(t, "\u221212.3", mm(-12.34))
	assert.Equal(t, "=", signed(0.04))
	assert.Equal(t, "=", signed(-0.04))
	assert.Equal(t, "+0.1", signed(0.06))
	assert.Equal(t, "\u22120.1", signed(-0.06))
	assert.Equal(t, "\u2013", optional(pattern.Opt{}))
	assert.Equal(t, "none", squares(0.4))
	assert.Equal(t, "23 mm\u00b2", squares(23.2))
	assert.Equal(t, "31.2 cm\u00b2", squares(3118))
	assert.Equal(t, "new 3.0", course(compare.Pair{After: pattern.Some(3)}))
	assert.Equal(t, "was 3.0", course(compare.Pair{Before: pattern.Some(3)}))
	assert.Equal(t, 0.2, roundBelow(0.49))
	assert.Equal(t, 5.0, roundBelow(5))
	assert.Equal(t, 10.0, roundBelow(14))
}

func TestMovedInWords(t *testing.T) {
	edge := func(far float64, way, at string, out, in float64) compare.EdgeChange {
		return compare.EdgeChange{
			Status: compare.Changed, Largest: compare.Move{Distance: far, Direction: way, At: at},
			Movement: curve.Movement{Out: curve.Sample{Dist: out}, In: curve.Sample{Dist: -in}},
		}
	}
	assert.Equal(t, "out 14.0 at bust", moved(edge(14, "out", "bust", 14, 0.01)))
	both := edge(5.9, "in", "hip", 3.1, 5.9)
	both.Other = compare.Move{Distance: 3.1, Direction: "out", At: "bust"}
	assert.Equal(t, "in 5.9 at hip, out 3.1 at bust", moved(both))
	assert.Equal(t, "in under 0.1 at waist", moved(edge(0.02, "in", "waist", 0, 0.02)))
	assert.Equal(t, "only its ends", moved(edge(0, "", "", 0, 0)))
	assert.Equal(t, "=", moved(compare.EdgeChange{Status: compare.Unchanged}))
	assert.Equal(t, "added", moved(compare.EdgeChange{Status: compare.Added}))
}

// No line is too long and no letter is lost.
func TestWrapKeepsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.OneOf(rapid.StringMatching(`[a-z-]{1,40}`), rapid.String()), 0, 12).Draw(t, "words"), " ")
		width := rapid.Float64Range(20, 120).Draw(t, "width")
		lines := wrap(text, strong(), width, 1000)
		for _, l := range lines {
			require.LessOrEqual(t, strong().Width(l), width+1e-9, "%q", l)
		}
		letters := func(s string) string { return strings.Join(strings.Fields(s), "") }
		require.Equal(t, letters(svg.CleanText(text)), letters(strings.Join(lines, "")))
		short := wrap(text, strong(), width, 2)
		require.LessOrEqual(t, len(short), 2)
		for _, l := range short {
			require.LessOrEqual(t, strong().Width(l), width+1e-9, "%q", l)
		}
	})
}

// The two sides of a seam are walked in opposite directions; their strips run the
// same way, from the hem up, and what one side gives the other takes.
func TestStripsOfASeamRunTheSameWay(t *testing.T) {
	w := readWaistcoat(t)
	c := compare.Garments(w.garment(t, "gusset"), w.garment(t, "seam-move"), compare.Options{})
	strips := map[string]strip{}
	for _, p := range c.ChangedPieces() {
		f := newFigure(c, p, 1)
		for _, r := range f.rows {
			if st, ok := newStrip(f, r); ok {
				strips[p.Name+"."+r.edge.Name] = st
			}
		}
	}
	one, other := strips["side-back.back"], strips["back.front"]
	for _, st := range []strip{one, other} {
		require.Len(t, st.ticks, 5)
		for i, name := range []string{"low-hip", "high-hip", "waist", "under-bust", "bust"} {
			assert.Equal(t, name, st.ticks[i].name)
		}
		assert.Contains(t, st.ends[0], "hem")
		assert.Contains(t, st.ends[1], "top")
		for i := 1; i < len(st.samples); i++ {
			assert.GreaterOrEqual(t, st.samples[i].At, st.samples[i-1].At-0.5, "from low to high")
		}
	}
	// 14 mm at the bust moved from back to side-back (the sample's own brief)
	assert.InDelta(t, 14, one.out, 0.1)
	assert.InDelta(t, 14, other.in, 0.1)
	assert.Zero(t, one.in)
	assert.Zero(t, other.out)
}

func TestStripFillsEndAtCrossings(t *testing.T) {
	c := chart{strip: strip{samples: []curve.Sample{{At: 0, Dist: 2}, {At: 10, Dist: -2}, {At: 20, Dist: -2}}, hi: 20}, kx: 1, ky: 1}
	gained, lost := c.fills()
	require.Len(t, gained, 1)
	require.Len(t, lost, 1)
	// y down: gained is a triangle of 5 by 2, lost the same triangle and 10 by 2
	assert.InDelta(t, 5, max(gained[0].Area(), -gained[0].Area()), 1e-9)
	assert.InDelta(t, 25, max(lost[0].Area(), -lost[0].Area()), 1e-9)
	assert.LessOrEqual(t, gained[0].Bounds().Max.Y, 1e-9)
	assert.GreaterOrEqual(t, lost[0].Bounds().Min.Y, -1e-9)
}

func TestRectCrossedBy(t *testing.T) {
	r := rect{0, 0, 10, 10}
	tests := map[string]struct {
		a, b curve.Point
		want bool
	}{
		"through": {curve.Pt(-5, 5), curve.Pt(15, 5), true}, "inside": {curve.Pt(4, 4), curve.Pt(5, 5), true},
		"short of": {curve.Pt(-5, 5), curve.Pt(-1, 5), false}, "past a corner": {curve.Pt(-5, 8), curve.Pt(5, 18), false},
		"over a corner": {curve.Pt(-5, 2), curve.Pt(5, 12), true}, "beside": {curve.Pt(11, 0), curve.Pt(11, 10), false},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) { assert.Equal(t, tt.want, r.crossedBy(tt.a, tt.b)) })
	}
}
