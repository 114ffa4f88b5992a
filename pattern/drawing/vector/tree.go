package vector

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"seamkeep/pattern/diag"
)

// parse reads all elements into a tree; false where that cannot be.
func (r *reader) parse() bool {
	b := builder{reader: r, dec: xml.NewDecoder(bytes.NewReader(r.src)), where: locator{src: r.src, line: 1, col: 1}}
	b.dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // it is UTF-8 by now
	for !r.fatal {
		at := int(b.dec.InputOffset())
		tok, err := b.dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			b.broken(at, err)
			return false
		}
		b.take(at, tok)
	}
	if r.root == nil && !r.fatal {
		r.refuse(b.place(len(r.src)), "drawing.xml", "the file has no element", "an SVG drawing", "")
	}
	return !r.fatal
}

// builder hangs the elements into one another.
type builder struct {
	*reader
	dec      *xml.Decoder
	where    locator
	open     []*node
	elements int
}

func (b *builder) place(at int) diag.Place {
	line, col := b.where.place(at)
	return diag.Place{File: b.file, Line: line, Column: col}
}

func (b *builder) take(at int, tok xml.Token) {
	switch t := tok.(type) {
	case xml.Directive:
		if texts := b.entities(b.place(at), string(t)); texts != nil {
			b.dec.Entity = texts
		}
	case xml.ProcInst:
		if t.Target == "xml-stylesheet" {
			b.warn(b.place(at), "drawing.feature", "the drawing refers to a style sheet outside the file",
				"a drawing complete in itself", "nothing outside is fetched; if it hides parts, save without it")
		}
	case xml.StartElement:
		b.start(at, t)
	case xml.EndElement:
		b.open = b.open[:len(b.open)-1]
	case xml.CharData:
		if n := len(b.open); n > 0 && (b.open[n-1].kind == "style" || b.open[n-1].kind == "title") {
			b.open[n-1].text = append(b.open[n-1].text, t...)
		}
	}
}

// start hangs one element below the one that is open. What belongs to no
// drawing, such as an editor's own data, is hung nowhere.
func (b *builder) start(at int, t xml.StartElement) {
	n := &node{space: t.Name.Space, kind: t.Name.Local, attrs: t.Attr, at: at, end: int(b.dec.InputOffset())}
	n.line, n.col = b.where.place(at)
	n.id, n.classes = n.get("", "id"), strings.Fields(n.get("", "class"))
	if !b.bounded(n) {
		return
	}
	if len(b.open) == 0 {
		b.first(n)
	} else if up := b.open[len(b.open)-1]; n.drawing() {
		n.parent = up
		up.kids = append(up.kids, n)
	}
	b.open = append(b.open, n)
}

// first takes the root.
func (b *builder) first(n *node) {
	switch {
	case b.root != nil:
		b.refuse(b.placeOf(n), "drawing.xml", "a second drawing follows the first", "one drawing in a file", "")
	case n.kind != "svg" || !n.drawing():
		b.refuse(b.placeOf(n), "drawing.xml", fmt.Sprintf("the file begins with an element %q", Clean(n.kind)), "an SVG drawing", "")
	default:
		b.root = n
	}
}

// bounded refuses what is too deep, too much or written twice.
func (b *builder) bounded(n *node) bool {
	b.elements++
	twice := n.repeated()
	switch at := b.placeOf(n); {
	case len(b.open) >= maxDepth:
		b.refuse(at, "drawing.xml", fmt.Sprintf("elements lie more than %d deep in one another", maxDepth), "a plain drawing",
			"ungroup the lines in the drawing program and save again")
	case b.elements > maxElements:
		b.refuse(at, "drawing.xml", fmt.Sprintf("the drawing has more than %d elements", maxElements), "a drawing of lines",
			"copy the lines into a new drawing")
	case twice != "":
		b.refuse(at, "drawing.xml", fmt.Sprintf("%s has the attribute %s twice", n.title(), Clean(twice)), "each attribute once",
			"save it again from the drawing program")
	}
	return !b.fatal
}

// broken says where the text stops being XML: at the element that was being
// read, or at the end of a file that was cut off.
func (b *builder) broken(at int, err error) {
	found := Clean(err.Error())
	var syn *xml.SyntaxError
	if errors.As(err, &syn) {
		found = Clean(syn.Msg)
	}
	if strings.Contains(found, "unexpected EOF") {
		at, found = len(b.src), "it ends too early"
		if n := len(b.open); n > 0 {
			open := b.open[n-1]
			found = fmt.Sprintf("it ends before %s (line %d) is closed", open.title(), open.line)
		}
	}
	b.refuse(b.place(at), "drawing.xml", "the file is not well-formed XML: "+found, "an SVG drawing",
		"save it again from the drawing program, or copy it again")
}
