package note

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
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
