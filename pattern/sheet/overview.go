package sheet

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// mapTile is what the page with the map is called.
const mapTile = "map"

// mapPage shows all pages small, with the pieces on them, and two long lines to
// check the print by. On large paper and rolls it is an A4 page of its own, no wider than
// the roll.
func (s *setter) mapPage() *page {
	p := &page{frame: &ink.Drawing{}}
	p.Kind = MapPage
	p.Tile, p.Width, p.Height = mapTile, s.paper.Width, s.paper.Height
	if a4 := papers[0]; s.paper.Roll || s.paper.Height > papers[2].Height {
		p.Width, p.Height = min(a4.Width/s.stretch.X, s.paper.Width), a4.Height/s.stretch.Y
		if p.Width < s.paper.Width {
			p.paper = a4.Name
		}
	}
	left, right := s.margin.X+barWidth+6, p.Width-s.margin.X
	top := p.Height - s.margin.Y - headHeight
	y := s.longLines(p, left, right, top)
	y = s.mapWords(p, left, right, y)
	y = s.mapList(p, left+9, right, y)
	s.drawMap(p, curve.Box{Min: curve.Pt(left, s.margin.Y), Max: curve.Pt(right, y)})
	p.box = curve.Box{Min: curve.Pt(left, s.margin.Y), Max: curve.Pt(right, top)}
	return p
}

// longLines draws a line across and a line upwards as long as whole 10 mm allow.
func (s *setter) longLines(p *page, left, right, top float64) float64 {
	across := float64(int((right-left)/10) * 10)
	up := float64(int((top-12-s.margin.Y)/10) * 10)
	from := curve.Pt(left, top-8)
	ruler(p.frame, from, curve.Pt(1, 0), across, 10)
	p.frame.Write(ink.Text{Layer: ink.Frame, At: from.Add(curve.Pt(across/2, -3.4)), Size: 3, Anchor: ink.Middle, Words: fmt.Sprintf("check: %.0f mm across", across)})
	ruler(p.frame, curve.Pt(left, s.margin.Y), curve.Pt(0, 1), up, 10)
	p.frame.Write(ink.Text{Layer: ink.Frame, At: curve.Pt(left+5.4, s.margin.Y+up/2), Size: 3, Turn: 90, Anchor: ink.Middle, Words: fmt.Sprintf("check: %.0f mm upwards", up)})
	return top - 14
}

// mapWords says what to do.
func (s *setter) mapWords(p *page, left, right, y float64) float64 {
	f := s.o.Face
	lines := []string{
		"Print at 100 % (\"actual size\"), then measure: the lines on this page, and the squares of 100 mm and 4 in on every page.",
	}
	if len(s.areas) > 0 {
		lines = append(lines,
			fmt.Sprintf("Cut each tile along its left and its upper line, lay it on its neighbour by %d mm and tape it where the numbered marks meet.", Overlap))
	}
	lines = append(lines, "Solid line: cut. Dashed line: sew. Dash-dotted: level.")
	for _, l := range lines {
		for _, part := range wrap(f, l, 3.2, right-left-10) {
			y -= 4.6
			p.frame.Write(ink.Text{Layer: ink.Frame, At: curve.Pt(left+9, y), Size: 3.2, Words: part})
		}
	}
	return y - 4
}

// mapList says where each piece is, in columns. A list that would leave no room for
// the map is left out: each piece bears its number there.
func (s *setter) mapList(p *page, left, right, y float64) float64 {
	const columns, size, lead = 3, 2.8, 3.9
	rows := (len(s.o.Pieces) + columns - 1) / columns
	if float64(rows)*lead > (y-s.margin.Y)/2 {
		return y
	}
	f := s.o.Face
	width := (right - left) / columns
	for i, piece := range s.inOrder() {
		at := curve.Pt(left+float64(i/rows)*width, y-float64(i%rows+1)*lead)
		number, pages := fmt.Sprintf("%d  ", s.numbers[piece.Name]), ": "+strings.Join(s.pagesOf(piece), " ")
		pages = f.Shorten(pages, size, 0.6*width)
		name := f.Shorten(f.Words(nameOf(piece)), size, width-2-f.Width(number+pages, size))
		// written apart, so that a name from right to left turns none of the rest round
		for _, words := range [...]string{number, name, pages} {
			p.frame.Write(ink.Text{Layer: ink.Frame, At: at, Size: size, Words: words})
			at.X += f.Width(words, size)
		}
	}
	return y - float64(rows)*lead - 5
}

// pagesOf lists the tiles and pages that show a piece.
func (s *setter) pagesOf(piece *pattern.Piece) []string {
	var out []string
	for _, p := range s.pages {
		if slices.Contains(p.Pieces, piece.Name) {
			out = append(out, s.mapName(p))
		}
	}
	return out
}

// wrap breaks words into lines of a width.
func wrap(f *ink.Face, text string, size, room float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(text) {
		if line != "" && f.Width(line+" "+w, size) > room {
			out, line = append(out, line), ""
		}
		line = strings.TrimSpace(line + " " + w)
	}
	return append(out, line)
}
