package note

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

func claimsOf(t *testing.T, text string) []claim.Claim {
	var out []claim.Claim
	for line := range strings.Lines(text) {
		key, value, _ := strings.Cut(strings.TrimSuffix(line, "\n"), ": ")
		claims, problems := claim.Parse(key, value, diag.Place{})
		require.Empty(t, problems)
		out = append(out, claims...)
	}
	return out
}

func TestClaimsOfStepsYieldToWrittenOnes(t *testing.T) {
	const moved = "Changes: width back at bust -14\nChanges: width side-back at bust +14\nKeeps: girth\nOnly: back, side-back"
	for name, c := range map[string]struct{ steps, written, want string }{
		"nothing written":               {moved, "", moved},
		"the same said again":           {moved, "Changes: width back at bust -14\nOnly: back, side-back", "Changes: width side-back at bust +14\nKeeps: girth"},
		"written for a level":           {moved, "Keeps: girth bust", "Changes: width back at bust -14\nChanges: width side-back at bust +14\nKeeps: girth waist\nOnly: back, side-back"},
		"written for every level":       {moved, "Keeps: width back", "Changes: width side-back at bust +14\nKeeps: girth\nOnly: back, side-back"},
		"written otherwise":             {moved, "Changes: girth bust +28", "Changes: width back at bust -14\nChanges: width side-back at bust +14\nKeeps: girth waist\nOnly: back, side-back"},
		"more done than the steps":      {moved, "Changes: width gusset at bust +8", "Changes: width back at bust -14\nChanges: width side-back at bust +14"},
		"more done, not round the body": {moved, "Changes: length strap.front +8", "Changes: width back at bust -14\nChanges: width side-back at bust +14\nKeeps: girth"},
		"an overlap moves the girth":    {"Keeps: girth, seam side", "Changes: overlap back +6", "Keeps: seam side"},
		"only is written":               {moved, "Only: back", "Changes: width back at bust -14\nChanges: width side-back at bust +14\nKeeps: girth"},
	} {
		got := yielding(claimsOf(t, c.steps), claimsOf(t, c.written), levels("bust", "waist"))
		assert.ElementsMatch(t, linesOf(claimsOf(t, c.want)), linesOf(got), name)
	}
}

// What a step brings says so; what is written beside it, or added to it, is the
// maker's own.
func TestAClaimSaysWhichStepItFollowsFrom(t *testing.T) {
	follows := func(n *Note, kind claim.Kind, on string) string {
		claims, problems := n.Claims(panels(t))
		require.Empty(t, problems)
		for _, c := range claims {
			if c.Kind == kind && c.Measure.String() == on {
				return c.Follows
			}
		}
		t.Fatalf("no %s: %s among %v", kind, on, linesOf(claims))
		return ""
	}
	out := "Does: let-out side 6"
	assert.Equal(t, out, follows(noteOf(t, out), claim.Changes, "girth"))
	assert.Empty(t, follows(noteOf(t, out+"\nChanges: girth +11.5"), claim.Changes, "girth"))
	assert.Empty(t, follows(noteOf(t, out, "Changes: girth +4"), claim.Changes, "girth"))
	assert.Equal(t, out+" and Does: take-in side 2", follows(noteOf(t, out, "Does: take-in side 2"), claim.Changes, "girth"))
}

func TestStepsAreMadeInTheirOrder(t *testing.T) {
	at := func(line int, text string) []claim.Claim {
		claims := claimsOf(t, text)
		for i := range claims {
			claims[i].Place.Line = line
		}
		return claims
	}
	for want, parts := range map[string][][]claim.Claim{
		"Changes: overlap back to 36":   {at(1, "Changes: overlap back to 30"), at(2, "Changes: overlap back +6")},
		"Changes: overlap back to 30":   {at(2, "Changes: overlap back to 30"), at(1, "Changes: overlap back +6")},
		"Changes: overlap back to 24":   {at(1, "Changes: overlap back to 30"), at(2, "Changes: overlap back to 24"), at(3, "Keeps: overlap back")},
		"Changes: walk side to 0":       {at(1, "Keeps: walk side"), at(2, "Changes: walk side to 0")},
		"Changes: length back.side +12": {at(1, "Changes: length back.side +4"), at(2, "Changes: length back.side +8")},
	} {
		got, problems := compose(parts, nil, inOrder)
		assert.Empty(t, problems, want)
		assert.Equal(t, []string{want}, linesOf(got))
	}
}

// Figures from the widths that an opening of 3 mm on each side of one seam gives a
// half garment that is cut twice: 2 * 2 * 3 = 12 round the body.
func TestStepsOfANoteAreProven(t *testing.T) {
	g := panels(t)
	n := noteOf(t, "Does: let-out side 6")
	got, problems := n.Claims(g)
	assert.Empty(t, problems)
	assert.Contains(t, linesOf(got), "Changes: girth +12")
	assert.Contains(t, linesOf(got), "Only: front, back")
	for _, c := range got {
		assert.Equal(t, 4, c.Place.Line, c.Line())
	}

	n = noteOf(t, "Does: let-out side 6\nChanges: girth +11.5")
	got, _ = n.Claims(g)
	assert.Contains(t, linesOf(got), "Changes: girth +11.5")
	assert.NotContains(t, linesOf(got), "Changes: girth +12")

	n = noteOf(t, "Does: let-out side 6", "Does: take-in side 2")
	got, problems = n.Claims(g)
	assert.Empty(t, problems)
	assert.Contains(t, linesOf(got), "Changes: girth +8")

	n, problems = read("S\n\nAlteration: a\nDoes: let-ou side 6\n")
	assert.True(t, problems.HasErrors())
	assert.Equal(t, 4, problems[0].Place.Line)
	assert.Equal(t, []string{"Alteration: a", "Does: let-ou side 6"}, n.Groups[0].Lines())
	got, _ = n.Claims(g)
	assert.Empty(t, got)
}

// panels is half a garment of two rectangles, 100 wide, sewn at the side.
func panels(t *testing.T) *pattern.Garment {
	const piece = "seamkeep piece 1\ncloth \"canvas\" 1 pair\ngrain 50 0 to 50 100\ncorner a 0 150\nedge fore\ncorner b 0 -50\nedge hem\ncorner c 100 -50\nedge aft\ncorner d 100 150\nedge top\n"
	folder, problems := text.Load(fstest.MapFS{
		"g.garment":          {Data: []byte("seamkeep garment 1\nhalf left\nlevel bust 100\nlevel waist 0\naround front back\nseam side front.aft back.fore\n")},
		"pieces/front.piece": {Data: []byte(piece)},
		"pieces/back.piece":  {Data: []byte(piece)},
	}, ".")
	require.Empty(t, problems)
	return folder.Garment
}

// The demo's notes were written by hand before any of this could read them.
func TestTheDemosNotesAreSound(t *testing.T) {
	files, err := filepath.Glob("../../cmd/seamkeep/demo/versions/*/note.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		n, problems := read(string(text))
		assert.Empty(t, problems, file)
		assert.Len(t, n.Groups, 1, file)
		again, problems := read(Write(n.Subject, n.Body, n))
		assert.Empty(t, problems, file)
		assert.Equal(t, n.Body, again.Body, file)
		assert.Equal(t, n.Groups[0].Lines(), again.Groups[0].Lines(), file)
	}
}
