package measure_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// Four pieces of 60, 50, 30 and 200 mm; what counts how often is the grammar's
// rule for around, the sums are by hand.
func TestWhatCountsInAGirth(t *testing.T) {
	pieces := "-- front --\n" + box("0", "-50", "60", "50") +
		"-- back --\ncloth \"canvas\" 1 on fold back\n" + box("0", "-50", "50", "50") +
		"-- band --\n" + box("0", "-50", "30", "50") +
		"-- lining --\n" + box("0", "-50", "200", "50")
	for _, c := range []struct {
		name, garment string
		want          float64
	}{
		{"a half counts twice, the fold twice its drawn width", "half left\naround front back", 2*60 + 2*50},
		{"a whole garment counts once, its fold still twice", "whole\naround front back", 60 + 2*50},
		{"on the fold twice its drawn width, also where it is cut whole", "half left\naround front back\npiece back whole", 2*60 + 2*50},
		{"and in a whole garment", "whole\naround front back\npiece back whole", 60 + 2*50},
		{"a piece cut whole counts once in a half garment", "half left\naround front back band\npiece band whole", 2*60 + 2*50 + 30},
		{"what is apart never counts", "half right\naround front\npiece lining apart", 2 * 60},
		{"what is not listed does not count", "half right\naround front", 2 * 60},
		{"the whole overlap comes off once", "half left\naround front back\nclosure back buttons front.front overlap 24", 2*60 + 2*50 - 24},
		{"overlaps of two closures add up", "half left\naround front\nclosure a buttons front.front overlap 24\nclosure b hooks front.back overlap 5", 2*60 - 29},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := read(t, "-- garment --\nlevel waist 0\n"+c.garment+"\n"+pieces)
			assert.InDelta(t, c.want, ask(t, g, nil, "girth waist"), 1e-9)
		})
	}
}

// gap(l) = B - c + thickness - [ sum W_rigid*(1+give) - overlap - cords + sum W_elastic*(1+s) ],
// each term worked by hand: rigid 2*300, elastic 2*40.
func TestGapFromItsTerms(t *testing.T) {
	const (
		pieces = "-- a --\ncorner tf 0 50\nedge front\ncorner hf 0 -50\nedge hem\ncorner hb 300 -50\nedge back\ncorner tb 300 50\nedge top\n" +
			"-- e --\ncorner tf 0 50\nedge front\ncorner hf 0 -50\nedge hem\ncorner hb 40 -50\nedge back\ncorner tb 40 50\nedge top\n"
		plain = "half left\nlevel waist 0\naround a e\nclosure front lacing a.front\n"
	)
	b := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "waist", Value: 700}}}
	for _, c := range []struct {
		name, garment string
		worn, gap     float64
	}{
		{"widths only", "", 680, 20},
		{"thickness needs room", "thickness 13\n", 680, 33},
		{"a reduction closes", "reduce waist 30\n", 680, -10},
		{"give, where all of it is rigid", "give 2\n", 693.6, 6.4},
		{"stretch of the elastic", "piece e stretch 15 of 60\n", 692, 8},
		{"give does not touch the elastic", "give 2\npiece e stretch 15 of 60\n", 704, -4},
		{"cords draw in", "cords waist 5\n", 675, 25},
		{"overlap draws in", "closure back buttons a.back overlap 24\n", 656, 44},
		{"all of them", "thickness 13\nreduce waist 30\ngive 2\npiece e stretch 15 of 60\ncords waist 5\nclosure back buttons a.back overlap 24\n", 675, 8},
		{"two lacings share it", "closure back lacing a.back\n", 680, 10},
		{"a calibration is never taken in", "calibrate waist -3\n", 680, 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := read(t, "-- garment --\n"+plain+c.garment+pieces)
			assert.InDelta(t, c.worn, ask(t, g, b, "worn waist"), 1e-9)
			assert.InDelta(t, c.gap, ask(t, g, b, "gap front at waist"), 1e-9)
			assert.InDelta(t, c.gap, ask(t, g, b, "gap front"), 1e-9, "without a level: each of them")
		})
	}
}

// Moving the button stand out by e on both halves adds 2e to the widths and 2e
// to the overlap: the gap stays.
func TestAWiderButtonStandKeepsTheGap(t *testing.T) {
	b := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "waist", Value: 700}}}
	stand := func(width, overlap string) *pattern.Garment {
		return read(t, "-- garment --\nhalf left\nlevel waist 0\naround a\nclosure front lacing a.front\nclosure back buttons a.back overlap "+overlap+"\n-- a --\n"+box("0", "-50", width, "50"))
	}
	assert.InDelta(t, ask(t, stand("300", "24"), b, "gap front"), ask(t, stand("303", "30"), b, "gap front"), 1e-9)
	assert.InDelta(t, ask(t, stand("300", "24"), b, "gap front")-6, ask(t, stand("303", "24"), b, "gap front"), 1e-9)
}

// "Practical Instructions in Stay Making", Godey's Lady's Book, August 1857: the
// tight waist measure less 2 in; the bust line stops 1 1/2 in short of the
// centre back on each side, so that 3 in stay open. The waist of 26 in is ours.
func TestLacingGapOfStays(t *testing.T) {
	half := strconv.FormatFloat((26-2)/2.0*inch-1.5*inch, 'f', 3, 64)
	g := read(t, "-- garment --\nhalf left\nlevel waist 0\naround a\nreduce waist 50.8\nclosure back lacing a.back\n-- a --\n"+box("0", "-50", half, "50"))
	b := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "waist", Value: 26 * inch}}}
	assert.InDelta(t, 3*inch, ask(t, g, b, "gap back at waist"), 1e-9)
}

// Percent as worn is -reduce/body; laced shut is (worn - thickness)/body - 1.
// A waist of 701 mm reduced by 30, the pattern 675.6 worn at 13 thick: by hand
// -30/701 = -4.280 % and (675.6 - 13)/701 - 1 = -5.478 %.
func TestPercentOfTheBody(t *testing.T) {
	gap := measure.Gap{Body: 701, Reduce: 30, Thickness: 13, Girth: measure.Girth{Rigid: 675.6}, Lacings: 1}
	assert.InDelta(t, -4.2796, gap.AsWorn(), 5e-5)
	assert.InDelta(t, -5.4779, gap.LacedShut(), 5e-5)
	assert.InDelta(t, 8.4, gap.Value(), 1e-9)
	assert.Zero(t, measure.Percent(3, 0), "a body without girth")
}

// The shared waistcoat: gaps and girths worked by hand from its points; for
// instance at the bust 902 - 0 + 13 - (2*(52.5+75+82+90+86+58) - 24) = 52.
func TestGapsOfTheWaistcoat(t *testing.T) {
	levels := []string{"bust", "under-bust", "waist", "high-hip", "low-hip"}
	for name, want := range map[string][]float64{
		"waistcoat--01-base":      {52, 49, 51, 48, 53},
		"waistcoat--03-gusset":    {52.4, 49.4, 51.4, 48.4, 53.4},
		"waistcoat--04-half-move": {24.4, 29.4, 39.4, 32.4, 33.4},
		"waistcoat--06-seam-move": {52.4, 49.4, 51.4, 48.4, 53.4},
	} {
		g, b := sample(t, name)
		for i, v := range values(t, g, b, "gap front") {
			assert.Equal(t, "gap front at "+levels[i], v.Measure)
			assert.InDelta(t, want[i], v.Value, 1e-9, "%s %s", name, levels[i])
		}
	}
	g, b := sample(t, "waistcoat--01-base")
	assert.InDelta(t, 2*(36.5+45+69+82+50+46)-24, ask(t, g, b, "girth waist"), 1e-9)
}

func TestAGapThatCannotBeTold(t *testing.T) {
	g := read(t, "-- garment --\nhalf left\nlevel waist 0\nlevel hip -20\naround a\nclosure front lacing a.front\nclosure back hooks a.back\n-- a --\n"+box("0", "-50", "60", "50"))
	b := &pattern.Body{Name: "ringer", Girths: []pattern.LevelNum{{Level: "waist", Value: 700}}}
	for _, c := range []struct {
		words string
		body  *pattern.Body
		why   string
	}{
		{"gap front at waist", nil, "no body here"},
		{"gap back at waist", b, "closure back is no lacing"},
		{"gap front at hip", b, "body ringer has no girth at hip"},
	} {
		list := values(t, g, c.body, c.words)
		require.Len(t, list, 1)
		assert.False(t, list[0].Known)
		assert.Zero(t, list[0].Value)
		assert.Contains(t, list[0].Why, c.why)
	}
}

// A piece that goes round and lacks the level would be left out of the sum, and
// the percent of the body with it would be wrong: nothing is told instead.
func TestAGirthThatCannotBeTold(t *testing.T) {
	const pieces = "half left\nlevel waist 0\nlevel knee -500\nclosure front lacing a.front\n"
	a, b := "-- a --\n"+box("0", "-50", "60", "50"), "-- b --\n"+box("0", "-50", "50", "50")+"levels none\n"
	c := "-- c --\n" + box("0", "-50", "50", "50") + "levels none\nlevel waist 3\n"
	body := &pattern.Body{Name: "ringer", Girths: []pattern.LevelNum{{Level: "waist", Value: 700}, {Level: "knee", Value: 380}}}
	for _, x := range []struct{ name, around, level, why string }{
		{"one lacks it", "around a b c\n", "waist", "piece b goes round but has no level waist"},
		{"two lack it", "around a b c\n", "knee", "pieces b, c go round but have no level knee"},
		{"none reaches it", "around a\n", "knee", "no piece of around reaches level knee"},
		{"none goes round", "", "waist", "no piece of around reaches level waist"},
	} {
		t.Run(x.name, func(t *testing.T) {
			g := read(t, "-- garment --\n"+pieces+x.around+a+b+c)
			for _, words := range []string{"girth " + x.level, "worn " + x.level, "gap front at " + x.level} {
				list := values(t, g, body, words)
				require.Len(t, list, 1)
				assert.False(t, list[0].Known, words)
				assert.Equal(t, x.why, list[0].Why, words)
				assert.Zero(t, list[0].Value)
			}
			_, ok := measure.GapAt(g, body, g.Closure("front"), x.level)
			assert.False(t, ok)
		})
	}
	g := read(t, "-- garment --\n"+pieces+"around a c\n"+a+b+c)
	assert.InDelta(t, 220, ask(t, g, nil, "girth waist"), 1e-9, "a level of its own serves")
}
