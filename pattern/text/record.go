package text

import (
	"fmt"
	"strings"
	"time"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// record hands the fields of one line to the reader of a rule, one after the
// other. After a fault that leaves unclear which field is which, all further
// calls give zero values and report nothing.
type record struct {
	r      *reader
	next   int
	failed bool
	word   string // how the record begins
	form   string // what follows, for the hint
}

// lower bounds for numbers
const (
	anyNumber = -maxNumber
	notBelow0 = 0
)

// peek gives the next field.
func (c *record) peek() (token, bool) {
	if c.failed || c.next >= len(c.r.tokens) {
		return token{}, false
	}
	return c.r.tokens[c.next], true
}

// at gives where the next field begins, in bytes, or where one is missing.
func (c *record) at() int {
	if c.next < len(c.r.tokens) {
		return c.r.tokens[c.next].at
	}
	if n := len(c.r.tokens); n > 0 {
		return c.r.tokens[n-1].end
	}
	return 0
}

// place is where the next field stands.
func (c *record) place() diag.Place { return c.r.placeAt(c.at()) }

func (c *record) fail(id, expected string) {
	if c.failed {
		return
	}
	c.failed = true
	c.r.bad(c.at(), id, c.found(), expected, c.hint())
}

func (c *record) hint() string { return "the record is written: " + c.word + " " + c.form }

func (c *record) found() string {
	if c.next >= len(c.r.tokens) {
		return "the end of the record"
	}
	t := c.r.tokens[c.next]
	if t.quoted {
		return "text in quotes"
	}
	return show(t.text)
}

// show quotes a word of the file for a message, without control characters
// and not longer than a message can bear.
func show(s string) string {
	const most = 40
	if runes := []rune(s); len(runes) > most {
		s = string(runes[:most]) + "..."
	}
	return fmt.Sprintf("%q", s)
}

// accept takes the next field if it is this word.
func (c *record) accept(word string) bool {
	if t, ok := c.peek(); ok && !t.quoted && t.text == word {
		c.next++
		return true
	}
	return false
}

// need takes the next field, which must be one of these words.
func (c *record) need(words ...string) string {
	for _, w := range words {
		if c.accept(w) {
			return w
		}
	}
	if c.failed {
		return ""
	}
	expected := orList(words)
	if t, ok := c.peek(); ok {
		if near := diag.Nearest(t.text, words); near != "" && len(words) > 1 {
			expected += fmt.Sprintf(" (nearest: %q)", near)
		}
	}
	c.fail(IDSyntax, expected)
	return ""
}

func orList(words []string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = fmt.Sprintf("%q", w)
	}
	if len(quoted) == 1 {
		return quoted[0]
	}
	last := len(quoted) - 1
	return strings.Join(quoted[:last], ", ") + " or " + quoted[last]
}

// name takes a name; what says of what.
func (c *record) name(what string) string {
	t, ok := c.peek()
	if !ok || t.quoted || looksNumeric(t.text) {
		c.fail(IDSyntax, what)
		return ""
	}
	if fault := pattern.NameFault(t.text); fault != "" {
		c.r.bad(t.at, IDName, fmt.Sprintf("the name %s %s", show(t.text), fault), what, nameHint)
	}
	c.next++
	return t.text
}

const nameHint = "a name is a lower-case letter, then letters, digits and single hyphens, at most 64"

func (c *record) mention(what string) pattern.Mention {
	return pattern.Mention{Place: c.place(), Name: c.name(what)}
}

// number takes a number not below least.
func (c *record) number(what string, least float64) float64 {
	t, ok := c.peek()
	if !ok || t.quoted {
		c.fail(IDSyntax, what)
		return 0
	}
	v, fault := parseNumber(t.text)
	if fault != "" {
		if !looksNumeric(t.text) {
			c.fail(IDNumber, what+", a number such as 12 or -0.5")
			return 0
		}
		c.r.bad(t.at, IDNumber, fmt.Sprintf("the number %s %s", show(t.text), fault),
			what+", a number such as 12 or -0.5", "up to 3 decimals, no plus sign, no exponent, at most 100000 in size")
	} else if v < least {
		c.r.bad(t.at, IDRange, show(t.text), fmt.Sprintf("%s, not below %g", what, least), c.hint())
	}
	c.next++
	return v
}

// whole takes a whole number not below least.
func (c *record) whole(what string, least int) int {
	t, ok := c.peek()
	if ok && !t.quoted && looksNumeric(t.text) && strings.ContainsAny(t.text, ".-+eE") {
		c.r.bad(t.at, IDNumber, show(t.text), fmt.Sprintf("%s, a whole number from %d", what, least), c.hint())
		c.next++
		return 0
	}
	return int(c.number(what, float64(least)))
}

// option takes a number into an option that may stand once in a record.
func (c *record) option(o *pattern.Opt, word string, least float64) {
	c.once(word, o.Set)
	*o = pattern.Some(c.number("the "+word, least))
}

func (c *record) wholeOption(o *pattern.Opt, word string, least int) {
	c.once(word, o.Set)
	*o = pattern.Some(float64(c.whole("the "+word, least)))
}

// once reports an option whose word, just taken, stood already.
func (c *record) once(word string, set bool) {
	if set && !c.failed {
		c.r.bad(c.r.tokens[c.next-1].at, IDRecordTwice, fmt.Sprintf("%q twice", word), "each option once", c.hint())
	}
}

// point takes two coordinates.
func (c *record) point(x, y *float64) {
	*x = c.number("x in mm", anyNumber)
	*y = c.number("y in mm", anyNumber)
}

// text takes text in quotes, which may not be empty.
func (c *record) text(what string) string {
	t, ok := c.peek()
	if !ok || !t.quoted {
		c.fail(IDQuote, what+" in double quotes")
		return ""
	}
	if t.text == "" {
		c.r.bad(t.at, IDQuote, "empty text", what, "leave the record out where there is nothing to say")
	}
	c.next++
	return t.text
}

// date takes a day of the calendar.
func (c *record) date() string {
	t, ok := c.peek()
	if !ok || t.quoted {
		c.fail(IDSyntax, "a date, YYYY-MM-DD")
		return ""
	}
	if _, err := time.Parse(time.DateOnly, t.text); err != nil {
		c.r.bad(t.at, IDDate, show(t.text), "a day of the calendar, YYYY-MM-DD", "")
	}
	c.next++
	return t.text
}

// ref takes PIECE.EDGE with an optional span.
func (c *record) ref() pattern.Ref {
	ref := pattern.Ref{Place: c.place()}
	ref.Piece, ref.Edge = c.dotted(true)
	ref.Place.Piece, ref.Place.Edge = ref.Piece, ref.Edge
	if c.accept("from") {
		ref.From = c.name("the notch where the span begins")
		c.need("to")
		ref.To = c.name("the notch where the span ends")
		c.apart(ref.From, ref.To)
	}
	return ref
}

// apart reports a span that ends at the notch where it begins, just read.
func (c *record) apart(from, to string) {
	if from == to && !c.failed {
		c.r.bad(c.r.tokens[c.next-1].at, IDRange, "a span from a notch to itself", "two different notches", "")
	}
}

// dotted takes PIECE.EDGE, or where the edge is not needed, NAME.
func (c *record) dotted(needEdge bool) (name, edge string) {
	expected := "PIECE.EDGE"
	if !needEdge {
		expected = "PIECE, PIECE.EDGE or RUN"
	}
	t, ok := c.peek()
	if !ok || t.quoted {
		c.fail(IDReference, expected)
		return "", ""
	}
	name, edge, dot := strings.Cut(t.text, ".")
	if !dot && needEdge || looksNumeric(t.text) {
		c.fail(IDReference, expected)
		return "", ""
	}
	fault := pattern.NameFault(name)
	if fault == "" && dot {
		fault = pattern.NameFault(edge)
	}
	if fault != "" {
		c.r.bad(t.at, IDReference, fmt.Sprintf("in %s a name %s", show(t.text), fault), expected, nameHint)
	}
	c.next++
	return name, edge
}

// end makes sure that nothing more stands in the record.
func (c *record) end() {
	if _, ok := c.peek(); ok {
		c.fail(IDSyntax, "the end of the record")
	}
}
