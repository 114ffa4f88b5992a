package drawing

import (
	"encoding/xml"
	"fmt"
	"strings"
	"unicode/utf8"
)

// The namespaces of SVG and of the editor that writes layers and labels.
const (
	nsSVG    = "http://www.w3.org/2000/svg"
	nsEditor = "http://www.inkscape.org/namespaces/inkscape"
)

// element is a start tag and where it stands in the file.
type element struct {
	xml.StartElement
	at, end int
	style   map[string]string // declarations of its style attribute
}

// get gives an attribute, or "" where it is absent.
func (el element) get(space, local string) string {
	for _, a := range el.Attr {
		if a.Name.Space == space && a.Name.Local == local {
			return a.Value
		}
	}
	return ""
}

// prop gives a property: the style attribute stands above the attribute of its
// name.
func (el element) prop(name string) string {
	if v, ok := el.style[name]; ok {
		return v
	}
	return strings.ToLower(strings.TrimSpace(el.get("", name)))
}

// title tells an element to the maker: kind and label or id.
func (el element) title() string {
	return titled(el.Name.Local, el.get(nsEditor, "label"), el.get("", "id"))
}

func titled(kind, label, id string) string {
	switch {
	case label != "":
		return fmt.Sprintf("%s %q", clean(kind), clean(label))
	case id != "":
		return fmt.Sprintf("%s %q", clean(kind), clean(id))
	}
	return clean(kind) + " without a name"
}

// repeated gives the first attribute that stands twice, which XML forbids and
// the decoder lets pass.
func (el element) repeated() string {
	seen := make(map[xml.Name]bool, len(el.Attr))
	for _, a := range el.Attr {
		if seen[a.Name] {
			return a.Name.Local
		}
		seen[a.Name] = true
	}
	return ""
}

// start takes one start tag and pushes what it hands down.
func (r *reader) start(el element) {
	if !r.bounded(el) {
		return
	}
	el.style = declarations(el.get("", "style"))
	if len(r.stack) == 0 {
		r.root(el)
		return
	}
	up := r.stack[len(r.stack)-1]
	up.style = false
	r.stack = append(r.stack, r.open(el, up))
}

// bounded refuses what is too deep, too much or written twice.
func (r *reader) bounded(el element) bool {
	r.elements++
	twice := el.repeated()
	switch {
	case len(r.stack) >= maxDepth:
		r.refuse(el.at, "drawing.xml", fmt.Sprintf("elements lie more than %d deep in one another", maxDepth), "a plain drawing",
			"ungroup the outlines in the drawing program and save again")
	case r.elements > maxElements:
		r.refuse(el.at, "drawing.xml", fmt.Sprintf("the drawing has more than %d elements", maxElements), "a drawing of outlines",
			"copy the outlines into a new drawing")
	case twice != "":
		r.refuse(el.at, "drawing.xml", fmt.Sprintf("%s has the attribute %s twice", el.title(), clean(twice)), "each attribute once",
			"save it again from the drawing program")
	}
	return !r.fatal
}

// open decides what an element inside the drawing hands down, and takes the
// outline of a path.
func (r *reader) open(el element, up frame) frame {
	kind := el.Name.Local
	if el.Name.Space != nsSVG && el.Name.Space != "" {
		up.inert = true // an editor's own data
		return up
	}
	if kind == "style" {
		up.inert, up.style = true, true
		return up
	}
	if up.inert || unseen(kind) {
		up.inert = true
		return up
	}
	if el.prop("display") == "none" {
		r.skip(el, "is hidden")
		up.inert = true
		return up
	}
	switch el.prop("visibility") {
	case "hidden", "collapse":
		up.invisible = true
	case "visible":
		up.invisible = false
	}
	switch kind {
	case "g", "a":
		return r.group(el, up)
	case "path":
		r.path(el, up)
	default:
		r.leaveOut(el)
	}
	up.inert = true
	return up
}

// unseen tells of elements that draw nothing where they stand.
func unseen(kind string) bool {
	switch kind {
	case "defs", "clipPath", "mask", "symbol", "pattern", "marker", "filter",
		"linearGradient", "radialGradient", "meshgradient", "solidcolor",
		"metadata", "title", "desc", "script", "view", "cursor", "font", "color-profile":
		return true
	}
	return false
}

// group hands down the transform and the layer of a group.
func (r *reader) group(el element, up frame) frame {
	m, ok := r.matrix(el, up.toPage)
	if !ok {
		up.inert = true
		return up
	}
	up.toPage = m
	r.warnClipped(el)
	if el.get(nsEditor, "groupmode") == "layer" {
		up.layer = &layer{id: el.get("", "id"), label: el.get(nsEditor, "label")}
	}
	return up
}

// leaveOut lists an element that may show something but is not read. What may
// hold an outline is warned about as well.
func (r *reader) leaveOut(el element) {
	switch kind := el.Name.Local; kind {
	case "rect", "circle", "ellipse", "polygon":
		r.skip(el, "is a "+kind+", not a path: turn it into a path in the drawing program if it is a piece")
	case "line", "polyline", "text", "image":
		r.skip(el, "is a "+kind+", not a closed path")
	case "use":
		r.skip(el, "is a clone: unlink it in the drawing program if it is a piece")
		r.warn(el.at, "drawing.feature", el.title()+" is a clone of another element; it was left out",
			"paths that stand in the drawing themselves", "unlink the clone in the drawing program and save again")
	case "svg", "switch", "foreignObject":
		r.skip(el, "is a drawing inside the drawing: ungroup it if it holds a piece")
		r.warn(el.at, "drawing.feature", el.title()+" is a drawing inside the drawing; it was left out with all that it holds",
			"paths in plain groups", "ungroup it in the drawing program and save again")
	default:
		r.skip(el, "is of a kind that is not read")
	}
}

// warnClipped says that more was read than is seen.
func (r *reader) warnClipped(el element) {
	for _, name := range []string{"clip-path", "mask"} {
		if v := el.prop(name); v != "" && v != "none" {
			r.warn(el.at, "drawing.feature", el.title()+" is shown only in part, through a "+name,
				"the whole path is read, also where it is not seen", "release the clip in the drawing program, or cut the path")
		}
	}
}

// clean makes text of strangers fit for a title or a message: no control and
// no direction characters, no more than 200 characters.
func clean(s string) string {
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
