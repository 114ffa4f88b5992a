package step_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/step"
)

func TestNamesThatDoNotExist(t *testing.T) {
	s := story(t)
	g := s["gusset"].garment
	for words, want := range map[string]string{
		"take-in side-back-bak 3":                   "side-back-back",
		"take-in side-back-back 3 at wasit":         "waist",
		"take-in side-back-back 3 only sideback":    "side-back",
		"move-seam side-back-back 3 to bak":         "back",
		"trim sid-back.top 3":                       "side-back",
		"trim side-back.tops 3":                     "side-back.top",
		"trim side-back.top 3 at top-bak":           "top-back",
		"trim nekline 3":                            "neckline",
		"trim neckline 3 at side-back-bak":          "side-back-back",
		"trim neckline 3 at button-stand.top-bck":   "button-stand.top-back",
		"smooth neckline to side-back-bak":          "side-back-back",
		"level hem 250 below wasit":                 "waist",
		"pivot strap 8 at foot-frnt":                "foot-front",
		"overlap bak to 30":                         "back",
		"lengthen 4 at wais":                        "waist",
		"true side-back-back move bck":              "back",
		"inset x at underarm-guset out 3 cut 2":     "underarm-gusset",
		"split undrarm by 0 0 to 1 1 into a b seam": "",
	} {
		st, problems := step.Parse(words, place())
		if want == "" {
			require.NotEmpty(t, problems)
			continue
		}
		require.Empty(t, problems, words)
		problems = step.Check(st, g)
		require.Len(t, problems, 1, words)
		assert.Equal(t, step.UnknownName, problems[0].ID, words)
		assert.Equal(t, "did you mean "+want+"?", problems[0].Hint, words)
		assert.True(t, problems.HasErrors())
	}
	assert.Empty(t, step.Check(parse(t, "true gusset-side-back"), s["straps"].garment, g), "a seam that an earlier step made")
	assert.Len(t, step.Check(parse(t, "true gusset-side-back"), s["straps"].garment), 1)
	assert.Empty(t, step.Check(parse(t, "true x-y")), "no version, nothing to look up in")
	assert.Empty(t, step.Check(parse(t, "true x-y"), nil))
	p := step.Check(parse(t, "take-in side-back-back 3 at waist, 4 at hipp"), g)[0]
	assert.Equal(t, "message:5:47", p.Place.String())
	assert.Equal(t, `there is no level "hipp"; expected one of bust, under-bust, waist, high-hip, low-hip`, p.Message())
}

func TestStepsThatCannotBeMadeThere(t *testing.T) {
	s := story(t)
	g := s["card-1"].garment
	for _, words := range []string{
		"take-in side-back-back 3 only front",
		"move-seam side-back-back 3 to front",
		"true side-back-back move front",
		"raise front.front 3",
		"trim neckline 6 at front-side-front, 6 at side-back-back",
		"trim hem 6 at hem-front",
		"smooth neckline from side-back-back to front-side-front",
		"smooth neckline to x-y",
		"level neckline 100 above bust-line",
		"split back by 500 0 to 23 0 into a b seam c",
		"split back by 23 0 to 23 0.2 into a b seam c",
	} {
		problems := step.Check(parse(t, words), g)
		require.NotEmpty(t, problems, words)
		assert.NotEmpty(t, problems[0].Expected)
	}
	p := step.Check(parse(t, "trim neckline 6 at front-side-front, 6 at side-back-back"), g)[0]
	assert.Equal(t, "there is no amount at side-front-underarm, underarm-gusset, gusset-side-back, which lies between others; expected one at every seam from the first named to the last", p.Message())
	p = step.Check(parse(t, "trim hem 6 at hem-front"), g)[0]
	assert.Contains(t, p.Found, `"hem-front" is the name of 7 corners of hem`)
	short := twoPanels(t, straight(100), straight(0))
	short.Levels = append(short.Levels, pattern.Level{Name: "neck", Y: 300})
	p = step.Check(parse(t, "take-in a-b 3 at neck"), short)[0]
	assert.Equal(t, "seam a-b does not pass level neck; expected one of high, waist, low", p.Message())
	for _, words := range []string{theMove, "take-in side-back-back 3", "level hem 112 below waist", "smooth hem from front-side-front", "join side-back-back into back",
		"split back by -21 0 to 23 0 into a b seam c", "raise neckline 3", "lower button-stand.hem 3 at back-button-stand"} {
		assert.Empty(t, step.Check(parse(t, words), g), words)
	}
}

// A garment that says little, or is broken, gives few claims and no panic.
func TestStepsOnPoorGarments(t *testing.T) {
	broken := pattern.Clone(story(t)["base"].garment)
	for _, p := range broken.Pieces {
		p.Corners = p.Corners[:2]
	}
	lacking := pattern.Clone(story(t)["base"].garment)
	lacking.Pieces = lacking.Pieces[:1]
	bare := pattern.Clone(story(t)["base"].garment)
	bare.Levels, bare.Around = nil, nil
	for _, f := range step.Forms() {
		for _, words := range f.Examples {
			s := parse(t, words)
			for _, g := range []*pattern.Garment{nil, {}, broken, lacking, bare} {
				assert.NotPanics(t, func() {
					step.Check(s, g)
					step.Claims(s, g)
					step.Unproven(s, g)
					step.All([]step.Step{s, s}, g)
				}, words)
			}
		}
	}
	assert.Nil(t, step.Claims(parse(t, theMove), nil))
	assert.NotContains(t, lines(step.Claims(parse(t, theMove), bare)), "Keeps: girth")
}
