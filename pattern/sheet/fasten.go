package sheet

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/sheet/ink"
)

// fastenings draws what the garment says of a closure's buttons and eyelets where
// the piece has no marks of its own for them: buttons on their line, which lies half
// the overlap inside the edge; eyelets and hooks as ticks that give their places along
// the edge alone, since how far inside they lie is not recorded.
func (f *figure) fastenings() {
	for i := range f.garment.Buttons {
		b := &f.garment.Buttons[i]
		size := b.Diameter.Or(buttonSize)
		for _, r := range f.rows(b, pattern.Button, pattern.Buttonhole) {
			c := f.garment.Closure(b.Closure)
			inside := c.Overlap.Or(size) / 2
			for k := range r.At {
				at := f.at(r.Point(k, inside, placeTol))
				f.drawing.Circle(ink.Marks, markWidth, 0, at, size/2)
				f.cross(at, min(size/2, 2))
			}
			f.rowWords(r, inside+size/2+1.5, fmt.Sprintf("buttons %s: %d of %s", c.Name, len(r.At), plain(size)))
		}
	}
	for i := range f.garment.Eyelets {
		f.ticks(&f.garment.Eyelets[i], "eyelets", pattern.Eyelet)
	}
	for i := range f.garment.Hooks {
		f.ticks(&f.garment.Hooks[i], "hooks")
	}
}

// ticks draws where a row stands along its edge.
func (f *figure) ticks(b *pattern.Fastening, word string, kinds ...pattern.MarkKind) {
	const tick = 3 // mm
	for _, r := range f.rows(b, kinds...) {
		for k := range r.At {
			f.drawing.Line(ink.Marks, 0.35, 0, f.at(r.Point(k, 0, placeTol)), f.at(r.Point(k, tick, placeTol)))
		}
		f.rowWords(r, tick+1.5, fmt.Sprintf("%s %s: %d", word, b.Closure, len(r.At)))
	}
}

// rows lays out the buttons or eyelets of a closure on the edges of the piece; none
// where it has marks of these kinds, or where the records say too little: the checks
// speak of that.
func (f *figure) rows(b *pattern.Fastening, kinds ...pattern.MarkKind) []measure.Row {
	c := f.garment.Closure(b.Closure)
	if c == nil || f.has(kinds...) {
		return nil
	}
	var out []measure.Row
	for i, ref := range c.Edges {
		if ref.Piece != f.piece.Name {
			continue
		}
		if r, fault := measure.RowOn(f.garment, c, b, i, placeTol); fault == nil && len(r.At) > 0 {
			out = append(out, r)
		}
	}
	return out
}

func (f *figure) has(kinds ...pattern.MarkKind) bool {
	for _, m := range f.piece.Marks {
		for _, k := range kinds {
			if m.Kind == k {
				return true
			}
		}
	}
	return false
}

// insideEdge is the place so far along an edge and so far inside it, as drawn.
func (f *figure) insideEdge(edge int, along, inside float64) (curve.Point, bool) {
	path := f.piece.EdgePath(edge)
	way, ok := path.TangentAt(along, placeTol)
	return f.at(path.PointAt(along, placeTol).Add(way.Left().Mul(inside))), ok
}

// rowWords remembers what is to be written beside a row, once the label has its
// place.
func (f *figure) rowWords(r measure.Row, off float64, words string) {
	if len(r.At) > 1 {
		words += ", pitch " + plain(r.Pitch)
	}
	path := f.piece.EdgePath(r.Edge).Transform(f.view)
	f.later = append(f.later, f.along(path, f.face.Words(words), 0.85*smallSize, off, ink.Marks))
}
