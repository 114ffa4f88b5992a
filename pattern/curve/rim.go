package curve

import (
	"math"
	"sort"
)

// Part is the stretch of the segment with the number Seg between two parameters.
type Part struct {
	Seg    int
	T0, T1 float64
}

// Rim is the walk along the outer rim of a ring that may cross itself, as the
// parts of the ring that lie on it, in order from its lowest place: at each
// crossing it goes on along the rightmost way onwards, so that it never crosses
// what it left, and loops fall away. It takes it that the ring runs anticlockwise
// where it is on the rim; false where it does not lead back to its start, and for
// a ring without area. Crossings are those of SelfCrossings.
func (ring Path) Rim() ([]Part, bool) {
	if !ring.closed() {
		return nil, false
	}
	w := newRimWalk(ring)
	start, ok := w.lowest()
	if !ok {
		return nil, false
	}
	var parts []Part
	for at, n := start, 0; n == 0 || at != start; n++ {
		if n > len(w.ways) {
			return nil, false
		}
		parts = appendPart(parts, w.ways[at].part)
		if at, ok = w.onward(at); !ok {
			return nil, false
		}
	}
	return parts, ring.Assemble(parts).Area() > 0
}

// appendPart adds a part, to the last one where it goes on from there.
func appendPart(parts []Part, p Part) []Part {
	if n := len(parts); n > 0 && parts[n-1].Seg == p.Seg && parts[n-1].T1 == p.T0 {
		parts[n-1].T1 = p.T1
		return parts
	}
	return append(parts, p)
}

// Assemble is the path of some parts of a path, one segment a part; where one does
// not begin quite where the last one ended its start is moved there, as is the
// end of a ring.
func (p Path) Assemble(parts []Part) Path {
	q := make(Path, len(parts))
	for i, part := range parts {
		q[i] = p[part.Seg].Sub(part.T0, part.T1)
		if i > 0 {
			q[i] = q[i].StartingAt(q[i-1].P3)
		}
	}
	if c := (linker{path: q, snap: samePlace}); q.closed() {
		c.close()
	}
	return q
}

// rimWalk is the ring as ways between nodes: its joints and crossings.
type rimWalk struct {
	ring  Path
	nodes []Point
	ways  []rimWay
	leave [][]int // the ways that begin at a node
}

type rimWay struct {
	part     Part
	curve    Segment
	from, to int
}

type rimCut struct {
	t    float64
	node int
}

func newRimWalk(ring Path) *rimWalk {
	w := &rimWalk{ring: ring}
	cuts := make([][]rimCut, len(ring))
	for i := range ring {
		cuts[i] = []rimCut{{0, w.node(ring[i].P0)}, {1, w.node(ring[i].P3)}}
	}
	for _, c := range ring.SelfCrossings() {
		n := w.node(c.Point)
		cuts[c.SegA] = append(cuts[c.SegA], rimCut{c.TA, n})
		cuts[c.SegB] = append(cuts[c.SegB], rimCut{c.TB, n})
	}
	w.leave = make([][]int, len(w.nodes))
	for i := range ring {
		list := cuts[i]
		sort.SliceStable(list, func(a, b int) bool { return list[a].t < list[b].t })
		for k := 1; k < len(list); k++ {
			w.addWay(i, list[k-1], list[k])
		}
	}
	return w
}

// node gives the number of the node at p; places within 1e-6 mm are one.
func (w *rimWalk) node(p Point) int {
	for i, q := range w.nodes {
		if math.Abs(p.X-q.X) <= samePlace && math.Abs(p.Y-q.Y) <= samePlace {
			return i
		}
	}
	w.nodes = append(w.nodes, p)
	return len(w.nodes) - 1
}

func (w *rimWalk) addWay(seg int, a, b rimCut) {
	c := w.ring[seg].Sub(a.t, b.t)
	if a.t == b.t || a.node == b.node && c.hullSize() <= 4*samePlace {
		return
	}
	w.leave[a.node] = append(w.leave[a.node], len(w.ways))
	w.ways = append(w.ways, rimWay{Part{seg, a.t, b.t}, c, a.node, b.node})
}

// lowest is a way that is surely on the rim.
func (w *rimWalk) lowest() (int, bool) {
	best, low := -1, math.Inf(1)
	for i := range w.ways {
		if y := w.ways[i].curve.Bounds().Min.Y; y < low {
			best, low = i, y
		}
	}
	return best, best >= 0
}

// onward is the rightmost way that goes on where a way ends.
func (w *rimWalk) onward(at int) (int, bool) {
	list := w.leave[w.ways[at].to]
	if len(list) == 0 {
		return 0, false
	}
	back, _ := w.ways[at].curve.EndTangent()
	best := list[0]
	for _, next := range list[1:] {
		if w.rightOf(next, best, back) {
			best = next
		}
	}
	return best, true
}

// rightOf says that, coming in the direction in, way a leaves to the right of
// way b. Ways that leave in the same direction are told apart further on; of two
// that run on each other the longer one counts as the right one.
func (w *rimWalk) rightOf(a, b int, in Point) bool {
	o := w.nodes[w.ways[a].from]
	ua, _ := w.ways[a].curve.StartTangent()
	ub, _ := w.ways[b].curve.StartTangent()
	if math.Abs(ua.Cross(ub)) > 1e-4 || ua.Dot(ub) < 0 {
		return turnOf(in, ua) < turnOf(in, ub)
	}
	for _, t := range [5]float64{1.0 / 64, 1.0 / 16, 1.0 / 4, 1.0 / 2, 1} {
		pa := w.ways[a].curve.At(t).Sub(o)
		near := Path{w.ways[b].curve}.Nearest(o.Add(pa))
		way, ok := w.ways[b].curve.Tangent(near.T)
		side := way.Cross(o.Add(pa).Sub(near.Point))
		if ok && math.Abs(side) > samePlace {
			return side < 0
		}
	}
	return w.ways[a].curve.hullSize() > w.ways[b].curve.hullSize()
}

// turnOf grows with the angle from in to u, from a turn almost back by the right
// (-2) over straight on (0) to one right back or by the left (2).
func turnOf(in, u Point) float64 {
	if in.Dot(u) < 0 && math.Abs(in.Cross(u)) < 1e-6 {
		return 2
	}
	return math.Copysign(1-in.Dot(u), in.Cross(u))
}
