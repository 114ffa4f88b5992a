package compare

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/match"
)

// notchJudge tells how notches moved along their edges.
type notchJudge struct {
	change  *PieceChange
	a, b    *pattern.Garment
	tol     float64
	matches []match.EdgeMatch
	before  map[string]int    // the match of each earlier edge
	after   map[string]int    // and of each later one
	corners map[string]string // what each earlier corner is called now
}

func newNotchJudge(c *PieceChange, a, b *pattern.Garment, m match.PieceParts, tol float64) notchJudge {
	j := notchJudge{change: c, a: a, b: b, tol: tol, matches: m.Edges, before: map[string]int{}, after: map[string]int{}, corners: map[string]string{}}
	for k, e := range m.Edges {
		for _, i := range e.Before {
			j.before[c.Before.Edges[i].Name] = k
		}
		for _, i := range e.After {
			j.after[c.After.Edges[i].Name] = k
		}
	}
	for _, p := range m.Corners {
		if p.Before >= 0 && p.After >= 0 {
			j.corners[c.Before.Corners[p.Before].Name] = c.After.Corners[p.After].Name
		}
	}
	return j
}

// judge measures from the beginning of the edge, or of all the edges that it was
// split in. A notch that is given as it was did not move, nor one that is only
// written otherwise.
func (j notchJudge) judge(p *PartChange) {
	x, y := j.change.Before.Notches[p.Before], j.change.After.Notches[p.After]
	if x.Edge.Name != y.Edge.Name {
		p.WasEdge = x.Edge.Name
	}
	k, was := j.before[x.Edge.Name]
	l, is := j.after[y.Edge.Name]
	p.strayed = was && is && k != l || was != is
	if p.strayed {
		p.WasEdge = x.Edge.Name
	}
	if p.strayed || pattern.Same(j.renamed(x.On), y.On) {
		p.settle(false)
		return
	}
	if !was {
		p.settle(true)
		return
	}
	m := j.matches[k]
	at, ok := j.along(j.a, j.change.Before, m.Before, x)
	to, ok2 := j.along(j.b, j.change.After, m.After, y)
	if ok && ok2 {
		from := j.change.laidAt(j.change.Before.EdgePath(at.edge).PointAt(at.on, j.tol))
		p.goes(math.Abs(to.far-at.far), from, j.change.After.EdgePath(to.edge).PointAt(to.on, j.tol))
	}
	p.settle(!ok || !ok2)
}

// renamed gives a spot with the corners under their later names.
func (j notchJudge) renamed(s pattern.Spot) pattern.Spot {
	for _, name := range []*string{&s.Corner, &s.Nearest} {
		if now, ok := j.corners[*name]; ok {
			*name = now
		}
	}
	return s
}

// onEdge is a place on an edge: mm from the edge's first corner, and from the
// first corner of the edges that follow each other.
type onEdge struct {
	edge    int
	on, far float64
}

// along finds the place of a notch on edges that follow each other.
func (j notchJudge) along(g *pattern.Garment, p *pattern.Piece, edges []int, n pattern.Notch) (onEdge, bool) {
	if len(p.Corners) != len(p.Edges) {
		return onEdge{}, false
	}
	far := 0.0
	for _, i := range edges {
		if p.Edges[i].Name == n.Edge.Name {
			d, err := g.SpotAt(p, i, n.On, j.tol)
			return onEdge{i, d, far + d}, err == nil
		}
		far += p.EdgePath(i).Length(j.tol)
	}
	return onEdge{}, false
}
