package text

import (
	"io/fs"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
)

func TestFittingsOfAFolder(t *testing.T) {
	list, problems := Fittings(fstest.MapFS{}, "w")
	assert.Empty(t, list)
	assert.Empty(t, problems, "none has to be there")
	fsys := fstest.MapFS{
		"w/fittings/b.fitting":    {Data: []byte("seamkeep fitting 1\ngap front at bust predicted 34 observed 31\n")},
		"w/fittings/a.fitting":    {Data: []byte("seamkeep fitting 1\nverdict \"back\" odd\n")},
		"w/fittings/c.fitting":    {Data: []byte("b.fitting"), Mode: fs.ModeSymlink},
		"w/fittings/notes.txt":    {Data: []byte("x")},
		"v/fittings/away.fitting": {Data: []byte("seamkeep fitting 1\n")},
	}
	names, _ := FittingNames(fsys, "w")
	assert.Equal(t, []string{"a", "b"}, names)
	list, problems = Fittings(fsys, "w")
	require.Len(t, list, 1)
	assert.Equal(t, "b", list[0].Name)
	require.Len(t, problems, 2)
	assert.Equal(t, IDSyntax, problems[0].ID)
	assert.Equal(t, IDFileKind, problems[1].ID)
}

// The demo's refit: predicted and observed gap at five levels, and what is kept of it.
func TestTheDifferenceIsObservedLessPredicted(t *testing.T) {
	for _, c := range []struct{ predicted, observed, want float64 }{{34, 31, -3}, {31, 30, -1}, {33, 31, -2}, {30, 28, -2}, {35, 33, -2}, {0.1, 0.3, 0.2}} {
		f := pattern.FittedGap{Predicted: pattern.Some(c.predicted), Observed: pattern.Some(c.observed)}
		assert.Equal(t, pattern.Some(c.want), f.Difference())
	}
	assert.False(t, pattern.FittedGap{Predicted: pattern.Some(1)}.Difference().Set)
	assert.False(t, pattern.FittedGap{Observed: pattern.Some(1)}.Difference().Set)
}

func TestVersionsThatAFittingCanName(t *testing.T) {
	for _, s := range []string{"mock-up-1", "13b4903", "v1.2", "refs/tags/a_b", "HEAD"} {
		assert.True(t, Revision(s), s)
	}
	for _, s := range []string{"", "-x", "a b", "a~1", "é", "a\"b"} {
		assert.False(t, Revision(s), s)
	}
}
