package drawing

import (
	"strings"
	"unicode/utf8"

	"seamkeep/pattern/diag"
)

// locator turns byte offsets into lines and columns. It remembers the last one,
// so that offsets asked for in rising order cost one pass over the file, even
// where the whole file is a single line.
type locator struct {
	file      string
	src       []byte
	off       int
	line, col int
}

func (l *locator) place(off int) diag.Place {
	off = min(max(off, 0), len(l.src))
	if off < l.off {
		l.off, l.line, l.col = 0, 1, 1
	}
	for l.off < off {
		c, n := utf8.DecodeRune(l.src[l.off:])
		switch {
		case c == '\n':
			l.line, l.col = l.line+1, 1
		case c != '\ufeff':
			l.col++
		}
		l.off += n
	}
	return diag.Place{File: l.file, Line: l.line, Column: l.col}
}

// valueAt gives the offset in the file of the byte i of an attribute's value.
// Where references or line ends make the text differ from the value it gives
// the offset of the element.
func (l *locator) valueAt(el element, value string, i int) int {
	tag := string(l.src[el.at:min(el.end, len(l.src))])
	for _, quote := range []string{`"`, `'`} {
		if k := strings.Index(tag, quote+value+quote); k >= 0 {
			return el.at + k + 1 + i
		}
	}
	return el.at
}
