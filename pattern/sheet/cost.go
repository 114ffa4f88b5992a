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
// what its sides cross counts ten times what lies inside it, and bare cloth a tenth.
func (r *room) costs(cloth *room, box curve.Box, side float64) []priced {
	sum, on := r.counts(), cloth.counts()
	// places are tried each 4 mm, further apart on large paper, and at the far ends
	const least, most = 4, 2000
	box = box.Grow(-1) // off the trim line, lest they be taken for one another
	every := max(least, math.Sqrt(max(box.Width()-side, 0)*max(box.Height()-side, 0)/most))
	var out []priced
	for _, y := range steps(box.Min.Y, box.Max.Y-side, every) {
		for _, x := range steps(box.Min.X, box.Max.X-side, every) {
			at := curve.Pt(x, y)
			b := curve.Box{Min: at, Max: at.Add(curve.Pt(side, side))}
			out = append(out, priced{at, r.cost(sum, b) + float64(cloth.under(on, b))/10})
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

// clamped is the span of a box, as far as it lies in the room.
func (r *room) clamped(b curve.Box) (x0, y0, x1, y1 int) {
	x0, y0, x1, y1 = r.span(b)
	return max(x0, 0), max(y0, 0), min(x1, r.w-1), min(y1, r.h-1)
}

// under is how many taken cells lie in a box.
func (r *room) under(sum []int, b curve.Box) int {
	x0, y0, x1, y1 := r.clamped(b)
	return r.taker(sum, x0, y0, x1, y1)
}

func (r *room) cost(sum []int, b curve.Box) float64 {
	x0, y0, x1, y1 := r.clamped(b)
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
