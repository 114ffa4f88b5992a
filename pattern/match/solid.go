package match

import (
	"math"
	"slices"
	"sort"

	"seamkeep/pattern/curve"
)

// solid is what is cheap to compare of a piece's outline before the outline
// itself.
type solid struct {
	*outline
	ringPath curve.Path
	area     float64
	bounds   curve.Box
	levels   bool // some level holds on the piece
}

// solid measures a piece once; nil for one without an outline or without area.
func (s *pieceSide) solid(i int, within float64) *solid {
	if s.solids[i] == nil {
		p := s.pieces[i]
		o := outlineOf(p)
		ring := o.ring()
		s.solids[i] = &solid{
			outline: o, ringPath: ring, area: ring.Area(), bounds: ring.Bounds(),
			levels: len(p.Levels) > 0 || !p.NoLevels && len(s.garment.Levels) > 0,
		}
	}
	if d := s.solids[i]; math.Abs(d.area) > d.areaPlay(within) {
		return d
	}
	return nil
}

// areaPlay is how much the area changes at most, in mm2, where no point of the
// outline moves by more than r.
func (d *solid) areaPlay(r float64) float64 { return r * (d.total + 8*r) }

// lengthPlay is how much the length of the outline changes, in mm, where the
// control points move by r: at most twice r for each leg of their polygons.
func (d *solid) lengthPlay(r float64) float64 { return 6 * r * float64(1+len(d.ringPath)) }

func boxesAgree(a, b curve.Box, r float64) bool {
	return a.Min.Dist(b.Min) <= 2*r && a.Max.Dist(b.Max) <= 2*r
}

// maxTries bounds how many outlines of one length and area are laid on a piece
// before it is given up.
const maxTries = 16

func (f *pieceFinder) byShape() {
	r := f.o.Within
	f.eachTwin(r, func(p, q *solid) bool {
		return boxesAgree(p.bounds, q.bounds, r) && ringsAgree(p.ringPath, q.ringPath, r)
	})
	r *= turnedFactor
	f.eachTwin(r, func(p, q *solid) bool {
		if p.levels || q.levels {
			return false
		}
		fr := frameOf(p.piece, q.piece, f.o)
		return fr.ok && ringsAgree(fr.old.ring(), q.ringPath, r)
	})
}

// eachTwin pairs the open pieces that equal says are alike, looking only at
// those whose length and area agree, both sides in the order of their names.
func (f *pieceFinder) eachTwin(r float64, equal func(p, q *solid) bool) {
	olds := f.old.byLength(f.o.Within)
	for _, j := range f.new.byPieceName() {
		q := f.new.solid(j, f.o.Within)
		if q == nil {
			continue
		}
		from := sort.Search(len(olds), func(k int) bool { return f.old.solids[olds[k]].total >= q.total-q.lengthPlay(r) })
		var twins []int
		for _, i := range olds[from:] {
			p := f.old.solids[i]
			if p.total > q.total+q.lengthPlay(r) {
				break
			}
			if f.old.open[i] && math.Abs(p.area-q.area) <= q.areaPlay(r) {
				twins = append(twins, i)
			}
		}
		f.old.sortByName(twins)
		for _, i := range twins[:min(maxTries, len(twins))] {
			if equal(f.old.solids[i], q) {
				f.match([]int{i}, []int{j}, ByShape)
				break
			}
		}
	}
}

func (s *pieceSide) byLength(within float64) []int {
	list := slices.DeleteFunc(s.rest(), func(i int) bool { return s.solid(i, within) == nil })
	sort.SliceStable(list, func(x, y int) bool { return s.solids[list[x]].total < s.solids[list[y]].total })
	return list
}

func (s *pieceSide) byPieceName() []int {
	list := s.rest()
	s.sortByName(list)
	return list
}

func (s *pieceSide) sortByName(list []int) {
	sort.SliceStable(list, func(x, y int) bool { return s.pieces[list[x]].Name < s.pieces[list[y]].Name })
}

// ringsAgree tells whether two closed outlines are one, wherever they begin.
func ringsAgree(a, b curve.Path, r float64) bool {
	return curve.Lies(a, b, r) && curve.Lies(b, a, r)
}

// byParts looks for splits and joins among the pieces that are still open.
func (f *pieceFinder) byParts() {
	if len(f.old.rest())+len(f.new.rest()) > f.o.Limit {
		return
	}
	p := partFinder{f: f, tries: f.o.Limit}
	p.beside(&f.old, &f.new, func(g pieceGroup) (int, int) { return g.before[0], g.after[0] }, func(g *pieceGroup, j int) {
		g.after = f.grown(&f.new, g.after, j)
	})
	p.beside(&f.new, &f.old, func(g pieceGroup) (int, int) { return g.after[0], g.before[0] }, func(g *pieceGroup, i int) {
		g.before = f.grown(&f.old, g.before, i)
	})
	p.inTwo(&f.old, &f.new, func(i int, js []int) { f.match([]int{i}, js, ByShape) })
	p.inTwo(&f.new, &f.old, func(j int, is []int) { f.match(is, []int{j}, ByShape) })
}

func (f *pieceFinder) grown(s *pieceSide, list []int, i int) []int {
	s.open[i] = false
	list = append(list, i)
	slices.Sort(list)
	return list
}

// partFinder counts how often three outlines are laid on each other: that is
// the exhaustive part of the search.
type partFinder struct {
	f     *pieceFinder
	tries int
}

// beside looks for an open piece of y that was one with a piece that is matched
// already: the whole of it in x, the other part in y.
func (p *partFinder) beside(x, y *pieceSide, of func(pieceGroup) (int, int), take func(*pieceGroup, int)) {
	rest := y.rest()
	for g := range p.f.groups {
		m := &p.f.groups[g]
		if len(m.before) != 1 || len(m.after) != 1 || len(rest) == 0 {
			continue
		}
		i, k := of(*m)
		w, v := x.solid(i, p.f.o.Within), y.solid(k, p.f.o.Within)
		if w == nil || v == nil {
			continue
		}
		for _, j := range rest {
			if u := y.solid(j, p.f.o.Within); y.open[j] && u != nil && p.makeUp(w, v, u) {
				take(m, j)
				m.how = ByShape
				break
			}
		}
	}
}

// inTwo looks for an open piece of x that is two open pieces of y.
func (p *partFinder) inTwo(x, y *pieceSide, take func(i int, js []int)) {
	r := p.f.o.Within
	js := slices.DeleteFunc(y.rest(), func(j int) bool { return y.solid(j, r) == nil })
	sort.SliceStable(js, func(s, t int) bool { return y.solids[js[s]].area < y.solids[js[t]].area })
	for _, i := range x.byPieceName() {
		w := x.solid(i, r)
		if w == nil {
			continue
		}
		if k, l := p.pair(w, y, js); k >= 0 {
			take(i, slices.Sorted(slices.Values([]int{k, l})))
		}
	}
}

// pair finds the two of a list, sorted by area, that make up a piece; -1 where
// there are none.
func (p *partFinder) pair(w *solid, y *pieceSide, js []int) (int, int) {
	for at, j := range js {
		v := y.solids[j]
		if !y.open[j] {
			continue
		}
		play := w.areaPlay(2 * p.f.o.Within)
		from := sort.Search(len(js), func(k int) bool { return y.solids[js[k]].area >= w.area-v.area-2*play })
		for _, k := range js[max(from, at+1):] {
			if y.solids[k].area > w.area-v.area+2*play {
				break
			}
			if y.open[k] && p.makeUp(w, v, y.solids[k]) {
				return j, k
			}
		}
	}
	return -1, -1
}

// makeUp tells whether two pieces laid edge to edge, in their own frames, are a
// third one: their areas add up to its, its outline lies on theirs, and each of
// theirs on its and on the other's, which is the cut.
func (p *partFinder) makeUp(w, v, u *solid) bool {
	r := p.f.o.Within
	play := w.areaPlay(r) + v.areaPlay(r) + u.areaPlay(r)
	if math.Abs(w.area-v.area-u.area) > play || !boxesAgree(w.bounds, v.bounds.Union(u.bounds), r) {
		return false
	}
	if p.tries--; p.tries < 0 {
		return false
	}
	on := func(a, b, c curve.Path) bool { return curve.Lies(a, slices.Concat(b, c), r) }
	return on(w.ringPath, v.ringPath, u.ringPath) && on(v.ringPath, w.ringPath, u.ringPath) && on(u.ringPath, w.ringPath, v.ringPath)
}
