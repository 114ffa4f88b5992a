//go:build unix

package main

import (
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// killedPieces is how many files a command writes: each is synced, so that a
// good part of the run is writing.
const killedPieces, killsEach = 24, 7

// killing is a command that is killed while it runs.
type killing struct {
	name    string
	prepare func(*workshop)
	args    []string
	// A second run ends where an undisturbed one does. Not so true, which takes
	// up what is left of the difference.
	completes bool
}

func killings() []killing {
	return []killing{
		{"true", longerPanel, []string{"true", "seam-1", "--move", "both"}, false},
		{"tidy", untidy, []string{"tidy"}, true},
		{"restore", titled, []string{"restore", "first"}, true},
		{"keep", stale, []string{"keep", "lower-hem", "--because", "the hem pulled"}, true},
		{"import", drawn, []string{"import", "panels.svg"}, true},
		{"import over pieces", drawnBefore, []string{"import", "panels.svg"}, true},
	}
}

// everyPiece changes all pieces of the folder in the same way.
func (w *workshop) everyPiece(old, new string) {
	w.t.Helper()
	names, err := fs.Glob(os.DirFS(w.dir), "pieces/*.piece")
	require.NoError(w.t, err)
	for _, n := range names {
		before := w.read(n)
		require.Contains(w.t, before, old)
		w.write(n, strings.Replace(before, old, new, 1))
	}
}

func longerPanel(w *workshop) {
	name := "pieces/panel-1.piece"
	w.write(name, strings.Replace(w.read(name), "corner top-back 40 200", "corner top-back 40 205", 1))
	w.lengths(name)
}

func untidy(w *workshop) { w.everyPiece("corner top-front -40 200", "corner  top-front -40.0 200.00") }

func titled(w *workshop) {
	w.everyPiece("seamkeep piece 1\n", "seamkeep piece 1\ntitle \"Panel\"\n")
	w.keep("titled", false)
}

// stale moves a handle of every hem, whose recorded length is then wrong.
func stale(w *workshop) { w.everyPiece("curve -20 -11", "curve -20 -21") }

// drawn writes a drawing of as many pieces, in mm.
func drawn(w *workshop) { w.write("panels.svg", panelDrawing(120)) }

// drawnBefore has those pieces already, drawn a little narrower.
func drawnBefore(w *workshop) {
	w.write("panels.svg", panelDrawing(110))
	w.run("seamkeep", "import", "panels.svg")
	w.keep("drawn", false)
	w.write("panels.svg", panelDrawing(120))
}

func panelDrawing(width int) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%dmm" height="400mm" viewBox="0 0 %d 400">`, 200*killedPieces, 200*killedPieces)
	for i := range killedPieces {
		fmt.Fprintf(&b, `<path id="drawn-%d" d="M %d 10 V 310 H %d V 10 Z"/>`, i+1, 200*i, 200*i+width)
	}
	return b.String() + "</svg>\n"
}

// A program may be killed at any moment (signal(7), SIGKILL cannot be caught);
// rename(2) replaces a file as a whole, so no reader finds half of one.
func TestKilledWhileItRuns(t *testing.T) {
	program := builtProgram(t)
	t.Run("leavings", func(t *testing.T) { leavings(t, program) })
	for _, k := range killings() {
		t.Run(k.name, func(t *testing.T) {
			t.Parallel()
			w := newWorkshop(t, program)
			require.NoError(t, os.RemoveAll(filepath.Join(w.dir, "pieces")))
			require.NoError(t, os.Remove(filepath.Join(w.dir, "bodice.garment")))
			for name, data := range benchFiles(killedPieces, 0) {
				w.write(name, string(data))
			}
			w.keep("first", false)
			w.git("tag", "first")
			k.prepare(w)
			whole := w.copy()
			begun := time.Now()
			whole.run("seamkeep", k.args...)
			k.try(w, whole.patternFiles(), time.Since(begun))
		})
	}
}

// leavings: an hour later, what killed runs left is taken away; a file that
// another run may be writing now stays.
func leavings(t *testing.T, program string) {
	t.Parallel()
	w := newWorkshop(t, program)
	w.keep("base", false)
	w.change("pieces/side.piece", []byte("-corner top-back 50 200\n+corner top-back 50.0 200.5\n"))
	long := time.Now().Add(-2 * time.Hour)
	for _, name := range []string{"pieces/.seamkeep-%012d.tmp", ".git/.seamkeep-%012d.tmp", ".git/seamkeep-index-%d"} {
		w.write(fmt.Sprintf(name, 1), "half")
		w.write(fmt.Sprintf(name, 2), "half")
		require.NoError(t, os.Chtimes(filepath.Join(w.dir, fmt.Sprintf(name, 1)), long, long))
	}
	w.run("seamkeep", "tidy")
	w.run("seamkeep", "keep", "raised", "--because", "the bust was short")
	var left []string
	for _, pattern := range []string{"pieces/.*", ".git/.seamkeep-*", ".git/seamkeep-*"} {
		names, err := fs.Glob(os.DirFS(w.dir), pattern)
		require.NoError(t, err)
		left = append(left, names...)
	}
	assert.Equal(t, []string{"pieces/.seamkeep-000000000002.tmp", ".git/.seamkeep-000000000002.tmp", ".git/seamkeep-index-2"}, left)
	assert.Equal(t, "?? pieces/.seamkeep-000000000002.tmp", w.git("status", "--porcelain"))
}

// copy is the same folder and repository in another place.
func (w *workshop) copy() *workshop {
	w.t.Helper()
	c := *w
	c.dir = filepath.Join(w.t.TempDir(), "copy")
	require.NoError(w.t, os.CopyFS(c.dir, os.DirFS(w.dir)))
	return &c
}

// patternFiles reads all garment and piece files.
func (w *workshop) patternFiles() map[string]string {
	w.t.Helper()
	all := map[string]string{}
	for _, pattern := range []string{"*.garment", "pieces/*.piece"} {
		names, err := fs.Glob(os.DirFS(w.dir), pattern)
		require.NoError(w.t, err)
		for _, n := range names {
			all[n] = w.read(n)
		}
	}
	return all
}

// try kills the command at moments spread over the time that it takes.
func (k killing) try(w *workshop, new map[string]string, takes time.Duration) {
	old := w.patternFiles()
	count := map[string]int{}
	for i := range killsEach {
		part := (float64(i) + rand.Float64()) / killsEach
		c := w.copy()
		c.kill(time.Duration(part*float64(takes)), i%2 == 0, k.args)
		count[c.oldOrNew(old, new)]++
		if len(c.leftovers()) > 0 {
			count["temporary file left"]++
		}
		c.stillWorks()
		k.again(c, new)
	}
	w.t.Logf("%d kills within %v: %v", killsEach, takes.Round(time.Millisecond), count)
}

// kill starts our program and kills it, with or without the git that it
// started; then it waits until none of them is left.
func (w *workshop) kill(after time.Duration, together bool, args []string) {
	w.t.Helper()
	cmd := exec.Command(w.program, args...)
	cmd.Dir, cmd.Env, cmd.SysProcAttr = w.dir, w.env, &syscall.SysProcAttr{Setpgid: true}
	require.NoError(w.t, cmd.Start())
	group := -cmd.Process.Pid
	time.Sleep(after)
	if together {
		_ = syscall.Kill(group, syscall.SIGKILL) // it may have ended already
	} else {
		_ = cmd.Process.Kill()
	}
	_ = cmd.Wait()
	require.Eventually(w.t, func() bool { return syscall.Kill(group, 0) == syscall.ESRCH }, 10*time.Second, 2*time.Millisecond)
}

// oldOrNew holds every pattern file against its content before and after the
// command: each is one or the other.
func (w *workshop) oldOrNew(old, new map[string]string) string {
	w.t.Helper()
	now := w.patternFiles()
	isOld, isNew := maps.Equal(now, old), maps.Equal(now, new)
	names := slices.Sorted(maps.Keys(old))
	for n := range new {
		names = append(names, n)
	}
	for n := range now {
		names = append(names, n)
	}
	for _, n := range names {
		text, there := now[n]
		before, was := old[n]
		after, becomes := new[n]
		assert.True(w.t, there == was && text == before || there == becomes && text == after, "%s is neither old nor new:\n%s", n, text)
	}
	switch {
	case isOld:
		return "all old"
	case isNew:
		return "all new"
	}
	return "some old, some new"
}

var temporary = regexp.MustCompile(`(^|/)\.seamkeep-[0-9a-f]{12}\.tmp$`)

// leftovers lists what the killed command left in the working tree; nothing
// else may be new there.
func (w *workshop) leftovers() []string {
	w.t.Helper()
	var left []string
	require.NoError(w.t, filepath.WalkDir(w.dir, func(name string, d os.DirEntry, err error) error {
		if d.IsDir() && d.Name() == ".git" {
			return fs.SkipDir
		}
		rel, _ := filepath.Rel(w.dir, name)
		known := d.IsDir() || slices.Contains([]string{".piece", ".garment", ".body", ".svg", ".gitattributes", ".gitignore"}, filepath.Ext(name))
		if !known && assert.Regexp(w.t, temporary, filepath.ToSlash(rel)) {
			left = append(left, filepath.ToSlash(rel))
		}
		return err
	}))
	return left
}

// stillWorks asks git and our program to read what is left. A lock that a
// killed git left is git's own; git says to remove it by hand, and so does
// this.
func (w *workshop) stillWorks() {
	w.t.Helper()
	locks, err := filepath.Glob(filepath.Join(w.dir, ".git", "*.lock"))
	require.NoError(w.t, err)
	more, err := filepath.Glob(filepath.Join(w.dir, ".git", "refs", "heads", "*.lock"))
	require.NoError(w.t, err)
	for _, lock := range append(locks, more...) {
		require.NoError(w.t, os.Remove(lock))
	}
	w.git("status", "--porcelain")
	w.git("fsck", "--connectivity-only", "--no-dangling")
	out, err := w.try("seamkeep", "walk", "--json")
	var exit *exec.ExitError
	if err != nil {
		require.ErrorAs(w.t, err, &exit, out)
		assert.Equal(w.t, exitFindings, exit.ExitCode(), "what is left can be read\n%s", out)
	}
}

// again runs the command a second time, whole.
func (k killing) again(w *workshop, new map[string]string) {
	t := w.t
	t.Helper()
	out, err := w.try("seamkeep", k.args...)
	if k.args[0] == "keep" && err != nil {
		assert.Contains(t, flat(out), "nothing to keep", "the killed run kept it")
	} else {
		require.NoError(t, err, out)
	}
	if k.completes {
		assert.Equal(t, new, w.patternFiles())
	}
	w.run("seamkeep", "walk")
	// kept then, no temporary file goes along
	if _, err := w.try("seamkeep", "keep", "after-all", "--because", "it was killed"); err == nil {
		assert.NotContains(t, w.git("ls-tree", "-r", "--name-only", "HEAD"), ".seamkeep-")
	}
}
