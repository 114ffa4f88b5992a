package sheet

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// size is the room that a figure asks for, mm.
type size struct{ w, h float64 }

// spot is where a figure lies: on which page, x from the left, y from the top, mm.
type spot struct {
	page int
	x, y float64
}

// orders are the orders in which boxes are packed, each to be tried: the high ones
// first, the wide ones, the large ones; then so many more, mixed anew each time, but
// the same ones for so many boxes.
func orders(sizes []size, mixed int) [][]int {
	var out [][]int
	for _, key := range [...]func(size) float64{
		func(s size) float64 { return -s.h },
		func(s size) float64 { return -s.w },
		func(s size) float64 { return -s.w * s.h },
		func(s size) float64 { return -(s.w + s.h) },
	} {
		order := make([]int, len(sizes))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(key(sizes[a]), key(sizes[b])) })
		out = append(out, order)
	}
	chance := rand.New(rand.NewPCG(1, uint64(len(sizes))))
	for range mixed {
		out = append(out, chance.Perm(len(sizes)))
	}
	return out
}

// pack lays boxes upright on pages of one size, which may be endless one way,
// none over another. It tries several orders and keeps the one with the fewest
// pages, then the shortest last page. Each box must fit on a page.
func pack(sizes []size, page size) (spots []spot, pages int) {
	best := math.Inf(1)
	for _, order := range orders(sizes, mixes(len(sizes))) {
		got, n, used := packIn(sizes, page, order)
		if cost := float64(n)*1e9 + used; cost < best {
			best, spots, pages = cost, got, n
		}
	}
	return spots, pages
}

// mixes is how many orders are worth trying with so many boxes: time grows with
// each.
func mixes(boxes int) int { return min(40, 1000/(boxes+1)) }

// packIn packs in one order; used is how much of the last page is taken.
func packIn(sizes []size, page size, order []int) (spots []spot, pages int, used float64) {
	spots = make([]spot, len(sizes))
	var shelves []*shelf
	for _, i := range order {
		for n := 0; ; n++ {
			if n == len(shelves) {
				shelves = append(shelves, &shelf{free: []area{{0, 0, page.w, page.h}}})
			}
			if x, y, ok := shelves[n].put(sizes[i], page); ok {
				spots[i] = spot{n, x, y}
				break
			}
		}
	}
	for i, s := range spots {
		if s.page == len(shelves)-1 {
			if math.IsInf(page.w, 1) {
				used = max(used, s.x+sizes[i].w)
			} else {
				used = max(used, s.y+sizes[i].h)
			}
		}
	}
	return spots, len(shelves), used
}

// area is a free rectangle of a page.
type area struct{ x, y, w, h float64 }

// shelf is a page while it is filled: all largest free rectangles (Jylänki, A
// Thousand Ways to Pack the Bin, 2010, "maximal rectangles", from memory).
type shelf struct{ free []area }

// put finds the place nearest to the top, or to the left on a page that is
// endless to the right, and takes it.
func (s *shelf) put(b size, page size) (x, y float64, ok bool) {
	const hair = 1e-9
	best := [2]float64{math.Inf(1), math.Inf(1)}
	for _, f := range s.free {
		if b.w > f.w+hair || b.h > f.h+hair {
			continue
		}
		key := [2]float64{f.y + b.h, f.x}
		if math.IsInf(page.w, 1) {
			key = [2]float64{f.x + b.w, f.y}
		}
		if slices.Compare(key[:], best[:]) < 0 {
			best, x, y, ok = key, f.x, f.y, true
		}
	}
	if ok {
		s.take(area{x, y, b.w, b.h})
	}
	return x, y, ok
}

// take cuts a rectangle out of all free ones.
func (s *shelf) take(b area) {
	var out []area
	for _, f := range s.free {
		if b.x >= f.x+f.w || b.x+b.w <= f.x || b.y >= f.y+f.h || b.y+b.h <= f.y {
			out = append(out, f)
			continue
		}
		parts := [...]area{
			{f.x, f.y, b.x - f.x, f.h},
			{b.x + b.w, f.y, f.x + f.w - b.x - b.w, f.h},
			{f.x, f.y, f.w, b.y - f.y},
			{f.x, b.y + b.h, f.w, f.y + f.h - b.y - b.h},
		}
		for _, p := range parts {
			if p.w > 0 && p.h > 0 {
				out = append(out, p)
			}
		}
	}
	s.free = out[:0:0]
	for i, a := range out {
		if !slices.ContainsFunc(out[:i], func(b area) bool { return b.holds(a) }) &&
			!slices.ContainsFunc(out[i+1:], func(b area) bool { return b.holds(a) && b != a }) {
			s.free = append(s.free, a)
		}
	}
}

func (a area) holds(b area) bool {
	return a.x <= b.x && a.y <= b.y && a.x+a.w >= b.x+b.w && a.y+a.h >= b.y+b.h
}
