package repo

import (
	"fmt"
	"io/fs"
	"iter"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMain lets a real git run this test program as a hook.
func TestMain(m *testing.M) {
	if os.Getenv("REPO_TEST_AS_HOOK") != "" {
		asHook()
	}
	os.Exit(m.Run())
}

// box is a repository made by the real git, with its own home and fixed dates.
type box struct {
	t   testing.TB
	dir string
	env []string
	day int
}

// newBox makes an empty repository on branch main.
func newBox(t testing.TB, initArgs ...string) *box {
	b := &box{t: t, dir: realPath(t.TempDir())}
	b.setUp()
	b.git(append([]string{"init", "-q", "-b", "main"}, initArgs...)...)
	return b
}

func (b *box) setUp() {
	if _, err := exec.LookPath("git"); err != nil {
		b.t.Skip("git is not installed: these tests compare with it")
	}
	home := b.t.TempDir()
	empty := filepath.Join(home, "gitconfig")
	require.NoError(b.t, os.WriteFile(empty, []byte("[user]\n\tname = A Maker\n\temail = maker@example.org\n[protocol \"file\"]\n\tallow = always\n"), 0o600))
	b.env = []string{
		"PATH=" + os.Getenv("PATH"), "HOME=" + home, "GIT_CONFIG_GLOBAL=" + empty,
		"GIT_CONFIG_NOSYSTEM=1", "LC_ALL=C", "TZ=UTC",
	}
}

// at is the same box in another folder.
func (b *box) at(dir string) *box {
	c := *b
	c.dir = dir
	return &c
}

func (b *box) try(args ...string) (string, error) {
	cmd := exec.Command("git", args...)
	date := fmt.Sprintf("%d +0200", 1700000000+b.day*86400)
	cmd.Dir = b.dir
	cmd.Env = append(b.env[:len(b.env):len(b.env)], "GIT_AUTHOR_DATE="+date, "GIT_COMMITTER_DATE="+date)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

func (b *box) git(args ...string) string {
	b.t.Helper()
	out, err := b.try(args...)
	require.NoError(b.t, err, "git %v: %s", args, out)
	return strings.TrimSuffix(out, "\n")
}

func (b *box) write(name, text string) {
	b.t.Helper()
	file := filepath.Join(b.dir, name)
	require.NoError(b.t, os.MkdirAll(filepath.Dir(file), 0o777))
	require.NoError(b.t, os.WriteFile(file, []byte(text), 0o666))
}

// commit stages everything and commits a day later than the last time.
func (b *box) commit(message string) string {
	b.t.Helper()
	b.day++
	b.git("add", "-A")
	b.git("commit", "-q", "--allow-empty", "-m", message)
	return b.git("rev-parse", "HEAD")
}

// open opens the box as the tool would, under the box's environment.
func (b *box) open(extra ...string) *Repo {
	b.t.Helper()
	r, err := OpenWith(b.dir, Options{Environ: append(b.env[:len(b.env):len(b.env)], extra...)})
	require.NoError(b.t, err)
	b.t.Cleanup(func() { assert.NoError(b.t, r.Close()) })
	return r
}

// both opens the box twice: as it would be read, then by git's plumbing, which
// in a partial clone fetches what is missing.
func (b *box) both() iter.Seq2[string, *Repo] {
	b.t.Helper()
	byGit := b.open()
	require.NoError(b.t, byGit.main.close())
	byGit.main = newPlumbing(byGit)
	chosen := b.open()
	return func(yield func(string, *Repo) bool) {
		_ = yield("as chosen", chosen) && yield("by git", byGit)
	}
}

// usesLibrary says whether no git process was needed so far.
func usesLibrary(r *Repo) bool {
	_, lib := r.main.(*library)
	return lib && r.spare == nil
}

// ids walks a snapshot and gives the blob id of each file.
func ids(t testing.TB, s *Snapshot) map[string]string {
	t.Helper()
	out := make(map[string]string)
	require.NoError(t, fs.WalkDir(s, ".", func(p string, d fs.DirEntry, err error) error {
		require.NoError(t, err, p)
		if !d.IsDir() {
			id, ok := s.ID(p)
			require.True(t, ok, p)
			out[p] = id
		}
		return nil
	}))
	return out
}

// listed reads `git ls-tree -r -z` or `git ls-files -s -z`: plain files only.
func listed(out string) map[string]string {
	m := make(map[string]string)
	for line := range strings.SplitSeq(out, "\x00") {
		meta, name, ok := strings.Cut(line, "\t")
		f := strings.Fields(meta)
		if !ok || !strings.HasPrefix(f[0], "100") {
			continue
		}
		if f[1] == "blob" {
			m[name] = f[2]
		} else {
			m[name] = f[1]
		}
	}
	return m
}

func (b *box) tree(rev string) map[string]string { return listed(b.git("ls-tree", "-r", "-z", rev)) }
func (b *box) staged() map[string]string         { return listed(b.git("ls-files", "-s", "-z")) }

func snap(t testing.TB, r *Repo, spec string) *Snapshot {
	t.Helper()
	s, err := r.Snapshot(spec)
	require.NoError(t, err)
	return s
}
