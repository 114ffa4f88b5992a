package step_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/step"
)

// The page for makers has every form, in the words and the order of the table,
// and every example of the table; each of its examples reads and prints back.
func TestThePageForMakers(t *testing.T) {
	src, err := os.ReadFile("STEPS.md")
	require.NoError(t, err)
	var examples, headings []string
	fenced := false
	for _, line := range strings.Split(string(src), "\n") {
		switch {
		case strings.HasPrefix(line, "```"):
			fenced = !fenced
		case fenced:
			examples = append(examples, strings.TrimPrefix(line, "Does: "))
		case strings.HasPrefix(line, "### "):
			headings = append(headings, strings.TrimPrefix(line, "### "))
		}
	}
	var verbs, usages []string
	for _, f := range step.Forms() {
		verbs = append(verbs, f.Verb)
		usages = append(usages, "`"+f.Usage+"`")
		for _, e := range f.Examples {
			assert.Contains(t, examples, e, "an example of the table")
		}
	}
	assert.Equal(t, verbs, headings)
	assert.Equal(t, verbs, step.Verbs())
	for _, u := range usages {
		assert.Contains(t, string(src), u)
	}
	require.NotEmpty(t, examples)
	for _, e := range examples {
		s, problems := step.Parse(e, place())
		require.Empty(t, problems, e)
		assert.Equal(t, e, s.String())
	}
}
