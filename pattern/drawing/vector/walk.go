package vector

import (
	"fmt"
	"strings"
)

// kids draws what lies in an element.
func (r *reader) kids(n *node, f frame) {
	for _, k := range n.kids {
		if r.fatal {
			return
		}
		r.element(k, f)
	}
}

// element draws one element and what lies in it.
func (r *reader) element(n *node, f frame) {
	if unseen(n.kind) || !r.affordable(n, &f) {
		return
	}
	if !r.inherit(n, &f) {
		return
	}
	switch n.kind {
	case "g", "a", "svg", "switch", "use":
		r.container(n, f)
	case "path", "rect", "circle", "ellipse", "line", "polyline", "polygon":
		r.shape(n, f)
	default:
		r.leaveOut(n, f)
	}
}

// affordable counts what is drawn: clones of clones can be many and deep, and of
// long texts.
func (r *reader) affordable(n *node, f *frame) bool {
	r.elements += 1 + len(f.layers)/10 // whose list each of them may copy
	r.parsed += n.end - n.at
	f.depth++
	if r.elements > maxElements || f.depth > maxDepth || r.parsed > maxRead {
		r.refuse(r.placeFor(n, *f), "drawing.use", "clones of clones make the drawing too large or too deep",
			fmt.Sprintf("at most %d elements, %d deep", maxElements, maxDepth), "unlink the clones in the drawing program")
		return false
	}
	return true
}

// unseen tells of elements that draw nothing where they stand.
func unseen(kind string) bool {
	switch kind {
	case "defs", "clipPath", "mask", "symbol", "pattern", "marker", "filter", "style",
		"linearGradient", "radialGradient", "meshgradient", "solidcolor",
		"metadata", "title", "desc", "script", "view", "cursor", "font", "color-profile":
		return true
	}
	return false
}

// inherit takes what an element says of being seen and dashed; false where
// nothing of it is drawn.
func (r *reader) inherit(n *node, f *frame) bool {
	r.dress(n)
	if n.prop("display") == "none" {
		r.skip(n, *f, "is hidden")
		return false
	}
	switch n.prop("visibility") {
	case "hidden", "collapse":
		f.invisible = true
	case "visible":
		f.invisible = false
	}
	if v := n.prop("stroke-dasharray"); v != "" && v != "inherit" {
		f.dashed = dashes(v)
	}
	return true
}

// dashes tells whether a dash array leaves gaps: not where it is none, all
// zeros or not understood.
func dashes(v string) bool {
	s := scanner{text: v}
	for s.space(); !s.done(); s.separator() {
		n, bad := s.number()
		if bad != nil || n < 0 {
			return false
		}
		if n > 0 {
			return true
		}
		for !s.done() && (isLetter(s.text[s.at]) || s.text[s.at] == '%') {
			s.at++
		}
	}
	return false
}

// container draws what lies in a group, a nested drawing, or a clone.
func (r *reader) container(n *node, f frame) {
	m, ok := r.matrix(n, f.toPage)
	if !ok {
		return
	}
	f.toPage = m
	r.warnClipped(n)
	switch n.kind {
	case "use":
		r.use(n, f)
		return
	case "svg":
		if f, ok = r.enter(n, nil, f); !ok {
			return
		}
	}
	f.layers = withLayer(f.layers, n)
	if n.kind == "switch" {
		r.choose(n, f)
		return
	}
	r.kids(n, f)
}

// withLayer adds a group to those that lie round it, where it is a layer or
// bears a name or attributes of ours.
func withLayer(up []Layer, n *node) []Layer {
	l := Layer{ID: n.id, Label: n.label(), Own: n.own(), Group: n.get(nsEditor, "groupmode") != "layer"}
	if l.Group && l.ID == "" && l.Label == "" && l.Own == nil {
		return up
	}
	return append(up[:len(up):len(up)], l)
}

// choose draws the first child of a switch that asks for nothing (SVG 2, section
// 5.9): no extension, and no language but English.
func (r *reader) choose(n *node, f frame) {
	for _, k := range n.kids {
		lang := strings.ToLower(k.get("", "systemLanguage"))
		if !unseen(k.kind) && k.get("", "requiredExtensions") == "" && (lang == "" || strings.HasPrefix(lang, "en")) {
			r.element(k, f)
			return
		}
	}
}

// leaveOut lists an element that shows something but no line.
func (r *reader) leaveOut(n *node, f frame) {
	switch n.kind {
	case "text", "flowRoot":
		r.skip(n, f, "is text")
	case "image":
		r.skip(n, f, "is a picture; nothing outside the file is read")
	case "foreignObject":
		r.skip(n, f, "is of another language than SVG")
	case "animate", "animateTransform", "animateMotion", "set":
		r.skip(n, f, "moves with time: the drawing is read as it stands at first")
	default:
		r.skip(n, f, "is of a kind that is not read")
	}
}

// warnClipped says that more was read than is seen.
func (r *reader) warnClipped(n *node) {
	for _, name := range []string{"clip-path", "mask"} {
		if v := n.prop(name); v != "" && v != "none" && r.firstTime(n, name) {
			r.warn(r.placeOf(n), "drawing.feature", n.title()+" is shown only in part, through a "+name,
				"the whole line is read, also where it is not seen", "release the clip in the drawing program, or cut the line")
		}
	}
}
