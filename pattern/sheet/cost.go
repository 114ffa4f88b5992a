package sheet

import (
	"cmp"
	"math"
	"slices"

	"seamkeep/pattern/curve"
)

// priced is a place for a square, and how much it covers there.
type priced struct {
	at   curve.Point
	cost float64
}

// costs lists the places for a square of some side in a box, the cheapest first:
// what its sides cross counts ten times what lies inside it.
func (r *room) costs(sum []int, box curve.Box, side float64) []priced {
	// places are tried each 4 mm, further apart on large paper, and at the far ends
	const least, most = 4, 2000
	box = box.Grow(-1) // off the trim line, lest they be taken for one another
	every := max(least, math.Sqrt(max(box.Width()-side, 0)*max(box.Height()-side, 0)/most))
	var out []priced
	for _, y := range steps(box.Min.Y, box.Max.Y-side, every) {
		for _, x := range steps(box.Min.X, box.Max.X-side, every) {
			at := curve.Pt(x, y)
			out = append(out, priced{at, r.cost(sum, curve.Box{Min: at, Max: at.Add(curve.Pt(side, side))})})
		}
	}
	slices.SortFunc(out, func(a, b priced) int {
		if a.cost != b.cost {
			return cmp.Compare(a.cost, b.cost)
		}
		return cmp.Or(cmp.Compare(a.at.Y, b.at.Y), cmp.Compare(a.at.X, b.at.X))
	})
	return out
}

func (r *room) cost(sum []int, b curve.Box) float64 {
	x0, y0, x1, y1 := r.span(b)
	x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(x1, r.w-1), min(y1, r.h-1)
	sides := r.taker(sum, x0, y0, x1, y0) + r.taker(sum, x0, y1, x1, y1) + r.taker(sum, x0, y0, x0, y1) + r.taker(sum, x1, y0, x1, y1)
	return float64(r.taker(sum, x0, y0, x1, y1) + 10*sides)
}

// steps goes from one number to another, both among them, by every or more.
func steps(from, to, every float64) []float64 {
	var out []float64
	for x := from; x <= to-every; x += every {
		out = append(out, x)
	}
	return append(out, to)
}
