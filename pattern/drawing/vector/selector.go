package vector

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// compound is one part of a selector: what is asked of one element.
type compound struct {
	tag, id string // "" asks nothing
	classes []string
	root    bool
	child   bool // lies directly in what the part before it names, else anywhere in it
}

// selector says which elements a rule is for (Selectors 3: tags, ids, classes,
// the root, one in another). The last part is for the element itself.
type selector struct {
	parts  []compound
	weight int // specificity
}

// kind says what became of the text of a selector.
type selectorKind int

const (
	unread   selectorKind = iota // something that is not followed
	followed                     // read
	never                        // true only under a pointer or the like
)

// maxParts of one selector, so that matching stays cheap.
const maxParts = 16

// parseSelector reads one selector, without commas.
func parseSelector(text string) (selector, selectorKind) {
	s := scanner{text: strings.TrimSpace(text)}
	var sel selector
	for child := false; ; {
		c, kind := s.compound()
		if kind != followed {
			return sel, kind
		}
		c.child = child
		sel.parts = append(sel.parts, c)
		sel.weight += c.weight()
		if s.done() {
			return sel, followed
		}
		if len(sel.parts) == maxParts {
			return sel, unread
		}
		s.space()
		if child = s.text[s.at] == '>'; child {
			s.at++
			s.space()
		}
	}
}

// compound reads tag, #id, .class and :root, as far as they follow one another.
func (s *scanner) compound() (compound, selectorKind) {
	var c compound
	from := s.at
	for !s.done() {
		mark := s.text[s.at]
		switch {
		case isSpace(mark) || mark == '>':
			return c, found(s.at > from)
		case mark == '*' && s.at == from:
			s.at++
			continue
		case mark == '#' || mark == '.' || mark == ':':
			s.at++
		case s.at > from:
			return c, unread
		}
		name := s.ident()
		switch {
		case name == "":
			return c, unread
		case mark == '#' && (c.id == "" || c.id == name):
			c.id = name
		case mark == '#':
			return c, never
		case mark == '.':
			c.classes = append(c.classes, name)
		case mark == ':' && name == "root":
			c.root = true
		case mark == ':' && (name == "hover" || name == "focus" || name == "active" || name == "visited" || name == "target"):
			return c, never
		case mark == ':':
			return c, unread
		default:
			c.tag = name
		}
	}
	return c, found(s.at > from)
}

func found(ok bool) selectorKind {
	if ok {
		return followed
	}
	return unread
}

// ident reads a name (CSS Syntax 3, section 4.3.11), escapes undone.
func (s *scanner) ident() string {
	var b strings.Builder
	for !s.done() {
		c := s.text[s.at]
		switch {
		case c == '\\':
			b.WriteString(s.escape())
		case isLetter(c) || isDigit(c) || c == '-' || c == '_' || c >= 0x80:
			b.WriteByte(c)
			s.at++
		default:
			return b.String()
		}
	}
	return b.String()
}

// escape reads a backslash and what it stands for.
func (s *scanner) escape() string {
	s.at++
	from := s.at
	for !s.done() && s.at-from < 6 && isHex(s.text[s.at]) {
		s.at++
	}
	if s.at > from {
		v, _ := strconv.ParseUint(s.text[from:s.at], 16, 32)
		if !s.done() && isSpace(s.text[s.at]) {
			s.at++
		}
		return string(rune(v))
	}
	c, n := utf8.DecodeRuneInString(s.text[s.at:])
	s.at += n
	return string(c)
}

func isHex(c byte) bool { return isDigit(c) || c|0x20 >= 'a' && c|0x20 <= 'f' }

// weight is the specificity as one number.
func (c compound) weight() int {
	w := 1000 * len(c.classes)
	if c.id != "" {
		w += 1_000_000
	}
	if c.root {
		w += 1000
	}
	if c.tag != "" {
		w++
	}
	return w
}

// is tells whether an element is what the part asks for.
func (c compound) is(n *node) bool {
	if c.tag != "" && c.tag != n.kind || c.id != "" && c.id != n.id || c.root && n.parent != nil {
		return false
	}
	for _, want := range c.classes {
		if !slices.Contains(n.classes, want) {
			return false
		}
	}
	return true
}

// matches tells whether the selector is for an element. It goes outward once for
// each part and keeps all places where the part may be; work grows by the steps.
func (sel selector) matches(n *node, work *int) bool {
	*work += 1 + len(n.classes)
	last := len(sel.parts) - 1
	if !sel.parts[last].is(n) {
		return false
	}
	at := []*node{n}
	for i := last - 1; i >= 0 && len(at) > 0; i-- {
		var next []*node
		if sel.parts[i+1].child {
			for _, n := range at {
				if up := n.parent; up != nil && sel.parts[i].is(up) {
					next = append(next, up)
				}
			}
		} else { // the innermost place has all the others' ancestors
			inner := !sel.parts[i].child // and what lies round it may be anywhere
			for up := at[0].parent; up != nil; up = up.parent {
				*work += 1 + len(up.classes)
				if sel.parts[i].is(up) {
					if next = append(next, up); inner {
						break
					}
				}
			}
		}
		*work += len(at) + len(next)
		at = next
	}
	return len(at) > 0
}
