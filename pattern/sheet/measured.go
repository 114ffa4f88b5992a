package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"seamkeep/pattern/curve"
)

// ParseMeasured reads what a check square of 100 mm measured on a print, in mm,
// across and upwards: 98.6x99.2; one number counts for both.
func ParseMeasured(s string) (curve.Point, error) {
	across, up, two := strings.Cut(strings.ToLower(s), "x")
	if !two {
		up = across
	}
	var out [2]float64
	for i, part := range [...]string{across, up} {
		v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(part), "mm"), 64)
		if err != nil || !(v >= 50 && v <= 200) {
			return curve.Point{}, fmt.Errorf("--measured %q: say what the square of 100 mm measures on paper, across and upwards, between 50 and 200 mm: 98.6x99.2", s)
		}
		out[i] = v
	}
	return curve.Pt(out[0], out[1]), nil
}
