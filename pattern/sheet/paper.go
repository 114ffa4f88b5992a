package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Paper is what is printed on, upright.
type Paper struct {
	Name          string  // as it is asked for
	Width, Height float64 // mm; of a roll Height is how long one print may be
	Roll          bool    // the page is as long as what is on it
}

// The known papers, mm: ISO 216, and Letter of 8.5 by 11 in (ANSI/ASME Y14.1, size
// A, from memory).
var papers = [...]Paper{
	{Name: "a4", Width: 210, Height: 297},
	{Name: "letter", Width: 215.9, Height: 279.4},
	{Name: "a3", Width: 297, Height: 420},
	{Name: "a2", Width: 420, Height: 594},
	{Name: "a1", Width: 594, Height: 841},
	{Name: "a0", Width: 841, Height: 1189},
}

// longest is what readers of PDF take for a side: 14 400 units of 1/72 in
// (ISO 32000-1, annex C.2, from memory).
const longest = 14400 * 25.4 / 72

// Papers lists what ParsePaper understands.
func Papers() []string {
	var out []string
	for _, p := range papers {
		out = append(out, p.Name)
	}
	return append(out, "roll:WIDTH")
}

// ParsePaper reads the name of a paper: a4, letter, a3, a2, a1, a0, or roll:WIDTH
// with the width in mm.
func ParsePaper(name string) (Paper, error) {
	low := strings.ToLower(name)
	for _, p := range papers {
		if p.Name == low {
			return p, nil
		}
	}
	width, ok := strings.CutPrefix(low, "roll:")
	if !ok {
		return Paper{}, fmt.Errorf("there is no paper %q; known are %s", name, strings.Join(Papers(), ", "))
	}
	w, err := strconv.ParseFloat(strings.TrimSuffix(width, "mm"), 64)
	if err != nil || !(w > 0) || w > longest {
		return Paper{}, fmt.Errorf("a roll is written roll:WIDTH, its width in mm up to %.0f, as roll:914; not %q", math.Floor(longest), name)
	}
	return Paper{Name: low, Width: w, Height: math.Floor(longest), Roll: true}, nil
}
