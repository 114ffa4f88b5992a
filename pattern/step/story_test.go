package step_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/step"
)

// The figures of the story were computed apart from this program when the story
// was made; they are invented, not published.

const (
	theMove  = "move-seam side-back-back 14 at bust, 10 at under-bust, 6 at waist, 8 at high-hip, 10 at low-hip to side-back"
	theInset = "inset gusset at underarm-side-back out 60 cut 52"
	theTruth = "true side-front-underarm move underarm"
)

// Every step that a note of the story names can be read, prints as it is written,
// and names what exists.
func TestTheStepsOfTheStory(t *testing.T) {
	versions, read := story(t), 0
	for name, v := range versions {
		for _, line := range strings.Split(v.note, "\n") {
			words, ok := strings.CutPrefix(line, "Does: ")
			if !ok {
				continue
			}
			s := parse(t, words)
			assert.Equal(t, words, s.String())
			assert.Empty(t, step.Check(s, versions[v.parent].garment, v.garment), name)
			read++
		}
	}
	assert.Positive(t, read)
}

// F2: w_D' = w_D - d, w_R' = w_R + d, the sum constant. One side alone leaves its
// seam 1.0 mm off, which a seam check of 1.5 passes; the claims do not.
func TestHalfOfAMovedSeamIsNoMovedSeam(t *testing.T) {
	s := story(t)
	before := s["gusset"].garment
	assert.Equal(t, []string{
		"Changes: width side-back at bust +14", "Changes: width side-back at under-bust +10", "Changes: width side-back at waist +6",
		"Changes: width side-back at high-hip +8", "Changes: width side-back at low-hip +10",
		"Changes: width back at bust -14", "Changes: width back at under-bust -10", "Changes: width back at waist -6",
		"Changes: width back at high-hip -8", "Changes: width back at low-hip -10",
		"Keeps: girth", "Keeps: seam gusset-side-back", "Keeps: seam back-button-stand", "Only: side-back, back",
	}, lines(step.Claims(parse(t, theMove), before)))
	assert.Empty(t, untrue(t, before, s["seam-move"].garment, theMove))
	assert.Empty(t, untrue(t, before, s["seam-move, first try"].garment, theMove), "truing is a step of its own")
	assert.Equal(t, []string{"Changes: walk side-back-back to 0"},
		untrue(t, before, s["seam-move, first try"].garment, theMove, "true side-back-back move both"))
	assert.Empty(t, untrue(t, before, s["seam-move"].garment, theMove, "true side-back-back move both"))
	assert.Equal(t, []string{
		"Changes: width back at bust -14", "Changes: width back at under-bust -10", "Changes: width back at waist -6",
		"Changes: width back at high-hip -8", "Changes: width back at low-hip -10", "Keeps: girth",
	}, untrue(t, before, s["half-move"].garment, theMove))
	assert.NotEmpty(t, untrue(t, before, s["seam-move"].garment, strings.Replace(theMove, "to side-back", "to back", 1)), "the other way")
}

// Where only the outermost amounts are named the others lie on a straight line by
// height: at 85 of 0 to 160 between 6 and 14 that is 10.25, and the pattern has 10.
func TestLevelsBetweenFollowAStraightLine(t *testing.T) {
	s := story(t)
	claims := step.Claims(parse(t, "move-seam side-back-back 14 at bust, 6 at waist to side-back"), s["gusset"].garment)
	assert.Contains(t, lines(claims), "Changes: width back at under-bust -10.25")
	assert.Contains(t, lines(claims), "Keeps: width back at high-hip")
	assert.Equal(t, []string{
		"Keeps: width side-back at high-hip", "Keeps: width side-back at low-hip", "Keeps: width back at high-hip", "Keeps: width back at low-hip",
	}, untrue(t, s["gusset"].garment, s["seam-move"].garment, "move-seam side-back-back 14 at bust, 6 at waist to side-back"))
}

// F3: e = m / (1 + s): 60 out, 52 in, 2 (52 - 60) = -16 at rest; at 15 % worn
// 2 (52 * 1.15 - 60) = -0.4.
func TestAnInset(t *testing.T) {
	s := story(t)
	before, after := s["straps"].garment, s["gusset"].garment
	assert.Equal(t, []string{"Changes: girth -16", "Changes: width gusset to 52", "Only: underarm, side-back, gusset, garment"},
		lines(step.Claims(parse(t, theInset), before)))
	assert.Equal(t, []string{"Changes: girth -16", "Changes: worn -0.4", "Changes: width gusset to 52", "Only: underarm, side-back, gusset, garment"},
		lines(step.Claims(parse(t, theInset+" stretch 15"), before)))
	assert.Empty(t, untrue(t, before, after, theInset))
	assert.Empty(t, untrue(t, before, after, theInset+" stretch 15", theTruth))
	assert.Equal(t, []string{"Changes: walk side-front-underarm to 0"}, untrue(t, before, s["gusset, first try"].garment, theInset, theTruth),
		"the underarm was 1.77 longer before truing")
	assert.Equal(t, []string{"Changes: girth -20"}, untrue(t, before, after, "inset gusset at underarm-side-back out 62 cut 52"))
	assert.Equal(t, []string{"Changes: girth -12", "Changes: width gusset to 54"}, untrue(t, before, after, "inset gusset at underarm-side-back out 60 cut 54"))
	assert.Contains(t, strings.Join(step.Unproven(parse(t, theInset), before), "\n"), "no stretch is given for gusset")
	assert.NotContains(t, strings.Join(step.Unproven(parse(t, theInset+" stretch 15"), before), "\n"), "no stretch is given")
}

// F1: elastic let out by 8 adds 16 at rest and 2 * 8 * 1.15 = 18.4 worn, by which
// the gap closes.
func TestAWiderGussetAndASmoothHem(t *testing.T) {
	s := story(t)
	before, after := s["seam-move"].garment, s["wider-gusset"].garment
	wider := []string{"let-out underarm-gusset 4 only gusset", "let-out gusset-side-back 4 only gusset"}
	assert.Equal(t, []string{"Changes: width gusset +4", "Changes: girth +8", "Changes: worn +9.2", "Keeps: seam gusset-side-back", "Only: gusset"},
		lines(step.Claims(parse(t, wider[0]), before)))
	// the wanted gap is written down in the same version
	all := append(wider, "smooth hem", "smooth neckline to underarm-gusset")
	assert.Equal(t, []string{"Only: gusset, front, side-front, underarm, side-back, back, button-stand"}, untrue(t, before, after, all...))
	recorded := *after
	recorded.Wanted, recorded.Options = before.Wanted, before.Options
	assert.Empty(t, untrue(t, before, &recorded, all...))
	assert.Equal(t, []string{"Changes: width gusset +4", "Changes: girth +8", "Changes: worn +9.2"},
		untrue(t, before, &recorded, append(all[1:], "true underarm-gusset")...), "one side of the elastic alone")
	assert.Equal(t, []string{"Changes: turn neckline at back-button-stand to 0 within 4"},
		untrue(t, before, &recorded, append(wider, "smooth hem", "smooth neckline")...), "it bends by 13.5 degrees there until the back neck is lowered")
}

// The seams go from 321 and 328 to 315 and 318, both sides alike, and the free edge
// at centre back from 315 to 309.
func TestALoweredBackNeck(t *testing.T) {
	s := story(t)
	before, after := s["wider-gusset"].garment, s["lower-back-neck"].garment
	words := []string{"trim side-back.top 6 at top-back", "trim back.top 6 at top-front, 10 at top-back",
		"trim button-stand.top 10 at top-front, 6 at top-back", "pivot strap 8 at foot-front"}
	assert.ElementsMatch(t, []string{"Changes: length back.front -6", "Keeps: walk side-back-back", "Changes: length back.back -10",
		"Keeps: walk back-button-stand", "Keeps: girth", "Only: side-back, back, button-stand"}, lines(step.Claims(parse(t, words[1]), before)))
	assert.Empty(t, untrue(t, before, after, words...))
	run := "trim neckline 6 at side-back-back, 10 at back-button-stand, 6 at button-stand.top-back"
	assert.Contains(t, lines(step.Claims(parse(t, run), before)), "Changes: seam back-button-stand -10")
	assert.Empty(t, untrue(t, before, after, run, words[3]))
	assert.Empty(t, untrue(t, before, after, strings.Replace(run, "trim", "lower", 1), words[3]))
	assert.Contains(t, untrue(t, before, after, strings.Replace(run, "trim", "raise", 1), words[3]), "Changes: seam back-button-stand +10")
	half := *after
	half.Pieces = []*pattern.Piece{}
	for _, p := range after.Pieces {
		if p.Name == "back" {
			p = before.Piece("back")
		}
		half.Pieces = append(half.Pieces, p)
	}
	assert.Contains(t, untrue(t, before, &half, words[0], words[2], words[3]), "Keeps: walk side-back-back", "back was left as it was")
	assert.Contains(t, untrue(t, before, &half, run, words[3]), "Changes: seam side-back-back -6")
}

// F1: moving the button stand out by e on both halves adds 2 e to the widths and
// 2 e to the overlap: 24 to 30 is 3 on each half.
func TestAnOverlapKeepsTheGap(t *testing.T) {
	s := story(t)
	before, after := s["lower-back-neck"].garment, s["button-stand"].garment
	const words = "overlap back to 30"
	assert.Equal(t, []string{"Changes: overlap back to 30", "Changes: width button-stand +3", "Keeps: girth", "Keeps: worn", "Only: button-stand, garment"},
		lines(step.Claims(parse(t, words), before)))
	assert.Empty(t, untrue(t, before, after, words))
	forgotten := *after
	forgotten.Closures = before.Closures
	assert.Equal(t, []string{"Changes: overlap back to 30", "Keeps: girth", "Keeps: worn"}, untrue(t, before, &forgotten, words), "the stand alone")
	recorded := *before
	recorded.Closures = after.Closures
	assert.Equal(t, []string{"Changes: width button-stand +3", "Keeps: girth", "Keeps: worn"}, untrue(t, before, &recorded, words), "the record alone")
}

// What one step calls unchanged may be what another one of the note alters.
func TestStepsOfOneAlterationDoNotContradict(t *testing.T) {
	before := story(t)["straps"].garment
	steps := []step.Step{parse(t, theInset), parse(t, "take-in side-front-underarm 4"), parse(t, "true side-back-back")}
	alone := lines(step.Claims(steps[1], before))
	assert.Contains(t, alone, "Keeps: seam underarm-side-back")
	assert.Contains(t, alone, "Changes: width underarm -2")
	parts := step.All(steps, before)
	require.Len(t, parts, 3)
	for _, part := range parts {
		assert.NotContains(t, lines(part), "Keeps: seam underarm-side-back", "the inset ends that seam")
		assert.Equal(t, claim.Only, part[len(part)-1].Kind)
	}
	assert.NotContains(t, lines(parts[1]), "Changes: width underarm -2", "the inset takes an unknown part from it too")
	assert.Contains(t, lines(parts[1]), "Changes: width side-front -2")
	assert.Contains(t, lines(parts[1]), "Keeps: seam front-side-front")
	assert.Equal(t, [][]claim.Claim{step.Claims(steps[0], before)}, step.All(steps[:1], before))
}
