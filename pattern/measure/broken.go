package measure

import (
	"math"

	"seamkeep/pattern"
)

// Broken is where a run does not reach its next edge.
type Broken struct {
	Next int            // the edge that is not reached, by its place in the run
	At   [2]Corner      // where the edge before it ends and where it begins, as far as can be told
	Sewn [2]pattern.Ref // the edges there that a seam would join for the run to go on; without names where that cannot be told
	Over string         // the seam that leads elsewhere from the edge before, if any
	To   []pattern.Ref  // the edges over which it leads on to the one that is not reached; where it does not, that to which it leads
}

// Told tells whether both edges are there, on two pieces, so that a seam could join them.
func (b Broken) Told() bool { return b.Sewn[0].Piece != "" }

// broken looks at the break behind edge i of a run, into which it came at a corner, if
// that is known. Which ends of the two edges were to meet is taken from the turns beside
// the break; else from seams that lead on over other edges, from what is not sewn yet, and
// then from what is nearest in length.
func (m meetings) broken(g *pattern.Garment, r *pattern.Run, i int, came Corner) Broken {
	b := Broken{Next: i + 1}
	p, a, ok1 := g.Edge(r.Refs[i])
	q, c, ok2 := g.Edge(r.Refs[i+1])
	if !ok1 || !ok2 || p == q {
		return b
	}
	leaves, enters := Corner{}, Corner{}
	if came.Piece == p {
		leaves = otherEnd(p, a, came.Index)
	}
	if i+2 < len(r.Refs) {
		if t, ok := m.between(g, r, i+1, i+2, Corner{}); ok {
			enters = otherEnd(q, c, t.At[0].Index)
		}
	}
	// outlines run one way round, so that the end of one edge meets the start of the other
	along := [2]Corner{{p, p.After(a)}, {q, c}}
	against := [2]Corner{{p, a}, {q, q.After(c)}}
	b.At = along
	switch {
	case leaves.Piece != nil:
		b.At = oneOf(leaves == against[0], against, along)
	case enters.Piece != nil:
		b.At = oneOf(enters == against[1], against, along)
	default:
		b.At = oneOf(m.likelier(against, along, a, c), against, along)
	}
	if enters.Piece != nil {
		b.At[1] = enters
	}
	for k, edge := range [2]int{a, c} {
		x := b.At[k]
		b.Sewn[k] = pattern.Ref{Piece: x.Piece.Name, Edge: x.Piece.Edges[beside(x, edge)].Name}
	}
	b.Over, b.To, _ = m.leads(b.At[0], a, end{b.At[1], c})
	return b
}

func oneOf(first bool, a, b [2]Corner) [2]Corner {
	if first {
		return a
	}
	return b
}

// leads follows seams from the end of an edge over the edges of other pieces, 20 at most,
// to another edge, which there tells whether it reaches; where not it gives the first edge
// only.
func (m meetings) leads(from Corner, edge int, to end) (over string, way []pattern.Ref, there bool) {
	for len(way) < 20 {
		x, ok := m.across(from, edge)
		if !ok {
			break
		}
		if over == "" {
			over = x.seam
		}
		from, edge = x.other.Corner, beside(x.other.Corner, x.other.edge)
		if from == to.Corner && edge == to.edge {
			return over, way, true
		}
		way = append(way, pattern.Ref{Piece: from.Piece.Name, Edge: from.Piece.Edges[edge].Name})
		from = otherEnd(from.Piece, edge, from.Index)
	}
	return over, way[:min(len(way), 1)], false
}

// across gives what a seam brings to the end of an edge: one along the edge beside it.
func (m meetings) across(at Corner, edge int) (meeting, bool) {
	for _, x := range m[at] {
		if x.edge == beside(at, edge) {
			return x, true
		}
	}
	return meeting{}, false
}

// otherEnd gives the end of an edge that is not the corner.
func otherEnd(p *pattern.Piece, edge, corner int) Corner {
	if corner == edge {
		return Corner{p, p.After(edge)}
	}
	return Corner{p, edge}
}

// beside gives the edge that meets an edge at a corner.
func beside(c Corner, edge int) int {
	if c.Index == edge {
		return (edge + len(c.Piece.Edges) - 1) % len(c.Piece.Edges)
	}
	return c.Index
}

// likelier tells whether the edges beside edges a and c at two corners are rather meant
// to be sewn than those at two others.
func (m meetings) likelier(this, other [2]Corner, a, c int) bool {
	if _, _, leads := m.leads(this[0], a, end{this[1], c}); leads {
		return true
	}
	if _, _, leads := m.leads(other[0], a, end{other[1], c}); leads {
		return false
	}
	free, freeOther := m.free(this, a, c), m.free(other, a, c)
	if free != freeOther {
		return free > freeOther
	}
	return lengthApart(this, a, c) < lengthApart(other, a, c)
}

// free counts the edges beside a and c at their corners that no seam has there.
func (m meetings) free(at [2]Corner, a, c int) int {
	n := 2
	for k, edge := range [2]int{a, c} {
		if _, sewn := m.across(at[k], edge); sewn {
			n--
		}
	}
	return n
}

func lengthApart(at [2]Corner, a, c int) float64 {
	var long [2]float64
	for k, edge := range [2]int{a, c} {
		long[k] = at[k].Piece.EdgePath(beside(at[k], edge)).Length(Accuracy)
	}
	return math.Abs(long[0] - long[1])
}
