package vector

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// use draws the element that a clone refers to, in the same file only (SVG 2,
// section 5.5).
func (r *reader) use(n *node, f frame) {
	ref := n.href()
	target := r.ids[strings.TrimPrefix(ref, "#")]
	switch {
	case ref != "" && ref[0] != '#':
		r.skip(n, f, "is a clone of something outside the file, which is not read")
		r.warn(r.placeFor(n, f), "drawing.feature", n.title()+" refers to something outside the file: "+Clean(ref),
			"a drawing complete in itself", "nothing outside is fetched; embed it in the drawing program and save again")
		return
	case target == nil:
		r.skip(n, f, "is a clone of nothing")
		r.warn(r.placeFor(n, f), "drawing.use", fmt.Sprintf("%s is a clone of %q, which is not there", n.title(), Clean(ref)),
			"a clone of an element of the drawing", "delete it in the drawing program")
		return
	case slices.Contains(f.uses, target) || holds(target, n):
		r.failOnce(n, "drawing.use", n.title()+" is a clone of what it lies in itself", "a clone of another element", "delete it in the drawing program")
		return
	}
	x, _, okX := r.length(n, "x", f.across)
	y, _, okY := r.length(n, "y", f.down)
	if !okX || !okY {
		return
	}
	f.toPage = curve.Translate(x, y).Then(f.toPage)
	f.uses = append(f.uses[:len(f.uses):len(f.uses)], target)
	f.name = n
	if f.clone == nil {
		f.clone = n
	}
	r.cloned(n, target, f)
}

// cloned draws the target. A shape takes the clone's name; what holds more keeps
// its names, and the clone is a group round it.
func (r *reader) cloned(n, target *node, f frame) {
	switch target.kind {
	case "symbol", "svg":
		if !r.affordable(target, &f) || !r.inherit(target, &f) {
			return
		}
		m, ok := r.matrix(target, f.toPage)
		if !ok {
			return
		}
		f.toPage = m
		f.layers = withLayer(f.layers, n)
		if f, ok = r.enter(target, n, f); ok {
			r.kids(target, f)
		}
	case "g", "a", "switch":
		f.layers = withLayer(f.layers, n)
		r.element(target, f)
	default:
		r.element(target, f)
	}
}

// holds tells whether an element lies in another, or is it.
func holds(outer, n *node) bool {
	for ; n != nil; n = n.parent {
		if n == outer {
			return true
		}
	}
	return false
}

// placeFor is where an element stands that the maker sees: the outermost clone.
func (r *reader) placeFor(n *node, f frame) diag.Place {
	if f.clone != nil {
		return r.placeOf(f.clone)
	}
	return r.placeOf(n)
}

// skip lists an element that gives no line.
func (r *reader) skip(n *node, f frame, why string) {
	r.drawn.Skipped = append(r.drawn.Skipped, Skipped{Place: r.placeFor(n, f), ID: n.id, Label: n.label(), Why: why})
}
