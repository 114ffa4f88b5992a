package sheet

import (
	"math"

	"seamkeep/pattern/curve"
)

// room tells where words may stand: small square cells, each taken or free.
type room struct {
	cell   float64 // side, mm
	origin curve.Point
	w, h   int
	taken  []bool
	sums   []int // what counts gave since the last change; nil: nothing
}

// mostCells bounds the memory of a room: larger areas get larger cells.
const mostCells = 1_000_000

// newRoom has cells of cell mm, or larger ones, all free.
func newRoom(box curve.Box, cell float64) *room {
	if area := box.Width() * box.Height(); area > cell*cell*mostCells {
		cell = math.Sqrt(area / mostCells)
	}
	r := &room{cell: cell, origin: box.Min}
	r.w, r.h = int(box.Width()/cell)+1, int(box.Height()/cell)+1
	r.taken = make([]bool, r.w*r.h)
	return r
}

func (r *room) copied() *room {
	c := *r
	c.taken, c.sums = append([]bool(nil), r.taken...), nil
	return &c
}

// column and row of a place; they may lie outside.
func (r *room) at(p curve.Point) (int, int) {
	return int(math.Floor((p.X - r.origin.X) / r.cell)), int(math.Floor((p.Y - r.origin.Y) / r.cell))
}

func (r *room) holds(x, y int) bool { return x >= 0 && y >= 0 && x < r.w && y < r.h }

func (r *room) middle(x, y int) curve.Point {
	return r.origin.Add(curve.Pt((float64(x)+0.5)*r.cell, (float64(y)+0.5)*r.cell))
}

// outside takes all cells whose middle is outside a closed polygon (even-odd), inside
// those within it.
func (r *room) outside(ring []curve.Point) { r.side(ring, false) }
func (r *room) inside(ring []curve.Point)  { r.side(ring, true) }

func (r *room) side(ring []curve.Point, within bool) {
	r.sums = nil
	for y := range r.h {
		height := r.middle(0, y).Y
		inside := make([]bool, r.w)
		for i := 1; i < len(ring); i++ {
			a, b := ring[i-1], ring[i]
			if (a.Y > height) == (b.Y > height) {
				continue
			}
			cross := a.X + float64((height-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			first := int(math.Ceil((cross-r.origin.X)/r.cell - 0.5))
			for x := max(first, 0); x < r.w; x++ {
				inside[x] = !inside[x]
			}
		}
		for x, in := range inside {
			if in == within {
				r.taken[y*r.w+x] = true
			}
		}
	}
}

// line takes the cells along a path, half mm to each side.
func (r *room) line(p curve.Path, half float64) {
	pts := p.Flatten(r.cell / 2)
	for i := 1; i < len(pts); i++ {
		n := math.Ceil(pts[i-1].Dist(pts[i])/r.cell) + 1
		for k := 0.0; k <= n; k++ {
			r.box(curve.EmptyBox().Add(pts[i-1].Lerp(pts[i], k/n)).Grow(half))
		}
	}
}

// box takes the cells that a box touches.
func (r *room) box(b curve.Box) {
	r.sums = nil
	x0, y0, x1, y1 := r.span(b)
	for y := max(y0, 0); y <= min(y1, r.h-1); y++ {
		for x := max(x0, 0); x <= min(x1, r.w-1); x++ {
			r.taken[y*r.w+x] = true
		}
	}
}

func (r *room) span(b curve.Box) (x0, y0, x1, y1 int) {
	x0, y0 = r.at(b.Min)
	x1, y1 = r.at(b.Max)
	return x0, y0, x1, y1
}

// quad takes the cells under a rectangle that may be turned; freeQuad tells whether
// all of them are in the room and free. Its corners are given in order.
func (r *room) quad(c [4]curve.Point) {
	r.sums = nil
	r.cover(c, func(x, y int) bool {
		if r.holds(x, y) {
			r.taken[y*r.w+x] = true
		}
		return true
	})
}

func (r *room) freeQuad(c [4]curve.Point) bool {
	return r.cover(c, func(x, y int) bool {
		return r.holds(x, y) && !r.taken[y*r.w+x]
	})
}

// cover visits the cells under a rectangle until do says no.
func (r *room) cover(c [4]curve.Point, do func(x, y int) bool) bool {
	along, up := c[1].Sub(c[0]), c[3].Sub(c[0])
	n, m := math.Ceil(along.Len()/r.cell)+1, math.Ceil(up.Len()/r.cell)+1
	for i := 0.0; i <= n; i++ {
		for k := 0.0; k <= m; k++ {
			if x, y := r.at(c[0].Add(along.Mul(i / n)).Add(up.Mul(k / m))); !do(x, y) {
				return false
			}
		}
	}
	return true
}

// counts tells for each corner of the cells how many taken ones lie below and to
// the left of it.
func (r *room) counts() []int {
	if r.sums != nil {
		return r.sums
	}
	sum := make([]int, (r.w+1)*(r.h+1))
	for y := range r.h {
		row := 0
		for x := range r.w {
			if r.taken[y*r.w+x] {
				row++
			}
			sum[(y+1)*(r.w+1)+x+1] = sum[y*(r.w+1)+x+1] + row
		}
	}
	r.sums = sum
	return sum
}

func (r *room) taker(sum []int, x0, y0, x1, y1 int) int {
	w := r.w + 1
	return sum[(y1+1)*w+x1+1] - sum[y0*w+x1+1] - sum[(y1+1)*w+x0] + sum[y0*w+x0]
}

// find gives the free box of a size whose middle is nearest to a place; false
// where there is none.
func (r *room) find(width, height float64, near curve.Point) (curve.Box, bool) {
	nx, ny := int(math.Ceil(width/r.cell)), int(math.Ceil(height/r.cell))
	sum := r.counts()
	best, bx, by := math.Inf(1), -1, -1
	half := curve.Pt(float64(nx)*r.cell/2, float64(ny)*r.cell/2)
	for y := 0; y+ny <= r.h; y++ {
		for x := 0; x+nx <= r.w; x++ {
			if r.taker(sum, x, y, x+nx-1, y+ny-1) > 0 {
				continue
			}
			corner := r.origin.Add(curve.Pt(float64(x)*r.cell, float64(y)*r.cell))
			if d := corner.Add(half).Dist(near); d < best {
				best, bx, by = d, x, y
			}
		}
	}
	if bx < 0 {
		return curve.Box{}, false
	}
	at := r.origin.Add(curve.Pt(float64(bx)*r.cell, float64(by)*r.cell))
	return curve.Box{Min: at, Max: at.Add(curve.Pt(width, height))}, true
}
