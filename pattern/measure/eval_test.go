package measure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// An edge of three parts: 10 mm up, 100 mm along the waist, 10 mm up.
func TestLengthAboveAndBelowALevel(t *testing.T) {
	const piece = "corner tf 0 100\nedge front\ncorner hf 0 -50\nedge hem\ncorner hb 100 -40\nedge back\n  line to 100 0\n  line to 130 0\n  line to 130 20\n  line to corner\ncorner tb 130 100\nedge top\n"
	g := read(t, "-- garment --\nwhole\nlevel waist 0\nlevel bust 60\nlevel knee -500\n-- a --\n"+piece+"notch n on back 20 from hb\nnotch m on back 10 from tb\n")
	for words, want := range map[string]float64{
		"length a.back":                        40 + 30 + 100,
		"length a.back above bust":             40,
		"length a.back below bust":             130,
		"length a.back above knee":             170,
		"length a.back below knee":             0,
		"length a.back from n to m":            140,
		"length a.back from m to n":            140,
		"length a.back from n to m above bust": 30,
		"length a.hem above waist":             0,
	} {
		assert.InDelta(t, want, ask(t, g, nil, words), 1e-5, words)
	}
	// what lies along the level belongs half to each part
	above, below := ask(t, g, nil, "length a.back above waist"), ask(t, g, nil, "length a.back below waist")
	assert.InDelta(t, 100+15, above, 1e-5)
	assert.InDelta(t, 40+15, below, 1e-5)
}

// An edge that only touches a level, and one with a long flat stretch on it:
// both parts together are always the whole.
func TestAboveAndBelowMakeTheWhole(t *testing.T) {
	for name, back := range map[string]string{
		"a short rise, a long stretch along the level, a short rise": "  line to 100 0\n  line to 300 0\n  line to corner\ncorner tb 300 10",
		"an edge that comes back down":                               "  line to 120 10\n  line to 140 -5\n  line to corner\ncorner tb 300 10",
		"a touch from below":                                         "  line to 120 0\n  line to 140 -5\n  line to corner\ncorner tb 300 10",
	} {
		g := read(t, "-- garment --\nwhole\nlevel waist 0\n-- a --\ncorner tf 0 10\nedge front\ncorner hf 0 -10\nedge hem\ncorner hb 100 -10\nedge back\n"+back+"\nedge top\n")
		above, below := ask(t, g, nil, "length a.back above waist"), ask(t, g, nil, "length a.back below waist")
		assert.Greater(t, above, 9.9, name)
		assert.Greater(t, below, 9.9, name)
		assert.InDelta(t, ask(t, g, nil, "length a.back"), above+below, 1e-5, name)
	}
}

// Eyelets: pitch = (L - 2 m)/(n - 1), 15 on 300 mm with margins of 10 stand
// exactly 20 apart. Buttons count from their anchor: 1 + up + down.
func TestFastenings(t *testing.T) {
	const pieces = "-- a --\ncorner tf 0 188\nedge front\ncorner hf 0 -112\nedge hem\ncorner hb 80 -112\nedge back\ncorner tb 80 188\nedge top\n"
	g := read(t, "-- garment --\nhalf left\nlevel bust 160\naround a\nclosure front lacing a.front\nclosure back buttons a.back overlap 30\nclosure side slide a.back\n"+
		"buttons back from bust pitch 25 diameter 18 up 1 down 10\neyelets front count 15 margin 10\n"+pieces)
	for words, want := range map[string]float64{
		"pitch front": 20, "count front": 15, "pitch back": 25, "count back": 12, "overlap back": 30, "overlap front": 0,
	} {
		assert.InDelta(t, want, ask(t, g, nil, words), 1e-9, words)
	}
	for _, words := range []string{"pitch side", "count side"} {
		list := values(t, g, nil, words)
		assert.False(t, list[0].Known)
		assert.Contains(t, list[0].Why, "no buttons, eyelets or hooks are recorded for closure side")
	}
}

func TestUnknownNamesAreAnswersWithTheNearest(t *testing.T) {
	g := read(t, "-- garment --\nhalf left\nlevel waist 0\naround side-back\nseam shoulder side-back.top side-back.hem\nrun neck side-back.top\nclosure front lacing side-back.front\n"+
		"-- side-back --\n"+box("0", "-50", "60", "50")+"notch balance on back 5 from hb\n")
	for words, want := range map[string]string{
		"girth wiast":           "there is no level wiast; did you mean waist?",
		"worn hips":             "there is no level hips",
		"width side-bck":        "there is no piece side-bck; did you mean side-back?",
		"area back":             "there is no piece back",
		"gap frond":             "there is no closure frond; did you mean front?",
		"gap front at waits":    "there is no level waits; did you mean waist?",
		"seam sholder":          "there is no seam sholder; did you mean shoulder?",
		"turn nek at shoulder":  "there is no run nek; did you mean neck?",
		"length side-back.bakc": "there is no edge bakc; did you mean back?",
		"length side-back.back from balanse to top": "there is no notch balanse; did you mean balance?",
	} {
		m, err := measure.Parse(words)
		require.NoError(t, err)
		list, err := m.Eval(measure.Input{Garment: g})
		assert.Empty(t, list, words)
		assert.EqualError(t, err, `measure "`+words+`": `+want)
	}
}

func TestEveryLevelWhereNoneIsNamed(t *testing.T) {
	g, b := sample(t, "waistcoat--01-base")
	for _, words := range []string{"girth", "worn", "gap front", "width back"} {
		list := values(t, g, b, words)
		require.Len(t, list, 5, words)
		for i, level := range []string{"bust", "under-bust", "waist", "high-hip", "low-hip"} {
			assert.Regexp(t, level+"$", list[i].Measure)
			assert.Equal(t, ask(t, g, b, list[i].Measure), list[i].Value)
		}
	}
}

// Between one eyelet and itself there is no pitch; a closure that names no edge,
// which only a faulty file leaves, has none either.
func TestAPitchThatCannotBeTold(t *testing.T) {
	g := &pattern.Garment{Closures: []pattern.Closure{{Name: "front", Kind: pattern.Lacing}},
		Eyelets: []pattern.Fastening{{Closure: "front", Count: pattern.Some(1)}}}
	for count, why := range map[float64]string{1: "a single eyelet, which has no pitch", 5: "names no edge"} {
		g.Eyelets[0].Count = pattern.Some(count)
		list := values(t, g, nil, "pitch front")
		require.Len(t, list, 1)
		assert.False(t, list[0].Known)
		assert.Contains(t, list[0].Why, why)
	}
}
