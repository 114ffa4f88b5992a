package overlay

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// bar draws a scale bar of n parts from x to the right, y its line.
func (pg *page) bar(x, y, length float64, n int) {
	ink := stroke("line", inkColour, 0.35)
	pg.pen.Line(curve.Pt(x, y), curve.Pt(x+length, y), ink...)
	for i := 0; i <= n; i++ {
		h := 1.0
		if i == 0 || i == n {
			h = 2
		}
		at := x + length*float64(i)/float64(n)
		pg.pen.Line(curve.Pt(at, y-h), curve.Pt(at, y+h), ink...)
	}
}

// keyItem is one sign of the key with its words.
type keyItem struct {
	words string
	draw  func(pg *page, x, y float64) // y: the middle of the line
}

const keySign = 13.0 // mm wide

// keyItems is the visual code in signs and words; marks where there are marks
// that did not change.
func keyItems(marks bool) []keyItem {
	line := func(draw func(*page, svg.PathData)) func(pg *page, x, y float64) {
		return func(pg *page, x, y float64) {
			draw(pg, svg.Data(curve.Path{curve.Line(curve.Pt(x, y), curve.Pt(x+keySign, y))}))
		}
	}
	area := func(draw func(*page, svg.PathData)) func(pg *page, x, y float64) {
		return func(pg *page, x, y float64) {
			draw(pg, svg.Data(polygon([]curve.Point{{X: x, Y: y - 2.4}, {X: x + keySign, Y: y - 2.4}, {X: x + keySign, Y: y + 2.4}, {X: x, Y: y + 2.4}})))
		}
	}
	items := []keyItem{
		{"before (dashed)", line((*page).before)},
		{"after (heavy)", line((*page).after)},
		{"did not move (thin)", line(func(pg *page, d svg.PathData) { pg.pen.Path(d, stillInk()...) })},
		{"cloth gained (dots)", area((*page).gained)},
		{"cloth lost (stripes)", area((*page).lost)},
		{"number of an edge in the table", func(pg *page, x, y float64) { pg.tag(curve.Pt(x+keySign/2, y), "1", true) }},
		{"largest movement of an edge, mm", func(pg *page, x, y float64) { pg.arrow(curve.Pt(x, y), curve.Pt(x+keySign, y)) }},
	}
	if marks {
		items = append(items, keyItem{"mark that did not change (faint)", line(func(pg *page, d svg.PathData) { pg.pen.Path(d, faintInk()...) })})
	}
	return items
}

// key adds the scale bar and the key; marks: some mark stands where it stood.
func (s *stack) key(marks bool) {
	s.add(8, func(pg *page, x, y float64) {
		pg.bar(x, y+3, 50, 5)
		pg.text(x+54, y+4.2, "50 mm at full size", plain())
	})
	s.signs(keyItems(marks))
	s.para("Lengths in mm. An edge counts as moved from 0.001 mm on, measured beside the old edge; an edge that only became longer or shorter has not moved sideways.", small(), 3)
}

// signs adds signs with their words, as many a line as fit.
func (s *stack) signs(items []keyItem) {
	for len(items) > 0 {
		x, n := 0.0, 0
		var at []float64
		for n < len(items) {
			w := keySign + 2.5 + plain().Width(items[n].words)
			if n > 0 && x+w > s.width {
				break
			}
			at, x, n = append(at, x), x+w+7, n+1
		}
		band := items[:n]
		s.add(7.4, func(pg *page, left, y float64) {
			for i, item := range band {
				item.draw(pg, left+at[i], y+3)
				pg.text(left+at[i]+keySign+2.5, y+4.2, item.words, plain())
			}
		})
		items = items[n:]
	}
}
