package sheet

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// MitreLimit is how far the tip of a mitred corner may lie from the corner, in
// times the wider allowance: common practice, no source.
const MitreLimit = 3.0

// sameSpot is the distance in mm under which two places are one.
const sameSpot = 1e-6

// band is the allowance of one edge: its sewing line, the line d mm outside it.
type band struct {
	edge int
	sew  curve.Path
	cut  curve.Path // untrimmed
	d    float64
	kind JoinKind
	fit  pattern.Fit
}

// corner is where band a ends and band b begins, and what is known there.
type corner struct {
	at       curve.Point
	a, b     *band
	u, v     curve.Point // unit directions of the walk before and after
	ma, mb   curve.Point // square out of it, the allowances' ends
	sin, cos float64     // of the turn
}

func newCorner(a, b *band) (corner, bool) {
	u, ok1 := a.sew.EndTangent()
	v, ok2 := b.sew.StartTangent()
	at := b.sew.Start()
	return corner{
		at: at, a: a, b: b, u: u, v: v,
		ma: at.Sub(u.Left().Mul(a.d)), mb: at.Sub(v.Left().Mul(b.d)),
		sin: u.Cross(v), cos: u.Dot(v),
	}, ok1 && ok2
}

// join is the corner of the cut line: how the end of a's line runs on, and how b's
// begins. Both ends of the gap meet.
func (c *corner) join() {
	switch {
	case c.a.d == 0 && c.b.d == 0, c.sin <= 0 && c.cos > -0.999:
		return // nothing outside, or an inner corner: the rim of both is right
	}
	ruler, kind := c.ruler()
	switch {
	case kind == Fold && c.fold(ruler):
	case kind == Square && c.square(ruler):
	case kind == Clip:
		c.mitre(1)
	default:
		c.mitre(MitreLimit)
	}
}

// close moves b's beginning to a's end where that is hardly a gap: a corner that is
// smooth but for the rounding of its numbers.
func (c *corner) close(snap float64) {
	if end := c.a.cut.End(); end.Dist(c.b.cut.Start()) <= snap && len(c.b.cut) > 0 {
		c.b.cut = append(curve.Path{c.b.cut[0].StartingAt(end)}, c.b.cut[1:]...)
	}
}

// ruler is the edge whose record says how the corner is cut: the more specific
// one, else the wider, else the one before the corner.
func (c *corner) ruler() (*band, JoinKind) {
	r := c.a
	if c.b.fit > r.fit || c.b.fit == r.fit && c.b.d > r.d {
		r = c.b
	}
	return r, r.kind
}

// tip is where the two cut lines, drawn straight on at the corner, meet: how far
// along u from ma, and how far back along v from mb.
func (c *corner) tip() (s, t float64, ok bool) {
	if c.sin < 1e-3 {
		return 0, 0, false
	}
	return (c.b.d - float64(c.a.d*c.cos)) / c.sin, (c.a.d - float64(c.b.d*c.cos)) / c.sin, true
}

// mitre draws both lines on until they meet, the tip cut off square where it lies
// farther out than limit times the wider allowance. Lines that meet only far from
// the corner are joined by a step.
func (c *corner) mitre(limit float64) {
	far := limit * max(c.a.d, c.b.d)
	s, t, ok := c.tip()
	if !ok {
		if out, ok := c.u.Sub(c.v).Unit(); ok && c.cos < 0 {
			c.cutTip(out, far) // a walk that turns right back: the lines never meet
		}
		return
	}
	m := c.ma.Add(c.u.Mul(s))
	switch {
	case s < 0 && m.Dist(c.at) <= MitreLimit*max(c.a.d, c.b.d):
		c.shorten(c.a, c.b, false)
	case t < 0 && m.Dist(c.at) <= MitreLimit*max(c.a.d, c.b.d):
		c.shorten(c.b, c.a, true)
	case s < 0 || t < 0:
	case m.Dist(c.at) <= far:
		c.runOn(m, m)
	default:
		if out, ok := m.Sub(c.at).Unit(); ok {
			c.cutTip(out, far)
		}
	}
}

// cutTip cuts the mitre at right angles to the unit direction of its tip.
func (c *corner) cutTip(out curve.Point, far float64) {
	p := meetLine(c.ma, c.u, out, c.at, far)
	q := meetLine(c.mb, c.v, out, c.at, far)
	c.runOn(p, q)
}

// meetLine goes from p along u to the line that is far out from o.
func meetLine(p, u, out, o curve.Point, far float64) curve.Point {
	k := u.Dot(out)
	if math.Abs(k) < 1e-9 {
		return p
	}
	return p.Add(u.Mul((far - p.Sub(o).Dot(out)) / k))
}

// runOn draws a's line on to p, and lets b's begin at q.
func (c *corner) runOn(p, q curve.Point) {
	c.a.cut = appendLine(c.a.cut, p)
	c.b.cut = prependLine(q, c.b.cut)
}

func appendLine(path curve.Path, p curve.Point) curve.Path {
	if path.End().Dist(p) <= sameSpot {
		return path
	}
	return append(path[:len(path):len(path)], curve.Line(path.End(), p))
}

func prependLine(p curve.Point, path curve.Path) curve.Path {
	if path.Start().Dist(p) <= sameSpot {
		return path
	}
	return append(curve.Path{curve.Line(p, path.Start())}, path...)
}

// shorten handles a wide allowance beside a narrow one at a blunt corner: the
// narrow one's line, drawn straight on, meets the wide one's own line before its
// end. back says that the wide one comes after the corner. Where they do not meet
// they are joined by a step.
func (c *corner) shorten(wide, narrow *band, back bool) {
	line, from, way := wide.cut, c.mb, c.v.Mul(-1)
	if back {
		line, from, way = line.Reverse(), c.ma, c.u
	}
	ray := curve.Line(from, from.Add(way.Mul(MitreLimit*max(wide.d, narrow.d))))
	kept, at, ok := cutAtLast(line, ray)
	if !ok {
		return
	}
	if back {
		wide.cut = kept.Reverse()
		narrow.cut = appendLine(narrow.cut, at)
	} else {
		wide.cut = kept
		narrow.cut = prependLine(at, narrow.cut)
	}
}

// cutAtLast shortens a path at its last meeting with a line.
func cutAtLast(path curve.Path, line curve.Segment) (curve.Path, curve.Point, bool) {
	for i := len(path) - 1; i >= 0; i-- {
		hits := curve.Intersections(path[i], line)
		if len(hits) == 0 {
			continue
		}
		h := hits[len(hits)-1]
		kept := path[:i:i]
		if h.TA > 0 {
			kept = append(kept, path[i].Sub(0, h.TA))
		}
		return kept, h.Point, len(kept) > 0
	}
	return path, curve.Point{}, false
}

// square ends the ruler's allowance at right angles to its sewing line, where that
// line drawn on meets the neighbour's cut line, which may be before its end. False
// where the two do not meet within the mitre's limit.
func (c *corner) square(ruler *band) bool {
	if c.sin < 0.1 {
		return false
	}
	other, way := c.a, c.v.Mul(-1)
	if ruler == c.a {
		other, way = c.b, c.u
	}
	out := c.at.Add(way.Mul(other.d / c.sin)) // on the other's line, were it straight
	if out.Dist(c.at) > MitreLimit*max(c.a.d, c.b.d) {
		return false
	}
	if c.cos > 0 {
		back := ruler == c.a
		line := other.cut
		if back {
			line = line.Reverse()
		}
		kept, at, ok := cutAtLast(line, curve.Line(c.at, out.Add(out.Sub(c.at))))
		if !ok {
			return false
		}
		if out = at; back {
			kept = kept.Reverse()
		}
		other.cut = kept
	}
	if ruler == c.a {
		c.runOn(out.Sub(c.u.Left().Mul(ruler.d)), out)
		c.a.cut = appendLine(c.a.cut, out)
	} else {
		c.runOn(out, out.Sub(c.v.Left().Mul(ruler.d)))
		c.b.cut = prependLine(out, c.b.cut)
	}
	return true
}
