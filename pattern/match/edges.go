package match

import (
	"math"
	"slices"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// EdgeMatch says which edges of the earlier version are which of the later one:
// indices, in the order in which the edges follow each other. One of the lists
// holds a single edge, or one is empty.
type EdgeMatch struct {
	Fate          Fate
	Before, After []int
	How           How
	Lies          bool // the whole curve lies as it lay, after Register's movement
}

// Edges matches the edges of two versions of a piece; each edge appears exactly
// once. In turn:
//
//  1. by shape: an edge that is one curve with an edge of the other version, or
//     with several that follow each other, whatever the names;
//  2. by was, where the earlier version has no such name left;
//  3. by name;
//  4. by both end corners;
//  5. by overlap: the pairs that share most of their curve; and an edge beside
//     one that was matched, if half of it lies on that one's other version, was
//     split off from it, or joined to it;
//  6. by ends: an edge and all the open edges that lead from where it began to
//     where it ended, if points were drawn into it that lie elsewhere.
//
// Former names count in both directions, so the versions may be given in either
// order.
func Edges(a, b *pattern.Piece, o Options) []EdgeMatch { return edgesIn(frameOf(a, b, o.filled())) }

func edgesIn(on *frame) []EdgeMatch {
	f := newEdgeFinder(on)
	if f.old.shaped() && f.new.shaped() {
		f.byShape()
	}
	f.byWas()
	f.byName()
	if f.old.shaped() && f.new.shaped() {
		corners := cornersOf(f.frame, nil)
		f.byCorners(corners)
		f.byOverlap()
		f.byNeighbour()
		f.byEnds(corners)
	}
	return f.matches()
}

func (o *outline) shaped() bool { return len(o.paths) > 0 }

type edgeFinder struct {
	*frame
	a, b     *pattern.Piece
	openOld  []bool
	openNew  []bool
	groups   []EdgeMatch
	overlaps int // overlaps that may still be measured
}

// maxOverlaps bounds the work on two outlines of thousands of edges that have
// nothing in common.
const maxOverlaps = 10_000

func newEdgeFinder(on *frame) *edgeFinder {
	a, b := on.old.piece, on.new.piece
	f := &edgeFinder{frame: on, a: a, b: b, overlaps: maxOverlaps}
	f.openOld, f.openNew = slices.Repeat([]bool{true}, len(a.Edges)), slices.Repeat([]bool{true}, len(b.Edges))
	return f
}

func (f *edgeFinder) open(i, j int) bool { return f.openOld[i] && f.openNew[j] }

// turned swaps the sides of a function's arguments.
func turned[T, R any](g func(i, j T) R) func(j, i T) R { return func(j, i T) R { return g(i, j) } }

func (f *edgeFinder) match(before, after []int, how How) {
	for _, i := range before {
		f.openOld[i] = false
	}
	for _, j := range after {
		f.openNew[j] = false
	}
	lies := how == ByShape || len(before) == 1 && len(after) == 1 && f.unmoved(before[0], after[0])
	f.groups = append(f.groups, EdgeMatch{Before: before, After: after, How: how, Lies: lies})
}

// unmoved tells whether two edges of one name lie alike though their shape did
// not bring them together: they have no length, or an outline is broken and
// nothing but their records can be compared.
func (f *edgeFinder) unmoved(i, j int) bool {
	if f.old.shaped() && f.new.shaped() {
		return agree(f.old.paths[i], f.new.paths[j], f.near)
	}
	x, y := f.a.Edges[i], f.b.Edges[j]
	return !f.old.shaped() && !f.new.shaped() && pattern.Same(x.Segs, y.Segs)
}

func (f *edgeFinder) byShape() {
	same := func(i, j int) bool { return f.open(i, j) && f.a.Edges[i].Name == f.b.Edges[j].Name }
	take := func(i, j []int) { f.match(i, j, ByShape) }
	eachAlike(f.old, f.new, f.near, same, take) // only where two edges lie on each other is there a choice
	eachAlike(f.old, f.new, f.near, f.open, take)
	eachChain(f.old, f.new, f.near, f.open, take)
	eachChain(f.new, f.old, f.near, turned(f.open), func(j, i []int) { f.match(i, j, ByShape) })
}

// byWas follows former names: one that names an edge which is itself still
// there under its name says that a part was split off.
func (f *edgeFinder) byWas() {
	for i, js := range formerly(f.a, f.b, f.openOld, f.openNew) {
		if js = f.oneChain(f.new, js, f.a.Edges[i].Name, f.b); len(js) > 0 {
			f.match([]int{i}, js, ByWas)
		}
	}
	for j, is := range formerly(f.b, f.a, f.openNew, f.openOld) {
		if is = f.oneChain(f.old, is, f.b.Edges[j].Name, f.a); len(is) > 0 {
			f.match(is, []int{j}, ByWas)
		}
	}
}

// formerly lists, for each open edge of x, the open edges of y whose former
// name it bears, where x has no open edge of their present name; with them the
// edge of y that still bears the name.
func formerly(x, y *pattern.Piece, openX, openY []bool) [][]int {
	names := map[string]int{}
	for i := len(x.Edges) - 1; i >= 0; i-- {
		if openX[i] {
			names[x.Edges[i].Name] = i
		}
	}
	out := make([][]int, len(x.Edges))
	for j, e := range y.Edges {
		i, ok := names[e.Was]
		if _, taken := names[e.Name]; openY[j] && e.Was != "" && ok && !taken {
			out[i] = append(out[i], j)
		}
	}
	for j, e := range y.Edges {
		if i, ok := names[e.Name]; ok && openY[j] && len(out[i]) > 0 {
			out[i] = append(out[i], j)
		}
	}
	return out
}

// oneChain gives edges that follow each other as a chain; of others only the
// one that bears the name, or the first.
func (f *edgeFinder) oneChain(y *outline, list []int, name string, p *pattern.Piece) []int {
	if len(list) < 2 {
		return list
	}
	if y.shaped() {
		if chain, ok := y.joinedUp(list); ok {
			return chain
		}
	}
	for _, j := range list {
		if p.Edges[j].Name == name {
			return []int{j}
		}
	}
	return list[:1]
}

func (f *edgeFinder) byName() {
	names := map[string]int{}
	for i, e := range f.a.Edges {
		if _, seen := names[e.Name]; f.openOld[i] && !seen {
			names[e.Name] = i
		}
	}
	for j, e := range f.b.Edges {
		if i, ok := names[e.Name]; ok && f.open(i, j) {
			f.match([]int{i}, []int{j}, ByName)
		}
	}
}

func (f *edgeFinder) byCorners(corners *pairing) {
	for i := range f.old.paths {
		j, end := corners.before[i], corners.before[f.old.next(i)]
		if j >= 0 && end == f.new.next(j) && f.open(i, j) {
			f.match([]int{i}, []int{j}, ByCorners)
		}
	}
}

// leastOverlap is the part of the shorter edge that must lie on the other one:
// less is a crossing.
const leastOverlap = 0.1

func (f *edgeFinder) byOverlap() {
	type pair struct {
		i, j   int
		common float64
	}
	var pairs []pair
	for i := range f.old.paths {
		for j := range f.new.paths {
			if !f.open(i, j) || f.overlaps <= 0 {
				continue
			}
			common := (f.on(f.old, i, f.new.paths[j]) + f.on(f.new, j, f.old.paths[i])) / 2
			if common > leastOverlap*math.Min(f.old.lengths[i], f.new.lengths[j]) {
				pairs = append(pairs, pair{i, j, common})
			}
		}
	}
	sort.SliceStable(pairs, func(x, y int) bool {
		p, q := pairs[x], pairs[y]
		if math.Abs(p.common-q.common) > f.near {
			return p.common > q.common
		}
		return min(p.i, p.j) < min(q.i, q.j)
	})
	for _, p := range pairs {
		if f.open(p.i, p.j) {
			f.match([]int{p.i}, []int{p.j}, ByOverlap)
		}
	}
}

// on estimates how much of an edge lies on a path, in mm, from places along it.
func (f *edgeFinder) on(o *outline, i int, path curve.Path) float64 {
	const steps = 32
	length := o.lengths[i]
	if length <= f.near || !o.paths[i].Bounds().Grow(f.near).Overlaps(path.Bounds()) {
		return 0
	}
	f.overlaps--
	count := 0
	for k := range steps {
		at := o.paths[i].PointAt(length*(float64(k)+0.5)/steps, lengthTol)
		if path.Nearest(at).Dist <= f.near {
			count++
		}
	}
	return length * float64(count) / steps
}

// byNeighbour adds open edges to the match beside them, where most of the edge
// lies on that match's other side. A match never has several edges on both
// sides.
func (f *edgeFinder) byNeighbour() {
	for g := range f.groups {
		m := &f.groups[g]
		if m.Lies || len(m.Before) != 1 || len(m.After) != 1 {
			continue
		}
		after := f.grow(f.new, m.After, f.openNew, f.old.paths[m.Before[0]])
		before := f.grow(f.old, m.Before, f.openOld, f.new.paths[m.After[0]])
		if len(after) > 1 && len(before) > 1 {
			continue
		}
		m.Before, m.After = before, after
		for _, i := range before {
			f.openOld[i] = false
		}
		for _, j := range after {
			f.openNew[j] = false
		}
	}
}

func (f *edgeFinder) grow(o *outline, chain []int, open []bool, on curve.Path) []int {
	n := len(o.paths)
	fits := func(i int) bool {
		return open[i] && !slices.Contains(chain, i) && 2*f.on(o, i, on) >= o.lengths[i] && o.lengths[i] > f.near
	}
	for i := o.next(chain[len(chain)-1]); fits(i); i = o.next(i) {
		chain = append(slices.Clip(chain), i)
	}
	for i := (chain[0] + n - 1) % n; fits(i); i = (i + n - 1) % n {
		chain = append([]int{i}, chain...)
	}
	return chain
}

// matches gives every edge its fate, in the order of the later outline and then
// of what only the earlier one has.
func (f *edgeFinder) matches() []EdgeMatch {
	for i, open := range f.openOld {
		if open {
			f.groups = append(f.groups, EdgeMatch{Before: []int{i}})
		}
	}
	for j, open := range f.openNew {
		if open {
			f.groups = append(f.groups, EdgeMatch{After: []int{j}})
		}
	}
	for g := range f.groups {
		f.groups[g].Fate = f.fate(f.groups[g])
	}
	rank := func(m EdgeMatch) (int, int) {
		if len(m.After) == 0 {
			return 1, m.Before[0]
		}
		return 0, slices.Min(m.After)
	}
	sort.SliceStable(f.groups, func(x, y int) bool {
		p, i := rank(f.groups[x])
		q, j := rank(f.groups[y])
		return p < q || p == q && i < j
	})
	return f.groups
}

func (f *edgeFinder) fate(m EdgeMatch) Fate {
	switch {
	case len(m.Before) == 0:
		return Added
	case len(m.After) == 0:
		return Removed
	case len(m.After) > 1:
		return Split
	case len(m.Before) > 1:
		return Joined
	case !m.Lies:
		return Changed
	case f.a.Edges[m.Before[0]].Name != f.b.Edges[m.After[0]].Name:
		return Renamed
	}
	return Same
}
