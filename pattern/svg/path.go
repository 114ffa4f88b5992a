package svg

import (
	"fmt"
	"strings"

	"seamkeep/pattern/curve"
)

// PathData is an outline written for a Pen. The zero value has no points.
type PathData struct {
	text string
	err  error
}

// View lays the plane of the pattern, y up, on the picture, y down: the
// pattern's origin falls on Origin, and each mm of the pattern is Scale mm long
// (0 counts as 1, the true size).
type View struct {
	Origin curve.Point // in mm of the picture
	Scale  float64
}

// At gives the place on the picture of a place on the pattern.
func (v View) At(p curve.Point) curve.Point {
	k := v.Scale
	if k == 0 {
		k = 1
	}
	return curve.Pt(v.Origin.X+float64(k*p.X), v.Origin.Y-float64(k*p.Y))
}

// Data writes paths of the pattern as the view shows them, each number within
// 0.0005 mm. A path that ends where it began, in the numbers as written, is
// closed. Where a segment does not begin at the end of the one before it the pen
// is lifted.
func (v View) Data(paths ...curve.Path) PathData { return data(v.At, paths) }

// Data writes paths that are already in mm of the picture; otherwise like
// View.Data.
func Data(paths ...curve.Path) PathData {
	return data(func(p curve.Point) curve.Point { return p }, paths)
}

// strand is one stroke of an outline: its start and its steps, all as written.
type strand struct {
	start, end string
	steps      []step
}

type step struct {
	text     string
	straight bool
}

func data(at func(curve.Point) curve.Point, paths []curve.Path) PathData {
	var b strings.Builder
	for _, path := range paths {
		var s strand
		for _, seg := range path {
			p := make([]string, 4)
			for i, q := range []curve.Point{seg.P0, seg.P1, seg.P2, seg.P3} {
				text, err := place(at(q))
				if err != nil {
					return PathData{err: err}
				}
				p[i] = text
			}
			if p[0] != s.end {
				s.write(&b)
				s = strand{start: p[0]}
			}
			s.end = p[3]
			if seg.Straight {
				s.steps = append(s.steps, step{"L" + p[3], true})
			} else {
				s.steps = append(s.steps, step{"C" + p[1] + " " + p[2] + " " + p[3], false})
			}
		}
		s.write(&b)
	}
	return PathData{text: b.String()}
}

// write puts the strand down. A straight last step home is left to Z, which
// draws it; a lone step is never closed by it.
func (s strand) write(b *strings.Builder) {
	if len(s.steps) == 0 {
		return
	}
	b.WriteString("M" + s.start)
	last := len(s.steps) - 1
	home := s.end == s.start && (last > 0 || !s.steps[0].straight)
	for i, st := range s.steps {
		if !home || i < last || !st.straight {
			b.WriteString(st.text)
		}
	}
	if home {
		b.WriteString("Z")
	}
}

func place(p curve.Point) (string, error) {
	x, err := Number(p.X)
	if err != nil {
		return "", fmt.Errorf("svg: path: %w", err)
	}
	y, err := Number(p.Y)
	if err != nil {
		return "", fmt.Errorf("svg: path: %w", err)
	}
	return x + " " + y, nil
}
