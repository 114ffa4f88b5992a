package pattern

import (
	"math"

	"seamkeep/pattern/curve"
)

// Grid is the step of the numbers in a file, in mm.
const Grid = 0.001

// RoundLength rounds to the step of a file.
func RoundLength(mm float64) float64 {
	r := math.Round(mm*1000) / 1000
	if r == 0 {
		return 0 // never -0
	}
	return r
}

// Round puts a point on the step of a file.
func Round(p curve.Point) curve.Point { return curve.Pt(RoundLength(p.X), RoundLength(p.Y)) }

// SegsOf gives the segments of an edge that follows a path, rounded; none for
// one straight line.
func SegsOf(path curve.Path) []Seg {
	if len(path) == 1 && path[0].Straight {
		return nil
	}
	segs := LineSegsOf(path)
	if len(segs) == 0 {
		return segs
	}
	last := &segs[len(segs)-1]
	last.To, last.ToCorner = curve.Point{}, true
	return segs
}

// LineSegsOf gives the segments of a mark that follows a path, rounded; the mark begins
// where the path does.
func LineSegsOf(path curve.Path) []Seg {
	segs := make([]Seg, len(path))
	for i, s := range path {
		segs[i] = Seg{Curve: !s.Straight, To: Round(s.P3)}
		if segs[i].Curve {
			segs[i].H1, segs[i].H2 = Round(s.P1), Round(s.P2)
		}
	}
	return segs
}
