package step

import (
	"fmt"
	"strconv"
	"strings"
)

// largest is the greatest size of a number, as in pattern files.
const largest = 100_000

// numeric tells whether a word is meant as a number. No name begins so.
func numeric(text string) bool {
	return text != "" && strings.ContainsRune("+-.0123456789", rune(text[0]))
}

// number reads a number with at most three decimals; fault says why it is none.
func number(text string, signs bool) (v float64, fault string) {
	digits, negative := strings.CutPrefix(text, "-")
	if signs && !negative {
		digits = strings.TrimPrefix(digits, "+")
	}
	before, after, point := strings.Cut(digits, ".")
	switch {
	case strings.HasPrefix(text, "+") && !signs:
		return 0, fmt.Sprintf("found %q, but the step's own word says which way", text)
	case !allDigits(before) || point && !allDigits(after):
		return 0, fmt.Sprintf("found %q, which is no number", text)
	case len(after) > 3:
		return 0, fmt.Sprintf("found %q, which has more than 3 decimals", text)
	}
	v, err := strconv.ParseFloat(digits, 64)
	switch {
	case err != nil || v > largest:
		return 0, fmt.Sprintf("found a number larger than %d", largest)
	case negative && !signs && v != 0:
		return 0, fmt.Sprintf("found %q, but an amount is not negative", text)
	case negative && v != 0:
		v = -v
	}
	return v, ""
}

func allDigits(s string) bool {
	for _, r := range s {
		if r < '0' || r > '9' {
			return false
		}
	}
	return s != ""
}

// plain writes a number with as few decimals as it needs, at most three.
func plain(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}
