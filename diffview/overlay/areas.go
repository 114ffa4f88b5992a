package overlay

import (
	"math"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// areas are the closed loops between two outlines. By Green's theorem the area
// of a closed chain of cubics is exact, and the loops' signed areas add up to
// the difference of the two outlines.
type areas struct {
	gained, lost []curve.Path
	unsure       bool // some stretch is left out: which side is cloth is not certain there
}

// maxSegments bounds the work: an outline of more segments gets no areas.
const maxSegments = 1500

// changedAreas finds what a piece gained and lost. A stretch where the lines
// cross in another order before than after, and outlines that cross themselves,
// are left out and make the answer unsure: an area is never given the wrong
// sign.
func changedAreas(before, after *pattern.Piece) areas {
	b, a := edgePaths(before), edgePaths(after)
	old, now := join(b), join(a)
	if samePath(old, now) {
		return areas{}
	}
	if len(old) > maxSegments || len(now) > maxSegments || crooked(old) || crooked(now) {
		return areas{unsure: true}
	}
	list, ok := changedChains(b, a)
	if !ok {
		return ringAreas(old, now)
	}
	var out areas
	tangled := tangledWith(list)
	for i, c := range list {
		if tangled[i] {
			out.unsure = true
			continue
		}
		out.take(old, now, c)
	}
	return out
}

// crooked tells whether an outline has no clear inside.
func crooked(outline curve.Path) bool {
	return !(outline.Area() > 0) || len(outline.SelfCrossings()) > 0
}

// tangledWith marks the stretches whose line before meets the line after of
// another stretch: there, what lies between the two lines of a stretch is not
// simply gained or lost.
func tangledWith(list []chains) []bool {
	out := make([]bool, len(list))
	for i, x := range list {
		for j, y := range list {
			if i == j || !x.before.Bounds().Overlaps(y.after.Bounds()) {
				continue
			}
			for _, m := range meetings(x.before, y.after) {
				if !atEnd(x.before, m.at) || !atEnd(y.after, m.at) {
					out[i], out[j] = true, true
				}
			}
		}
	}
	return out
}

func atEnd(p curve.Path, q curve.Point) bool {
	return p.Start().Dist(q) < same || p.End().Dist(q) < same
}

// take adds the loops of one stretch, or none of them.
func (a *areas) take(old, now curve.Path, c chains) {
	loops, ok := loopsOf(c)
	for _, l := range loops {
		ok = ok && rightSide(old, now, l)
	}
	if !ok {
		a.unsure = true
		return
	}
	for _, l := range loops {
		a.add(l)
	}
}

// add takes a loop by its sign: the line after, then the line before backwards,
// goes round what was gained anticlockwise.
func (a *areas) add(loop curve.Path) {
	switch area := loop.Area(); {
	case area > 0:
		a.gained = append(a.gained, loop)
	case area < 0:
		a.lost = append(a.lost, loop)
	}
}

// loopsOf cuts the two chains where they meet. ok is false where they meet in
// another order along one than along the other.
func loopsOf(c chains) (loops []curve.Path, ok bool) {
	if len(c.before) == 0 || len(c.after) == 0 {
		return []curve.Path{loop(c.after, c.before)}, true
	}
	last := cut{before: lastSpot(c.before), after: lastSpot(c.after)}
	cuts := []cut{{}}
	for _, m := range meetings(c.before, c.after) {
		if !isEnd(m.before, last.before) || !isEnd(m.after, last.after) {
			cuts = append(cuts, m)
		}
	}
	cuts = append(cuts, last)
	for k := 1; k < len(cuts); k++ {
		from, to := cuts[k-1], cuts[k]
		if to.after.dist < from.after.dist-1e-6 {
			return nil, false
		}
		now, was := part(c.after, from.after, to.after), part(c.before, from.before, to.before)
		if len(now)+len(was) > 0 {
			loops = append(loops, loop(now, was))
		}
	}
	return loops, true
}

func lastSpot(p curve.Path) spot { return spot{len(p) - 1, 1, p.Length(1e-4)} }

func isEnd(s, last spot) bool { return s.dist < same || s.dist > last.dist-same }

// rightSide looks at the widest place of a loop: cloth after and none before
// where it was gained, and the other way round. Hair-thin loops pass.
func rightSide(old, now, loop curve.Path) bool {
	area := loop.Area()
	q, ok := inner(loop)
	if !ok || math.Abs(area) < 0.05 {
		return true
	}
	return now.Contains(q) == (area > 0) && old.Contains(q) == (area < 0)
}

// inner finds a place well inside a simple loop.
func inner(loop curve.Path) (q curve.Point, ok bool) {
	box, widest := loop.Bounds(), 0.02
	for _, f := range []float64{0.5, 0.31, 0.69, 0.13, 0.87} {
		y := box.Min.Y + f*box.Height()
		var xs []float64
		for _, hit := range loop.CrossingsY(y) {
			xs = append(xs, hit.Point.X)
		}
		if len(xs)%2 != 0 { // a touch: another height will do
			continue
		}
		sort.Float64s(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			if w := xs[i+1] - xs[i]; w > widest {
				q, ok, widest = curve.Pt(xs[i]+w/2, y), true, w
			}
		}
	}
	return q, ok
}

// ringAreas serves outlines that share no corner.
func ringAreas(old, now curve.Path) areas {
	cuts := meetings(old, now)
	if len(cuts) == 0 {
		return apart(old, now)
	}
	var out areas
	out.take(old, now, chains{turned(old, cuts[0].before), turned(now, cuts[0].after)})
	return out
}

// turned gives a ring that begins and ends at a spot of it.
func turned(ring curve.Path, from spot) curve.Path {
	return append(part(ring, from, spot{seg: len(ring) - 1, t: 1}), part(ring, spot{}, from)...)
}

// apart serves outlines that do not meet: one inside the other, when the two
// together bound what changed, or side by side.
func apart(old, now curve.Path) areas {
	switch {
	case now.Contains(old.Start()):
		return areas{gained: []curve.Path{now, old.Reverse()}}
	case old.Contains(now.Start()):
		return areas{lost: []curve.Path{old.Reverse(), now}}
	}
	return areas{gained: []curve.Path{now}, lost: []curve.Path{old.Reverse()}}
}

// sum gives the cloth gained and lost, both 0 or more.
func (a areas) sum() (gained, lost float64) {
	for _, l := range a.gained {
		gained += l.Area()
	}
	for _, l := range a.lost {
		lost -= l.Area()
	}
	return gained, lost
}

// hold tells whether a place lies in cloth that was gained or lost.
func (a areas) hold(q curve.Point) bool {
	return evenOdd(a.gained, q) || evenOdd(a.lost, q)
}

// evenOdd tells whether a place lies inside loops as they are filled.
func evenOdd(loops []curve.Path, q curve.Point) bool {
	in := false
	for _, l := range loops {
		if l.Contains(q) {
			in = !in
		}
	}
	return in
}
