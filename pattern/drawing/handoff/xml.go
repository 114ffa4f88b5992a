package handoff

import (
	"bytes"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// writer writes elements as the drawing program Inkscape lays them out when it
// saves (one attribute a line, three spaces further in), so that opening and
// saving a drawing changes hardly a line of it. The pen of package svg cannot do
// that: it lays out by its library, takes no layers and no namespace of ours.
// As with that pen all words are cleaned and escaped, names of elements and
// attributes are constants of this package, and numbers have at most three
// decimals. The first error is kept.
type writer struct {
	buf   bytes.Buffer
	depth int
	err   error
}

// attr is an attribute; its value is escaped where it is written.
type attr struct{ name, value string }

// num makes an attribute of a number.
func (w *writer) num(name string, v float64) attr { return attr{name, w.number(v)} }

func (w *writer) number(v float64) string {
	s, err := svg.Number(v)
	if err != nil && w.err == nil {
		w.err = err
	}
	return s
}

// escape writes what Inkscape writes, in text and in attributes alike.
func escape(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace(svg.CleanText(s))
}

// tag writes a start tag up to, and without, its end. Attributes without a name
// are left out.
func (w *writer) tag(name string, attrs []attr) {
	indent := strings.Repeat("  ", w.depth)
	w.buf.WriteString(indent + "<" + name)
	for _, a := range attrs {
		if a.name != "" {
			w.buf.WriteString("\n" + indent + "   " + a.name + `="` + escape(a.value) + `"`)
		}
	}
}

// open begins an element that holds others; shut ends it.
func (w *writer) open(name string, attrs ...attr) {
	w.tag(name, attrs)
	w.buf.WriteString(">\n")
	w.depth++
}

func (w *writer) shut(name string) {
	w.depth--
	w.buf.WriteString(strings.Repeat("  ", w.depth) + "</" + name + ">\n")
}

// empty writes an element that holds nothing.
func (w *writer) empty(name string, attrs ...attr) {
	w.tag(name, attrs)
	w.buf.WriteString(" />\n")
}

// words writes an element that holds a line of text.
func (w *writer) words(name, text string, attrs ...attr) {
	w.tag(name, attrs)
	w.buf.WriteString(">" + escape(text) + "</" + name + ">\n")
}

// data writes a path; one that ends where it began, in the numbers as written,
// is closed, and its last line is drawn by closing it.
func data(p curve.Path, number func(float64) string) string {
	if len(p) == 0 {
		return ""
	}
	at := func(q curve.Point) string { return number(q.X) + "," + number(q.Y) }
	var b strings.Builder
	first := at(p.Start())
	closed := at(p.End()) == first && len(p) > 1
	b.WriteString("M " + first)
	for i, s := range p {
		switch {
		case closed && s.Straight && i == len(p)-1:
		case s.Straight:
			b.WriteString(" L " + at(s.P3))
		default:
			b.WriteString(" C " + at(s.P1) + " " + at(s.P2) + " " + at(s.P3))
		}
	}
	if closed {
		b.WriteString(" Z")
	}
	return b.String()
}
