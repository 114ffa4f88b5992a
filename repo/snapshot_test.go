package repo

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func why(s *Snapshot) map[string]string {
	out := make(map[string]string)
	for _, l := range s.LeftOut() {
		out[l.Path] = l.Why
	}
	return out
}

// Names are what a stranger's repository may hold; git mktree accepts them all.
func TestOddNamesAreLeftOutAndTheRestIsRead(t *testing.T) {
	b := newBox(t)
	b.write("x", "content\n")
	blob := b.git("hash-object", "-w", "x")
	names := map[string]string{ // name to why it is left out, "" where it is kept
		"tab\there":     "the name holds control characters",
		"line\nend":     "the name holds control characters",
		"esc\x1b[31m":   "the name holds control characters",
		"turn\u202etxt": "the name holds control characters",
		"caf\xe9":       "the name is not UTF-8",
		"back\\slash":   "the name holds a slash or backslash",
		"..":            "the name is empty or dots",
		".git":          "the name is one of git's own",
		".GIT":          "the name is one of git's own",
		"git~1":         "the name is one of git's own",
		".git.":         "the name is one of git's own",
		"with space":    "", "-x": "", "quote\"'": "", "café": "", "cafe\u0301": "", "a:b": "", ".gitignore": "", "$(x)": "",
	}
	var lines strings.Builder
	kept, left := map[string]string{}, map[string]string{}
	for name, reason := range names {
		lines.WriteString("100644 blob " + blob + "\t" + name + "\x00")
		if reason == "" {
			kept["sub/"+name] = blob
		} else {
			left["sub/"+name] = reason
		}
	}
	r := b.open()
	out, err := r.GitInput(lines.String(), "mktree", "-z")
	require.NoError(t, err)
	out, err = r.GitInput("040000 tree "+strings.TrimSpace(out)+"\tsub\x00", "mktree", "-z")
	require.NoError(t, err)
	commit := b.git("commit-tree", "-m", "Odd", strings.TrimSpace(out))
	for who, r := range b.both() {
		s := snap(t, r, commit)
		assert.Equal(t, kept, ids(t, s), who)
		assert.Equal(t, left, why(s), who)
		assert.NoError(t, fstest.TestFS(s, "sub/with space"), who)
		_, err := s.Open("sub/tab\there")
		assert.ErrorIs(t, err, fs.ErrNotExist)
		assert.ErrorContains(t, err, "control characters")
		in, err := s.LeftOutIn("sub")
		require.NoError(t, err)
		assert.Len(t, in, len(left), who)
	}
}

func TestLinksAndSubmodulesAreLeftOut(t *testing.T) {
	b := newBox(t)
	inner := newBox(t)
	inner.write("front.txt", "inner\n")
	inner.commit("Inner")
	b.write("coat/front.txt", "x\n")
	require.NoError(t, os.Symlink("front.txt", filepath.Join(b.dir, "coat", "link.txt")))
	require.NoError(t, os.Symlink("/etc", filepath.Join(b.dir, "outside")))
	require.NoError(t, os.Symlink("coat", filepath.Join(b.dir, "alias")))
	b.git("submodule", "--quiet", "add", inner.dir, "lining")
	require.NoError(t, os.Remove(filepath.Join(b.dir, ".gitmodules")))
	b.git("rm", "-q", "--cached", ".gitmodules")
	b.commit("Links")
	for who, r := range b.both() {
		for _, spec := range []string{"HEAD", "index", "work"} {
			s := snap(t, r, spec)
			assert.Equal(t, []string{"coat/front.txt"}, keys(ids(t, s)), "%s %s", who, spec)
			assert.Equal(t, map[string]string{
				"coat/link.txt": "it is a symbolic link",
				"outside":       "it is a symbolic link",
				"alias":         "it is a symbolic link",
				"lining":        why(s)["lining"],
			}, why(s), "%s %s", who, spec)
			assert.Contains(t, why(s)["lining"], "another repository")
			for _, p := range []string{"alias/front.txt", "outside/passwd", "coat/link.txt", "lining/front.txt"} {
				_, err := s.ReadFile(p)
				assert.ErrorIs(t, err, fs.ErrNotExist, "%s %s %s", who, spec, p)
				assert.ErrorContains(t, err, "left out: it is", "%s %s %s", who, spec, p)
			}
			assert.Equal(t, spec != "HEAD", s.Commit() == nil)
		}
	}
}

func keys(m map[string]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	return out
}

func TestAddedWithIntentOnlyIsNotStaged(t *testing.T) {
	b := newBox(t)
	pieces(b)
	b.write("empty.txt", "")
	b.git("add", "empty.txt")
	b.write("coat/sleeve.txt", "x\n")
	b.git("add", "-N", "coat/sleeve.txt")
	for who, r := range b.both() {
		s := snap(t, r, "index")
		assert.Equal(t, map[string]string{"coat/sleeve.txt": "it is added with intent only, nothing is staged"}, why(s), who)
		data, err := s.ReadFile("empty.txt")
		assert.NoError(t, err, who)
		assert.Empty(t, data)
		assert.NotContains(t, ids(t, s), "coat/sleeve.txt", who)
	}
}

func TestWorkingTreeIsWhatLiesOnDisk(t *testing.T) {
	b := newBox(t)
	pieces(b)
	b.write("coat/front.txt", "changed\r\n")
	b.write("coat/new.txt", "new\n")
	require.NoError(t, os.Remove(filepath.Join(b.dir, "coat", "back.txt")))
	pipe := filepath.Join(b.dir, "coat", "pipe.txt")
	if err := exec.Command("mkfifo", pipe).Run(); err != nil {
		t.Skip("no mkfifo to make a pipe with")
	}
	s := snap(t, b.open(), "")
	assert.Equal(t, "work", s.Label())
	want := map[string]string{}
	for _, name := range []string{"coat/front.txt", "coat/new.txt", "coat/garment.txt", "readme"} {
		want[name] = b.git("hash-object", "--no-filters", name)
	}
	assert.Equal(t, want, ids(t, s))
	assert.Equal(t, map[string]string{"coat/pipe.txt": "it is not a plain file"}, why(s))
	assert.NoError(t, fstest.TestFS(s, "coat/front.txt"))
	data, err := s.ReadFile("coat/front.txt")
	require.NoError(t, err)
	assert.Equal(t, "changed\r\n", string(data))
	_, err = s.ReadFile("../escape")
	assert.ErrorIs(t, err, fs.ErrInvalid)
	_, err = s.ReadFile(".git/config")
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

func TestSparseWorkingTreeShowsWhatGitKeepsOffTheDisk(t *testing.T) {
	for _, cone := range [][]string{{"--no-cone", "/readme"}, {"--cone", "--sparse-index", "vest"}} {
		b := newBox(t)
		pieces(b)
		b.write("vest/front.txt", "v\n")
		b.commit("A vest")
		b.git(append([]string{"sparse-checkout", "set"}, cone...)...)
		require.NoFileExists(t, filepath.Join(b.dir, "coat", "front.txt"))
		for who, r := range b.both() {
			s := snap(t, r, "work")
			assert.Equal(t, b.tree("HEAD"), ids(t, s), who)
			data, err := s.ReadFile("coat/front.txt")
			assert.NoError(t, err, who)
			assert.Equal(t, "corner a 0 5\n", string(data), who)
			assert.NoError(t, fstest.TestFS(s, "coat/front.txt", "readme"), who)
		}
	}
}

func TestAFileAboveTheLimitIsRefused(t *testing.T) {
	b := newBox(t)
	b.write("big.bin", strings.Repeat("a", MaxFile+1))
	b.write("most.bin", strings.Repeat("a", MaxFile))
	b.commit("Big")
	for who, r := range b.both() {
		for _, spec := range []string{"HEAD", "index", "work"} {
			s := snap(t, r, spec)
			_, err := s.ReadFile("big.bin")
			var large *TooLargeError
			require.ErrorAs(t, err, &large, "%s %s", who, spec)
			assert.EqualValues(t, MaxFile+1, large.Size)
			data, err := s.ReadFile("most.bin")
			assert.NoError(t, err, "%s %s", who, spec)
			assert.Len(t, data, MaxFile)
			info, err := s.Stat("big.bin")
			assert.NoError(t, err)
			assert.EqualValues(t, MaxFile+1, info.Size(), "%s %s", who, spec)
		}
	}
}

func TestStatTellsKindSizeAndTime(t *testing.T) {
	b := newBox(t)
	pieces(b)
	require.NoError(t, os.Chmod(filepath.Join(b.dir, "readme"), 0o755))
	b.commit("Make it a program")
	s := snap(t, b.open(), "HEAD")
	info, err := s.Stat("readme")
	require.NoError(t, err)
	assert.EqualValues(t, 6, info.Size())
	assert.Equal(t, fs.FileMode(0o555), info.Mode())
	assert.Equal(t, s.Commit().Committer.When, info.ModTime())
	info, err = s.Stat("coat")
	require.NoError(t, err)
	assert.True(t, info.IsDir())
	_, err = s.ReadFile("coat")
	assert.Error(t, err)
	_, err = s.ReadDir("readme")
	assert.Error(t, err)
	_, err = s.Stat("readme/below")
	assert.ErrorIs(t, err, fs.ErrNotExist)
	_, ok := s.ID("coat")
	assert.False(t, ok)
}

func TestSnapshotsMayBeReadByManyAtOnce(t *testing.T) {
	b := newBox(t)
	pieces(b)
	b.git("gc", "-q")
	for who, r := range b.both() {
		var wg sync.WaitGroup
		for range 8 {
			wg.Go(func() {
				for _, spec := range []string{"HEAD", "index", "work"} {
					s, err := r.Snapshot(spec)
					if !assert.NoError(t, err, who) {
						return
					}
					for _, name := range []string{"readme", "coat/front.txt", "coat/back.txt"} {
						_, err := s.ReadFile(name)
						assert.NoError(t, err, who)
					}
				}
				_, err := r.Log("", nil, 0)
				assert.NoError(t, err, who)
			})
		}
		wg.Wait()
	}
}
