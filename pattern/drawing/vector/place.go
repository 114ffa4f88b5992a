package vector

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern/diag"
)

// locator turns byte offsets into lines and columns. It remembers the last one,
// so that offsets asked for in rising order cost one pass over the file, even
// where the whole file is a single line.
type locator struct {
	src       []byte
	off       int
	line, col int
}

// place gives the line and the column, in characters, both from 1.
func (l *locator) place(off int) (line, col int) {
	off = min(max(off, 0), len(l.src))
	if off < l.off {
		l.off, l.line, l.col = 0, 1, 1
	}
	part := l.src[l.off:off]
	if last := bytes.LastIndexByte(part, '\n'); last >= 0 {
		l.line += bytes.Count(part, []byte{'\n'})
		l.col = 1
		part = part[last+1:]
	}
	l.col += utf8.RuneCount(part)
	l.off = off
	return l.line, l.col
}

// placeOf is where an element begins.
func (r *reader) placeOf(n *node) diag.Place {
	return diag.Place{File: r.file, Line: n.line, Column: n.col}
}

// placeIn is where the byte i of an attribute's value stands. Where references
// or line ends make the text differ from the value it is that of the element.
func (r *reader) placeIn(n *node, value string, i int) diag.Place {
	tag := string(r.src[n.at:min(n.end, len(r.src))])
	for _, quote := range []string{`"`, `'`} {
		if k := strings.Index(tag, quote+value+quote); k >= 0 {
			l := locator{src: r.src, off: n.at, line: n.line, col: n.col}
			line, col := l.place(n.at + k + 1 + i)
			return diag.Place{File: r.file, Line: line, Column: col}
		}
	}
	return r.placeOf(n)
}
