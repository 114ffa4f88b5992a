package judge_test

import (
	"maps"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/hooks/judge"
	"seamkeep/pattern/claim"
)

// told measures a message on the change from a version to another one.
func (h *history) told(before, after, message string) *judge.Told {
	s := h.snapshots(before, after)
	t, err := judge.Note(judge.Request{Before: s[0], After: s[1]}, message)
	require.NoError(h.t, err)
	return t
}

func message(lines ...string) string {
	return "Let it out\n\nAlteration: out\nBecause: the fitting\n" + strings.Join(lines, "\n") + "\n"
}

func wider(v vest, by float64) vest {
	v.frontWidth += by
	return v
}

func both(a, b map[string][]byte) map[string][]byte {
	out := maps.Clone(a)
	maps.Copy(out, b)
	return out
}

// wrong lists what is wrong with a note, a short line each.
func wrong(t *judge.Told) []string {
	out := []string{}
	for _, p := range t.Findings() {
		out = append(out, p.ID+": "+p.Found)
	}
	return out
}

// A garment at another path is the same garment: its claims are measured, and what
// changes on the way has to be true.
func TestAFolderThatMovedIsMeasuredAgainstWhereItWas(t *testing.T) {
	h := newHistory(t)
	first := h.keep("first", matching.files("old"))
	second := h.keep("second", wider(matching, 5).files("shop/new"), first)
	assert.Empty(t, wrong(h.told(first, second, message("Changes: girth +10", "Only: front"))))
	assert.Equal(t, []string{"claim.untrue: measured girth at waist 360.0 -> 370.0, +10.0"}, wrong(h.told(first, second, message("Keeps: girth", "Only: front"))))

	s := h.snapshots(first, second)
	folders, err := judge.Folders(judge.Request{Before: s[0], After: s[1]})
	require.NoError(t, err)
	require.Len(t, folders, 1)
	assert.Equal(t, "shop/new", folders[0].Dir)
	assert.Equal(t, "old", folders[0].Was)

	copied := h.keep("copied", both(matching.files("old"), wider(matching, 5).files("copy")), first)
	s = h.snapshots(first, copied)
	folders, err = judge.Folders(judge.Request{Before: s[0], After: s[1]})
	require.NoError(t, err)
	require.Len(t, folders, 1)
	assert.Nil(t, folders[0].Before, "a copy beside what it is a copy of is new")
}

// A finding that a parent had is no new one because the folder moved.
func TestAFolderThatMovedTakesItsFindingsAlong(t *testing.T) {
	bad := matching
	bad.sideTop = 90
	h := newHistory(t)
	first := h.keep("first", bad.files("old"))
	second := h.keep("second", bad.files("new"), first)
	v := h.judge(first, second, func(q *judge.Request) { q.SetKnownApart = true })
	require.Len(t, v.Folders, 1)
	assert.Empty(t, ids(v.Folders[0].Problems))
	assert.NotEmpty(t, ids(v.Folders[0].Known))
}

// In a commit on several folders each alteration speaks of those that know its
// names: what it keeps it keeps in each of them, what it changes changed in one.
func TestSeveralFoldersInOneCommit(t *testing.T) {
	cuff := func(height float64) map[string][]byte {
		return map[string][]byte{
			"cuff/cuff.garment": []byte("seamkeep garment 1\nhalf left\nlevel waist 0\naround band\n"),
			"cuff/pieces/band.piece": []byte("seamkeep piece 1\n\ncorner a 0 40\nedge front\ncorner b 0 -40\nedge low\ncorner c 100 -40\nedge back\ncorner d 100 " +
				map[float64]string{40: "40", 50: "50"}[height] + "\nedge top\n"),
		}
	}
	h := newHistory(t)
	first := h.keep("first", both(matching.files("vest"), cuff(40)))
	second := h.keep("second", both(wider(matching, 5).files("vest"), cuff(50)), first)
	for name, c := range map[string]struct {
		lines []string
		want  []string
	}{
		"a change in one, nothing of the other":  {[]string{"Changes: girth +10", "Only: front, band"}, []string{}},
		"what is kept is kept in both":           {[]string{"Keeps: girth", "Only: front, band"}, []string{"claim.untrue: measured in vest: girth at waist 360.0 -> 370.0, +10.0"}},
		"a name of one":                          {[]string{"Changes: width front +5", "Changes: girth +10", "Only: front, band"}, []string{}},
		"a change that is untrue in both":        {[]string{"Changes: girth +7", "Only: front, band"}, []string{"claim.untrue: measured in cuff: girth at waist 200.0, unchanged", "claim.untrue: measured in vest: girth at waist 360.0 -> 370.0, +10.0"}},
		"a piece of one that no Only names":      {[]string{"Changes: girth +10", "Only: front"}, []string{"claim.untrue: measured in cuff: also changed: band"}},
		"a piece that neither has":               {[]string{"Changes: girth +10", "Only: front, sleeve, band"}, []string{"claim.unknown: there is no piece sleeve"}},
		"what follows for one is not owed there": {[]string{"Changes: length band.back +10", "Only: front, band"}, []string{"claim.unclaimed: no claim names what changed: girth +10.0 at every level"}},
	} {
		t.Run(name, func(t *testing.T) {
			got := wrong(h.told(first, second, message(c.lines...)))
			for i := range got { // one level: both ways to say it
				got[i] = strings.Replace(got[i], "girth 360.0 -> 370.0 at waist", "girth +10.0 at every level", 1)
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// Each measure is followed from the first note that keeps it on; what a note
// declares is set aside, and a revert of it too.
func TestWhatIsKeptSinceAVersion(t *testing.T) {
	h := newHistory(t)
	var steps []judge.Step
	var ids []string
	add := func(name string, v vest, text string) {
		parents := ids
		if len(ids) > 0 {
			parents = ids[len(ids)-1:]
		}
		ids = append(ids, h.keep(text, v.files("."), parents...))
		if len(ids) < 2 {
			return
		}
		s := h.snapshots(ids[len(ids)-2], ids[len(ids)-1])
		steps = append(steps, judge.Step{Name: name, Request: judge.Request{Before: s[0], After: s[1]}, Messages: []string{text}})
	}
	add("base", matching, "base")
	add("before", wider(matching, 20), message("Changes: girth +40"))
	add("keeps", wider(matching, 20.2), message("Keeps: girth, width front"))
	add("creeps", wider(matching, 20.5), message("Keeps: girth"))
	add("declares", wider(matching, 30.5), message("Changes: girth +20", "Changes: width front +10"))
	add("slips", wider(matching, 30.8), "no note at all")
	list, err := judge.KeptSince(steps)
	require.NoError(t, err)
	require.Len(t, list, 2)

	girth, width := list[0], list[1]
	assert.Equal(t, "keeps", girth.Since)
	assert.Equal(t, "Keeps: girth", girth.Claim.Line())
	require.Len(t, girth.Figures, 1)
	// by hand: 2 x (0.2 + 0.3 + 0.3) round the body, 2 x 10 declared
	assert.InDelta(t, 1.6, girth.Figures[0].By, 1e-6)
	assert.InDelta(t, 20, girth.Figures[0].Declared, 1e-6)
	assert.False(t, girth.OK(), "more than 1 mm, though no version moved more than 0.6")
	var names []string
	for _, s := range girth.Figures[0].Shares {
		names = append(names, s.Name)
	}
	assert.Equal(t, []string{"keeps", "creeps", "slips"}, names)
	assert.InDelta(t, 0.8, width.Figures[0].By, 1e-6)
	assert.InDelta(t, 10, width.Figures[0].Declared, 1e-6)
	assert.False(t, width.OK(), "more than 0.5 mm")
}

// A seam declares its edges, and what goes round the body goes together.
func TestWhatADeclaredChangeCovers(t *testing.T) {
	longer := matching
	longer.sideTop = 100
	h := newHistory(t)
	first := h.keep("first", matching.files("."))
	kept := h.keep(message("Keeps: worn, girth"), matching.files("."), first)
	second := h.keep("second", wider(matching, 5).files("."), kept)
	s := h.snapshots(first, kept, second)
	steps := func(last string) []judge.Step {
		return []judge.Step{
			{Name: "kept", Request: judge.Request{Before: s[0], After: s[2]}, Messages: []string{message("Keeps: worn, girth"), last}},
		}
	}
	for text, ok := range map[string]bool{
		message("Changes: girth +10"): true, message("Changes: worn +10"): true, message("Changes: width side +10"): false, "words": false,
		message("Changes: girth +10", "Changes: nonsense"): false,
	} {
		list, err := judge.KeptSince(steps(text))
		require.NoError(t, err)
		require.Len(t, list, 2)
		for _, k := range list {
			assert.Equal(t, ok, k.OK(), "%s: %s", text, k.Claim.Line())
			assert.Equal(t, claim.Keeps, k.Claim.Kind)
		}
	}
}
