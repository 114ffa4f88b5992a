package repo

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// printed is how `git interpret-trailers --parse` prints trailers.
func printed(list []Trailer) string {
	var b strings.Builder
	for _, t := range list {
		fmt.Fprintf(&b, "%s: %s\n", t.Key, t.Value)
	}
	return b.String()
}

// byGit has git parse many messages: with several files it prints what it finds
// in each, one after the other, so a mark is put between them.
func byGit(t require.TestingT, b *box, messages []string) []string {
	const mark = "subject\n\nEnd-of-message: 1\n"
	dir := filepath.Join(b.dir, "messages")
	require.NoError(t, os.RemoveAll(dir))
	require.NoError(t, os.MkdirAll(dir, 0o777))
	args := []string{"interpret-trailers", "--parse"}
	for i, m := range messages {
		name, end := filepath.Join(dir, fmt.Sprint(i)), filepath.Join(dir, fmt.Sprint(i, "-end"))
		require.NoError(t, os.WriteFile(name, []byte(m), 0o600))
		require.NoError(t, os.WriteFile(end, []byte(mark), 0o600))
		args = append(args, name, end)
	}
	out, err := b.try(args...)
	require.NoError(t, err, out)
	parts := strings.Split(out, "End-of-message: 1\n")
	require.Len(t, parts, len(messages)+1)
	return parts[:len(messages)]
}

func TestTrailersByExample(t *testing.T) {
	b := newBox(t)
	cases := map[string]string{
		"one block":                         "Subject\n\nText.\n\nDoes: take-in waist 10\nWhy: it gaped\n",
		"no line end":                       "Subject\n\nDoes: x",
		"title only":                        "Does: x\n",
		"title of two lines":                "Subject\nDoes: x\n",
		"empty":                             "",
		"only line ends":                    "\n\n\n",
		"empty title":                       "\n\nDoes: x\n",
		"text above without a gap":          "Subject\n\nText.\nDoes: x\n",
		"paragraph after":                   "Subject\n\nDoes: x\n\nText.\n",
		"a quarter with signed off":         "Subject\n\na\nb\nc\nSigned-off-by: A <a@b>\n",
		"less than a quarter":               "Subject\n\na\nb\nc\nd\nSigned-off-by: A <a@b>\n",
		"signed off without a blank":        "Subject\n\na\nSigned-off-by:A\n",
		"cherry picked":                     "Subject\n\nText here\n(cherry picked from commit abc)\nDoes: x\n",
		"continued":                         "Subject\n\nDoes: a\n  b\n\tc\nWhy: d\n",
		"continued with nothing":            "Subject\n\nDoes: a\n \n  b\n",
		"continuation first":                "Subject\n\n  a\nDoes: b\n",
		"comments between":                  "Subject\n\nDoes: a\n# remark\nWhy: b\n",
		"comment then continuation":         "Subject\n\nDoes: a\n# remark\n  more\n",
		"comments at the end":               "Subject\n\nDoes: a\n\n# Please enter\n# the message\n",
		"comment block of one":              "Subject\n\n# Does: a\n",
		"divider":                           "Subject\n\nDoes: a\n---\n\nWhy: b\n",
		"divider first":                     "---\nSubject\n\nWhy: b\n",
		"divider with text":                 "Subject\n\nDoes: a\n--- a file\nWhy: b\n",
		"four hyphens":                      "Subject\n\nDoes: a\n----\nWhy: b\n",
		"scissors":                          "Subject\n\nDoes: a\n# ------------------------ >8 ------------------------\nWhy: b\n",
		"scissors first":                    "# ------------------------ >8 ------------------------\nSubject\n\nWhy: b\n",
		"old conflicts":                     "Subject\n\nDoes: a\n\nConflicts:\n\ta.txt\n\tb.txt\n",
		"conflicts with a trailer":          "Subject\n\nConflicts:\n\ta.txt\nDoes: a\n",
		"blank before the colon":            "Subject\n\nDoes  : a\n",
		"two words before the colon":        "Subject\n\nDoes it: a\n",
		"odd keys":                          "Subject\n\n-: a\n1-x: b\n: c\n",
		"dots in the key":                   "Subject\n\na.b: c\n",
		"no value":                          "Subject\n\nDoes:\nWhy: \n",
		"value with colons":                 "Subject\n\nDoes: a: b:c\n",
		"carriage returns":                  "Subject\r\n\r\nDoes: a\r\nWhy: b\r\n",
		"tabs and vertical tabs":            "Subject\n\nDoes:\t\va\f\n",
		"blank line of spaces":              "Subject\n \t\nDoes: a\n",
		"several blank lines":               "Subject\n\n\n\nDoes: a\n\n\n",
		"squash of two messages":            "# This is a combination\nFirst\n\nDoes: a\n\nSecond\n\nWhy: b\n",
		"bytes that are not UTF-8":          "Subject\n\nDoes: caf\xe9\n",
		"a web address in the text":         "Subject\n\nSee\nhttp: //x\n",
		"comment right below the title":     "Subject\n# remark\n\nDoes: a\n",
		"message that begins with comments": "#a\n\nDoes: a\n",
	}
	var names, messages []string
	for name, m := range cases {
		names, messages = append(names, name), append(messages, m)
	}
	for i, want := range byGit(t, b, messages) {
		assert.Equal(t, want, printed(Trailers(messages[i])), names[i])
	}
}

// hangsGit says whether a scissors line stands behind a divider, over which git
// 2.39 never ends.
func hangsGit(message string) bool {
	at := patchStart(message)
	return strings.Contains(message[at:], "\n# ------------------------ >8")
}

func TestScissorsBehindADividerEndNothing(t *testing.T) {
	m := "Subject\n\nDoes: a\n---\nWhy: b\n# ------------------------ >8 ------------------------\nx\n"
	require.True(t, hangsGit(m))
	assert.Equal(t, []Trailer{{"Does", "a"}}, Trailers(m)) // as with the divider alone
}

// message draws text that comes close to trailers and to what git treats
// specially.
func message() *rapid.Generator[string] {
	line := rapid.OneOf(
		rapid.SampledFrom([]string{
			"", "", "", " ", "\t", "Does: take in", "Why: gaped", "Signed-off-by: A <a@b>", "Signed-off-by: ", "Signed-off-by:x",
			"(cherry picked from commit 0123)", "(cherry picked from", "  more", "\tmore", " x: y", "# remark", "#", " # no remark",
			"---", "--- ", "---a", "----", "# ------------------------ >8 ------------------------", "Conflicts:", "\ta.txt",
			"text", "more text here", "key :value", "key word: value", ":", "a:", "-:b", "\r", "x\r", "Does: a\r", "é: b", "a=b", "\x0b",
		}),
		rapid.StringOfN(rapid.SampledFrom([]rune("aB1-: \t#\r=é")), 0, 8, -1),
	)
	return rapid.Custom(func(t *rapid.T) string {
		lines := rapid.SliceOfN(line, 0, 14).Draw(t, "lines")
		if rapid.IntRange(0, 3).Draw(t, "titled") > 0 {
			lines = append([]string{"Title", ""}, lines...)
		}
		return strings.Join(lines, "\n") + rapid.SampledFrom([]string{"", "\n"}).Draw(t, "end")
	}).Filter(func(m string) bool { return !hangsGit(m) })
}

// The reference is the installed git itself, 30 messages a draw.
func TestTrailersAgreeWithGitOnRandomMessages(t *testing.T) {
	b := newBox(t)
	rapid.Check(t, func(rt *rapid.T) {
		messages := rapid.SliceOfN(message(), 30, 30).Draw(rt, "messages")
		for i, want := range byGit(rt, b, messages) {
			if got := printed(Trailers(messages[i])); got != want {
				rt.Fatalf("message %q\ngit:  %q\nours: %q", messages[i], want, got)
			}
		}
	})
}

func TestFormatTrailersIsReadBackByGitAndByUs(t *testing.T) {
	b := newBox(t)
	value := rapid.Custom(func(t *rapid.T) string {
		return strings.TrimSpace(rapid.StringOfN(rapid.SampledFrom([]rune("ab1-:#(é. ")), 0, 20, -1).Draw(t, "value"))
	})
	trailer := rapid.Custom(func(t *rapid.T) Trailer {
		return Trailer{Key: rapid.StringMatching(`[A-Za-z0-9-]{1,8}`).Draw(t, "key"), Value: value.Draw(t, "v")}
	})
	rapid.Check(t, func(rt *rapid.T) {
		var messages []string
		var want []string
		for range 5 {
			list := rapid.SliceOfN(trailer, 1, 5).Draw(rt, "trailers")
			body := message().Draw(rt, "body")
			m := FormatTrailers(rapid.SampledFrom([]string{"", "Lower", "# x", "Does: y", "---", "a\nb"}).Draw(rt, "subject"), body, list)
			if got := Trailers(m); printed(got) != printed(list) {
				rt.Fatalf("message %q\nwant %q\ngot  %q", m, list, got)
			}
			messages, want = append(messages, m), append(want, printed(list))
		}
		for i, got := range byGit(rt, b, messages) {
			if got != want[i] {
				rt.Fatalf("message %q\ngit:  %q\nwant: %q", messages[i], got, want[i])
			}
		}
	})
}

func TestFormatTrailersKeepsEachValueOnOneLine(t *testing.T) {
	m := FormatTrailers("Lower the\nneck", "It gaped.\n---\nfar too much\n", []Trailer{{"Why", "a\n  b\n\nc"}, {"not a key", "x"}, {"Does", "y"}})
	assert.Equal(t, "Lower the neck\n\nIt gaped.\n ---\nfar too much\n\nWhy: a b c\nDoes: y\n", m)
	assert.Equal(t, []Trailer{{"Why", "a b c"}, {"Does", "y"}}, Trailers(m))
	assert.Equal(t, "Subject\n", FormatTrailers("Subject", " \n", nil))
}

func FuzzTrailers(f *testing.F) {
	f.Add("Subject\n\nDoes: a\n  b\n")
	f.Add("x\n\n---\n")
	f.Add("# ------------------------ >8 ------------------------\n")
	f.Add("\n\nConflicts:\n\ta")
	f.Fuzz(func(t *testing.T, m string) {
		for _, tr := range Trailers(m) {
			if strings.ContainsAny(tr.Key+tr.Value, "\n\x00") || tr.Key == "" {
				t.Fatalf("message %q gave %q", m, tr)
			}
		}
		again := FormatTrailers("s", m, Trailers(m))
		if printed(Trailers(again)) != printed(Trailers(m)) && len(Trailers(m)) > 0 {
			t.Fatalf("message %q is not read back from %q", m, again)
		}
	})
}
