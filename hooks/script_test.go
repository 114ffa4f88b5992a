package hooks

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write testdata anew, then look at it")

// shells are those of this machine, each with the arguments that make it sh.
func shells(t *testing.T) [][]string {
	var all [][]string
	for _, words := range [][]string{{"sh"}, {"dash"}, {"bash", "--posix"}, {"bash"}, {"busybox", "sh"}, {"ksh"}} {
		if _, err := exec.LookPath(words[0]); err == nil {
			all = append(all, words)
		}
	}
	if len(all) == 0 {
		t.Skip("no shell is installed")
	}
	return all
}

func everyScript() []script {
	var all []script
	for _, h := range table() {
		for _, chained := range []bool{false, true} {
			all = append(all, script{hook: h, version: scriptVersion, binary: "/opt/it's $here/seamkeep", chained: chained, folders: 1})
		}
	}
	return all
}

// The text of a version never changes: whoever changes it gives it a new
// number, so that Status can tell old from new.
func TestEachScriptVersionHasOneText(t *testing.T) {
	var b strings.Builder
	for _, s := range everyScript() {
		b.WriteString(s.text() + "\n")
	}
	golden := filepath.Join("testdata", "scripts-1.sh")
	require.Equal(t, 1, scriptVersion, "a new version has a new file")
	if *update {
		require.NoError(t, os.WriteFile(golden, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	assert.Equal(t, string(want), b.String())
}

func TestEveryShellReadsTheScripts(t *testing.T) {
	for _, words := range shells(t) {
		for _, s := range everyScript() {
			cmd := exec.Command(words[0], append(words[1:], "-n")...)
			cmd.Stdin = strings.NewReader(s.text())
			out, err := cmd.CombinedOutput()
			assert.NoError(t, err, "%v: %s: %s", words, s.hook.name, out)
			assert.Empty(t, out)
			assert.NotContains(t, s.text(), "\r")
		}
	}
}

// The exit code passes through each shell unchanged, git aside: git itself
// turns any failure into 1.
func TestExitCodesStdinAndArgumentsInEveryShell(t *testing.T) {
	for _, words := range shells(t) {
		for _, c := range []struct {
			name         string
			theirs, ours string // bodies; "" leaves theirs out
			code         int
			out          string
		}{
			{"ours alone", "", `cat; printf '<%s>' "$@"; exit 7`, 7, "a b\n\n\n<hook><pre-push><x y><>"},
			{"both", `cat; printf '[%s]' "$@"`, `cat; printf '<%s>' "$@"; exit 5`, 5, "a b\n\n\n[x y][]a b\n\n\n<hook><pre-push><x y><>"},
			{"theirs fails", `exit 4`, `echo never`, 4, ""},
			{"neither reads", `exit 0`, `echo ran`, 0, "ran\n"},
		} {
			t.Run(strings.Join(words, " ")+" "+c.name, func(t *testing.T) {
				dir := t.TempDir()
				path := filepath.Join(dir, "pre-push")
				if c.theirs != "" {
					fileHook("#!/bin/sh\n"+c.theirs+"\n", 0o755)(t, path)
				}
				fileHook("#!/bin/sh\n"+c.ours+"\n", 0o755)(t, filepath.Join(dir, "seamkeep"))
				_, err := Install(Options{Dir: dir, Chain: true, Names: []string{"pre-push"}})
				require.NoError(t, err)
				cmd := exec.Command(words[0], append(words[1:], path, "x y", "")...)
				cmd.Env = []string{"PATH=" + pathWith(dir)}
				cmd.Stdin = strings.NewReader("a b\n\n\n")
				var out, talk bytes.Buffer
				cmd.Stdout, cmd.Stderr = &out, &talk
				_ = cmd.Run()
				assert.Equal(t, c.code, cmd.ProcessState.ExitCode())
				assert.Equal(t, c.out, out.String())
				assert.Empty(t, talk.String())
			})
		}
	}
}

// Stdin far over a pipe's buffer (64 KiB, pipe(7)) to a hook that reads
// nothing neither hangs nor fails.
func TestMuchStdinToAHookThatReadsNone(t *testing.T) {
	for _, words := range shells(t) {
		dir := t.TempDir()
		path := filepath.Join(dir, "pre-push")
		fileHook("#!/bin/sh\nexit 0\n", 0o755)(t, path)
		fileHook("#!/bin/sh\nwc -c\n", 0o755)(t, filepath.Join(dir, "seamkeep"))
		_, err := Install(Options{Dir: dir, Chain: true, Names: []string{"pre-push"}})
		require.NoError(t, err)
		cmd := exec.Command(words[0], append(words[1:], path)...)
		cmd.Env = []string{"PATH=" + pathWith(dir)}
		cmd.Stdin = strings.NewReader(strings.Repeat("0123456789abcde\n", 1<<15))
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, "%v: %s", words, out)
		assert.Equal(t, "524288", strings.TrimSpace(string(out)), words)
	}
}

// bash, when not called as sh, gives a file on PATH that may not run as the
// answer of command -v; the recorded program then serves.
func TestAProgramOnPathThatMayNotRunGivesWay(t *testing.T) {
	for _, words := range shells(t) {
		dir := t.TempDir()
		fileHook("not a program\n", 0o644)(t, filepath.Join(dir, "seamkeep"))
		recorded := filepath.Join(dir, "recorded")
		fileHook("#!/bin/sh\necho recorded\n", 0o755)(t, recorded)
		_, err := Install(Options{Dir: dir, Binary: recorded})
		require.NoError(t, err)
		cmd := exec.Command(words[0], append(words[1:], filepath.Join(dir, "pre-commit"))...)
		cmd.Env = []string{"PATH=" + pathWith(dir)}
		out, err := cmd.CombinedOutput()
		assert.NoError(t, err, words)
		assert.Equal(t, "recorded\n", string(out), words)
	}
}

func TestQuoteIsOneLiteralWord(t *testing.T) {
	words := shells(t)[0]
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SliceOf(rapid.Byte().Filter(func(b byte) bool { return b != 0 })).Draw(t, "path")
		out, err := exec.Command(words[0], append(words[1:], "-c", "printf '%s.' "+quote(string(text)))...).Output()
		require.NoError(t, err)
		require.Equal(t, string(text)+".", string(out))
	})
}

func TestAScriptIsReadBackAndAnyChangeShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(everyScript()).Draw(t, "script")
		s.folders = rapid.IntRange(0, 3).Draw(t, "folders")
		s.binary = rapid.String().Draw(t, "program")
		text := s.text()
		got, owner := readScript(s.hook.name, text)
		require.Equal(t, ours, owner)
		require.Equal(t, script{hook: hook{name: s.hook.name}, version: s.version, chained: s.chained, folders: s.folders}, got)

		at := rapid.IntRange(0, len(text)-1).Draw(t, "at")
		letter := rapid.Byte().Filter(func(b byte) bool { return b != text[at] }).Draw(t, "letter")
		_, owner = readScript(s.hook.name, text[:at]+string([]byte{letter})+text[at+1:])
		require.NotEqual(t, ours, owner)
		_, owner = readScript("another", text)
		require.Equal(t, theirs, owner)
	})
}

func TestAWindowsPathGetsForwardSlashes(t *testing.T) {
	assert.Equal(t, "C:/Users/A Maker/go/bin/seamkeep.exe", shellPath("windows", `C:\Users\A Maker\go\bin\seamkeep.exe`))
	assert.Equal(t, `/home/a\b`, shellPath("linux", `/home/a\b`))
}

func FuzzReadScript(f *testing.F) {
	for _, s := range everyScript()[:2] {
		f.Add(s.hook.name, s.text())
		f.Add(s.hook.name, s.text()+"more\n")
	}
	f.Add("pre-commit", "#!/bin/sh\n# seamkeep hook pre-commit, script 1, sum ")
	f.Add("", "")
	f.Fuzz(func(t *testing.T, name, text string) {
		s, owner := readScript(name, text)
		if owner == ours {
			_, after := readScript(name, text+"x")
			assert.Equal(t, edited, after)
			assert.Equal(t, name, s.hook.name)
		}
	})
}
