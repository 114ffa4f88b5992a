package pattern_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"seamkeep/pattern"
)

func TestNamesThatMayStand(t *testing.T) {
	for _, s := range []string{
		"a", "z9", "side-back", "e1", "a-1-b-2", "top-front-2", strings.Repeat("a", 64),
		"com", "com10", "comb", "lpt", "console", "auxiliary", "null", "garments", "corner-1", "nonesuch",
	} {
		assert.Empty(t, pattern.NameFault(s), s)
	}
}

// The device names are those that Microsoft's "Naming Files, Paths, and
// Namespaces" forbids, with and without an extension.
func TestNamesThatMayNot(t *testing.T) {
	for s, want := range map[string]string{
		"":                      "is empty",
		"A":                     "lower-case letter",
		"Back":                  "lower-case letter",
		"1st":                   "lower-case letter",
		"-a":                    "lower-case letter",
		" a":                    "lower-case letter",
		"über":                  "lower-case letter",
		"a-":                    "ends with a hyphen",
		"a--b":                  "two hyphens",
		"a b":                   `holds ' '`,
		"a.b":                   `holds '.'`,
		"a_b":                   `holds '_'`,
		"a/b":                   `holds '/'`,
		"aB":                    `holds 'B'`,
		"a\x1b":                 `holds '\x1b'`,
		"näht":                  `holds 'ä'`,
		"a\u202eb":              `holds '\u202e'`,
		strings.Repeat("a", 65): "has 65 characters, more than 64",
		"garment":               "keeps for itself",
		"none":                  "keeps for itself",
		"mirrored":              "keeps for itself",
		"corner":                "keeps for itself",
		"con":                   "Windows",
		"prn":                   "Windows",
		"aux":                   "Windows",
		"nul":                   "Windows",
		"com1":                  "Windows",
		"com9":                  "Windows",
		"lpt1":                  "Windows",
		"lpt9":                  "Windows",
	} {
		assert.Contains(t, pattern.NameFault(s), want, "%q", s)
	}
	assert.Contains(t, pattern.NameFault("a"+strings.Repeat("ü", 40)), `holds 'ü'`, "41 characters are not too many")
}

func TestANameIsAFileNameAndAWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-zA-Z0-9. /-]{1,70}`)).Draw(t, "name")
		if pattern.NameFault(s) != "" {
			return
		}
		if len(s) > 64 || strings.ContainsAny(s, " \"#./\\:*?<>|\n\t") || s != strings.ToLower(s) || len(strings.Fields(s)) != 1 {
			t.Fatalf("%q passes", s)
		}
	})
}
