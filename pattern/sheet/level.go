package sheet

import (
	"math"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// levels draws each level across the cloth, from edge to edge.
func (f *figure) levels() {
	for _, l := range f.levelLines() {
		f.drawing.Line(ink.Levels, levelWidth, levelGrey, l.from, l.to, levelDash()...)
	}
}

// levelLine is a level where it runs over cloth.
type levelLine struct {
	name     string
	from, to curve.Point // as drawn, from left to right
}

// levelLines finds where levels run over cloth. Where a level runs along an edge,
// that edge shows it.
func (f *figure) levelLines() []levelLine {
	var out []levelLine
	outline := f.piece.Outline()
	for _, name := range levelNames(f.garment, f.piece) {
		y, ok := f.garment.LevelOn(f.piece, name)
		if !ok {
			continue
		}
		var xs []float64
		for _, c := range outline.CrossingsY(y) {
			xs = append(xs, c.Point.X)
		}
		sort.Float64s(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			a, b := f.at(curve.Pt(xs[i], y)), f.at(curve.Pt(xs[i+1], y))
			if a.X > b.X {
				a, b = b, a
			}
			if x, y := f.room.at(a.Lerp(b, 0.5)); !f.room.holds(x, y) || f.outside[y*f.room.w+x] {
				continue // along an edge, or between two touches of it
			}
			out = append(out, levelLine{name, a, b})
		}
	}
	return out
}

// levelNames lists the garment's levels and then those that only the piece has.
func levelNames(g *pattern.Garment, p *pattern.Piece) []string {
	var names []string
	seen := map[string]bool{}
	for _, list := range [][]pattern.Level{g.Levels, p.Levels} {
		for _, l := range list {
			if !seen[l.Name] {
				names, seen[l.Name] = append(names, l.Name), true
			}
		}
	}
	return names
}

// levelWords writes the name of a level above its line, else below it.
func (f *figure) levelWords(l levelLine) {
	words := f.face.Words(l.name)
	way, ok := l.to.Sub(l.from).Unit()
	if !ok {
		return
	}
	turn := math.Atan2(way.Y, way.X) * 180 / math.Pi
	length := l.from.Dist(l.to)
	var places []ink.Text
	for _, size := range [...]float64{smallSize, 0.75 * smallSize} {
		for _, off := range [...]float64{0.7, -0.9 * size} {
			for part := 0.0; part <= 1; part += 0.1 {
				t := ink.Text{Layer: ink.Levels, Size: size, Turn: turn, Words: words, Grey: 0.2}
				room := length - f.face.Width(words, size) - 4
				t.At = l.from.Add(way.Mul(2 + part*room)).Add(way.Left().Mul(off))
				if room >= 0 {
					places = append(places, t)
				}
			}
		}
	}
	f.put(places...)
}
