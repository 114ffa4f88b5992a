package repo

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNotesInHindsightAreAppendedAndListed(t *testing.T) {
	b := newBox(t)
	b.write("x", "1\n")
	first := b.commit("One")
	b.write("x", "2\n")
	second := b.commit("Two")
	r := b.open()
	got, err := r.HindsightNotes()
	require.NoError(t, err)
	assert.Empty(t, got)

	b.git("notes", "--ref=alterations", "add", "-m", "somebody's own words", first)
	require.NoError(t, r.AppendNote(first, "Because: the second fitting\n"))
	require.NoError(t, r.AppendNote(second, "Because: pulled\n"))
	got, err = b.open().HindsightNotes()
	require.NoError(t, err)
	assert.Equal(t, map[string]string{
		first:  "somebody's own words\n\nBecause: the second fitting\n",
		second: "Because: pulled\n",
	}, got)
	// git is the reference: it shows the same
	assert.Equal(t, "somebody's own words\n\nBecause: the second fitting", b.git("notes", "--ref=alterations", "show", first))
	assert.Error(t, r.AppendNote("no-such", "x\n"))
}
