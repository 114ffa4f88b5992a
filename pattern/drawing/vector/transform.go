package vector

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern/curve"
)

// matrix gives the map from an element's own units to page mm. Where the
// transform cannot be read, or leaves nothing of the plane, it says so and
// gives false.
func (r *reader) matrix(n *node, up curve.Affine) (curve.Affine, bool) {
	if name := n.moved(); name != "" {
		r.failOnce(n, "drawing.css", fmt.Sprintf("%s is moved by its style (%s)", n.title(), name),
			"a transform as a plain attribute", "save it from the drawing program with presentation attributes, not CSS")
		return up, false
	}
	text := n.get("", "transform")
	if text == "" || n.style["transform"] == "none" {
		return up, true
	}
	own, bad := parseTransform(text)
	if bad != nil {
		if r.firstTime(n, "drawing.transform") {
			r.fail(r.placeIn(n, text, bad.at), "drawing.transform",
				fmt.Sprintf("the transform of %s cannot be read: %s", n.title(), bad.found), bad.expected, "")
		}
		return up, false
	}
	m := own.Then(up)
	if !bounded(m) || m.Det() == 0 {
		r.failOnce(n, "drawing.transform", fmt.Sprintf("the transform of %s leaves nothing of it, or makes it endless", n.title()),
			"a transform that keeps a shape", "")
		return up, false
	}
	return m, true
}

// failOnce says of an element what is wrong with it, however often it is cloned.
func (r *reader) failOnce(n *node, id, found, expected, hint string) {
	if r.firstTime(n, id) {
		r.fail(r.placeOf(n), id, found, expected, hint)
	}
}

func (r *reader) firstTime(n *node, id string) bool {
	first := !r.told[said{n, id}]
	r.told[said{n, id}] = true
	return first
}
func bounded(m curve.Affine) bool {
	for _, v := range [...]float64{m.A, m.B, m.C, m.D, m.E, m.F} {
		if !(math.Abs(v) <= maxMatrix) {
			return false
		}
	}
	return true
}

// parseTransform reads a list of transforms as SVG 1.1 and 2 write it (SVG 1.1,
// section 7.6): the last one is done first. Empty text changes nothing.
func parseTransform(text string) (curve.Affine, *fault) {
	m := curve.Identity()
	s := scanner{text: text}
	for s.space(); !s.done(); s.separator() {
		one, bad := s.transform()
		if bad != nil {
			return m, bad
		}
		m = one.Then(m)
	}
	return m, nil
}

// transform reads one function and its numbers.
func (s *scanner) transform() (curve.Affine, *fault) {
	start := s.at
	for !s.done() && isLetter(s.text[s.at]) {
		s.at++
	}
	name := s.text[start:s.at]
	s.space()
	if name == "" || s.done() || s.text[s.at] != '(' {
		return curve.Affine{}, s.fault(start, "matrix, translate, scale, rotate, skewX or skewY with numbers in brackets")
	}
	s.at++
	var args []float64
	for s.space(); !s.done() && s.text[s.at] != ')'; s.separator() {
		v, bad := s.number()
		if bad != nil {
			return curve.Affine{}, bad
		}
		if args = append(args, v); len(args) > 6 {
			return curve.Affine{}, s.fault(start, "at most 6 numbers")
		}
	}
	if s.done() {
		return curve.Affine{}, s.fault(s.at, "a closing bracket")
	}
	s.at++
	m, ok := transformOf(name, args)
	if !ok {
		return m, &fault{at: start, found: fmt.Sprintf("%s with %d numbers", name, len(args)),
			expected: "matrix(6), translate(1 or 2), scale(1 or 2), rotate(1 or 3), skewX(1) or skewY(1)"}
	}
	return m, nil
}

// transformOf gives the map of one function; false for an unknown one or a
// wrong number of numbers. Angles are in degrees.
func transformOf(name string, a []float64) (curve.Affine, bool) {
	const degree = math.Pi / 180
	switch fmt.Sprint(name, len(a)) {
	case "matrix6":
		return curve.Affine{A: a[0], B: a[1], C: a[2], D: a[3], E: a[4], F: a[5]}, true
	case "translate1":
		return curve.Translate(a[0], 0), true
	case "translate2":
		return curve.Translate(a[0], a[1]), true
	case "scale1":
		return curve.Scale(a[0], a[0]), true
	case "scale2":
		return curve.Scale(a[0], a[1]), true
	case "rotate1":
		return curve.Rotate(a[0] * degree), true
	case "rotate3":
		return curve.Translate(-a[1], -a[2]).Then(curve.Rotate(a[0] * degree)).Then(curve.Translate(a[1], a[2])), true
	case "skewX1":
		return curve.Affine{A: 1, C: math.Tan(a[0] * degree), D: 1}, true
	case "skewY1":
		return curve.Affine{A: 1, B: math.Tan(a[0] * degree), D: 1}, true
	}
	return curve.Affine{}, false
}

func isLetter(c byte) bool { return strings.IndexByte("abcdefghijklmnopqrstuvwxyz", c|0x20) >= 0 }
