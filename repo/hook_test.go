package repo

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// seen is what a hook finds when it opens the repository.
type seen struct {
	Root       string
	Index      map[string]string
	Unmerged   []string
	MergeHeads []string
	Library    bool
	Prefix     string
}

// asHook is the hook program: it writes what it sees to the file that
// REPO_TEST_AS_HOOK names and ends.
func asHook() {
	out, err := look()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	data, err := json.Marshal(out)
	if err == nil {
		err = os.WriteFile(os.Getenv("REPO_TEST_AS_HOOK"), data, 0o666)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

func look() (seen, error) {
	r, err := Open(".")
	if err != nil {
		return seen{}, err
	}
	defer r.Close()
	out := seen{Root: r.Root(), Index: make(map[string]string), Prefix: os.Getenv("GIT_PREFIX")}
	spec := "index"
	if rev := os.Getenv("REPO_TEST_REV"); rev != "" {
		spec = rev
	}
	s, err := r.Snapshot(spec)
	if err != nil {
		return out, err
	}
	err = fs.WalkDir(s, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := s.ReadFile(p)
		out.Index[p] = string(data)
		return err
	})
	if err != nil {
		return out, err
	}
	out.Unmerged = s.Unmerged()
	heads, err := r.MergeHeads()
	for _, h := range heads {
		out.MergeHeads = append(out.MergeHeads, h.ID)
	}
	out.Library = usesLibrary(r)
	return out, err
}

// hook installs this program as a hook and gives a function that reads what it
// saw.
func (b *box) hook(name string) func() seen {
	b.t.Helper()
	file := filepath.Join(b.t.TempDir(), "seen.json")
	common := b.git("rev-parse", "--path-format=absolute", "--git-common-dir")
	script := fmt.Sprintf("#!/bin/sh\nREPO_TEST_AS_HOOK=%q exec %q\n", file, os.Args[0])
	require.NoError(b.t, os.MkdirAll(filepath.Join(common, "hooks"), 0o777))
	require.NoError(b.t, os.WriteFile(filepath.Join(common, "hooks", name), []byte(script), 0o755))
	return func() seen {
		data, err := os.ReadFile(file)
		require.NoError(b.t, err)
		require.NoError(b.t, os.Remove(file))
		var s seen
		require.NoError(b.t, json.Unmarshal(data, &s))
		return s
	}
}

// A hook must judge what is about to be committed, which is another index file
// for each form of commit.
func TestPreCommitSeesWhatWillBeCommitted(t *testing.T) {
	forms := []struct {
		name string
		args []string
		a, b string // content as committed
	}{
		{"staged only", []string{"commit"}, "staged", "old"},
		{"all", []string{"commit", "-a"}, "on disk", "on disk"},
		{"one path", []string{"commit", "b.txt"}, "old", "on disk"},
		{"path included", []string{"commit", "-i", "b.txt"}, "staged", "on disk"},
		{"amend", []string{"commit", "--amend"}, "staged", "old"},
	}
	for _, linked := range []bool{false, true} {
		for _, f := range forms {
			t.Run(fmt.Sprintf("%s linked=%v", f.name, linked), func(t *testing.T) {
				b := newBox(t)
				b.write("a.txt", "old")
				b.write("b.txt", "old")
				b.write("sub/keep", "")
				b.commit("First")
				if linked {
					side := filepath.Join(realPath(t.TempDir()), "side")
					b.git("worktree", "add", "-q", side)
					b = b.at(side)
				}
				read := b.hook("pre-commit")
				b.write("a.txt", "staged")
				b.git("add", "a.txt")
				b.write("a.txt", "on disk")
				b.write("b.txt", "on disk")
				b.git(append(f.args, "-q", "-m", "Second")...)
				got := read()
				assert.Equal(t, map[string]string{"a.txt": f.a, "b.txt": f.b, "sub/keep": ""}, got.Index)
				assert.Equal(t, b.dir, got.Root)
				assert.True(t, got.Library, "no further process")
				assert.Equal(t, f.a, b.git("show", "HEAD:a.txt"), "git committed the same")
				assert.Equal(t, f.b, b.git("show", "HEAD:b.txt"), "git committed the same")
			})
		}
	}
}

func TestPreCommitFromASubfolder(t *testing.T) {
	b := newBox(t)
	b.write("coat/a.txt", "old")
	b.commit("First")
	read := b.hook("pre-commit")
	b.write("coat/a.txt", "new")
	b.at(filepath.Join(b.dir, "coat")).git("commit", "-q", "-m", "Second", "a.txt")
	got := read()
	assert.Equal(t, "coat/", got.Prefix)
	assert.Equal(t, map[string]string{"coat/a.txt": "new"}, got.Index)
	assert.Equal(t, b.dir, got.Root)
}

// forked makes a repository whose branches main and side both changed.
func forked(t *testing.T, clash bool) (b *box, side string) {
	b = newBox(t)
	b.write("a.txt", "old\n")
	b.write("b.txt", "old\n")
	b.commit("First")
	b.git("checkout", "-q", "-b", "side")
	b.write("a.txt", "side\n")
	side = b.commit("On the side")
	b.git("checkout", "-q", "main")
	if clash {
		b.write("a.txt", "main\n")
	} else {
		b.write("b.txt", "main\n")
	}
	b.commit("On main")
	return b, side
}

func TestPreMergeCommitNamesTheOtherSide(t *testing.T) {
	b, side := forked(t, false)
	read := b.hook("pre-merge-commit")
	b.day++
	b.git("merge", "-q", "-m", "Merge side", "side")
	got := read()
	assert.Equal(t, []string{side}, got.MergeHeads)
	assert.Equal(t, map[string]string{"a.txt": "side\n", "b.txt": "main\n"}, got.Index)
}

func TestConflictIsReportedAsUnmerged(t *testing.T) {
	b, side := forked(t, true)
	_, err := b.try("merge", "side")
	require.Error(t, err, "the merge must conflict")
	for who, r := range b.both() {
		s := snap(t, r, "index")
		assert.Equal(t, []string{"a.txt"}, s.Unmerged(), who)
		assert.Equal(t, []LeftOut{{"a.txt", "it is unmerged"}}, s.LeftOut(), who)
		_, err := s.ReadFile("a.txt")
		assert.ErrorIs(t, err, fs.ErrNotExist, who)
		assert.ErrorContains(t, err, "unmerged", who)
		heads, err := r.MergeHeads()
		require.NoError(t, err)
		require.Len(t, heads, 1, who)
		assert.Equal(t, side, heads[0].ID, who)
	}
	read := b.hook("pre-commit")
	b.write("a.txt", "both\n")
	b.git("add", "a.txt")
	b.git("commit", "-q", "--no-edit")
	got := read()
	assert.Equal(t, "both\n", got.Index["a.txt"])
	assert.Equal(t, []string{side}, got.MergeHeads)
	heads, err := b.open().MergeHeads()
	assert.NoError(t, err)
	assert.Empty(t, heads, "the merge is over")
}

// In pre-receive the pushed objects lie in quarantine, where only git finds them.
func TestPreReceiveReadsQuarantinedObjects(t *testing.T) {
	b := newBox(t)
	pieces(b)
	to := filepath.Join(realPath(t.TempDir()), "server.git")
	b.git("init", "-q", "--bare", "-b", "main", to)
	file := filepath.Join(t.TempDir(), "said")
	script := fmt.Sprintf("#!/bin/sh\nread old new ref\nREPO_TEST_AS_HOOK=%q REPO_TEST_REV=$new exec %q\n", file, os.Args[0])
	require.NoError(t, os.WriteFile(filepath.Join(to, "hooks", "pre-receive"), []byte(script), 0o755))
	_, err := b.try("push", "-q", to, "main")
	require.NoError(t, err)
	var got seen
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &got))
	assert.Equal(t, "corner a 0 5\n", got.Index["coat/front.txt"])
	assert.Equal(t, "", got.Root)
}
