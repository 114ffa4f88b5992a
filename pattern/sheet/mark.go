package sheet

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// Sizes of marks that give none, mm: common practice, no source.
const (
	buttonSize = 15
	eyeletSize = 4
	drillSize  = 3
)

// shown tells whether a mark stands on the half that is drawn.
func (f *figure) shown(m pattern.Mark) bool {
	return m.Only == "" || f.half == "" || m.Only == string(f.half)
}

// marks draws what is sewn on or into the piece.
func (f *figure) marks() {
	for _, m := range f.piece.Marks {
		if !f.shown(m) {
			continue
		}
		before := len(f.drawing.Strokes)
		if m.Kind.IsLine() {
			f.lineMark(m)
		} else {
			f.pointMark(m)
		}
		f.keep(before, 0.6)
	}
	before := len(f.drawing.Strokes)
	f.fastenings()
	f.keep(before, 0.6)
}

// lineMark draws a line: what has a width as the channel that it runs in.
func (f *figure) lineMark(m pattern.Mark) {
	path := m.Path().Transform(f.view)
	s := ink.Stroke{Layer: ink.Marks, Path: path, Width: markWidth}
	switch m.Kind {
	case pattern.Bone, pattern.Cord:
		if w := m.Width.Or(0); w > 0 {
			f.channel(path, w)
		}
		s.Width, s.Dash = 0.15, []float64{6, 1, 1, 1}
	case pattern.Stitch:
		s.Dash = []float64{1.4, 1.4}
	case pattern.Placement:
		s.Dash = []float64{5, 2}
	case pattern.Cutout:
		s.Layer, s.Width = ink.Cut, cutWidth
	}
	f.stroke(s)
}

// channel draws the sides of a channel, closed at both ends.
func (f *figure) channel(path curve.Path, width float64) {
	pts := path.Flatten(flat)
	if len(pts) < 2 {
		return
	}
	var left, right []curve.Point
	for i, p := range pts {
		way, ok := pts[min(i+1, len(pts)-1)].Sub(pts[max(i-1, 0)]).Unit()
		if !ok {
			continue
		}
		side := way.Left().Mul(width / 2)
		left, right = append(left, p.Add(side)), append(right, p.Sub(side))
	}
	if len(left) < 2 {
		return
	}
	ring := append([]curve.Point{}, left...)
	for i := len(right) - 1; i >= 0; i-- {
		ring = append(ring, right[i])
	}
	f.drawing.Poly(ink.Marks, markWidth, 0, append(ring, left[0])...)
}

// pointMark draws the sign of a point at its true size.
func (f *figure) pointMark(m pattern.Mark) {
	at := f.at(m.At)
	switch m.Kind {
	case pattern.Button:
		r := m.Diameter.Or(buttonSize) / 2
		f.drawing.Circle(ink.Marks, markWidth, 0, at, r)
		f.cross(at, min(r, 2))
	case pattern.Eyelet:
		r := m.Diameter.Or(eyeletSize) / 2
		f.drawing.Circle(ink.Marks, markWidth, 0, at, r)
		f.cross(at, r+1)
	case pattern.Drill:
		f.drawing.Circle(ink.Marks, markWidth, 0, at, m.Diameter.Or(drillSize)/2)
		f.cross(at, m.Diameter.Or(drillSize)/2+1.5)
	case pattern.Buttonhole:
		f.buttonhole(m, at)
	}
}

func (f *figure) cross(at curve.Point, r float64) {
	f.drawing.Line(ink.Marks, markWidth, 0, at.Sub(curve.Pt(r, 0)), at.Add(curve.Pt(r, 0)))
	f.drawing.Line(ink.Marks, markWidth, 0, at.Sub(curve.Pt(0, r)), at.Add(curve.Pt(0, r)))
}

// buttonhole draws the slit with a bar at each end.
func (f *figure) buttonhole(m pattern.Mark, at curve.Point) {
	sin, cos := math.Sincos(m.Angle.Or(0) * math.Pi / 180)
	way := f.way(curve.Pt(cos, sin))
	end := at.Add(way.Mul(m.Length.Or(buttonSize)))
	bar := way.Left().Mul(1.5)
	f.drawing.Line(ink.Marks, 0.35, 0, at, end)
	f.drawing.Line(ink.Marks, 0.35, 0, at.Sub(bar), at.Add(bar))
	f.drawing.Line(ink.Marks, 0.35, 0, end.Sub(bar), end.Add(bar))
}

// markWords names a mark beside it: a line along itself, a point to its right.
func (f *figure) markWords(m pattern.Mark) {
	words := f.face.Words(markName(m))
	if f.half == "" && m.Only != "" {
		words += " (" + m.Only + " only)"
	}
	const size = 0.85 * smallSize
	if !m.Kind.IsLine() {
		r := m.Diameter.Or(buttonSize)/2 + 1.5
		at := f.at(m.At)
		f.put(
			ink.Text{Layer: ink.Marks, At: at.Add(curve.Pt(r, -0.35*size)), Size: size, Words: words},
			ink.Text{Layer: ink.Marks, At: at.Add(curve.Pt(-r, -0.35*size)), Size: size, Words: words, Anchor: ink.End},
			ink.Text{Layer: ink.Marks, At: at.Add(curve.Pt(0, r)), Size: size, Words: words, Anchor: ink.Middle},
			ink.Text{Layer: ink.Marks, At: at.Sub(curve.Pt(0, r+size)), Size: size, Words: words, Anchor: ink.Middle},
		)
		return
	}
	f.put(f.along(m.Path().Transform(f.view), words, size, m.Width.Or(0)/2+1.2, ink.Marks)...)
}

// markName says what a mark is, with its size.
func markName(m pattern.Mark) string {
	s := string(m.Kind) + " " + m.Name
	switch {
	case m.Kind == pattern.Bone && m.Width.Set && m.Length.Set:
		s += ", " + plain(m.Width.Value) + " x " + plain(m.Length.Value)
	case m.Width.Set && m.Kind.IsLine():
		s += ", " + plain(m.Width.Value) + " wide"
	case m.Diameter.Set:
		s += ", " + plain(m.Diameter.Value)
	case m.Length.Set:
		s += ", " + plain(m.Length.Value)
	}
	return s
}

// along gives places for words along a line, on either side, off mm from it. They
// read from below or from the right.
func (f *figure) along(path curve.Path, words string, size, off float64, l ink.Layer) []ink.Text {
	const tol = 0.01
	var out []ink.Text
	length := path.Length(tol)
	for _, part := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88} {
		at := path.PointAt(part*length, tol)
		way, ok := path.TangentAt(part*length, tol)
		if !ok {
			continue
		}
		if way.X < -1e-9 || way.X < 1e-9 && way.Y < 0 {
			way = way.Mul(-1)
		}
		t := ink.Text{Layer: l, Size: size, Anchor: ink.Middle, Words: words, Turn: math.Atan2(way.Y, way.X) * 180 / math.Pi}
		for _, side := range [...]float64{off, -off - 0.75*size} {
			t.At = at.Add(way.Left().Mul(side))
			out = append(out, t)
		}
	}
	return out
}
