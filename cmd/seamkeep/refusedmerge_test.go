package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// aroundARefusal is what happens when a merge is refused and afterwards, and
// the ways of git to merge that ask another hook or none.
func aroundARefusal(t *testing.T, program string) {
	for name, try := range map[string]func(*testing.T, *workshop){
		"refused with both sides named":           refusedWithBothSides,
		"given up":                                givenUp,
		"concluded unmended":                      concludedUnmended,
		"mended by true and commit":               mendedAndCommitted,
		"mended by true and keep":                 mendedAndKept,
		"a conflict resolved well and badly":      resolvedConflict,
		"fast-forward":                            fastForward,
		"squash":                                  squashed,
		"three sides":                             threeSides,
		"sides that crossed before":               crossedSides,
		"no-verify":                               unverified,
		"cherry-pick and revert ask no hook":      ungated,
		"the other way round names sides rightly": otherWayRound,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			try(t, newWorkshop(t, program))
		})
	}
}

// bothTrue is pair 10 of the merges of two edits: a seam is 3.42 off, both makers
// true it, each on their own side. Both versions are right; the merge is clean
// as text and as wrong as before, the other way round.
func (w *workshop) bothTrue() {
	w.t.Helper()
	w.change("pieces/side.piece", []byte("-corner top-back 50 200\n+corner top-back 50 203.42\n"))
	w.git("add", "--all")
	w.run("seamkeep", "keep", "longer-side", "--because", "the side is short at the bust", "--unfinished")
	w.git("checkout", "--quiet", "-b", "other")
	w.run("seamkeep", "true", "side-back", "--move", "back")
	w.run("seamkeep", "keep", "longer-back", "--because", "the back goes with the side")
	w.git("checkout", "--quiet", "main")
	w.run("seamkeep", "true", "side-back", "--move", "side")
	w.run("seamkeep", "keep", "side-undone", "--because", "the side goes with the back")
}

// refusedMerge makes the merge of bothTrue, which must be refused.
func (w *workshop) refusedMerge() string {
	w.t.Helper()
	w.bothTrue()
	said := w.fails("merge", "--no-edit", "other")
	require.Empty(w.t, w.unmerged(), said)
	require.Equal(w.t, []string{"seam.differs"}, refusals(said), said)
	require.True(w.t, w.merging(), "git leaves a refused merge open")
	return said
}

// flat takes out the wrapping of lines.
func flat(said string) string { return strings.Join(strings.Fields(said), " ") }

// fits holds a text against a terminal of 24 lines of 80 characters.
func fits(t *testing.T, said string) {
	t.Helper()
	lines := strings.Split(strings.TrimRight(said, "\n"), "\n")
	assert.LessOrEqual(t, len(lines), 24, said)
	for _, l := range lines {
		assert.LessOrEqual(t, utf8.RuneCountInString(l), 80, l)
	}
}

func namesSides(t *testing.T, said, ours, theirs string) {
	t.Helper()
	assert.Contains(t, flat(said), "ours: "+ours)
	assert.Contains(t, flat(said), "theirs (longer-back): "+theirs)
}

func refusedWithBothSides(t *testing.T, w *workshop) {
	said := w.refusedMerge()
	fits(t, said)
	assert.Contains(t, flat(said), "side.back is 3.42 mm shorter than back.front")
	namesSides(t, said, "side.back 3.4 shorter", "back.front 3.4 longer")
	assert.Contains(t, flat(said), "mend it, git add, git commit")
	assert.Contains(t, flat(said), "git merge --abort")
}

// The sides are named from where the maker stands.
func otherWayRound(t *testing.T, w *workshop) {
	w.bothTrue()
	w.git("checkout", "--quiet", "other")
	said := w.fails("merge", "--no-edit", "main")
	assert.Contains(t, flat(said), "ours: back.front")
	assert.Contains(t, flat(said), "theirs (side-undone): side.back")
}

// state is every file of the folder, the index and where HEAD stands.
func (w *workshop) state() map[string]string {
	w.t.Helper()
	all := map[string]string{"HEAD": w.git("rev-parse", "HEAD"), "index": w.git("ls-files", "--stage"), "status": w.git("status", "--porcelain")}
	require.NoError(w.t, filepath.WalkDir(w.dir, func(name string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() && d.Name() == ".git" {
			return filepath.SkipDir
		}
		if !d.IsDir() {
			rel, _ := filepath.Rel(w.dir, name)
			all[filepath.ToSlash(rel)] = w.read(rel)
		}
		return nil
	}))
	return all
}

func givenUp(t *testing.T, w *workshop) {
	w.bothTrue()
	before := w.state()
	w.fails("merge", "--no-edit", "other")
	require.NotEqual(t, before, w.state())
	w.git("merge", "--abort")
	assert.Equal(t, before, w.state())
	assert.False(t, w.merging())
}

func concludedUnmended(t *testing.T, w *workshop) {
	w.refusedMerge()
	before := w.state()
	said := w.fails("commit", "--no-edit")
	fits(t, said)
	assert.Equal(t, []string{"seam.differs"}, refusals(said))
	namesSides(t, said, "side.back", "back.front")
	assert.Contains(t, flat(said), "git merge --abort")
	assert.Equal(t, before, w.state())
	assert.True(t, w.merging())
}

func (w *workshop) mendedMerge() {
	w.t.Helper()
	assert.Equal(w.t, 2, w.parents())
	assert.False(w.t, w.merging())
	assert.Empty(w.t, w.git("status", "--porcelain"))
	w.run("seamkeep", "check")
}

func mendedAndCommitted(_ *testing.T, w *workshop) {
	w.refusedMerge()
	w.run("seamkeep", "true", "side-back", "--move", "both")
	w.git("add", "--all")
	w.git("commit", "--quiet", "--no-edit")
	w.mendedMerge()
}

func mendedAndKept(t *testing.T, w *workshop) {
	w.refusedMerge()
	w.run("seamkeep", "true", "side-back", "--move", "side")
	w.run("seamkeep", "keep", "mended", "--because", "both had trued it")
	w.mendedMerge()
	assert.Contains(t, w.git("log", "-1", "--format=%B"), "Alteration: mended")
}

// conflicting parts as pair 1 does: both change the edge side.back.
func (w *workshop) conflicting() {
	w.t.Helper()
	p := readMergePair(w.t, "testdata/merge/01-corner-and-knot.txtar")
	w.part(p)
	w.fails("merge", "--no-edit", "other")
	require.Equal(w.t, []string{"pieces/side.piece"}, w.unmerged())
}

func resolvedConflict(t *testing.T, w *workshop) {
	w.conflicting()
	// bad: the edge as somebody might guess it, 5 mm too long
	w.git("checkout", "--ours", "--", "pieces/side.piece")
	w.change("pieces/side.piece", []byte("-corner top-back 49 201\n+corner top-back 49 206\n"))
	w.git("add", "--all")
	said := w.fails("commit", "--no-edit")
	assert.Equal(t, []string{"seam.differs"}, refusals(said))
	assert.Contains(t, flat(said), "ours: side.back")
	assert.Contains(t, flat(said), "theirs (theirs): side.back")
	assert.True(t, w.merging())
	// good: our corner and their knot, with the true length
	w.change("pieces/side.piece", []byte("-corner top-back 49 206\n+corner top-back 49 201\n@@\n-  line to 44 -50\n+  line to 46 -50\n"))
	w.git("add", "--all")
	w.git("commit", "--quiet", "--no-edit")
	w.mendedMerge()
}

func fastForward(t *testing.T, w *workshop) {
	w.keep("base", false)
	w.git("checkout", "--quiet", "-b", "other")
	w.change("pieces/side.piece", []byte("-corner top-back 50 200\n+corner top-back 50 205\n"))
	w.keep("half", true)
	w.git("checkout", "--quiet", "main")
	said := w.git("merge", "other")
	assert.Contains(t, said, "Fast-forward")
	// githooks(5) has no hook that could refuse a fast-forward; post-merge tells
	assert.Contains(t, said, "seam side-back: side.back is 4.99 mm")
	assert.Contains(t, said, "git reset --keep ORIG_HEAD")
	assert.Equal(t, w.git("rev-parse", "other"), w.git("rev-parse", "HEAD"))
}

// git-merge(1), --squash: the tree as if merged, no MERGE_HEAD, no commit. The
// commit is an ordinary one, so no side has a name.
func squashed(t *testing.T, w *workshop) {
	w.bothTrue()
	w.git("merge", "--squash", "other")
	assert.False(t, w.merging())
	said := w.fails("commit", "--no-edit")
	assert.Equal(t, []string{"seam.differs"}, refusals(said))
	assert.NotContains(t, said, "ours:")
	assert.NotContains(t, flat(said), "git merge --abort", "no merge is open")
	fits(t, said)
	w.run("seamkeep", "true", "side-back", "--move", "side")
	w.git("add", "--all")
	w.git("commit", "--quiet", "--no-edit")
	assert.Equal(t, 1, w.parents())
}

func threeSides(t *testing.T, w *workshop) {
	w.bothTrue()
	w.git("checkout", "--quiet", "-b", "third", "main~1")
	w.change("pieces/front.piece", []byte(" notch waist on front at waist\n+bone b1 width 7 from 20 -80 to 20 180\n"))
	w.keep("boned-front", false)
	w.git("checkout", "--quiet", "main")
	said := w.fails("merge", "--no-edit", "other", "third")
	assert.Equal(t, []string{"seam.differs"}, refusals(said), said)
	fits(t, said)
	namesSides(t, said, "side.back", "back.front")
	assert.Contains(t, flat(said), "theirs (boned-front): changed nothing on this seam")
	w.run("seamkeep", "true", "side-back", "--move", "back")
	w.git("add", "--all")
	w.git("commit", "--quiet", "--no-edit")
	assert.Equal(t, 3, w.parents())
}

// Two merge bases: each side holds the other's first change already.
func crossedSides(t *testing.T, w *workshop) {
	w.keep("base", false)
	w.git("checkout", "--quiet", "-b", "other")
	w.change("pieces/back.piece", []byte(" notch strap-in on top 60 from top-back\n+drill d1 30 100\n"))
	w.keep("drilled", false)
	w.git("checkout", "--quiet", "main")
	w.change("pieces/front.piece", []byte(" notch waist on front at waist\n+bone b1 width 7 from 20 -80 to 20 180\n"))
	w.keep("boned", false)
	w.git("tag", "boned")
	w.git("merge", "--quiet", "--no-edit", "other")
	w.git("checkout", "--quiet", "other")
	w.git("merge", "--quiet", "--no-edit", "boned")
	require.Len(t, strings.Fields(w.git("merge-base", "--all", "main", "other")), 2)
	w.change("pieces/back.piece", []byte("-corner top-front -50 200\n+corner top-front -50 201.2\n"))
	w.keep("longer-back", false)
	w.git("checkout", "--quiet", "main")
	w.change("pieces/side.piece", []byte("-corner top-back 50 200\n+corner top-back 50 198.8\n"))
	w.keep("shorter-side", false)
	said := w.fails("merge", "--no-edit", "other")
	assert.Equal(t, []string{"seam.differs"}, refusals(said), said)
	namesSides(t, said, "side.back", "back.front")
}

// git-merge(1), --no-verify: the hook is not asked. The next commit that
// touches the folder is.
func unverified(t *testing.T, w *workshop) {
	w.bothTrue()
	w.git("merge", "--no-edit", "--no-verify", "other")
	assert.Equal(t, 2, w.parents())
	w.change("pieces/front.piece", []byte(" notch waist on front at waist\n+bone b1 width 7 from 20 -80 to 20 180\n"))
	w.git("add", "--all")
	assert.Equal(t, []string{"seam.differs"}, refusals(w.fails("commit", "--message=boned")))
}

// githooks(5): pre-commit is asked by git commit, pre-merge-commit by git
// merge; cherry-pick and revert without a conflict ask neither, although each
// breaks the seam here. Then seamkeep check is what finds it.
func ungated(t *testing.T, w *workshop) {
	w.bothTrue()
	w.git("cherry-pick", "other")
	out, err := w.try("seamkeep", "check")
	assert.Error(t, err)
	assert.Contains(t, ids(out), "seam.differs")
	w.git("reset", "--quiet", "--hard", "HEAD~1")
	w.run("seamkeep", "check")
	w.git("revert", "--no-edit", "HEAD")
	out, err = w.try("seamkeep", "check")
	assert.Error(t, err)
	assert.Contains(t, ids(out), "seam.differs")
}
