package curve

import "math"

// Parallel is the chain of the parallel curves of all segments, d mm to the right
// of the walk (to the left where d is negative), to within tol as for a segment.
// A gap at a corner is filled by an arc about the corner where the corner points
// to that side, and by a straight line where it points away; a ring stays a ring.
// Nothing is trimmed: see Offset. Segments without length are passed over.
func (p Path) Parallel(d, tol float64) Path {
	tol = max(tol, finestOffset)
	c := linker{snap: max(tol/16, samePlace)}
	tol -= tol / 16
	var first, last Point
	for _, s := range p {
		part := s.Parallel(d, tol)
		if len(part) == 0 {
			continue
		}
		u, _ := s.StartTangent()
		if len(c.path) == 0 {
			first = u
		} else if d != 0 {
			c.add(joint(s.P0, last, u, d, tol)...)
		}
		c.add(part...)
		last, _ = s.EndTangent()
	}
	if p.closed() && len(c.path) > 0 && d != 0 {
		c.add(joint(p.Start(), last, first, d, tol)...)
		c.close()
	}
	return c.path
}

// Offset is the outline of all places that lie in the ring or at most d mm (not
// negative) from it: the ring moved outwards, with round corners, to within tol;
// where it bends inwards with a radius under d, and where two of its parts come
// nearer to each other than twice d, it is trimmed. Places that are walled in are
// left out. The ring has to be anticlockwise and must not cross itself. False
// where no such ring is found: an empty path, one that winds the other way.
//
// The rim of the untrimmed parallel curve is the right one since no place of it
// is farther than d from the ring (as in X. Chen and S. McMains, Polygon
// offsetting by computing winding numbers, 2005, from memory).
func (ring Path) Offset(d, tol float64) (Path, bool) {
	if !ring.closed() || !(d >= 0) || !(ring.Area() > 0) {
		return nil, false
	}
	raw := ring.Parallel(d, tol)
	parts, ok := raw.Rim()
	if !ok {
		return nil, false
	}
	return raw.Assemble(parts), true
}

// linker grows a path and closes gaps up to snap by moving the next start.
type linker struct {
	path Path
	snap float64
}

// add appends segments; a gap before one of them becomes a straight line.
func (c *linker) add(list ...Segment) {
	for _, s := range list {
		if s.point() {
			continue
		}
		if n := len(c.path); n > 0 {
			end := c.path[n-1].P3
			if end.Dist(s.P0) > c.snap {
				c.path = append(c.path, Line(end, s.P0))
			} else {
				s = s.StartingAt(end)
			}
		}
		if !s.point() {
			c.path = append(c.path, s)
		}
	}
}

// close leads the chain back to its start.
func (c *linker) close() {
	n := len(c.path)
	if n == 0 {
		return
	}
	start := c.path[0].P0
	if c.path[n-1].P3.Dist(start) > c.snap {
		c.path = append(c.path, Line(c.path[n-1].P3, start))
		return
	}
	c.path[n-1] = c.path[n-1].Reverse().StartingAt(start).Reverse()
}

// StartingAt is the segment with its start moved, the first handle with it: no place
// of it is moved by more than the start.
func (s Segment) StartingAt(p Point) Segment {
	if s.Straight {
		return Line(p, s.P3)
	}
	s.P1 = s.P1.Add(p.Sub(s.P0))
	s.P0 = p
	return s
}

// joint fills the gap at a corner between the directions u and v: an arc about it
// where d is on its outer side (a walk that turns right back counts as that), else
// nothing, and a line will do.
func joint(corner, u, v Point, d, tol float64) Path {
	turn := u.Cross(v)
	back := u.Dot(v) < 0 && math.Abs(turn) < 1e-12
	if float64(turn*d) <= 0 && !back {
		return nil
	}
	return swing(corner, u, v, d, d > 0, tol)
}

// swing is the arc about a corner from the right of the direction u to the right of
// v, turning left or right; none where that is no way.
func swing(corner, u, v Point, d float64, left bool, tol float64) Path {
	from, to := u.Left().Mul(-d), v.Left().Mul(-d)
	if from.Dist(to) <= samePlace {
		return nil
	}
	return arc(nil, corner, from, to, left, max(tol, finestOffset))
}

// arc appends the circle about c from c+a to c+b, of a turn up to a half, to
// within tol. A cubic with the handles 4/3 tan(turn/4) strays by
// r 2/27 sin^6(turn/4) / cos^2(turn/4) (M. Goldapp, Approximation of circular arcs
// by cubic polynomials, 1991, from memory).
func arc(list Path, c, a, b Point, left bool, tol float64) Path {
	side := math.Copysign(1, -1)
	if left {
		side = 1
	}
	r := a.Len()
	cos := min(max(a.Dot(b)/float64(r*r), -1), 1)
	half := math.Sqrt((1 + cos) / 2) // cosine of half the turn
	quarter := math.Sqrt((1 - half) / (1 + half))
	q := float64(quarter * quarter)
	stray := r * (2.0 / 27) * float64(q*q) * q / float64((1+q)*(1+q)) // sin^2 = q/(1+q)
	if cos < -1e-9 || stray > tol {
		m := a.Add(b)
		if cos < 0 {
			m = a.Sub(b).Left().Mul(side)
		}
		u, _ := m.Unit()
		m = u.Mul(r)
		return arc(arc(list, c, a, m, left, tol), c, m, b, left, tol)
	}
	k := side * 4 / 3 * quarter
	p0, p3 := c.Add(a), c.Add(b)
	return append(list, Cubic(p0, p0.Add(a.Left().Mul(k)), p3.Sub(b.Left().Mul(k)), p3))
}
