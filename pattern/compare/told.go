package compare

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// told gives, in words, what the edits of the piece changed apart from its outline. What
// moved with the piece as a whole did not change.
func (c *PieceChange) told(a, b *pattern.Garment, edits []Edit, tol float64) []string {
	var out []string
	for _, e := range edits {
		words := e.Words()
		switch e.Kind {
		case "mark":
			words = c.markWords(e)
		case "notch":
			words = c.notchWords(a, b, e, tol)
		case "grain":
			if x, y := c.Before.Grain, c.After.Grain; x != nil && y != nil && c.stays(x.From, y.From) && c.stays(x.To, y.To) {
				words = ""
			}
		case "was":
			if len(c.Was) > 0 {
				words = "" // the piece's own line says it
			}
		}
		if words != "" {
			out = append(out, words)
		}
	}
	return out
}

// stays tells whether a point of the earlier version lies, after the movement of
// the piece, where the other one does.
func (c *PieceChange) stays(p, q curve.Point) bool { return c.apart(p, q) <= 2*Still }

func (c *PieceChange) apart(p, q curve.Point) float64 {
	if c.Fit != (curve.Rigid{}) {
		p = c.Fit.Affine().Apply(p)
	}
	return p.Dist(q)
}

// markWords tells how far a mark moved on the cloth; nothing where it went with
// the piece.
func (c *PieceChange) markWords(e Edit) string {
	x, was := e.Before.(pattern.Mark)
	y, is := e.After.(pattern.Mark)
	if !was || !is || len(x.Segs) != len(y.Segs) {
		return e.Words()
	}
	far := c.apart(x.At, y.At)
	for i := range x.Segs {
		far = max(far, c.apart(x.Segs[i].To, y.Segs[i].To))
		if x.Segs[i].Curve || y.Segs[i].Curve {
			far = max(far, c.apart(x.Segs[i].H1, y.Segs[i].H1), c.apart(x.Segs[i].H2, y.Segs[i].H2))
		}
	}
	x.At, x.Segs = y.At, y.Segs
	switch {
	case !pattern.Same(x, y):
		return e.Words()
	case far > 2*Still:
		return fmt.Sprintf("%s moved %.1f", e.Name, far)
	}
	return ""
}

// notchWords tells how far a notch moved along its edge, measured from the
// edge's first corner; nothing where it is only written otherwise.
func (c *PieceChange) notchWords(a, b *pattern.Garment, e Edit, tol float64) string {
	x, was := e.Before.(pattern.Notch)
	y, is := e.After.(pattern.Notch)
	if !was || !is {
		return e.Words()
	}
	i, j := c.Before.EdgeIndex(x.Edge.Name), c.After.EdgeIndex(y.Edge.Name)
	if i < 0 || j < 0 || len(c.Before.Corners) != len(c.Before.Edges) || len(c.After.Corners) != len(c.After.Edges) {
		return e.Words()
	}
	at, err := a.SpotAt(c.Before, i, x.On, tol)
	to, err2 := b.SpotAt(c.After, j, y.On, tol)
	switch {
	case err != nil || err2 != nil:
		return e.Words()
	case math.Abs(to-at) > 2*Still:
		return fmt.Sprintf("notch %s moved %.1f", e.Name, math.Abs(to-at))
	}
	return ""
}
