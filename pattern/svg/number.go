package svg

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// maxNumber is the largest size of a number in a picture: 1 km in mm, ten times
// what the text of a pattern may hold.
const maxNumber = 1e6

// Number writes v with at most three decimals: no trailing zeros, no exponent,
// no minus before zero. NaN, infinities and sizes over 1 000 000 are errors.
func Number(v float64) (string, error) {
	if math.IsNaN(v) || math.Abs(v) > maxNumber {
		return "", fmt.Errorf("svg: %v is not a number that can be drawn", v)
	}
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0", nil
	}
	return s, nil
}

// isNumber tells whether s is a plain decimal number that can be drawn.
func isNumber(s string) bool {
	if s == "" || strings.Trim(s, "0123456789.-") != "" {
		return false
	}
	v, err := strconv.ParseFloat(s, 64)
	return err == nil && math.Abs(v) <= maxNumber
}

// isNumbers tells whether s holds from least to most numbers, one space between
// each.
func isNumbers(s string, least, most int) bool {
	parts := strings.Split(s, " ")
	for _, n := range parts {
		if !isNumber(n) {
			return false
		}
	}
	return len(parts) >= least && len(parts) <= most
}

// numbers joins the values with spaces; a value that cannot be drawn is written
// as Go writes it, which the attribute check then refuses.
func numbers(values ...float64) string {
	out := make([]string, len(values))
	for i, v := range values {
		s, err := Number(v)
		if err != nil {
			s = fmt.Sprint(v)
		}
		out[i] = s
	}
	return strings.Join(out, " ")
}

// exact rounds the values to what Number writes and sets the element writer's
// decimals to the fewest that hold them all, for numbers that svgo writes
// itself.
func (p *Pen) exact(values ...float64) []float64 {
	out := make([]float64, len(values))
	p.el.Decimals = 0
	for i, v := range values {
		s, err := Number(v)
		if err != nil {
			p.fail(err)
			return out
		}
		out[i], _ = strconv.ParseFloat(s, 64) // Number wrote it
		if _, frac, ok := strings.Cut(s, "."); ok {
			p.el.Decimals = max(p.el.Decimals, len(frac))
		}
	}
	return out
}
