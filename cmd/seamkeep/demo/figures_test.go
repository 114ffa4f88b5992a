package demo

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// The figures in this file were worked out from the edges in
// testdata/states.json before there was a program, to the digits that stand
// here: widths and sums by hand, lengths as square roots of sums of squares.
// For instance, the gap at the bust of the base is
// 902 - 0 + 13 - (2 * (52.5 + 75 + 82 + 90 + 86 + 58) - 24) = 52.

func TestEdgesAreThoseWorkedOut(t *testing.T) {
	for _, s := range states(t) {
		g := garmentOf(t, treeOfStep(s.Step))
		for name, want := range s.Pieces {
			p := g.Piece(name)
			require.NotNil(t, p, "%s %s", s.Step, name)
			assert.Equal(t, unbent(want.Back), points(t, p, "back", false), "%s %s.back", s.Step, name)
			assert.Equal(t, unbent(want.Front), points(t, p, "front", true), "%s %s.front", s.Step, name)
		}
		assert.Len(t, g.Around, len(s.Pieces), s.Step)
		assert.Equal(t, s.Overlap, eval(t, g, "overlap back"), s.Step)
		for level, want := range s.Gap {
			assert.InDelta(t, want, eval(t, g, "gap front at "+level), 1e-9, "%s %s", s.Step, level)
		}
	}
}

// points gives the corners and joints of a straight-lined edge, hem to top.
func points(t *testing.T, p *pattern.Piece, edge string, down bool) []point {
	t.Helper()
	i := p.EdgeIndex(edge)
	require.GreaterOrEqual(t, i, 0)
	path := p.EdgePath(i)
	list := []point{{path[0].P0.X, path[0].P0.Y}}
	for _, s := range path {
		require.True(t, s.Straight, "%s.%s", p.Name, edge)
		list = append(list, point{s.P3.X, s.P3.Y})
	}
	if down {
		for a, b := 0, len(list)-1; a < b; a, b = a+1, b-1 {
			list[a], list[b] = list[b], list[a]
		}
	}
	return list
}

// unbent leaves out the inner points of an upright edge, which a file has no
// need to write.
func unbent(list []point) []point {
	for _, p := range list {
		if p[0] != list[0][0] {
			return list
		}
	}
	return []point{list[0], list[len(list)-1]}
}

func TestPredictedGaps(t *testing.T) {
	for name, want := range map[string][5]float64{
		"base":            {52, 49, 51, 48, 53},
		"straps":          {52, 49, 51, 48, 53},
		"gusset":          {52.4, 49.4, 51.4, 48.4, 53.4},
		"half-move":       {24.4, 29.4, 39.4, 32.4, 33.4},
		"undo-half-move":  {52.4, 49.4, 51.4, 48.4, 53.4},
		"seam-move":       {52.4, 49.4, 51.4, 48.4, 53.4},
		"wider-gusset":    {34, 31, 33, 30, 35},
		"lower-back-neck": {34, 31, 33, 30, 35},
		"button-stand":    {34, 31, 33, 30, 35},
		"card-1":          {34, 31, 33, 30, 35},
	} {
		g := garmentOf(t, name)
		for i, level := range levels {
			assert.InDelta(t, want[i], eval(t, g, "gap front at "+level), 1e-9, "%s %s", name, level)
		}
	}
}

func TestSeamLengthsFrontToBack(t *testing.T) {
	for name, want := range map[string][]string{
		"base":                 {"298.0 298.0", "284.0 284.0", "282.0 282.0", "321.0 321.0", "328.0 328.0"},
		"gusset":               {"298.0 298.0", "284.0 284.0", "280.0 280.0", "280.0 280.0", "321.0 321.0", "328.0 328.0"},
		"half-move":            {"298.0 298.0", "284.0 284.0", "280.0 280.0", "280.0 280.0", "322.0 321.0", "328.0 328.0"},
		"seam-move":            {"298.0 298.0", "284.0 284.0", "280.0 280.0", "280.0 280.0", "321.0 321.0", "328.0 328.0"},
		"card-1":               {"298.0 298.0", "284.0 284.0", "280.0 280.0", "280.0 280.0", "315.0 315.0", "318.0 318.0"},
		"seam-move, first try": {"298.0 298.0", "284.0 284.0", "280.0 280.0", "280.0 280.0", "322.0 319.5", "328.0 328.0"},
	} {
		g := garmentOf(t, name)
		var got []string
		for i := range g.Seams {
			w := walk(t, g, g.Seams[i].Name)
			got = append(got, fmt.Sprintf("%.1f %.1f", w.First.Length, w.Second.Length))
		}
		assert.Equal(t, want, got, name)
	}
}

// The differences that the story turns on, and on which side of the waist they
// arise.
func TestWhatIsOffBeforeTruing(t *testing.T) {
	for _, c := range []struct{ tree, seam, whole, below, above string }{
		{"gusset, first try", "side-front-underarm", "-1.77", "-1.45", "-0.33"},
		{"seam-move, first try", "side-back-back", "2.55", "1.20", "1.35"},
	} {
		w := walk(t, garmentOf(t, c.tree), c.seam)
		require.Len(t, w.Segments, 2)
		assert.Equal(t, c.whole, fmt.Sprintf("%.2f", w.Difference))
		assert.Equal(t, c.below, fmt.Sprintf("%.2f", w.Segments[0].Difference))
		assert.Equal(t, c.above, fmt.Sprintf("%.2f", w.Segments[1].Difference))
	}
	half := walk(t, garmentOf(t, "half-move"), "side-back-back")
	assert.Equal(t, "1.03", fmt.Sprintf("%.2f", half.Difference))
	for _, seam := range []string{"side-front-underarm", "side-back-back"} {
		assert.InDelta(t, 0, walk(t, garmentOf(t, "seam-move"), seam).Difference, 0.002)
	}
}

// Below the waist and above it the seam move is within 1.5; only together the
// two are not.
func TestEachPartOfTheMovedSeamAlonePasses(t *testing.T) {
	g := garmentOf(t, "seam-move, first try")
	limit, _ := g.SeamTolerance(nil)
	w := walk(t, g, "side-back-back")
	for _, part := range w.Segments {
		assert.Less(t, part.Difference, limit, part.From)
	}
	assert.Greater(t, w.Difference, limit)
}

func TestFindings(t *testing.T) {
	wrong := map[string]string{ // tree: its only error
		"gusset, first try":    "seam.differs side-front-underarm",
		"seam-move, first try": "seam.differs side-back-back",
	}
	near := map[string]string{"half-move": "seam.near side-back-back"}
	for name, tree := range trees(t) {
		var errors, seams []string
		for _, p := range check.Run(check.Input{Garment: garment(t, tree), Body: body(t)}) {
			switch {
			case p.Severity == diag.Error:
				errors = append(errors, p.Address())
			case strings.HasPrefix(p.ID, "seam.") || strings.HasPrefix(p.ID, "gap."):
				seams = append(seams, p.Address())
			}
		}
		assert.Equal(t, wrong[name], strings.Join(errors, ", "), name)
		assert.Equal(t, near[name], strings.Join(seams, ", "), name)
	}
	for name, v := range byName(t) {
		if v.Refused != nil {
			assert.Equal(t, wrong[name+", first try"], "seam.differs "+v.Refused.Seam)
		}
	}
}

func TestTruingTheFirstTries(t *testing.T) {
	v := byName(t)["gusset"]
	trued, err := alter.True(garment(t, v.Refused.Files), v.Refused.Seam, v.Refused.Move, measure.Accuracy)
	require.NoError(t, err)
	assert.Empty(t, gone(trued.Garment, garment(t, v.Files), 0.0015))

	// by hand both sides went to 321.0; half the way each would give 320.76
	v = byName(t)["seam-move"]
	trued, err = alter.True(garment(t, v.Refused.Files), v.Refused.Seam, v.Refused.Move, measure.Accuracy)
	require.NoError(t, err)
	assert.Equal(t, "320.76 320.76", fmt.Sprintf("%.2f %.2f", trued.After.First.Length, trued.After.Second.Length))
}

// gone lists the corners that lie further apart than tol.
func gone(a, b *pattern.Garment, tol float64) []string {
	var out []string
	for _, p := range a.Pieces {
		for i, c := range p.Corners {
			if d := c.At.Dist(b.Piece(p.Name).Corners[i].At); d > tol {
				out = append(out, fmt.Sprintf("%s.%s by %.3f", p.Name, c.Name, d))
			}
		}
	}
	return out
}

func TestWidthsAndGirths(t *testing.T) {
	gusset, half, moved := garmentOf(t, "gusset"), garmentOf(t, "half-move"), garmentOf(t, "seam-move")
	base, wider, stand := garmentOf(t, "base"), garmentOf(t, "wider-gusset"), garmentOf(t, "button-stand")
	for i, level := range levels {
		girth := func(g *pattern.Garment) float64 { return eval(t, g, "girth "+level) }
		grown := []float64{28, 20, 12, 16, 20}[i]
		assert.InDelta(t, grown, girth(half)-girth(gusset), 1e-9, level)
		assert.InDelta(t, -16, girth(gusset)-girth(base), 1e-9, level)
		assert.InDelta(t, 0, girth(moved)-girth(gusset), 1e-9, level)
		assert.InDelta(t, 16, girth(wider)-girth(moved), 1e-9, level)
		assert.InDelta(t, 0, girth(stand)-girth(wider), 1e-9, level)
		for piece, want := range map[string]float64{"side-back": grown / 2, "back": -grown / 2} {
			width := "width " + piece + " at " + level
			assert.InDelta(t, want, eval(t, moved, width)-eval(t, gusset, width), 1e-9, width)
		}
		assert.InDelta(t, 0, girth(garmentOf(t, "lower-back-neck"))-girth(wider), 1e-9, level)
	}
}

// 60 mm of cloth made room for 60 / 1.15 = 52 mm of elastic.
func TestTheGussetFillsWhatWasCutOut(t *testing.T) {
	base, gusset := garmentOf(t, "base"), garmentOf(t, "gusset")
	for _, level := range levels {
		out := 0.0
		for _, piece := range []string{"underarm", "side-back"} {
			width := "width " + piece + " at " + level
			out += eval(t, base, width) - eval(t, gusset, width)
		}
		assert.InDelta(t, 60, out, 1e-9, level)
		assert.InDelta(t, 60/1.15, eval(t, gusset, "width gusset at "+level), 0.2, level)
	}
}

func TestAForgottenOverlapShowsInTheGap(t *testing.T) {
	g := pattern.Clone(garmentOf(t, "button-stand"))
	g.Closure("back").Overlap = pattern.Some(24)
	assert.InDelta(t, 28.0, eval(t, g, "gap front at bust"), 1e-9)
}

func TestPercentOfTheBody(t *testing.T) {
	for _, p := range check.Presses(garmentOf(t, "card-1"), body(t)) {
		if p.Level == "waist" {
			assert.Equal(t, "-4.3 -9.0", fmt.Sprintf("%.1f %.1f", p.AsWorn, p.LacedShut))
			return
		}
	}
	t.Error("no figure at the waist")
}

// How far matching levels drift apart on the two sides of a seam, from the
// waist.
func TestDriftOfTheLevels(t *testing.T) {
	drift := func(version, seam, level string) float64 {
		g := garmentOf(t, version)
		s := g.Seam(seam)
		return math.Abs(fromWaist(t, g, s.First[0], level) - fromWaist(t, g, s.Second[0], level))
	}
	for _, name := range []string{"base", "gusset"} {
		assert.InDelta(t, 1.28, drift(name, "side-back-back", "bust"), 0.006, name)
	}
	worst, where := 0.0, ""
	for _, s := range garmentOf(t, "card-1").Seams {
		for _, level := range levels {
			if d := drift("card-1", s.Name, level); d > worst {
				worst, where = d, s.Name+" at "+level
			}
		}
	}
	assert.InDelta(t, 0.73, worst, 0.006)
	assert.Equal(t, "side-front-underarm at high-hip", where)
}

// fromWaist gives the length of an edge between the waist and a level.
func fromWaist(t *testing.T, g *pattern.Garment, r pattern.Ref, level string) float64 {
	t.Helper()
	p, i, ok := g.Edge(r)
	require.True(t, ok)
	at := func(name string) float64 {
		d, err := g.SpotAt(p, i, pattern.Spot{Level: name}, measure.Accuracy)
		require.Nil(t, err)
		return d
	}
	return math.Abs(at(level) - at("waist"))
}
