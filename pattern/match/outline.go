package match

import (
	"slices"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// outline is a piece's ring of edges, measured.
type outline struct {
	piece   *pattern.Piece
	paths   []curve.Path
	lengths []float64
	total   float64
	starts  places // of the edges: the corners
}

// whole tells whether a piece has an outline at all: a faulty file may have
// left one without some of its corners.
func whole(p *pattern.Piece) bool {
	return len(p.Edges) > 0 && len(p.Corners) == len(p.Edges)
}

func outlineOf(p *pattern.Piece) *outline {
	o := &outline{piece: p}
	if !whole(p) {
		return o
	}
	for i := range p.Edges {
		o.add(p.EdgePath(i))
	}
	o.starts = placesOf(o.paths)
	return o
}

func (o *outline) add(path curve.Path) {
	length := path.Length(lengthTol)
	o.paths, o.lengths, o.total = append(o.paths, path), append(o.lengths, length), o.total+length
}

// moved gives the outline after a movement, which changes no length.
func (o *outline) moved(fit curve.Rigid) *outline {
	if fit == (curve.Rigid{}) {
		return o
	}
	m := fit.Affine()
	c := *o
	c.paths = make([]curve.Path, len(o.paths))
	for i, p := range o.paths {
		c.paths[i] = p.Transform(m)
	}
	c.starts = placesOf(c.paths)
	return &c
}

func (o *outline) next(i int) int { return (i + 1) % len(o.paths) }

// chain joins the paths of edges that follow each other.
func (o *outline) chain(edges []int) curve.Path {
	if len(edges) == 1 {
		return o.paths[edges[0]]
	}
	var path curve.Path
	for _, i := range edges {
		path = append(path, o.paths[i]...)
	}
	return path
}

// ring gives the whole outline.
func (o *outline) ring() curve.Path {
	var ring curve.Path
	for _, p := range o.paths {
		ring = append(ring, p...)
	}
	return ring
}

func (o *outline) box() curve.Box {
	b := curve.EmptyBox()
	for _, p := range o.paths {
		b = b.Union(p.Bounds())
	}
	return b
}

// joinedUp puts edges in the order in which they follow each other round the
// ring; false where they are not one chain.
func (o *outline) joinedUp(edges []int) ([]int, bool) {
	in := map[int]bool{}
	for _, i := range edges {
		in[i] = true
	}
	n := len(o.paths)
	sorted := slices.Sorted(slices.Values(edges))
	first := sorted[0]
	if len(in) < n {
		heads := 0
		for _, i := range sorted {
			if !in[(i+n-1)%n] {
				first = i
				heads++
			}
		}
		if heads != 1 {
			return nil, false
		}
	}
	chain := make([]int, 0, len(in))
	for k := range len(in) {
		chain = append(chain, (first+k)%n)
	}
	return chain, true
}

// places finds points that are near to one.
type places struct {
	at    []curve.Point
	order []int // by x
}

func placesOf(paths []curve.Path) places {
	at := make([]curve.Point, len(paths))
	for i, p := range paths {
		at[i] = p.Start()
	}
	return newPlaces(at)
}

func newPlaces(at []curve.Point) places {
	p := places{at: at, order: make([]int, len(at))}
	for i := range p.order {
		p.order[i] = i
	}
	sort.SliceStable(p.order, func(i, j int) bool { return at[p.order[i]].X < at[p.order[j]].X })
	return p
}

// maxNear bounds how many points at one place are looked at. Real outlines have
// one or two; thousands would make the search long and tell nothing.
const maxNear = 64

// near lists the points within r of q, by index, at most maxNear.
func (p places) near(q curve.Point, r float64) []int {
	k := sort.Search(len(p.order), func(k int) bool { return p.at[p.order[k]].X >= q.X-r })
	var out []int
	for ; k < len(p.order) && p.at[p.order[k]].X <= q.X+r && len(out) < maxNear; k++ {
		if i := p.order[k]; p.at[i].Dist(q) <= r {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return out
}

// agree tells whether two paths are one curve, walked the same way: each lies
// on the other within r, and so do their ends.
func agree(a, b curve.Path, r float64) bool {
	if a.Start().Dist(b.Start()) > r || a.End().Dist(b.End()) > r {
		return false
	}
	return handlesAgree(a, b, r) || curve.Lies(a, b, r) && curve.Lies(b, a, r)
}

// handlesAgree is the quick way to find that two paths agree: the points of two
// cubics at one parameter are no farther apart than their control points, since
// their difference lies in the hull of the differences.
func handlesAgree(a, b curve.Path, r float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i, s := range a {
		t := b[i]
		if s == t {
			continue
		}
		if s.P0.Dist(t.P0) > r || s.P1.Dist(t.P1) > r || s.P2.Dist(t.P2) > r || s.P3.Dist(t.P3) > r {
			return false
		}
	}
	return true
}
