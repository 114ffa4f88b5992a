package handoff

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern/diag"
)

// element is a start tag that names a line or a piece, and where the values of
// its attributes stand in the file.
type element struct {
	kind  string
	attrs []attribute
	place diag.Place
	piece *element // the nearest one round it, or itself, that names a piece
}

// attribute is one of an element: value as read, and from where to where it is
// written, without its quotes.
type attribute struct {
	space, name string
	raw         string // name as written
	value       string
	before      int // where the blank before the name begins
	from, to    int
}

func (e *element) attr(space, name string) *attribute {
	for i := range e.attrs {
		if a := &e.attrs[i]; a.space == space && a.name == name {
			return a
		}
	}
	return nil
}

// get gives an attribute's value, or "" where it is absent.
func (e *element) get(space, name string) string {
	if a := e.attr(space, name); a != nil {
		return a.value
	}
	return ""
}

func (e *element) own(name string) string { return e.get(nsOwn, name) }

// pieceName is the name of the piece to which the element belongs.
func (e *element) pieceName() string {
	if e.piece == nil {
		return ""
	}
	return e.piece.own("piece")
}

// title tells an element to the maker.
func (e *element) title() string {
	if id := e.get("", "id"); id != "" {
		return fmt.Sprintf("%s %.60q", e.kind, id)
	}
	return fmt.Sprintf("%.60s without an id", e.kind)
}

// scan finds the elements that bear attributes of ours, or an id that wanted
// knows, in the order of the file. The file is known to be well-formed.
func scan(file string, src []byte, wanted map[string]bool) ([]*element, error) {
	dec := xml.NewDecoder(bytes.NewReader(src))
	dec.Strict = false // entities stay as they are written
	dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return asciiReader{in}, nil }
	at := locator{src: src, wide: utf8.Valid(src), line: 1, column: 1}
	var found, open []*element
	for {
		from := int(dec.InputOffset())
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return found, nil
		}
		if err != nil {
			return nil, fmt.Errorf("read drawing: %w", err)
		}
		switch t := tok.(type) {
		case xml.StartElement:
			e := &element{kind: t.Name.Local}
			if n := len(open); n > 0 {
				e.piece = open[n-1].piece
			}
			open = append(open, e)
			if !concerns(t, wanted) {
				continue
			}
			line, column := at.to(from)
			e.place = diag.Place{File: file, Line: line, Column: column}
			e.attrs = attributes(src, from, int(dec.InputOffset()), t.Attr)
			if e.own("piece") != "" {
				e.piece = e
			}
			found = append(found, e)
		case xml.EndElement:
			open = open[:max(0, len(open)-1)]
		}
	}
}

func concerns(t xml.StartElement, wanted map[string]bool) bool {
	for _, a := range t.Attr {
		if a.Name.Space == nsOwn || a.Name.Space == "" && a.Name.Local == "id" && wanted[a.Value] {
			return true
		}
	}
	return false
}

// attributes finds where the values of a start tag stand: they are written in
// the order in which the decoder gives them.
func attributes(src []byte, from, to int, list []xml.Attr) []attribute {
	out := make([]attribute, 0, len(list))
	i := from + 1
	for i < to && !isSpace(src[i]) && src[i] != '/' && src[i] != '>' {
		i++
	}
	for _, a := range list {
		before := i
		i = skip(src, i, to, isSpace)
		name := i
		i = skip(src, i, to, func(c byte) bool { return c != '=' && !isSpace(c) })
		raw := string(src[name:i])
		i = skip(src, i, to, func(c byte) bool { return c == '=' || isSpace(c) })
		if i >= to || src[i] != '"' && src[i] != '\'' {
			return out // without quotes: the reader of drawings refuses it
		}
		quote := src[i]
		start := i + 1
		i = skip(src, start, to, func(c byte) bool { return c != quote })
		out = append(out, attribute{space: a.Name.Space, name: a.Name.Local, raw: raw, value: a.Value, before: before, from: start, to: i})
		i = min(i+1, to)
	}
	return out
}

func skip(src []byte, i, to int, while func(byte) bool) int {
	for i < to && while(src[i]) {
		i++
	}
	return i
}

func isSpace(c byte) bool { return strings.IndexByte(" \t\r\n", c) >= 0 }

// asciiReader hides all but ASCII, byte for byte, so that places in the file
// stay what they are: nothing that is looked for here is written otherwise.
type asciiReader struct{ in io.Reader }

func (r asciiReader) Read(p []byte) (int, error) {
	n, err := r.in.Read(p)
	for i, c := range p[:n] {
		if c >= utf8.RuneSelf {
			p[i] = '?'
		}
	}
	return n, err
}

// locator turns rising byte offsets into lines and columns, both from 1; columns
// are characters.
type locator struct {
	src          []byte
	wide         bool // it is UTF-8
	off          int
	line, column int
}

func (l *locator) to(off int) (line, column int) {
	part := l.src[l.off:off]
	if last := bytes.LastIndexByte(part, '\n'); last >= 0 {
		l.line += bytes.Count(part, []byte{'\n'})
		l.column = 1
		part = part[last+1:]
	}
	if l.wide {
		l.column += utf8.RuneCount(part)
	} else {
		l.column += len(part)
	}
	l.off = off
	return l.line, l.column
}
