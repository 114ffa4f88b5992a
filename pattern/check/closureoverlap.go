package check

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// TooWide tells an overlap whose buttons, or whose buttonholes, would reach further
// inside the edge of a row than there is cloth; false where no overlap is recorded. The
// kind is that of the marks on the row.
func TooWide(c *pattern.Closure, f *pattern.Fastening, r measure.Row, kind pattern.MarkKind, tol float64) (diag.Problem, bool) {
	half := c.Overlap.Value / 2
	if c.Kind != pattern.ButtonClosure || !(half > 0) {
		return diag.Problem{}, false
	}
	further := holeBeyond(f, kind)
	off, depth, at, count := 0.0, 0.0, -1, 0
	for k := range r.At {
		top, bottom := r.Ends(r.At[k])
		d, ok := r.Depth(k, tol)
		if !ok || half+further-d <= onLine || min(top, bottom) < f.Diameter.Or(0)/2-slack {
			continue // what stands too near to the end of the edge is found as that
		}
		count++
		if half+further-d > off {
			off, depth, at = half+further-d, d, k
		}
	}
	if at < 0 {
		return diag.Problem{}, false
	}
	y := closureProblem("closure.overlap", f.Place, c, off)
	if f.Closure == "" {
		y.Place = c.Place
	}
	end := r.Point(at, depth, tol)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(end.X, end.Y)
	what := "buttons of " + c.Name + " stand"
	if further > 0 {
		what = "buttonholes of " + c.Name + " end"
	}
	y.Found = fmt.Sprintf("with an overlap of %g the %s %.1f inside %s, where %s is %.1f wide", c.Overlap.Value, what, half+further, r.Name(), r.Piece.Name, depth)
	y.Expected = fmt.Sprintf("at most %.1f, the cloth that is there", depth)
	y.Hint = narrower(f, r, 2*(depth-further), off)
	if count < len(r.At) && (at == 0 || at == len(r.At)-1) {
		y.Hint = fmt.Sprintf("it is so at %d of %d: keep the row further from that end of the edge; or %s", count, len(r.At), y.Hint)
	}
	return y, true
}

// holeBeyond is how far a hole reaches beyond the line of the buttons into the piece, mm;
// 0 of a button, whose middle stands on the line.
func holeBeyond(f *pattern.Fastening, kind pattern.MarkKind) float64 {
	if kind != pattern.Buttonhole || !f.Diameter.Set {
		return 0
	}
	return max(0, measure.HoleLength(f.Diameter.Value, f.Thickness)-measure.HolePast)
}

// narrower says which overlap a piece has room for, where that is one which its buttons
// can do with, and how much wider the piece would have to be.
func narrower(f *pattern.Fastening, r measure.Row, most, off float64) string {
	widen := fmt.Sprintf("widen %s by %.1f", r.Piece.Name, math.Ceil(10*off)/10)
	if most < 2*measure.Extension*f.Diameter.Or(0)+slack || most <= 0 {
		return widen + ", or take smaller buttons: " + r.Piece.Name + " is too narrow for an overlap with these"
	}
	return fmt.Sprintf("write overlap %g or less, and girth and gap follow it; or %s", math.Floor(10*most)/10, widen)
}

// deepest is the kind of mark that reaches furthest inside edge i of the closure: holes,
// unless the other edge has them.
func (x fastening) deepest(i int) pattern.MarkKind {
	if len(x.c.Edges) < 2 || i == measure.TopEdge(x.in.Garment, x.c, x.rivals, x.in.Tol) {
		return pattern.Buttonhole
	}
	return pattern.Button
}

// wideUnrecorded is TooWide of a closure whose buttons are not recorded: at a quarter,
// the middle and three quarters of its edges.
func (f *fastener) wideUnrecorded(c *pattern.Closure) diag.List {
	var out diag.List
	for _, ref := range c.Edges {
		r, problem := measure.BareRow(f.in.Garment, ref, f.in.Tol)
		if problem != nil || !closed(r.Piece) {
			continue
		}
		for _, part := range []float64{0.25, 0.5, 0.75} {
			r.At = append(r.At, r.From+part*r.Length())
		}
		if y, bad := TooWide(c, &pattern.Fastening{}, r, pattern.Button, f.in.Tol); bad {
			out = append(out, y)
		}
	}
	return worstOfEach(out)
}
