package report

import (
	"encoding/json"
	"io"
	"math"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
)

// number is a figure of JSON: rounded to 1e-6, null where it is unknown.
type number struct {
	value float64
	set   bool
}

func known(v float64) number       { return number{v, true} }
func maybe(o pattern.Opt) number   { return number{o.Value, o.Set} }
func two(p compare.Pair) [2]number { return [2]number{maybe(p.Before), maybe(p.After)} }

// MarshalJSON writes the figure.
func (n number) MarshalJSON() ([]byte, error) {
	if !n.set || math.IsNaN(n.value) || math.IsInf(n.value, 0) {
		return []byte("null"), nil
	}
	s := strconv.FormatFloat(n.value, 'f', 6, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		s = "0"
	}
	return []byte(s), nil
}

// WriteJSON writes a document, indented, with a line end.
func WriteJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
