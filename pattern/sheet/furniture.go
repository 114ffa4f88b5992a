package sheet

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

const frameGrey = 0.35

// furnish gives a page what every page bears, of whichever kind: the head, the bars in
// both directions, the two check squares, and on a tile its trim line. It comes last, since
// the squares look for where they cover the least.
func (s *setter) furnish(p *page) {
	if p.frame == nil {
		p.frame = &ink.Drawing{}
	}
	s.head(p)
	s.bars(p)
	if p.tile != nil {
		s.trim(p)
	}
	s.squares(p)
}

// head says on three lines what the page is, what version it shows, and who its
// neighbours are.
func (s *setter) head(p *page) {
	v := s.o.Version
	left, right := s.margin.X, p.Width-s.margin.X
	top := p.Height - s.margin.Y
	name := cmp.Or(p.called, p.Tile, fmt.Sprintf("Page %d", p.Number))
	if p.Kind == MapPage {
		name = "Map"
	}
	f := s.o.Face
	count := fmt.Sprintf("page %d of %d, %s", p.Number, len(s.pages), cmp.Or(p.paper, s.paper.Name))
	words := func(x, y, size float64, a ink.Anchor, text string, room float64) float64 {
		text = f.Shorten(f.Words(text), size, room)
		p.frame.Write(ink.Text{Layer: ink.Frame, At: curve.Pt(x, y), Size: size, Anchor: a, Words: text})
		return f.Width(text, size)
	}
	used := words(right, top-4.2, 3, ink.End, count, 60)
	x := left + words(left, top-5, 6, ink.Start, name, 40) + 4
	words(x, top-4.2, 4.2, ink.Start, titleOf(s.garment), right-used-3-x)
	status := strings.Join([]string{v.keptWords(), v.Walk}, ", ")
	used = words(right, top-9.6, 3.2, ink.End, status, (right-left)*0.62)
	words(left, top-9.6, 3.2, ink.Start, v.String(), right-left-used-4)
	long := s.longBar(p)
	words(left+long+4, top-14.6, 2.8, ink.Start, s.neighbours(p), right-left-long-4)
}

// neighbours says which tile lies where, or how to print.
func (s *setter) neighbours(p *page) string {
	if p.tile == nil {
		return "print at 100 %, not \"fit to page\""
	}
	c := p.tile.at
	var parts []string
	for _, n := range [...]struct {
		word string
		at   cellAt
	}{
		{"left", cellAt{c.col - 1, c.row}}, {"right", cellAt{c.col + 1, c.row}},
		{"above", cellAt{c.col, c.row - 1}}, {"below", cellAt{c.col, c.row + 1}},
	} {
		if p.tile.area.tiles[n.at] != nil {
			parts = append(parts, n.word+" "+n.at.name())
		}
	}
	if len(parts) == 0 {
		return "no neighbours"
	}
	return strings.Join(parts, ", ")
}

// longBar is how long the bar across is: a long line tells a wrong scale better, so
// where no map bears one it is as long as whole 100 mm allow.
func (s *setter) longBar(p *page) float64 {
	const words, most = 70, 1000 // room for what stands behind it
	if len(s.pages) > 1 {
		return barLength
	}
	return min(most, max(barLength, math.Floor((p.Width-2*s.margin.X-words)/100)*100))
}

// bars draws a bar in each direction, a tick each 10 mm.
func (s *setter) bars(p *page) {
	across, long := curve.Pt(s.margin.X, p.Height-s.margin.Y-headHeight+0.8), s.longBar(p)
	ruler(p.frame, across, curve.Pt(1, 0), long, 10)
	up := curve.Pt(s.margin.X+1.2, s.margin.Y+1)
	ruler(p.frame, up, curve.Pt(0, 1), barLength, 10)
	p.frame.Write(ink.Text{Layer: ink.Frame, At: up.Add(curve.Pt(4.6, barLength/2)), Size: 2.4, Turn: 90, Anchor: ink.Middle, Grey: frameGrey, Words: "100 mm"})
	p.frame.Write(ink.Text{Layer: ink.Frame, At: across.Add(curve.Pt(long/2, 2.3)), Size: 2.4, Anchor: ink.Middle, Grey: frameGrey, Words: fmt.Sprintf("%.0f mm", long)})
}

// ruler draws a line with ticks to its left.
func ruler(d *ink.Drawing, from, way curve.Point, length, every float64) {
	d.Line(ink.Frame, 0.25, 0, from, from.Add(way.Mul(length)))
	side := way.Left()
	if way.X == 0 {
		side = curve.Pt(1, 0)
	}
	for at := 0.0; at <= length; at += every {
		size := 1.2
		if at == 0 || at == length || math.Mod(at, 100) == 0 {
			size = 2.2
		}
		p := from.Add(way.Mul(at))
		d.Line(ink.Frame, 0.2, 0, p, p.Add(side.Mul(size)))
	}
}

// trim draws the edge of a tile, along which it is cut.
func (s *setter) trim(p *page) { p.frame.Rect(ink.Frame, 0.1, 0.55, p.box) }
