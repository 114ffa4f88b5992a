package drawing

import (
	"fmt"
	"math"
	"strconv"
	"unicode/utf8"
)

// fault is what is wrong in the text of an attribute, and at which byte.
type fault struct {
	at              int
	found, expected string
}

// scanner reads the small languages inside attributes.
type scanner struct {
	text string
	at   int
}

func (s *scanner) done() bool { return s.at >= len(s.text) }

// space passes over white space (SVG 2, section 9.3.9).
func (s *scanner) space() {
	for !s.done() && isSpace(s.text[s.at]) {
		s.at++
	}
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' }

// separator passes over white space with at most one comma in it.
func (s *scanner) separator() (comma bool) {
	s.space()
	if !s.done() && s.text[s.at] == ',' {
		s.at++
		s.space()
		return true
	}
	return false
}

func (s *scanner) fault(at int, expected string) *fault {
	found := "the end of the text"
	if at < len(s.text) {
		c, _ := utf8.DecodeRuneInString(s.text[at:])
		found = strconv.QuoteRune(c)
	}
	return &fault{at: at, found: found, expected: expected}
}

// startsNumber tells whether a number may begin here.
func (s *scanner) startsNumber() bool {
	if s.done() {
		return false
	}
	c := s.text[s.at]
	return isDigit(c) || c == '.' || c == '-' || c == '+'
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func (s *scanner) digits() int {
	from := s.at
	for !s.done() && isDigit(s.text[s.at]) {
		s.at++
	}
	return s.at - from
}

// number reads one number: sign, digits, point, exponent. It ends where no
// further character can belong to it, so that ".5.5" is two numbers and "-1-1"
// too. A number beyond 1e6, or one that is not finite, is a fault.
func (s *scanner) number() (float64, *fault) {
	from := s.at
	if !s.done() && (s.text[s.at] == '-' || s.text[s.at] == '+') {
		s.at++
	}
	n := s.digits()
	if !s.done() && s.text[s.at] == '.' {
		s.at++
		n += s.digits()
	}
	if n == 0 {
		s.at = from
		return 0, s.fault(from, "a number")
	}
	s.exponent()
	text := s.text[from:s.at]
	v, err := strconv.ParseFloat(text, 64)
	if err != nil && !(v == 0) || !(math.Abs(v) <= maxNumber) {
		return 0, &fault{at: from, found: fmt.Sprintf("the number %.20s", text), expected: "at most 1 000 000 in size"}
	}
	return v, nil
}

// exponent reads an exponent where there is one; an "e" without digits is left
// for what follows.
func (s *scanner) exponent() {
	from := s.at
	if s.done() || s.text[s.at]|0x20 != 'e' {
		return
	}
	s.at++
	if !s.done() && (s.text[s.at] == '-' || s.text[s.at] == '+') {
		s.at++
	}
	if s.digits() == 0 {
		s.at = from
	}
}

// flag reads one of the two flags of an arc, which need no space after them.
func (s *scanner) flag() (bool, *fault) {
	if s.done() || s.text[s.at] != '0' && s.text[s.at] != '1' {
		return false, s.fault(s.at, "0 or 1")
	}
	s.at++
	return s.text[s.at-1] == '1', nil
}
