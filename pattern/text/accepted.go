package text

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// readAccepted reads a finding that is let stand on purpose. Whether there is such a
// finding the checks know, not the text.
func readAccepted(c *record, _ string, g *pattern.Garment) {
	a := pattern.Accepted{Place: c.recordPlace(), ID: c.findingID()}
	a.Subject = c.subject()
	if !c.failed {
		c.about("accept", a.Address())
	}
	a.Parts = c.parts()
	if len(a.Parts) == 0 {
		a.Amount = c.number("how bad it may be, or at and its places", notBelow0)
	}
	a.Reason = c.text("why it is accepted")
	g.Accepted = append(g.Accepted, a)
}

// parts takes {at PLACE NUMBER}: how bad the finding may be at each of its places.
func (c *record) parts() []diag.Part {
	var out []diag.Part
	for c.accept("at") {
		at := c.at()
		part := diag.Part{At: c.path("the place as the finding names it: PIECE.CORNER, PIECE.MARK or a notch")}
		twice := func(p diag.Part) bool { return p.At == part.At }
		if !c.failed && slices.ContainsFunc(out, twice) {
			c.r.bad(at, IDRecordTwice, show(part.At)+" twice", "each place once", c.hint())
		}
		part.Amount = c.number("how bad it may be there", notBelow0)
		out = append(out, part)
	}
	return out
}

// findingID takes the id of a finding: dotted words such as seam.near.
func (c *record) findingID() string {
	t, ok := c.peek()
	if !ok || t.quoted || !isFindingID(t.text) {
		c.fail(IDSyntax, "the id of a finding, such as seam.near")
		return ""
	}
	c.next++
	return t.text
}

// isFindingID tells whether a word has the form of an id: two or more words of
// lower-case letters and single hyphens, joined by points.
func isFindingID(s string) bool {
	words := strings.Split(s, ".")
	for _, w := range words {
		if pattern.NameFault(w) != "" || strings.ContainsAny(w, "0123456789") {
			return false
		}
	}
	return len(words) >= 2 && len(s) <= pattern.MaxName
}

// subject takes what a finding is about: NAME{.NAME}, or the word garment.
func (c *record) subject() string {
	return c.path("what the finding is about: a seam, a run, PIECE, PIECE.EDGE or garment")
}

// path takes NAME{.NAME}; expected says of what.
func (c *record) path(expected string) string {
	t, ok := c.peek()
	if !ok || t.quoted || looksNumeric(t.text) {
		c.fail(IDSyntax, expected)
		return ""
	}
	for _, name := range strings.Split(t.text, ".") {
		if fault := pattern.NameFault(name); fault != "" && t.text != "garment" {
			c.r.bad(t.at, IDReference, fmt.Sprintf("in %s a name %s", show(t.text), fault), expected, nameHint)
			break
		}
	}
	c.next++
	return t.text
}

func printAccepted(g *pattern.Garment, s *sheet) {
	for _, a := range g.Accepted {
		s.record(head, "accept", a.Address(), "accept").word(a.ID, a.Subject).parts(a).text(a.Reason).done()
	}
}

// parts writes how bad an accepted finding may be, place by place or as a whole.
func (l *line) parts(a pattern.Accepted) *line {
	if len(a.Parts) == 0 {
		return l.number(a.Amount)
	}
	for _, p := range a.Parts {
		l.word("at", p.At).number(p.Amount)
	}
	return l
}
