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
	p.markdownNotes(&b)
	faults, changes := p.sentences()
	if len(faults) > 0 {
		b.WriteString("**Faulty: figures may mean little**\n\n")
		markdownList(&b, faults)
		b.WriteString("\n")
	}
	markdownList(&b, changes)
	p.markdownFigures(&b)
	_, err := io.WriteString(w, b.String())
	return err
}

// markdownNotes lists the versions between the two.
func (p Page) markdownNotes(b *strings.Builder) {
	notes, more := p.between()
	if len(notes) == 0 {
		return
	}
	b.WriteString("**Versions between, newest last**\n\n")
	if more != "" {
		fmt.Fprintf(b, "- %s\n", more)
	}
	for _, n := range notes {
		text := "- **" + markdownText(n.head()) + "**"
		if n.Subject != "" {
			text += " " + markdownText(n.Subject)
		}
		if n.Because != "" {
			text += "; because: " + markdownText(n.Because)
		}
		b.WriteString(text + "\n")
	}
	b.WriteString("\n")
}

func markdownList(b *strings.Builder, list []string) {
	for _, s := range list {
		fmt.Fprintf(b, "- %s\n", markdownText(s))
	}
}

func (p Page) markdownFigures(b *strings.Builder) {
	first, rest, edges := tables(p.Change)
	for _, t := range first {
		t.markdown(b)
	}
	if names := unchanged(p.Change); len(names) > 0 {
		fmt.Fprintf(b, "\nDid not change: %s.\n", markdownText(strings.Join(names, ", ")))
	}
	folded := false
	for _, t := range append(rest, edges...) {
		if t.Fine && !folded {
			b.WriteString("\n<details><summary>Records and edges</summary>\n")
			folded = true
		}
		t.markdown(b)
	}
	if folded {
		b.WriteString("\n</details>\n")
	}
	if list := pressing(p.Change); list != nil {
		fmt.Fprintf(b, "\nPercent of the body as worn (laced shut): %s. %s\n", markdownText(strings.Join(list, ", ")), check.Caution)
	}
}

func (t table) markdown(b *strings.Builder) {
	head := make([]string, len(t.Head))
	for i, h := range t.Head {
		head[i] = markdownText(h)
	}
	align := "---:|"
	if t.Words {
		align = "---|"
	}
	fmt.Fprintf(b, "\n**%s**\n\n| %s |\n|%s\n", markdownText(t.Title), strings.Join(head, " | "), "---|"+strings.Repeat(align, len(t.Head)-1))
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
	for _, u := range t.Under {
		fmt.Fprintf(b, "\n%s\n", markdownText(u))
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
