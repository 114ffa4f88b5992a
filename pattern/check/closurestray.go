package check

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Stray is what stands along an edge of a closure and is none of what its kind closes
// with, as buttons that stayed where hooks close now.
type Stray struct {
	Row   measure.Row
	Kind  pattern.MarkKind
	Marks []measure.Standing // the uppermost first
}

// Strays lists the marks along the edges of a closure that its kind does not use: those
// within measure.NearClosure of an edge of it, and of no closure that does use them. A
// single one that placing did not name may serve another end, and is none. Lengths are
// within tol.
func Strays(g *pattern.Garment, c *pattern.Closure, tol float64) []Stray {
	var out []Stray
	seen := map[*pattern.Mark]bool{} // two edges of a piece may reach one
	for _, ref := range c.Edges {
		r, problem := measure.BareRow(g, ref, tol)
		if problem != nil || !closed(r.Piece) {
			continue
		}
		for _, kind := range []pattern.MarkKind{pattern.Button, pattern.Buttonhole, pattern.Eyelet} {
			if measure.Fastens(c.Kind, kind) {
				continue
			}
			list := slices.DeleteFunc(r.Standing(kind, nil, false, tol), func(s measure.Standing) bool {
				return seen[&r.Piece.Marks[s.Index]] || !along(r.Piece, r.Edge, s.Index) || usedElsewhere(g, r.Piece, s.Index)
			})
			if len(list) == 0 || len(list) == 1 && !measure.Numbered(&r.Piece.Marks[list[0].Index]) {
				continue
			}
			for _, s := range list {
				seen[&r.Piece.Marks[s.Index]] = true
			}
			out = append(out, Stray{r, kind, list})
		}
	}
	return out
}

// along tells whether a mark stands near enough to an edge to be one of its closure's.
func along(p *pattern.Piece, edge, mark int) bool {
	return p.EdgePath(edge).Nearest(p.Marks[mark].At).Dist <= measure.NearClosure
}

// usedElsewhere tells whether a mark stands along the edge of a closure that uses it.
func usedElsewhere(g *pattern.Garment, p *pattern.Piece, mark int) bool {
	for i := range g.Closures {
		if !measure.Fastens(g.Closures[i].Kind, p.Marks[mark].Kind) {
			continue
		}
		for _, ref := range g.Closures[i].Edges {
			if q, e, ok := g.Edge(ref); ok && q.Name == p.Name && along(p, e, mark) {
				return true
			}
		}
	}
	return false
}

// Counted names the marks with their number: "5 buttons (b1 to b5)".
func (s Stray) Counted() string {
	first, last := s.Row.Piece.Marks[s.Marks[0].Index].Name, s.Row.Piece.Marks[s.Marks[len(s.Marks)-1].Index].Name
	if len(s.Marks) == 1 {
		return fmt.Sprintf("1 %s (%s)", s.Kind, first)
	}
	return fmt.Sprintf("%s (%s to %s)", counted(len(s.Marks), string(s.Kind)), first, last)
}

// stray tells marks that stayed from what closed an edge before.
func (f *fastener) stray(c *pattern.Closure) diag.List {
	list := Strays(f.in.Garment, c, f.in.Tol)
	if len(list) == 0 {
		return nil
	}
	words := make([]string, len(list))
	var parts []diag.Part
	for i, s := range list {
		words[i] = s.Counted()
		for _, m := range s.Marks {
			parts = append(parts, markPart(s.Row, m, 1))
		}
	}
	r := list[0].Row
	m := &r.Piece.Marks[list[0].Marks[0].Index]
	x := closureProblem("closure.stray", onPiece(m.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(m.At.X, m.At.Y), c, 1)
	joinParts(&x, parts)
	x.Found = fmt.Sprintf("along %s, where closure %s has %s, stand marks of another kind: %s", r.Name(), c.Name, closesWith(c), strings.Join(words, ", "))
	x.Expected = "none that the closure does not use: sheets print them"
	x.Hint = fmt.Sprintf("seamkeep place none %s takes them out; or write in the garment file how it closes", c.Name)
	return diag.List{x}
}

// closesWith is what a closure has, a slide too.
func closesWith(c *pattern.Closure) string {
	if c.Kind == pattern.Slide {
		return "a slide"
	}
	return measure.WordOf(c)
}
