package curve

// Path is a chain of segments, each beginning where the last one ended. A
// closed path (a ring) ends where it began. An empty path has no length and no
// points.
type Path []Segment

// samePlace is the distance in mm below which two places count as one.
const samePlace = 1e-6

// Start is the first point; the zero Point for an empty path.
func (p Path) Start() Point {
	if len(p) == 0 {
		return Point{}
	}
	return p[0].P0
}

// End is the last point; the zero Point for an empty path.
func (p Path) End() Point {
	if len(p) == 0 {
		return Point{}
	}
	return p[len(p)-1].P3
}

// closed says that the path ends where it began.
func (p Path) closed() bool {
	return len(p) > 0 && p.Start().Dist(p.End()) <= samePlace
}

// StartTangent is the unit direction in which the walk begins; segments without
// length are passed over. False where the path has no direction at all.
func (p Path) StartTangent() (Point, bool) {
	for _, s := range p {
		if u, ok := s.StartTangent(); ok {
			return u, true
		}
	}
	return Point{}, false
}

// EndTangent is the unit direction in which the walk ends; see StartTangent.
func (p Path) EndTangent() (Point, bool) {
	for i := len(p) - 1; i >= 0; i-- {
		if u, ok := p[i].EndTangent(); ok {
			return u, true
		}
	}
	return Point{}, false
}

// Reverse is the same chain walked from its other end.
func (p Path) Reverse() Path {
	q := make(Path, len(p))
	for i, s := range p {
		q[len(p)-1-i] = s.Reverse()
	}
	return q
}

// SplitAt cuts the path at dist mm from its start (clamped to its ends), the
// place within tol. A cut at an end leaves that part empty; a cut within tol of
// a joint falls on the joint.
func (p Path) SplitAt(dist, tol float64) (Path, Path) {
	i, t := p.Locate(dist, tol)
	return p.cut(i, t)
}

// cut divides the path at the parameter t of segment i.
func (p Path) cut(i int, t float64) (Path, Path) {
	switch {
	case len(p) == 0:
		return nil, nil
	case t <= 0:
		return clonePath(p[:i]), clonePath(p[i:])
	case t >= 1:
		return clonePath(p[:i+1]), clonePath(p[i+1:])
	}
	a, b := p[i].Split(t)
	before := append(clonePath(p[:i]), a)
	after := append(Path{b}, p[i+1:]...)
	return before, after
}

func clonePath(p Path) Path { return append(Path(nil), p...) }

// SubPath is the part from d0 to d1 mm from the start, both clamped to the ends
// and exact to tol; empty where d1 <= d0.
func (p Path) SubPath(d0, d1, tol float64) Path {
	if !(d0 < d1) || len(p) == 0 {
		return nil
	}
	i, t := p.Locate(d0, tol)
	j, u := p.Locate(d1, tol)
	if i == j && t < u {
		return Path{p[i].Sub(t, u)}
	}
	if i >= j {
		return nil
	}
	var q Path
	if t < 1 {
		q = append(q, p[i].Sub(t, 1))
	}
	q = append(q, p[i+1:j]...)
	if u > 0 {
		q = append(q, p[j].Sub(0, u))
	}
	return q
}

// Area is half the integral of x dy - y dx along the path, in square mm, exact
// for lines and cubics: the area of a ring, positive where it runs
// anticlockwise, each part counted as often as the ring winds round it. For an
// open path it is the area between the chain and the two lines to the origin.
func (p Path) Area() float64 {
	if len(p) == 0 {
		return 0
	}
	// Measured about the first point, so that a ring far from the origin loses
	// nothing; a closed ring needs no correction for that.
	o, sum := p.Start(), 0.0
	for i := range p {
		sum += p[i].sector(o)
	}
	return sum + o.Cross(p.End().Sub(o))/2
}

// sector is half the integral of x dy - y dx with o as the origin.
func (s *Segment) sector(o Point) float64 {
	p0, p3 := s.P0.Sub(o), s.P3.Sub(o)
	if s.Straight {
		return p0.Cross(p3) / 2
	}
	p1, p2 := s.P1.Sub(o), s.P2.Sub(o)
	sum := float64(6*p0.Cross(p1)) + float64(3*p0.Cross(p2)) + p0.Cross(p3) +
		float64(3*p1.Cross(p2)) + float64(3*p1.Cross(p3)) + float64(6*p2.Cross(p3))
	return sum / 20
}
