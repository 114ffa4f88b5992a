package text

import (
	"fmt"
	"strings"

	"seamkeep/pattern"
)

// readAccepted reads a finding that is let stand on purpose. Whether there is such a
// finding the checks know, not the text.
func readAccepted(c *record, _ string, g *pattern.Garment) {
	a := pattern.Accepted{Place: c.recordPlace(), ID: c.findingID()}
	a.Subject = c.subject()
	if !c.failed {
		c.about("accept", a.Address())
	}
	a.Amount = c.number("how bad it may be", notBelow0)
	a.Reason = c.text("why it is accepted")
	g.Accepted = append(g.Accepted, a)
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
	const expected = "what the finding is about: a seam, a run, PIECE, PIECE.EDGE or garment"
	t, ok := c.peek()
	if !ok || t.quoted || looksNumeric(t.text) {
		c.fail(IDSyntax, expected)
		return ""
	}
	if t.text != "garment" {
		for _, name := range strings.Split(t.text, ".") {
			if fault := pattern.NameFault(name); fault != "" {
				c.r.bad(t.at, IDReference, fmt.Sprintf("in %s a name %s", show(t.text), fault), expected, nameHint)
				break
			}
		}
	}
	c.next++
	return t.text
}

func printAccepted(g *pattern.Garment, s *sheet) {
	for _, a := range g.Accepted {
		s.record(head, "accept", a.Address(), "accept").word(a.ID, a.Subject).number(a.Amount).text(a.Reason).done()
	}
}
