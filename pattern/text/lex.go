package text

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// token is one field of a line.
type token struct {
	text   string // without quotes and escapes
	at     int    // where it begins, in bytes from the start of the line
	end    int    // where it ends, in bytes
	quoted bool
}

// checkCharacters reports the first character of the current line that may not
// stand in a file. Direction controls are those of the Unicode Standard, UAX
// #9, section 2; they and the line separators can make a line show otherwise
// than it reads.
func (r *reader) checkCharacters() {
	for i, c := range r.text {
		if c >= 0x20 && c < 0x7f {
			continue
		}
		size := 0
		if c == utf8.RuneError {
			_, size = utf8.DecodeRuneInString(r.text[i:])
		}
		switch {
		case size == 1:
			r.report(i, IDEncoding, fmt.Sprintf("a byte 0x%02x that is not UTF-8", r.text[i]), "UTF-8 text", "save the file as UTF-8")
		case c == '\t':
			r.report(i, IDCharacter, "a tab", "a space", "fields are separated by spaces")
		case forbidden(c):
			r.report(i, IDCharacter, fmt.Sprintf("the character U+%04X, which may hide what the line says", c), "visible text", "")
		default:
			continue
		}
		r.quiet = true
		return
	}
}

func forbidden(c rune) bool {
	switch {
	case c < 0x20, c >= 0x7f && c <= 0x9f: // control characters
		return true
	case c == 0x061c, c == 0x200e, c == 0x200f, c >= 0x202a && c <= 0x202e, c >= 0x2066 && c <= 0x2069: // direction
		return true
	case c == 0x2028, c == 0x2029, c == 0xfeff: // line separators, byte order mark
		return true
	}
	return false
}

// lex splits the current line into fields and finds where its comment begins,
// -1 where it has none. After a fault the fields before it are kept.
func (r *reader) lex() (comment int) {
	r.tokens = r.tokens[:0]
	s := r.text
	for i := 0; i < len(s); {
		switch s[i] {
		case ' ', '\t':
			i++
		case '#':
			return i
		case '"':
			next, ok := r.lexQuoted(i)
			if !ok {
				return -1
			}
			i = next
		default:
			j := i + 1
			for j < len(s) && s[j] != ' ' && s[j] != '\t' && s[j] != '#' && s[j] != '"' {
				j++
			}
			r.tokens = append(r.tokens, token{text: s[i:j], at: i, end: j})
			if j < len(s) && s[j] == '"' {
				r.quoteFault(j, "a quote inside a word", "a space before it")
				return -1
			}
			i = j
		}
	}
	return -1
}

// lexQuoted reads text in quotes that begins at i and gives where it ends.
func (r *reader) lexQuoted(i int) (next int, ok bool) {
	s := r.text
	var b strings.Builder
	for j := i + 1; j < len(s); j++ {
		switch s[j] {
		case '"':
			r.tokens = append(r.tokens, token{text: b.String(), at: i, end: j + 1, quoted: true})
			if j+1 < len(s) && s[j+1] != ' ' && s[j+1] != '\t' && s[j+1] != '#' {
				r.quoteFault(j+1, "text directly after a closing quote", `a space, or \" for a quote inside the text`)
				return 0, false
			}
			return j + 1, true
		case '\\':
			if j+1 >= len(s) || s[j+1] != '"' && s[j+1] != '\\' {
				r.quoteFault(j, `a backslash before something other than " and \`, `\" or \\`)
				return 0, false
			}
			j++
			b.WriteByte(s[j])
		default:
			b.WriteByte(s[j])
		}
	}
	r.quoteFault(i, "a quote that is not closed", `a " at the end of the text`)
	return 0, false
}

func (r *reader) quoteFault(at int, found, expected string) {
	r.report(at, IDQuote, found, expected, "")
	r.quiet = true
}

// appendQuoted writes text in quotes.
func appendQuoted(b []byte, s string) []byte {
	b = append(b, '"')
	for i := range len(s) {
		if s[i] == '"' || s[i] == '\\' {
			b = append(b, '\\')
		}
		b = append(b, s[i])
	}
	return append(b, '"')
}
