package svg

import (
	"encoding/xml"
	"fmt"
	"strings"
)

// Attr is one attribute of an element. The pen checks it when it is drawn: a
// name that is not allowed, a value that the name does not take or an attribute
// given twice becomes the pen's error.
type Attr struct{ Name, Value string }

// A makes an attribute from words. Colours are written #rgb or #rrggbb, or none.
// An id and the words of a class get the picture's prefix.
func A(name, value string) Attr { return Attr{name, value} }

// N makes an attribute from a number, in mm where it is a length.
func N(name string, v float64) Attr { return Attr{name, numbers(v)} }

// Dash makes a stroke dashed: the lengths in mm of line and space by turns.
func Dash(lengths ...float64) Attr { return Attr{"stroke-dasharray", numbers(lengths...)} }

// Translate moves an element by dx to the right and dy down, in mm.
func Translate(dx, dy float64) Attr {
	return Attr{"transform", "translate(" + numbers(dx, dy) + ")"}
}

// Rotate turns an element about the point x, y: degrees, clockwise as seen.
func Rotate(degrees, x, y float64) Attr {
	return Attr{"transform", "rotate(" + numbers(degrees, x, y) + ")"}
}

// isValue tells whether the attribute may be drawn with that value. It is the
// whole list of the attributes that callers may give; id, class and references
// are checked further by the pen.
func isValue(name, v string) bool {
	switch name {
	case "fill", "stroke":
		return v == "none" || isColour(v) || isReference(v)
	case "clip-path":
		return isReference(v)
	case "stroke-width", "stroke-miterlimit", "font-size", "opacity",
		"fill-opacity", "stroke-opacity", "rx", "ry":
		return isNumber(v) && !strings.HasPrefix(v, "-")
	case "stroke-dashoffset":
		return isNumber(v)
	case "stroke-dasharray":
		return v == "none" || isNumbers(v, 1, 16) && !strings.Contains(v, "-")
	case "transform":
		return isTransform(v)
	case "id":
		return isWord(v)
	case "class":
		return isWords(v)
	case "font-family":
		return v != "" && strings.Trim(v, letters+digits+" ,-") == ""
	case "aria-label":
		return true
	}
	if data, ok := strings.CutPrefix(name, "data-"); ok {
		return isWord(data) && data == strings.ToLower(data)
	}
	return isKeyword(name, v)
}

// isKeyword tells whether v is one of the words that the attribute takes.
func isKeyword(name, v string) bool {
	one := func(words ...string) bool {
		for _, w := range words {
			if v == w {
				return true
			}
		}
		return false
	}
	switch name {
	case "stroke-linecap":
		return one("butt", "round", "square")
	case "stroke-linejoin":
		return one("miter", "round", "bevel")
	case "fill-rule":
		return one("nonzero", "evenodd")
	case "paint-order":
		return one("normal", "stroke")
	case "text-anchor":
		return one("start", "middle", "end")
	case "font-weight":
		return one("normal", "bold")
	case "font-style":
		return one("normal", "italic")
	case "role":
		return one("img", "group", "list", "listitem", "presentation")
	case "aria-hidden":
		return one("true", "false")
	}
	return false
}

const (
	letters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
	digits  = "0123456789"
)

// isWord tells whether s can be an id or a class everywhere: a letter, then
// letters, digits, hyphens and underscores, at most 128.
func isWord(s string) bool {
	return s != "" && len(s) <= 128 && strings.Contains(letters, s[:1]) &&
		strings.Trim(s, letters+digits+"-_") == ""
}

// isWords tells whether s holds words, one space between each.
func isWords(s string) bool {
	for _, w := range strings.Split(s, " ") {
		if !isWord(w) {
			return false
		}
	}
	return true
}

// isColour tells whether s is #rgb or #rrggbb.
func isColour(s string) bool {
	return (len(s) == 4 || len(s) == 7) && s[0] == '#' && strings.Trim(s[1:], digits+"abcdefABCDEF") == ""
}

// isReference tells whether s is url(#word): a place in the same document.
func isReference(s string) bool {
	_, ok := reference(s)
	return ok
}

// reference gives the id that url(#id) names.
func reference(s string) (string, bool) {
	id, ok := strings.CutPrefix(s, "url(#")
	if !ok {
		return "", false
	}
	id, ok = strings.CutSuffix(id, ")")
	return id, ok && isWord(id)
}

// isTransform tells whether s is one move or turn as Translate and Rotate write
// them.
func isTransform(s string) bool {
	name, args, _ := strings.Cut(s, "(")
	args, ok := strings.CutSuffix(args, ")")
	if !ok {
		return false
	}
	switch name {
	case "translate":
		return isNumbers(args, 2, 2)
	case "rotate":
		return isNumbers(args, 1, 3)
	}
	return false
}

// attrs checks the attributes and writes each as name="value". Own names the
// attributes, separated by spaces, that the element writes itself.
func (p *Pen) attrs(own string, list []Attr) []string {
	seen := make(map[string]bool)
	for _, name := range strings.Fields(own) {
		seen[name] = true
	}
	out := make([]string, 0, len(list))
	for _, a := range list {
		if !isValue(a.Name, a.Value) {
			p.fail(fmt.Errorf("svg: attribute %.60q with the value %.60q is not allowed", a.Name, a.Value))
			return nil
		}
		if seen[a.Name] {
			p.fail(fmt.Errorf("svg: attribute %q given twice", a.Name))
			return nil
		}
		seen[a.Name] = true
		out = append(out, written(a.Name, p.value(a)))
	}
	return out
}

// value gives the value as it stands in the document: prefixes added, the id
// kept, the reference met.
func (p *Pen) value(a Attr) string {
	switch a.Name {
	case "id":
		return p.newID(a.Value)
	case "class":
		return p.classes(a.Value)
	case "fill", "stroke", "clip-path":
		if id, ok := reference(a.Value); ok && !p.ids[id] {
			p.fail(fmt.Errorf("svg: nothing in this picture has the id %q", id))
		}
	}
	return a.Value
}

// newID takes an id for one element; taken twice it is an error.
func (p *Pen) newID(word string) string {
	id := p.prefix + word
	switch {
	case !isWord(word):
		p.fail(fmt.Errorf("svg: %.60q cannot be an id", word))
	case p.ids[id]:
		p.fail(fmt.Errorf("svg: id %q used twice", id))
	}
	p.ids[id] = true
	return id
}

// classes gives the words with the prefix before each.
func (p *Pen) classes(words string) string {
	list := strings.Split(words, " ")
	for i, w := range list {
		list[i] = p.prefix + w
	}
	return strings.Join(list, " ")
}

// written gives name="value" with the value cleaned and escaped.
func written(name, value string) string { return name + `="` + escape(value) + `"` }

// escape makes a text safe between quotes and between tags.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(CleanText(s))) // a Builder takes everything
	return b.String()
}
