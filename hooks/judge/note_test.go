package judge_test

import (
	"maps"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/hooks/judge"
	"seamkeep/repo"
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
		steps = append(steps, judge.Step{Name: name, Request: judge.Request{Before: s[0], After: s[1]}, Message: text})
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

// step is one version after another in KeptSince.
func (h *history) step(name, before, after, text string, brought ...judge.Step) judge.Step {
	s := h.snapshots(before, after)
	return judge.Step{Name: name, Request: judge.Request{Before: s[0], After: s[1]}, Message: text, Brought: brought}
}

// kept tells what became of each measure: how far it moved undeclared and declared.
func kept(t *testing.T, steps ...judge.Step) map[string][2]float64 {
	list, err := judge.KeptSince(steps)
	require.NoError(t, err)
	out := map[string][2]float64{}
	for _, k := range list {
		require.Empty(t, k.Unknown)
		require.Len(t, k.Figures, 1)
		f := k.Figures[0]
		round := func(v float64) float64 { return math.Round(v*1000)/1000 + 0 }
		out[k.Claim.String()] = [2]float64{round(f.By), round(f.Declared)}
	}
	return out
}

// What goes round the body goes together: a change of one declares the others.
func TestWhatADeclaredChangeCovers(t *testing.T) {
	other := matching
	other.tolerance = 1.4
	h := newHistory(t)
	first := h.keep("first", matching.files("."))
	second := h.keep("second", other.files("."), first)
	third := h.keep("third", wider(other, 5).files("."), second)
	keeps := h.step("keeps", first, second, message("Keeps: worn, girth, width front"))
	for text, want := range map[string]map[string][2]float64{
		message("Changes: girth +10"):                            {"worn": {0, 10}, "girth": {0, 10}, "width front": {5, 0}},
		message("Changes: worn +10"):                             {"worn": {0, 10}, "girth": {0, 10}, "width front": {5, 0}},
		message("Changes: width front +5"):                       {"worn": {10, 0}, "girth": {10, 0}, "width front": {0, 5}},
		message("Changes: girth +10", "Changes: nonsense"):       {"worn": {10, 0}, "girth": {10, 0}, "width front": {5, 0}},
		message("Keeps: girth within 50, width front within 50"): {"worn": {10, 0}, "girth": {10, 0}, "width front": {5, 0}},
	} {
		assert.Equal(t, want, kept(t, keeps, h.step("changes", second, third, text)), text)
	}
}

// A merge counts version by version, each by its own note; what it did beside them is
// its own.
func TestWhatIsKeptOverAMerge(t *testing.T) {
	h := newHistory(t)
	base := h.keep("base", matching.files("."))
	declared := h.keep("declared", wider(matching, 4).files("."), base)
	crept := h.keep("crept", wider(matching, 4.4).files("."), declared)
	other := wider(matching, 0)
	other.sideWidth += 0.3
	main := h.keep("main", other.files("."), base)
	both := wider(matching, 4.4)
	both.sideWidth += 0.3
	merge := h.keep("merge", both.files("."), main, crept)
	worse := both
	worse.sideWidth += 30
	evil := h.keep("evil", worse.files("."), main, crept)

	beside := []judge.Step{
		h.step("declared", base, declared, message("Changes: girth +8")),
		h.step("crept", declared, crept, message("Keeps: width front")),
	}
	line := h.step("main", base, main, message("Keeps: girth"))
	assert.Equal(t, map[string][2]float64{"girth": {1.4, 8}, "width front": {0.4, 0}}, kept(t, line, h.step("merge", main, merge, "Merge", beside...)),
		"2 x 0.3 on the line and 2 x 0.4 beside it; the width is kept from crept on")
	assert.Equal(t, map[string][2]float64{"girth": {61.4, 8}, "width front": {0.4, 0}}, kept(t, line, h.step("evil", main, evil, "Merge", beside...)),
		"2 x 30 are the merge's own")
}

// What a revert takes back goes as it came: undeclared where it was undeclared.
func TestWhatIsKeptOverAVersionAndItsRevert(t *testing.T) {
	h := newHistory(t)
	crept, declared := message("Keeps: girth"), message("Changes: girth +8")
	base := h.keep("base", matching.files("."))
	one := h.keep(crept, wider(matching, 0.4).files("."), base)
	two := h.keep("Revert", matching.files("."), one)
	three := h.keep(declared, wider(matching, 4).files("."), two)
	four := h.keep("Revert", matching.files("."), three)
	undo := func(s judge.Step, before, after string) judge.Step {
		states := h.snapshots(before, after)
		s.Request.Undone = func(string) []judge.Undone { return []judge.Undone{{Before: states[0], After: states[1]}} }
		return s
	}
	assert.Equal(t, map[string][2]float64{"girth": {0, 0}}, kept(t,
		h.step("one", base, one, crept), undo(h.step("two", one, two, "Revert"), base, one),
		h.step("three", two, three, declared), undo(h.step("four", three, four, "Revert"), two, three)))
}

// What a version takes away is kept until then, and a fault in between hides nothing.
func TestWhatIsKeptEndsWithIt(t *testing.T) {
	h := newHistory(t)
	base := h.keep("base", matching.files("."))
	crept := h.keep("crept", wider(matching, 0.4).files("."), base)
	files := wider(matching, 0.4).files(".")
	delete(files, "pieces/side.piece")
	files["vest.garment"] = []byte("seamkeep garment 1\nhalf left\nbody ringer\nlevel waist 0\naround front\nclosure front lacing front.front\n")
	gone := h.keep("gone", files, crept)
	list, err := judge.KeptSince([]judge.Step{
		h.step("crept", base, crept, message("Keeps: width side, width front")),
		h.step("gone", crept, gone, message("Only: side, garment")),
	})
	require.NoError(t, err)
	require.Len(t, list, 2)
	assert.Equal(t, "gone", list[0].Until)
	assert.True(t, list[0].OK())
	assert.Empty(t, list[1].Until)
}

// A version that cannot be read whole is passed over: the next is measured against the
// last one that can.
func TestAFaultyVersionHidesNoChange(t *testing.T) {
	h := newHistory(t)
	required := func(v vest, more string) map[string][]byte {
		files := v.files(".")
		files["vest.garment"] = []byte(strings.Replace(string(files["vest.garment"]), "half left", "half left\nrequire claims"+more, 1))
		return files
	}
	base := h.keep("base", required(matching, ""))
	faulty := h.keep("faulty", required(wider(matching, 5), "\nnonsense"), base)
	mended := h.keep("mended", required(wider(matching, 5), ""), faulty)
	s := h.snapshots(base, faulty, mended)
	q := judge.Request{Before: s[1], After: s[2]}
	told, err := judge.Note(q, "mend it")
	require.NoError(t, err)
	assert.Equal(t, []string{"claim.unmeasured: what this note claims was not measured: the version before cannot be read whole"}, wrong(told))
	assert.True(t, told.Findings().HasErrors())
	q.Earlier = func(*repo.Snapshot) *repo.Snapshot { return s[0] }
	told, err = judge.Note(q, message("Only: garment"))
	require.NoError(t, err)
	assert.Contains(t, wrong(told), "claim.untrue: measured also changed: front")
	told, err = judge.Note(q, message("Changes: girth +10", "Only: front"))
	require.NoError(t, err)
	assert.Empty(t, wrong(told))

	told, err = judge.Note(judge.Request{Before: s[0], After: s[1]}, message("Only: garment", "Unfinished: text.word"))
	require.NoError(t, err)
	assert.Contains(t, wrong(told), "claim.unmeasured: what changed cannot be measured: this version cannot be read whole")
	assert.True(t, told.Findings().HasErrors())
}

// A garment that requires claims does not go without a word.
func TestAGarmentThatGoesOwesANote(t *testing.T) {
	h := newHistory(t)
	files := matching.files("vest")
	files["vest/vest.garment"] = []byte(strings.Replace(string(files["vest/vest.garment"]), "half left", "half left\nrequire claims", 1))
	base := h.keep("base", files)
	gone := h.keep("gone", map[string][]byte{"README": []byte("x")}, base)
	assert.Equal(t, []string{"claim.unclaimed: the pattern in vest goes, and no note says so"}, wrong(h.told(base, gone, "gone")))
	assert.Empty(t, wrong(h.told(base, gone, message())))

	other := wider(matching, 5).files("w") // another path and another name, with pieces of the same names
	other["w/coat.garment"] = other["w/vest.garment"]
	delete(other, "w/vest.garment")
	moved := h.keep("moved", other, base)
	assert.Contains(t, wrong(h.told(base, moved, "moved"))[0], "girth 360.0 -> 370.0 at waist")
}

// What was offered for a note is no note.
func TestWordsOfATemplateAreNoNote(t *testing.T) {
	h := newHistory(t)
	base := h.keep("base", matching.files("."))
	next := h.keep("next", wider(matching, 5).files("."), base)
	got := wrong(h.told(base, next, "x\n\nAlteration: NAME\nBecause: WHY\nChanges: girth +10\nOnly: front\n"))
	assert.Contains(t, got, `note.offered: found "NAME", as it was offered`)
	assert.Contains(t, got, `note.offered: found "WHY", as it was offered`)
}
