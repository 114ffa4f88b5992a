package hooks

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestRemoveLeavesTheRepositoryAsItWas(t *testing.T) {
	for _, c := range []struct {
		name    string
		prepare func(s *sandbox)
	}{
		{"samples of git init", func(s *sandbox) {
			s.script(s.hook("pre-commit.sample"), "exit 1\n")
		}},
		{"foreign hooks", func(s *sandbox) {
			s.script(s.hook("pre-commit"), "exit 0\n")
			s.script(s.hook("post-checkout"), "exit 0\n")
		}},
		{"no hooks folder", func(s *sandbox) { require.NoError(s.t, os.RemoveAll(s.hooks(s.top))) }},
		{"an empty hooks folder", func(s *sandbox) {
			require.NoError(s.t, os.RemoveAll(s.hooks(s.top)))
			require.NoError(s.t, os.Mkdir(s.hooks(s.top), 0o755))
		}},
		{"hooksPath of three new folders", func(s *sandbox) { s.git("config", "core.hooksPath", "sub/x/y/z") }},
		{"hooks folder is a link", func(s *sandbox) {
			require.NoError(s.t, os.Rename(s.hooks(s.top), filepath.Join(s.root, "moved")))
			require.NoError(s.t, os.Symlink(filepath.Join(s.root, "moved"), s.hooks(s.top)))
		}},
	} {
		for _, chain := range []bool{false, true} {
			t.Run(c.name, func(t *testing.T) {
				s := newSandbox(t)
				s.write(".gitattributes", "* text\n")
				c.prepare(s)
				git := filepath.Join(s.top, ".git")
				// The tree's folders, git's hooks, configuration and attributes.
				parts := []string{filepath.Join(git, "hooks"), filepath.Join(git, "config"), filepath.Join(git, "info"),
					filepath.Join(s.top, ".gitattributes"), filepath.Join(s.top, "sub"), filepath.Join(s.root, "home"), filepath.Join(s.root, "moved")}
				before := snapshot(t, parts...)

				s.install(Options{Chain: chain})
				require.NotEqual(t, before, snapshot(t, parts...))
				_, err := Remove(s.hooks(s.top))
				require.NoError(t, err)
				assert.Equal(t, before, snapshot(t, parts...))

				results, err := Remove(s.hooks(s.top))
				require.NoError(t, err)
				assert.NotContains(t, states(results), Removed, "a second time there is nothing to remove")
			})
		}
	}
}

func TestRemoveKeepsAFolderThatIsInUse(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "hooks")
	_, err := Install(Options{Dir: dir})
	require.NoError(t, err)
	theirs := filepath.Join(dir, "post-checkout")
	fileHook("#!/bin/sh\n", 0o755)(t, theirs)
	_, err = Remove(dir)
	require.NoError(t, err)
	assert.Len(t, snapshot(t, dir), 2, "the folder and their hook")
}

func TestRemoveTakesEveryHookOfOurs(t *testing.T) {
	dir := t.TempDir()
	_, err := Install(Options{Dir: dir, Names: []string{"commit-msg", "pre-push", "pre-commit"}})
	require.NoError(t, err)
	// A later seamkeep may serve hooks that this one does not know.
	fileHook(script{hook: hook{name: "reference-transaction"}, version: 9}.text(), 0o755)(t, filepath.Join(dir, "reference-transaction"))
	results, err := Remove(dir)
	require.NoError(t, err)
	assert.Equal(t, []State{Removed, Absent, Absent, Removed, Absent, Absent, Removed, Removed}, states(results))
	assert.Len(t, snapshot(t, dir), 1, "the folder alone")
}

func TestNoFolderIsNoError(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "hooks")
	for name, look := range map[string]func(string) ([]Result, error){"status": func(dir string) ([]Result, error) { return Status(dir) }, "remove": Remove} {
		results, err := look(dir)
		require.NoError(t, err, name)
		assert.Equal(t, all(Absent), states(results), name)
		_, err = look("relative")
		assert.Error(t, err, name)
		_, err = look(os.DevNull)
		assert.Error(t, err, "core.hooksPath=/dev/null is not a folder")
	}
	assert.NoDirExists(t, dir)
}
