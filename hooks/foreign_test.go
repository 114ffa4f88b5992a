package hooks

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// foreignHook makes one kind of hook that is not ours.
type foreignHook struct {
	name    string
	make    func(t require.TestingT, path string)
	state   State
	line    bool // a line can be added
	chained bool // Chain moves it aside
}

func fileHook(text string, mode os.FileMode) func(require.TestingT, string) {
	return func(t require.TestingT, path string) {
		require.NoError(t, os.WriteFile(path, []byte(text), mode))
		require.NoError(t, os.Chmod(path, mode))
	}
}

func foreignHooks() []foreignHook {
	link := func(target string) func(require.TestingT, string) {
		return func(t require.TestingT, path string) { require.NoError(t, os.Symlink(target, path)) }
	}
	ourText := script{hook: hook{name: "pre-commit"}, version: scriptVersion}.text()
	return []foreignHook{
		{"shell", fileHook("#!/bin/sh\nexit 0\n", 0o755), Foreign, true, true},
		{"odd mode", fileHook("#!/usr/bin/env bash\n", 0o710), Foreign, true, true},
		{"no first line", fileHook("exit 0", 0o755), Foreign, true, true},
		{"empty", fileHook("", 0o755), Foreign, true, true},
		{"CRLF", fileHook("#!/bin/sh\r\nexit 0\r\n", 0o755), Foreign, true, true},
		{"not executable", fileHook("#!/bin/sh\nexit 1\n", 0o644), Foreign, true, true},
		{"another language", fileHook("#!/usr/bin/env python3\n", 0o755), Foreign, false, true},
		{"a program", fileHook("\x7fELF\x00\x01", 0o755), Foreign, false, true},
		{"a dangling link", link("nowhere"), Foreign, true, true},
		{"a link to a script of ours", func(t require.TestingT, path string) {
			fileHook(ourText, 0o755)(t, path+".target")
			link(filepath.Base(path)+".target")(t, path)
		}, Foreign, true, true},
		{"our script for another hook", fileHook(script{hook: hook{name: "pre-rebase"}, version: scriptVersion}.text(), 0o755), Foreign, true, true},
		{"talks about seamkeep only", fileHook("#!/bin/sh\n# seamkeep hook pre-commit\n", 0o755), Foreign, true, true},
		{"a folder", func(t require.TestingT, path string) { require.NoError(t, os.Mkdir(path, 0o755)) }, Foreign, false, false},
		{"calls seamkeep", fileHook("#!/bin/sh\nseamkeep hook pre-commit \"$@\" || exit 1\n", 0o755), Joined, false, false},
		{"ours, a line added", fileHook(ourText+"echo done\n", 0o755), Edited, false, false},
		{"ours, its first line changed", fileHook(strings.Replace(ourText, "/bin/sh", "/bin/bash", 1), 0o755), Edited, false, false},
	}
}

func TestAForeignHookIsLeftAsItIs(t *testing.T) {
	for _, c := range foreignHooks() {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "pre-commit")
			c.make(t, path)
			before := snapshot(t, dir)

			results, err := Install(Options{Dir: dir, Names: []string{"pre-commit"}})
			require.NoError(t, err)
			require.Len(t, results, 1)
			assert.Equal(t, c.state, results[0].State)
			assert.Equal(t, path, results[0].Path)
			if c.line {
				assert.Equal(t, `seamkeep hook pre-commit "$@" || exit $?`, results[0].AddLine)
			} else {
				assert.Empty(t, results[0].AddLine)
			}
			assert.True(t, c.line || c.state == Joined || results[0].Detail != "", "says why no line")

			status, err := Status(dir)
			require.NoError(t, err)
			assert.Equal(t, results[0], status[0])
			assert.Equal(t, c.state == Joined, status[0].State.Protects())
			removed, err := Remove(dir)
			require.NoError(t, err)
			assert.Equal(t, Kept, removed[0].State)
			assert.NotEmpty(t, removed[0].Detail)
			assert.Equal(t, before, snapshot(t, dir))
		})
	}
}

func TestChainMovesAForeignHookAsideAndRemoveBringsItBack(t *testing.T) {
	for _, c := range foreignHooks() {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "pre-commit")
			c.make(t, path)
			before := snapshot(t, dir)

			o := Options{Dir: dir, Chain: true, Names: []string{"pre-commit"}}
			results, err := Install(o)
			require.NoError(t, err)
			if !c.chained {
				assert.Equal(t, c.state, results[0].State)
				assert.Equal(t, before, snapshot(t, dir))
				return
			}
			require.Equal(t, Chained, results[0].State)
			once := snapshot(t, dir)
			assert.Equal(t, before[path], once[path+keptSuffix])
			results, err = Install(o)
			require.NoError(t, err)
			assert.Equal(t, Chained, results[0].State)
			o.Chain = false
			results, err = Install(o)
			require.NoError(t, err)
			assert.Equal(t, Chained, results[0].State, "a hook once chained stays so")
			assert.Equal(t, once, snapshot(t, dir))

			removed, err := Remove(dir)
			require.NoError(t, err)
			assert.Equal(t, Removed, removed[0].State)
			assert.Equal(t, before, snapshot(t, dir))
		})
	}
}

func TestTheLineToAddWorksWhereItIsAdded(t *testing.T) {
	for _, c := range []struct {
		name   string
		onPath bool
		folder string
	}{
		{"program on PATH", true, ""},
		{"recorded program", false, `it's $(here)`},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newSandbox(t)
			foreign := "echo foreign ran\nexit 0\n"
			s.script(s.hook("pre-commit"), foreign)
			o := Options{}
			folder := s.bin
			if !c.onPath {
				require.NoError(t, os.Remove(filepath.Join(s.bin, "seamkeep")))
				folder = filepath.Join(s.root, c.folder)
				require.NoError(t, os.Mkdir(folder, 0o755))
				o.Binary = filepath.Join(folder, "seamkeep")
			}
			r := s.install(o)[0]
			require.Equal(t, Foreign, r.State)
			require.NotContains(t, r.AddLine, "\n")

			s.script(r.Path, r.AddLine+"\n"+foreign)
			for code := range 2 {
				s.seamkeep(folder, code)
				s.write("a", string(rune('5'+code)))
				out, err := s.try(s.top, "", "git", "commit", "-q", "-a", "-m", "x")
				assert.Equal(t, code == 1, err != nil, out)
				assert.Equal(t, code == 0, strings.Contains(out, "foreign ran"), out)
				assert.Equal(t, "seamkeep|hook|pre-commit|\n", s.calls())
			}
			status, err := Status(s.hooks(s.top))
			require.NoError(t, err)
			assert.Equal(t, Joined, status[0].State)
			assert.Empty(t, status[0].AddLine)
		})
	}
}

func TestAChainedHookRunsFirstAndItsExitCodeCounts(t *testing.T) {
	for _, c := range []struct {
		name        string
		theirs      string
		ours        int
		passes      bool
		calls, says string
	}{
		{"both pass", "echo theirs ran\n", 0, true, "seamkeep|hook|pre-commit|\n", "theirs ran"},
		{"ours refuses", "echo theirs ran\n", 1, false, "seamkeep|hook|pre-commit|\n", "theirs ran"},
		{"theirs refuses", "echo theirs ran; exit 3\n", 0, false, "", "theirs ran"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newSandbox(t)
			s.script(s.hook("pre-commit"), c.theirs)
			require.Equal(t, Chained, s.install(Options{Chain: true})[0].State)
			s.seamkeep(s.bin, c.ours)
			s.write("a", "2\n")
			out, err := s.try(s.top, "", "git", "commit", "-q", "-a", "-m", "x")
			assert.Equal(t, c.passes, err == nil, out)
			assert.Contains(t, out, c.says)
			assert.Equal(t, c.calls, s.calls())
		})
	}
}

// git passes over a hook that may not be run (githooks(5)); moved aside it
// must not begin to run.
func TestAChainedHookThatMayNotRunStaysSilent(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has no such mode")
	}
	s := newSandbox(t)
	path := s.hook("pre-commit")
	s.script(path, "exit 1\n")
	require.NoError(t, os.Chmod(path, 0o644))
	s.install(Options{Chain: true})
	s.write("a", "2\n")
	s.git("commit", "-q", "-a", "-m", "x")
	assert.Equal(t, "seamkeep|hook|pre-commit|\n", s.calls())
}

// pre-push reads "local-ref local-id remote-ref remote-id" lines on stdin and
// has the remote's name and address as arguments (githooks(5), pre-push).
func TestStdinAndArgumentsReachBothHooks(t *testing.T) {
	for _, chain := range []bool{false, true} {
		s := newSandbox(t)
		s.git("init", "-q", "--bare", "../remote")
		theirs := filepath.Join(s.root, "theirs")
		if chain {
			s.script(s.hook("pre-push"), "echo \"$@\" >"+quote(theirs)+"\ncat >>"+quote(theirs)+"\n")
		}
		s.install(Options{Chain: true, Names: []string{"pre-push"}})
		s.git("push", "-q", "../remote", "main")

		line := "refs/heads/main " + s.git("rev-parse", "HEAD") + " refs/heads/main " + strings.Repeat("0", 40) + "\n"
		assert.Equal(t, "seamkeep|hook|pre-push|../remote|../remote|"+line+"\n", s.calls())
		if chain {
			text, err := os.ReadFile(theirs)
			require.NoError(t, err)
			assert.Equal(t, "../remote ../remote\n"+line, string(text))
		}
	}
}

func TestAHookKeptEarlierIsNotWrittenOver(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "pre-commit")
	fileHook("#!/bin/sh\n# new\n", 0o755)(t, path)
	fileHook("#!/bin/sh\n# old\n", 0o755)(t, path+keptSuffix)
	before := snapshot(t, dir)
	results, err := Install(Options{Dir: dir, Chain: true, Names: []string{"pre-commit"}})
	require.NoError(t, err)
	assert.Equal(t, Foreign, results[0].State)
	assert.Contains(t, results[0].Detail, "pre-commit.before-seamkeep")
	_, err = Remove(dir)
	require.NoError(t, err)
	assert.Equal(t, before, snapshot(t, dir))
}
