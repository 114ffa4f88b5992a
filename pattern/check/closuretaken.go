package check

import (
	"fmt"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// edgeUse is one closure or one seam that takes an edge, or a span of it.
type edgeUse struct {
	ref     pattern.Ref
	closure int           // number of the closure, or -1
	seam    *pattern.Seam // nil of a closure
	apart   bool          // all that the seam sews to the edge is apart: a facing, a lining
}

// usesOf lists what takes the edges that close the garment, in the order of the file:
// closures, then seams.
func usesOf(g *pattern.Garment) map[string][]edgeUse {
	out := map[string][]edgeUse{}
	for i := range g.Closures {
		for _, ref := range g.Closures[i].Edges {
			key := ref.Piece + "." + ref.Edge
			out[key] = append(out[key], edgeUse{ref: ref, closure: i})
		}
	}
	if len(out) == 0 {
		return out
	}
	for i := range g.Seams {
		s := &g.Seams[i]
		for _, sides := range [][2][]pattern.Ref{{s.First, s.Second}, {s.Second, s.First}} {
			for _, ref := range sides[0] {
				key := ref.Piece + "." + ref.Edge
				if out[key] != nil {
					out[key] = append(out[key], edgeUse{ref: ref, closure: -1, seam: s, apart: !s.Mirrored && allApart(g, sides[1])})
				}
			}
		}
	}
	return out
}

// allApart tells whether edges are all of pieces that are apart.
func allApart(g *pattern.Garment, refs []pattern.Ref) bool {
	return len(refs) > 0 && !slices.ContainsFunc(refs, func(r pattern.Ref) bool { return !g.Option(r.Piece).Apart })
}

// taken tells that an edge of a closure is sewn shut, or closed by an earlier closure
// too, and over which length; sewn, whether a seam does it. A facing or a lining that is
// sewn to it leaves it open.
func (f *fastener) taken(i int) (out diag.List, sewn bool) {
	c := &f.in.Garment.Closures[i]
	for n, ref := range c.Edges {
		mine, problem := measure.BareRow(f.in.Garment, ref, f.in.Tol)
		if problem != nil || !closed(mine.Piece) {
			continue
		}
		for _, u := range f.uses[ref.Piece+"."+ref.Edge] {
			again := u.closure == i && slices.Index(c.Edges, u.ref) < n
			if u.apart || u.closure > i || u.closure == i && !again {
				continue
			}
			other, problem := measure.BareRow(f.in.Garment, u.ref, f.in.Tol)
			from, to := max(mine.From, other.From), min(mine.To, other.To)
			if problem != nil || to-from <= onLine {
				continue
			}
			sewn = sewn || u.seam != nil
			out = append(out, f.takenBy(c, u, mine, from, to))
		}
	}
	return worstOfEach(out), sewn
}

// takerOf names what takes an edge.
func (f *fastener) takerOf(u edgeUse) string {
	if u.seam != nil {
		return u.seam.Name
	}
	return f.in.Garment.Closures[u.closure].Name
}

// takenBy says what takes a stretch of an edge that a closure has, mm along the edge.
func (f *fastener) takenBy(c *pattern.Closure, u edgeUse, r measure.Row, from, to float64) diag.Problem {
	x := closureProblem("closure.taken", c.Place, c, to-from)
	at := r.Piece.EdgePath(r.Edge).PointAt((from+to)/2, f.in.Tol)
	x.Place = onPiece(x.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(at.X, at.Y)
	x.AddPart(r.Name()+" "+f.takerOf(u), x.Amount)
	span := fmt.Sprintf("give each its span: %s from NOTCH to NOTCH", r.Name())
	switch {
	case u.seam != nil:
		x.Found = fmt.Sprintf("closure %s opens %s, of which seam %s sews %.1f shut", c.Name, r.Name(), u.seam.Name, to-from)
		x.Expected = "an edge that is open where the closure is"
		x.Hint = fmt.Sprintf("take one of the two lines out, or %s; of a facing or a lining that is sewn on write piece NAME apart", span)
		x.Related = []diag.Related{{Place: u.seam.Place, Text: "seam " + u.seam.Name}}
	case f.in.Garment.Closures[u.closure].Name == c.Name:
		x.Found = fmt.Sprintf("closure %s names %s twice", c.Name, r.Name())
		x.Expected = "the edge of each half"
		x.Hint = "write it once where the piece is cut as a mirrored pair; else name the edge of the other half"
	default:
		first := &f.in.Garment.Closures[u.closure]
		x.Found = fmt.Sprintf("closures %s and %s both close %s, over %.1f", first.Name, c.Name, r.Name(), to-from)
		x.Expected = "one closure on each stretch of an edge: girth and gap count the overlap of both"
		x.Hint = fmt.Sprintf("take one of the two lines out, or %s", span)
		x.Related = []diag.Related{{Place: first.Place, Text: "closure " + first.Name}}
	}
	return x
}
