package page

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// farthest is the largest number of a piece file.
const farthest = 100_000

// bounded refuses a piece with a number that cannot be drawn: laying out words
// goes by the room that lines take, which must end somewhere.
func bounded(g *pattern.Garment, p *pattern.Piece) error {
	box := boxOf(p.Outline())
	for _, m := range p.Marks {
		for _, o := range []pattern.Opt{m.Width, m.Length, m.Diameter, m.Angle} {
			box = box.Add(curve.Pt(o.Or(0), 0))
		}
		box = box.Add(m.At).Union(boxOf(m.Path()))
	}
	for _, list := range [][]pattern.Level{g.Levels, p.Levels} {
		for _, l := range list {
			box = box.Add(curve.Pt(0, l.Y))
		}
	}
	if p.Grain != nil {
		box = box.Add(p.Grain.From).Add(p.Grain.To)
	}
	if box == curve.EmptyBox() {
		return nil
	}
	for _, v := range [...]float64{box.Min.X, box.Min.Y, box.Max.X, box.Max.Y} {
		if !(math.Abs(v) <= farthest) {
			return fmt.Errorf("piece %.80q: a number is not finite or over %d", p.Name, farthest)
		}
	}
	return nil
}

// boxOf holds all points of a path, handles too.
func boxOf(path curve.Path) curve.Box {
	box := curve.EmptyBox()
	for _, s := range path {
		box = box.Add(s.P0).Add(s.P1).Add(s.P2).Add(s.P3)
	}
	return box
}
