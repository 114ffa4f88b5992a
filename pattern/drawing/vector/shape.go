package vector

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern/curve"
)

// shape takes the lines of one element.
func (r *reader) shape(n *node, f frame) {
	m, ok := r.matrix(n, f.toPage)
	if !ok {
		return
	}
	if f.invisible {
		r.skip(n, f, "is hidden")
		return
	}
	f.toPage = m
	subs, ok := r.outlineOf(n, f)
	if !ok {
		return
	}
	r.warnClipped(n)
	r.take(n, f, subs)
}

// outlineOf gives the subpaths of an element in its own units, as SVG 2, chapter
// 10 draws them.
func (r *reader) outlineOf(n *node, f frame) ([]subpath, bool) {
	tol := arcError / stretch(f.toPage)
	switch n.kind {
	case "path":
		return r.path(n, n.get("", "d"), "path data", tol)
	case "polyline", "polygon":
		return r.points(n, tol)
	}
	names, draw := shapeOf(n.kind)
	var v shapeNumbers
	v.tol = tol
	for i, name := range names {
		whole := [3]float64{f.across, f.down, math.Hypot(f.across, f.down) / math.Sqrt2}[axisOf(name)]
		var ok bool
		if v.v[i], v.set[i], ok = r.length(n, name, whole); !ok {
			return nil, false
		}
		if v.v[i] < 0 && sizes(name) {
			r.failOnce(n, "drawing.shape", fmt.Sprintf("the %s of %s is below 0", name, n.title()), "a size of at least 0", "")
			return nil, false
		}
	}
	return draw(v), true
}

// shapeNumbers are the attributes of a shape, in the order of shapeOf.
type shapeNumbers struct {
	v   [6]float64
	set [6]bool
	tol float64
}

func shapeOf(kind string) ([]string, func(shapeNumbers) []subpath) {
	switch kind {
	case "rect":
		return []string{"x", "y", "width", "height", "rx", "ry"}, rect
	case "circle":
		return []string{"cx", "cy", "r"}, func(s shapeNumbers) []subpath { return ellipse(s.v[0], s.v[1], s.v[2], s.v[2], s.tol) }
	case "ellipse":
		return []string{"cx", "cy", "rx", "ry"}, func(s shapeNumbers) []subpath {
			rx, ry := s.radii(2)
			return ellipse(s.v[0], s.v[1], rx, ry, s.tol)
		}
	}
	return []string{"x1", "y1", "x2", "y2"}, func(s shapeNumbers) []subpath {
		p := pathPen{}
		p.move(curve.Pt(s.v[0], s.v[1]))
		p.line(curve.Pt(s.v[2], s.v[3]))
		return p.end()
	}
}

// axisOf tells what a percentage of an attribute is of: 0 the width of the
// viewport, 1 its height, 2 its diagonal by the root of 2.
func axisOf(name string) int {
	switch name {
	case "r":
		return 2
	case "y", "height", "cy", "ry", "y1", "y2":
		return 1
	}
	return 0
}

func sizes(name string) bool {
	switch name {
	case "width", "height", "r", "rx", "ry":
		return true
	}
	return false
}

// radii gives rx and ry; the one that is missing is as large as the other.
func (s shapeNumbers) radii(i int) (rx, ry float64) {
	rx, ry = s.v[i], s.v[i+1]
	switch {
	case !s.set[i]:
		rx = ry
	case !s.set[i+1]:
		ry = rx
	}
	return rx, ry
}

// rect is drawn from the end of its top left corner to the right (SVG 2, 10.2).
func rect(s shapeNumbers) []subpath {
	x, y, w, h := s.v[0], s.v[1], s.v[2], s.v[3]
	if w == 0 || h == 0 {
		return nil
	}
	rx, ry := s.radii(4)
	rx, ry = min(rx, w/2), min(ry, h/2)
	if rx == 0 || ry == 0 {
		rx, ry = 0, 0
	}
	p := pathPen{}
	p.move(curve.Pt(x+rx, y))
	for _, side := range [4]struct{ to, round curve.Point }{
		{curve.Pt(x+w-rx, y), curve.Pt(x+w, y+ry)},
		{curve.Pt(x+w, y+h-ry), curve.Pt(x+w-rx, y+h)},
		{curve.Pt(x+rx, y+h), curve.Pt(x, y+h-ry)},
		{curve.Pt(x, y+ry), curve.Pt(x+rx, y)},
	} {
		if p.cur != side.to {
			p.line(side.to)
		}
		for _, g := range arcCubics(p.cur, side.round, rx, ry, 0, false, true, s.tol) {
			p.add(g)
		}
	}
	p.close()
	return p.end()
}

// ellipse is drawn from its rightmost point downwards, in quarters (SVG 2, 10.3).
func ellipse(cx, cy, rx, ry, tol float64) []subpath {
	if rx == 0 || ry == 0 {
		return nil
	}
	p := pathPen{}
	p.move(curve.Pt(cx+rx, cy))
	for _, to := range [4]curve.Point{{X: cx, Y: cy + ry}, {X: cx - rx, Y: cy}, {X: cx, Y: cy - ry}, {X: cx + rx, Y: cy}} {
		for _, g := range arcCubics(p.cur, to, rx, ry, 0, false, true, tol) {
			p.add(g)
		}
	}
	p.close()
	return p.end()
}

// points reads the corners of a polyline or polygon.
func (r *reader) points(n *node, tol float64) ([]subpath, bool) {
	text := n.get("", "points")
	s := scanner{text: text}
	if s.space(); s.done() {
		return nil, true
	}
	// A list of points is the path data of a moveto; what else path data may hold
	// is not let through.
	for i := range len(text) {
		if isLetter(text[i]) && text[i]|0x20 != 'e' {
			r.failText(n, text, "list of points", s.fault(i, "a number"))
			return nil, false
		}
	}
	subs, ok := r.path(n, text, "list of points", tol)
	if ok && n.kind == "polygon" {
		for i := range subs {
			if p := &subs[i]; p.path.End() != p.path.Start() {
				p.path = append(p.path, curve.Line(p.path.End(), p.path.Start()))
			}
			subs[i].closed = true
		}
	}
	return subs, ok
}

// path reads path data, or points.
func (r *reader) path(n *node, text, what string, tol float64) ([]subpath, bool) {
	p := pathPen{scanner: scanner{text: text}, arcTol: tol, limit: maxSegments - r.segments}
	var bad *fault
	if what == "path data" {
		bad = p.run()
	} else {
		bad = p.repeat('m', false)
		if bad == nil && !p.done() {
			bad = p.fault(p.at, "a number")
		}
	}
	if bad != nil {
		r.failText(n, text, what, bad)
		return nil, false
	}
	subs := p.end()
	for i := range subs {
		r.segments += len(subs[i].path)
	}
	return subs, true
}

func (r *reader) failText(n *node, text, what string, bad *fault) {
	if !r.firstTime(n, "drawing.path") {
		return
	}
	r.fail(r.placeIn(n, text, bad.at), "drawing.path",
		fmt.Sprintf("the %s of %s stops making sense at %s (character %d)", what, n.title(), bad.found, bad.at+1), bad.expected,
		"draw it again, or save the drawing again from the drawing program")
}

// stretch is the most by which a map lengthens a line: at most the root of the
// sum of its squares.
func stretch(m curve.Affine) float64 {
	return math.Hypot(math.Hypot(m.A, m.B), math.Hypot(m.C, m.D))
}

// take lays the subpaths on the page and keeps them as items.
func (r *reader) take(n *node, f frame, subs []subpath) {
	item := Item{
		Place: r.placeFor(n, f), Element: n.kind, ID: n.id, Label: n.label(), Class: n.get("", "class"), Own: n.own(),
		Layers: f.layers, Dashed: f.dashed, Clone: f.clone != nil,
	}
	if f.name != nil {
		r.rename(&item, n, f.name)
	}
	lines := 0
	for i, s := range subs {
		path := placed(s.path, f.toPage)
		switch {
		case len(path) == 0:
			continue
		case !r.measuring && !near(path):
			r.failOnce(n, "drawing.size", n.title()+" reaches farther than 100 m from the page", "a drawing of its true size",
				"move it onto the page, or delete it, in the drawing program")
			return
		}
		item.Path, item.Closed, item.Part = path, s.closed, i
		r.drawn.Items = append(r.drawn.Items, item)
		lines++
	}
	if lines == 0 {
		r.skip(n, f, "has no line")
	}
}

// rename gives a clone of a single shape the names of its use.
func (r *reader) rename(item *Item, n, use *node) {
	direct := r.ids[strings.TrimPrefix(use.href(), "#")] == n
	if direct || item.ID == "" {
		item.ID = use.id
	}
	if label := use.label(); label != "" && (direct || item.Label == "") {
		item.Label = label
	}
	if own := use.own(); own != nil && direct {
		item.Own = own
	}
}

// placed moves a path onto the page, in its own room, and drops what is a point.
func placed(p curve.Path, m curve.Affine) curve.Path {
	out := p[:0]
	for _, s := range p {
		if s = s.Transform(m); s.P0 != s.P3 || s.P1 != s.P0 || s.P2 != s.P0 {
			out = append(out, s)
		}
	}
	return out
}

func near(p curve.Path) bool {
	for i := range p {
		for _, q := range [...]curve.Point{p[i].P0, p[i].P1, p[i].P2, p[i].P3} {
			if !(math.Abs(q.X) <= farthest) || !(math.Abs(q.Y) <= farthest) {
				return false
			}
		}
	}
	return true
}
