package note

import (
	"fmt"
	"strings"

	"seamkeep/pattern/diag"
)

// unseen tells of lines of ours that git does not see as trailers: nobody would
// measure what they claim.
func (p *parser) unseen(message string, trailers []Trailer) {
	seen := map[int]bool{}
	for _, t := range trailers {
		seen[t.Line] = true
	}
	hint := "write the message so:\n\n" + strings.TrimRight(p.l.mended(message), "\n")
	last := p.l.paragraph(p.l.end)
	start := 0 // of the paragraph
	for i := range p.l.lines[:p.l.text] {
		if isBlank(p.l.lines[i]) {
			start = i + 1
		}
		word, is := p.l.ours(i)
		if !is || seen[i+1] {
			continue
		}
		key, _, _ := keyOf(p.l.lines[i])
		at := diag.Place{File: File, Line: i + 1, Column: 1}
		p.fail(UnseenFault, at, fmt.Sprintf("found %s where git sees no trailer: %s", key, p.l.why(i, start, last)),
			"expected "+word+" in the last paragraph, with nothing else in it", hint)
		hint = ""
	}
}

// mended is the mended message as far as it is text.
func (l layout) mended(message string) string {
	again := layOut(Mend(message))
	var b strings.Builder
	for _, line := range again.lines[:again.text] {
		if line[0] != '#' {
			b.WriteString(line)
		}
	}
	return b.String()
}

// why tells why git does not see the line at i, whose paragraph begins at start;
// the last one begins at last.
func (l layout) why(i, start, last int) string {
	switch {
	case i > l.divider:
		return "it stands behind a line \"---\""
	case start < l.title:
		return "it stands in the first paragraph"
	case start < last:
		return "another paragraph comes after it"
	}
	return "other text stands in its paragraph"
}
