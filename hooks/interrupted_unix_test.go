//go:build unix

package hooks

import (
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMain lets this test program install hooks in a process of its own, one
// that the system hinders.
func TestMain(m *testing.M) {
	dir := os.Getenv("SEAMKEEP_TEST_INSTALL")
	if dir == "" {
		os.Exit(m.Run())
	}
	signal.Ignore(syscall.SIGXFSZ)
	_, err := Install(Options{Dir: dir, Binary: "/opt/seamkeep", Chain: true})
	if err != nil {
		os.Stderr.WriteString(err.Error())
		os.Exit(3)
	}
	os.Exit(0)
}

// installHindered runs Install where no file may grow (POSIX, ulimit -f
// and write: EFBIG where SIGXFSZ is ignored). This holds for root too.
func installHindered(t *testing.T, dir string) (string, error) {
	t.Helper()
	exe, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command("sh", "-c", `ulimit -c 0; ulimit -f 0; exec "$0"`, exe)
	cmd.Env = append(os.Environ(), "SEAMKEEP_TEST_INSTALL="+dir)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

func hinderedFolders(t *testing.T) map[string]string {
	root := t.TempDir()
	folders := map[string]string{}
	for name, text := range map[string]string{
		"old script of ours": script{hook: hook{name: "pre-commit"}, version: scriptVersion - 1}.text(),
		"foreign hook":       "#!/bin/sh\nexit 0\n",
	} {
		dir := filepath.Join(root, strings.Fields(name)[0])
		require.NoError(t, os.Mkdir(dir, 0o755))
		fileHook(text, 0o755)(t, filepath.Join(dir, "pre-commit"))
		folders[name] = dir
	}
	folders["no folder"] = filepath.Join(root, "new", "hooks")
	return folders
}

func TestAFullDiskChangesNothing(t *testing.T) {
	for name, dir := range hinderedFolders(t) {
		t.Run(name, func(t *testing.T) {
			before := snapshot(t, filepath.Dir(dir))
			out, err := installHindered(t, dir)
			require.Error(t, err)
			assert.Contains(t, out, "install pre-commit hook: ")
			assert.Contains(t, out, syscall.EFBIG.Error())
			assert.Equal(t, before, snapshot(t, filepath.Dir(dir)))
		})
	}
}

// A process that dies before the rename leaves what stage wrote, or half of it.
func TestADeathWhileWritingLeavesTheOldHookWhole(t *testing.T) {
	for name, dir := range hinderedFolders(t) {
		if name == "no folder" {
			continue // there is no old hook
		}
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(dir, "pre-commit")
			before := snapshot(t, dir)
			temp, err := stage(path, script{hook: hook{name: "pre-commit"}, version: scriptVersion}.text())
			require.NoError(t, err)
			require.NoError(t, os.Truncate(temp, 40))
			assert.Equal(t, before[path], snapshot(t, dir)[path])

			results, err := Install(Options{Dir: dir, Chain: true})
			require.NoError(t, err)
			assert.True(t, results[0].State.Protects())
			_, err = Remove(dir)
			require.NoError(t, err)
			if name == "foreign hook" {
				assert.Equal(t, before, snapshot(t, dir))
			} else {
				assert.Len(t, snapshot(t, dir), 1, "the folder alone")
			}
		})
	}
}

// As root the test gives up root's rights for a while, since root may write
// everywhere. It must not be made parallel: the rights are the whole program's.
func TestAFolderThatMayNotBeWritten(t *testing.T) {
	dir := t.TempDir()
	fileHook("#!/bin/sh\n", 0o755)(t, filepath.Join(dir, "pre-commit"))
	before := snapshot(t, dir)
	require.NoError(t, os.Chmod(dir, 0o555))
	defer os.Chmod(dir, 0o755)
	const nobody = 65534
	if os.Geteuid() == 0 {
		require.NoError(t, syscall.Seteuid(nobody))
		defer func() { require.NoError(t, syscall.Seteuid(0)) }()
	}
	_, err := Install(Options{Dir: dir, Chain: true})
	assert.ErrorIs(t, err, os.ErrPermission)
	if os.Getuid() == 0 {
		require.NoError(t, syscall.Seteuid(0))
	}
	require.NoError(t, os.Chmod(dir, 0o755))
	assert.Equal(t, before, snapshot(t, dir))
}
