package pattern

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// MaxName is the greatest number of characters in a name.
const MaxName = 64

// NameFault tells why s cannot be a name, in words that finish the sentence
// "the name ...", or "" where it can. A name is a lower-case letter, then
// letters, digits and single hyphens.
func NameFault(s string) string {
	switch {
	case s == "":
		return "is empty"
	case utf8.RuneCountInString(s) > MaxName:
		return fmt.Sprintf("has %d characters, more than %d", utf8.RuneCountInString(s), MaxName)
	case s[0] < 'a' || s[0] > 'z':
		return "does not begin with a lower-case letter"
	case s[len(s)-1] == '-':
		return "ends with a hyphen"
	case strings.Contains(s, "--"):
		return "has two hyphens in a row"
	case reserved(s):
		return "is a word that the text keeps for itself"
	case device(s):
		return "cannot be a file name on Windows"
	}
	for _, r := range s {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-' {
			return fmt.Sprintf("holds %q; only a-z, 0-9 and single hyphens may stand in it", r)
		}
	}
	return ""
}

func reserved(s string) bool {
	switch s {
	case "garment", "none", "mirrored", "corner":
		return true
	}
	return false
}

func device(s string) bool {
	switch s {
	case "con", "prn", "aux", "nul":
		return true
	}
	if len(s) != 4 || s[3] < '0' || s[3] > '9' {
		return false
	}
	return s[:3] == "com" || s[:3] == "lpt"
}
