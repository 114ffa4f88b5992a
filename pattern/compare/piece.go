package compare

import (
	"math"
	"runtime"
	"sync"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
	"seamkeep/pattern/measure"
)

// comparePieces matches the pieces of two versions and compares each, in the
// order of pieceNames. A piece that was split or joined appears under its later
// names alone.
func comparePieces(a, b *pattern.Garment, whole *Change, tol float64) []PieceChange {
	edits := editsOf(whole.Edits)
	found := map[string]PieceChange{}
	for _, m := range match.Pieces(a, b, match.Options{}) {
		for _, p := range m.After {
			found[p.Name] = became(m, p)
		}
		if len(m.After) == 0 {
			name := m.Before[0].Name
			found[name] = PieceChange{Name: name, Status: Removed, Before: m.Before[0]}
		}
	}
	var out []PieceChange
	for _, name := range pieceNames(a, b) {
		if c, ok := found[name]; ok {
			out = append(out, c)
		}
	}
	var all sync.WaitGroup
	next := make(chan *PieceChange)
	for range min(len(out), runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for c := range next {
				c.compare(a, b, whole.Levels, edits[c.Name], tol)
			}
		})
	}
	for i := range out {
		next <- &out[i]
	}
	close(next)
	all.Wait()
	return out
}

// became says which pieces of the earlier version p was.
func became(m match.PieceMatch, p *pattern.Piece) PieceChange {
	c := PieceChange{Name: p.Name, After: p}
	for _, old := range m.Before {
		if old.Name != p.Name || len(m.Before) > 1 || m.Fate == match.Split {
			c.Was = append(c.Was, old.Name)
		}
	}
	switch m.Fate {
	case match.Added:
		c.Status = Added
	case match.Split:
		c.Status = Split
	case match.Joined:
		c.Status = Joined
	default:
		c.Before = m.Before[0]
	}
	return c
}

// compare fills in how the piece differs. The edits are those of the file of its
// name, which a piece under another name has to make for itself.
func (c *PieceChange) compare(a, b *pattern.Garment, levels []string, edits []Edit, tol float64) {
	c.Area = Pair{area(c.Before), area(c.After)}
	for _, level := range levels {
		pair := Pair{width(a, c.Before, level), width(b, c.After, level)}
		if pair.Before.Set || pair.After.Set {
			c.Widths = append(c.Widths, AtLevel{level, pair})
		}
	}
	if c.Before == nil || c.After == nil {
		c.Moved = true
		c.Edges = lonelyEdges(c.Before, c.After, tol)
		return
	}
	c.register(a, b)
	c.Edges = compareEdges(a, c.Before, c.After, c.Fit, tol)
	for _, e := range c.Edges {
		c.Moved = c.Moved || !e.Lies()
	}
	if c.Moved {
		c.distances()
	}
	if c.Before.Name != c.After.Name {
		edits = pieceEdits(c.Before, c.After)
	}
	c.Records = c.told(a, b, edits, tol)
	c.Status = c.status()
	c.Moved = c.Moved || c.Status == Moved
}

func (c *PieceChange) status() Status {
	names := false // an edge has another name, was split or joined
	for _, e := range c.Edges {
		names = names || e.Status != Unchanged
	}
	switch {
	case c.Moved || len(c.Records) > 0 || names:
		return Changed
	case c.Fit != curve.Rigid{}:
		return Moved
	case len(c.Was) > 0:
		return Renamed
	}
	return Unchanged
}

// register finds out whether the piece was moved or turned as a whole. Where
// levels hold on a piece, a turn or a rise puts them elsewhere in the cloth:
// such a piece is compared in its own frame and comes out changed.
func (c *PieceChange) register(a, b *pattern.Garment) {
	if c.Before == c.After {
		return
	}
	fit, ok := match.Register(c.Before, c.After, match.Options{})
	levels := hasLevels(a, c.Before) || hasLevels(b, c.After)
	if !ok || fit == (curve.Rigid{}) || levels && (math.Abs(fit.Angle) > 1e-9 || math.Abs(fit.Shift.Y) > Still) {
		return
	}
	box := c.Before.Outline().Bounds()
	middle := box.Min.Lerp(box.Max, 0.5)
	c.Fit, c.Shift = fit, fit.Affine().Apply(middle).Dist(middle)
}

func hasLevels(g *pattern.Garment, p *pattern.Piece) bool {
	return len(p.Levels) > 0 || !p.NoLevels && len(g.Levels) > 0
}

// distances measures how far the outlines lie apart and the cloth between them.
func (c *PieceChange) distances() {
	const near, fine = 1e-3, 1e-4 // mm
	before, after := laid(c.Before.Outline(), c.Fit), c.After.Outline()
	c.Deviation = pattern.Some(curve.Hausdorff(before, after, near).Dist)
	if d := curve.Areas(before, after, fine); d.OK {
		c.Gained, c.Lost = pattern.Some(d.Gained), pattern.Some(d.Lost)
	}
}

// Laid gives the earlier version of the piece laid on the later one: as it is,
// or, where the piece moved as a whole, after that movement. It is nil where
// there is no earlier version.
func (p PieceChange) Laid() *pattern.Piece {
	if p.Before == nil || p.Fit == (curve.Rigid{}) {
		return p.Before
	}
	m, out := p.Fit.Affine(), pattern.Clone(p.Before)
	for i := range out.Corners {
		out.Corners[i].At = m.Apply(out.Corners[i].At)
	}
	for _, e := range out.Edges {
		for i := range e.Segs {
			s := &e.Segs[i]
			s.H1, s.H2, s.To = m.Apply(s.H1), m.Apply(s.H2), m.Apply(s.To)
		}
	}
	return out
}

func laid(path curve.Path, fit curve.Rigid) curve.Path {
	if fit == (curve.Rigid{}) {
		return path
	}
	return path.Transform(fit.Affine())
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
func compareEdges(a *pattern.Garment, before, after *pattern.Piece, fit curve.Rigid, tol float64) []EdgeChange {
	if before == after { // one file that both versions share
		return sharedEdges(after, tol)
	}
	if len(before.Corners) != len(before.Edges) || len(after.Corners) != len(after.Edges) {
		return lonelyEdges(before, after, tol)
	}
	out := make([]EdgeChange, len(after.Edges))
	var gone []EdgeChange
	for _, m := range match.Edges(before, after, match.Options{}) {
		for _, i := range m.After {
			out[i] = added(after, i, tol)
			out[i].comes(a, before, m, fit, tol)
		}
		if len(m.After) == 0 {
			gone = append(gone, removed(before, m.Before[0], tol))
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

// comes tells what an edge of the later version was.
func (e *EdgeChange) comes(a *pattern.Garment, before *pattern.Piece, m match.EdgeMatch, fit curve.Rigid, tol float64) {
	for _, j := range m.Before {
		e.Before = append(e.Before, laid(before.EdgePath(j), fit)...)
		if name := before.Edges[j].Name; name != e.Name || len(m.Before) > 1 || len(m.After) > 1 {
			e.Was = append(e.Was, name)
		}
	}
	if len(e.Before) == 0 {
		return
	}
	e.Length.Before = pattern.Some(e.Before.Length(tol))
	still := Still
	if fit != (curve.Rigid{}) {
		still *= 2 // its coordinates were rounded once more
	}
	switch {
	case len(m.After) > 1 && curve.Lies(e.After, e.Before, still):
		e.Status, e.Before, e.Length.Before = Split, e.After, e.Length.After
	case len(m.After) > 1:
		e.Status, e.Before, e.Length.Before = Added, nil, pattern.Opt{}
	default:
		e.judge(a, before, m.Before[0], still, tol)
		if e.Status == Unchanged && len(m.Before) > 1 {
			e.Status = Joined
		} else if e.Status == Unchanged && len(e.Was) > 0 {
			e.Status = Renamed
		}
	}
}

// judge tells how an edge that both versions have differs.
func (e *EdgeChange) judge(g *pattern.Garment, p *pattern.Piece, edge int, still, tol float64) {
	e.Status = Unchanged
	if samePath(e.Before, e.After) {
		return
	}
	e.Movement = curve.Sideways(e.Before, e.After, still)
	if e.Movement.Moved {
		e.Status = Changed
		e.Largest, e.Other = moves(e.Movement, still)
		for _, m := range []*Move{&e.Largest, &e.Other} {
			if m.Direction != "" {
				m.At = placeName(g, p, edge, atOf(e.Movement, m.Direction), tol)
			}
		}
		e.AtLevels = levelMoves(g, p, e.Before, e.After)
	}
	if e.Before.Start().Dist(e.After.Start()) > 2*still || e.Before.End().Dist(e.After.End()) > 2*still {
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
