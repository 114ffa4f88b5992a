package overlay

import (
	"fmt"
	"math"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// maxRows is how many edges of a piece get a number and a row; of a piece with
// more, only the changed ones.
const maxRows = 60

// tag is an edge's number in a square; leader is where it points to when it
// stands away from its edge.
type tag struct {
	at      curve.Point
	number  string
	changed bool
	leader  *curve.Point
}

// callout is the number at an edge's largest movement.
type callout struct {
	from, to curve.Point // old and new place
	tip      curve.Point // where the leader begins
	text     string
	title    string
	box      rect
	tiny     bool // too small for an arrow
}

// number gives each edge its number on the sheet.
func (f *figure) number(first int) {
	many := len(f.change.Edges) > maxRows
	for _, e := range f.change.Edges {
		if many && (e.Lies() || len(f.rows) >= 4*maxRows) {
			continue
		}
		f.rows = append(f.rows, edgeRow{e, fmt.Sprint(first + len(f.rows))})
	}
}

// board is where labels find their places: what is taken, and the lines that
// are better not crossed, all in the figure's frame, y down.
type board struct {
	f      *figure
	taken  []rect
	lines  [][]curve.Point
	beside float64 // how far down the column beside the piece is full
}

// label places the tags and the callouts.
func (f *figure) label() {
	b := &board{f: f, beside: f.box.y0}
	for _, e := range f.change.Edges {
		for _, p := range []curve.Path{e.Before, e.After} {
			if len(p) > 0 {
				b.lines = append(b.lines, flipped(p))
			}
		}
	}
	f.room = f.box.grow(3)
	for _, m := range f.marks {
		for _, list := range [][]curve.Path{m.before, m.after} {
			for _, p := range list {
				b.lines = append(b.lines, flipped(p))
				f.room = f.room.union(boxOfPath(p).grow(1))
			}
		}
	}
	for _, m := range f.worthCalling() {
		b.callout(f.change.Name, m.edge, m.Move)
	}
	b.markCallout(f.marks)
	for _, r := range f.rows {
		b.tag(r)
	}
	b.nameOldLevels()
	for _, t := range b.taken {
		f.room = f.room.union(t.grow(1))
	}
}

// free tells whether a box touches no other label.
func (b *board) free(r rect) bool {
	for _, t := range b.taken {
		if r.overlaps(t) {
			return false
		}
	}
	return true
}

// crossings counts the lines that pass through a box.
func (b *board) crossings(r rect) int {
	n := 0
	for _, line := range b.lines {
		for i := 1; i < len(line); i++ {
			if r.crossedBy(line[i-1], line[i]) {
				n++
				break
			}
		}
	}
	return n
}

// tag places a number near the middle of its edge, inside the piece; where
// there is no room, beside the piece with a leader.
func (b *board) tag(r edgeRow) {
	path := r.edge.After
	if len(path) == 0 {
		path = r.edge.Before
	}
	if len(path) == 0 {
		return // neither version can be drawn: the table alone has the edge
	}
	length := path.Length(0.01)
	w := tagWidth(r.number)
	inside := b.f.piece().Outline()
	best, cost := curve.Point{}, 1e9
	for _, f := range []float64{0.5, 0.44, 0.56, 0.38, 0.62, 0.3, 0.7, 0.22, 0.78, 0.14, 0.86} {
		p := path.PointAt(f*length, 0.01)
		way, ok := path.TangentAt(f*length, 0.01)
		if !ok {
			continue
		}
		for _, off := range []float64{6, 8, 11, 15, 20, 4.8, -7, -11} {
			at := flip(p.Add(way.Left().Mul(off)))
			box := around(at, w, tagSize).grow(0.8)
			if !b.free(box) {
				continue
			}
			c := 40*max(f-0.5, 0.5-f) + max(off, -off) + 60*float64(b.crossings(box))
			if !inside.Contains(flip(at)) {
				c += 80
			}
			if b.f.areas.hold(flip(at)) {
				c += 25
			}
			if c < cost {
				best, cost = at, c
			}
		}
	}
	t := tag{at: best, number: r.number, changed: !r.edge.Lies()}
	if cost > 150 {
		middle := flip(path.PointAt(length/2, 0.01))
		t.leader, t.at = &middle, b.column(w, tagSize, middle.Y).centre()
	}
	b.taken = append(b.taken, around(t.at, w, tagSize).grow(0.8))
	b.f.tags = append(b.f.tags, t)
}

// column takes room for a label in the column to the right of the piece, not
// higher than wanted.
func (b *board) column(w, h, wanted float64) rect {
	x := b.f.box.x1 + 9
	r := rect{x, max(wanted-h/2, b.beside), x + w, 0}
	r.y1 = r.y0 + h
	for !b.free(r.grow(0.8)) {
		r.y0, r.y1 = r.y0+1, r.y1+1
	}
	b.beside = r.y1 + 1.6
	return r
}

func (t tag) draw(pg *page, at curve.Point) {
	if t.leader != nil {
		pg.pen.Line(at.Add(*t.leader), at.Add(t.at), ruleInk()...)
		pg.pen.Circle(at.Add(*t.leader), 0.6, dotInk()...)
	}
	pg.tag(at.Add(t.at), t.number, t.changed)
}

func calloutStyle() style { return style{Size: 3.8, Bold: true, Halo: haloOfWords} }

// callout places the number of an edge's largest movement one way outside the
// outline.
func (b *board) callout(piece string, e compare.EdgeChange, m compare.Move) {
	from, to := flip(m.Old), flip(m.New)
	c := callout{from: from, to: to, tip: to, text: m.Direction + " " + amount(m.Distance), tiny: from.Dist(to) < 2.5}
	c.title = piece + "." + e.Name + ": " + c.text + " at " + m.At
	outward, ok := to.Sub(from).Unit()
	if !ok {
		return
	}
	if m.Direction == "in" {
		outward, c.tip = outward.Mul(-1), from
	}
	w, h := calloutStyle().Width(c.text), 1.25*calloutStyle().Size
	cost := 1e9
	for _, far := range []float64{4, 7, 11, 16, 22, 30} {
		for _, along := range []float64{0, 4, -4, 9, -9, 15, -15, 22, -22} {
			reach := far + max(outward.X, -outward.X)*w/2 + max(outward.Y, -outward.Y)*h/2
			at := c.tip.Add(outward.Mul(reach)).Add(outward.Left().Mul(along))
			box := around(at, w, h)
			if !b.free(box.grow(0.8)) {
				continue
			}
			k := far + 0.8*max(along, -along) + 70*float64(b.crossings(box.grow(0.6))) + 25*float64(b.leaderCrossings(c.tip, box))
			if b.inside(at) {
				k += 90
			}
			if k < cost {
				c.box, cost = box, k
			}
		}
	}
	b.settle(c, w, h, cost)
}

// settle keeps a callout where it was placed, or in the column where that cost too much.
func (b *board) settle(c callout, w, h, cost float64) {
	if cost > 150 {
		c.box = b.column(w, h, c.tip.Y)
	}
	b.taken = append(b.taken, c.box.grow(0.8))
	b.f.callouts = append(b.f.callouts, c)
}

// leaderCrossings counts the lines between a label and a little way off its tip.
func (b *board) leaderCrossings(tip curve.Point, box rect) int {
	end := box.nearest(tip)
	n := 0
	for _, f := range []float64{0.35, 0.6, 0.85} {
		n += min(1, b.crossings(around(tip.Lerp(end, f), 0.8, 0.8)))
	}
	return n
}

func (b *board) inside(at curve.Point) bool {
	for _, p := range []bool{true, false} {
		piece := b.f.change.After
		if p {
			piece = b.f.change.Laid()
		}
		if piece != nil && piece.Outline().Contains(flip(at)) {
			return true
		}
	}
	return false
}

// markCallout places the name and the amount of the largest movement of a mark.
func (b *board) markCallout(marks []pieceMark) {
	var most *pieceMark
	for i := range marks {
		m := &marks[i]
		if m.fate == markMoved && len(m.before) > 0 && len(m.after) > 0 && (most == nil || m.far > most.far) {
			most = m
		}
	}
	if most == nil {
		return
	}
	from, to := flip(most.from), flip(most.to)
	name := calloutStyle().Shorten(most.kind+" "+most.name, 64)
	c := callout{from: from, to: to, tip: to, text: name + " " + amount(most.far), tiny: from.Dist(to) < 2.5, title: b.f.change.Name + ": " + most.words()}
	w, h := calloutStyle().Width(c.text), 1.25*calloutStyle().Size
	cost := 1e9
	for _, far := range []float64{5, 9, 14, 20, 28, 38} {
		for k := range 16 {
			way := curve.Rotate(float64(k) * math.Pi / 8).Apply(curve.Pt(1, 0))
			reach := far + max(way.X, -way.X)*w/2 + max(way.Y, -way.Y)*h/2
			box := around(c.tip.Add(way.Mul(reach)), w, h)
			if !b.free(box.grow(0.8)) || box.grow(1).crossedBy(from, to) {
				continue
			}
			cost2 := far + 70*float64(b.crossings(box.grow(0.6))) + 25*float64(b.leaderCrossings(c.tip, box))
			if cost2 < cost {
				c.box, cost = box, cost2
			}
		}
	}
	b.settle(c, w, h, cost)
}

func (c callout) draw(pg *page, at curve.Point) {
	pg.pen.Titled(c.title, svg.A("data-callout", c.text))
	defer pg.pen.End()
	end := c.box.nearest(c.tip)
	if end.Dist(c.tip) > 1 {
		pg.pen.Line(at.Add(c.tip), at.Add(end), stroke("line", inkColour, 0.25)...)
	}
	if c.tiny {
		pg.pen.Circle(at.Add(c.to), 0.8, dotInk()...)
	} else {
		pg.arrow(at.Add(c.from), at.Add(c.to))
	}
	s := calloutStyle()
	pg.text(at.X+c.box.centre().X, at.Y+c.box.centre().Y+0.36*s.Size, c.text, s.Middle())
}
