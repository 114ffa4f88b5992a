package vector

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern/curve"
)

// cssDPI is how many px CSS counts to the inch (CSS Values and Units 3, 6.2).
const cssDPI = 96

// mmOf gives the mm of an absolute unit (CSS Values and Units 3, section 6.2:
// 1in = 2.54cm, 1pt = 1/72 in, 1pc = 1/6 in, 1Q = 1/40 cm).
func mmOf(unit string) (float64, bool) {
	switch strings.ToLower(unit) {
	case "mm":
		return 1, true
	case "cm":
		return 10, true
	case "q":
		return 0.25, true
	case "in":
		return 25.4, true
	case "pt":
		return 25.4 / 72, true
	case "pc":
		return 25.4 / 6, true
	}
	return 0, false
}

// length gives an attribute of a shape or a viewport in units of the drawing. An
// absolute unit is px by the inch; a percentage is of the whole that is given.
// Absent: set is false. What cannot be read is said, and ok is false.
func (r *reader) length(n *node, name string, whole float64) (v float64, set, ok bool) {
	text, styled := n.style[name]
	if !styled || text == "auto" {
		text, styled = n.get("", name), false
	}
	if text = strings.TrimSpace(text); text == "" || text == "auto" {
		return 0, false, true
	}
	s := scanner{text: text}
	v, bad := s.number()
	unit := text[s.at:]
	switch mm, absolute := mmOf(unit); {
	case bad != nil:
	case unit == "" && !styled, unit == "" && v == 0, strings.EqualFold(unit, "px"):
		return v, true, true
	case unit == "%":
		return v / 100 * whole, true, true
	case absolute:
		return v * mm * r.dpi / 25.4, true, true
	}
	r.failOnce(n, "drawing.length", fmt.Sprintf("the %s of %s is %q", name, n.title(), Clean(text)),
		"a number, alone or with mm, cm, in, pt, pc, Q, px or %", "")
	return 0, false, false
}

// viewBox reads the part of an element's plane that fills its viewport. Absent:
// set is false.
func viewBox(n *node) (box [4]float64, set, ok bool) {
	text := n.get("", "viewBox")
	if strings.TrimSpace(text) == "" {
		return box, false, true
	}
	s := scanner{text: text}
	ok = true
	s.space()
	for i := range box {
		if i > 0 {
			s.separator()
		}
		v, bad := s.number()
		box[i], ok = v, ok && bad == nil
	}
	s.space()
	return box, true, ok && s.done() && box[2] > 0 && box[3] > 0
}

// fitted is the map that preserveAspectRatio makes from a viewBox to a viewport
// (SVG 2, sections 8.2 and 8.6): one scale for both, unless it says none, and the
// rest of the room shared as it says.
func fitted(ratio string, box [4]float64, width, height float64) curve.Affine {
	sx, sy := width/box[2], height/box[3]
	words := strings.Fields(strings.TrimPrefix(strings.TrimSpace(ratio), "defer "))
	align := "xMidYMid"
	if len(words) > 0 {
		align = words[0]
	}
	switch {
	case align == "none":
	case len(words) > 1 && words[1] == "slice":
		sx, sy = math.Max(sx, sy), math.Max(sx, sy)
	default:
		sx, sy = math.Min(sx, sy), math.Min(sx, sy)
	}
	return curve.Affine{
		A: sx, D: sy,
		E: share(align, "xMin", "xMax")*(width-sx*box[2]) - sx*box[0],
		F: share(align, "YMin", "YMax")*(height-sy*box[3]) - sy*box[1],
	}
}

// share is the part of the room that lies before the picture.
func share(align, low, high string) float64 {
	switch {
	case strings.Contains(align, low):
		return 0
	case strings.Contains(align, high):
		return 1
	}
	return 0.5
}

// enter hands down the map into a nested svg or a symbol: its place, its size,
// its viewBox. Where the use that draws it gives a size, that holds.
func (r *reader) enter(n, use *node, up frame) (frame, bool) {
	size, ok := r.sizeOf(n, use, up)
	if !ok {
		return up, false
	}
	if n.kind == "svg" {
		x, _, okX := r.length(n, "x", up.across)
		y, _, okY := r.length(n, "y", up.down)
		if !okX || !okY {
			return up, false
		}
		up.toPage = curve.Translate(x, y).Then(up.toPage)
	}
	box, set, ok := viewBox(n)
	if !ok {
		r.failOnce(n, "drawing.size", fmt.Sprintf("the viewBox of %s is %q", n.title(), Clean(n.get("", "viewBox"))),
			"four numbers: left, top, width and height, the last two above 0", "")
		return up, false
	}
	up.across, up.down = size[0], size[1]
	if set {
		if !(size[0] > 0) || !(size[1] > 0) {
			return up, false // nothing is shown
		}
		up.toPage = fitted(n.get("", "preserveAspectRatio"), box, size[0], size[1]).Then(up.toPage)
		up.across, up.down = box[2], box[3]
	}
	if !bounded(up.toPage) || up.toPage.Det() == 0 {
		r.failOnce(n, "drawing.transform", n.title()+" leaves nothing of what lies in it, or makes it endless", "a drawing that keeps a shape", "")
		return up, false
	}
	return up, true
}

// sizeOf gives the size of a viewport: all of the one round it where neither the
// element nor its use says one.
func (r *reader) sizeOf(n, use *node, up frame) ([2]float64, bool) {
	whole := [2]float64{up.across, up.down}
	size := whole
	for i, name := range []string{"width", "height"} {
		for _, of := range []*node{n, use} {
			if of == nil {
				continue
			}
			v, set, ok := r.length(of, name, whole[i])
			if !ok {
				return size, false
			}
			if set {
				size[i] = v
			}
		}
	}
	return size, true
}
