package curve

import "math"

// Hit is a place that two segments have in common: the parameter on each, and
// the point.
type Hit struct {
	TA, TB float64
	Point  Point
}

const (
	touch = 1e-9 // mm from which on two curves may count as touching
	grain = 1e-8 // size in mm of the smallest pieces that are looked at
)

// maxNodes bounds the work on one pair of segments. Nothing that was tried came
// near it; curves a hair apart, in lanes, take a few hundred.
const maxNodes = 50000

// Intersections finds the places that two segments have in common, crossings and
// touches, sorted along a; curves that come nearer than 1e-9 mm may be given as
// touching. A stretch along which they coincide (within 1e-6 mm) is one hit, by
// its middle. A segment whose points coincide meets nothing.
//
// Method: pairs of pieces drop out by their boxes and by the strips that hold
// them along their chords; where the directions of two pieces are never
// parallel they meet at most once, and Newton's method finds where; where they
// run in much the same direction the gap between them is followed along (lane);
// else both are halved.
func Intersections(a, b Segment) []Hit {
	return intersect(&a, &b, joints{})
}

// joints tells which ends of two segments are the same joint of their chain,
// which is no hit.
type joints struct {
	endStart bool // a ends where b begins
	startEnd bool // a begins where b ends
}

// pieceOf is a part of a segment, with the parameters of its ends.
type pieceOf struct {
	c      Segment
	t0, t1 float64
}

func (p *pieceOf) halves() (pieceOf, pieceOf) {
	l, r := p.c.halves()
	m := (p.t0 + p.t1) / 2
	return pieceOf{l, p.t0, m}, pieceOf{r, m, p.t1}
}

// crosser is the search for the hits of one pair.
type crosser struct {
	a, b  *Segment
	j     joints
	spans []span
	nodes int
}

// span is a hit that may be drawn out: the parameters over which the two cannot
// be told apart, and the place that stands for them.
type span struct {
	a0, a1, b0, b1 float64
	at             Hit
}

func intersect(a, b *Segment, j joints) []Hit {
	if a.point() || b.point() || !a.hull().Grow(touch).Overlaps(b.hull()) {
		return nil
	}
	x := crosser{a: a, b: b, j: j}
	whole := [2]pieceOf{{*a, 0, 1}, {*b, 0, 1}}
	if x.settled(&whole[0], &whole[1]) {
		return x.finish()
	}
	// Two curves that share a stretch are parts of one; what is left of them meets
	// only where that one curve crosses itself, which loop finds.
	if along := x.overlaps(); len(along) > 0 {
		return along
	}
	x.search(&whole[0], &whole[1])
	return x.finish()
}

// settled handles a pair that can meet nowhere, or only once; false where it
// has to be divided.
func (x *crosser) settled(p, q *pieceOf) bool {
	if stripApart(&p.c, &q.c) || stripApart(&q.c, &p.c) {
		return true
	}
	atEnd := x.j.endStart && p.t1 == 1 && q.t0 == 0
	atStart := x.j.startEnd && p.t0 == 0 && q.t1 == 1
	if atEnd && atStart {
		return false
	}
	if atEnd && onward(&p.c, &q.c) || atStart && onward(&q.c, &p.c) {
		return true
	}
	if !neverParallel(&p.c, &q.c) {
		return false
	}
	return atEnd || atStart || x.newton(p, q)
}

// search divides p and q until each pair is settled or too small to matter.
func (x *crosser) search(p, q *pieceOf) {
	if x.nodes++; x.nodes > maxNodes {
		return
	}
	pb, qb := p.c.hull(), q.c.hull()
	if !pb.Grow(touch).Overlaps(qb) || x.settled(p, q) || x.alongside(p, q) || x.beside(p, q) {
		return
	}
	ps, qs := pb.Width()+pb.Height(), qb.Width()+qb.Height()
	tiny := ps < grain && qs < grain || p.t1-p.t0 < 1e-12 && q.t1-q.t0 < 1e-12
	switch {
	case x.nodes == maxNodes: // too near to each other to tell: a touch
		x.spans = append(x.spans, span{p.t0, p.t1, q.t0, q.t1, x.hitAt((p.t0 + p.t1) / 2)})
	case tiny:
		if !x.newton(p, q) {
			x.spans = append(x.spans, span{p.t0, p.t1, q.t0, q.t1, x.hitAt((p.t0 + p.t1) / 2)})
		}
	default:
		x.divide(p, q, ps, qs)
	}
}

// divide halves p and q, or only the one that is much larger.
func (x *crosser) divide(p, q *pieceOf, ps, qs float64) {
	if ps > 2*qs {
		l, r := p.halves()
		x.search(&l, q)
		x.search(&r, q)
		return
	}
	if qs > 2*ps {
		l, r := q.halves()
		x.search(p, &l)
		x.search(p, &r)
		return
	}
	pl, pr := p.halves()
	ql, qr := q.halves()
	x.search(&pl, &ql)
	x.search(&pl, &qr)
	x.search(&pr, &ql)
	x.search(&pr, &qr)
}

// add keeps a hit.
func (x *crosser) add(ta, tb float64) {
	x.spans = append(x.spans, span{ta, ta, tb, tb, Hit{ta, tb, x.a.At(ta)}})
}

// newton looks for the one place where p and q, never parallel, can meet; false
// where it does not end inside them: dividing will tell.
func (x *crosser) newton(p, q *pieceOf) bool {
	u, v := 0.5, 0.5
	tiny := 8 * (p.c.noise() + q.c.noise())
	for range 12 {
		du, dv := p.c.Deriv(u), q.c.Deriv(v)
		d := q.c.At(v).Sub(p.c.At(u))
		det := du.Cross(dv)
		if det == 0 {
			return false
		}
		su, sv := d.Cross(dv)/det, d.Cross(du)/det
		u, v = u+su, v+sv
		if !(math.Abs(u-0.5) <= 1 && math.Abs(v-0.5) <= 1) {
			return false
		}
		if math.Abs(su) < 1e-9 && math.Abs(sv) < 1e-9 {
			break
		}
	}
	// An end that lies on the other curve is on it up to rounding.
	u, v = snapEnd(u, &p.c, tiny), snapEnd(v, &q.c, tiny)
	if u < 0 || u > 1 || v < 0 || v > 1 || p.c.At(u).Dist(q.c.At(v)) > touch {
		return false
	}
	x.add(between(p.t0, p.t1, u), between(q.t0, q.t1, v))
	return true
}

// snapEnd takes a parameter just beyond an end, by no more than tiny mm, as the end.
func snapEnd(t float64, c *Segment, tiny float64) float64 {
	switch {
	case t < 0 && -t*c.Deriv(0).Len() <= tiny:
		return 0
	case t > 1 && (t-1)*c.Deriv(1).Len() <= tiny:
		return 1
	}
	return t
}

// stripApart says that q lies outside the strip that holds p along its chord.
func stripApart(p, q *Segment) bool {
	d := p.P3.Sub(p.P0)
	l := d.Len()
	if l == 0 {
		return false
	}
	h1, h2 := d.Cross(p.P1.Sub(p.P0)), d.Cross(p.P2.Sub(p.P0))
	margin := float64(l * (touch + 8*(p.noise()+q.noise())))
	low, high := min(0, h1, h2)-margin, max(0, h1, h2)+margin
	k0, k1, k2, k3 := d.Cross(q.P0.Sub(p.P0)), d.Cross(q.P1.Sub(p.P0)), d.Cross(q.P2.Sub(p.P0)), d.Cross(q.P3.Sub(p.P0))
	return k0 > high && k1 > high && k2 > high && k3 > high || k0 < low && k1 < low && k2 < low && k3 < low
}

// legs are the sides of the control polygon: the curve's directions are mixtures
// of them.
func (s *Segment) legs() [3]Point {
	return [3]Point{s.P1.Sub(s.P0), s.P2.Sub(s.P1), s.P3.Sub(s.P2)}
}

// neverParallel says that no direction of p is parallel to one of q, so that
// they meet at most once: all vector products of their legs have one sign.
func neverParallel(p, q *Segment) bool {
	lp, lq := p.legs(), q.legs()
	sign := 0.0
	for _, d := range lp {
		if d == (Point{}) {
			continue
		}
		for _, e := range lq {
			if e == (Point{}) {
				continue
			}
			k := d.Cross(e)
			if k == 0 || k*sign < 0 {
				return false
			}
			sign = math.Copysign(1, k)
		}
	}
	return sign != 0
}

// onward says that the walk through p and on through q always makes way in one
// direction, so that the two meet only at their joint.
func onward(p, q *Segment) bool {
	lp, lq := p.legs(), q.legs()
	way := p.P3.Sub(p.P0).Add(q.P3.Sub(q.P0))
	if u, ok := p.EndTangent(); ok {
		if v, ok := q.StartTangent(); ok {
			way = u.Add(v)
		}
	}
	for i := range lp {
		if !ahead(lp[i], way) || !ahead(lq[i], way) {
			return false
		}
	}
	return true
}

func ahead(d, way Point) bool { return d == (Point{}) || d.Dot(way) > 0 }
