package sheet

import "seamkeep/pattern/curve"

// traced gives what a tile must not leave out of a figure, as chains of points: the
// line that is cut, and what is drawn outside it.
func (f *figure) traced() [][]curve.Point {
	if f.traces != nil {
		return f.traces
	}
	inside := f.outerBox()
	for _, p := range f.outer {
		f.traces = append(f.traces, p.Flatten(flat))
	}
	for _, s := range f.drawing.Strokes {
		if b := s.Path.Bounds(); b.Union(inside) != inside {
			f.traces = append(f.traces, s.Path.Flatten(flat))
		}
	}
	for _, t := range f.drawing.Texts {
		if b := t.Box(f.face); b.Union(inside) != inside {
			c := t.Corners(f.face, 0)
			f.traces = append(f.traces, append(c[:], c[0]))
		}
	}
	return f.traces
}

// holds tells whether a place lies inside what is cut (even-odd).
func (f *figure) holds(p curve.Point) bool {
	in := false
	for _, ring := range f.traced()[:len(f.outer)] {
		for i := 1; i < len(ring); i++ {
			a, b := ring[i-1], ring[i]
			if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+float64((p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X)) {
				in = !in
			}
		}
	}
	return in
}
