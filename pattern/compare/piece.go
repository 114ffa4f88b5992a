package compare

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

func comparePiece(a, b *pattern.Garment, name string, levels []string, tol float64) PieceChange {
	before, after := a.Piece(name), b.Piece(name)
	c := PieceChange{Name: name, Before: before, After: after, Status: Unchanged}
	c.Area = Pair{area(before), area(after)}
	for _, level := range levels {
		pair := Pair{width(a, before, level), width(b, after, level)}
		if pair.Before.Set || pair.After.Set {
			c.Widths = append(c.Widths, AtLevel{level, pair})
		}
	}
	switch {
	case before == nil:
		c.Status, c.Moved = Added, true
	case after == nil:
		c.Status, c.Moved = Removed, true
	}
	c.Edges = compareEdges(a, b, before, after, tol)
	if c.Status != Unchanged {
		return c
	}
	for _, e := range c.Edges {
		if e.Status != Unchanged {
			c.Moved = true
		}
	}
	return c
}

// tell adds what changed of the piece's other records.
func (p *PieceChange) tell(records []string) {
	if p.Before == nil || p.After == nil {
		return
	}
	p.Records = records
	if p.Moved || len(records) > 0 {
		p.Status = Changed
	}
}

func area(p *pattern.Piece) pattern.Opt {
	if p == nil {
		return pattern.Opt{}
	}
	return pattern.Some(measure.Area(p))
}

func width(g *pattern.Garment, p *pattern.Piece, level string) pattern.Opt {
	if p == nil {
		return pattern.Opt{}
	}
	if w, ok := measure.Width(g, p, level); ok {
		return pattern.Some(w)
	}
	return pattern.Opt{}
}

// compareEdges matches edges by name: those of the later version in outline
// order, then those that went.
func compareEdges(a, b *pattern.Garment, before, after *pattern.Piece, tol float64) []EdgeChange {
	var out []EdgeChange
	if after != nil {
		for i := range after.Edges {
			e := EdgeChange{Name: after.Edges[i].Name, Status: Added, After: after.EdgePath(i)}
			e.Length.After = pattern.Some(e.After.Length(tol))
			if before != nil {
				if j := before.EdgeIndex(e.Name); j >= 0 {
					e.Before = before.EdgePath(j)
					e.Length.Before = pattern.Some(e.Before.Length(tol))
					e.judge(a, before, j, tol)
				}
			}
			out = append(out, e)
		}
	}
	if before != nil {
		for j := range before.Edges {
			if after != nil && after.EdgeIndex(before.Edges[j].Name) >= 0 {
				continue
			}
			path := before.EdgePath(j)
			out = append(out, EdgeChange{
				Name: before.Edges[j].Name, Status: Removed, Before: path,
				Length: Pair{Before: pattern.Some(path.Length(tol))},
			})
		}
	}
	return out
}

// judge tells how an edge that both versions have differs.
func (e *EdgeChange) judge(g *pattern.Garment, p *pattern.Piece, edge int, tol float64) {
	e.Status = Unchanged
	if samePath(e.Before, e.After) {
		return
	}
	e.Movement = curve.Sideways(e.Before, e.After, Still)
	if e.Movement.Moved {
		e.Status = Changed
		e.Largest = largest(e.Movement)
		e.Largest.At = placeName(g, p, edge, atOf(e.Movement, e.Largest.Direction), tol)
		e.AtLevels = levelMoves(g, p, e.Before, e.After)
	}
	if e.Before.Start().Dist(e.After.Start()) > 2*Still || e.Before.End().Dist(e.After.End()) > 2*Still {
		e.Status = Changed
	}
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

func largest(m curve.Movement) Move {
	if m.Out.Dist >= -m.In.Dist {
		return Move{Distance: m.Out.Dist, Direction: "out", Old: m.Out.Old, New: m.Out.New}
	}
	return Move{Distance: -m.In.Dist, Direction: "in", Old: m.In.Old, New: m.In.New}
}

func atOf(m curve.Movement, direction string) float64 {
	if direction == "in" {
		return m.In.At
	}
	return m.Out.At
}

// placeName names the corner, notch or level of an edge that lies next to a
// distance along it; a level wins over a corner at the same place.
func placeName(g *pattern.Garment, p *pattern.Piece, edge int, at, tol float64) string {
	path := p.EdgePath(edge)
	length := path.Length(tol)
	best, gap := "", 0.0
	offer := func(name string, d float64) {
		off := max(d-at, at-d)
		if best == "" || off < gap-1e-6 {
			best, gap = name, off
		}
	}
	for _, l := range levelsOn(g, p) {
		y, ok := g.LevelOn(p, l)
		if !ok {
			continue
		}
		for _, hit := range path.CrossingsY(y) {
			offer(l, path.LengthTo(hit.Seg, hit.T, tol))
		}
	}
	for _, n := range p.Notches {
		if n.Edge.Name != p.Edges[edge].Name {
			continue
		}
		if d, err := g.SpotAt(p, edge, n.On, tol); err == nil {
			offer(n.Name, d)
		}
	}
	offer(p.Corners[edge].Name, 0)
	offer(p.Corners[p.After(edge)].Name, length)
	return best
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
