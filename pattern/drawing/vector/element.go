package vector

import (
	"encoding/xml"
	"fmt"
	"strings"
	"unicode/utf8"
)

// The namespaces of SVG, of links, of the editor that writes layers and labels,
// and our own.
const (
	nsSVG    = "http://www.w3.org/2000/svg"
	nsLink   = "http://www.w3.org/1999/xlink"
	nsEditor = "http://www.inkscape.org/namespaces/inkscape"
	nsOwn    = "seamkeep:drawing:1"
)

// node is an element and where its start tag stands in the file.
type node struct {
	space, kind string
	attrs       []xml.Attr
	at, end     int // bytes
	line, col   int
	id          string
	classes     []string
	named       string // what label gives, once it was asked
	asked       bool
	parent      *node
	kids        []*node
	text        []byte // of a title or a style sheet
	style       map[string]string
	styled      bool // style is worked out
}

// drawing tells of elements of SVG, also where the file names no namespace.
func (n *node) drawing() bool { return n.space == nsSVG || n.space == "" }

// get gives an attribute, or "" where it is absent.
func (n *node) get(space, local string) string {
	for i := range n.attrs {
		if a := &n.attrs[i]; a.Name.Local == local && a.Name.Space == space {
			return a.Value
		}
	}
	return ""
}

// label gives the editor's own label, else data-name, else the title.
func (n *node) label() string {
	if !n.asked {
		n.asked, n.named = true, n.findLabel()
	}
	return n.named
}

func (n *node) findLabel() string {
	for _, text := range []string{n.get(nsEditor, "label"), n.get("", "data-name")} {
		if text = strings.TrimSpace(text); text != "" {
			return text
		}
	}
	for _, k := range n.kids {
		if k.kind == "title" {
			return strings.TrimSpace(string(k.text))
		}
	}
	return ""
}

// own gives the attributes of our own namespace.
func (n *node) own() map[string]string {
	var own map[string]string
	for _, a := range n.attrs {
		if a.Name.Space == nsOwn {
			if own == nil {
				own = map[string]string{}
			}
			own[a.Name.Local] = a.Value
		}
	}
	return own
}

// href gives the reference of an element (SVG 2; else as SVG 1.1 writes it).
func (n *node) href() string {
	if v := n.get("", "href"); v != "" {
		return strings.TrimSpace(v)
	}
	return strings.TrimSpace(n.get(nsLink, "href"))
}

// prop gives a property: style attribute and style sheet stand above the
// attribute of its name.
func (n *node) prop(name string) string {
	if v, ok := n.style[name]; ok {
		return v
	}
	return strings.ToLower(strings.TrimSpace(n.get("", name)))
}

// title tells an element to the maker: kind and label or id.
func (n *node) title() string { return titled(n.kind, n.label(), n.id) }

func titled(kind, label, id string) string {
	switch {
	case label != "":
		return fmt.Sprintf("%s %q", Clean(kind), Clean(label))
	case id != "":
		return fmt.Sprintf("%s %q", Clean(kind), Clean(id))
	}
	return Clean(kind) + " without a name"
}

// repeated gives the first attribute that stands twice, which XML forbids and
// the decoder lets pass.
func (n *node) repeated() string {
	if len(n.attrs) > 12 {
		seen := make(map[xml.Name]bool, len(n.attrs))
		for _, a := range n.attrs {
			if seen[a.Name] {
				return a.Name.Local
			}
			seen[a.Name] = true
		}
		return ""
	}
	for i := range n.attrs {
		for k := range i {
			if n.attrs[i].Name == n.attrs[k].Name {
				return n.attrs[i].Name.Local
			}
		}
	}
	return ""
}

// Clean makes text of strangers fit for a title or a message: no control and
// no direction characters, no more than 200 characters, no space at its ends.
func Clean(s string) string {
	if utf8.RuneCountInString(s) > maxTitle {
		s = string([]rune(s)[:maxTitle])
	}
	s = strings.Map(func(c rune) rune {
		switch {
		case c == '\t', c == '\n', c == '\r':
			return ' '
		case unprintable(c):
			return -1
		}
		return c
	}, s)
	return strings.TrimSpace(s)
}

const maxTitle = 200

// unprintable tells of controls, of characters that turn the direction of
// writing, and of what stands for no character.
func unprintable(c rune) bool {
	switch {
	case c < 0x20, c >= 0x7f && c < 0xa0, c == 0x061c, c == 0xfeff, c == utf8.RuneError:
		return true
	case c >= 0x200e && c <= 0x200f, c >= 0x2028 && c <= 0x202e, c >= 0x2066 && c <= 0x2069:
		return true
	}
	return false
}
