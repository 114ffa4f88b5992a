package alter_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

func atLevel(level string) pattern.Spot { return pattern.Spot{Kind: pattern.AtLevel, Level: level} }

func above(mm float64, level string) pattern.Spot {
	return pattern.Spot{Kind: pattern.FromLevel, Level: level, Distance: mm, Above: true}
}

// two gives two upright edges that are sewn, from -100 to 100 and from -100 to 104,
// with the waist at 0, by hand.
func two(ease float64) *pattern.Garment {
	g := &pattern.Garment{Name: "two", Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}, {Name: "bust", Y: 60}}}
	for i, top := range []float64{100, 104} {
		g.Pieces = append(g.Pieces, &pattern.Piece{Name: []string{"a", "b"}[i],
			Corners: []pattern.Corner{{Name: "tf", At: curve.Pt(0, top)}, {Name: "hf", At: curve.Pt(0, -100)}, {Name: "hb", At: curve.Pt(80, -100)}, {Name: "tb", At: curve.Pt(80, top)}},
			Edges:   []pattern.Edge{{Name: "front"}, {Name: "hem"}, {Name: "back"}, {Name: "top"}}})
	}
	g.Seams = []pattern.Seam{{Name: "s", First: []pattern.Ref{{Piece: "a", Edge: "back"}}, Second: []pattern.Ref{{Piece: "b", Edge: "front"}}}}
	if ease != 0 {
		g.Seams[0].Eases = []pattern.Ease{{Amount: ease}}
	}
	return g
}

func TestAPairOfNotches(t *testing.T) {
	for _, c := range []struct {
		name          string
		ease          float64
		on            pattern.Spot
		first, second string
	}{
		{"at a level that both sides have at one distance", 0, atLevel("bust"), "bust at bust", "bust at bust"},
		{"at a distance", 0, above(40, "waist"), "above-waist 40 above waist", "above-waist 40 above waist"},
		// -4 of ease on 204 mm: the first side is meant to be 200 against 204, so 60 mm
		// of it meet 61.2 of the second: 1.2 above the bust there
		{"with ease in proportion", -4, atLevel("bust"), "bust at bust", "bust 1.2 above bust"},
	} {
		g := two(c.ease)
		before := pattern.Clone(g)
		out, err := alter.AddNotches(g, "s", c.on, "", tol)
		require.NoError(t, err, c.name)
		assert.Equal(t, before, g, "the garment that was given is not changed")
		require.Len(t, out.Placed, 2)
		assert.Equal(t, []string{c.first, c.second}, []string{worded(out.Placed[0]), worded(out.Placed[1])}, c.name)
		assert.Equal(t, []string{"a.back", "b.front"}, []string{out.Placed[0].Piece + "." + out.Placed[0].Edge, out.Placed[1].Piece + "." + out.Placed[1].Edge})
	}
}

// worded gives a notch as the text has it.
func worded(p alter.Placed) string {
	s := p.Notch.On
	switch {
	case s.Kind == pattern.AtLevel:
		return p.Notch.Name + " at " + s.Level
	case s.Kind == pattern.FromCorner:
		return fmt.Sprintf("%s %g from %s", p.Notch.Name, s.Distance, s.Corner)
	case s.Above:
		return fmt.Sprintf("%s %g above %s", p.Notch.Name, s.Distance, s.Level)
	}
	return fmt.Sprintf("%s %g below %s", p.Notch.Name, s.Distance, s.Level)
}

// A level that lies at another distance along the second side, as the bust of the
// waistcoat does before its seam was moved (1.28 mm, worked by hand for the sample):
// the second notch goes where the first one meets it, and nothing drifts.
func TestTheSecondNotchGoesWhereTheFirstMeetsIt(t *testing.T) {
	g := sample(t, "waistcoat--03-gusset")
	drift := func(g *pattern.Garment) float64 {
		w, problem := measure.WalkSeam(g, g.Seam("side-back-back"), tol)
		require.Nil(t, problem)
		for _, d := range w.Drifts() {
			if d.Name == "bust" {
				return math.Abs(d.By)
			}
		}
		require.Fail(t, "no pair at the bust")
		return 0
	}
	out, err := alter.AddNotches(g, "side-back-back", atLevel("waist"), "", tol)
	require.NoError(t, err)
	naive := pattern.Clone(out.Garment)
	for _, ref := range []pattern.Ref{{Piece: "side-back", Edge: "back"}, {Piece: "back", Edge: "front"}} {
		p := naive.Piece(ref.Piece)
		p.Notches = append(p.Notches, pattern.Notch{Name: "bust", Edge: pattern.Mention{Name: ref.Edge}, On: atLevel("bust")})
	}
	assert.InDelta(t, 1.28, drift(naive), 0.005)
	out, err = alter.AddNotches(out.Garment, "side-back-back", atLevel("bust"), "", tol)
	require.NoError(t, err)
	assert.Less(t, drift(out.Garment), 0.0011)
}

func TestNotchesThatAreRefused(t *testing.T) {
	taken, err := alter.AddNotches(two(0), "s", atLevel("waist"), "", tol)
	require.NoError(t, err)
	mirrored := two(0)
	mirrored.Seams[0].Mirrored, mirrored.Seams[0].Second = true, nil
	for _, c := range []struct {
		g    *pattern.Garment
		seam string
		on   pattern.Spot
		name string
		why  string
	}{
		{two(0), "t", atLevel("waist"), "", "there is no such seam"},
		{two(0), "s", atLevel("hip"), "", "has no level hip"},
		{two(0), "s", above(200, "waist"), "", "a place on the edge"},
		{two(0), "s", above(96, "waist"), "", "4.0 mm from corner tb"},
		{two(4), "s", above(94, "bust"), "", "a place on the edge"},
		{two(0), "s", atLevel("bust"), "corner", "is a word that the text keeps for itself"},
		{taken.Garment, "s", above(40, "waist"), "waist", "has a notch waist already, 40.0 mm from there"},
		{taken.Garment, "s", atLevel("waist"), "other", "0.0 mm from notch waist"},
		{taken.Garment, "s", above(4.9, "waist"), "", "4.9 mm from notch waist"},
	} {
		out, err := alter.AddNotches(c.g, c.seam, c.on, c.name, tol)
		var no *alter.Refusal
		require.ErrorAs(t, err, &no, c.why)
		assert.Nil(t, out)
		assert.Contains(t, no.Error(), c.why)
	}
	out, err := alter.AddNotches(mirrored, "s", atLevel("bust"), "", tol)
	require.NoError(t, err)
	assert.Len(t, out.Placed, 1, "a mirrored seam meets itself")
}

// Wherever a pair is written, both notches are equally far from the waist along their
// sides, less the ease; and nothing is found in them.
func TestAnAddedPairStandsAtEqualDistances(t *testing.T) {
	samples := []*pattern.Garment{sample(t, "waistcoat--03-gusset"), sample(t, "waistcoat--06-seam-move"), sample(t, "waistcoat--04-half-move"), two(0)}
	written := 0
	rapid.Check(t, func(t *rapid.T) {
		g := pattern.Clone(rapid.SampledFrom(samples).Draw(t, "garment"))
		s := &g.Seams[rapid.IntRange(0, len(g.Seams)-1).Draw(t, "seam")]
		s.Eases = nil
		if ease := rapid.Float64Range(-8, 8).Draw(t, "ease"); rapid.Bool().Draw(t, "eased") {
			s.Eases = []pattern.Ease{{Amount: pattern.RoundLength(ease)}}
		}
		out, err := alter.AddNotches(g, s.Name, atLevel("waist"), "", tol)
		if err != nil {
			t.Fatal(err)
		}
		spot := pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: pattern.RoundLength(rapid.Float64Range(0, 200).Draw(t, "mm")), Above: rapid.Bool().Draw(t, "above")}
		out, err = alter.AddNotches(out.Garment, s.Name, spot, "n", tol)
		if err != nil {
			return // a corner is near
		}
		written++
		w, problem := measure.WalkSeam(out.Garment, s, tol)
		if problem != nil {
			t.Fatal(problem.Message())
		}
		if len(w.Segments) != 3 {
			t.Fatalf("%d segments", len(w.Segments))
		}
		if d := w.Segments[1].Difference; math.Abs(d) > 0.0011 {
			t.Fatalf("off by %v: %+v", d, out.Placed)
		}
		for _, x := range check.Run(check.Input{Garment: out.Garment}) {
			if x.ID == "notch.crowded" || x.ID == "notch.single" || x.ID == "notch.drift" {
				t.Fatal(x.Message())
			}
		}
	})
	assert.Greater(t, written, 10)
}
