package vector

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

// digits reads digits and gives how many; whole takes their value, which is
// right for as many as 19.
func (s *scanner) digits(whole *uint64) int {
	at, v := s.at, *whole
	for at < len(s.text) && isDigit(s.text[at]) {
		v = 10*v + uint64(s.text[at]-'0')
		at++
	}
	n := at - s.at
	s.at, *whole = at, v
	return n
}

// number reads one number: sign, digits, point, exponent. It ends where no
// further character can belong to it, so that ".5.5" is two numbers and "-1-1"
// too. The nearest double is given. A number beyond 1e6, or one that is not
// finite, is a fault.
func (s *scanner) number() (float64, *fault) {
	from := s.at
	negative := !s.done() && s.text[s.at] == '-'
	if negative || !s.done() && s.text[s.at] == '+' {
		s.at++
	}
	var whole uint64
	n := s.digits(&whole)
	places := 0
	if !s.done() && s.text[s.at] == '.' {
		s.at++
		places = s.digits(&whole)
		n += places
	}
	if n == 0 {
		s.at = from
		return 0, s.fault(from, "a number")
	}
	exponent := s.exponent()
	if exponent || n > 15 || places > 22 {
		return s.slowNumber(from)
	}
	// Both are exact as doubles, so that one division rounds once (W. D. Clinger,
	// How to read floating point numbers accurately, 1990, from memory).
	v := float64(whole) / powersOfTen[places]
	if v > maxNumber {
		return s.slowNumber(from)
	}
	if negative {
		v = -v
	}
	return v, nil
}

// powersOfTen are those that a double holds exactly.
var powersOfTen = [...]float64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// slowNumber reads what stands between from and here by the library.
func (s *scanner) slowNumber(from int) (float64, *fault) {
	text := s.text[from:s.at]
	v, err := strconv.ParseFloat(text, 64)
	if err != nil && !(v == 0) || !(math.Abs(v) <= maxNumber) {
		return 0, &fault{at: from, found: fmt.Sprintf("the number %.20s", text), expected: "at most 1 000 000 in size"}
	}
	return v, nil
}

// exponent reads an exponent where there is one; an "e" without digits is left
// for what follows.
func (s *scanner) exponent() bool {
	from := s.at
	if s.done() || s.text[s.at]|0x20 != 'e' {
		return false
	}
	s.at++
	if !s.done() && (s.text[s.at] == '-' || s.text[s.at] == '+') {
		s.at++
	}
	if s.digits(new(uint64)) == 0 {
		s.at = from
		return false
	}
	return true
}

// flag reads one of the two flags of an arc, which need no space after them.
func (s *scanner) flag() (bool, *fault) {
	if s.done() || s.text[s.at] != '0' && s.text[s.at] != '1' {
		return false, s.fault(s.at, "0 or 1")
	}
	s.at++
	return s.text[s.at-1] == '1', nil
}
