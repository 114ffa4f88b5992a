package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Halves tells a closure that has one edge where it needs two, and two edges that are
// not equally long: what is fastened at one end is crooked at the other. Lengths are
// within tol.
func Halves(g *pattern.Garment, c *pattern.Closure, tol float64) diag.List {
	var rows []measure.Row
	for _, ref := range c.Edges {
		r, problem := measure.BareRow(g, ref, tol)
		if problem != nil || !closed(r.Piece) {
			return nil
		}
		rows = append(rows, r)
	}
	switch {
	case len(rows) == 1 && !measure.Mirrored(g, rows[0].Piece):
		return diag.List{oneEdge(c, rows[0])}
	case len(rows) < 2:
		return nil
	}
	limit, _ := g.SeamTolerance(nil)
	long, short := rows[0], rows[1]
	if long.Length() < short.Length() {
		long, short = short, long
	}
	off := long.Length() - short.Length()
	if off <= limit+slack {
		return nil
	}
	x := closureProblem("closure.halves", c.Place, c, off)
	x.Place = onPiece(x.Place, long.Piece, long.Piece.Edges[long.Edge].Name)
	x.Found = fmt.Sprintf("the two edges of closure %s are %.1f (%s) and %.1f (%s) long", c.Name, rows[0].Length(), rows[0].Ref.String(), rows[1].Length(), rows[1].Ref.String())
	x.Expected = fmt.Sprintf("at most %g between them, so that %s", limit, purpose(c))
	x.Hint = fmt.Sprintf("take %.1f off %s at its ends, or add as much to %s", off, long.Name(), short.Name())
	x.Related = []diag.Related{{Place: onPiece(short.Piece.Edges[short.Edge].Place, short.Piece, short.Piece.Edges[short.Edge].Name), Text: "the shorter one"}}
	return diag.List{x}
}

// purpose says what two edges of one length are for.
func purpose(c *pattern.Closure) string {
	switch c.Kind {
	case pattern.ButtonClosure:
		return "buttons meet their holes"
	case pattern.Lacing:
		return "eyelets stand opposite"
	case pattern.HookClosure:
		return "hooks meet their eyes"
	}
	return "neither is sewn on in waves"
}

func oneEdge(c *pattern.Closure, r measure.Row) diag.Problem {
	x := closureProblem("closure.one-edge", c.Place, c, 1)
	x.Place = onPiece(x.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	x.Found = fmt.Sprintf("closure %s has one edge, %s, and %s is cut once", c.Name, r.Name(), r.Piece.Name)
	x.Expected = "the edge of the other half too"
	x.Hint = fmt.Sprintf("write both: closure %s %s %s PIECE.EDGE", c.Name, c.Kind, r.Ref.String())
	return x
}

// half is the eyelets that one half of the garment has at a closure.
type half struct {
	name  string // as it is told: "the left half of a.front", or PIECE.EDGE
	row   measure.Row
	marks []measure.Standing // the uppermost first
}

// onHalf gives the eyelets of a row that a half of the garment has: "left" or "right".
func onHalf(r markedRow, side string) half {
	h := half{name: "the " + side + " half of " + r.Name(), row: r.Row}
	for _, s := range r.marks {
		if only := r.Piece.Marks[s.Index].Only; only == "" || only == side {
			h.marks = append(h.marks, s)
		}
	}
	return h
}

// laced gives the pairs of rows that a lacing draws together: its two edges, on each half
// where both halves have them; or its one edge, on the left and on the right half. Nil
// where an edge is not known.
func (f *fastener) laced(c *pattern.Closure) [][2]half {
	const left, right = string(pattern.LeftHalf), string(pattern.RightHalf)
	rows, _ := f.standing(c)
	twice := func(r markedRow) bool { return measure.Mirrored(f.in.Garment, r.Piece) }
	switch {
	case len(rows) != len(c.Edges):
		return nil
	case len(rows) == 1 && twice(rows[0]):
		return [][2]half{{onHalf(rows[0], left), onHalf(rows[0], right)}}
	case len(rows) == 2 && twice(rows[0]) && twice(rows[1]) && (partial(rows[0]) || partial(rows[1])):
		return [][2]half{{onHalf(rows[0], left), onHalf(rows[1], left)}, {onHalf(rows[0], right), onHalf(rows[1], right)}}
	case len(rows) == 2:
		return [][2]half{{{rows[0].Name(), rows[0].Row, rows[0].marks}, {rows[1].Name(), rows[1].Row, rows[1].marks}}}
	}
	return nil
}

// partial tells whether some eyelets of a row are of one half only.
func partial(r markedRow) bool {
	return slices.ContainsFunc(r.marks, func(s measure.Standing) bool { return r.Piece.Marks[s.Index].Only != "" })
}

// opposite tells a lacing whose halves have unequal numbers of eyelets: each stands
// opposite one of the other half.
func (f *fastener) opposite(c *pattern.Closure) diag.List {
	if c.Kind != pattern.Lacing {
		return nil
	}
	var out diag.List
	for _, pair := range f.laced(c) {
		if more, less := pair[0], pair[1]; len(more.marks) > len(less.marks) {
			out = append(out, f.uneven(c, more, less))
		} else if len(more.marks) < len(less.marks) {
			out = append(out, f.uneven(c, less, more))
		}
	}
	return worstOfEach(out)
}

func (f *fastener) uneven(c *pattern.Closure, more, less half) diag.Problem {
	lone := more.lonely(less)
	m := &more.row.Piece.Marks[lone[0].Index]
	x := closureProblem("closure.opposite", m.Place, c, float64(len(more.marks)-len(less.marks)))
	x.Place = onPiece(x.Place, more.row.Piece, more.row.Piece.Edges[more.row.Edge].Name).Point(m.At.X, m.At.Y)
	x.Found = fmt.Sprintf("of the eyelets of %s %d stand on %s and %d on %s", c.Name, len(more.marks), more.name, len(less.marks), less.name)
	x.Expected = "as many on both, each opposite one of the other half"
	x.Hint = opposed(c, more, lone, len(f.records[c.Name]) > 0)
	return x
}

// lonely lists the eyelets of a half that the other half lacks, most likely: those
// that say for which half they are, else those furthest from any of the other.
func (h half) lonely(other half) []measure.Standing {
	n := len(h.marks) - len(other.marks)
	list := slices.DeleteFunc(slices.Clone(h.marks), func(s measure.Standing) bool { return h.row.Piece.Marks[s.Index].Only == "" })
	if h.row.Piece == other.row.Piece && h.row.Edge == other.row.Edge && len(list) >= n {
		return list
	}
	from := func(s measure.Standing) float64 {
		top, _ := h.row.Ends(s.Along)
		near := math.Inf(1)
		for _, o := range other.marks {
			t, _ := other.row.Ends(o.Along)
			near = min(near, math.Abs(t-top))
		}
		return near
	}
	list = slices.Clone(h.marks)
	slices.SortStableFunc(list, func(a, b measure.Standing) int { return cmp.Compare(from(b), from(a)) })
	return list[:n]
}

// opposed says how the halves come to have as many eyelets.
func opposed(c *pattern.Closure, more half, lone []measure.Standing, recorded bool) string {
	if recorded {
		return "seamkeep place eyelets " + c.Name
	}
	const shown = 6
	var names []string
	for _, s := range lone {
		names = append(names, more.row.Piece.Marks[s.Index].Name)
	}
	list := strings.Join(names[:min(len(names), shown)], ", ")
	if len(names) > shown {
		list += ", ..."
	}
	if only := more.row.Piece.Marks[lone[0].Index].Only; only != "" && len(c.Edges) == 1 {
		return fmt.Sprintf("take %s only from %s in %s, so that both halves have them", only, list, more.row.Piece.Name)
	}
	return fmt.Sprintf("take out %s of %s, or mark the other half alike", list, more.row.Piece.Name)
}
