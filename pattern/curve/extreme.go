package curve

import "math"

// peak is the place where a movement to one side is largest, so far, and the
// parameters of its segment between which it was looked for.
type peak struct {
	step
	t0, t1 float64
}

// maxRefine bounds the places that are tried between the samples.
const maxRefine = 4000

// extremeSearch looks for the largest movement to either side.
type extremeSearch struct {
	r       *ruler
	p       Path
	out, in peak
	tried   int
}

// extremes finds the largest and the most negative Dist on the new path, each
// within footTol: between two samples a bound says how large Dist can be, and
// where that is more than is known it is halved (branch and bound).
func (r *ruler) extremes(p Path, trail []step) (out, in step) {
	e := extremeSearch{r: r, p: p}
	e.out, e.in = peak{step: trail[0]}, peak{step: trail[0]}
	for k := range trail {
		t0, t1 := trail[k].place.t, trail[k].place.t
		if k > 0 && trail[k-1].place.seg == trail[k].place.seg {
			t0 = trail[k-1].place.t
		}
		if k+1 < len(trail) && trail[k+1].place.seg == trail[k].place.seg {
			t1 = trail[k+1].place.t
		}
		e.keep(trail[k], t0, t1)
	}
	for k := 0; k+1 < len(trail); k++ {
		a, b := trail[k], trail[k+1]
		if b.place.seg != a.place.seg {
			b.place = place{a.place.seg, 1}
		}
		if a.place.t < b.place.t {
			s := p[a.place.seg].Sub(a.place.t, b.place.t)
			e.search(&s, a, b)
		}
	}
	return e.polish(e.out, 1), e.polish(e.in, -1)
}

// keep takes a step that is farther than the peaks.
func (e *extremeSearch) keep(s step, t0, t1 float64) {
	if s.Dist > e.out.Dist {
		e.out = peak{s, t0, t1}
	}
	if s.Dist < e.in.Dist {
		e.in = peak{s, t0, t1}
	}
}

// search looks between two steps, along c.
func (e *extremeSearch) search(c *Segment, a, b step) {
	out, in := e.r.most(c, a, b)
	if out <= max(e.out.Dist, 0)+footTol && in <= max(-e.in.Dist, 0)+footTol || e.tried >= maxRefine {
		return
	}
	tm := (a.place.t + b.place.t) / 2
	if tm <= a.place.t || tm >= b.place.t {
		return
	}
	e.tried++
	m := e.r.stepAt(e.p, place{a.place.seg, tm})
	e.keep(m, a.place.t, b.place.t)
	l, r := c.halves()
	e.search(&l, a, m)
	e.search(&r, m, b)
}

// most bounds Dist and -Dist along c between two steps. Dist is no more than the
// distance to the nearest place of the old path, and that changes by no more than
// the way along c. If both ends were measured against one segment of the old
// path, or one extension, then that is held against c, point by point of equal
// parameters. Else the foot passes a joint or an end, or leaps, which may change
// the side; that makes it worth to go on down to pieces of footTol.
func (r *ruler) most(c *Segment, a, b step) (out, in float64) {
	long := c.P0.Dist(c.P1) + c.P1.Dist(c.P2) + c.P2.Dist(c.P3)
	if long <= footTol {
		return 0, 0
	}
	all := (a.near.Dist + b.near.Dist + long) / 2
	o, back, ok := r.between(a, b)
	switch {
	case ok:
		all = min(all, apartAtMost(c, &o))
		out, in = sides(c, &o)
		if back {
			out, in = in, out
		}
		return min(out, all), min(in, all)
	case a.Old.Dist(b.Old) > 3*long:
		return all, all
	}
	da, db := math.Abs(a.Dist), math.Abs(b.Dist)
	all = (da + db + long) / 2
	switch {
	case da+db <= long:
		return all, all
	case a.Dist < 0:
		return 0, all
	}
	return all, 0
}

// between is the part of the old path, or of its extension, from the foot of one
// step to that of another, and whether that is against the walk; false where they
// lie on different segments.
func (r *ruler) between(a, b step) (part Segment, back, ok bool) {
	if a.beyond != b.beyond {
		return Segment{}, false, false
	}
	if a.beyond != 0 {
		way := r.first
		if a.beyond > 0 {
			way = r.last
		}
		return Line(a.Old, b.Old), b.Old.Sub(a.Old).Dot(way) < 0, true
	}
	i, u, v := a.near.Seg, a.near.T, b.near.T
	switch k := b.near.Seg; {
	case k == i:
	case b.near.Point == r.path[i].P3:
		v = 1
	case b.near.Point == r.path[i].P0:
		v = 0
	case a.near.Point == r.path[k].P0:
		i, u = k, 0
	case a.near.Point == r.path[k].P3:
		i, u = k, 1
	default:
		return Segment{}, false, false
	}
	s := r.path[i].plain()
	return s.Sub(u, v), v < u, true
}

// sides bounds how far c lies to the right and to the left of o. With X along the
// chord of o, the height of o below c(t) differs from that of o(t) by at most o's
// slope times what the two stand beside each other, and beyond o's ends that much
// may come on top. Infinite where o is no graph over its chord.
func sides(c, o *Segment) (right, left float64) {
	inf := math.Inf(1)
	u, ok := o.P3.Sub(o.P0).Unit()
	if !ok {
		return inf, inf
	}
	slope := 0.0
	for _, d := range o.legs() {
		along := u.Dot(d)
		if !(along >= 0) {
			return inf, inf
		}
		if along > 0 {
			slope = max(slope, math.Abs(u.Cross(d))/along)
		}
	}
	right, left = -inf, -inf
	e, ends := 0.0, 0.0
	for i, d := range [4]Point{c.P0.Sub(o.P0), c.P1.Sub(o.P1), c.P2.Sub(o.P2), c.P3.Sub(o.P3)} {
		h := u.Cross(d)
		right, left, e = max(right, -h), max(left, h), max(e, math.Abs(u.Dot(d)))
		if i == 0 || i == 3 {
			ends = e
		}
	}
	slack := float64(slope*e) + ends
	return right + slack, left + slack
}

// polish betters a peak by the tops of parabolas through three places: no more
// than a hundredth of footTol is to be won, but the place is nicer.
func (e *extremeSearch) polish(k peak, sign float64) step {
	best := k.step
	if !(k.t0 < best.place.t && best.place.t < k.t1) || sign*best.Dist <= 0 {
		return best
	}
	at := func(t float64) step { return e.r.stepAt(e.p, place{best.place.seg, t}) }
	lo, hi := at(k.t0), at(k.t1)
	for range 8 {
		x, y := best.place.t-lo.place.t, hi.place.t-best.place.t
		f, g := sign*(best.Dist-lo.Dist), sign*(best.Dist-hi.Dist)
		if !(f >= 0 && g >= 0 && f+g > 0) {
			break
		}
		move := (float64(y*y*f) - float64(x*x*g)) / (2 * (float64(x*g) + float64(y*f)))
		t := best.place.t + move
		if !(t > lo.place.t && t < hi.place.t) || math.Abs(move) < 1e-9 {
			break
		}
		m := at(t)
		switch {
		case sign*m.Dist > sign*best.Dist && move > 0:
			lo, best = best, m
		case sign*m.Dist > sign*best.Dist:
			hi, best = best, m
		case move > 0:
			hi = m
		default:
			lo = m
		}
		if math.Abs(m.Dist-best.Dist) < 1e-12 {
			break
		}
	}
	return best
}
