package demo

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
)

// trailer is one line of a note's last paragraph.
type trailer struct{ key, value string }

// trailers reads the last paragraph of a message, each line of which must be a
// trailer with one of our words.
func trailers(t *testing.T, message string) []trailer {
	t.Helper()
	paragraphs := strings.Split(strings.TrimRight(message, "\n"), "\n\n")
	words := []string{"Alteration", "Because", "Changes", "Keeps", "Only", "Does", "Answers"}
	var out []trailer
	for _, line := range strings.Split(paragraphs[len(paragraphs)-1], "\n") {
		key, value, ok := strings.Cut(line, ": ")
		require.True(t, ok && slices.Contains(words, key), line)
		out = append(out, trailer{key, value})
	}
	for _, text := range paragraphs[:len(paragraphs)-1] {
		for _, line := range strings.Split(text, "\n") {
			word, _, _ := strings.Cut(line, ":")
			assert.NotContains(t, words, word, "a word of ours outside the last paragraph")
		}
	}
	return out
}

func TestNotesAreMessagesOfTheirKind(t *testing.T) {
	for name, v := range byName(t) {
		lines := strings.Split(v.Message, "\n")
		assert.LessOrEqual(t, len(lines[0]), 60, name)
		assert.Empty(t, lines[1], name)
		assert.True(t, strings.HasSuffix(v.Message, "\n") && !strings.HasSuffix(v.Message, "\n\n"), name)
		assert.NotContains(t, v.Message, "\n\n\n", name)
		list := trailers(t, v.Message)
		require.GreaterOrEqual(t, len(list), 2)
		assert.Equal(t, trailer{"Alteration", name}, list[0])
		assert.Equal(t, "Because", list[1].key)
	}
}

// Every claim of every note is true against the parent, but for the one that
// the story turns on: the half move says that it keeps the girth.
func TestClaimsAreTrueButOne(t *testing.T) {
	all := byName(t)
	judged := 0
	for name, v := range all {
		if v.Parent == "" {
			continue
		}
		before, after := garment(t, all[v.Parent].Files), garment(t, v.Files)
		var broken []string
		for _, x := range trailers(t, v.Message) {
			switch x.key {
			case "Changes":
				broken = append(broken, changesFault(t, before, after, x.value)...)
			case "Keeps":
				for _, m := range strings.Split(x.value, ", ") {
					broken = append(broken, changesFault(t, before, after, m+" +0")...)
				}
			case "Only":
				files := changed(all[v.Parent].Files, v.Files)
				names := strings.Split(strings.ReplaceAll(x.value, "garment", "waistcoat"), ", ")
				slices.Sort(names)
				assert.Equal(t, files, names, "%s: Only", name)
			default:
				continue
			}
			judged++
		}
		if name == "half-move" {
			assert.Equal(t, []string{
				"girth bust +28.0", "girth under-bust +20.0", "girth waist +12.0", "girth high-hip +16.0", "girth low-hip +20.0",
			}, broken)
			continue
		}
		assert.Empty(t, broken, name)
	}
	assert.Greater(t, judged, 35)
}

// changesFault holds "MEASURE +N", "MEASURE -N" or "MEASURE to N" against two
// versions and says by how much each value really changed where that is wrong.
// The tolerances are those of the notes: 1.0 for girth and gap, else 0.5.
func changesFault(t *testing.T, before, after *pattern.Garment, claim string) []string {
	t.Helper()
	words := strings.Fields(claim)
	amount, err := strconv.ParseFloat(words[len(words)-1], 64)
	require.NoError(t, err, claim)
	words = words[:len(words)-1]
	to := words[len(words)-1] == "to"
	if to {
		words = words[:len(words)-1]
	}
	tol := 0.5
	if words[0] == "girth" || words[0] == "gap" {
		tol = 1.0
	}
	was, now := evalAll(t, before, strings.Join(words, " ")), evalAll(t, after, strings.Join(words, " "))
	require.Len(t, now, len(was))
	var faults []string
	for i := range now {
		grown := now[i].Value - was[i].Value
		got := grown
		if to {
			got = now[i].Value
		}
		if math.Abs(got-amount) > tol {
			faults = append(faults, fmt.Sprintf("%s %+.1f", now[i].Measure, grown))
		}
	}
	return faults
}

// Steps are written in words that name parts of the pattern before or after.
func TestStepsNameWhatThereIs(t *testing.T) {
	all := byName(t)
	verbs := []string{"inset", "true", "move-seam", "smooth", "trim", "pivot", "overlap"}
	count := 0
	for _, v := range all {
		for _, x := range trailers(t, v.Message) {
			if x.key != "Does" {
				continue
			}
			count++
			words := strings.Fields(x.value)
			assert.Contains(t, verbs, words[0])
			g := garment(t, v.Files)
			piece, _, _ := strings.Cut(words[1], ".")
			known := g.Piece(piece) != nil || g.Seam(words[1]) != nil || g.Run(words[1]) != nil || g.Closure(words[1]) != nil
			assert.True(t, known, x.value)
		}
	}
	assert.Equal(t, 10, count)
}
