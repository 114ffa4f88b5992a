package claim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
)

// Every note of the story is true but one: half-move says that it keeps the girth.
func TestTheNotesOfTheStory(t *testing.T) {
	versions, body := story(t), ringer(t)
	for name, v := range versions {
		if v.parent == "" {
			continue
		}
		c := compare.Garments(versions[v.parent].garment, v.garment, compare.Options{Body: body})
		claims := parse(t, noteLines(v.note)...)
		require.NotEmpty(t, claims, name)
		assert.Empty(t, claim.Check(c, claims), name)
		assert.Empty(t, claim.Contradictions(claims), name)
		var untrue []string
		for _, r := range claim.Judge(c, claims) {
			if !r.OK {
				untrue = append(untrue, r.Claim.Line())
			}
		}
		switch name {
		case "half-move":
			assert.Equal(t, []string{"Keeps: girth"}, untrue)
		case "gusset, first try":
			assert.Equal(t, []string{"Keeps: seam side-front-underarm"}, untrue, "the underarm was 1.77 longer before truing")
		case "seam-move, first try":
			assert.Equal(t, []string{"Changes: turn neckline at side-back-back to 0", "Keeps: seam side-back-back"}, untrue,
				"322.0 against 319.5 before truing, and the neckline not yet drawn on")
		default:
			assert.Empty(t, untrue, name)
			assert.Empty(t, claim.Unclaimed(c, claims), name)
		}
	}
}

// The figures are the differences of the widths in the two versions, on both
// halves: side-back gained 14, 10, 6, 8 and 10 and back gave nothing. The girths
// before are body - reduction + 13 - gap - 15 % of two gussets of 52.
func TestHalfOfAMoveDoesNotKeepTheGirth(t *testing.T) {
	c := from(t, "gusset", "half-move", ringer(t))
	r := judgeOne(t, c, "Keeps: girth")
	assert.False(t, r.OK)
	assert.Empty(t, r.Unknown)
	assert.Equal(t, "girth at every level unchanged, within 1", r.Claimed)
	assert.Equal(t, "girth at bust 847.0 -> 875.0, +28.0; at under-bust 717.0 -> 737.0, +20.0; at waist 617.0 -> 629.0, +12.0; "+
		"at high-hip 767.0 -> 783.0, +16.0; at low-hip 827.0 -> 847.0, +20.0", r.Measured)
	assert.Equal(t, []string{
		"side-back.back let out 14.0 at bust, 10.0 at under-bust, 6.0 at waist, 8.0 at high-hip, 10.0 at low-hip; nothing was taken from another piece",
	}, r.Where)
	r = judgeOne(t, c, "Keeps: gap front at bust")
	assert.Equal(t, "gap front at bust 52.4 -> 24.4, -28.0", r.Measured)
	assert.Equal(t, []string{"side-back.back let out 14.0 at bust; nothing was taken from another piece"}, r.Where)
	r = judgeOne(t, c, "Only: back")
	assert.Equal(t, "also changed: side-back", r.Measured)
	assert.Equal(t, []string{"back is named and did not change"}, r.Notes)
	require.Len(t, r.Where, 1)
	assert.Contains(t, r.Where[0], "side-back: ")
	assert.Contains(t, r.Where[0], "back let out 14.0 at bust, 10.0 at under-bust")
	back := judgeOne(t, from(t, "half-move", "gusset", ringer(t)), "Keeps: girth bust")
	assert.Equal(t, []string{"side-back.back taken in 14.0 at bust; nothing was given to another piece"}, back.Where)
}

func TestBothHalvesOfAMoveKeepTheGirth(t *testing.T) {
	c := from(t, "gusset", "seam-move", ringer(t))
	for _, line := range []string{"Keeps: girth", "Keeps: girth within 0", "Keeps: worn", "Keeps: gap front within 0", "Only: side-back, back",
		"Changes: width side-back at high-hip +8 within 0", "Changes: width back at low-hip -10", "Keeps: seam side-back-back within 0.03"} {
		allTrue(t, claim.Judge(c, parse(t, line)), line)
	}
	r := judgeOne(t, c, "Keeps: width back")
	assert.False(t, r.OK)
	assert.Equal(t, []string{"back.front taken in 14.0 at bust, 10.0 at under-bust, 6.0 at waist, 8.0 at high-hip, 10.0 at low-hip"}, r.Where)
	assert.NotContains(t, r.Where[0], "another piece")
}

// 60 of cloth went, 52 of elastic came: 16 over both halves. Worn at 15 % the
// elastic is 59.8 wide, so that the gap opens by 0.4.
func TestAGussetThatFillsWhenWorn(t *testing.T) {
	c := from(t, "straps", "gusset", ringer(t))
	for _, line := range []string{"Changes: girth -16 within 0", "Changes: worn -0.4 within 0.001", "Keeps: gap front",
		"Changes: gap front +0.4 within 0.001", "Changes: gap front at bust to 52.4 within 0", "Only: underarm, gusset, side-back, garment"} {
		allTrue(t, claim.Judge(c, parse(t, line)), line)
	}
	r := judgeOne(t, c, "Keeps: girth bust")
	assert.Equal(t, "girth at bust 863.0 -> 847.0, -16.0", r.Measured)
	assert.Contains(t, r.Where[0]+r.Where[1]+r.Where[2], "gusset added, 52.0 wide at bust")
	r = judgeOne(t, c, "Keeps: width gusset")
	assert.False(t, r.OK)
	assert.Contains(t, r.Unknown, "there is no piece gusset")
	r = judgeOne(t, c, "Changes: width gusset to 52")
	assert.True(t, r.OK, "what is to be needs no earlier version")
	r = judgeOne(t, c, "Only: underarm, gusset, side-back")
	assert.Equal(t, "also changed: garment", r.Measured)
	assert.Equal(t, []string{"the garment file changed: around, settings of gusset added, seam underarm-gusset added, seam gusset-side-back added, and 3 more"}, r.Where)
	wider := judgeOne(t, from(t, "seam-move", "wider-gusset", ringer(t)), "Keeps: girth")
	assert.Equal(t, []string{"gusset.front let out 4.0 at every level; nothing was taken from another piece", "gusset.back let out 4.0 at every level"}, wider.Where)
}

// 3 wider on each half and 6 more overlap: the gap stays. Had the overlap been
// forgotten, the gap at the bust would be 28 where it was 34.
func TestAButtonStandMovesNoGap(t *testing.T) {
	c := from(t, "lower-back-neck", "button-stand", ringer(t))
	allTrue(t, claim.Judge(c, parse(t, "Keeps: girth, gap front", "Changes: overlap back +6", "Changes: overlap back to 30",
		"Changes: width button-stand +3", "Only: button-stand, garment")), "button-stand")
	s := story(t)
	forgotten := *s["button-stand"].garment
	forgotten.Closures = s["lower-back-neck"].garment.Closures
	c = compare.Garments(s["lower-back-neck"].garment, &forgotten, compare.Options{Body: ringer(t)})
	r := judgeOne(t, c, "Keeps: gap front")
	assert.False(t, r.OK)
	assert.Contains(t, r.Measured, "at bust 34.0 -> 28.0, -6.0")
	require.NotEmpty(t, r.Where)
	assert.Contains(t, r.Where[0], "button-stand.back let out 3.0 at every level")
	assert.Contains(t, r.Where[0], "nothing was taken from another piece")
	halved := s["button-stand"].garment
	c = compare.Garments(halved, &forgotten, compare.Options{Body: ringer(t)})
	r = judgeOne(t, c, "Keeps: girth bust")
	assert.Equal(t, []string{"overlap of back 30 -> 24"}, r.Where)
}

// Without a body what a gap is cannot be told; by how much it changed can, since the
// body stands in it as a summand. So the same claims are true and untrue of either.
func TestAGapWithoutABody(t *testing.T) {
	c, with := from(t, "gusset", "half-move", nil), from(t, "gusset", "half-move", ringer(t))
	r := judgeOne(t, c, "Changes: gap front at bust to 24.4")
	assert.False(t, r.OK)
	assert.True(t, r.NoBody)
	assert.Contains(t, r.Unknown, "no body here")
	p, wrong := r.Problem()
	require.True(t, wrong)
	assert.Equal(t, diag.Warning, p.Severity)
	assert.Equal(t, claim.Untold, p.ID)
	for line, ok := range map[string]bool{
		"Changes: gap front at bust -28": true, "Changes: gap front at bust +1": false, "Keeps: gap front": false, "Changes: gap front -12": false,
	} {
		assert.Equal(t, ok, judgeOne(t, c, line).OK, line)
		assert.Equal(t, ok, judgeOne(t, with, line).OK, line)
	}
	assert.Equal(t, "gap front at bust -28.0", judgeOne(t, c, "Changes: gap front at bust -28").Measured)
	assert.Equal(t, "gap front at bust unchanged", judgeOne(t, from(t, "base", "straps", nil), "Keeps: gap front at bust").Measured)

	laced := pattern.Clone(c.After)
	laced.Closures = append(laced.Closures, pattern.Closure{Name: "back-lacing", Kind: pattern.Lacing})
	r = judgeOne(t, compare.Garments(c.Before, laced, compare.Options{}), "Keeps: gap front at bust")
	assert.True(t, r.NoBody, "with another number of lacings the body counts")
	p, wrong = judgeOne(t, c, "Keeps: girth bust").Problem()
	require.True(t, wrong)
	assert.Equal(t, diag.Error, p.Severity)
	assert.Equal(t, claim.Untrue, p.ID)
	assert.Equal(t, "message:1:8", p.Place.String())
	assert.Equal(t, "measured girth at bust 847.0 -> 875.0, +28.0; claimed girth at bust unchanged, within 1", p.Message())
}

func TestWhatNoClaimNames(t *testing.T) {
	c := from(t, "gusset", "half-move", ringer(t))
	subject := func(lines ...string) string {
		list := claim.Unclaimed(c, parse(t, lines...))
		if len(list) == 0 {
			return ""
		}
		require.Len(t, list, 1, "one cause, one finding")
		assert.Equal(t, claim.UnclaimedID, list[0].ID)
		assert.Equal(t, diag.Warning, list[0].Severity)
		return list[0].Subject
	}
	assert.Equal(t, "girth, side-back", subject(), "whoever names the girth names the gap")
	assert.Equal(t, "girth", subject("Only: side-back"))
	assert.Equal(t, "side-back", subject("Keeps: girth"), "the girth is named, truly or not, and the gap follows from it")
	assert.Equal(t, "side-back", subject("Changes: girth +12"), "the gap follows from the girth")
	assert.Equal(t, "girth, side-back", subject("Changes: girth bust +28", "Keeps: area side-back"), "at the other levels; what is kept says of no piece that it changed")
	assert.Equal(t, "girth", subject("Changes: girth bust +28", "Changes: area side-back +3000"))
	assert.Equal(t, "girth, side-back", subject("Keeps: girth within 50", "Changes: worn +12 within 99"), "what lets anything pass says nothing")
	assert.Empty(t, subject("Changes: gap front +12", "Changes: seam side-back-back +1"))

	p := claim.Unclaimed(c, nil)[0]
	assert.Equal(t, "add to the note what you meant, as it was measured:\nChanges: girth bust +28\nChanges: girth under-bust +20\nChanges: girth waist +12\nChanges: girth high-hip +16\nChanges: girth low-hip +20\nOnly: side-back", p.Hint)
	assert.Equal(t, "no claim names what changed: girth 847.0 -> 875.0 at bust, 717.0 -> 737.0 at under-bust, 617.0 -> 629.0 at waist, "+
		"767.0 -> 783.0 at high-hip, 827.0 -> 847.0 at low-hip; side-back changed; expected each of it in a claim", p.Message())
	require.Len(t, p.Related, 1)
	assert.Equal(t, "side-back", p.Related[0].Place.Piece)
	p = claim.Unclaimed(from(t, "straps", "gusset", ringer(t)), nil)[0]
	assert.Contains(t, p.Found, "girth -16.0 at every level; ")
	assert.Contains(t, p.Found, "gusset was added; ")
	assert.Contains(t, p.Found, "the garment file changed: ")
	assert.Contains(t, p.Hint, "Changes: girth -16\nOnly: underarm, gusset, side-back, garment")
	allTrue(t, claim.Judge(c, parse(t, "Changes: girth bust +28", "Only: side-back")), "the hints")
}

// What is recorded of the whole garment is as much a change as a line that moved:
// another spacing of the buttons has to be named though no piece is redrawn.
func TestTheGarmentFileAloneOwesAClaim(t *testing.T) {
	before := story(t)["card-1"].garment
	after := pattern.Clone(before)
	for i := range after.Buttons {
		after.Buttons[i].Pitch = pattern.Some(26)
	}
	c := compare.Garments(before, after, compare.Options{})
	list := claim.Unclaimed(c, parse(t, "Keeps: girth"))
	require.Len(t, list, 1)
	assert.Equal(t, claim.Garment, list[0].Subject)
	assert.Contains(t, list[0].Found, "buttons back")
	assert.Contains(t, list[0].Hint, "Only: garment")
	assert.Empty(t, claim.Unclaimed(c, parse(t, "Changes: pitch back to 26")))
	assert.Empty(t, claim.Unclaimed(c, parse(t, "Only: garment")))
	assert.Len(t, claim.Unclaimed(c, parse(t, "Keeps: pitch back")), 1)

	// larger buttons are no matter of their pitch, nor another edge one of the overlap
	after.Buttons[0].Diameter = pattern.Some(20)
	larger := compare.Garments(before, after, compare.Options{})
	assert.Len(t, claim.Unclaimed(larger, parse(t, "Changes: pitch back to 26")), 1)
	assert.Empty(t, claim.Unclaimed(larger, parse(t, "Changes: pitch back to 26", "Only: garment")))
	moved := pattern.Clone(before)
	moved.Closure("back").Overlap, moved.Closure("back").Edges[0].Edge = pattern.Some(40), "front"
	assert.Len(t, claim.Unclaimed(compare.Garments(before, moved, compare.Options{}), parse(t, "Changes: overlap back to 40")), 1)
}

// What is offered is true, names everything that moved, and can be read again.
func TestSuggestionsForTheStory(t *testing.T) {
	lines := func(before, after string) []string {
		c := from(t, before, after, ringer(t))
		claims := claim.Suggest(c)
		allTrue(t, claim.Judge(c, claims), after)
		assert.Empty(t, claim.Unclaimed(c, claims), after)
		assert.Empty(t, claim.Contradictions(claims), after)
		var out []string
		for _, x := range claims {
			out = append(out, x.Line())
		}
		return out
	}
	assert.Equal(t, []string{"Keeps: girth", "Only: strap"}, lines("base", "straps"))
	assert.Equal(t, []string{"Changes: girth -16", "Keeps: gap front", "Only: underarm, gusset, side-back, garment"}, lines("straps", "gusset"))
	assert.Equal(t, []string{"Changes: girth bust +28", "Changes: girth under-bust +20", "Changes: girth waist +12",
		"Changes: girth high-hip +16", "Changes: girth low-hip +20", "Only: side-back"}, lines("gusset", "half-move"))
	assert.Equal(t, []string{"Keeps: girth", "Only: side-back, back"}, lines("gusset", "seam-move"))
	assert.Equal(t, []string{"Changes: overlap back +6", "Keeps: girth", "Keeps: gap front", "Only: button-stand, garment"}, lines("lower-back-neck", "button-stand"))
	assert.Equal(t, []string{"Changes: seam side-back-back -6", "Changes: seam back-button-stand -10", "Keeps: girth",
		"Only: side-back, back, button-stand, strap"}, lines("wider-gusset", "lower-back-neck"))
	assert.Empty(t, lines("gusset", "undo-half-move"), "nothing changed")
}
