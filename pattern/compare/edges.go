package compare

import (
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
	"seamkeep/pattern/measure"
)

// lonelyEdges gives the edges of a piece that only one version has.
func lonelyEdges(before, after *pattern.Piece, tol float64) []EdgeChange {
	var out []EdgeChange
	if after != nil && len(after.Corners) == len(after.Edges) {
		for i := range after.Edges {
			out = append(out, added(after, i, tol))
		}
	}
	if before != nil && len(before.Corners) == len(before.Edges) {
		for i := range before.Edges {
			out = append(out, removed(before, i, tol))
		}
	}
	return out
}

func added(p *pattern.Piece, i int, tol float64) EdgeChange {
	e := EdgeChange{Name: p.Edges[i].Name, Status: Added, After: p.EdgePath(i)}
	e.Length.After = pattern.Some(e.After.Length(tol))
	return e
}

func removed(p *pattern.Piece, i int, tol float64) EdgeChange {
	e := EdgeChange{Name: p.Edges[i].Name, Status: Removed, Before: p.EdgePath(i)}
	e.Length.Before = pattern.Some(e.Before.Length(tol))
	return e
}

// compareEdges gives the edges of the later version in outline order, each with
// what it was, then those that went. The earlier version is laid on the later
// one by fit.
func compareEdges(a *pattern.Garment, before, after *pattern.Piece, matches []match.EdgeMatch, fit curve.Rigid, tol float64) []EdgeChange {
	if len(before.Corners) != len(before.Edges) || len(after.Corners) != len(after.Edges) {
		return lonelyEdges(before, after, tol)
	}
	old := newOldEdges(a, before, fit, tol)
	out := make([]EdgeChange, len(after.Edges))
	var gone []EdgeChange
	for _, m := range matches {
		for _, i := range m.After {
			out[i] = added(after, i, tol)
		}
		switch {
		case len(m.After) == 0:
			gone = append(gone, removed(before, m.Before[0], tol))
		case len(m.Before) == 0:
		case len(m.After) > 1:
			old.split(out, after, m)
		default:
			old.became(&out[m.After[0]], m.Before)
		}
	}
	return append(out, gone...)
}

// sharedEdges gives the edges of a piece that is one and the same in both
// versions.
func sharedEdges(p *pattern.Piece, tol float64) []EdgeChange {
	out := lonelyEdges(nil, p, tol)
	for i := range out {
		e := &out[i]
		e.Status, e.Before, e.Length.Before = Unchanged, e.After, e.Length.After
	}
	return out
}

// oldEdges are the edges of the earlier version, laid on the later one, that the
// later ones are measured against.
type oldEdges struct {
	garment *pattern.Garment
	piece   *pattern.Piece
	fit     curve.Rigid
	still   float64 // mm within which a point has not moved
	tol     float64
}

func newOldEdges(g *pattern.Garment, p *pattern.Piece, fit curve.Rigid, tol float64) oldEdges {
	o := oldEdges{g, p, fit, Still, tol}
	if fit != (curve.Rigid{}) {
		o.still *= 2 // its coordinates were rounded once more
	}
	return o
}

// path joins edges that follow each other.
func (o oldEdges) path(edges []int) curve.Path {
	var out curve.Path
	for _, i := range edges {
		out = append(out, laid(o.piece.EdgePath(i), o.fit)...)
	}
	return out
}

// became tells how a later edge differs from one earlier edge, or from several
// that it was joined from.
func (o oldEdges) became(e *EdgeChange, edges []int) {
	for _, i := range edges {
		if name := o.piece.Edges[i].Name; name != e.Name || len(edges) > 1 {
			e.Was = append(e.Was, name)
		}
	}
	e.Before = o.path(edges)
	if len(e.Before) == 0 {
		return
	}
	e.Length.Before = pattern.Some(e.Before.Length(o.tol))
	e.Status = Unchanged
	e.redrawn = o.measure(e, e.Before, edges, nil)
	switch {
	case len(edges) > 1:
		e.Status = Joined
	case e.redrawn:
		e.Status = Changed
	case len(e.Was) > 0:
		e.Status = Renamed
	}
}

// split tells how the parts that an edge was split in differ from it. Each is
// held against the whole of the old edge, which is cut for them at the feet of
// the new corners.
func (o oldEdges) split(out []EdgeChange, after *pattern.Piece, m match.EdgeMatch) {
	whole, last := o.path(m.Before), len(m.After)-1
	if len(whole) == 0 || !finite(whole) || !finite(after.Outline()) {
		return
	}
	cuts := make([]float64, len(m.After)+1)
	var joints []spot
	for k, i := range m.After[1:] {
		n := whole.Nearest(after.Corners[i].At)
		cuts[k+1] = max(cuts[k], whole.LengthTo(n.Seg, n.T, o.tol))
		joints = append(joints, spot{after.Corners[i].Name, cuts[k+1]})
	}
	cuts[last+1] = whole.Length(o.tol)
	for k, i := range m.After {
		e := &out[i]
		e.Status, e.Was = Split, []string{o.piece.Edges[m.Before[0]].Name}
		if curve.Lies(e.After, whole, o.still) {
			e.Before, e.Length.Before = e.After, e.Length.After
			continue
		}
		e.Before = whole.SubPath(cuts[k], cuts[k+1], o.tol)
		e.Length.Before = pattern.Some(cuts[k+1] - cuts[k])
		e.redrawn = true
		o.measure(e, whole, m.Before, joints)
	}
}

// measure finds the movement of an edge against an old path, that of the given
// old edges, and tells whether the edge lies elsewhere. Places are named by what
// stands on the old edges, and by the joints.
func (o oldEdges) measure(e *EdgeChange, old curve.Path, edges []int, joints []spot) bool {
	if samePath(old, e.After) {
		return false
	}
	e.Movement = curve.Sideways(old, e.After, o.still)
	if e.Movement.Moved {
		e.Largest, e.Other = moves(e.Movement, o.still)
		spots := append(o.spots(edges), joints...)
		for _, m := range []*Move{&e.Largest, &e.Other} {
			if m.Direction != "" {
				m.At = nearestSpot(spots, atOf(e.Movement, m.Direction))
			}
		}
		if e.Other.At == e.Largest.At && e.Other.Distance <= endEffect*e.grown(old, o.tol) {
			e.Other = Move{}
		}
		e.AtLevels = levelMoves(o.garment, o.piece, old, e.After)
		return true
	}
	return old.Start().Dist(e.After.Start()) > 2*o.still || old.End().Dist(e.After.End()) > 2*o.still
}

// endEffect is the part of what an edge grew beyond its old end that the growth
// may swerve, or bend the edge before it, before that is a movement of its own
// beside a larger one at the same end: a twelfth is 5 degrees. Common practice, no
// source.
const endEffect = 1.0 / 12

// grown gives how far beyond the old ends the largest movements were measured,
// mm: there the old edge is extended along its tangent.
func (e *EdgeChange) grown(old curve.Path, tol float64) float64 {
	most, length := 0.0, old.Length(tol)
	for _, s := range []curve.Sample{e.Movement.Out, e.Movement.In} {
		switch {
		case s.At <= 0:
			most = max(most, s.Old.Dist(old.Start()))
		case s.At >= length-tol:
			most = max(most, s.Old.Dist(old.End()))
		}
	}
	return most
}

func samePath(a, b curve.Path) bool { return slices.Equal(a, b) }

// moves gives the largest movement, and the largest the other way where that is
// over still.
func moves(m curve.Movement, still float64) (largest, other Move) {
	largest = Move{Distance: m.Out.Dist, Direction: "out", Old: m.Out.Old, New: m.Out.New}
	other = Move{Distance: -m.In.Dist, Direction: "in", Old: m.In.Old, New: m.In.New}
	if other.Distance > largest.Distance {
		largest, other = other, largest
	}
	if other.Distance <= still {
		other = Move{}
	}
	return largest, other
}

func atOf(m curve.Movement, direction string) float64 {
	if direction == "in" {
		return m.In.At
	}
	return m.Out.At
}

// spot is a named place on an edge, mm along it.
type spot struct {
	name string
	at   float64
}

// nearestSpot names the spot next to a distance; the first of those at one place.
func nearestSpot(spots []spot, at float64) string {
	best, gap := "", 0.0
	for _, s := range spots {
		off := math.Abs(s.at - at)
		if best == "" || off < gap-1e-6 {
			best, gap = s.name, off
		}
	}
	return best
}

// spots lists what stands on edges that follow each other: levels, notches, then
// corners.
func (o oldEdges) spots(edges []int) []spot {
	g, p := o.garment, o.piece
	var path curve.Path
	var notches, corners []spot
	from := 0.0
	for _, i := range edges {
		corners = append(corners, spot{p.Corners[i].Name, from})
		for _, n := range p.Notches {
			if n.Edge.Name != p.Edges[i].Name {
				continue
			}
			if d, err := g.SpotAt(p, i, n.On, o.tol); err == nil {
				notches = append(notches, spot{n.Name, from + d})
			}
		}
		edge := p.EdgePath(i)
		from += edge.Length(o.tol)
		path = append(path, edge...)
	}
	corners = append(corners, spot{p.Corners[p.After(edges[len(edges)-1])].Name, from})
	var out []spot
	for _, l := range levelsOn(g, p) {
		if y, ok := g.LevelOn(p, l); ok {
			for _, hit := range path.CrossingsY(y) {
				out = append(out, spot{l, path.LengthTo(hit.Seg, hit.T, o.tol)})
			}
		}
	}
	return append(append(out, notches...), corners...)
}

// levelMoves gives how far the edge moved along each level line that both
// versions of it cross once, steeply enough for that to have a meaning. It is
// what the width at the level gained there.
func levelMoves(g *pattern.Garment, p *pattern.Piece, before, after curve.Path) []LevelMove {
	var out []LevelMove
	for _, l := range levelsOn(g, p) {
		y, ok := g.LevelOn(p, l)
		if !ok {
			continue
		}
		was, is := before.CrossingsY(y), after.CrossingsY(y)
		if len(was) != 1 || len(is) != 1 {
			continue
		}
		t, ok := before[was[0].Seg].Tangent(was[0].T)
		if !ok || math.Abs(t.Y) < steep {
			continue
		}
		out = append(out, LevelMove{l, math.Copysign(1, t.Y) * (is[0].Point.X - was[0].Point.X)})
	}
	return out
}

// steep is the sine of the least angle, 30 degrees, between an edge and a level
// line at which the movement along the line is told.
const steep = 0.5

func levelsOn(g *pattern.Garment, p *pattern.Piece) []string {
	var own []string
	for _, l := range p.Levels {
		own = append(own, l.Name)
	}
	return union(own, measure.LevelNames(g))
}
