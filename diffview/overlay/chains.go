package overlay

import (
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// chains is a stretch of the outline that changed: how it ran before and how it
// runs after, between the same two points.
type chains struct{ before, after curve.Path }

// edgePaths gives the edges of a piece in order.
func edgePaths(p *pattern.Piece) []curve.Path {
	out := make([]curve.Path, len(p.Edges))
	for i := range p.Edges {
		out[i] = p.EdgePath(i)
	}
	return out
}

// changedChains cuts two outlines at the edges that are equal bit for bit and
// at the corners that they share in the same order. ok is false where they
// share no corner, or share edges in another order.
func changedChains(before, after []curve.Path) (out []chains, ok bool) {
	pairs := equalEdges(before, after)
	if !sameOrder(pairs, func(p [2]int) int { return p[0] }) {
		return nil, false
	}
	if len(pairs) == 0 {
		i, j, found := commonCorner(before, after)
		if !found {
			return nil, false
		}
		return splitAtCorners(ring(before, i, len(before)), ring(after, j, len(after))), true
	}
	for k, p := range pairs {
		next := pairs[(k+1)%len(pairs)]
		b := ring(before, p[0]+1, between(p[0], next[0], len(before)))
		a := ring(after, p[1]+1, between(p[1], next[1], len(after)))
		if len(b)+len(a) > 0 {
			out = append(out, splitAtCorners(b, a)...)
		}
	}
	return out, true
}

// equalEdges pairs the edges that both outlines have, in the order of the later
// one.
func equalEdges(before, after []curve.Path) [][2]int {
	at := map[curve.Point]int{}
	for i, p := range before {
		at[p.Start()] = i
	}
	var out [][2]int
	for j, p := range after {
		if i, ok := at[p.Start()]; ok && samePath(before[i], p) {
			out = append(out, [2]int{i, j})
		}
	}
	return out
}

func samePath(a, b curve.Path) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// sameOrder tells whether the places go round a ring once.
func sameOrder(pairs [][2]int, place func([2]int) int) bool {
	falls := 0
	for k := range pairs {
		if place(pairs[(k+1)%len(pairs)]) <= place(pairs[k]) {
			falls++
		}
	}
	return falls <= 1
}

// ring gives n edges of a ring from i on.
func ring(edges []curve.Path, i, n int) []curve.Path {
	out := make([]curve.Path, n)
	for k := range out {
		out[k] = edges[(i+k)%len(edges)]
	}
	return out
}

// between counts the edges of a ring of n between i and j; from one edge round
// to itself that is all the others.
func between(i, j, n int) int { return (j - i - 1 + n) % n }

func commonCorner(before, after []curve.Path) (i, j int, ok bool) {
	for j, a := range after {
		for i, b := range before {
			if a.Start() == b.Start() {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// splitAtCorners cuts two runs of edges at the corners that both pass in the
// same order.
func splitAtCorners(before, after []curve.Path) []chains {
	var out []chains
	i0, j0 := 0, 0
	for j := 1; j < len(after); j++ {
		for i := i0 + 1; i < len(before); i++ {
			if before[i].Start() == after[j].Start() {
				out = append(out, chains{join(before[i0:i]), join(after[j0:j])})
				i0, j0 = i, j
				break
			}
		}
	}
	return append(out, chains{join(before[i0:]), join(after[j0:])})
}

func join(edges []curve.Path) curve.Path {
	var out curve.Path
	for _, e := range edges {
		out = append(out, e...)
	}
	return out
}

// spot is a place on a chain.
type spot struct {
	seg  int
	t    float64
	dist float64 // mm from the start
}

// cut is a place where the chain before and the chain after meet.
type cut struct {
	before, after spot
	at            curve.Point
}

// same is how close, in mm, two meetings are one: what lies between them is
// less than a ten-thousandth of a square mm.
const same = 0.01

// meetings finds where two chains meet, in the order of the first, each place
// once.
func meetings(before, after curve.Path) []cut {
	boxes := make([]curve.Box, len(after))
	for j := range after {
		boxes[j] = after[j].Bounds().Grow(1e-6)
	}
	var all []cut
	for i := range before {
		box := before[i].Bounds()
		for j := range after {
			if !box.Overlaps(boxes[j]) {
				continue
			}
			for _, h := range curve.Intersections(before[i], after[j]) {
				all = append(all, cut{
					before: spot{i, h.TA, before.LengthTo(i, h.TA, 1e-4)},
					after:  spot{j, h.TB, after.LengthTo(j, h.TB, 1e-4)},
					at:     h.Point,
				})
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool {
		if d := all[i].before.dist - all[j].before.dist; d < -same || d > same {
			return d < 0
		}
		return all[i].after.dist < all[j].after.dist
	})
	var out []cut
	for _, c := range all {
		if n := len(out); n == 0 || !near(out[n-1], c) {
			out = append(out, c)
		}
	}
	return out
}

func near(a, b cut) bool {
	return within(a.before.dist, b.before.dist) && within(a.after.dist, b.after.dist)
}

func within(a, b float64) bool { return a-b < same && b-a < same }

// part gives the chain between two spots.
func part(p curve.Path, from, to spot) curve.Path {
	var out curve.Path
	for i := from.seg; i <= to.seg && i < len(p); i++ {
		t0, t1 := 0.0, 1.0
		if i == from.seg {
			t0 = from.t
		}
		if i == to.seg {
			t1 = to.t
		}
		if t1 > t0 {
			out = append(out, p[i].Sub(t0, t1))
		}
	}
	return out
}

// loop goes along the chain after and back along the chain before. Where the
// chains nearly coincide a meeting has two points a hair apart; a short line
// joins them, which the next loop walks backwards, so that the areas still add
// up.
func loop(after, before curve.Path) curve.Path {
	out := append(curve.Path{}, after...)
	for _, s := range before.Reverse() {
		out = withSegment(out, s)
	}
	if n := len(out); n > 0 && out[n-1].P3 != out[0].P0 {
		out = withSegment(out, curve.Line(out[n-1].P3, out[0].P0))
	}
	return out
}

// withSegment adds a segment, with a short line before it where it does not begin at
// the end.
func withSegment(p curve.Path, s curve.Segment) curve.Path {
	if n := len(p); n > 0 && p[n-1].P3 != s.P0 {
		p = append(p, curve.Line(p[n-1].P3, s.P0))
	}
	return append(p, s)
}
