package hooks

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// commitForm is one way to make a commit.
type commitForm struct {
	name    string
	prepare func(s *sandbox)
	dir     string // below the root; "" is the main working tree
	stdin   string
	args    []string
	hook    string
}

// Which hook runs for which command: githooks(5), pre-commit and
// pre-merge-commit, "exiting with a non-zero status ... causes the command to
// abort".
func commitForms() []commitForm {
	edit := func(s *sandbox) { s.write("a", "2\n") }
	return []commitForm{
		{name: "plain", prepare: func(s *sandbox) { edit(s); s.git("add", "a") }, args: []string{"commit", "-m", "x"}, hook: "pre-commit"},
		{name: "all", prepare: edit, args: []string{"commit", "-a", "-m", "x"}, hook: "pre-commit"},
		{name: "path", prepare: edit, args: []string{"commit", "-m", "x", "a"}, hook: "pre-commit"},
		{name: "patch", prepare: edit, stdin: "y\n", args: []string{"commit", "-p", "-m", "x"}, hook: "pre-commit"},
		{name: "amend", prepare: edit, args: []string{"commit", "-a", "--amend", "-m", "x"}, hook: "pre-commit"},
		{name: "subfolder", prepare: edit, dir: "a pattern/sub", args: []string{"commit", "-a", "-m", "x"}, hook: "pre-commit"},
		{name: "merge", prepare: divide, args: []string{"merge", "--no-edit", "other"}, hook: "pre-merge-commit"},
		{name: "linked worktree", dir: "linked", prepare: func(s *sandbox) {
			s.git("worktree", "add", "-q", "../linked", "-b", "other")
			s.write("../linked/a", "2\n")
		}, args: []string{"commit", "-a", "-m", "x"}, hook: "pre-commit"},
		{name: "merge in a linked worktree", dir: "linked", prepare: func(s *sandbox) {
			divide(s)
			s.git("worktree", "add", "-q", "../linked", "-b", "third")
		}, args: []string{"merge", "--no-edit", "other"}, hook: "pre-merge-commit"},
		{name: "absolute hooksPath", prepare: func(s *sandbox) {
			s.git("config", "core.hooksPath", filepath.ToSlash(filepath.Join(s.root, "our hooks")))
			edit(s)
		}, args: []string{"commit", "-a", "-m", "x"}, hook: "pre-commit"},
		{name: "relative hooksPath", prepare: func(s *sandbox) {
			s.git("config", "core.hooksPath", "sub/git hooks")
			edit(s)
		}, args: []string{"commit", "-a", "-m", "x"}, hook: "pre-commit"},
		{name: "relative hooksPath from a subfolder", dir: "a pattern/sub", prepare: func(s *sandbox) {
			s.git("config", "core.hooksPath", "hooks/here")
			edit(s)
		}, args: []string{"commit", "-a", "-m", "x"}, hook: "pre-commit"},
	}
}

// divide makes two branches that merge without a conflict.
func divide(s *sandbox) {
	s.git("checkout", "-q", "-b", "other")
	s.write("c", "1\n")
	s.git("add", "c")
	s.git("commit", "-q", "-m", "theirs")
	s.git("checkout", "-q", "main")
	s.write("a", "2\n")
	s.git("commit", "-q", "-a", "-m", "ours")
}

func TestGitRefusesAndPassesEveryFormOfCommit(t *testing.T) {
	for _, form := range commitForms() {
		for code, verdict := range []string{"passes", "refuses"} {
			t.Run(form.name+" "+verdict, func(t *testing.T) {
				t.Parallel()
				s := newSandbox(t)
				form.prepare(s)
				dir := filepath.Join(s.root, form.dir)
				if form.dir == "" {
					dir = s.top
				}
				s.install(Options{})
				s.seamkeep(s.bin, code)
				head, status := s.gitIn(dir, "rev-parse", "HEAD"), s.gitIn(dir, "status", "--porcelain", "-uno")

				out, err := s.try(dir, form.stdin, "git", form.args...)

				assert.Equal(t, "seamkeep|hook|"+form.hook+"|\n", s.calls())
				after := s.gitIn(dir, "rev-parse", "HEAD")
				if code == 0 {
					require.NoError(t, err, out)
					assert.NotEqual(t, head, after)
					return
				}
				require.Error(t, err, out)
				assert.Equal(t, head, after)
				if form.hook == "pre-commit" {
					assert.Equal(t, status, s.gitIn(dir, "status", "--porcelain", "-uno"))
				}
			})
		}
	}
}

// A refused merge is concluded by git commit, and pre-commit is asked then
// (githooks(5) has no other hook there).
func TestARefusedMergeIsJudgedAgainWhenItIsConcluded(t *testing.T) {
	s := newSandbox(t)
	divide(s)
	s.install(Options{})
	s.seamkeep(s.bin, 1)
	_, err := s.try(s.top, "", "git", "merge", "--no-edit", "other")
	require.Error(t, err)
	s.calls()
	_, err = s.try(s.top, "", "git", "commit", "--no-edit")
	require.Error(t, err)
	assert.Equal(t, "seamkeep|hook|pre-commit|\n", s.calls())
	s.seamkeep(s.bin, 0)
	s.git("commit", "--no-edit")
	assert.Len(t, strings.Fields(s.git("rev-list", "--parents", "-1", "HEAD")), 3, "a merge with two parents")
}

func TestNoVerifySkipsTheHook(t *testing.T) {
	s := newSandbox(t)
	s.install(Options{})
	s.seamkeep(s.bin, 1)
	s.write("a", "2\n")
	s.git("commit", "-q", "-n", "-a", "-m", "x")
	assert.Empty(t, s.calls())
}

func TestAMissingProgramRefusesAndSaysWhatToDo(t *testing.T) {
	for _, c := range []struct {
		name, binary, says string
		chain              bool
	}{
		{name: "none recorded", says: "delete .git/hooks/pre-commit"},
		{name: "recorded one gone", binary: "gone/seamkeep", says: "delete .git/hooks/pre-commit"},
		{name: "recorded one a folder", binary: "bin", says: "delete .git/hooks/pre-commit"},
		{name: "chained", chain: true, says: "move .git/hooks/pre-commit.before-seamkeep back over .git/hooks/pre-commit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newSandbox(t)
			if c.chain {
				s.script(s.hook("pre-commit"), "exit 0\n")
			}
			o := Options{Chain: c.chain}
			if c.binary != "" {
				o.Binary = filepath.Join(s.root, c.binary)
			}
			s.install(o)
			require.NoError(t, os.Remove(filepath.Join(s.bin, "seamkeep")))
			s.write("a", "2\n")
			out, err := s.try(s.top, "", "git", "commit", "-q", "-a", "-m", "x")
			require.Error(t, err)
			assert.Equal(t, "seamkeep: pre-commit refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, "+
				"then \"seamkeep hooks install\" here; or "+c.says+"\n", out)
		})
	}
}

func TestTheRecordedProgramServesWhenNoneIsOnPath(t *testing.T) {
	for name, folder := range map[string]string{
		"plain":   "elsewhere",
		"spaces":  "else where ",
		"quotes":  `it's "here" '' \'`,
		"dollars": "$HOME $(touch PWNED) `touch PWNED`",
		"newline": "two\nlines\n# Folders made for it: 9",
		"glob":    "*?[a-z]~",
		"dash":    "-rf",
	} {
		t.Run(name, func(t *testing.T) {
			s := newSandbox(t)
			require.NoError(t, os.Remove(filepath.Join(s.bin, "seamkeep")))
			path := filepath.Join(s.root, folder, "seamkeep")
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Skipf("this system has no such file name: %v", err)
			}
			s.seamkeep(filepath.Dir(path), 0)
			s.install(Options{Binary: path})
			s.write("a", "2\n")
			s.git("commit", "-q", "-a", "-m", "x")
			assert.Equal(t, "seamkeep|hook|pre-commit|\n", s.calls())
			assert.NoFileExists(t, filepath.Join(s.top, "PWNED"))
			results, err := Remove(s.hooks(s.top))
			require.NoError(t, err)
			assert.Equal(t, Removed, results[0].State)
			assert.DirExists(t, s.hooks(s.top), "a path cannot pose as a line of the head")
		})
	}
}

func TestTheProgramOnPathComesFirstUnlessItCannotRun(t *testing.T) {
	s := newSandbox(t)
	s.seamkeep(filepath.Join(s.root, "home"), 1)
	s.install(Options{Binary: filepath.Join(s.root, "home", "seamkeep")})
	s.write("a", "2\n")
	s.git("commit", "-q", "-a", "-m", "the one on PATH passes")
	s.write("a", "3\n")
	require.NoError(t, os.Chmod(filepath.Join(s.bin, "seamkeep"), 0o644))
	_, err := s.try(s.top, "", "git", "commit", "-q", "-a", "-m", "the recorded one refuses")
	assert.Error(t, err)
}

// A PATH with a relative folder must not let a repository bring its own
// seamkeep.
func TestAProgramInTheWorkingTreeIsNotRun(t *testing.T) {
	s := newSandbox(t)
	require.NoError(t, os.Remove(filepath.Join(s.bin, "seamkeep")))
	s.script(filepath.Join(s.top, "seamkeep"), "touch PWNED\n")
	s.install(Options{})
	s.extra = []string{"PATH=.:" + s.path()}
	s.write("a", "2\n")
	out, err := s.try(s.top, "", "git", "commit", "-q", "-a", "-m", "x")
	require.Error(t, err)
	assert.Contains(t, out, "its program is missing")
	assert.NoFileExists(t, filepath.Join(s.top, "PWNED"))
}

// git runs these under --no-verify, in a cherry-pick and in a merge too
// (githooks(5)): a program that is gone, or that fails, stops none of that.
func TestHooksThatOnlyAdviseStopNothing(t *testing.T) {
	s := newSandbox(t)
	s.install(Options{Names: []string{"prepare-commit-msg", "post-rewrite"}, Binary: filepath.Join(s.root, "home", "gone")})
	s.seamkeep(s.bin, 1)
	s.write("a", "2\n")
	s.git("commit", "-q", "-a", "-m", "the program fails")
	require.NoError(t, os.Remove(filepath.Join(s.bin, "seamkeep")))
	s.write("a", "3\n")
	said, err := s.try(s.top, "", "git", "commit", "-q", "-a", "--no-verify", "-m", "the program is gone")
	require.NoError(t, err, said)
	s.git("commit", "-q", "--amend", "-m", "amended")
}
