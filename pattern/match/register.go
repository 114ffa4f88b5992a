package match

import (
	"math"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// Register finds the movement that lays the earlier version of a piece on the
// later one: where the piece was moved or turned as a whole, by its edges that
// kept length and shape, and by those alone, in the sense of least squares.
//
// Where any edge lies as it lay, the movement is none and ok is true: the piece
// stayed in its frame. Else ok needs at least two edges (or all) that agree on
// one movement, more than half of both outlines: a single edge that was let out
// parallel to itself is congruent too, and is no movement of the piece. Of
// movements that serve equally well, as with a rectangle, the one that keeps
// more names is taken, then the smaller turn. A mirrored piece was not moved.
// Where ok is false the movement is none.
func Register(a, b *pattern.Piece, o Options) (fit curve.Rigid, ok bool) {
	f := frameOf(a, b, o.filled())
	return f.fit, f.ok
}

// frame is two outlines laid on each other.
type frame struct {
	old, new *outline // old after the movement
	fit      curve.Rigid
	ok       bool
	near     float64 // within which two places are the same, mm
}

// turnedFactor widens the tolerance where a piece moved: a file rounds by up to
// 0.0007 mm, the corners by which the movement was found were rounded too.
const turnedFactor = 2

func frameOf(a, b *pattern.Piece, o Options) *frame {
	f := &frame{old: outlineOf(a), new: outlineOf(b), near: o.Within}
	if len(f.old.paths) == 0 || len(f.new.paths) == 0 {
		return f
	}
	if f.anyInPlace() {
		f.ok = true
		return f
	}
	if fit, ok := bestFit(f.old, f.new, o.Within*turnedFactor); ok {
		f.fit, f.ok, f.near = fit, true, o.Within*turnedFactor
		f.old = f.old.moved(fit)
	}
	return f
}

// anyInPlace tells whether some edge lies as it lay, whole, split or joined.
func (f *frame) anyInPlace() bool {
	found := false
	all := func(int, int) bool { return !found }
	see := func(x, y []int) { found = true }
	eachAlike(f.old, f.new, f.near, all, see)
	eachChain(f.old, f.new, f.near, all, see)
	eachChain(f.new, f.old, f.near, all, see)
	return found
}

// shape is what no movement changes about an edge: its chord, its length, and
// where its middle lies along and across the chord.
type shape struct {
	chord, length, along, across float64
}

func shapeOf(p curve.Path, length float64) (shape, bool) {
	d := p.End().Sub(p.Start())
	u, ok := d.Unit()
	if !ok {
		return shape{}, false
	}
	m := p.PointAt(length/2, lengthTol).Sub(p.Start())
	return shape{chord: d.Len(), length: length, along: m.Dot(u), across: u.Cross(m)}, true
}

// like allows each end r of play. The middle may slide along by as much as the
// length differs, and swings by more than r where the chord is short.
func (s shape) like(t shape, r float64) bool {
	swing := r * (2 + 2*math.Max(s.length, t.length)/math.Min(s.chord, t.chord))
	return math.Abs(s.chord-t.chord) <= 2*r && math.Abs(s.length-t.length) <= 8*r &&
		math.Abs(s.along-t.along) <= 8*r+swing && math.Abs(s.across-t.across) <= 8*r+swing
}

// Bounds on the search for a movement: edges of the earlier version tried,
// longest chord first, and edges of the later version tried for each.
const (
	seedEdges = 12
	seedTries = 16
)

// bestFit tries the movements that lay one edge on one of its shape, and keeps
// the one that lays most.
func bestFit(old, new *outline, r float64) (curve.Rigid, bool) {
	is, shapesOld := byChord(old)
	js, shapesNew := byChord(new)
	var best laid
	seen := map[[2]int]bool{} // pairs that a movement already tried has laid
	for _, i := range is[:min(seedEdges, len(is))] {
		tries := 0
		from := sort.Search(len(js), func(k int) bool { return shapesNew[js[k]].chord <= shapesOld[i].chord+2*r })
		for _, j := range js[from:] {
			if tries == seedTries || shapesNew[j].chord < shapesOld[i].chord-2*r {
				break
			}
			if seen[[2]int{i, j}] || !shapesOld[i].like(shapesNew[j], r) {
				continue
			}
			tries++
			l := fitFrom(old, new, i, j, r)
			for k := range l.old {
				seen[[2]int{l.old[k], l.new[k]}] = true
			}
			if l.better(best) {
				best = l
			}
		}
	}
	if !best.enough(old, new) {
		return curve.Rigid{}, false
	}
	return best.fit, true
}

// byChord lists the edges that have a direction, longest chord first.
func byChord(o *outline) ([]int, []shape) {
	shapes := make([]shape, len(o.paths))
	var list []int
	for i, p := range o.paths {
		var ok bool
		if shapes[i], ok = shapeOf(p, o.lengths[i]); ok {
			list = append(list, i)
		}
	}
	sort.SliceStable(list, func(x, y int) bool { return shapes[list[x]].chord > shapes[list[y]].chord })
	return list, shapes
}

// laid is a movement and what it lays: pairs of edges, their length, and how
// many of them keep their name.
type laid struct {
	fit      curve.Rigid
	old, new []int
	length   float64
	names    int
}

// fitFrom betters the movement given by the chords of one pair of edges by the
// pairs that it lays roughly, until these no longer change.
func fitFrom(old, new *outline, i, j int, r float64) laid {
	a, b := old.paths[i], new.paths[j]
	da, db := a.End().Sub(a.Start()), b.End().Sub(b.Start())
	fit := curve.Rigid{Angle: math.Atan2(da.Cross(db), da.Dot(db))}
	if da.Dist(db) <= 2*r {
		fit.Angle = 0
	}
	mid, to := a.Start().Lerp(a.End(), 0.5), b.Start().Lerp(b.End(), 0.5)
	fit.Shift = to.Sub(curve.Rotate(fit.Angle).Apply(mid))
	// A chord that is off by r at both ends is off by more across the piece.
	size := math.Max(old.box().Width(), old.box().Height())
	l := lay(old, new, fit, r*(2+2*size/da.Len()), false)
	for range 3 {
		l = lay(old, new, l.refit(old, new, r), 2*r, false)
	}
	return lay(old, new, l.overCurves(old, new, r), r, true)
}

// lay finds the edges that a movement lays on edges of the later version: by
// their ends, and, if exact, by the whole curve.
func lay(old, new *outline, fit curve.Rigid, r float64, exact bool) laid {
	l := laid{fit: fit}
	m := fit.Affine()
	used := map[int]bool{}
	for i, p := range old.paths {
		if old.lengths[i] <= r {
			continue
		}
		start, end := m.Apply(p.Start()), m.Apply(p.End())
		for _, j := range new.starts.near(start, r) {
			if used[j] || new.paths[j].End().Dist(end) > r || math.Abs(new.lengths[j]-old.lengths[i]) > 8*r {
				continue
			}
			if exact && !agree(p.Transform(m), new.paths[j], r) {
				continue
			}
			used[j] = true
			l.old, l.new = append(l.old, i), append(l.new, j)
			l.length += old.lengths[i]
			if old.piece.Edges[i].Name == new.piece.Edges[j].Name {
				l.names++
			}
			break
		}
	}
	return l
}

// refit gives the movement of least squares over the ends of the pairs; one
// without a turn, on the step of a file, where that serves as well.
func (l laid) refit(old, new *outline, r float64) curve.Rigid {
	var from, to []curve.Point
	for k := range l.old {
		a, b := old.paths[l.old[k]], new.paths[l.new[k]]
		from, to = append(from, a.Start(), a.End()), append(to, b.Start(), b.End())
	}
	if len(from) == 0 {
		return l.fit
	}
	if plain := plainShift(from, to); plain.serves(from, to, r) {
		return curve.Rigid(plain)
	}
	if fit, _, ok := curve.Register(from, to); ok {
		return fit
	}
	return l.fit
}

// overCurves is refit over the whole curves: the ends alone say little of the
// turn where they lie close together.
func (l laid) overCurves(old, new *outline, r float64) curve.Rigid {
	fit := l.refit(old, new, r)
	if fit.Angle == 0 {
		return fit
	}
	from, to := make([]curve.Path, len(l.old)), make([]curve.Path, len(l.new))
	for k := range l.old {
		from[k], to[k] = old.paths[l.old[k]], new.paths[l.new[k]]
	}
	if over, _, ok := curve.RegisterPaths(from, to, lengthTol); ok {
		return over
	}
	return fit
}

// shifted is a movement without a turn.
type shifted curve.Rigid

func plainShift(from, to []curve.Point) shifted {
	sum := curve.Point{}
	for k := range from {
		sum = sum.Add(to[k].Sub(from[k]))
	}
	return shifted{Shift: pattern.Round(sum.Mul(1 / float64(len(from))))}
}

func (s shifted) serves(from, to []curve.Point, r float64) bool {
	for k := range from {
		if from[k].Add(s.Shift).Dist(to[k]) > r {
			return false
		}
	}
	return true
}

func (l laid) better(than laid) bool {
	const equal = 0.1 // mm, far above what rounding does to a length
	switch {
	case math.Abs(l.length-than.length) > equal:
		return l.length > than.length
	case l.names != than.names:
		return l.names > than.names
	}
	return len(than.old) == 0 || math.Abs(l.fit.Angle) < math.Abs(than.fit.Angle)-1e-6
}

// enough tells whether what is laid proves that the piece moved as a whole.
func (l laid) enough(old, new *outline) bool {
	all := len(l.old) == len(old.paths) || len(l.new) == len(new.paths)
	return (len(l.old) >= 2 || len(l.old) == 1 && all) && 2*l.length > old.total && 2*l.length > new.total
}
