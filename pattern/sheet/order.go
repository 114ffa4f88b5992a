package sheet

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"seamkeep/pattern"
)

// sorted orders pieces by a key, then by name.
func sorted(pieces []*pattern.Piece, key func(*pattern.Piece) [2]int) []*pattern.Piece {
	out := slices.Clone(pieces)
	slices.SortStableFunc(out, func(a, b *pattern.Piece) int {
		ka, kb := key(a), key(b)
		for i := range ka {
			if ka[i] != kb[i] {
				return ka[i] - kb[i]
			}
		}
		return strings.Compare(a.Name, b.Name)
	})
	return out
}

// orLast puts what has no number behind all that have one.
func orLast(n int) int {
	if n <= 0 {
		return math.MaxInt32
	}
	return n
}

// plain writes a length with at most two decimals and no trailing zeros.
func plain(mm float64) string {
	s := strconv.FormatFloat(mm, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}
