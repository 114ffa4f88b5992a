package overlay

import (
	"math"
	"strings"

	"seamkeep/pattern/curve"
)

// pin is the number of a finding at a place of a figure, in the figure's frame,
// y down.
type pin struct {
	finding finding
	at      curve.Point
	whole   bool         // it is about the piece, not about a place: without a dot, in the middle if there is room
	away    curve.Point  // unit vector towards the point where that lies too far out to be drawn
	lines   []curve.Path // y up
	worst   []curve.Path
	box     rect // of its tag
}

// newPin puts a finding's number at a spot.
func newPin(f finding, s findingSpot) pin {
	return pin{finding: f, at: flip(s.at), whole: !s.exact && len(s.lines) == 0, lines: s.lines, worst: s.worst}
}

// pins are the findings on one figure.
type pins struct{ list []pin }

// add takes one more, unless the same finding is there already: two panels that
// meet at a place are one place.
func (p *pins) add(q pin) {
	for _, r := range p.list {
		if r.finding.number == q.finding.number && r.at.Dist(q.at) < seen {
			return
		}
	}
	p.list = append(p.list, q)
}

// Measures of tags and their places, mm.
const (
	pinSize = 7.0 // height of a tag
	pinGap  = 0.8 // least distance of two tags is twice this
	pinDot  = 1.0 // radius of the dot at the point
)

func pinStyle() style { return style{Size: 4.4, Bold: true} }

func pinWidth(number string) float64 { return max(pinSize, pinStyle().Width(number)+2.4) }

// linesOfPicture are chains of points of what is drawn, y down.
type linesOfPicture [][]curve.Point

func (l *linesOfPicture) add(p curve.Path) {
	if len(p) > 0 {
		*l = append(*l, flipped(p))
	}
}

// field is where tags find their places.
type field struct {
	box     rect
	lines   linesOfPicture
	taken   []rect // what no tag may cover
	tags    []rect
	leaders [][2]curve.Point
}

// place finds room for all tags, in order, none over another nor over a point or
// what is taken; box is that of the outlines. It gives the room of all of them.
func (p *pins) place(box rect, lines linesOfPicture, taken []rect) rect {
	f := &field{box: box, lines: lines, taken: append([]rect(nil), taken...)}
	for i := range p.list {
		p.list[i].within(box.grow(markReach))
		if p.list[i].whole {
			continue
		}
		f.taken = append(f.taken, around(p.list[i].at, 2*pinDot, 2*pinDot))
	}
	room := box
	for i := range p.list {
		q := &p.list[i]
		q.box = around(q.at, pinWidth(q.finding.number), pinSize)
		if !q.whole || !f.free(q.box.grow(pinGap)) || crossedByAny(q.box.grow(1), f.lines) {
			q.box = f.find(q.at, q.box.width())
		}
		f.tags = append(f.tags, q.box.grow(pinGap))
		f.leaders = append(f.leaders, [2]curve.Point{q.at, q.box.nearest(q.at)})
		room = room.union(q.box.grow(1)).union(around(q.at, 4, 4))
	}
	return room
}

// within brings a pin's place to the nearest one inside a box.
func (q *pin) within(box rect) {
	if near := box.nearest(q.at); near != q.at {
		q.away, _ = q.at.Sub(near).Unit()
		q.at = near
	}
}

// find gives the box of a tag near a point: near it, off the lines, and its
// leader clear of others; where all is crowded, in the column beside the piece.
func (f *field) find(at curve.Point, w float64) rect {
	best, cost := rect{}, 200.0
	for _, far := range []float64{6, 9, 13, 18, 24, 32, 42, 54} {
		if far > cost {
			break
		}
		for k := range 24 {
			way := curve.Rotate((float64(k) + 0.5) * math.Pi / 12).Apply(curve.Pt(1, 0))
			reach := far + math.Abs(way.X)*w/2 + math.Abs(way.Y)*pinSize/2
			r := around(at.Add(way.Mul(reach)), w, pinSize)
			if !f.free(r.grow(pinGap)) {
				continue
			}
			if c := far + f.cost(at, r); c < cost {
				best, cost = r, c
			}
		}
	}
	if cost < 200 {
		return best
	}
	return f.column(at, w)
}

// column takes room for a tag in the columns at the right of all lines, as near to
// the height of the point as there is some.
func (f *field) column(at curve.Point, w float64) rect {
	const deep = 60 // mm up and down from the point; then the next column
	for x := f.box.x1 + 12; ; x += w + 3 {
		for off := 0.0; off < deep; off++ {
			for _, y := range []float64{at.Y + off, at.Y - off} {
				if r := around(curve.Pt(x+w/2, y), w, pinSize); f.clear(r.grow(pinGap)) {
					return r
				}
			}
		}
	}
}

// clear tells whether a box touches neither a tag nor what is taken.
func (f *field) clear(r rect) bool { return !overlapsAny(r, f.taken) && !overlapsAny(r, f.tags) }

func (f *field) free(r rect) bool {
	if !f.clear(r) {
		return false
	}
	for _, l := range f.leaders {
		if r.crossedBy(l[0], l[1]) {
			return false
		}
	}
	return true
}

// cost weighs what a tag and its leader would cover.
func (f *field) cost(at curve.Point, r rect) float64 {
	end := r.nearest(at)
	sum := 0.0
	for _, line := range f.lines {
		if crossedByAny(r.grow(0.6), [][]curve.Point{line}) {
			sum += 60
		}
	}
	for _, t := range f.tags {
		if t.crossedBy(at, end) {
			sum += 150
		}
	}
	for _, t := range f.taken {
		if t.crossedBy(at, end) && !t.holds(at) {
			sum += 40
		}
	}
	for _, l := range f.leaders {
		if l[0].Dist(at) > same && cross(at, end, l[0], l[1]) {
			sum += 40
		}
	}
	for _, part := range []float64{0.4, 0.65, 0.9} {
		if crossedByAny(around(at.Lerp(end, part), 0.8, 0.8), f.lines) {
			sum += 12
		}
	}
	return sum
}

// cross tells whether two straight lines meet between their ends.
func cross(a, b, c, d curve.Point) bool {
	side := func(p, q, r curve.Point) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// summary says which findings are here.
func (p *pins) summary() string {
	var out []string
	for _, q := range p.list {
		out = append(out, "finding "+q.finding.title())
	}
	return strings.Join(out, "; ")
}

// draw puts the findings down; the figure's origin falls on a place of the sheet.
func (p *pins) draw(pg *page, origin curve.Point) {
	for _, q := range p.list {
		pg.findingLines(origin, q.lines, q.worst)
	}
	for _, q := range p.list {
		end := origin.Add(q.box.nearest(q.at))
		if at := origin.Add(q.at); end.Dist(at) > pinDot {
			pg.pen.Line(at, end, stroke("halo", paperColour, 1.2)...)
			pg.pen.Line(at, end, stroke("find", findColour, 0.35)...)
		}
	}
	for _, q := range p.list {
		q.draw(pg, origin)
	}
}

func (q pin) draw(pg *page, origin curve.Point) {
	pg.pen.Titled(q.finding.title(), findingData(q.finding)...)
	at := origin.Add(q.at)
	switch {
	case q.away != curve.Point{}:
		pg.pointer(at, q.away)
	case !q.whole:
		pg.pen.Circle(at, pinDot, findDot()...)
	}
	pg.findingTag(origin.Add(q.box.centre()), q.finding.number, q.finding.Severity)
	pg.pen.End()
}
