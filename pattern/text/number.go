package text

import (
	"math"
	"strconv"
)

// maxNumber is the greatest size of a number in a file: 100 m.
const maxNumber = 100000

// parseNumber reads an optional minus, digits and up to 3 decimals. The value
// is the float64 nearest to the decimal: both whole numbers are exact and IEEE
// division rounds correctly. fault is "" or finishes the sentence "the number
// ...". Minus zero is read as zero.
func parseNumber(s string) (v float64, fault string) {
	digits := s
	if len(s) > 0 && s[0] == '-' {
		digits = s[1:]
	}
	var mant int64
	whole, decimals, point := 0, 0, false
	for i := range len(digits) {
		switch c := digits[i]; {
		case c == '.' && !point && whole > 0:
			point = true
		case c < '0' || c > '9':
			return 0, "is not plain decimals"
		default:
			mant = min(mant*10+int64(c-'0'), 1<<40)
			if point {
				decimals++
			} else {
				whole++
			}
		}
	}
	switch {
	case whole == 0 || point && decimals == 0:
		return 0, "is not plain decimals"
	case decimals > 3:
		return 0, "has more than 3 decimals"
	}
	v = float64(mant) / [4]float64{1, 10, 100, 1000}[decimals]
	if v > maxNumber {
		return 0, "is larger than 100000"
	}
	if v != 0 && digits != s {
		v = -v
	}
	return v, ""
}

// appendNumber writes a number rounded to 3 decimals, without trailing zeros
// and never as -0. What no file can hold is written so that reading refuses it.
func appendNumber(b []byte, v float64) []byte {
	if !(math.Abs(v) <= 1e9) {
		return strconv.AppendFloat(b, v, 'g', -1, 64)
	}
	k := int64(math.Round(float64(v * 1000)))
	if k < 0 {
		b = append(b, '-')
		k = -k
	}
	b = strconv.AppendInt(b, k/1000, 10)
	frac := k % 1000
	if frac == 0 {
		return b
	}
	b = append(b, '.', byte('0'+frac/100), byte('0'+frac/10%10), byte('0'+frac%10))
	for b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	return b
}

// looksNumeric tells whether a field was meant as a number.
func looksNumeric(s string) bool {
	if s == "" {
		return false
	}
	c := s[0]
	return c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.'
}
