package claim_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/cmd/seamkeep/demo"
	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

// version is one version of the demo's waistcoat.
type version struct {
	garment *pattern.Garment
	parent  string
	note    string
}

// story gives the versions by name, and what was tried before a seam was trued
// as "NAME, first try".
func story(t testing.TB) map[string]version {
	t.Helper()
	list, err := demo.Versions()
	require.NoError(t, err)
	out := map[string]version{}
	for _, v := range list {
		out[v.Name] = version{garmentOf(t, v.Files), v.Parent, v.Message}
		if v.Refused != nil {
			out[v.Name+", first try"] = version{garmentOf(t, v.Refused.Files), v.Parent, v.Message}
		}
	}
	return out
}

func garmentOf(t testing.TB, files map[string][]byte) *pattern.Garment {
	t.Helper()
	tree := fstest.MapFS{}
	for name, src := range files {
		tree[name] = &fstest.MapFile{Data: src}
	}
	folder, problems := text.Load(tree, ".")
	require.Empty(t, problems)
	return folder.Garment
}

func ringer(t testing.TB) *pattern.Body {
	t.Helper()
	name, src := demo.Body()
	b, problems := text.ReadBody(name, src)
	require.Empty(t, problems)
	return b
}

// from compares a version of the story with another one.
func from(t testing.TB, before, after string, body *pattern.Body) *compare.Change {
	t.Helper()
	s := story(t)
	require.NotNil(t, s[after].garment, after)
	require.NotNil(t, s[before].garment, before)
	return compare.Garments(s[before].garment, s[after].garment, compare.Options{Body: body})
}

// parse reads lines of a note, each of which must be sound.
func parse(t testing.TB, lines ...string) []claim.Claim {
	t.Helper()
	var out []claim.Claim
	for i, line := range lines {
		key, value, _ := strings.Cut(line, ": ")
		claims, problems := claim.Parse(key, value, diag.Place{File: "message", Line: i + 1, Column: len(key) + 3})
		require.Empty(t, problems, line)
		out = append(out, claims...)
	}
	return out
}

// judgeOne judges a line that holds one claim.
func judgeOne(t testing.TB, c *compare.Change, line string) claim.Result {
	t.Helper()
	results := claim.Judge(c, parse(t, line))
	require.Len(t, results, 1)
	return results[0]
}

// noteLines gives the lines of a message that are claims.
func noteLines(message string) []string {
	var out []string
	for _, line := range strings.Split(message, "\n") {
		for _, k := range claim.Kinds() {
			if strings.HasPrefix(line, string(k)+": ") {
				out = append(out, line)
			}
		}
	}
	return out
}

func allTrue(t testing.TB, results []claim.Result, msg string) {
	t.Helper()
	for _, r := range results {
		assert.True(t, r.OK, "%s: %s: %s %s", msg, r.Claim.Line(), r.Measured, strings.Join(r.Where, "; "))
		assert.Empty(t, r.Unknown)
		assert.Empty(t, r.Where)
	}
}
