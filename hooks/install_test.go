package hooks

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func states(results []Result) []State {
	var all []State
	for _, r := range results {
		all = append(all, r.State)
	}
	return all
}

func TestInstallTwiceChangesNothing(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "hooks")
	o := Options{Dir: dir, Binary: filepath.Join(dir, "seamkeep")}
	first, err := Install(o)
	require.NoError(t, err)
	assert.Equal(t, all(Installed), states(first))
	once := snapshot(t, dir)
	info, err := os.Stat(first[0].Path)
	require.NoError(t, err)

	second, err := Install(o)
	require.NoError(t, err)
	assert.Equal(t, first, second)
	assert.Equal(t, once, snapshot(t, dir))
	again, err := os.Stat(first[0].Path)
	require.NoError(t, err)
	assert.True(t, os.SameFile(info, again), "the file was not written anew")

	status, err := Status(dir)
	require.NoError(t, err)
	assert.Equal(t, first, status)
}

func TestOurOwnScriptIsRenewed(t *testing.T) {
	h := hook{name: "pre-commit"}
	present := script{hook: h, version: scriptVersion}.text()
	for _, c := range []struct {
		name, text string
		mode       os.FileMode
		state      State
	}{
		{"an older version", script{hook: h, version: scriptVersion - 1}.text(), 0o755, Outdated},
		{"a newer version", script{hook: h, version: scriptVersion + 1}.text(), 0o755, Outdated},
		{"CRLF", strings.ReplaceAll(present, "\n", "\r\n"), 0o755, Outdated},
		{"another recorded program", script{hook: h, version: scriptVersion, binary: "/elsewhere"}.text(), 0o755, Installed},
		{"may not run", present, 0o644, NotExecutable},
		{"its kept hook is gone", script{hook: h, version: scriptVersion, chained: true}.text(), 0o755, Chained},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.state == NotExecutable && runtime.GOOS == "windows" {
				t.Skip("Windows has no such mode")
			}
			dir := t.TempDir()
			path := filepath.Join(dir, "pre-commit")
			fileHook(c.text, c.mode)(t, path)
			status, err := Status(dir)
			require.NoError(t, err)
			assert.Equal(t, c.state, status[0].State)

			results, err := Install(Options{Dir: dir, Names: []string{"pre-commit"}})
			require.NoError(t, err)
			assert.Equal(t, Installed, results[0].State)
			assert.Equal(t, c.state == Outdated, results[0].Detail != "")
			all := snapshot(t, dir)
			assert.Equal(t, present, all[path].Text)
			assert.Len(t, all, 2, "the folder and one file")
			if runtime.GOOS != "windows" {
				assert.Equal(t, os.FileMode(0o755), all[path].Mode)
			}
		})
	}
}

// git converts line ends of tracked files under core.autocrlf=true
// (git-config(1)); a tracked hooks folder then holds CRLF, and a shell looks
// for "sh\r".
func TestScriptsHaveLFWhateverGitConverts(t *testing.T) {
	s := newSandbox(t)
	s.git("config", "core.autocrlf", "true")
	s.git("config", "core.hooksPath", "shared")
	s.install(Options{Names: Default()})
	assert.NotContains(t, snapshot(t, s.hook("pre-commit"))[s.hook("pre-commit")].Text, "\r")

	s.git("add", "shared")
	s.git("commit", "-q", "-m", "hooks")
	require.NoError(t, os.RemoveAll(s.hooks(s.top)))
	s.git("checkout", "--", "shared")
	require.Contains(t, snapshot(t, s.hook("pre-commit"))[s.hook("pre-commit")].Text, "\r\n", "git converted it")
	status, err := Status(s.hooks(s.top))
	require.NoError(t, err)
	assert.Equal(t, all(Outdated), states(status))
	assert.Equal(t, all(Installed), states(s.install(Options{Names: Default()})))
	assert.NotContains(t, snapshot(t, s.hook("pre-commit"))[s.hook("pre-commit")].Text, "\r")
}

func TestWhatInstallRefuses(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	for name, o := range map[string]Options{
		"relative folder":        {Dir: "hooks"},
		"a file for a folder":    {Dir: file},
		"below a file":           {Dir: filepath.Join(file, "hooks")},
		"no folder":              {},
		"relative program":       {Dir: filepath.Join(dir, "new"), Binary: "seamkeep"},
		"NUL in program":         {Dir: filepath.Join(dir, "new"), Binary: filepath.Join(dir, "a\x00b")},
		"program of go run":      {Dir: filepath.Join(dir, "new"), Binary: filepath.Join(dir, "go-build1/b001/exe/seamkeep")},
		"hook git does not have": {Dir: filepath.Join(dir, "new"), Names: []string{"pre-commit", "../config"}},
	} {
		t.Run(name, func(t *testing.T) {
			before := snapshot(t, dir)
			results, err := Install(o)
			assert.Error(t, err)
			assert.Empty(t, results)
			assert.Equal(t, before, snapshot(t, dir))
		})
	}
}

// Where go run puts its program: seen with go 1.26 as .../go-build2069267649/b001/exe/x on the
// first run and GOCACHE/dd/<64 digits>-d/x on the next; Go 1.24 release notes,
// "Executables created by go run ... are now cached in the Go build cache".
func TestFromGoRun(t *testing.T) {
	id := strings.Repeat("ddf939ce", 8)
	for exe, want := range map[string]bool{
		"/tmp/go-build2069267649/b001/exe/seamkeep":                            true,
		"/tmp/go-build1/b001/hooks.test":                                       true,
		`C:\Users\A Maker\AppData\Local\Temp\go-build3\b001\exe\seamkeep.exe`:  true,
		"/home/maker/.cache/go-build/dd/" + id + "-d/seamkeep":                 true,
		`C:\Users\A Maker\AppData\Local\go-build\dd\` + id + `-d\seamkeep.exe`: true,
		"/elsewhere/dd/" + id + "-d/seamkeep":                                  true,
		"/home/maker/go/bin/seamkeep":                                          false,
		"/home/maker/go-build/seamkeep":                                        false,
		"/home/maker/go-build-2/seamkeep":                                      false,
		"/home/maker/dd/" + id + "/seamkeep":                                   false,
		"/home/maker/ee/" + id + "-d/seamkeep":                                 false,
		"seamkeep":                                                             false,
		"":                                                                     false,
	} {
		assert.Equal(t, want, FromGoRun(exe), exe)
	}
	exe, err := os.Executable()
	require.NoError(t, err)
	if strings.Contains(exe, "go-build") {
		assert.True(t, FromGoRun(exe), exe)
	}
}

func TestAChainingThatWasInterruptedIsCompletedOrUndone(t *testing.T) {
	make := func(t *testing.T) (dir, path string) {
		dir = t.TempDir()
		path = filepath.Join(dir, "pre-commit")
		fileHook("#!/bin/sh\n", 0o750)(t, path+keptSuffix)
		status, err := Status(dir)
		require.NoError(t, err)
		assert.Equal(t, Absent, status[0].State)
		assert.NotEmpty(t, status[0].Detail)
		return dir, path
	}
	t.Run("completed", func(t *testing.T) {
		dir, _ := make(t)
		results, err := Install(Options{Dir: dir})
		require.NoError(t, err)
		assert.Equal(t, append([]State{Chained}, all(Installed)[1:]...), states(results))
	})
	t.Run("undone", func(t *testing.T) {
		dir, path := make(t)
		want := snapshot(t, path+keptSuffix)[path+keptSuffix]
		_, err := Remove(dir)
		require.NoError(t, err)
		assert.Equal(t, map[string]entry{path: want}, snapshot(t, path, path+keptSuffix))
	})
}

// Any folder, any order of installs, one remove: as before.
func TestRemoveUndoesAnyInstalls(t *testing.T) {
	root := t.TempDir()
	kinds := foreignHooks()
	all := make([]string, 0, len(table()))
	for _, h := range table() {
		all = append(all, h.name)
	}
	rapid.Check(t, func(t *rapid.T) {
		top, err := os.MkdirTemp(root, "")
		require.NoError(t, err)
		defer os.RemoveAll(top)
		dir := filepath.Join(top, "two", "levels")
		if rapid.Bool().Draw(t, "folder exists") {
			require.NoError(t, os.MkdirAll(dir, 0o755))
			fileHook("#!/bin/sh\n", 0o755)(t, filepath.Join(dir, "pre-commit.sample"))
			for _, name := range all {
				if n := rapid.IntRange(0, 2*len(kinds)-1).Draw(t, name); n < len(kinds) {
					kinds[n].make(t, filepath.Join(dir, name))
				}
			}
		}
		before := snapshot(t, top)
		for range rapid.IntRange(1, 3).Draw(t, "installs") {
			o := Options{Dir: dir, Chain: rapid.Bool().Draw(t, "chain")}
			o.Names = rapid.SliceOfDistinct(rapid.SampledFrom(all), rapid.ID[string]).Draw(t, "names")
			if rapid.Bool().Draw(t, "recorded") {
				o.Binary = filepath.Join(top, rapid.StringMatching(`[a-z' "$]{1,9}`).Draw(t, "program"))
			}
			_, err := Install(o)
			require.NoError(t, err)
		}
		_, err = Remove(dir)
		require.NoError(t, err)
		require.Equal(t, before, snapshot(t, top))
	})
}

// all gives one state for each hook of Default.
func all(s State) []State { return slices.Repeat([]State{s}, len(Default())) }
