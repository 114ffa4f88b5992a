package sheet

import (
	"math"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// squares draws the two check squares where they cover the least of what is drawn, rather
// off the pieces than on them, and not over each other. They are thin, so that a piece
// under them stays to be seen.
func (s *setter) squares(p *page) {
	taken, cloth := newRoom(p.box, 2), newRoom(p.box, 2)
	for i, f := range p.on {
		for _, ring := range f.traced()[:len(f.outer)] {
			cloth.inside(shifted(ring, p.parts[i].Move))
		}
	}
	for _, part := range p.parts {
		taken.drawing(part.Drawing, part.Move, s.o.Face)
	}
	if p.tile != nil {
		s.tileName(p, taken)
	}
	taken.drawing(p.frame, curve.Point{}, s.o.Face)
	first, second := twoPlaces(taken, cloth, p.box)
	p.square(first, 100, "check: 100 mm")
	p.square(second, fourInches, "check: 4 in (101.6 mm)")
}

// drawing takes the room of all that a drawing shows, moved.
func (r *room) drawing(d *ink.Drawing, move curve.Point, f *ink.Face) {
	all := curve.Box{Min: r.origin, Max: r.origin.Add(curve.Pt(float64(r.w)*r.cell, float64(r.h)*r.cell))}
	for _, s := range d.Strokes {
		if moved(s.Path.Bounds(), move).Overlaps(all) {
			r.line(s.Path.Transform(curve.Translate(move.X, move.Y)), 0.5)
		}
	}
	for _, t := range d.Texts {
		r.box(moved(t.Box(f), move))
	}
}

// tileName writes inside the trim line which tile it is, since what stands above is
// cut away: at the upper edge where that is free.
func (s *setter) tileName(p *page, taken *room) {
	const size = 5
	var places []ink.Text
	for x := p.box.Min.X + Overlap + 3; x < p.box.Max.X-Overlap-15; x += 4 {
		places = append(places, ink.Text{Layer: ink.Frame, At: curve.Pt(x, p.box.Max.Y-Overlap-7), Size: size, Grey: 0.6, Words: p.Tile})
	}
	for _, t := range places {
		if taken.freeQuad(t.Corners(s.o.Face, 1)) {
			p.frame.Write(t)
			return
		}
	}
	p.frame.Write(places[0])
}

func shifted(ring []curve.Point, by curve.Point) []curve.Point {
	out := make([]curve.Point, len(ring))
	for i, p := range ring {
		out[i] = p.Add(by)
	}
	return out
}

func moved(b curve.Box, by curve.Point) curve.Box {
	return curve.Box{Min: b.Min.Add(by), Max: b.Max.Add(by)}
}

// squareGrey keeps the squares lighter than any line of a piece.
const squareGrey = 0.55

func (p *page) square(at curve.Point, side float64, words string) {
	p.frame.Rect(ink.Frame, 0.12, squareGrey, curve.Box{Min: at, Max: at.Add(curve.Pt(side, side))})
	p.frame.Write(ink.Text{Layer: ink.Frame, At: at.Add(curve.Pt(2, 1.6)), Size: 2.4, Grey: squareGrey, Words: words})
	p.Squares = append(p.Squares, CheckSquare{at.X, at.Y, side})
}

// twoPlaces finds the places of both squares that cover the least together.
func twoPlaces(taken, cloth *room, box curve.Box) (first, second curve.Point) {
	small, large := taken.costs(cloth, box, 100), taken.costs(cloth, box, fourInches)
	best := math.Inf(1)
	// the cheaper places first, so that the search ends early
	for _, a := range small {
		if a.cost >= best {
			break
		}
		for _, b := range large {
			if a.cost+b.cost >= best {
				break
			}
			if apartBy(a.at, 100, b.at, fourInches) {
				best, first, second = a.cost+b.cost, a.at, b.at
				break
			}
		}
	}
	return first, second
}

// apartBy tells whether two squares keep a mm from each other.
func apartBy(a curve.Point, sideA float64, b curve.Point, sideB float64) bool {
	return a.X+sideA+1 <= b.X || b.X+sideB+1 <= a.X || a.Y+sideA+1 <= b.Y || b.Y+sideB+1 <= a.Y
}
