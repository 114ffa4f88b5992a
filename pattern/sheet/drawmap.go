package sheet

import (
	"math"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// small is one page, or one area of tiles, on the map.
type small struct {
	size  size
	tiles []*page // with their windows
	boxes []curve.Box
	figs  []*figure
	moves []curve.Point // from a figure's own frame, y up from the upper left corner
}

// readableBeside is how much smaller the map may be for both check squares to stand
// free beside it, in times the size that it has under them.
const readableBeside = 0.35

// drawMap draws all areas and pages below each other in rows, as large as they fit:
// beside the check squares where it stays readable there, else partly under them.
func (s *setter) drawMap(p *page, box curve.Box) {
	items := s.smalls()
	scale := largest(items, box)
	free := box
	free.Max.X -= fourInches + 3
	if small := largest(items, free); small >= readableBeside*scale {
		scale, box = small, free
	}
	flow(items, scale, box, func(it *small, at curve.Point) { s.drawSmall(p.frame, it, at, scale) })
}

// largest is the scale at which the items fit into a box.
func largest(items []*small, box curve.Box) float64 {
	scale := 0.5
	for scale > 0.001 && !flow(items, scale, box, nil) {
		scale *= 0.94
	}
	return scale
}

// flow lays the items in rows and tells whether they fit.
func flow(items []*small, scale float64, box curve.Box, do func(*small, curve.Point)) bool {
	const gap = 4
	x, y, row := box.Min.X+9, box.Max.Y, 0.0
	for _, it := range items {
		w, h := it.size.w*scale, it.size.h*scale
		if x > box.Min.X+9 && x+w > box.Max.X {
			x, y, row = box.Min.X+9, y-row-gap, 0
		}
		if x+w > box.Max.X || y-h < box.Min.Y {
			return false
		}
		if do != nil {
			do(it, curve.Pt(x, y))
		}
		x += w + gap
		row = max(row, h)
	}
	return true
}

// smalls lists what the map shows.
func (s *setter) smalls() []*small {
	var out []*small
	areas := map[*tiling]*small{}
	for _, p := range s.pages {
		if p.tile == nil {
			it := &small{size: size{p.box.Width(), p.box.Height()}, tiles: []*page{p}}
			it.boxes = []curve.Box{{Min: curve.Pt(0, -p.box.Height()), Max: curve.Pt(p.box.Width(), 0)}}
			for i, f := range p.on {
				it.figs = append(it.figs, f)
				it.moves = append(it.moves, p.parts[i].Move.Sub(curve.Pt(p.box.Min.X, p.box.Max.Y)))
			}
			out = append(out, it)
			continue
		}
		a := p.tile.area
		it := areas[a]
		if it == nil {
			it = &small{figs: a.figures, moves: a.moves}
			areas[a] = it
			out = append(out, it)
		}
		w := a.window(p.tile.at)
		it.tiles, it.boxes = append(it.tiles, p), append(it.boxes, w)
		it.size = size{max(it.size.w, w.Max.X), max(it.size.h, -w.Min.Y)}
	}
	return out
}

// drawSmall draws one of them with its upper left corner at a place.
func (s *setter) drawSmall(d *ink.Drawing, it *small, at curve.Point, scale float64) {
	m := curve.Scale(scale, scale).Then(curve.Translate(at.X, at.Y))
	for i, p := range it.tiles {
		b := curve.Box{Min: m.Apply(it.boxes[i].Min), Max: m.Apply(it.boxes[i].Max)}
		d.Rect(ink.Frame, 0.1, 0.5, b)
		size := min(4, max(1.6, 12*scale))
		d.Write(ink.Text{Layer: ink.Frame, At: curve.Pt(b.Min.X+12*scale+0.6, b.Max.Y-12*scale-size), Size: size, Grey: 0.3, Words: s.mapName(p)})
	}
	for i, f := range it.figs {
		to := curve.Translate(it.moves[i].X, it.moves[i].Y).Then(m)
		for _, o := range f.outer {
			d.Strokes = append(d.Strokes, ink.Stroke{Layer: ink.Frame, Path: o.Transform(to), Width: 0.25})
		}
		s.nameSmall(d, f, to, scale)
	}
}

// nameSmall writes the number of a piece into its middle.
func (s *setter) nameSmall(d *ink.Drawing, f *figure, to curve.Affine, scale float64) {
	size := min(4, max(1.8, 18*scale))
	t := ink.Text{Layer: ink.Frame, Size: size, Anchor: ink.Middle}
	middle := f.box.Min.Lerp(f.box.Max, 0.5)
	if at := f.insideAt(middle.Y, f.box); !math.IsNaN(at.X) {
		middle = at
	}
	t.At = to.Apply(middle).Sub(curve.Pt(0, size/3))
	t.Words = plain(float64(s.numbers[f.piece.Name]))
	switch f.half {
	case "left":
		t.Words += "L"
	case "right":
		t.Words += "R"
	}
	d.Write(t)
}

// mapName is what a page is called on the map.
func (s *setter) mapName(p *page) string {
	if p.Tile != "" {
		return p.Tile
	}
	for i, q := range s.pages {
		if q == p {
			return "p. " + plain(float64(i+2)) // the map goes before them
		}
	}
	return ""
}
