package alter

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
)

// TakeOutStrays gives a copy of the garment without the marks along the edges of a
// closure that its kind does not use, see check.Strays, and a line for each edge and
// kind: what was taken from where. Lengths are within tol.
func TakeOutStrays(g *pattern.Garment, closure string, tol float64) (*pattern.Garment, []string) {
	copied := pattern.Clone(g)
	c := copied.Closure(closure)
	if c == nil {
		return copied, nil
	}
	var lines []string
	gone := map[*pattern.Piece]map[int]bool{}
	for _, s := range check.Strays(copied, c, tol) {
		lines = append(lines, fmt.Sprintf("%s along %s", s.Counted(), s.Row.Name()))
		if gone[s.Row.Piece] == nil {
			gone[s.Row.Piece] = map[int]bool{}
		}
		for _, m := range s.Marks {
			gone[s.Row.Piece][m.Index] = true
		}
	}
	for piece, marks := range gone {
		var left []pattern.Mark
		for i, m := range piece.Marks {
			if !marks[i] {
				left = append(left, m)
			}
		}
		piece.Marks = left
	}
	return copied, lines
}
