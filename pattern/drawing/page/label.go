package page

import (
	"math"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

const (
	nameSize = 3.5 // of the names of edges and levels
	markSize = 2.8 // of the names of marks
)

// keepFree notes where lines run, so that no name is laid over them.
func (f *figure) keepFree() {
	f.taken = make(room)
	f.alongside(f.outline, 0)
	for _, l := range f.lines {
		if l.Circle.Radius > 0 {
			f.taken.add(l.box().Grow(0.3))
			continue
		}
		f.alongside(l.Path, l.Width/2)
	}
}

// alongside takes the room of a line of some half width in short steps: the box of a whole slanting
// line would take far too much.
func (f *figure) alongside(p curve.Path, half float64) {
	pts := p.Flatten(0.5)
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		n := min(math.Ceil(a.Dist(b)/sampled), 1000)
		for k := 0.0; k < n; k++ {
			box := curve.EmptyBox().Add(a.Lerp(b, k/n)).Add(a.Lerp(b, (k+1)/n))
			f.taken.add(box.Grow(half + 0.3))
		}
	}
}

// name writes the names of levels, edges, the grain and marks, the important
// ones first.
func (f *figure) name() {
	for _, l := range f.lines {
		if l.Kind == Level {
			f.put(levelPlaces(l), true)
		}
	}
	for i := range f.piece.Edges {
		f.put(f.edgePlaces(i), true)
	}
	for _, l := range f.lines {
		switch l.Kind {
		case Mark, Grain:
			f.put(markPlaces(l), false)
		case Notch:
			if _, level := f.garment.LevelOn(f.piece, l.Name); !level { // there the level bears the name
				f.put(markPlaces(l), false)
			}
		}
	}
}

// put writes a text at the first of its places that is free, or at the very
// first where none is and it must be said.
func (f *figure) put(places []Text, must bool) {
	for _, t := range places {
		if f.taken.free(t.box()) {
			f.write(t)
			return
		}
	}
	if must && len(places) > 0 {
		f.write(places[0])
	}
}

func (f *figure) write(t Text) {
	f.texts = append(f.texts, t)
	f.taken.add(t.box())
}

// room holds boxes by the square cells that they touch, so that a piece of
// thousands of marks is still quickly named.
type room map[[2]int][]curve.Box

const (
	cell    = 20   // mm
	tooWide = 1000 // mm: a sign this large leaves no place to speak of
)

func cells(box curve.Box, do func(key [2]int)) {
	for x := math.Floor(box.Min.X / cell); x <= box.Max.X/cell; x++ {
		for y := math.Floor(box.Min.Y / cell); y <= box.Max.Y/cell; y++ {
			do([2]int{int(x), int(y)})
		}
	}
}

func (r room) add(box curve.Box) {
	if box.Width() > tooWide || box.Height() > tooWide {
		return
	}
	cells(box, func(key [2]int) { r[key] = append(r[key], box) })
}

func (r room) free(box curve.Box) bool {
	free := true
	cells(box, func(key [2]int) {
		for _, b := range r[key] {
			free = free && !b.Overlaps(box)
		}
	})
	return free
}

// levelPlaces are behind and before the ends of a level line.
func levelPlaces(l Line) []Text {
	a, b := l.Path.Start(), l.Path.End()
	t := Text{Size: nameSize, Text: shorten(l.Name, nameSize, 60)}
	const drop = 0.35 * nameSize // the middle of small letters lies on the line
	right, left := t, t
	right.At = rounded(b.Add(curve.Pt(1.5, drop)))
	left.At, left.Anchor = rounded(a.Add(curve.Pt(-1.5, drop))), End
	above := right.moved(curve.Pt(0, -nameSize))
	return []Text{right, left, above}
}

// shorten fits a text into so many mm. Names of a pattern are short; of a longer
// text no more is looked at than could fit.
func shorten(s string, size, width float64) string {
	const most = 400
	if len(s) > 4*most {
		s = string([]rune(s[:4*most])) + "…"
	}
	return svg.Shorten(s, size, width)
}

// edgePlaces are inside the piece along an edge, from its middle outwards.
func (f *figure) edgePlaces(i int) []Text {
	path := f.piece.EdgePath(i)
	length := path.Length(0.01)
	words := shorten(f.piece.Edges[i].Name, nameSize, 60)
	var out []Text
	for _, off := range []float64{2, 4, 7} {
		for _, part := range []float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82} {
			at := path.PointAt(part*length, 0.01)
			way, ok := path.TangentAt(part*length, 0.01)
			if !ok {
				continue
			}
			out = append(out, beside(flip(at), flip(way.Left()), off, nameSize, words))
		}
	}
	return out
}

// beside lays a text off mm from a place on the side to which way points.
func beside(at, way curve.Point, off, size float64, words string) Text {
	t := Text{At: at.Add(way.Mul(off)), Size: size, Text: words}
	switch {
	case way.X > 0.5:
		t.Anchor = Start
	case way.X < -0.5:
		t.Anchor = End
	default:
		t.Anchor = Middle
	}
	switch {
	case math.Abs(way.X) > 0.5:
		t.At.Y += 0.35 * size
	case way.Y > 0: // below
		t.At.Y += 0.8 * size
	}
	t.At = rounded(t.At)
	return t
}

// markPlaces are round a point, or beside a line near its start, middle and end.
func markPlaces(l Line) []Text {
	words := "grain"
	if l.Kind != Grain {
		words = shorten(l.Name, markSize, 60)
	}
	var out []Text
	sides := []curve.Point{{X: 1}, {X: -1}, {Y: -1}, {Y: 1}}
	if r := l.Circle.Radius; r > 0 {
		for _, side := range sides {
			out = append(out, beside(l.Circle.Centre, side, r+1, markSize, words))
		}
		return out
	}
	length := l.Path.Length(0.01)
	off := 1 + l.Width/2
	for _, part := range []float64{1, 0.9, 0.75, 0.6, 0.5, 0.4, 0.25, 0.1, 0} {
		at := l.Path.PointAt(part*length, 0.01)
		for _, side := range sides {
			out = append(out, beside(at, side, off, markSize, words))
		}
	}
	return out
}
