package note

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
)

const whole = `Release the hip

Fitting 2: two pulls at the hip.
The waist stays.

Alteration: hip-release
Because: fitting 2 pulled at the hip when seated
Changes: girth low-hip +24
Keeps: girth waist, girth bust
Only: side-front, underarm
Answers: fitting-2
Alteration: button-stand
Because: the buttons sat
  too near the edge
Changes: overlap back +6 within 1
Unfinished: seam.differs side-front-underarm
Signed-off-by: A Maker <maker@example.org>
Co-authored-by: Another <another@example.org>
Change-Id: I0123
`

func TestANoteOfTwoAlterations(t *testing.T) {
	n, problems := read(whole)
	require.Empty(t, problems)
	assert.Equal(t, "Release the hip", n.Subject)
	assert.Equal(t, "Fitting 2: two pulls at the hip.\nThe waist stays.", n.Body)
	assert.Equal(t, []string{"hip-release", "button-stand"}, n.Names())
	assert.Equal(t, []string{"fitting 2 pulled at the hip when seated", "the buttons sat too near the edge"}, n.Because())
	assert.Equal(t, []string{"fitting-2"}, n.Answers())
	assert.Equal(t, []string{"seam.differs side-front-underarm"}, n.Unfinished())
	require.Len(t, n.Groups, 2)
	var first []string
	for _, c := range n.Groups[0].Claims {
		first = append(first, c.Line())
	}
	assert.Equal(t, []string{"Changes: girth low-hip +24", "Keeps: girth waist", "Keeps: girth bust", "Only: side-front, underarm"}, first)
	assert.Equal(t, diag.Place{File: "message", Line: 9, Column: 21}, n.Groups[0].Claims[2].Place, "behind the comma")
	assert.Equal(t, diag.Place{File: "message", Line: 12, Column: 13}, n.Groups[1].Place)
	var keys []string
	for _, o := range n.Others {
		keys = append(keys, o.Key)
	}
	assert.Equal(t, []string{"Signed-off-by", "Co-authored-by", "Change-Id"}, keys)
	assert.True(t, n.Judged())
	assert.False(t, n.Waits())
}

func TestWhatIsWrongWithANote(t *testing.T) {
	for name, c := range map[string]struct {
		message string
		want    []string
	}{
		"fine":                      {"S\n\nAlteration: a\nOnly: front\n", nil},
		"no note at all":            {"S\n\nText.\n", nil},
		"other people's trailers":   {"S\n\nFixes: 12\nDocs: here\nReviewed-by: A <a@b>\nLink: x\n", nil},
		"a near miss":               {"S\n\nAlteration: a\nChange: girth +2\n", []string{"note.near-miss 4:1"}},
		"two near misses":           {"S\n\nAlteration: a\nKeep: girth\nOnyl: front\n", []string{"note.near-miss 4:1", "note.near-miss 5:1"}},
		"another case":              {"S\n\nalteration: a\nONLY: front\n", []string{"note.near-miss 3:1", "note.near-miss 4:1"}},
		"text directly above":       {"S\n\nText.\nAlteration: a\nOnly: front\n", []string{"note.unseen 4:1", "note.unseen 5:1"}},
		"a paragraph after":         {"S\n\nAlteration: a\n\nText.\n", []string{"note.unseen 3:1"}},
		"in the first paragraph":    {"Alteration: a\n", []string{"note.unseen 1:1"}},
		"behind a divider":          {"S\n\nAlteration: a\n---\nOnly: front\n", []string{"note.unseen 5:1"}},
		"near miss among unseen":    {"S\n\nText.\nChange: girth +2\nKeeps: girth\n", []string{"note.near-miss 4:1", "note.unseen 5:1"}},
		"near miss in prose":        {"S\n\nChange: of plan.\nIt rains.\n", nil},
		"behind scissors":           {"S\n\nAlteration: a\n" + scissors + "Only: front\n", nil},
		"in a comment":              {"S\n\nAlteration: a\n# Only: front\n", nil},
		"indented":                  {"S\n\n    Only: front\n\nText.\n", nil},
		"no name":                   {"S\n\nAlteration:\nOnly: front\n", []string{"note.name 3:12"}},
		"an odd name":               {"S\n\nAlteration: Hip release\nOnly: front\n", []string{"note.name 3:13"}},
		"no alteration":             {"S\n\nBecause: x\nOnly: front\n", []string{"note.name 3:10"}},
		"only a finding accepted":   {"S\n\nUnfinished: seam.differs a\n", nil},
		"above the first":           {"S\n\nBecause: x\nAlteration: a\nOnly: front\n", []string{"note.above-first 3:10"}},
		"empty reason":              {"S\n\nAlteration: a\nBecause:\n", []string{"note.empty 4:9"}},
		"a measure misspelt":        {"S\n\nAlteration: a\nChanges: grith bust +2\n", []string{"claim.measure 4:10"}},
		"contradiction in a group":  {"S\n\nAlteration: a\nKeeps: girth\nChanges: girth bust +2\n", []string{"claim.contradicts 5:10"}},
		"no contradiction in two":   {"S\n\nAlteration: a\nKeeps: girth\nAlteration: b\nChanges: girth bust +2\n", nil},
		"a fixup with a note":       {"fixup! S\n\nAlteration: a\nOnly: front\n", []string{"note.fold 3:13"}},
		"a squash without a name":   {"squash! S\n\nOnly: front\n", nil},
		"carriage returns":          {"S\r\n\r\nAlteration: a\r\nOnly: front\r\n", nil},
		"a character before a name": {"S\n\nAlteration: é\n", []string{"note.name 3:13"}},
	} {
		_, problems := read(c.message)
		assert.Equal(t, c.want, ids(problems), name)
	}
}

func TestTheMendedMessageIsInTheFirstHintOnly(t *testing.T) {
	_, problems := read("Release the hip\n\nIt pulled.\nAlteration: hip\nOnly: front\n\n# Please enter a message\n")
	require.Len(t, problems, 2)
	assert.Equal(t, diag.Error, problems[0].Severity)
	assert.Equal(t, "found Alteration where git sees no trailer: other text stands in its paragraph", problems[0].Found)
	assert.Equal(t, "write the message so:\n\nRelease the hip\n\nIt pulled.\n\nAlteration: hip\nOnly: front", problems[0].Hint)
	assert.Empty(t, problems[1].Hint)
}

func TestANearMissNamesTheWord(t *testing.T) {
	_, problems := read("S\n\nalteration: a\nChange: girth +2\n")
	require.Len(t, problems, 2)
	assert.Equal(t, diag.Warning, problems[0].Severity)
	assert.Equal(t, "expected Alteration", problems[0].Expected)
	assert.Equal(t, "did you mean Changes?", problems[1].Hint)
}

func TestALineThatCannotBeReadIsNotLost(t *testing.T) {
	n, problems := read("S\n\nAlteration: a\nChanges: grith +2\nKeeps: girth\n")
	require.True(t, problems.HasErrors())
	assert.Equal(t, []string{"Alteration: a", "Changes: grith +2", "Keeps: girth"}, n.Groups[0].Lines())
}

func TestCommitsThatWaitToBeFolded(t *testing.T) {
	for subject, want := range map[string]Fold{
		"Release":                       {},
		"fixup! Release":                {"fixup!", "Release"},
		"squash! Release":               {"squash!", "Release"},
		"amend! Release":                {"amend!", "Release"},
		"fixup! squash! fixup! Release": {"fixup!", "Release"},
		"fixup!Release":                 {},
		"fixup!":                        {},
		"":                              {},
	} {
		assert.Equal(t, want, FoldOf(subject), subject)
	}
	n, _ := read("amend! Release\n\nLet it out\n\nOnly: front\n")
	assert.False(t, n.Judged())
	assert.True(t, n.Waits())
	n, _ = read("squash! Release\n\nOnly: front\n")
	assert.True(t, n.Judged())
	assert.True(t, n.Waits())
}

// Every trailer of ours that git sees is in the note, and every line of ours that
// git does not see is told: nothing is silently unclaimed.
func TestNothingOfOursIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { checkParse(t, anyMessage().Draw(t, "message")) })
}

func checkParse(t assert.TestingT, m string) {
	n, problems := read(m)
	told := 0
	for _, p := range problems {
		assert.Equal(t, File, p.Place.File)
		if p.ID == UnseenFault {
			told++
		}
	}
	mine := seenOurs(m)
	assert.Len(t, ourLines(m), told+len(mine), "%q", m)
	count := map[string]int{}
	for _, g := range n.Groups {
		count[keyBecause] += len(g.Because)
		count[keyDoes] += len(g.Does)
		count[keyAnswers] += len(g.Answers)
		count[keyUnfinished] += len(g.Unfinished)
	}
	for _, line := range mine {
		if key, value, _ := strings.Cut(line, ": "); value != "" {
			count[key]--
		}
	}
	for _, key := range []string{keyBecause, keyDoes, keyAnswers, keyUnfinished} {
		assert.Zero(t, count[key], "%s in %q", key, m)
	}
	if told == 0 {
		assert.Equal(t, m, Mend(m), "nothing to mend")
	}
}

func TestTrailersAreLocated(t *testing.T) {
	m := "Subject\n\nOnly: a\n\nOnly: a\nBecause : b\n  c\nOnly: a\n# x\n"
	assert.Equal(t, []Trailer{{"Only", "a", 5, 7}, {"Because", "b c", 6, 11}, {"Only", "a", 8, 7}}, seen(m))
	assert.Equal(t, []Trailer{{Key: "Only", Value: "b"}}, Locate(m, []Trailer{{Key: "Only", Value: "b", Line: 3}}))
}

func FuzzParse(f *testing.F) {
	for _, m := range []string{whole, "S\n\nonly: \n", "\n\nOnly: a\nx: y\n", "fixup! a\n\nDoes: x\n", "\x00"} {
		f.Add(m, 0)
	}
	f.Fuzz(func(t *testing.T, m string, line int) {
		n, _ := read(m)
		_, _ = n.Claims(nil)
		Write(n.Subject, n.Body, n)
		_, _ = Squashed(m, "#")
		wrong := seen(m)
		for i := range wrong {
			wrong[i].Line += line // a caller's mistake is no reason to panic
		}
		n, problems := Parse(m, wrong)
		for _, p := range problems {
			if p.Found == "" || strings.ContainsRune(p.Found, '\n') {
				t.Fatalf("%q: %q", m, p.Found)
			}
		}
		for _, c := range n.Groups {
			for _, k := range c.Claims {
				if _, problems := claim.Parse(string(k.Kind), k.String(), k.Place); problems.HasErrors() {
					t.Fatalf("%q: %q is not read back", m, k.Line())
				}
			}
		}
	})
}
