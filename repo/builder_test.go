package repo

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// demo builds a small history with a side branch, a merge and a tag.
func demo(t *testing.T, dir string) (b *Builder, ids []string) {
	b, err := Create(dir, "main")
	require.NoError(t, err)
	at := func(day int) Person {
		when := time.Date(2024, 3, day, 9, 30, 0, 0, time.FixedZone("", 2*3600))
		return Person{Name: "A Maker", Email: "maker@example.org", When: when}
	}
	commit := func(branch, message string, day int, files map[string]string, parents ...string) string {
		c := NewCommit{Branch: branch, Parents: parents, Author: at(day), Message: message, Files: map[string][]byte{}}
		for name, text := range files {
			c.Files[name] = []byte(text)
		}
		id, err := b.Commit(c)
		require.NoError(t, err)
		ids = append(ids, id)
		return id
	}
	first := commit("main", "Draft the coat", 1, map[string]string{"a.txt": "a\n", "a/x": "1\n", "a-b": "2\n", "a0": "3\n", "coat/deep/er": "é\n"})
	side := commit("side", "Raise the hem\n\nDoes: something\n", 2, map[string]string{"a.txt": "side\n", "gone/for/good": "x"}, first)
	main := commit("main", "Lower the neck", 3, map[string]string{"a.txt": "a\n", "b.txt": ""}, first)
	commit("main", "Merge side", 4, map[string]string{"a.txt": "side\n", "b.txt": "", "coat/front": "x\n"}, main, side)
	require.NoError(t, b.Tag("mock-up-1", first))
	return b, ids
}

func TestBuilderMakesWhatGitAccepts(t *testing.T) {
	b := newBox(t)
	dir := filepath.Join(realPath(t.TempDir()), "new", "coat")
	made, ids := demo(t, dir)
	_, again := demo(t, t.TempDir())
	assert.Equal(t, ids, again, "same input, same ids")

	in := b.at(dir)
	for _, branch := range []string{"main", "side", "main"} {
		require.NoError(t, made.Checkout(branch))
		assert.Equal(t, "", in.git("status", "--porcelain"))
		assert.Equal(t, "", in.git("diff-index", "--cached", "HEAD"))
		assert.Equal(t, branch, in.git("symbolic-ref", "--short", "HEAD"))
		assert.Equal(t, in.tree("HEAD"), in.staged())
	}
	assert.NoDirExists(t, filepath.Join(dir, "gone"), "folders that became empty are removed")
	out, err := in.try("fsck", "--strict", "--no-dangling")
	assert.NoError(t, err)
	assert.NotContains(t, out, "error")
	assert.NotContains(t, out, "warning")
	assert.Equal(t, "mock-up-1", in.git("describe", "--tags", ids[0]))
	assert.Equal(t, "2024-03-04T09:30:00+02:00 A Maker <maker@example.org> Merge side", in.git("log", "-1", "--format=%aI %an <%ae> %s"))
	in.write("a.txt", "more\n")
	in.commit("git goes on from there")
	assertLog(t, in, in.open(), "main")
}

// git diff-index does not look at contents where the recorded details of a file
// agree, so a clean answer means that they do.
func TestBuilderRecordsFileDetails(t *testing.T) {
	b := newBox(t)
	dir := realPath(t.TempDir())
	made, _ := demo(t, dir)
	require.NoError(t, made.Checkout("main"))
	assert.Equal(t, "", b.at(dir).git("diff-files"))
}

// The ids of the same commit made by git itself must be the same.
func TestBuilderGivesTheIdsThatGitGives(t *testing.T) {
	b := newBox(t)
	b.write("coat/front", "x\n")
	b.write("coat.txt", "y\n")
	want := b.commit("Draft\n\nText.")
	made, err := Create(t.TempDir(), "main")
	require.NoError(t, err)
	who := Person{Name: "A Maker", Email: "maker@example.org", When: time.Unix(1700000000+86400, 0).In(time.FixedZone("", 7200))}
	got, err := made.Commit(NewCommit{Branch: "main", Author: who, Message: "Draft\n\nText.",
		Files: map[string][]byte{"coat/front": []byte("x\n"), "coat.txt": []byte("y\n")}})
	require.NoError(t, err)
	assert.Equal(t, want, got)
}

func TestBuilderRefuses(t *testing.T) {
	full := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(full, "x"), nil, 0o600))
	_, err := Create(full, "main")
	assert.ErrorIs(t, err, ErrNotEmpty)
	for _, name := range []string{"", "a..b", "a b", "-a", "a.lock", "a/", ".a", "a\n"} {
		_, err = Create(t.TempDir(), name)
		assert.Error(t, err, "%q", name)
	}
	b, err := Create(t.TempDir(), "main")
	require.NoError(t, err)
	for _, name := range []string{"../x", "a//b", "/a", ".git/config", "a/.git/x", "a\n", ""} {
		_, err = b.Commit(NewCommit{Branch: "main", Files: map[string][]byte{name: nil}})
		assert.Error(t, err, "%q", name)
	}
	_, err = b.Commit(NewCommit{Branch: "main", Files: map[string][]byte{"a": nil, "a/b": nil}})
	assert.Error(t, err, "a file and a folder of one name")
	_, err = b.Commit(NewCommit{Branch: "main", Parents: []string{"123"}})
	assert.ErrorIs(t, err, ErrUnknownRevision)
	assert.ErrorIs(t, b.Checkout("nobody"), ErrUnknownRevision)
}

// Without the git program the tool can still build and read a repository.
func TestBuildAndReadWithoutGit(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	dir := t.TempDir()
	made, ids := demo(t, dir)
	require.NoError(t, made.Checkout("main"))
	r, err := OpenWith(dir, Options{Environ: []string{"HOME=" + t.TempDir(), "GIT_CONFIG_NOSYSTEM=1"}})
	require.NoError(t, err)
	defer r.Close()
	list, err := r.Log("", []string{"coat"}, 0)
	require.NoError(t, err)
	assert.Equal(t, []string{ids[3], ids[2], ids[1], ids[0]}, idsOf(list))
	work, index, head := snap(t, r, "work"), snap(t, r, "index"), snap(t, r, "HEAD")
	for _, name := range []string{"a.txt", "b.txt", "coat/front"} {
		want, ok := head.ID(name)
		require.True(t, ok)
		for _, s := range []*Snapshot{work, index} {
			got, ok := s.ID(name)
			assert.True(t, ok)
			assert.Equal(t, want, got)
		}
	}
	_, err = r.Git("status")
	assert.ErrorIs(t, err, ErrNoGit)
	_, err = r.Resolve("HEAD@{1}")
	assert.ErrorIs(t, err, ErrUnknownRevision)
}
