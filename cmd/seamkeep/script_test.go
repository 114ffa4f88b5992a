package main

import (
	"flag"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

// The scripts in testdata/script try the commands as a maker types them, with
// the real git. This binary stands in for seamkeep on PATH, for the hooks too.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"seamkeep": main})
}

// -update writes what a command said into the script's cmp files; look at it.
var update = flag.Bool("update", false, "renew the expected texts in the scripts")

func TestScripts(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not installed: the scripts commit with it")
	}
	samples, err := filepath.Abs("../../testdata/patterns")
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		RequireExplicitExec: true,
		UpdateScripts:       *update,
		Setup: func(env *testscript.Env) error {
			for k, v := range scriptEnvironment(env.WorkDir) {
				env.Setenv(k, v)
			}
			env.Setenv("PATTERNS", samples)
			program, err := exec.LookPath("seamkeep")
			if err != nil {
				return err
			}
			env.Setenv("SEAMKEEP", program)
			env.Values[memory{}] = map[string]string{}
			return putFile(filepath.Join(env.WorkDir, "home", ".gitconfig"),
				[]byte("[user]\n\tname = Ines\n\temail = ines@example.org\n[init]\n\tdefaultBranch = main\n"))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": scriptExits, "tells": scriptTells, "fits": scriptFits, "json": scriptJSON,
			"lay": scriptLay, "version": scriptVersion, "edit": scriptEdit,
			"remember": scriptRemember, "unchanged": scriptUnchanged, "save": scriptSave,
		},
	})
}

// scriptEnvironment is the same for every run on every machine: no settings of
// the person who runs the tests, a fixed author, fixed dates.
func scriptEnvironment(work string) map[string]string {
	return map[string]string{
		"HOME": filepath.Join(work, "home"), "XDG_CONFIG_HOME": filepath.Join(work, "home", ".config"),
		"GIT_CONFIG_GLOBAL": filepath.Join(work, "home", ".gitconfig"), "GIT_CONFIG_NOSYSTEM": "1",
		"GIT_AUTHOR_DATE": "2026-03-01T10:00:00Z", "GIT_COMMITTER_DATE": "2026-03-01T10:00:00Z",
		"GIT_CEILING_DIRECTORIES": filepath.Dir(work), "GIT_TERMINAL_PROMPT": "0", "GIT_EDITOR": "true", "GIT_PAGER": "cat",
		// under the race detector each program would wait a second at its end
		"GORACE": "atexit_sleep_ms=10",
		// 7 June 2026: the elastic of the samples was tested some weeks ago
		"SOURCE_DATE_EPOCH": "1780790400",
		"TZ":                "UTC", "LC_ALL": "C", "LANG": "C", "NO_COLOR": "1", "TERM": "dumb",
	}
}
