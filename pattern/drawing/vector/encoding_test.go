package vector

import (
	"encoding/binary"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/diag"
)

// units writes a text in two bytes for each unit (RFC 2781).
func units(text string, order binary.AppendByteOrder) []byte {
	var out []byte
	for _, u := range utf16.Encode([]rune(text)) {
		out = order.AppendUint16(out, u)
	}
	return out
}

func bytesOf(text string, swaps map[rune]byte) []byte {
	var out []byte
	for _, c := range text {
		if b, ok := swaps[c]; ok {
			out = append(out, b)
		} else {
			out = append(out, byte(c))
		}
	}
	return out
}

// Each encoding gives the same drawing, and its places count characters. Codes:
// e with acute is E9 in ISO-8859-1 and Windows-1252, the dash of a range (U+2013)
// is 96 in the latter (their charts, from memory).
func TestEncodings(t *testing.T) {
	head := func(name string) string { return `<?xml version="1.0" encoding="` + name + `"?>` + "\n" }
	body := string(onPage(`<path inkscape:label="côté é–" d="x"/><path id="été" ` + square + `/>`))
	latin := map[rune]byte{'é': 0xe9, 'ô': 0xf4, '–': 0x96}
	for name, src := range map[string][]byte{
		"UTF-8":                      []byte(head("UTF-8") + body),
		"UTF-8 by another name":      []byte(head("utf8") + body),
		"UTF-8 with a mark":          []byte("\ufeff" + head("UTF-8") + body),
		"UTF-8 that says it is not":  []byte("\ufeff" + head("ISO-8859-1") + body),
		"UTF-8 that says UTF-16":     []byte(head("UTF-16") + body),
		"UTF-16 little":              units("\ufeff"+head("UTF-16")+body, binary.LittleEndian),
		"UTF-16 big":                 units("\ufeff"+head("UTF-16")+body, binary.BigEndian),
		"UTF-16 little, no mark":     units(head("UTF-16LE")+body, binary.LittleEndian),
		"UTF-16 big, no mark":        units(head("utf-16be")+body, binary.BigEndian),
		"Windows-1252":               bytesOf(head("windows-1252")+body, latin),
		"Windows-1252, single quote": bytesOf("<?xml version='1.0' encoding='CP1252' standalone='no'?>\n"+body, latin),
	} {
		t.Run(name, func(t *testing.T) {
			d, probs := Read("a.svg", src, Options{})
			require.Len(t, probs, 1)
			assert.Contains(t, probs[0].Found, `"côté é–"`)
			assert.Equal(t, 3, probs[0].Place.Line)
			assert.Equal(t, len(`<path inkscape:label="cote e-" d="`)+1, probs[0].Place.Column)
			assert.Equal(t, []string{"été"}, itemIDs(d))
		})
	}
	d, probs := Read("a.svg", bytesOf(head("ISO-8859-1")+string(onPage(`<path id="été" `+square+`/>`)), latin), Options{})
	assert.Empty(t, probs)
	assert.Equal(t, []string{"été"}, itemIDs(d))
}

func TestEncodingsRefused(t *testing.T) {
	for src, found := range map[string]string{
		`<?xml version="1.0" encoding="Shift_JIS"?><svg/>`: `"Shift_JIS"`,
		`<?xml version="1.0" encoding="koi8-r"?><svg/>`:    `"koi8-r"`,
		"\x00\x00\xfe\xff\x00\x00\x00<":                    "UTF-32",
		"\xff\xfe\x00\x00<\x00\x00\x00":                    "UTF-32",
		"<svg id=\"\xe9\"/>":                               "bytes that are not the text",
	} {
		d, probs := Read("a.svg", []byte(src), Options{})
		assert.Empty(t, d.Items)
		require.Len(t, probs, 1, found)
		assert.Equal(t, "drawing.encoding", probs[0].ID)
		assert.Equal(t, diag.Error, probs[0].Severity)
		assert.Contains(t, probs[0].Found, found)
		assert.Equal(t, "a.svg:1:1", probs[0].Place.String())
	}
}

func TestBrokenUTF16(t *testing.T) {
	_, probs := Read("a.svg", []byte("\xff\xfe<\x00s\x00\x00\xd8"), Options{})
	require.Len(t, probs, 1)
	assert.Equal(t, "drawing.xml", probs[0].ID)
}
