package ink

import (
	"slices"

	"golang.org/x/text/unicode/bidi"
)

// visual puts words that run from right to left into the order in which they are
// seen, which a PDF needs: Unicode Standard Annex 9 without explicit embeddings,
// since Face.Words takes their marks out. Words without any come back as they are.
func visual(words string) string {
	runes := []rune(words)
	levels := bidiLevels(runes)
	if len(levels) == 0 || slices.Max(levels) == 0 {
		return words
	}
	for i, r := range runes {
		if levels[i]%2 == 1 {
			runes[i] = mirrored(r)
		}
	}
	for level := slices.Max(levels); level > 0; level-- { // rule L2
		for i := 0; i < len(runes); i++ {
			end := i
			for end < len(runes) && levels[end] >= level {
				end++
			}
			slices.Reverse(runes[i:end])
			slices.Reverse(levels[i:end])
			i = end
		}
	}
	return string(runes)
}

// mirrored gives the sign that stands for a bracket in words from right to left.
func mirrored(r rune) rune {
	const pairs = "()[]{}<>«»"
	all := []rune(pairs)
	if i := slices.Index(all, r); i >= 0 {
		return all[i^1]
	}
	return r
}

// bidiLevels gives each character its level: even ones run to the right. The first
// letter decides for the whole line (rules P2, P3).
func bidiLevels(runes []rune) []int {
	const unset = -1
	classes := make([]bidi.Class, len(runes))
	base := unset
	for i, r := range runes {
		p, _ := bidi.LookupRune(r)
		classes[i] = p.Class()
		if base == unset && (classes[i] == bidi.R || classes[i] == bidi.AL) {
			base = 1
		} else if base == unset && classes[i] == bidi.L {
			base = 0
		}
	}
	base = max(base, 0)
	levels := make([]int, len(runes))
	right := base == 1 // what the last letter ran to
	for i, c := range classes {
		switch {
		case c == bidi.R || c == bidi.AL:
			levels[i], right = 1, true
		case c == bidi.L:
			levels[i], right = 2*base, false
		case c == bidi.AN, c == bidi.EN && right:
			levels[i] = 2
		case c == bidi.EN: // behind letters that run to the right it runs with them (rule W7)
			levels[i], classes[i] = 2*base, bidi.L
		default:
			levels[i] = unset
		}
	}
	settleNeutrals(levels, classes, base)
	return levels
}

// settleNeutrals gives spaces and signs the way of what stands on both sides of
// them, else that of the line (rules N1, N2); numbers count as right to left there
// where their level is not the line's own.
func settleNeutrals(levels []int, classes []bidi.Class, base int) {
	leftward := func(i int) bool {
		if i < 0 || i >= len(levels) {
			return base == 1
		}
		return levels[i] == 1 || levels[i] == 2 && classes[i] != bidi.L
	}
	for i := 0; i < len(levels); i++ {
		end := i
		for end < len(levels) && levels[end] < 0 {
			end++
		}
		level := base
		if before := leftward(i - 1); before == leftward(end) && before != (base == 1) {
			level = base + 1
		}
		for ; i < end; i++ {
			levels[i] = level
		}
	}
}
