package measure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// Rigid 2*300, elastic 2*40 at 15 %, worked by hand.
func TestTermsOfAGap(t *testing.T) {
	g := read(t, "-- garment --\nhalf left\nlevel waist 0\naround a e\npiece e stretch 15 of 60 tested 2026-04-30\nthickness 13\ngive 2\n"+
		"cords waist 5\nreduce waist 30\ncalibrate waist -3\nclosure front lacing a.front\nclosure back buttons a.back overlap 24\n"+
		"-- a --\n"+box("0", "-50", "300", "50")+"-- e --\n"+box("0", "-50", "40", "50"))
	b := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "waist", Value: 700}}}
	gap, ok := measure.GapAt(g, b, g.Closure("front"), "waist")
	require.True(t, ok)
	for i, want := range []measure.Term{
		{Name: "body", Value: 700}, {Name: "reduction", Value: -30}, {Name: "thickness", Value: 13}, {Name: "cloth without stretch", Value: -600},
		{Name: "its give", Value: -12}, {Name: "elastic at rest", Value: -80}, {Name: "its stretch", Value: -12}, {Name: "overlap", Value: 24}, {Name: "cords", Value: 5},
	} {
		assert.Equal(t, want.Name, gap.Terms()[i].Name)
		assert.InDelta(t, want.Value, gap.Terms()[i].Value, 1e-9, want.Name)
	}
	assert.InDelta(t, 8, gap.Value(), 1e-9)
	assert.InDelta(t, 5, gap.Calibrated(g), 1e-9, "what fittings showed: 3 less")
	for _, c := range []struct {
		asked bool
		of    string
		want  float64
	}{{false, "", 8}, {true, "calibrated", 5}} {
		for _, m := range []measure.Measure{{Kind: "gap", Closure: "front"}, {Kind: "gap", Closure: "front", Level: "waist"}} {
			v, err := m.Eval(measure.Input{Garment: g, Body: b, Calibrated: c.asked})
			require.NoError(t, err)
			require.Len(t, v, 1)
			assert.Equal(t, c.of, v[0].Of)
			assert.InDelta(t, c.want, v[0].Value, 1e-9)
		}
	}
}

func TestTermsAddUpToTheGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(name string) float64 { return rapid.Float64Range(-1000, 1000).Draw(t, name) }
		g := measure.Gap{
			Body: mm("body"), Reduce: mm("reduce"), Thickness: mm("thickness"), Lacings: rapid.IntRange(1, 3).Draw(t, "lacings"),
			Girth: measure.Girth{Rigid: mm("rigid"), Elastic: mm("elastic"), Give: mm("give"), Stretched: mm("stretched"), Overlap: mm("overlap"), Cords: mm("cords")},
		}
		sum := 0.0
		for _, term := range g.Terms() {
			sum += term.Value
		}
		require.InDelta(t, g.Value()*float64(g.Lacings), sum, 1e-9)
	})
}

// Stretch is (stretched - rest)/rest: 10 mm on 80 mm are 12.5 points; from 15 % to
// 60 % there are 45 points of 80 mm, 36 mm.
func TestStretchInUseAndInReserve(t *testing.T) {
	pieces := "-- a --\n" + box("0", "-50", "300", "50") + "-- e --\n" + box("0", "-50", "40", "50") + "-- f --\n" + box("0", "-50", "10", "-10")
	read := func(options string) *pattern.Garment {
		return read(t, "-- garment --\nhalf left\nlevel waist 0\nlevel hip -30\naround a e f\n"+options+pieces)
	}
	g := read("piece e stretch 15 of 60 tested 2026-04-30\n")
	s := measure.StretchAt(g, "waist")
	assert.InDelta(t, 80, s.Width, 1e-9)
	assert.InDelta(t, 12.5, s.Moved(10).Value, 1e-9)
	assert.InDelta(t, 36, s.Room().Value, 1e-9)
	require.Len(t, s.Pieces, 1)
	assert.Equal(t, measure.Elastic{Piece: "e", InUse: 15, Of: pattern.Some(60), Tested: "2026-04-30"}, s.Pieces[0])
	assert.Equal(t, pattern.Some(45), s.Pieces[0].Reserve())

	g = read("piece e stretch 15 of 60\npiece f stretch 20 of 30\n")
	assert.Len(t, measure.StretchAt(g, "waist").Pieces, 1, "f does not reach the waist")
	assert.Len(t, measure.Elastics(g), 2)
	s = measure.StretchAt(g, "hip")
	assert.InDelta(t, 100, s.Width, 1e-9)
	assert.InDelta(t, 10, s.Room().Value, 1e-9, "the first to come to its end: 10 points of 100 mm")
	assert.InDelta(t, -10, s.Moved(-10).Value, 1e-9, "a smaller body lets it shrink")

	g = read("piece e stretch 70 of 60\n")
	assert.InDelta(t, -8, measure.StretchAt(g, "waist").Room().Value, 1e-9, "beyond its test in use")
	assert.Equal(t, pattern.Some(-10), measure.Elastics(g)[0].Reserve())

	g = read("piece e stretch 15\n")
	assert.False(t, measure.Elastics(g)[0].Reserve().Set, "not tested")
	assert.False(t, measure.StretchAt(g, "waist").Room().Set)
	assert.True(t, measure.StretchAt(g, "waist").Moved(10).Set)

	g = read("")
	assert.False(t, measure.StretchAt(g, "waist").Moved(10).Set, "no elastic")
	assert.False(t, measure.StretchAt(g, "waist").Room().Set)
	assert.Empty(t, measure.Elastics(g))
}
