package repo

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// history makes a random history of some thirty commits over three files, with
// merges (some of three sides), commits of one second, commits that change nothing and
// sides that a merge drops, by git fast-import.
func history(t *testing.T, seed uint64) *box {
	b := newBox(t)
	rnd := rand.New(rand.NewPCG(seed, 1))
	var in strings.Builder
	files := []string{"coat/front", "coat/back", "vest/front"}
	trees := []map[string]string{}
	when := 1700000000
	for i := range 30 {
		var parents []int
		state := map[string]string{}
		if i > 0 && rnd.IntN(15) > 0 {
			parents = append(parents, max(0, i-1-rnd.IntN(4)))
			for rnd.IntN(3) == 0 && len(parents) < 3 {
				parents = append(parents, max(0, i-1-rnd.IntN(6)))
			}
			for _, f := range files {
				if text, ok := trees[parents[rnd.IntN(len(parents))]][f]; ok {
					state[f] = text
				}
			}
		}
		for _, f := range files {
			if rnd.IntN(4) == 0 {
				state[f] = fmt.Sprint(rnd.IntN(4))
			}
		}
		trees = append(trees, state)
		when += rnd.IntN(3) * 60
		fmt.Fprintf(&in, "commit refs/heads/c%d\nmark :%d\ncommitter A <a@b> %d +0000\ndata 2\nx\n", i, i+1, when)
		for n, p := range dedupe(parents) {
			fmt.Fprintf(&in, "%s :%d\n", []string{"from", "merge", "merge"}[n], p+1)
		}
		in.WriteString("deleteall\n")
		for f, text := range state {
			fmt.Fprintf(&in, "M 100644 inline %s\ndata %d\n%s\n", f, len(text), text)
		}
	}
	_, err := b.open().GitInput(in.String(), "fast-import", "--quiet")
	require.NoError(t, err)
	return b
}

func dedupe(list []int) []int {
	var out []int
	seen := map[int]bool{}
	for _, n := range list {
		if !seen[n] {
			out, seen[n] = append(out, n), true
		}
	}
	return out
}

// Our own walk must list the same commits in the same order as git log, and so
// must the walk that git does for us.
func TestLogAgreesWithGitOnRandomHistories(t *testing.T) {
	for seed := range uint64(12) {
		b := history(t, seed)
		r := b.open()
		for _, rev := range []string{"c29", "c20", "c25..c29", "c29..c25", "c27...c28", "c10...c29"} {
			for _, paths := range [][]string{nil, {"coat"}, {"coat/front"}, {"vest", "coat/back"}, {"nothing"}} {
				args := append([]string{"log", "--full-history", "--format=%H", rev, "--"}, paths...)
				want := strings.Fields(b.git(args...))
				w, err := r.rangeOf(rev)
				require.NoError(t, err)
				list, err := w.walk(paths, 0)
				require.NoError(t, err)
				assert.Equal(t, want, idsOf(list), "own walk, seed %d, %s %v", seed, rev, paths)
				list, err = r.Log(rev, paths, 0)
				require.NoError(t, err)
				assert.Equal(t, want, idsOf(list), "seed %d, %s %v", seed, rev, paths)
				list, err = w.walk(paths, 3)
				require.NoError(t, err)
				assert.Equal(t, want[:min(3, len(want))], idsOf(list), "limit")
			}
		}
		for i := 20; i < 29; i++ {
			x, y := fmt.Sprint("c", i), fmt.Sprint("c", i+1)
			all, _ := b.try("merge-base", "--all", x, y)
			base, err := r.MergeBase(x, y)
			if all == "" {
				assert.ErrorIs(t, err, ErrNoMergeBase, "seed %d %s %s", seed, x, y)
				continue
			}
			require.NoError(t, err)
			cx, _ := r.Resolve(x)
			cy, _ := r.Resolve(y)
			bases, err := r.commonAncestors(cx, cy)
			require.NoError(t, err)
			assert.ElementsMatch(t, strings.Fields(all), idsOf(bases), "seed %d %s %s", seed, x, y)
			assert.Equal(t, bases[0].ID, base.ID)
		}
	}
}

func idsOf(list []*Commit) []string {
	out := []string{}
	for _, c := range list {
		out = append(out, c.ID)
	}
	return out
}

func TestLogOfAPathInALinearHistory(t *testing.T) {
	b := newBox(t)
	pieces(b)
	b.write("readme", "other\n")
	b.commit("Another file")
	b.git("mv", "coat/back.txt", "coat/behind.txt")
	b.commit("Rename")
	for who, r := range b.both() {
		list, err := r.Log("", []string{"coat/back.txt"}, 0)
		require.NoError(t, err)
		require.Len(t, list, 2, who)
		assert.Equal(t, "Rename", list[0].Subject())
		assert.Equal(t, "Lower the neck", list[1].Subject())
		list, err = r.Log("HEAD", []string{"coat/"}, 1)
		require.NoError(t, err)
		assert.Len(t, list, 1)
		list, err = r.Log("HEAD", []string{"."}, 0)
		require.NoError(t, err)
		assert.Len(t, list, 4)
		_, err = r.Log("HEAD", []string{"../other"}, 0)
		assert.ErrorIs(t, err, ErrOutside)
		_, err = r.Log("nobody", nil, 0)
		assert.ErrorIs(t, err, ErrUnknownRevision)
		_, err = r.Log("nobody..HEAD", nil, 0)
		assert.ErrorIs(t, err, ErrUnknownRevision)
	}
}

func TestLogEndsAtTheEdgeOfAShallowClone(t *testing.T) {
	b := newBox(t)
	for i := range 6 {
		b.write("a", fmt.Sprint(i))
		b.commit(fmt.Sprint("Version ", i))
	}
	to := filepath.Join(realPath(t.TempDir()), "clone")
	b.git("clone", "-q", "--depth=3", "file://"+b.dir, to)
	c := b.at(to)
	for who, r := range c.both() {
		for _, paths := range [][]string{nil, {"a"}} {
			w, err := r.rangeOf("HEAD")
			require.NoError(t, err)
			list, err := w.walk(paths, 0)
			require.NoError(t, err, who)
			require.Len(t, list, 3, who)
			assert.True(t, list[2].Shallow)
			assert.Empty(t, list[2].Parents)
			assert.False(t, list[1].Shallow)
			assertLog(t, c, r, "HEAD", paths...)
		}
		_, err := r.Resolve("HEAD~3")
		assert.ErrorIs(t, err, ErrUnknownRevision)
	}
}
