package step_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/step"
)

func change(t require.TestingT, words ...string) []claim.Claim {
	var out []claim.Claim
	for _, w := range words {
		list, problems := claim.Parse("Changes", w, place())
		require.Empty(t, problems)
		out = append(out, list...)
	}
	return out
}

// panels is a skirt of three panels on each half.
func panels(t testing.TB) *pattern.Garment {
	return skirt(t, panel{"a", straight(0), straight(240)}, panel{"b", straight(0), straight(230)}, panel{"c", straight(0), straight(100)})
}

// A girth change G over N seams a half is G/(2N) a seam and G/(4N) an edge: the inverse
// of the sum for a girth. By hand: 60 over two seams are 15 and 7.5, over one 30 and 15.
func TestAChangeOfGirthSharedOverSeams(t *testing.T) {
	g := panels(t)
	for _, c := range []struct {
		name, change string
		seams        []string
		change2      func(*pattern.Garment)
		amount, edge float64
		does         string
	}{
		{"two seams of a half", "girth waist -60", []string{"a-b", "b-c"}, nil, -15, -7.5, "take-in a-b 15 at waist"},
		{"one seam of a half", "girth waist +60", []string{"a-b"}, nil, 30, 15, "let-out a-b 30 at waist"},
		{"at every level", "girth -20", []string{"a-b"}, nil, -10, -5, "take-in a-b 10"},
		{"a whole garment", "girth waist -60", []string{"a-b", "b-c"}, func(g *pattern.Garment) { g.Half = pattern.Whole }, -30, -15, "take-in a-b 30 at waist"},
		{"a seam to its own mirror image has two edges", "girth waist -60", []string{"a-b"}, func(g *pattern.Garment) {
			s := g.Seam("a-b")
			s.Mirrored, s.Second = true, nil
		}, -60, -30, "take-in a-b 60 at waist"},
	} {
		g := pattern.Clone(g)
		if c.change2 != nil {
			c.change2(g)
		}
		shared, problems := step.ShareGirth(g, c.seams, change(t, c.change))
		require.Empty(t, problems, c.name)
		require.Len(t, shared, len(c.seams), c.name)
		for _, x := range shared {
			assert.InDelta(t, c.amount, x.Amounts[0].Amount, 1e-9, c.name)
			assert.InDelta(t, c.edge, x.Amounts[0].Edge, 1e-9, c.name)
		}
		require.Len(t, shared[0].Steps, 1, c.name)
		assert.Equal(t, c.does, shared[0].Steps[0].String(), c.name)
	}
}

func TestAChangeToAGirth(t *testing.T) {
	g := panels(t)
	v, err := measure.Measure{Kind: "girth", Level: "waist"}.Eval(measure.Input{Garment: g})
	require.NoError(t, err)
	shared, problems := step.ShareGirth(g, []string{"a-b"}, change(t, "girth waist to 1000"))
	require.Empty(t, problems)
	assert.InDelta(t, (1000-v[0].Value)/2, shared[0].Amounts[0].Amount, 1e-9)
}

// What is shared, carried out, is the girth change again: the claims of all steps add up.
func TestTheSharesAddUp(t *testing.T) {
	g := panels(t)
	rapid.Check(t, func(t *rapid.T) {
		g := pattern.Clone(g)
		if rapid.Bool().Draw(t, "whole") {
			g.Half = pattern.Whole
		}
		seams := rapid.SampledFrom([][]string{{"a-b"}, {"b-c"}, {"a-b", "b-c"}}).Draw(t, "seams")
		want := map[string]float64{}
		var words []string
		for _, level := range []string{"high", "waist", "low"} {
			by := float64(rapid.IntRange(-400, 400).Draw(t, level)) / 10
			if by != 0 {
				want[level] = by
				words = append(words, claim.Claim{Kind: claim.Changes, Measure: measure.Measure{Kind: "girth", Level: level}, By: pattern.Some(by)}.String())
			}
		}
		if len(words) == 0 {
			return
		}
		shared, problems := step.ShareGirth(g, seams, change(t, words...))
		require.Empty(t, problems)
		got := map[string]float64{}
		for _, x := range shared {
			for i, a := range x.Amounts {
				assert.InDelta(t, a.Amount/2, a.Edge, 1e-12)
				one := step.Step{Verb: "let-out", Seam: x.Seam, Amounts: []step.Amount{{MM: max(a.Amount, -a.Amount), At: a.Level}}}
				if a.Amount < 0 {
					one.Verb = "take-in"
				}
				for _, c := range step.Claims(one, g) {
					if c.Kind == claim.Changes && c.Measure.Kind == "girth" {
						assert.Equal(t, shared[0].Amounts[i].Level, c.Measure.Level)
						got[c.Measure.Level] += c.By.Value
					}
				}
			}
		}
		for level, by := range want {
			assert.InDelta(t, by, got[level], 0.003, level)
		}
	})
}

func TestWhatCannotBeShared(t *testing.T) {
	g := panels(t)
	apart := pattern.Clone(g)
	apart.Around = nil
	for _, c := range []struct {
		name    string
		g       *pattern.Garment
		seams   []string
		changes []string
		found   string
	}{
		{"no seam", g, nil, []string{"girth waist -60"}, "no seam to share it over"},
		{"an unknown seam", g, []string{"a-x"}, []string{"girth waist -60"}, `there is no seam "a-x"`},
		{"a seam twice", g, []string{"a-b", "a-b"}, []string{"girth waist -60"}, "seam a-b stands there twice"},
		{"another measure", g, []string{"a-b"}, []string{"width a -60"}, "found width a"},
		{"an unknown level", g, []string{"a-b"}, []string{"girth knee -60"}, `there is no level "knee"`},
		{"nothing", g, []string{"a-b"}, []string{"girth waist +0"}, "changes nothing that can be shared"},
		{"a level twice", g, []string{"a-b"}, []string{"girth waist -60", "girth waist -20"}, "speaks of a level a second time"},
		{"every level and one", g, []string{"a-b"}, []string{"girth -60", "girth waist -20"}, "speaks of a level a second time"},
		{"pieces that do not go round", apart, []string{"a-b"}, []string{"girth waist -60"}, "does not change the girth at waist"},
		{"to one figure at all levels", g, []string{"a-b"}, []string{"girth to 60"}, "is not one known figure"},
	} {
		shared, problems := step.ShareGirth(c.g, c.seams, change(t, c.changes...))
		assert.Nil(t, shared, c.name)
		require.NotEmpty(t, problems, c.name)
		assert.Contains(t, problems[0].Found, c.found, c.name)
	}
}
