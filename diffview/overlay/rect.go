package overlay

import (
	"math"

	"seamkeep/pattern/curve"
)

// rect is a box on the picture, y down.
type rect struct{ x0, y0, x1, y1 float64 }

// around gives the box of that size about a centre.
func around(at curve.Point, w, h float64) rect {
	return rect{at.X - w/2, at.Y - h/2, at.X + w/2, at.Y + h/2}
}

// textBox is the room of a line of text whose baseline begins at x, y.
func textBox(x, y float64, text string, s style) rect {
	w := s.Width(text)
	switch s.Anchor {
	case "middle":
		x -= w / 2
	case "end":
		x -= w
	}
	return rect{x, y - 0.95*s.Size, x + w, y + 0.28*s.Size}
}

func (r rect) width() float64      { return r.x1 - r.x0 }
func (r rect) centre() curve.Point { return curve.Pt((r.x0+r.x1)/2, (r.y0+r.y1)/2) }
func (r rect) grow(d float64) rect { return rect{r.x0 - d, r.y0 - d, r.x1 + d, r.y1 + d} }

func (r rect) union(s rect) rect {
	return rect{min(r.x0, s.x0), min(r.y0, s.y0), max(r.x1, s.x1), max(r.y1, s.y1)}
}

func (r rect) overlaps(s rect) bool {
	return r.x0 < s.x1 && s.x0 < r.x1 && r.y0 < s.y1 && s.y0 < r.y1
}

func (r rect) holds(p curve.Point) bool {
	return p.X >= r.x0 && p.X <= r.x1 && p.Y >= r.y0 && p.Y <= r.y1
}

// nearest gives the place of the box next to p.
func (r rect) nearest(p curve.Point) curve.Point {
	return curve.Pt(min(max(p.X, r.x0), r.x1), min(max(p.Y, r.y0), r.y1))
}

// crossedBy tells whether a straight line passes through the box (the clipping
// of Liang and Barsky, 1984).
func (r rect) crossedBy(a, b curve.Point) bool {
	// most lines lie wholly to one side of most boxes
	if min(a.X, b.X) > r.x1 || max(a.X, b.X) < r.x0 || min(a.Y, b.Y) > r.y1 || max(a.Y, b.Y) < r.y0 {
		return false
	}
	t0, t1 := 0.0, 1.0
	d := b.Sub(a)
	for _, side := range [4][2]float64{
		{-d.X, a.X - r.x0}, {d.X, r.x1 - a.X}, {-d.Y, a.Y - r.y0}, {d.Y, r.y1 - a.Y},
	} {
		p, q := side[0], side[1]
		switch {
		case p == 0 && q < 0:
			return false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	return t0 <= t1
}

// boxOfPath gives the room of a line of the pattern.
func boxOfPath(p curve.Path) rect {
	b := p.Bounds()
	return rect{b.Min.X, -b.Max.Y, b.Max.X, -b.Min.Y}
}

// flip turns a place of the pattern, y up, to one of the picture, y down.
func flip(p curve.Point) curve.Point { return curve.Pt(p.X, -p.Y) }

// tenth rounds up to 0.1 mm, so that a figure's origin costs its points none of
// their three decimals.
func tenth(v float64) float64 { return math.Ceil(v*10-1e-9) / 10 }
