package curve

import "math"

// Far is the place of one path that lies farthest from another, and the nearest
// place of that other one.
type Far struct {
	Dist float64 // mm from On to To, a distance that is really found there
	On   Point   // the far place
	To   Point   // the place of the other path nearest to it
	Seg  int     // the segment On lies on, a number of its own path
	T    float64 // and the parameter there
	Back bool    // On lies on the second path; only Hausdorff sets it
}

const (
	farFloor = 1e-6 // the finest tolerance in mm: ten times that of Nearest
	farSlack = 2e-7 // how far beyond its limit Lies may still say yes, mm
	maxFar   = 100000
)

// Directed finds how far path a strays from path b: the largest, over all places
// of a, of the distance to the nearest place of b (the directed Hausdorff
// distance of the curves themselves, not of their corners). The true value is at
// least Dist and at most tol (not below 1e-6 mm) more, unless it takes more than
// 100 000 places to tell, which has been seen on no curve.
//
// An empty a gives the zero Far; an empty b an infinite distance.
//
// Method: branch and bound, the stretch that could hold the farthest place
// first. A stretch A of a is held against the stretch B of one segment of b that
// has its ends nearest to A's: no place of A is farther from b than A(t) from
// B(t), whose square is a polynomial no larger than its largest Bernstein
// coefficient (as in Nearest); it is also no farther than half the sum of A's
// length and its ends' distances. Where the nearest place changes from one
// segment to another, A is cut there.
func Directed(a, b Path, tol float64) Far {
	s := newFarSearch(a, b, tol)
	s.run(a)
	return s.best
}

// Hausdorff is the larger of the two directed distances: no place of either path
// is farther than that from the other. Back tells which path On lies on. The
// accuracy is that of Directed. Two empty paths give the zero Far, one an
// infinite distance.
func Hausdorff(a, b Path, tol float64) Far {
	s := newFarSearch(a, b, tol)
	s.run(a)
	back := newFarSearch(b, a, tol)
	back.best = s.best
	back.run(b)
	if back.best.Dist > s.best.Dist {
		back.best.Back = true
		return back.best
	}
	return s.best
}

// Lies says that the whole of path a lies on path b: no place of a is farther
// from b than within mm (up to 2e-7 mm more may pass). It stops as soon as
// either answer is certain. An empty a lies on everything, and nothing else on
// an empty b.
func Lies(a, b Path, within float64) bool {
	limit := max(within, 0) + farSlack
	s := farSearch{b: b, tol: farFloor, pass: limit, enough: limit}
	return s.run(a) && s.best.Dist <= limit
}

// farSearch looks for the farthest place from b.
type farSearch struct {
	b      Path
	tol    float64
	pass   float64 // stretches that stay within it do not matter
	enough float64 // a place farther than that ends the search
	best   Far
	heap   []farPiece // the largest top first
}

// farPiece is a stretch c, from t0 to t1 of a segment, with a place of b near
// each end, and the bound of its distance.
type farPiece struct {
	c      Segment
	seg    int
	t0, t1 float64
	n0, n1 Near
	top    float64
}

// newFarSearch starts with a place that is at no distance, which stands if every
// place of a lies on b.
func newFarSearch(a, b Path, tol float64) farSearch {
	if !(tol > farFloor) {
		tol = farFloor
	}
	return farSearch{b: b, tol: tol, enough: math.Inf(1), best: Far{On: a.Start(), To: a.Start()}}
}

// run betters best by the places of a; false where it gave up.
func (s *farSearch) run(a Path) bool {
	var last Near
	known := false // last belongs to the start of segment i
	for i := range a {
		c := a[i].plain()
		if holdsSegment(s.b, c) {
			known = false
			continue
		}
		if !known || a[i-1].P3 != c.P0 {
			last = s.try(c.P0, i, 0)
		}
		p := farPiece{c: c, seg: i, t1: 1, n0: last}
		last, known = s.try(c.P3, i, 1), true
		p.n1 = last
		if s.best.Dist > s.enough || len(s.b) == 0 {
			return true
		}
		s.push(p)
	}
	for range maxFar {
		if len(s.heap) == 0 || s.heap[0].top <= s.level() || s.best.Dist > s.enough {
			return true
		}
		s.divide(s.pop())
	}
	return false
}

// plain is s with the handles of a line at the thirds.
func (s *Segment) plain() Segment {
	if s.Straight {
		return Line(s.P0, s.P3)
	}
	return *s
}

// holdsSegment says that a path has a segment, either way round, bit for bit.
func holdsSegment(p Path, c Segment) bool {
	for i := range p {
		s := &p[i]
		switch {
		case s.Straight != c.Straight:
		case s.P0 == c.P0 && s.P3 == c.P3 && (c.Straight || s.P1 == c.P1 && s.P2 == c.P2),
			s.P3 == c.P0 && s.P0 == c.P3 && (c.Straight || s.P2 == c.P1 && s.P1 == c.P2):
			return true
		}
	}
	return false
}

// level is what a stretch must be able to exceed to matter.
func (s *farSearch) level() float64 { return max(s.best.Dist+s.tol, s.pass) }

// try measures one place of a.
func (s *farSearch) try(q Point, seg int, t float64) Near {
	n := s.b.Nearest(q)
	if n.Dist > s.best.Dist {
		s.best = Far{Dist: n.Dist, On: q, To: n.Point, Seg: seg, T: t}
	}
	return n
}

// push bounds a stretch and keeps it if it matters.
func (s *farSearch) push(p farPiece) {
	if s.bound(&p); p.top <= s.level() {
		return
	}
	s.heap = append(s.heap, p)
	for i := len(s.heap) - 1; i > 0 && s.heap[i].top > s.heap[(i-1)/2].top; i = (i - 1) / 2 {
		s.heap[i], s.heap[(i-1)/2] = s.heap[(i-1)/2], s.heap[i]
	}
}

// pop takes the stretch with the largest bound.
func (s *farSearch) pop() farPiece {
	h, last := s.heap, len(s.heap)-1
	p := h[0]
	h[0] = h[last]
	h = h[:last]
	for i := 0; ; {
		k := 2*i + 1
		if k+1 < last && h[k+1].top > h[k].top {
			k++
		}
		if k >= last || h[k].top <= h[i].top {
			break
		}
		h[i], h[k] = h[k], h[i]
		i = k
	}
	s.heap = h
	return p
}

// bound sets the bound of a stretch.
func (s *farSearch) bound(p *farPiece) {
	c := &p.c
	long := c.P0.Dist(c.P1) + c.P1.Dist(c.P2) + c.P2.Dist(c.P3)
	p.top = (p.n0.Dist + p.n1.Dist + long) / 2
	if p.top <= s.level() {
		return
	}
	i, k := p.n0.Seg, p.n1.Seg
	p.top = min(p.top, s.beside(c, i, p.n0.T, s.footOn(i, p.n1, c.P3)))
	if k != i && p.top > s.level() {
		p.top = min(p.top, s.beside(c, k, s.footOn(k, p.n0, c.P0), p.n1.T))
	}
}

// footOn is the parameter of the place of segment i nearest to q, whose nearest
// place on the path is n.
func (s *farSearch) footOn(i int, n Near, q Point) float64 {
	switch {
	case n.Seg == i:
		return n.T
	case n.Point == s.b[i].P0:
		return 0
	case n.Point == s.b[i].P3:
		return 1
	}
	return s.b[i].nearTo(q).T
}

// beside bounds the distance of c from segment i of b by that of c(t) from the
// part of it between the parameters u and v; a line is convex, so the distance
// from it is largest at a control point.
func (s *farSearch) beside(c *Segment, i int, u, v float64) float64 {
	b := s.b[i].plain()
	part := b.Sub(u, v)
	top := apartAtMost(c, &part)
	if b.Straight {
		far := 0.0
		for _, q := range [4]Point{c.P0, c.P1, c.P2, c.P3} {
			far = max(far, b.nearTo(q).Dist)
		}
		top = min(top, far)
	}
	return top
}

// apartAtMost bounds the distance between points of equal parameters.
func apartAtMost(c, d *Segment) float64 {
	gap := Segment{P0: c.P0.Sub(d.P0), P1: c.P1.Sub(d.P1), P2: c.P2.Sub(d.P2), P3: c.P3.Sub(d.P3)}
	most := 0.0
	for _, q := range squares(&gap) {
		most = max(most, q)
	}
	return math.Sqrt(most)
}

// divide cuts a stretch: where the nearest place passes from one segment to
// another, else in the middle.
func (s *farSearch) divide(p farPiece) {
	u := 0.5
	var l, r Near
	swap := p.n0.Seg != p.n1.Seg && !s.joined(p.n0, p.n1)
	if swap {
		u, l, r = s.change(&p)
	}
	tm := between(p.t0, p.t1, u)
	a, b := p.c.Split(u)
	m := s.try(a.P3, p.seg, tm)
	if !swap || m.Dist < min(l.Dist, r.Dist)-s.tol/2 { // a third segment is nearer
		l, r = m, m
	}
	if tm == p.t0 || tm == p.t1 {
		return // neighbouring doubles
	}
	s.push(farPiece{c: a, seg: p.seg, t0: p.t0, t1: tm, n0: p.n0, n1: l})
	s.push(farPiece{c: b, seg: p.seg, t0: tm, t1: p.t1, n0: r, n1: p.n1})
}

// joined says that one of two places is a joint that belongs to the other's
// segment too.
func (s *farSearch) joined(m, n Near) bool {
	b, c := &s.b[m.Seg], &s.b[n.Seg]
	return n.Point == b.P0 || n.Point == b.P3 || m.Point == c.P0 || m.Point == c.P3
}

// change looks for the place of the stretch that is equally near to the segments
// its two ends are nearest to, by the rule of false position (the Illinois
// form), and gives the nearest places there on both.
func (s *farSearch) change(p *farPiece) (u float64, l, r Near) {
	i, k := p.n0.Seg, p.n1.Seg
	at := func(u float64) (f, g Near) {
		q := p.c.At(u)
		f, g = s.b[i].nearTo(q), s.b[k].nearTo(q)
		f.Seg, g.Seg = i, k
		return f, g
	}
	f, g := at(0)
	lo, hi, flo := 0.0, 1.0, f.Dist-g.Dist
	f, g = at(1)
	fhi := f.Dist - g.Dist
	side := 0
	for range 12 {
		u = between(lo, hi, flo/(flo-fhi))
		if !(u > lo && u < hi) {
			u = (lo + hi) / 2
		}
		l, r = at(u)
		d := l.Dist - r.Dist
		switch {
		case math.Abs(d) <= s.tol/4:
			return u, l, r
		case d < 0:
			if lo, flo = u, d; side < 0 {
				fhi /= 2
			}
			side = -1
		default:
			if hi, fhi = u, d; side > 0 {
				flo /= 2
			}
			side = 1
		}
	}
	return u, l, r
}
