package check

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// slide tells a slide fastener that is longer or shorter than what it closes by more than
// a seam may be off.
func slide(in Input, c *pattern.Closure) diag.List {
	if c.Kind != pattern.Slide || !c.Length.Set {
		return nil
	}
	limit, _ := in.Garment.SeamTolerance(nil)
	var out diag.List
	for _, ref := range c.Edges {
		r, problem := measure.BareRow(in.Garment, ref, in.Tol)
		off := c.Length.Value - r.Length()
		if problem != nil || !closed(r.Piece) || math.Abs(off) <= limit+slack {
			continue
		}
		x := closureProblem("closure.slide", c.Place, c, math.Abs(off))
		x.Place = onPiece(x.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
		x.Found = fmt.Sprintf("the slide of %s is %g long and closes %.1f of %s", c.Name, c.Length.Value, r.Length(), r.Name())
		x.Expected = fmt.Sprintf("at most %g between them", limit)
		x.Hint = slideCure(c, r, off)
		out = append(out, x)
	}
	return worstOfEach(out)
}

// slideCure says how a slide and its edge come to be of one length; off is what the slide
// is longer, mm.
func slideCure(c *pattern.Closure, r measure.Row, off float64) string {
	take := fmt.Sprintf("take one of %.1f", r.Length())
	if off > 0 {
		return fmt.Sprintf("%s, or close %.1f more of the edge", take, off)
	}
	return fmt.Sprintf("%s; or let it close %g, %s from NOTCH to NOTCH, and sew the other %.1f by a seam", take, c.Length.Value, r.Name(), -off)
}
