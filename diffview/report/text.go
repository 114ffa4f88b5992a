package report

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern/svg"
)

// Text writes for a terminal. The first write error is kept in Err and ends
// the writing.
type Text struct {
	W      io.Writer
	Width  int  // columns; 0 means 80
	Colour bool // colour is never the only sign
	Err    error
}

func (t *Text) width() int {
	if t.Width <= 0 {
		return 80
	}
	return max(t.Width, 40)
}

func (t *Text) line(s string) {
	if t.Err == nil {
		_, t.Err = io.WriteString(t.W, strings.TrimRight(s, " ")+"\n")
	}
}

func (t *Text) printf(format string, args ...any) { t.line(fmt.Sprintf(format, args...)) }

// Para writes cleaned text, wrapped, with an indent for its further lines.
func (t *Text) Para(s, indent string) {
	for _, l := range Wrap(Clean(s), t.width(), indent) {
		t.line(l)
	}
}

// Clean takes control and direction characters out of text from elsewhere.
func Clean(s string) string { return svg.CleanText(s) }

// Wrap breaks text at spaces into lines of at most width characters; lines
// after the first begin with indent. A word that is longer stands alone.
func Wrap(s string, width int, indent string) []string {
	var lines []string
	lead := s[:len(s)-len(strings.TrimLeft(s, " "))]
	cur := lead
	empty := true
	for _, word := range strings.Fields(s) {
		switch {
		case empty:
			cur += word
		case utf8.RuneCountInString(cur)+1+utf8.RuneCountInString(word) <= width:
			cur += " " + word
		default:
			lines = append(lines, cur)
			cur = indent + word
		}
		empty = false
	}
	return append(lines, cur)
}

const (
	red    = "\x1b[31m"
	yellow = "\x1b[33m"
	green  = "\x1b[32m"
	plain  = "\x1b[0m"
)

func (t *Text) paint(colour, s string) string {
	if !t.Colour {
		return s
	}
	return colour + s + plain
}

// row writes a line of a table: a sign that is indent wide (or nothing), a name,
// its figures, and what follows them. A name wider than its column, and what
// has no room behind the figures, stand on lines of their own.
func (t *Text) row(sign string, indent int, name string, col int, figures, tail string) {
	if sign == "" {
		sign = strings.Repeat(" ", indent)
	}
	name, tail = Clean(name), Clean(tail)
	line := sign + pad(name, col)
	if utf8.RuneCountInString(name) > col {
		lines := Wrap(strings.Repeat(" ", indent)+name, t.width(), strings.Repeat(" ", indent+4))
		lines[0] = sign + strings.TrimLeft(lines[0], " ")
		for _, l := range lines {
			t.line(l)
		}
		line = strings.Repeat(" ", indent+col)
	}
	room := t.width() - indent - col - utf8.RuneCountInString(figures) - utf8.RuneCountInString(tail)
	if tail == "" || room >= 3 {
		t.line(line + figures + "   " + tail)
		return
	}
	t.line(line + figures)
	t.Para("    "+tail, "      ")
}

// pad fills a cell to a width in characters.
func pad(s string, width int) string {
	if n := width - utf8.RuneCountInString(s); n > 0 {
		return s + strings.Repeat(" ", n)
	}
	return s
}

func widest(min int, names []string) int {
	for _, n := range names {
		min = max(min, utf8.RuneCountInString(n))
	}
	return min
}

// Plural counts things whose name takes an s: "1 piece", "2 pieces".
func Plural(n int, name string) string {
	if n != 1 {
		name += "s"
	}
	return fmt.Sprintf("%d %s", n, name)
}

// signed prints a change with its sign; a change that rounds to nothing is 0.
func signed(v float64, decimals int) string {
	s := fmt.Sprintf("%+.*f", decimals, v)
	if strings.Trim(s, "+-0.") == "" {
		return fmt.Sprintf("%.*f", decimals, 0.0)
	}
	return s
}
