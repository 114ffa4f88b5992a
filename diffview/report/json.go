package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"

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

// WriteJSON writes a document, indented, with a line end. Characters that Clean
// takes out stand in it as escapes: nothing is lost, and nothing acts on a
// terminal.
func WriteJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	_, err := io.WriteString(w, escaped(b.String()))
	return err
}

// escaped turns what Clean takes out into escapes. It stands only in strings,
// apart from line ends, which the encoder leaves bare only between the fields.
func escaped(doc string) string {
	var b strings.Builder
	for _, r := range doc {
		switch s := string(r); {
		case r == '\n' || r >= ' ' && r <= '~' || Clean(s) == s:
			b.WriteString(s)
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			fmt.Fprintf(&b, `\u%04x\u%04x`, high, low)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}
