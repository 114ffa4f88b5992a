package overlay

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// Measures of the rows of figures, mm.
const (
	rowWidest = 800 // all pieces stand in one row, if it gets no wider
	rowOfMany = 480 // else in rows about as wide as a screen
	slotGap   = 6
	rowGap    = 10
	farOff    = 300 // further from its levels a piece is not hung by its waist
)

// figureRow is a row of figures whose waists are level.
type figureRow struct {
	slots  []slot
	levels []pattern.Level // named once for all, at the left
	gutter float64
	width  float64
	top    float64 // above the waist line, mm
	bottom float64 // below it
}

// slot is a figure and where its origin falls in the row, from the row's left
// end and its waist line.
type slot struct {
	f    *figure
	x, y float64
}

// inRows sets the figures in rows of about equal width, in order.
func inRows(figs []*figure) []figureRow {
	total := 0.0
	for _, f := range figs {
		total += f.room.width() + slotGap
	}
	n := 1.0
	if total > rowWidest {
		n = math.Ceil(total / rowOfMany)
	}
	var rows []figureRow
	from, sum := 0, 0.0
	for i, f := range figs {
		w := f.room.width() + slotGap
		if i > from && math.Floor((sum+w/2)/total*n) > float64(len(rows)) {
			rows = append(rows, newRow(figs[from:i]))
			from = i
		}
		sum += w
	}
	if from < len(figs) {
		rows = append(rows, newRow(figs[from:]))
	}
	return rows
}

// newRow lines figures up.
func newRow(figs []*figure) figureRow {
	var r figureRow
	r.levels = sharedLevels(figs)
	if len(r.levels) == 0 {
		for _, f := range figs {
			f.ownLevels()
		}
	}
	for _, l := range r.levels {
		r.gutter = max(r.gutter, laneFor(l.Name))
	}
	for _, f := range figs {
		if f.hung() {
			r.top, r.bottom = max(r.top, -f.room.y0), max(r.bottom, f.room.y1)
		}
	}
	x := r.gutter
	for _, f := range figs {
		s := slot{f: f, x: tenth(x - f.room.x0)}
		if !f.hung() {
			s.y = tenth(-r.top - f.room.y0)
			r.bottom = max(r.bottom, s.y+f.room.y1)
		}
		r.slots = append(r.slots, s)
		x = s.x + f.room.x1 + slotGap
	}
	r.width = x - slotGap
	return r
}

// hung tells whether a figure is lined up by its waist: its levels lie on it or
// near it.
func (f *figure) hung() bool {
	if len(f.levels) == 0 {
		return false
	}
	low, high := f.levels[0].Y, f.levels[0].Y
	for _, l := range f.levels {
		low, high = min(low, l.Y), max(high, l.Y)
	}
	return -f.box.y1 < high+farOff && -f.box.y0 > low-farOff && math.Abs(low) < 3*farOff
}

// sharedLevels gives the levels that lie at the same height on all figures that
// are hung by the waist; none where they differ.
func sharedLevels(figs []*figure) []pattern.Level {
	var out []pattern.Level
	height := map[string]float64{}
	for _, f := range figs {
		if !f.hung() {
			continue
		}
		for _, l := range f.levels {
			if y, ok := height[l.Name]; ok && y != l.Y {
				return nil
			} else if !ok {
				height[l.Name] = l.Y
				out = append(out, l)
			}
		}
	}
	return out
}

// ownLevels makes room for the names of a figure's levels at its own left.
func (f *figure) ownLevels() {
	lane := 0.0
	for _, l := range f.visible(f.levels, 8) {
		lane = max(lane, laneFor(l.Name))
	}
	f.room.x0 -= lane
	f.lane = lane
}

// Measures of the lane for the names of levels at the left of pieces, mm.
const (
	laneGap  = 4.0  // between the names and the lines
	laneMost = 54.0 // a name that would need more is cut
)

// laneFor is the room that a level's name takes beside the pieces.
func laneFor(name string) float64 { return min(small().Width(name)+laneGap, laneMost) }

// levelName writes a level's name into a lane that begins at x, close to the
// lines.
func (pg *page) levelName(x, y, lane float64, name string) {
	const loss = 1e-6 // of adding the gap and taking it away again, generously
	pg.text(x+lane-laneGap, y, small().Shorten(name, lane-laneGap+loss), small().End())
}

// visible keeps the levels that pass the piece or come near it.
func (f *figure) visible(levels []pattern.Level, near float64) []pattern.Level {
	var out []pattern.Level
	for _, l := range levels {
		if -l.Y > f.box.y0-near && -l.Y < f.box.y1+near {
			out = append(out, l)
		}
	}
	return out
}

func (r figureRow) height() float64 { return r.top + r.bottom }

// draw puts the row down with its upper left corner at x, y.
func (r figureRow) draw(pg *page, x, y float64) {
	waist := tenth(y + r.top)
	lowest := waist + r.bottom + 6
	pg.levelLines(r.visibleLevels(), x, waist, r.gutter, lowest, r.stretches())
	for _, s := range r.slots {
		at := curve.Pt(tenth(x+s.x), tenth(waist+s.y))
		if len(r.levels) == 0 {
			left := at.X + s.f.room.x0
			pg.levelLines(s.f.visible(s.f.levels, 8), left, at.Y, s.f.lane, lowest, [][2]float64{{s.f.lane - 2, s.f.room.width()}})
		}
		s.f.draw(pg, at)
	}
}

// stretches gives the parts of the row where level lines are drawn: not across
// pieces that are not lined up by their waist.
func (r figureRow) stretches() [][2]float64 {
	var out [][2]float64
	open := false
	for _, s := range r.slots {
		left, right := s.x+s.f.room.x0, s.x+s.f.room.x1
		switch {
		case !s.f.hung():
			open = false
		case open:
			out[len(out)-1][1] = right
		default:
			out, open = append(out, [2]float64{left, right}), true
		}
	}
	if len(out) > 0 && out[0][0] < r.gutter+slotGap {
		out[0][0] = r.gutter - 2
	}
	return out
}

// visibleLevels are those that pass some figure of the row.
func (r figureRow) visibleLevels() []pattern.Level {
	var out []pattern.Level
	for _, l := range r.levels {
		for _, s := range r.slots {
			if s.f.hung() && len(s.f.visible([]pattern.Level{l}, 8)) > 0 {
				out = append(out, l)
				break
			}
		}
	}
	return out
}

// levelLines draws levels over the stretches, counted from x, and their names in
// a lane at the left. A name that would come to stand below the lowest place is
// left to the line's title.
func (pg *page) levelLines(levels []pattern.Level, x, waist, lane, lowest float64, stretches [][2]float64) {
	last := math.Inf(-1)
	for _, l := range fromTop(levels) {
		y := waist - l.Y
		name := max(y+1.1, last+4.6) // levels close together: their names make way
		last = name
		pg.pen.Titled("level "+l.Name, levelData(l)...)
		for _, s := range stretches {
			pg.pen.Line(curve.Pt(x+s[0], y), curve.Pt(x+s[1], y), levelInk()...)
		}
		if name < lowest {
			pg.levelName(x, name, lane, l.Name)
		}
		pg.pen.End()
	}
}
