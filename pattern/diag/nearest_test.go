package diag

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Pairs of the literature on edit distances, under the optimal string alignment
// distance: "ca" to "abc" is 3 there and only 2 where an edited place may be
// edited again (Damerau-Levenshtein in full).
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0},
		{"", "hem", 3},
		{"hem", "", 3},
		{"hem", "hem", 0},
		{"kitten", "sitting", 3},
		{"saturday", "sunday", 3},
		{"ca", "abc", 3},
		{"ab", "ba", 1},
		{"wiast", "waist", 1},
		{"bsut", "bust", 1},
		{"frnt", "front", 1},
		{"frontt", "front", 1},
		{"fromt", "front", 1},
		{"abcd", "badc", 2},
	} {
		assert.Equal(t, c.want, distance(c.a, c.b), "%s %s", c.a, c.b)
		assert.Equal(t, c.want, distance(c.b, c.a), "%s %s", c.b, c.a)
	}
}

func TestDistanceIsNoGreaterThanItMustBe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[abc]{0,6}`)
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := distance(a, b)
		if d != distance(b, a) || d < abs(len(a)-len(b)) || d > max(len(a), len(b)) || (d == 0) != (a == b) {
			t.Fatalf("%q %q: %d", a, b, d)
		}
	})
}

func TestNearestKnownWord(t *testing.T) {
	known := []string{"bust", "under-bust", "waist", "high-hip", "low-hip", "hem", "front"}
	for word, want := range map[string]string{
		"bsut":       "bust",
		"busts":      "bust",
		"wiast":      "waist",
		"waste":      "",
		"under-bsut": "under-bust",
		"underbust":  "under-bust",
		"hi-hip":     "high-hip",
		"hip":        "",
		"ham":        "hem",
		"h":          "",
		"":           "",
		"bust":       "", // it is known: nothing to propose
		"sleeve":     "",
		"frònt":      "front", // two bytes for one letter
	} {
		assert.Equal(t, want, Nearest(word, known), word)
	}
	assert.Equal(t, "aab", Nearest("aaa", []string{"aac", "aab"}), "of two alike the first by name")
	assert.Empty(t, Nearest("waist", nil))
}
