package handoff

import (
	"fmt"
	"strings"
)

// ids gives each element an id that follows from its names, so that the same
// part has the same id in every drawing. Where two parts would get one id, as
// the outline of "side" and a piece called "side-outline", the later asked for
// gets a number.
//
// The value is the number that was given last to the ids that begin so.
type ids map[string]int

// of joins the words to an id that no other element has.
func (d ids) of(words ...string) string {
	id := plain(strings.Join(words, "-"))
	out := id
	for d[out] > 0 {
		d[id]++
		out = fmt.Sprintf("%s-%d", id, d[id])
	}
	d[out] = 1
	return out
}

// plain keeps what every reader takes in an id.
func plain(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		}
		return '_'
	}, s)
	if s == "" || !(s[0] >= 'a' && s[0] <= 'z') && !(s[0] >= 'A' && s[0] <= 'Z') {
		return "_" + s
	}
	return s
}
