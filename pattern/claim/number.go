package claim

import (
	"fmt"
	"strconv"
	"strings"
)

// The greatest sizes of numbers: lengths as in pattern files, and areas in mm2
// of pieces as large as those lengths make sense of.
const (
	maxNumber = 100_000
	maxArea   = 1_000_000_000
)

func maxOf(it item) float64 {
	if len(it.words) > 0 && it.words[0].Text == "area" {
		return maxArea
	}
	return maxNumber
}

// numeric tells whether a word is meant as a number. No name begins so.
func numeric(word string) bool {
	return strings.ContainsRune("+-.−0123456789", []rune(word)[0])
}

// ParseNumber reads a number with at most three decimals; fault says why it is none.
func ParseNumber(word string, largest float64) (v float64, fault string) {
	digits := strings.TrimLeft(word, "+-")
	whole, decimals, point := strings.Cut(digits, ".")
	switch {
	case len(word)-len(digits) > 1 || !allDigits(whole) || point && !allDigits(decimals):
		return 0, fmt.Sprintf("found %q, which is no number", word)
	case len(decimals) > 3:
		return 0, fmt.Sprintf("found %q, which has more than 3 decimals", word)
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil || v > largest {
		return 0, fmt.Sprintf("found a number larger than %.0f", largest)
	}
	if word[0] == '-' && v != 0 {
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

// FormatNumber writes a number with as few decimals as it needs, at most three.
func FormatNumber(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// signed is FormatNumber with a plus where the number is not negative.
func signed(v float64) string {
	if s := FormatNumber(v); s[0] == '-' {
		return s
	}
	return "+" + FormatNumber(v)
}
