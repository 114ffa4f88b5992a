package drawing

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern/curve"
)

// uniform is how much the two scales of a page may differ, as a part of one:
// programs round the page size and the viewBox to a few digits.
const uniform = 1e-4

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

// root takes the page's size and pushes the map from the drawing's units to mm.
func (r *reader) root(el element) {
	if r.rooted {
		r.refuse(el.at, "drawing.xml", "a second drawing follows the first", "one drawing in a file", "")
		return
	}
	r.rooted = true
	if el.Name.Local != "svg" || el.Name.Space != nsSVG && el.Name.Space != "" {
		r.refuse(el.at, "drawing.xml", fmt.Sprintf("the file begins with an element %q", clean(el.Name.Local)), "an SVG drawing", "")
		return
	}
	toPage, ok := r.page(el)
	if !ok {
		return
	}
	r.stack = append(r.stack, frame{toPage: toPage})
}

const sizeHint = "in the drawing program give the page a size in mm, with 1 drawing unit = 1 mm, and save again"

// page gives the map from the drawing's units to mm on the page.
func (r *reader) page(el element) (curve.Affine, bool) {
	none := curve.Affine{}
	for _, name := range []string{"width", "height", "transform"} {
		if _, ok := el.style[name]; ok || name == "transform" && el.get("", name) != "" {
			r.refuse(el.at, "drawing.size", fmt.Sprintf("the page's %s is set by its style or a transform", name),
				"a page size in mm as plain attributes", sizeHint)
			return none, false
		}
	}
	width, ok := r.absolute(el, "width")
	if !ok {
		return none, false
	}
	height, ok := r.absolute(el, "height")
	if !ok {
		return none, false
	}
	box, ok := r.viewBox(el)
	if !ok {
		return none, false
	}
	sx, sy := width/box[2], height/box[3]
	if d := math.Abs(sx/sy - 1); !(d <= uniform) {
		r.refuse(el.at, "drawing.size",
			fmt.Sprintf("the page is %.7g x %.7g mm, but its viewBox is %.7g x %.7g: one unit would be %.6g mm across and %.6g mm down",
				width, height, box[2], box[3], sx, sy),
			"the same scale both ways", sizeHint)
		return none, false
	}
	return fitted(el.get("", "preserveAspectRatio"), box, width, height), true
}

// fitted follows preserveAspectRatio (SVG 2, section 8.2) for the little by
// which two rounded scales differ: a single scale unless it says none. The
// picture is centred, which moves it by less than the rounding.
func fitted(ratio string, box [4]float64, width, height float64) curve.Affine {
	sx, sy := width/box[2], height/box[3]
	switch {
	case strings.Contains(ratio, "none"):
	case strings.Contains(ratio, "slice"):
		sx, sy = max(sx, sy), max(sx, sy)
	default:
		sx, sy = min(sx, sy), min(sx, sy)
	}
	return curve.Affine{
		A: sx, D: sy,
		E: (width-sx*box[2])/2 - sx*box[0],
		F: (height-sy*box[3])/2 - sy*box[1],
	}
}

// absolute reads a side of the page, in mm.
func (r *reader) absolute(el element, name string) (float64, bool) {
	text := strings.TrimSpace(el.get("", name))
	expected := "a page size in mm (or cm, in, pt, pc, Q) as width and height"
	if text == "" {
		r.refuse(el.at, "drawing.size", fmt.Sprintf("the drawing has no %s, so its true size is not known", name), expected, sizeHint)
		return 0, false
	}
	s := scanner{text: text}
	v, bad := s.number()
	unit := text[s.at:]
	k, ok := mmOf(unit)
	switch {
	case bad == nil && (unit == "" || strings.EqualFold(unit, "px")):
		r.refuse(el.at, "drawing.size", fmt.Sprintf("the page's %s is given in px (%q), which programs take for different sizes", name, clean(text)),
			expected, sizeHint+pxGuess(name, v))
	case bad == nil && unit == "%":
		r.refuse(el.at, "drawing.size", fmt.Sprintf("the page's %s is %q of a window, so its true size is not known", name, clean(text)), expected, sizeHint)
	case bad != nil || !ok || !(v > 0) || !(v*k <= maxNumber):
		r.refuse(el.at, "drawing.size", fmt.Sprintf("the page's %s is %q", name, clean(text)), expected, sizeHint)
	default:
		return v * k, true
	}
	return 0, false
}

// pxGuess lets the maker recognise the page: its side at the usual densities.
func pxGuess(name string, px float64) string {
	return fmt.Sprintf("\n(at 96 dots an inch its %s would be %.1f mm, at 90 %.1f mm, at 72 %.1f mm, at 300 %.1f mm)",
		name, px*25.4/96, px*25.4/90, px*25.4/72, px*25.4/300)
}

// viewBox reads the part of the drawing's plane that fills the page.
func (r *reader) viewBox(el element) ([4]float64, bool) {
	var box [4]float64
	text := el.get("", "viewBox")
	if strings.TrimSpace(text) == "" {
		r.refuse(el.at, "drawing.size", "the drawing has no viewBox, so its units are px, not mm",
			"a page with a size and a viewBox, so that one unit is one mm", sizeHint)
		return box, false
	}
	s := scanner{text: text}
	ok := true
	s.space()
	for i := range box {
		if i > 0 {
			s.separator()
		}
		v, bad := s.number()
		box[i], ok = v, ok && bad == nil
	}
	s.space()
	if !ok || !s.done() || !(box[2] > 0) || !(box[3] > 0) {
		r.refuse(el.at, "drawing.size", fmt.Sprintf("the viewBox is %q", clean(text)),
			"four numbers: left, top, width and height, the last two above 0", sizeHint)
		return box, false
	}
	return box, true
}
