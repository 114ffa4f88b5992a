package claim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
)

// FuzzParse: whatever is read prints to a line that reads as the same, and what
// cannot be read is told at a place in the value.
func FuzzParse(f *testing.F) {
	for _, s := range [][2]string{
		{"Changes", "girth low-hip +24 within 2"}, {"Changes", "gap front at bust to -3.5"}, {"Keeps", "girth waist, girth\n  bust within 1"},
		{"Only", "side-front, garment"}, {"Changes", "length a.b from c to d to 3"}, {"Keeps", ",,"}, {"only", "\xff, a"}, {"x", "y"}, {"Changes", "+"}, {"Changes", "to 1"},
	} {
		f.Add(s[0], s[1])
	}
	f.Fuzz(func(t *testing.T, key, value string) {
		at := diag.Place{File: "message", Line: 3, Column: 8}
		claims, problems := claim.Parse(key, value, at)
		assert.True(t, len(claims) > 0 || len(problems) > 0, "neither read nor refused")
		for _, p := range problems {
			assert.NotEmpty(t, p.Found)
			assert.NotEmpty(t, p.Expected)
			assert.GreaterOrEqual(t, p.Place.Line, 3)
			assert.GreaterOrEqual(t, p.Place.Column, 1)
		}
		for _, c := range claims {
			again, problems := claim.Parse(string(c.Kind), c.String(), c.Place)
			require.Empty(t, problems, c.Line())
			require.Equal(t, []claim.Claim{c}, again)
		}
	})
}
