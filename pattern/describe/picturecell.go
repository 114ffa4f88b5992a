package describe

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/svg"
)

// cell is one piece on the picture, laid out about its own 0 0, y down.
type cell struct {
	piece  *pattern.Piece
	line   []curve.Point // the outline, for finding room
	room   box
	labels []label
	levels []ownLevel
	ticks  [][2]curve.Point
	tag    int // number of the proposal of its names; 0 for none
}

// label is the name of an edge, or a number at it.
type label struct {
	edge   string
	text   string
	number bool
	asks   bool
	at     box
	turned bool // written upwards
	mute   bool // the name of a level
}

// box is a place on the picture, y down.
type box struct{ x0, y0, x1, y1 float64 }

func about(c curve.Point, w, h float64) box {
	return box{c.X - w/2, c.Y - h/2, c.X + w/2, c.Y + h/2}
}

func (b box) width() float64      { return b.x1 - b.x0 }
func (b box) centre() curve.Point { return curve.Pt((b.x0+b.x1)/2, (b.y0+b.y1)/2) }

func (b box) union(o box) box {
	return box{min(b.x0, o.x0), min(b.y0, o.y0), max(b.x1, o.x1), max(b.y1, o.y1)}
}

func (b box) grown(d float64) box { return box{b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d} }

func (b box) overlaps(o box) bool {
	return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1
}

func (b box) holds(p curve.Point) bool {
	return p.X > b.x0 && p.X < b.x1 && p.Y > b.y0 && p.Y < b.y1
}

// cell lays out a piece: the names of its edges first, then the numbers.
func (s *sheet) cell(p *pattern.Piece) *cell {
	c := &cell{piece: p}
	ring := p.Outline()
	for _, q := range ring.Flatten(0.2 * s.scale) {
		c.add(s.onPicture(q))
	}
	if len(c.line) == 0 {
		c.add(curve.Point{})
	}
	s.putOwnLevels(c)
	for i := range p.Edges {
		s.putName(c, i)
	}
	for _, pr := range s.list {
		if pr.Kind == OfNames && pr.Piece == p.Name {
			c.tag = pr.Number
		}
		for _, r := range pr.Edges {
			if i := p.EdgeIndex(r.Edge); r.Piece == p.Name && i >= 0 && pr.Kind != OfNames {
				s.putNumber(c, i, pr)
			}
		}
	}
	s.putTicks(c)
	head := svg.BoldWidth(p.Name, pieceSize) + 2
	if c.tag > 0 {
		head += tagWidth(c.tag) + 1.5
	}
	c.room = c.room.grown(1)
	if extra := min(head, 60) - c.room.width(); extra > 0 {
		c.room.x0, c.room.x1 = c.room.x0-extra/2, c.room.x1+extra/2
	}
	c.room.y0 -= headHeight
	return c
}

// add takes a point of the outline, and those between it and the last one.
func (c *cell) add(p curve.Point) {
	if len(c.line) == 0 {
		c.room = about(p, 0, 0)
	} else {
		last := c.line[len(c.line)-1]
		for n, k := int(last.Dist(p)/0.5), 1; k <= n && n < 10_000; k++ {
			c.line = append(c.line, last.Lerp(p, float64(k)/float64(n+1)))
		}
	}
	c.line = append(c.line, p)
	c.room = c.room.union(about(p, 0, 0))
}

func (s *sheet) onPicture(p curve.Point) curve.Point {
	return curve.Pt(p.X/s.scale, -p.Y/s.scale)
}

// putName finds room for the name of an edge outside the piece.
func (s *sheet) putName(c *cell, edge int) {
	name := c.piece.Edges[edge].Name
	long := min(svg.TextWidth(name, nameSize), 40)
	s.put(c, edge, label{edge: name, text: svg.Shorten(name, nameSize, 40)}, long, nameSize*1.15, []float64{0.5, 0.62, 0.38, 0.75, 0.25})
}

// putNumber finds room for the number of a proposal at an edge.
func (s *sheet) putNumber(c *cell, edge int, p Proposal) {
	w := tagWidth(p.Number)
	s.put(c, edge, label{edge: c.piece.Edges[edge].Name, text: fmt.Sprint(p.Number), number: true, asks: p.Choice != 0}, w, tagSize,
		[]float64{0.25, 0.75, 0.38, 0.62, 0.12, 0.88, 0.5})
}

// put places a label beside an edge, at the first of some parts of its length, the
// nearest to the edge, where it lies on no other label and on no line. Names
// along upright edges are turned.
func (s *sheet) put(c *cell, edge int, l label, long, high float64, parts []float64) {
	path := c.piece.EdgePath(edge)
	chord := path.End().Sub(path.Start())
	// parts count upwards, or front to back, on both sides of a seam
	counter := chord.Y < 0 && -chord.Y > math.Abs(chord.X) || chord.X < 0 && -chord.X >= math.Abs(chord.Y)
	least := math.Inf(1)
	for _, far := range []float64{0, 3, 6.5, 10, 14} {
		for k, part := range parts {
			if counter {
				part = 1 - part
			}
			b, turned := s.beside(path, part, far, long, high, l.number)
			if cost := float64(k) + 0.8*far + 100*float64(c.onLines(b)) + 300*float64(c.onLabels(b)); cost < least {
				l.at, l.turned, least = b, turned, cost
			}
		}
	}
	c.labels = append(c.labels, l)
	c.room = c.room.union(l.at)
}

// beside gives the place of a label outside the piece at a part of an edge's
// length, some way off, and whether it is turned.
func (s *sheet) beside(path curve.Path, part, far, long, high float64, number bool) (box, bool) {
	length := path.Length(0.01)
	at := s.onPicture(path.PointAt(part*length, 0.01))
	t, ok := path.TangentAt(part*length, 0.01)
	if !ok {
		t = curve.Pt(1, 0)
	}
	out := curve.Pt(t.Y, t.X) // to the right of the walk, y down
	turned := math.Abs(out.X) > math.Abs(out.Y) && !number
	if turned {
		long, high = high, long
	}
	reach := far + 0.9 + math.Abs(out.X)*long/2 + math.Abs(out.Y)*high/2
	return about(at.Add(out.Mul(reach)), long, high), turned
}

func (c *cell) onLabels(b box) int {
	n := 0
	for _, l := range c.labels {
		if l.at.grown(0.4).overlaps(b) {
			n++
		}
	}
	return n
}

// onLines counts, up to a few, the points of the outline under a box.
func (c *cell) onLines(b box) int {
	n := 0
	for _, p := range c.line {
		if b.grown(0.2).holds(p) {
			if n++; n == 3 {
				break
			}
		}
	}
	return n
}

// putTicks marks the notches that are there and those that are proposed.
func (s *sheet) putTicks(c *cell) {
	list := append([]pattern.Notch{}, c.piece.Notches...)
	for _, p := range s.list {
		for _, n := range p.Change.Notches {
			if n.Piece == c.piece.Name && n.Old == "" {
				list = append(list, pattern.Notch{Edge: pattern.Mention{Name: n.Edge}, On: n.On})
			}
		}
	}
	for _, n := range list {
		i := c.piece.EdgeIndex(n.Edge.Name)
		if i < 0 || len(c.piece.Corners) != len(c.piece.Edges) {
			continue
		}
		d, err := s.g.SpotAt(c.piece, i, n.On, measure.Accuracy)
		if err != nil {
			continue
		}
		path := c.piece.EdgePath(i)
		if t, ok := path.TangentAt(d, 0.01); ok {
			at := s.onPicture(path.PointAt(d, 0.01))
			c.ticks = append(c.ticks, [2]curve.Point{at, at.Sub(curve.Pt(t.Y, t.X).Mul(2))})
		}
	}
}

// drawCell draws a piece whose own 0 0 lies at a place.
func (s *sheet) drawCell(ink ink, c *cell, at curve.Point) {
	pen := ink.pen
	pen.Titled(c.piece.Name, svg.A("data-piece", c.piece.Name))
	view := svg.View{Origin: at, Scale: 1 / s.scale}
	s.drawMarks(ink, c, view)
	pen.Path(view.Data(c.piece.Outline()), lineInk(0.45)...)
	for _, t := range c.ticks {
		pen.Line(at.Add(t[0]), at.Add(t[1]), lineInk(0.6)...)
	}
	s.drawHead(ink, c, at)
	for _, l := range c.labels {
		mid := at.Add(l.at.centre())
		switch {
		case l.number:
			pen.Group(svg.A("data-edge", l.edge), svg.A("data-number", l.text))
			ink.tag(mid, l.text, l.asks)
			pen.End()
		case l.mute:
			ink.text(mid.X, mid.Y+0.36*levelSize, l.text, svg.Style{Size: levelSize, Mute: true, Anchor: "middle", Halo: haloWidth})
		case l.turned:
			pen.Words(mid.X, mid.Y+0.36*nameSize, l.text, svg.Style{Size: nameSize, Anchor: "middle", Halo: haloWidth}, svg.Rotate(-90, mid.X, mid.Y))
		default:
			ink.text(mid.X, mid.Y+0.36*nameSize, l.text, svg.Style{Size: nameSize, Anchor: "middle", Halo: haloWidth})
		}
	}
	pen.End()
}

// drawHead writes the piece's name above it, with the number of its names.
func (s *sheet) drawHead(ink ink, c *cell, at curve.Point) {
	y := at.Y + c.room.y0 + headHeight - 2
	x := at.X + c.room.x0 + 1
	if c.tag > 0 {
		w := tagWidth(c.tag)
		ink.tag(curve.Pt(x+w/2, y-0.36*pieceSize), fmt.Sprint(c.tag), false)
		x += w + 1.2
	}
	room := c.room.x1 + at.X - x
	ink.text(x, y, svg.Shorten(c.piece.Name, pieceSize, room/1.1), svg.Style{Size: pieceSize, Bold: true, Halo: haloWidth})
}
