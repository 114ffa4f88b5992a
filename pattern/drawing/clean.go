package drawing

import (
	"math"
	"strconv"

	"seamkeep/pattern/drawing/vector"
)

// clean makes text of strangers fit for a title or a message.
func clean(s string) string { return vector.Clean(s) }

// quoted is text of strangers in a message.
func quoted(s string) string { return strconv.Quote(clean(s)) }

// parseFloat reads a plain number; false for what is none or has no end.
func parseFloat(s string) (float64, bool) {
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsNaN(v) && !math.IsInf(v, 0)
}
