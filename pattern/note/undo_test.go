package note

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What git writes is read back, whichever way it was asked to revert.
func TestWhatGitSaysOfARevert(t *testing.T) {
	g := newGit(t)
	g.run(t, "", "init", "-q", "-b", "main")
	commit := func(subject string) string {
		require.NoError(t, os.WriteFile(filepath.Join(g.dir, subject), []byte(subject), 0o600))
		g.run(t, "", "add", ".")
		g.run(t, "", "commit", "-q", "-m", subject)
		return strings.TrimSpace(g.run(t, "", "rev-parse", "HEAD"))
	}
	message := func() string { return g.run(t, "", "log", "-1", "--format=%B") }
	start := commit("start")
	wider := commit("wider")

	g.run(t, "", "revert", "--no-edit", "HEAD")
	u := only(t, message())
	assert.Equal(t, Undo{Place: u.Place, Commit: wider}, u)
	assert.Equal(t, "message:3:1", u.Place.String())
	assert.Equal(t, "This reverts commit "+wider[:10], u.Source())

	undo := strings.TrimSpace(g.run(t, "", "rev-parse", "HEAD"))
	g.run(t, "", "revert", "--no-edit", "HEAD")
	u = only(t, message())
	assert.Equal(t, undo, u.Commit, "what undoes a revert names the revert")

	g.run(t, "", "checkout", "-q", "-b", "side", start)
	commit("side")
	g.run(t, "", "checkout", "-q", "main")
	main := strings.TrimSpace(g.run(t, "", "rev-parse", "HEAD"))
	g.run(t, "", "merge", "-q", "--no-ff", "-m", "bring side", "side")
	merge := strings.TrimSpace(g.run(t, "", "rev-parse", "HEAD"))
	g.run(t, "", "revert", "--no-edit", "-m", "1", "HEAD")
	u = only(t, message())
	assert.Equal(t, Undo{Place: u.Place, Commit: merge, Against: main}, u)

	g.run(t, "", "-c", "revert.reference=true", "revert", "--no-edit", "HEAD")
	u = only(t, message())
	assert.NotEmpty(t, u.Commit)
	g.run(t, "", "reset", "-q", "--hard", merge)
	g.run(t, "", "-c", "revert.reference=true", "revert", "--no-edit", "-m", "1", "HEAD")
	assert.NotEmpty(t, only(t, message()).Against)
}

func only(t *testing.T, message string) Undo {
	list := UndosOf(message)
	require.Len(t, list, 1, message)
	return list[0]
}

func TestSeveralRevertsInOneMessage(t *testing.T) {
	list := UndosOf("Back\n\nThis reverts commit 1234567.\n\nThis reverts commit 89abcde (wider, 2026-01-02), reversing\nchanges made to 7654321 (main, 2026-01-01).\n")
	require.Len(t, list, 2)
	assert.Equal(t, "1234567", list[0].Commit)
	assert.Equal(t, 5, list[1].Place.Line)
	assert.Equal(t, "7654321", list[1].Against)
}

func TestASubjectAloneUndoesNothing(t *testing.T) {
	for _, message := range []string{
		"Revert \"wider\"\n", "Revert \"wider\"\n\nThis reverts what was wrong.\n",
		"x\n\nIt says: This reverts commit 1234567.\n", "x\n\n    This reverts commit 1234567.\n",
	} {
		assert.Empty(t, UndosOf(message), message)
	}
}
