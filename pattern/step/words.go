package step

import (
	"fmt"
	"strings"

	"seamkeep/pattern/claim"
)

// largest is the greatest size of a number, as in pattern files.
const largest = 100_000

// numeric tells whether a word is meant as a number. No name begins so.
func numeric(text string) bool {
	return text != "" && strings.ContainsRune("+-.0123456789", rune(text[0]))
}

// number reads a number as claims have it; without signs the step's own word says
// which way. fault says why it is none.
func number(text string, signs bool) (v float64, fault string) {
	if strings.HasPrefix(text, "+") && !signs {
		return 0, fmt.Sprintf("found %q, but the step's own word says which way", text)
	}
	v, fault = claim.ParseNumber(text, largest)
	if fault == "" && v < 0 && !signs {
		return 0, fmt.Sprintf("found %q, but an amount is not negative", text)
	}
	return v, fault
}

// plain writes a number as claims have it.
func plain(v float64) string { return claim.FormatNumber(v) }
