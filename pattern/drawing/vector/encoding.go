package vector

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"seamkeep/pattern/diag"
)

// declared finds the encoding that the XML declaration names.
var declared = regexp.MustCompile(`^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([^"'<>]*)["']`)

// foreign knows files of other kinds by how they begin.
var foreign = []struct{ start, kind, hint string }{
	{"\x1f\x8b", "a compressed file", "save it as plain SVG, not as compressed SVG"},
	{"\x89PNG", "a PNG picture", tracing}, {"\xff\xd8\xff", "a JPEG picture", tracing},
	{"GIF8", "a GIF picture", tracing}, {"BM", "a BMP picture", tracing},
	{"II*\x00", "a TIFF picture", tracing}, {"MM\x00*", "a TIFF picture", tracing},
	{"%PDF", "a PDF file", saving}, {"%!PS", "a PostScript file", saving}, {"PK\x03\x04", "a zip file", saving},
}

const (
	tracing = "trace the picture in a drawing program and save the lines as plain SVG"
	saving  = "open it in the drawing program and save it as plain SVG"
)

// load takes the bytes as UTF-8 text; false where that cannot be.
func (r *reader) load(src []byte) bool {
	top := diag.Place{File: r.file, Line: 1, Column: 1}
	if len(src) > maxFile {
		r.refuse(top, "drawing.file", fmt.Sprintf("the file has %d MiB", len(src)>>20),
			fmt.Sprintf("at most %d MiB", maxFile>>20), "remove pictures from the drawing and save it again")
		return false
	}
	for _, f := range foreign {
		if bytes.HasPrefix(src, []byte(f.start)) {
			r.refuse(top, "drawing.file", "the file is "+f.kind, "an SVG drawing", f.hint)
			return false
		}
	}
	code, name := encodingOf(src)
	text, err := src, error(nil)
	if code != nil {
		text, err = code.NewDecoder().Bytes(src)
	}
	if name != "" || err != nil || code == nil && !utf8.Valid(text) {
		if name == "" {
			name = "bytes that are not the text they say they are"
		}
		r.refuse(top, "drawing.encoding", "the file is written in "+name, "UTF-8, UTF-16, ISO-8859-1 or Windows-1252",
			"save it again from the drawing program as plain SVG, which is UTF-8")
		return false
	}
	r.src = bytes.TrimPrefix(text, []byte("\ufeff"))
	if len(bytes.TrimSpace(r.src)) == 0 {
		r.refuse(top, "drawing.file", "the file is empty", "an SVG drawing", "")
		return false
	}
	return true
}

// encodingOf finds the encoding by the first bytes (XML 1.0, appendix F), then by
// what the declaration names. Nil: UTF-8. A name that is given back is that of an
// encoding that is not read.
func encodingOf(src []byte) (code encoding.Encoding, unread string) {
	begins := func(s string) bool { return bytes.HasPrefix(src, []byte(s)) }
	switch {
	case begins("\x00\x00\xfe\xff"), begins("\xff\xfe\x00\x00"), begins("\x00\x00\x00<"), begins("<\x00\x00\x00"):
		return nil, "UTF-32"
	case begins("\xfe\xff"), begins("\xff\xfe"):
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM), ""
	case begins("\x00<"):
		return unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), ""
	case begins("<\x00"):
		return unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), ""
	}
	m := declared.FindSubmatch(src[:min(len(src), 1000)])
	if m == nil || begins("\xef\xbb\xbf") {
		return nil, ""
	}
	switch strings.ToLower(string(m[1])) {
	case "iso-8859-1", "iso_8859-1", "latin1", "latin-1", "l1":
		return charmap.ISO8859_1, ""
	case "windows-1252", "cp1252":
		return charmap.Windows1252, ""
	case "utf-8", "utf8", "us-ascii", "ascii", "utf-16", "utf-16le", "utf-16be": // the last three: plainly not, since this was read
		return nil, ""
	}
	return nil, fmt.Sprintf("%.40q", Clean(string(m[1])))
}
