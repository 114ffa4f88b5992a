package judge_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/hooks/judge"
	"seamkeep/repo"
)

// requiring is a version in which claims are required.
func (v vest) requiring(dir string) map[string][]byte {
	files := v.files(dir)
	for name, text := range files {
		files[name] = []byte(strings.Replace(string(text), "half left", "half left\nrequire claims", 1))
	}
	return files
}

// undoing measures a message that undoes commits, each from and to a version.
func (h *history) undoing(before, after string, pairs ...[2]string) []string {
	s := h.snapshots(before, after)
	q := judge.Request{Before: s[0], After: s[1], Undone: func(string) []judge.Undone {
		var out []judge.Undone
		for _, p := range pairs {
			u := h.snapshots(p[0], p[1])
			out = append(out, judge.Undone{Before: u[0], After: u[1]})
		}
		return out
	}}
	t, err := judge.Note(q, "Revert\n\nThis reverts commit 0123456789.")
	require.NoError(h.t, err)
	out := wrong(t)
	for _, p := range t.Problems {
		if why, _, found := strings.Cut(p.Hint, ": add to the note"); found {
			out = append(out, why)
		}
	}
	return out
}

// moved is width that goes from the front to the side, so that the girth stays.
func moved(v vest, by float64) vest {
	v.frontWidth -= by
	v.sideWidth += by
	return v
}

// A revert is proven by the records that got back what they had: all that still stand
// as they were made, and no others.
func TestWhatARevertUndoes(t *testing.T) {
	h := newHistory(t)
	keep := func(v vest) string { return h.keep("x", v.requiring(".")) }
	base, both := keep(matching), keep(moved(matching, 10))
	front := keep(vest{100, 90, 100, 1.5})
	looser := matching
	looser.tolerance = 1.4
	owed := "claim.unclaimed: no claim names what changed: girth 360.0 -> 380.0 at waist; front changed"

	assert.Empty(t, h.undoing(both, base, [2]string{base, both}), "the whole")
	assert.Equal(t, []string{owed, "some of what it says it undoes still stands in side"}, h.undoing(both, front, [2]string{base, both}), "half of a change of two pieces")
	assert.Equal(t, []string{"claim.unclaimed: no claim names what changed: front changed; side changed; the garment file changed: tolerance seam changed", "what it says it undoes was not done so in the garment file"},
		h.undoing(both, keep(looser), [2]string{base, both}), "something else as well")
	assert.Equal(t, []string{"claim.unclaimed: no claim names what changed: front changed; side changed", "what it says it undoes is not among the versions before it"}, h.undoing(both, base))

	// the front changed again since, so it is mended by hand
	later := keep(vest{95, 90, 100, 1.5})
	assert.Empty(t, h.undoing(later, keep(vest{105, 80, 100, 1.5}), [2]string{base, both}), "as far as it went")
	assert.Equal(t, []string{"claim.unclaimed: no claim names what changed: girth 370.0 -> 350.0 at waist; side changed", "the girth does not go back as far as it went"},
		h.undoing(later, keep(vest{95, 80, 100, 1.5}), [2]string{base, both}))
	assert.Equal(t, []string{"claim.unclaimed: no claim names what changed: front changed; side changed", "the width of side does not go back as far as it went"},
		h.undoing(later, keep(vest{100, 85, 100, 1.5}), [2]string{base, both}))
	assert.Empty(t, h.undoing(later, base, [2]string{base, both}, [2]string{both, later}), "two in one")

	// what was added goes
	notched := matching.requiring(".")
	notched["pieces/front.piece"] = append(notched["pieces/front.piece"], "\nnotch waist on back at waist\n"...)
	added := h.keep("added", notched)
	assert.Empty(t, h.undoing(added, base, [2]string{base, added}))
}

// A folder that comes back is measured against what it last was; the revert of its
// going, and of its coming back, says enough.
func TestAFolderThatComesBack(t *testing.T) {
	h := newHistory(t)
	files := both(matching.requiring("vest"), matching.requiring("spare")) // two garments of one name
	alone := matching.requiring("vest")
	stood, gone, back := h.keep("stood", files), h.keep("gone", alone), h.keep("back", files)
	other := h.keep("other", both(alone, wider(matching, 5).requiring("spare")))
	s := h.snapshots(stood, gone, back, other)
	told := func(q judge.Request, message string) []string {
		q.Touched = func(string) []*repo.Snapshot { return s[1:2] }
		q.Earlier = func(at *repo.Snapshot) *repo.Snapshot {
			if at == s[1] {
				return s[0]
			}
			return nil
		}
		t, err := judge.Note(q, message)
		require.NoError(h.t, err)
		return wrong(t)
	}
	assert.Empty(t, told(judge.Request{Before: s[1], After: s[2]}, "back"), "as it was")
	assert.Equal(t, []string{"claim.unclaimed: no claim names what changed: girth 360.0 -> 370.0 at waist; front changed"},
		told(judge.Request{Before: s[1], After: s[3]}, "back"), "altered meanwhile")
	assert.Empty(t, told(judge.Request{Before: s[1], After: s[3]}, message("Changes: girth +10", "Only: front")))

	assert.Empty(t, h.undoing(gone, back, [2]string{stood, gone}), "the revert of its going")
	assert.Empty(t, h.undoing(back, gone, [2]string{gone, back}), "and the revert of that")
	assert.Equal(t, []string{"claim.unclaimed: the pattern in spare goes, and no note says so"}, h.undoing(other, gone, [2]string{gone, back}), "it is no longer as it came")
}

// Other names for the folder, the garment and its pieces hide no change.
func TestAFolderMovedUnderOtherNames(t *testing.T) {
	h := newHistory(t)
	base := h.keep("base", matching.requiring("."))
	other := map[string][]byte{}
	for name, text := range wider(matching, 5).requiring("w") {
		name = strings.NewReplacer("vest.garment", "coat.garment", "front.piece", "fore.piece", "side.piece", "flank.piece").Replace(name)
		other[name] = []byte(strings.NewReplacer("around front side", "around fore flank", "front.back side.front", "fore.back flank.front", "lacing front.front", "lacing fore.front").Replace(string(text)))
	}
	got := wrong(h.told(base, h.keep("moved", other), message()))
	require.Len(t, got, 1)
	assert.Contains(t, got[0], "girth 360.0 -> 370.0 at waist")
}

// A merge answers for what its sides did not do, nor all of them together.
func TestWhatAMergeDoesByItself(t *testing.T) {
	h := newHistory(t)
	keep := func(v vest) string { return h.keep("x", v.requiring(".")) }
	base := keep(matching)
	merge := func(base, ours, theirs, result string) []string {
		s := h.snapshots(ours, result, theirs)
		q := judge.Request{Before: s[0], After: s[1], Merge: []judge.Parent{{Name: "ours", Snapshot: s[0]}, {Name: "theirs", Snapshot: s[2]}}}
		if base != "" {
			q.Base = h.snapshots(base)[0]
		}
		told, err := judge.Note(q, "Merge")
		require.NoError(t, err)
		return wrong(told)
	}
	narrow, wide := keep(wider(matching, 4)), keep(wider(matching, 8))
	otherwise := matching
	otherwise.tolerance = 1.4
	mended := otherwise
	mended.frontWidth += 4
	assert.Empty(t, merge(base, narrow, keep(otherwise), keep(mended)), "each side did something else")
	assert.Empty(t, merge(base, narrow, wide, wide), "the one of two")
	assert.Empty(t, merge(base, narrow, wide, keep(wider(matching, 6))), "between them")
	assert.Empty(t, merge(base, narrow, wide, keep(wider(matching, 12))), "both added up")
	girth := func(from, to string) []string {
		return []string{"claim.unclaimed: no claim names what changed: girth " + from + " -> " + to + " at waist; front changed"}
	}
	assert.Equal(t, girth("368.0", "420.0"), merge(base, narrow, wide, keep(wider(matching, 30))), "further than both")
	assert.Equal(t, girth("360.0", "420.0"), merge(base, base, keep(otherwise), keep(vest{130, 80, 100, 1.4})), "what no side touched")
	assert.Equal(t, []string{"claim.unclaimed: no claim names what changed: the garment file changed: tolerance seam changed"},
		merge(base, keep(otherwise), keep(vest{100, 80, 100, 1.3}), keep(vest{100, 80, 100, 1.2})), "a third value of what both set")

	half := keep(vest{90, 80, 100, 1.4}) // the front of a change that took its width to the side
	assert.Equal(t, []string{"claim.unclaimed: no claim names what changed: girth 360.0 -> 340.0 at waist"},
		merge(base, keep(otherwise), keep(moved(matching, 10)), half), "half of what one side did")

	elsewhere := h.keep("other", map[string][]byte{"README": []byte("another history")})
	assert.Empty(t, merge("", base, elsewhere, base), "an unrelated history")
	assert.Equal(t, girth("360.0", "368.0"), merge("", base, elsewhere, narrow), "and a change on the way")
}

// What a merge leaves out of what one side alone changed is told, most of all where it
// takes the rest.
func TestWhatAMergeLeavesOut(t *testing.T) {
	h := newHistory(t)
	keep := func(v vest) string { return h.keep("x", v.files(".")) }
	base := keep(matching)
	other := matching
	other.tolerance = 1.4
	ours, theirs := keep(other), keep(moved(matching, 10))
	left := func(result string) []string {
		v := h.judge(ours, result, func(q *judge.Request) {
			s := h.snapshots(ours, theirs, base)
			q.Merge, q.Base = []judge.Parent{{Name: "ours", Snapshot: s[0]}, {Name: "theirs", Snapshot: s[1]}}, s[2]
		})
		out := []string{}
		for _, x := range v.Problems() {
			if x.ID == "merge.left-out" {
				out = append(out, x.Found)
			}
		}
		return out
	}
	assert.Equal(t, []string{"this merge leaves out what theirs changed of side and takes what it changed of front"}, left(keep(vest{90, 80, 100, 1.4})))
	assert.Equal(t, []string{"this merge leaves out what theirs changed of front, side"}, left(keep(vest{100, 80, 100, 1.45})))
	assert.Empty(t, left(keep(vest{90, 90, 100, 1.4})))
}
