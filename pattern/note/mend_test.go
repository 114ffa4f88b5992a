package note

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestMendMovesOurLinesToWhereGitSeesThem(t *testing.T) {
	for name, c := range map[string]struct{ message, want string }{
		"text directly above": {
			"Release the hip\n\nIt pulled.\nAlteration: hip\nChanges: girth low-hip +24\n",
			"Release the hip\n\nIt pulled.\n\nAlteration: hip\nChanges: girth low-hip +24\n",
		},
		"a paragraph after": {
			"Subject\n\nAlteration: hip\nKeeps: girth\n\nMore text.\n",
			"Subject\n\nMore text.\n\nAlteration: hip\nKeeps: girth\n",
		},
		"below the subject": {
			"Subject\nOnly: front\n",
			"Subject\n\nOnly: front\n",
		},
		"nothing else": {
			"Alteration: hip\nOnly: front",
			"hip\n\nAlteration: hip\nOnly: front\n",
		},
		"nothing else, no name": {
			"Only: front\n\n# Please enter the message\n",
			"(no subject)\n\nOnly: front\n\n# Please enter the message\n",
		},
		"other people's trailers after": {
			"Subject\n\nAlteration: hip\nOnly: front\n\nSigned-off-by: A <a@b>\n",
			"Subject\n\nSigned-off-by: A <a@b>\nAlteration: hip\nOnly: front\n",
		},
		"two blocks": {
			"Subject\n\nAlteration: a\n  b\nOnly: front\n\nText.\n\nAlteration: c\n",
			"Subject\n\nText.\n\nAlteration: a\n  b\nOnly: front\nAlteration: c\n",
		},
		"behind a divider": {
			"Subject\n---\nAlteration: a\nx\n",
			"Subject\n\nAlteration: a\n---\nx\n",
		},
		"before comments and scissors": {
			"Subject\nOnly: a\n# a comment\n" + scissors + "Only: b\n",
			"Subject\n\nOnly: a\n# a comment\n" + scissors + "Only: b\n",
		},
		"in order": {
			"Subject\n\nText.\n\nAlteration: a\nSigned-off-by: A <a@b>\nonly: front\n",
			"Subject\n\nText.\n\nAlteration: a\nSigned-off-by: A <a@b>\nonly: front\n",
		},
		"none of ours": {"Subject\nText: x\n", "Subject\nText: x\n"},
		"empty":        {"", ""},
	} {
		assert.Equal(t, c.want, Mend(c.message), name)
	}
}

// ourLines gives the keys and values of all lines of ours in a message.
func ourLines(message string) []string {
	l := layOut(message)
	var out []string
	for i := range l.lines[:l.text] {
		if word, is := l.ours(i); is {
			_, value, _ := keyOf(l.lines[i])
			out = append(out, word+": "+joined(value+strings.Join(l.lines[i+1:l.until(i, l.text)], "")))
		}
	}
	return out
}

// otherLines gives all lines that are neither ours nor blank.
func otherLines(message string) []string {
	l := layOut(message)
	var out []string
	for i := 0; i < len(l.lines); i++ {
		if i < l.text {
			if _, is := l.ours(i); is {
				i = l.until(i, l.text) - 1
				continue
			}
		}
		if !isBlank(l.lines[i]) {
			out = append(out, strings.TrimSuffix(l.lines[i], "\n"))
		}
	}
	return out
}

func seenOurs(message string) []string {
	var out []string
	for _, t := range seen(message) {
		if word, is := ours(t.Key); is {
			out = append(out, word+": "+t.Value)
		}
	}
	return out
}

func checkMend(t assert.TestingT, m string) {
	mended := Mend(m)
	assert.Equal(t, mended, Mend(mended), "twice: %q", m)
	assert.Equal(t, ourLines(m), seenOurs(mended), "seen: %q -> %q", m, mended)
	before, after := otherLines(m), otherLines(mended)
	if len(after) == len(before)+1 { // a subject was made
		i := 0
		for i < len(before) && after[i] == before[i] {
			i++
		}
		after = append(after[:i:i], after[i+1:]...)
	}
	assert.Equal(t, strings.Join(before, "\n"), strings.Join(after, "\n"), "other lines: %q -> %q", m, mended)
	if len(ourLines(m)) == 0 {
		assert.Equal(t, m, mended)
	}
}

func TestMendKeepsTheRestAndIsSeenWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { checkMend(t, anyMessage().Draw(t, "message")) })
}

// The reference is the installed git, 30 messages a draw.
func TestGitSeesAllThatMendMoved(t *testing.T) {
	g := newGit(t)
	rapid.Check(t, func(rt *rapid.T) {
		messages := rapid.SliceOfN(anyMessage().Filter(func(m string) bool { return !hangsGit(m) }), 30, 30).Draw(rt, "messages")
		mended := make([]string, len(messages))
		for i, m := range messages {
			mended[i] = Mend(m)
		}
		for i, got := range g.parsed(rt, mended) {
			var mine []string
			for line := range strings.Lines(got) {
				key, value, _ := strings.Cut(strings.TrimSuffix(line, "\n"), ": ")
				if word, is := ours(key); is {
					mine = append(mine, word+": "+value)
				}
			}
			assert.Equal(rt, ourLines(messages[i]), mine, "%q -> %q", messages[i], mended[i])
			assert.Equal(rt, got, printed(seen(mended[i])), "%q", mended[i])
		}
	})
}

func FuzzMend(f *testing.F) {
	for _, m := range []string{"Subject\n\nText\nOnly: a\n", "Only: a", "\x00Only: a", "a\n---\nKeeps: b\n c", scissors + "Only: a", "Conflicts:\n\ta\nOnly: b\n \n"} {
		f.Add(m)
	}
	f.Fuzz(func(t *testing.T, m string) { checkMend(t, m) })
}
