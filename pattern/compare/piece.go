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
		c.Parts = lonelyParts(c.Before, c.After)
		return
	}
	if c.Before == c.After { // one file that both versions share
		c.Edges, c.Parts, c.Status = sharedEdges(c.After, tol), sharedParts(c.After), Unchanged
		return
	}
	m := match.Parts(a, b, c.Before, c.After, match.Options{})
	c.register(a, b, m)
	c.Edges = compareEdges(a, c.Before, c.After, m.Edges, c.Fit, tol)
	c.Parts = c.compareParts(a, b, m, tol)
	for _, e := range c.Edges {
		c.Moved = c.Moved || !e.Lies()
	}
	if c.Moved {
		c.distances()
	}
	if c.Before.Name != c.After.Name {
		edits = pieceEdits(c.Before, c.After)
	}
	c.Records = c.told(edits)
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
func (c *PieceChange) register(a, b *pattern.Garment, m match.PieceParts) {
	fit, levels := m.Fit, hasLevels(a, c.Before) || hasLevels(b, c.After)
	if !m.OK || fit == (curve.Rigid{}) || levels && (math.Abs(fit.Angle) > 1e-9 || math.Abs(fit.Shift.Y) > Still) {
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
