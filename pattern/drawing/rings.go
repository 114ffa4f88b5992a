package drawing

import (
	"fmt"
	"sort"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// nest is a ring and what lies round it.
type nest struct {
	*line
	up     *nest // the smallest ring round it
	inside []*nest
	piece  *outline // where it is one
	over   *line    // the line to cut along that belongs to it
	gone   bool     // it is neither piece nor mark
}

// sortRings tells which of the large rings are outlines of pieces, and reports
// the outlines that are not shut.
func (r *recogniser) sortRings() {
	all := r.nested()
	for _, n := range all {
		if n.up == nil && isFrame(n, r.d.Width, r.d.Height) {
			r.leave(n.line, "is a frame round the sheet")
			n.gone = true
			for _, c := range n.inside {
				c.up = nil
			}
		}
	}
	for _, n := range all {
		if n.up != nil && !n.gone {
			r.beside(n)
		}
	}
	for _, n := range all {
		if !n.gone {
			r.decide(n)
		}
	}
	sort.SliceStable(r.outlines, func(i, j int) bool { return r.outlines[i].items[0] < r.outlines[j].items[0] })
	for _, s := range r.open {
		switch {
		case r.ownerOf(s.path, "") != nil: // a mark, or decoration
		case s.torn != nil:
			r.askTorn(s)
		default:
			r.tellGaps(s)
		}
	}
}

// nested finds the large rings, largest first, and which lies in which.
func (r *recogniser) nested() []*nest {
	var all []*nest
	byBox := map[[4]int64]*line{}
	for _, l := range r.lines {
		if l.done || !l.closed || l.box.Width() < smallest && l.box.Height() < smallest {
			continue
		}
		switch l.word.role {
		case aidRole:
			r.leave(l, "is called an aid, which is not imported")
		case decorationRole:
			r.leave(l, "is called decoration")
		default:
			if p := byBox[boxKey(l.box)]; p != nil && mayBeSide(l.word.role) && sameLine(p.path, l.path) {
				r.copied(l, p)
				continue
			}
			byBox[boxKey(l.box)] = l
			all = append(all, &nest{line: l})
		}
	}
	if len(all) > maxRings {
		r.fail(all[maxRings].place, "drawing.path", "", fmt.Sprintf("the drawing holds %d closed lines of more than %d mm", len(all), smallest),
			fmt.Sprintf("at most %d", maxRings), "move what is no piece to another drawing, or hide it")
		return nil
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].area > all[j].area })
	for i, n := range all {
		for j := i - 1; j >= 0 && n.up == nil; j-- {
			if all[j].area > n.area && r.within(n.line, all[j].line) {
				n.up = all[j]
				n.up.inside = append(n.up.inside, n)
			}
		}
	}
	return all
}

// copied leaves a ring that lies on another one.
func (r *recogniser) copied(l, first *line) {
	r.fail(l.place, "drawing.claim", "", fmt.Sprintf("%s lies exactly on %s", r.kind(l), r.kind(first)), "one outline for each piece",
		"a copy was left there: delete it in the drawing program", diag.Related{Place: first.place, Text: "the other one"})
	r.leave(l, "lies exactly on another line like it")
}

// within tells whether a ring lies wholly in another one, as far as its joints
// tell.
func (r *recogniser) within(a, b *line) bool {
	if !inside(a.box, b.box, 0) {
		return false
	}
	step := max(1, len(a.path)/16)
	for i := 0; i < len(a.path); i += step {
		if !r.contains(b, a.path[i].P0) || !r.contains(b, a.path[i].At(0.5)) {
			return false
		}
	}
	return true
}

// contains tells whether a ring winds round a place, as long as there is time.
func (r *recogniser) contains(ring *line, q curve.Point) bool {
	if q.X < ring.box.Min.X || q.X > ring.box.Max.X || q.Y < ring.box.Min.Y || q.Y > ring.box.Max.Y {
		return false
	}
	if r.work -= len(ring.path); r.work < 0 {
		r.tooMuch(ring)
		return false
	}
	return ring.path.Contains(q)
}

// tooMuch says once that the drawing is more than can be judged.
func (r *recogniser) tooMuch(l *line) {
	if r.full {
		return
	}
	r.full = true
	r.fail(l.place, "drawing.path", "", "the drawing holds more lines inside other lines than can be judged", "a drawing of pieces",
		"move pictures, texts and hatching to another drawing")
}

// inside tells whether box a lies in box b, all sides at least d from its own.
func inside(a, b curve.Box, d float64) bool {
	return a.Min.X >= b.Min.X+d && a.Min.Y >= b.Min.Y+d && a.Max.X <= b.Max.X-d && a.Max.Y <= b.Max.Y-d
}

// isFrame tells whether a rectangle is drawn round the pieces of a sheet: along
// the border of the page (within 15 mm: common practice, no source), with two
// large rings in it at least.
func isFrame(n *nest, width, height float64) bool {
	const border = 15.0
	if n.word.role != unsaid || n.home.own != nil || len(n.path) < 4 || len(n.path) > 5 {
		return false
	}
	for _, s := range n.path {
		if !s.Straight {
			return false
		}
	}
	page := curve.Box{Max: curve.Pt(width, height)}
	return len(n.inside) >= 2 && inside(page.Grow(-border), n.box, 0)
}

// decide takes a ring for a piece, or leaves it to be told as a mark.
func (r *recogniser) decide(n *nest) {
	role := n.word.role
	own := n.word.how == ByOwn
	a := n.up
	for a != nil && a.piece == nil {
		a = a.up
	}
	switch {
	case role == sewingRole:
		r.addOutline(n)
	case role == levelRole && a == nil && (n.word.how == ByLabel || n.word.how == ByID):
		r.addOutline(n) // a piece called after where it sits
	case role != unsaid && role != cutRole && (own || n.word.pure || a != nil):
		return // a mark, or one that lies nowhere
	case a == nil:
		r.addOutline(n)
	case n.home.own != nil && n.home.own != a.piece.ours:
		r.addOutline(n)
	case n.word.role == cutRole:
		r.warnInside(n, a, "is called a cut line")
	default:
		if c := r.pick(n.line, true); !c.soft && c.name != r.pick(a.line, true).name {
			r.warnInside(n, a, "is called "+quoted(c.title))
		}
		r.leave(n.line, "lies inside "+r.kind(a.line)+" and has no label that says what it is")
	}
}

func (r *recogniser) warnInside(n, a *nest, called string) {
	r.warn(n.place, "drawing.inside", "", fmt.Sprintf("%s lies inside %s and %s; it was left out", r.kind(n.line), r.kind(a.line), called),
		"a label that says what a ring inside a piece is",
		"call it \"cutout\" or \"placement\", or \"outline NAME\" if it is a piece of its own",
		diag.Related{Place: a.place, Text: "the outline round it"})
	r.leave(n.line, "lies inside "+r.kind(a.line)+" and "+called)
}

func (r *recogniser) addOutline(n *nest) {
	if r.isStroke(n.line) {
		n.gone = true
		return
	}
	n.done = true
	_, key := holder(n.line)
	o := &outline{line: n.line, key: key, ours: n.home.own, over: n.over, counts: map[string]int{}, used: map[string]bool{}}
	n.piece = o
	r.outlines = append(r.outlines, o)
}

// ownerOf finds the outline that holds most of a line; of several the one in the
// same layer, by its key, then the smallest.
func (r *recogniser) ownerOf(p curve.Path, key string) *outline {
	box := p.Bounds()
	var best *outline
	most := 0
	for _, o := range r.outlines {
		if !o.box.Overlaps(box) {
			continue
		}
		in := 0
		for _, q := range samples(p) {
			if r.contains(o.line, q) {
				in++
			}
		}
		near := best != nil && key != "" && (o.key == key) != (best.key == key)
		if in > 0 && (in > most || in == most && (near && o.key == key || !near && o.area < best.area)) {
			best, most = o, in
		}
	}
	return best
}

// samples are a few places of a line, away from its ends.
func samples(p curve.Path) []curve.Point {
	step := max(1, len(p)/5)
	var out []curve.Point
	for i := 0; i < len(p); i += step {
		out = append(out, p[i].At(0.25), p[i].At(0.5), p[i].At(0.75))
	}
	return out
}
