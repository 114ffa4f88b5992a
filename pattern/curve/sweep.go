package curve

import (
	"cmp"
	"math"
	"slices"
)

// chord is a straight piece of a flattened segment, from its lower end to its
// higher one.
type chord struct {
	low, high Point
	lean      float64 // x per y
	up        bool    // the walk goes from low to high
	isNew     bool
	sliver    float64 // area between chord and curve, positive where the curve is on the walk's right
}

// xAt is the place of the chord at the height y, exact at its ends.
func (c *chord) xAt(y float64) float64 {
	switch {
	case y <= c.low.Y:
		return c.low.X
	case y >= c.high.Y:
		return c.high.X
	}
	return c.low.X + float64((y-c.low.Y)*c.lean)
}

// share is the part of the sliver between two heights: a parabola's.
func (c *chord) share(y0, y1 float64) float64 {
	part := func(y float64) float64 {
		u := clamp01((y - c.low.Y) / (c.high.Y - c.low.Y))
		return float64(u * u * (3 - 2*u))
	}
	return float64(c.sliver * (part(y1) - part(y0)))
}

// sweep goes up through the chords of two rings and adds up the areas round which
// the new ring less the old one winds.
type sweep struct {
	chords       []chord
	turns        []float64 // heights, among them all at which a chord ends and none begins
	entries      []entry   // of the chords still to come, rising
	gained, lost float64
	wrong        float64 // area round which it winds otherwise than -1, 0 or 1
	active       []active
	cuts         []float64
	work         int
}

// active is a chord that spans the slab, with its places at the two sides.
type active struct {
	c      *chord
	x0, x1 float64
}

const (
	// shear is that of the map (x, y + shear x) under which the sweep is done: it keeps all
	// areas, and level lines, which pattern pieces are full of, are not level then.
	shear    = 0.2360679774997897
	maxSweep = 1 << 28 // steps after which there is no answer
	sameX    = 1e-11   // mm by which two chords may seem to cross from rounding alone
)

// add takes the chord from one place to another, the next of a chain or its
// first. Level ones have nothing above or below them.
func (w *sweep) add(from, to Point, isNew, first bool, sliver float64) {
	from.Y += float64(from.X * shear)
	to.Y += float64(to.X * shear)
	c := chord{low: from, high: to, up: true, isNew: isNew, sliver: sliver}
	if from.Y > to.Y {
		c.low, c.high, c.up = to, from, false
	}
	last := len(w.chords) - 1
	if first || last < 0 || w.chords[last].up != c.up {
		w.turns = append(w.turns, from.Y)
	}
	if c.low.Y < c.high.Y {
		c.lean = (c.high.X - c.low.X) / (c.high.Y - c.low.Y)
		w.chords = append(w.chords, c)
	}
}

// entry is the height at which the sweep meets a chord.
type entry struct {
	y     float64
	chord int32
}

// run sweeps; wrong is infinite where it gave up.
func (w *sweep) run() {
	w.entries = make([]entry, len(w.chords))
	for i := range w.chords {
		w.entries[i] = entry{w.chords[i].low.Y, int32(i)}
	}
	slices.SortFunc(w.entries, func(a, b entry) int { return cmp.Compare(a.y, b.y) })
	slices.Sort(w.turns)
	y, ok := w.next(math.Inf(-1))
	for ok {
		w.enter(y)
		var top float64
		if top, ok = w.next(y); ok {
			w.slab(y, top)
		}
		y = top
		if w.work += len(w.active); w.work > maxSweep {
			w.wrong = math.Inf(1)
			return
		}
	}
}

// next is the height above y at which a chord begins or ends; false above all.
func (w *sweep) next(y float64) (float64, bool) {
	for len(w.turns) > 0 && w.turns[0] <= y {
		w.turns = w.turns[1:]
	}
	switch e, t := w.entries, w.turns; {
	case len(e) > 0 && (len(t) == 0 || e[0].y <= t[0]):
		return e[0].y, true
	case len(t) > 0:
		return t[0], true
	}
	return 0, false
}

// enter drops the chords that end at the height y and takes those that begin there.
func (w *sweep) enter(y float64) {
	keep := w.active[:0]
	for _, a := range w.active {
		if a.c.high.Y > y {
			a.x0 = a.x1
			keep = append(keep, a)
		}
	}
	w.active = keep
	for len(w.entries) > 0 && w.entries[0].y <= y {
		c := &w.chords[w.entries[0].chord]
		w.active = append(w.active, active{c: c, x0: c.low.X})
		w.entries = w.entries[1:]
	}
}

// slab adds what lies between two heights with no corner between them.
func (w *sweep) slab(y0, y1 float64) {
	for i := range w.active {
		a := &w.active[i]
		a.x1 = a.c.xAt(y1)
	}
	order(w.active)
	if !w.cross(y0, y1) {
		w.count(w.active, y0, y1)
		return
	}
	part := append([]active(nil), w.active...)
	for i := 0; i+1 < len(w.cuts); i++ {
		for k := range part {
			a := &part[k]
			a.x0, a.x1 = a.c.xAt(w.cuts[i]), a.c.xAt(w.cuts[i+1])
		}
		order(part)
		w.count(part, w.cuts[i], w.cuts[i+1])
	}
}

// order sorts chords from left to right by their middles; they mostly are in
// order already.
func order(l []active) {
	for i := 1; i < len(l); i++ {
		for k := i; k > 0 && l[k].x0+l[k].x1 < l[k-1].x0+l[k-1].x1; k-- {
			l[k], l[k-1] = l[k-1], l[k]
		}
	}
}

// cross sets cuts to the heights of a slab's sides and of the crossings between
// them; false where there is no crossing.
func (w *sweep) cross(y0, y1 float64) bool {
	l, clear := w.active, true
	for i := 1; i < len(l) && clear; i++ {
		clear = l[i].x0-l[i-1].x0 >= -sameX && l[i].x1-l[i-1].x1 >= -sameX
	}
	if clear {
		return false
	}
	w.work += len(l) * len(l)
	w.cuts = append(w.cuts[:0], y0, y1)
	for i := range l {
		for k := range i {
			d0, d1 := l[i].x0-l[k].x0, l[i].x1-l[k].x1
			if d0 < -sameX && d1 > 0 || d0 > 0 && d1 < -sameX || d0 > sameX && d1 < 0 || d0 < 0 && d1 > sameX {
				w.cuts = append(w.cuts, between(y0, y1, d0/(d0-d1)))
			}
		}
	}
	slices.Sort(w.cuts)
	w.cuts = slices.Compact(w.cuts)
	w.work += len(w.cuts) * len(l)
	return true
}

// count adds the areas between chords that do not cross, from left to right.
func (w *sweep) count(l []active, y0, y1 float64) {
	winding, last := 0, 0.0
	for i := range l {
		a := &l[i]
		x := (a.x0 + a.x1) / 2
		w.addArea(float64((x-last)*(y1-y0)), winding)
		last = x
		// The ring's inside is to the left of its walk: to the left of a chord that goes up.
		outside := winding
		if a.c.up == a.c.isNew {
			winding--
		} else {
			winding++
		}
		if a.c.isNew {
			outside = min(outside, winding)
		} else {
			outside = max(outside, winding)
		}
		w.addSliver(a.c, outside, y0, y1)
	}
	if winding != 0 { // the chords are not those of rings
		w.wrong = math.Inf(1)
	}
}

// addArea adds an area that is wound round. Each turn counts, so that the sum
// stays that of the rings whatever happens.
func (w *sweep) addArea(area float64, winding int) {
	switch {
	case winding > 0:
		w.gained += float64(area * float64(winding))
	case winding < 0:
		w.lost -= float64(area * float64(winding))
	}
	if winding > 1 || winding < -1 {
		w.wrong += math.Abs(area)
	}
}

// addSliver adds what lies between a chord and its curve. Where nothing else
// winds round it, cloth is gained or lost; where the other ring does, what the
// chord left out of that is set right.
func (w *sweep) addSliver(c *chord, outside int, y0, y1 float64) {
	if c.sliver == 0 {
		return
	}
	switch s := c.share(y0, y1); {
	case c.isNew && outside == 0:
		w.gained += s
	case c.isNew:
		w.lost -= s
	case outside == 0:
		w.lost += s
	default:
		w.gained -= s
	}
}
