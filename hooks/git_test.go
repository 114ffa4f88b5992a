package hooks

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// sandbox is a repository of real git with a home, a PATH and a seamkeep of
// its own. That seamkeep writes down how it was called and what it read, and
// exits with the code it is told.
type sandbox struct {
	t     *testing.T
	root  string // everything lies below it
	top   string // the main working tree
	bin   string // the first folder on PATH
	extra []string
}

func newSandbox(t *testing.T) *sandbox {
	t.Helper()
	for _, program := range []string{"git", "sh"} {
		if _, err := exec.LookPath(program); err != nil {
			t.Skipf("%s is not installed; hooks are tried with the real one", program)
		}
	}
	root, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	s := &sandbox{t: t, root: root, top: filepath.Join(root, "a pattern"), bin: filepath.Join(root, "bin")}
	for _, dir := range []string{s.top, s.bin, filepath.Join(root, "home")} {
		require.NoError(t, os.Mkdir(dir, 0o755))
	}
	s.seamkeep(s.bin, 0)
	s.git("init", "-q", "-b", "main")
	s.write("a", "1\n")
	s.write("sub/b", "1\n")
	s.git("add", ".")
	s.git("commit", "-q", "-m", "start")
	return s
}

// seamkeep puts the program into a folder.
func (s *sandbox) seamkeep(folder string, code int) string {
	s.t.Helper()
	path := filepath.Join(folder, "seamkeep")
	log := filepath.ToSlash(filepath.Join(s.root, "log"))
	s.script(path, `printf '%s|' "seamkeep" "$@" >>`+quote(log)+`
case $2 in pre-push|post-rewrite) cat >>`+quote(log)+` ;; esac
echo >>`+quote(log)+`
exit `+string(rune('0'+code))+"\n")
	return path
}

// script writes an executable shell script.
func (s *sandbox) script(path, body string) {
	s.t.Helper()
	require.NoError(s.t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(s.t, os.WriteFile(path, []byte("#!/bin/sh\n"+body), 0o755))
	require.NoError(s.t, os.Chmod(path, 0o755))
}

func (s *sandbox) write(name, text string) {
	s.t.Helper()
	path := filepath.Join(s.top, name)
	require.NoError(s.t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(s.t, os.WriteFile(path, []byte(text), 0o644))
}

// try runs a program in a folder of the sandbox and gives all it says.
func (s *sandbox) try(dir, stdin, program string, args ...string) (string, error) {
	cmd := exec.Command(program, args...)
	cmd.Dir = dir
	cmd.Stdin = strings.NewReader(stdin)
	cmd.Env = append([]string{
		"PATH=" + s.path(), "HOME=" + filepath.Join(s.root, "home"),
		"GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_NOSYSTEM=1", "GIT_EDITOR=:", "LC_ALL=C",
		"GIT_AUTHOR_NAME=A Maker", "GIT_AUTHOR_EMAIL=maker@example.org", "GIT_AUTHOR_DATE=2024-01-01T00:00:00Z",
		"GIT_COMMITTER_NAME=A Maker", "GIT_COMMITTER_EMAIL=maker@example.org", "GIT_COMMITTER_DATE=2024-01-01T00:00:00Z",
		"SYSTEMROOT=" + os.Getenv("SYSTEMROOT"),
	}, s.extra...)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

func (s *sandbox) path() string { return pathWith(s.bin) }

// pathWith is a folder before the PATH of the machine without folders that hold a
// seamkeep.
func pathWith(first string) string {
	folders := []string{first}
	for _, f := range filepath.SplitList(os.Getenv("PATH")) {
		if _, err := os.Stat(filepath.Join(f, "seamkeep")); err != nil {
			folders = append(folders, f)
		}
	}
	return strings.Join(folders, string(filepath.ListSeparator))
}

func (s *sandbox) gitIn(dir string, args ...string) string {
	s.t.Helper()
	out, err := s.try(dir, "", "git", args...)
	require.NoError(s.t, err, "git %s: %s", strings.Join(args, " "), out)
	return strings.TrimRight(out, "\n")
}

func (s *sandbox) git(args ...string) string {
	s.t.Helper()
	return s.gitIn(s.top, args...)
}

// hooks is the folder that git names, absolute.
func (s *sandbox) hooks(dir string) string {
	s.t.Helper()
	path := filepath.FromSlash(s.gitIn(dir, "rev-parse", "--git-path", "hooks"))
	if !filepath.IsAbs(path) {
		path = filepath.Join(dir, path)
	}
	return path
}

func (s *sandbox) hook(name string) string { return filepath.Join(s.hooks(s.top), name) }

func (s *sandbox) install(o Options) []Result {
	s.t.Helper()
	o.Dir = s.hooks(s.top)
	if o.Names == nil {
		o.Names = []string{"pre-commit", "pre-merge-commit"} // what these tests watch
	}
	results, err := Install(o)
	require.NoError(s.t, err)
	return results
}

// calls gives what ran since it was last asked, a line each.
func (s *sandbox) calls() string {
	s.t.Helper()
	path := filepath.Join(s.root, "log")
	text, err := os.ReadFile(path)
	if os.IsNotExist(err) {
		return ""
	}
	require.NoError(s.t, err)
	require.NoError(s.t, os.Remove(path))
	return string(text)
}

// entry is one file, link or folder as far as a user can tell them apart.
type entry struct {
	Mode os.FileMode
	Text string
}

// snapshot is everything below the named files and folders.
func snapshot(t require.TestingT, paths ...string) map[string]entry {
	all := map[string]entry{}
	for _, p := range paths {
		if _, err := os.Lstat(p); os.IsNotExist(err) {
			continue
		}
		require.NoError(t, filepath.Walk(p, func(path string, info os.FileInfo, err error) error {
			if err != nil {
				return err
			}
			e := entry{Mode: info.Mode()}
			if info.Mode()&os.ModeSymlink != 0 {
				e.Text, err = os.Readlink(path)
			} else if info.Mode().IsRegular() {
				var text []byte
				text, err = os.ReadFile(path)
				e.Text = string(text)
			}
			all[path] = e
			return err
		}))
	}
	return all
}
