package note

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
)

func TestKeysAreWrittenInTheirOrder(t *testing.T) {
	n, problems := read("S\n\nAlteration: a\nUnfinished: x\nAnswers: one\nonly: front\nKeeps: girth\nChanges: overlap back +6.0\nKeeps: gap front,seam side\nBecause: b\nDoes: overlap back to 30\nX: y\n")
	require.False(t, problems.HasErrors())
	assert.Equal(t, `Subject

Body.

Alteration: a
Because: b
Does: overlap back to 30
Changes: overlap back +6
Keeps: girth, gap front, seam side
Only: front
Answers: one
Unfinished: x
X: y
`, Write(" Subject ", "\nBody.  \n\n", n))
}

func TestMeasuresThatAreKeptFillLines(t *testing.T) {
	n, _ := read("S\n\nAlteration: a\nKeeps: seam front-side-front, seam side-front-underarm, seam underarm-gusset, seam gusset-side-back\n")
	assert.Equal(t, []string{
		"Alteration: a",
		"Keeps: seam front-side-front, seam side-front-underarm, seam underarm-gusset",
		"Keeps: seam gusset-side-back",
	}, n.Groups[0].Lines())
}

func TestWriteOfOddTexts(t *testing.T) {
	n, _ := read("S\n\nAlteration: a\n")
	for _, c := range []struct{ subject, body, want string }{
		{"", "", "a\n\nAlteration: a\n"},
		{"Only: front", "", "Only front\n\nAlteration: a\n"},
		{"Only: Does : x", "", "Only Does : x\n\nAlteration: a\n"},
		{"Keeps:", "", "Keeps\n\nAlteration: a\n"},
		{"--- ", "Changes: x\n---\nChanging: y", " ---\n\n Changes: x\n ---\nChanging: y\n\nAlteration: a\n"},
		{"a\nb", "\n\x00\n", "a b\n\nAlteration: a\n"},
	} {
		assert.Equal(t, c.want, Write(c.subject, c.body, n))
	}
	assert.Equal(t, "(no subject)\n", Write("", "", nil))
}

// What is written is read back: the same lines, by us and by git.
func TestWrittenNotesAreReadBackByGitAndByUs(t *testing.T) {
	g := newGit(t)
	rapid.Check(t, func(rt *rapid.T) {
		var messages, want []string
		for range 10 {
			n := noteOf(rt, rapid.SliceOfN(anyGroup(), 1, 3).Draw(rt, "groups")...)
			n.Others = rapid.SliceOfN(rapid.SampledFrom([]Trailer{{Key: "Signed-off-by", Value: "A <a@b>"}, {Key: "Conflicts"}, {Key: "X", Value: "a\n b"}, {Value: picked + "01)"}}), 0, 2).Draw(rt, "others")
			body := anyMessage().Draw(rt, "body")
			m := Write(rapid.SampledFrom([]string{"", "Release", "# x", "Only: y", "---", "a\nb"}).Draw(rt, "subject"), body, n)
			again, problems := read(m)
			assert.False(rt, problems.HasErrors(), "%q: %v", m, ids(problems))
			require.Len(rt, again.Groups, len(n.Groups), "%q", m)
			for i := range n.Groups {
				assert.Equal(rt, n.Groups[i].Lines(), again.Groups[i].Lines(), "%q", m)
			}
			assert.Equal(rt, m, Mend(m))
			twice := Write(again.Subject, again.Body, again)
			if !strings.Contains(m, "#") { // comments are not read
				assert.Equal(rt, m, twice)
			}
			messages, want = append(messages, m), append(want, printed(seen(m)))
		}
		assert.Equal(rt, want, g.parsed(rt, messages))
	})
}

func TestSuggestionsOfAChange(t *testing.T) {
	assert.Empty(t, Suggest(nil))
	assert.Empty(t, Suggest(&compare.Change{}))
	g := levels("bust")
	assert.Empty(t, Suggest(compare.Garments(g, g, compare.Options{})))
	wider := levels("bust")
	wider.Closures = []pattern.Closure{{Name: "back", Kind: pattern.ButtonClosure, Overlap: pattern.Some(30)}}
	was := levels("bust")
	was.Closures = []pattern.Closure{{Name: "back", Kind: pattern.ButtonClosure, Overlap: pattern.Some(24)}}
	got := Suggest(compare.Garments(was, wider, compare.Options{}))
	assert.Contains(t, got, "Changes: overlap back +6")
	assert.Contains(t, got, "Only: garment")
}

func TestTheTemplateFitsAndIsAllComments(t *testing.T) {
	assert.Empty(t, Template("a", "b", nil, "#"))
	for count, want := range map[int]int{1: 5, 26: 30, 27: 30, 100: 30} {
		text := Template("", "", strings.Split(strings.Repeat("Keeps: girth\n", count-1)+"Only: front", "\n"), ";")
		lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
		assert.Len(t, lines, want, count)
		for _, line := range lines {
			assert.True(t, strings.HasPrefix(line, "; "), line)
		}
		assert.Equal(t, count > 26, strings.HasPrefix(lines[len(lines)-1], "; ... and "), count)
	}
	long := Template("", "", strings.Split(strings.Repeat("Keeps: girth\n", 99)+"Only: front", "\n"), "")
	assert.Contains(t, long, "# ... and 75 more lines\n") // 102 lines to show, room for 28 of which one is this
}

// A maker types a subject where git puts the cursor and frees the offered lines:
// git itself then sees them, with each comment character, with a diff below, and
// behind trailers that were there before.
func TestLinesFreedInTheEditorAreTrailers(t *testing.T) {
	offered := []string{"Changes: girth bust +28", "Only: side-back"}
	for _, char := range []string{"#", ";"} {
		for name, args := range map[string][]string{
			"a new message": {},
			"with a diff":   {"-v"},
			"signed off":    {"-s"},
		} {
			g := newGit(t)
			g.run(t, "", "init", "-q", "-b", "main")
			require.NoError(t, os.WriteFile(filepath.Join(g.dir, "a"), []byte("a"), 0o600))
			g.run(t, "", "add", "a")
			commit := append([]string{"-c", "core.commentChar=" + char, "commit", "-q"}, args...)
			g.with(`GIT_EDITOR=sh -c 'cp "$1" prepared; printf "stop\n" >"$1"' x`).run(t, "", commit...)
			prepared, err := os.ReadFile(filepath.Join(g.dir, "prepared"))
			require.NoError(t, err)

			message := Offer(string(prepared), Template("move", "it rubbed", offered, char), char)
			for _, line := range []string{"Alteration: move", "Because: it rubbed", offered[0], offered[1]} {
				require.Contains(t, message, char+" "+line+"\n")
				message = strings.Replace(message, char+" "+line, line, 1)
			}
			edited := filepath.Join(g.dir, "edited")
			require.NoError(t, os.WriteFile(edited, []byte("Move the seam"+message), 0o600))
			g.with("GIT_EDITOR=cp edited").run(t, "", append(commit, "--amend")...)
			stored := g.run(t, "", "log", "-1", "--format=%B")
			assert.Equal(t, "Move the seam\n", g.run(t, "", "log", "-1", "--format=%s"))
			want := "Alteration: move\nBecause: it rubbed\nChanges: girth bust +28\nOnly: side-back\n"
			assert.Contains(t, g.parsed(t, []string{stored})[0], want, "%s %s", name, char)
			n, problems := read(stored)
			assert.Empty(t, problems, "%s %s", name, char)
			assert.Len(t, n.Groups, 1)

			before, problems := read(Comments("Move the seam"+message, char))
			assert.Empty(t, problems, "as the message stands when the hook reads it: %s %s", name, char)
			assert.Equal(t, n.Groups[0].Lines(), before.Groups[0].Lines())
		}
	}
}
