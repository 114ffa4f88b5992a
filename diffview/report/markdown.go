package report

import (
	"fmt"
	"io"
	"strings"

	"seamkeep/pattern/check"
)

// Markdown writes a page as a comment for a review on a hosting site: sentences
// first, then tables; the edges are folded away.
func Markdown(w io.Writer, p Page) error {
	var b strings.Builder
	fmt.Fprintf(&b, "### %s: %s → %s\n\n", markdownText(p.Title), markdownText(p.From), markdownText(p.To))
	if len(p.Note) > 0 {
		lines := make([]string, len(p.Note))
		for i, n := range p.Note {
			lines[i] = markdownText(n)
		}
		b.WriteString("> " + strings.Join(lines, "\\\n> ") + "\n\n") // a backslash breaks the line
	}
	for _, s := range p.sentences() {
		fmt.Fprintf(&b, "- %s\n", markdownText(s))
	}
	folded := false
	for _, t := range tables(p.Change) {
		if strings.Contains(t.Title, ", ") && !folded {
			b.WriteString("\n<details><summary>Edges</summary>\n")
			folded = true
		}
		t.markdown(&b)
	}
	if folded {
		b.WriteString("\n</details>\n")
	}
	if names := unchanged(p.Change); len(names) > 0 {
		fmt.Fprintf(&b, "\nDid not change: %s.\n", strings.Join(names, ", "))
	}
	if list := pressing(p.Change); list != nil {
		fmt.Fprintf(&b, "\nPercent of the body as worn (laced shut): %s. %s\n", strings.Join(list, ", "), check.Caution)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (t table) markdown(b *strings.Builder) {
	fmt.Fprintf(b, "\n**%s**\n\n| %s |\n|%s\n", markdownText(t.Title), strings.Join(t.Head, " | "), "---|"+strings.Repeat("---:|", len(t.Head)-1))
	for _, r := range t.Rows {
		cells := make([]string, len(r.Cells))
		for i, c := range r.Cells {
			cells[i] = markdownText(c)
			if r.Moved && c != "" {
				cells[i] = "**" + cells[i] + "**"
			}
		}
		fmt.Fprintf(b, "| %s |\n", strings.Join(cells, " | "))
	}
}

// markdownText takes the meaning out of what comes from a pattern or a note: no
// markup, no links, no mentions.
func markdownText(s string) string {
	s = Clean(s)
	var b strings.Builder
	for _, r := range s {
		switch {
		case strings.ContainsRune("\\`*_{}[]#|~!$", r):
			b.WriteString("\\" + string(r))
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '@':
			b.WriteString("@\u200b") // a zero-width space: nobody is called
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
