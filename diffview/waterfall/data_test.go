package waterfall

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

var levels = []string{"bust", "under-bust", "waist", "high-hip", "low-hip"}

// The story's gaps, worked by hand from the points of its pieces: 52 49 51 48 53, with
// the gusset 0.4 more (60 mm of cloth out, 52 mm of elastic worn at 59.8 in, on two
// halves), with the wider gusset 2 * 8 * 1.15 = 18.4 less.
func TestTheStoryAddsUp(t *testing.T) {
	list, b := story(t, "card-1")
	changes := map[string]float64{"gusset": 0.4, "wider-gusset": -18.4}
	for i, level := range levels {
		d := Of(list, b, "front", level)
		assert.InDelta(t, []float64{52, 49, 51, 48, 53}[i], d.Start.Value, 1e-6, level)
		assert.InDelta(t, []float64{34, 31, 33, 30, 35}[i], d.End.Value, 1e-6, level)
		require.Len(t, d.Steps, len(list)-1)
		sum := d.Start.Value
		for _, s := range d.Steps {
			assert.InDelta(t, changes[s.Note], s.Change(), 1e-6, "%s at %s", s.Note, level)
			sum += s.Change()
		}
		assert.InDelta(t, d.End.Value, sum, 1e-6)
		assert.InDelta(t, -18, d.ByNotes, 1e-6)
		assert.Zero(t, d.Outside)
		assert.Equal(t, "wanted 28 to 36: met", d.Verdict())
	}
	d := Of(list, b, "front", "waist")
	assert.Equal(t, []string{"straps", "gusset", "seam-move", "wider-gusset", "lower-back-neck", "button-stand", "card-1"}, names(d))
	// both halves: 2*60 of cloth out, 2*52 of elastic in, of which 15 % is stretch
	terms := map[string]float64{}
	for _, p := range d.Steps[1].Parts {
		terms[p.Name] = p.Value
	}
	assert.Equal(t, map[string]float64{"cloth without stretch": 120, "elastic at rest": -104, "its stretch": -15.6}, terms)
	// the wider stand fills as much as the overlap leaves
	assert.Len(t, d.Steps[5].Parts, 2)
	assert.Zero(t, d.Steps[5].Change())
}

// Half of a change of two sides: 28 less at the bust, as twice 14 mm too much say.
func TestTheWrongBranchAndItsUndoing(t *testing.T) {
	list, b := story(t, "half-move")
	d := Of(list, b, "front", "bust")
	assert.Equal(t, "half-move", d.Steps[len(d.Steps)-1].Note)
	assert.InDelta(t, -28, d.Steps[len(d.Steps)-1].Change(), 1e-6)
	assert.InDelta(t, 24.4, d.End.Value, 1e-6)
	undone, _ := story(t, "undo-half-move")
	d = Of(undone, b, "front", "bust")
	assert.InDelta(t, 52.4, d.End.Value, 1e-6)
}

func names(d Data) []string {
	var out []string
	for _, s := range d.Steps {
		out = append(out, s.Name())
	}
	return out
}

// laced is a garment of one rectangle of that width on each half, so that the gap on a
// body of 700 mm is 700 - 2 * width.
func laced(width float64) *pattern.Garment {
	p := &pattern.Piece{Name: "a", Corners: []pattern.Corner{
		{Name: "tf", At: curve.Pt(0, 50)}, {Name: "hf", At: curve.Pt(0, -50)}, {Name: "hb", At: curve.Pt(width, -50)}, {Name: "tb", At: curve.Pt(width, 50)},
	}, Edges: []pattern.Edge{{Name: "front"}, {Name: "hem"}, {Name: "back"}, {Name: "top"}}}
	return &pattern.Garment{
		Name: "g", Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist", Y: 0}}, Pieces: []*pattern.Piece{p},
		Around: []pattern.Mention{{Name: "a"}}, Closures: []pattern.Closure{{Name: "front", Kind: pattern.Lacing}},
	}
}

func body700() *pattern.Body {
	return &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "waist", Value: 700}}}
}

func TestWhatIsOutsideNotesAndWhatIsNotKnown(t *testing.T) {
	unlaced := laced(330)
	unlaced.Closures = nil
	list := []Version{
		{Note: "first", Garment: nil},
		{Note: "start", Garment: laced(320)},
		{Note: "in", Garment: laced(325)},
		{Short: "abc", Garment: laced(327)},
		{Note: "torn", Garment: nil},
		{Note: "unlaced", Garment: unlaced},
		{Note: "mended", Garment: laced(315)},
	}
	d := Of(list, body700(), "front", "waist")
	assert.Equal(t, "start", d.First.Name(), "the first one that can be told")
	assert.Equal(t, [2]float64{60, 70}, [2]float64{d.Start.Value, d.End.Value})
	assert.Equal(t, []string{"start", "in", "no note (abc)", "torn", "unlaced", "mended"}, names(d))
	var changes []float64
	for _, s := range d.Steps {
		changes = append(changes, s.Change())
	}
	assert.Equal(t, []float64{0, -10, -4, 0, 0, 24}, changes, "what was torn comes with what was mended")
	assert.Equal(t, [2]float64{14, -4}, [2]float64{d.ByNotes, d.Outside})
	assert.Equal(t, "mended and 2 versions before it: 24.0 wider, 70.0", d.Steps[5].Sentence())
	assert.Equal(t, "torn: not known, that version has no pattern that can be read", d.Steps[3].Sentence())
	assert.Equal(t, "that version has no closure front", d.Steps[4].Why)

	for name, c := range map[string]struct {
		list []Version
		body *pattern.Body
		why  string
	}{
		"no version": {nil, body700(), "there is no version"},
		"no body":    {list, nil, "no body here: the body's measures are not in this folder"},
		"no girth":   {list, &pattern.Body{Name: "b"}, "body b has no girth at waist"},
	} {
		d := Of(c.list, c.body, "front", "waist")
		assert.False(t, d.Start.Set, name)
		assert.Equal(t, c.why, d.Why, name)
	}
	one := Of(list[1:2], body700(), "front", "waist")
	assert.Empty(t, one.Steps)
	assert.Equal(t, one.Start, one.End)
}

// What is printed adds up, though each figure is rounded, and so do groups.
func TestStepsAlwaysAddUp(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(r, "versions")
		var list []Version
		for range n {
			v := Version{Note: rapid.SampledFrom([]string{"", "a", "b"}).Draw(r, "note"), Short: "1234567"}
			if rapid.IntRange(0, 9).Draw(r, "readable") > 0 {
				v.Garment = laced(pattern.RoundLength(rapid.Float64Range(1, 400).Draw(r, "width")))
			}
			list = append(list, v)
		}
		d := Of(list, body700(), "front", "waist")
		byNotes, outside := d.Printed()
		for _, d := range []Data{d, d.Grouped(rapid.IntRange(1, 40).Draw(r, "most"))} {
			if !d.Start.Set {
				return
			}
			sum, printed, parts, versions := 0.0, 0.0, 0.0, 0
			at := d.Start.Value
			for _, s := range d.Steps {
				require.InDelta(r, at, s.Before, 1e-9, "each begins where the last one ended")
				at = s.After
				sum, printed, versions = sum+s.Change(), printed+s.Shown(), versions+s.Versions
				for _, p := range s.Parts {
					parts += p.Value
				}
			}
			change := d.End.Value - d.Start.Value
			require.Equal(r, len(list)-1, versions)
			require.InDelta(r, change, sum, 1e-9)
			require.InDelta(r, change, parts, 1e-4)
			require.InDelta(r, change, d.ByNotes+d.Outside, 1e-6)
			require.Equal(r, math.Round(10*(tenth(d.End.Value)-tenth(d.Start.Value))), math.Round(10*printed))
			require.Equal(r, math.Round(10*printed), math.Round(10*(byNotes+outside)))
		}
	})
}

func TestGroups(t *testing.T) {
	var list []Version
	for i, w := range []float64{320, 320, 310, 310, 310.5, 310, 290, 290} {
		list = append(list, Version{Note: string(rune('a' + i)), Garment: laced(w)})
	}
	d := Of(list, body700(), "front", "waist")
	assert.Equal(t, d.Steps, d.Grouped(7).Steps, "few enough")
	var labels []string
	for _, s := range d.Grouped(4).Steps {
		labels = append(labels, s.Label())
	}
	assert.Equal(t, []string{"2 versions, b to c", "3 versions, d to f", "g", "h"}, labels, "what changed least goes together")
	assert.Len(t, d.Grouped(0).Steps, 1)
	list[3].Note = ""
	labels = nil
	for _, s := range Of(list, body700(), "front", "waist").Grouped(5).Steps {
		labels = append(labels, s.Name())
	}
	assert.Contains(t, labels, "no note", "what has no note stands alone as long as it can")
}

func TestVerdict(t *testing.T) {
	for width, want := range map[float64]string{320: "wanted 28 to 36: 24.0 too wide", 340: "wanted 28 to 36: 8.0 too narrow", 334: "wanted 28 to 36: met", 336.02: "wanted 28 to 36: met"} {
		g := laced(width)
		g.Wanted = []pattern.Wanted{{Closure: "front", Level: "waist", Min: 28, Max: 36}}
		assert.Equal(t, want, Of([]Version{{Garment: g}}, body700(), "front", "waist").Verdict())
	}
	assert.Empty(t, Of([]Version{{Garment: laced(320)}}, body700(), "front", "waist").Verdict())
}
