package main

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/text"
)

// TestMerges tries the program as git's hooks meet it.
func TestMerges(t *testing.T) {
	program := builtProgram(t)
	t.Run("of two edits", func(t *testing.T) { mergesOfTwoEdits(t, program) })
	t.Run("refused", func(t *testing.T) { aroundARefusal(t, program) })
}

// builtProgram builds our program into a file that lives as long as the test.
func builtProgram(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"git", "go", "sh"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("%s is not installed: the program is built, and asked by the hooks of the real git", name)
		}
	}
	program := filepath.Join(t.TempDir(), "seamkeep")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	out, err := exec.Command("go", "build", "-buildvcs=false", "-o", program, ".").CombinedOutput()
	require.NoError(t, err, string(out))
	return program
}

// What git's own line merge makes of two makers' edits, and what our hooks say
// of the outcome: each pair stands in a file of testdata/merge, with edits in
// the manner of a diff without line numbers ("@@" parts hunks). The edge
// lengths are written as tidy writes them, unless the file says otherwise.

// mergePair is one file of testdata/merge.
type mergePair struct {
	head  map[string]string
	edits []txtar.File // named "SIDE FILE", "SIDE FILE NEW-NAME" or "SIDE tidy"
}

func readMergePair(t *testing.T, file string) mergePair {
	a, err := txtar.ParseFile(file)
	require.NoError(t, err)
	p := mergePair{head: map[string]string{}, edits: a.Files}
	for line := range strings.Lines(string(a.Comment)) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		key, value, ok := strings.Cut(strings.TrimSpace(line), ": ")
		require.True(t, ok, line)
		require.Contains(t, []string{"pair", "fact", "lengths", "unjudged", "git", "hook", "mended", "measure"}, key)
		p.head[key] = value
	}
	for _, f := range a.Files {
		require.Contains(t, []string{"base", "ours", "theirs"}, strings.Fields(f.Name)[0])
	}
	return p
}

// hunk is a run of lines and what takes its place.
type hunk struct{ old, new string }

// hunks reads an edit: "-" a line that goes, "+" one that comes, " " one that
// stays. A new hunk begins at "@@", and at the first old line after new ones.
func hunks(edit []byte) []hunk {
	all := []hunk{{}}
	added := false
	for line := range strings.Lines(string(edit)) {
		h := &all[len(all)-1]
		old := line[0] != '+'
		if line == "@@\n" || old && added && h.old != "" {
			all = append(all, hunk{})
			h, added = &all[len(all)-1], false
		}
		if line == "@@\n" {
			continue
		}
		if old {
			h.old += line[1:]
		}
		if line[0] != '-' {
			h.new += line[1:]
		}
		added = added || !old
	}
	return all
}

// workshop is a repository of the real git with our hooks, the built program
// first on PATH, a home of its own, a fixed author and fixed dates.
type workshop struct {
	t       *testing.T
	program string // our program
	dir     string
	env     []string
	bare    bool // pieces do not record the lengths of edges
}

func newWorkshop(t *testing.T, program string) *workshop {
	home, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	w := &workshop{t: t, program: program, dir: filepath.Join(home, "bodice"), env: []string{
		"PATH=" + filepath.Dir(program) + string(filepath.ListSeparator) + os.Getenv("PATH"),
		"HOME=" + home, "XDG_CONFIG_HOME=" + home, "GIT_CONFIG_GLOBAL=" + filepath.Join(home, ".gitconfig"), "GIT_CONFIG_NOSYSTEM=1",
		"GIT_AUTHOR_NAME=A Maker", "GIT_AUTHOR_EMAIL=maker@example.org", "GIT_AUTHOR_DATE=2026-03-01T10:00:00Z",
		"GIT_COMMITTER_NAME=A Maker", "GIT_COMMITTER_EMAIL=maker@example.org", "GIT_COMMITTER_DATE=2026-03-01T10:00:00Z",
		"GIT_TERMINAL_PROMPT=0", "GIT_EDITOR=:", "LC_ALL=C", "TZ=UTC", "NO_COLOR=1", "SYSTEMROOT=" + os.Getenv("SYSTEMROOT"),
		"TMPDIR=" + os.TempDir(), "TEMP=" + os.TempDir(),
	}}
	require.NoError(t, os.CopyFS(w.dir, os.DirFS("testdata/merge/base")))
	w.write(".gitattributes", attributes)
	w.write(".gitignore", "bodies/\n")
	w.git("init", "--quiet", "--initial-branch=main")
	w.run("seamkeep", "hooks", "install")
	return w
}

// try runs a program in the folder; its two outputs come back as one text.
func (w *workshop) try(name string, args ...string) (string, error) {
	w.t.Helper()
	cmd := exec.Command(name, args...)
	if name == "seamkeep" {
		cmd = exec.Command(w.program, args...)
	}
	cmd.Dir, cmd.Env = w.dir, w.env
	out, err := cmd.CombinedOutput()
	return string(out), err
}

func (w *workshop) run(name string, args ...string) string {
	w.t.Helper()
	out, err := w.try(name, args...)
	require.NoError(w.t, err, "%s %s\n%s", name, strings.Join(args, " "), out)
	return strings.TrimRight(out, "\n")
}

func (w *workshop) git(args ...string) string {
	w.t.Helper()
	return w.run("git", args...)
}

// fails runs git, which must fail, and gives what was said.
func (w *workshop) fails(args ...string) string {
	w.t.Helper()
	out, err := w.try("git", args...)
	require.Error(w.t, err, "git %s\n%s", strings.Join(args, " "), out)
	return out
}

func (w *workshop) write(name, content string) {
	w.t.Helper()
	require.NoError(w.t, os.MkdirAll(filepath.Dir(filepath.Join(w.dir, name)), 0o755))
	require.NoError(w.t, os.WriteFile(filepath.Join(w.dir, name), []byte(content), 0o644))
}

func (w *workshop) read(name string) string {
	w.t.Helper()
	data, err := os.ReadFile(filepath.Join(w.dir, name))
	require.NoError(w.t, err)
	return string(data)
}

// keep commits all there is, judged by the hook unless free.
func (w *workshop) keep(note string, free bool) {
	w.t.Helper()
	w.git("add", "--all")
	args := []string{"commit", "--quiet", "--allow-empty", "--message=" + note + "\n\nAlteration: " + note + "\n"}
	if free {
		args = append(args, "--no-verify")
	}
	w.git(args...)
}

// edit makes one side's edits.
func (w *workshop) edit(side string, edits []txtar.File) {
	w.t.Helper()
	for _, e := range edits {
		f := strings.Fields(e.Name)
		switch {
		case f[0] != side:
			continue
		case f[1] == "tidy":
			w.run("seamkeep", "tidy")
			continue
		}
		w.change(f[1], e.Data)
		if len(f) == 3 {
			w.git("mv", f[1], f[2])
		}
	}
}

// change edits one file; a hunk without old lines makes it. A hunk must fit
// one place exactly.
func (w *workshop) change(name string, edit []byte) {
	w.t.Helper()
	for _, h := range hunks(edit) {
		if h.old == "" {
			w.write(name, h.new)
			continue
		}
		before := "\n" + w.read(name)
		require.Equal(w.t, 1, strings.Count(before, "\n"+h.old), "%s: the place of\n%s", name, h.old)
		w.write(name, strings.Replace(before, "\n"+h.old, "\n"+h.new, 1)[1:])
	}
	w.lengths(name)
}

var edgeLength = regexp.MustCompile(`(?m)^(edge \S+) length \S+`)

// lengths writes the true lengths of a piece's edges, or takes them out.
func (w *workshop) lengths(name string) {
	w.t.Helper()
	src := []byte(w.read(name))
	if w.bare {
		src = edgeLength.ReplaceAll(src, []byte("$1"))
	} else if piece, problems := text.ReadPiece(name, src); text.KindOf(name) == text.PieceFile && !problems.HasErrors() {
		text.Lengths(piece)
		var err error
		src, err = text.Update(name, src, piece)
		require.NoError(w.t, err)
	}
	w.write(name, string(src))
}

// part makes main with our edits, and a branch "other" with theirs.
func (w *workshop) part(p mergePair) {
	w.t.Helper()
	if p.head["lengths"] == "none" {
		w.bare = true
		pieces, err := fs.Glob(os.DirFS(w.dir), "pieces/*.piece")
		require.NoError(w.t, err)
		for _, name := range pieces {
			w.lengths(name)
		}
	}
	free := func(side string) bool { return slices.Contains(strings.Fields(p.head["unjudged"]), side) }
	w.edit("base", p.edits)
	w.keep("base", free("base"))
	w.git("tag", "base")
	w.git("checkout", "--quiet", "-b", "other")
	w.edit("theirs", p.edits)
	w.keep("theirs", free("theirs"))
	w.git("checkout", "--quiet", "main")
	w.edit("ours", p.edits)
	w.keep("ours", free("ours"))
}

// unmerged lists the files with a conflict.
func (w *workshop) unmerged() []string {
	return strings.Fields(w.git("diff", "--name-only", "--diff-filter=U"))
}

func (w *workshop) merging() bool {
	_, err := w.try("git", "rev-parse", "--quiet", "--verify", "MERGE_HEAD")
	return err == nil
}

func (w *workshop) parents() int { return len(strings.Fields(w.git("log", "-1", "--format=%P"))) }

// ids gives the problem ids in what a hook said, each once, in order.
func ids(said string) []string { return idsOf(said, `(?:error|warning)`) }

// refusals gives those of errors alone.
func refusals(said string) []string { return idsOf(said, "error") }

func idsOf(said, severity string) []string {
	var all []string
	finding := regexp.MustCompile(`\b` + severity + `: [^\[\]]*\[([a-z]+\.[a-z-]+)\]`)
	for _, m := range finding.FindAllStringSubmatch(flat(said), -1) {
		all = append(all, m[1])
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// expect holds what was said and done against a line such as
// "refuses seam.differs" or "passes seam.near".
func (w *workshop) expect(line, said string, err error) {
	w.t.Helper()
	verdict, want, _ := strings.Cut(line, " ")
	assert.ElementsMatch(w.t, strings.Fields(want), ids(said), said)
	if verdict == "passes" {
		require.NoError(w.t, err, said)
		assert.Equal(w.t, 2, w.parents(), "a merge with two parents")
		assert.False(w.t, w.merging())
		return
	}
	require.Equal(w.t, "refuses", verdict)
	require.Error(w.t, err, said)
	assert.Contains(w.t, said, "seamkeep refused this commit")
	assert.True(w.t, w.merging(), "git leaves a refused merge open")
	assert.Equal(w.t, 1, w.parents())
	assert.Empty(w.t, w.unmerged())
}

// mergesOfTwoEdits merges each pair of testdata/merge.
func mergesOfTwoEdits(t *testing.T, program string) {
	files, err := filepath.Glob("testdata/merge/*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			t.Parallel()
			p := readMergePair(t, file)
			w := newWorkshop(t, program)
			w.part(p)
			said, err := w.try("git", "merge", "--no-edit", "other")
			outcome, files, _ := strings.Cut(p.head["git"], " ")
			if outcome == "clean" {
				assert.Empty(t, w.unmerged(), said)
				w.expect(p.head["hook"], said, err)
			} else {
				require.Equal(t, "conflict", outcome)
				require.Error(t, err, said)
				assert.Equal(t, strings.Fields(files), w.unmerged())
				w.conflict(p)
			}
			w.measured(p.head["measure"])
		})
	}
}

// conflict commits the files with their markers, which must be refused, and
// then, where the pair says how that ends, both sides' lines.
func (w *workshop) conflict(p mergePair) {
	w.t.Helper()
	files := w.unmerged()
	w.git("add", "--all")
	said, err := w.try("git", "commit", "--no-edit")
	require.Error(w.t, err)
	assert.Contains(w.t, ids(said), "text.conflict")
	if p.head["mended"] == "" {
		return
	}
	for _, name := range files {
		w.write(name, bothSides(w.read(name)))
	}
	w.git("add", "--all")
	said, err = w.try("git", "commit", "--no-edit")
	w.expect(p.head["mended"], said, err)
}

// bothSides keeps the lines of both sides of each conflict, ours first.
func bothSides(content string) string {
	var b strings.Builder
	for line := range strings.Lines(content) {
		if !strings.HasPrefix(line, "<<<<<<< ") && line != "=======\n" && !strings.HasPrefix(line, ">>>>>>> ") {
			b.WriteString(line)
		}
	}
	return b.String()
}

// measured holds a measure against its values at the base, on each side and
// after the merge: "girth waist = 500 470 470 440".
func (w *workshop) measured(line string) {
	w.t.Helper()
	if line == "" {
		return
	}
	question, values, _ := strings.Cut(line, " = ")
	want := strings.Fields(values)
	require.Len(w.t, want, 4)
	for i, rev := range []string{"base", "HEAD^1", "other", "HEAD"} {
		out, err := w.try("seamkeep", "measure", "--json", "--rev", rev, question)
		if want[i] == "none" {
			assert.Error(w.t, err, "%s at %s", question, rev)
			continue
		}
		require.NoError(w.t, err, out)
		var doc struct{ Values []struct{ Value float64 } }
		require.NoError(w.t, json.Unmarshal([]byte(out), &doc))
		number, err := strconv.ParseFloat(want[i], 64)
		require.NoError(w.t, err)
		assert.InDelta(w.t, number, doc.Values[0].Value, 0.0011, fmt.Sprintf("%s at %s", question, rev))
	}
}
