package curve

import (
	"math"
	"testing"
)

// FuzzSegment holds every answer about a segment of finite points up to 1e5 in
// size to be finite, in its range, and given.
func FuzzSegment(f *testing.F) {
	f.Add(0.0, 0.0, 300.0, 300.0, 0.0, 300.0, 300.0, 0.0, 100.0, 10.0)
	f.Add(0.0, 0.0, 0.0, 0.0, 1.0/3, 0.0, 1.0, 1.0, 0.5, 0.0)
	f.Add(0.0, 0.0, 50.0, 0.0, 100.0, 0.0, -50.0, 0.0, 149.0, 0.0)
	f.Add(7.0, 7.0, 7.0, 7.0, 7.0, 7.0, 7.0, 7.0, 1.0, 7.0)
	f.Add(1e5, -1e5, -1e5, 1e5, 1e5, 1e5, -1e5, -1e5, 1e5, 0.0)
	f.Add(0.0, 0.0, 1e-300, 0.0, 0.0, 1e-300, 1e-160, 0.0, 1e-200, 0.0)
	f.Fuzz(func(t *testing.T, ax, ay, bx, by, cx, cy, dx, dy, dist, y float64) {
		for _, v := range []float64{ax, ay, bx, by, cx, cy, dx, dy, dist, y} {
			if !(math.Abs(v) <= 1e5) {
				return // no place on a pattern is further out
			}
		}
		s := Cubic(Pt(ax, ay), Pt(bx, by), Pt(cx, cy), Pt(dx, dy))
		checkSegment(t, s, dist, y)
		checkSegment(t, Line(s.P0, s.P3), dist, y)
		checkPath(t, Path{s, Line(s.P3, s.P0)}, dist, y)
		checkPath(t, Path{s, s.Reverse()}, dist, y)
		checkPath(t, Path{s, Cubic(s.P3, s.P1, s.P2, s.P0)}, dist, y)
		checkPair(t, Path{s, Line(s.P3, s.P0)}, Path{Cubic(s.P0, Pt(dist, y), s.P2, s.P3), Line(s.P3, s.P0)})
		checkPair(t, Path{s}, Path{Cubic(s.P0, s.P2, s.P1, s.P3)}.Transform(Translate(y*1e-7, dist*1e-9)))
	})
}

func finite(t *testing.T, what string, list ...float64) {
	t.Helper()
	for _, v := range list {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%s: not finite: %v", what, list)
		}
	}
}

func checkSegment(t *testing.T, s Segment, dist, y float64) {
	chord := s.P0.Dist(s.P3)
	polygon := s.P0.Dist(s.P1) + s.P1.Dist(s.P2) + s.P2.Dist(s.P3)
	for _, tol := range []float64{1e-1, 1e-6, 0} {
		l := s.Length(tol)
		finite(t, "length", l)
		if l < chord-tol-1e-9 || l > polygon+tol+1e-9 {
			t.Fatalf("length %v outside chord %v and polygon %v", l, chord, polygon)
		}
		u := s.ParamAt(dist, tol)
		if !(u >= 0 && u <= 1) {
			t.Fatalf("parameter %v", u)
		}
		want := math.Min(math.Max(dist, 0), l)
		if got := s.LengthBetween(0, u, tol/4); math.Abs(got-want) > 3*tol+1e-8 {
			t.Fatalf("length to the place at %v is %v", want, got)
		}
	}
	for _, u := range []float64{0, 0.3, 0.5, 1} {
		p, d := s.At(u), s.Deriv(u)
		finite(t, "point", p.X, p.Y, d.X, d.Y)
		v, ok := s.Tangent(u)
		finite(t, "tangent", v.X, v.Y)
		if !ok && !s.point() {
			t.Fatalf("no tangent at %v", u)
		}
		if ok && math.Abs(v.Len()-1) > 1e-9 {
			t.Fatalf("tangent of length %v", v.Len())
		}
		if !s.Bounds().Grow(1e-9 + 1e-15*s.size()).holds(p) {
			t.Fatalf("point %v outside its box", p)
		}
	}
	for _, p := range s.Flatten(1) {
		finite(t, "flat", p.X, p.Y)
	}
}

func checkPath(t *testing.T, p Path, dist, y float64) {
	finite(t, "area and width", p.Area(), p.WidthAt(y), p.Length(1e-6))
	q := p.PointAt(dist, 1e-6)
	n := p.Nearest(Pt(dist, y))
	finite(t, "places", q.X, q.Y, n.Dist, n.T, n.Point.X, n.Point.Y)
	for _, c := range p.CrossingsY(y) {
		finite(t, "crossing", c.T, c.Point.X, c.Point.Y)
		if math.Abs(c.Point.Y-y) > 2e-6 {
			t.Fatalf("crossing %v off %v", c, y)
		}
	}
	p.Contains(Pt(dist, y))
	for _, c := range p.SelfCrossings() {
		finite(t, "self-crossing", c.TA, c.TB, c.Point.X, c.Point.Y)
	}
	for _, c := range Sideways(p[:1], p.Transform(Translate(0, 1)), 1e-3).Samples {
		finite(t, "sideways", c.At, c.Dist, c.Old.X, c.Old.Y, c.New.X, c.New.Y)
	}
}

// checkPair holds what is found between two paths to be finite and in its range.
func checkPair(t *testing.T, p, q Path) {
	size := max(p[0].size(), q[0].size())
	for _, h := range Intersections(p[0], q[0]) {
		if !(h.TA >= 0 && h.TA <= 1 && h.TB >= 0 && h.TB <= 1) {
			t.Fatalf("hit at %v", h)
		}
		if d := p[0].At(h.TA).Dist(q[0].At(h.TB)); !(d <= 3*samePlace) {
			t.Fatalf("hit %v: %v apart", h, d)
		}
	}
	const tol = 1e-3
	there, both := Directed(p, q, tol), Hausdorff(p, q, tol)
	finite(t, "far", there.Dist, there.T, both.Dist, both.T, both.On.X, both.To.Y)
	if both.Dist < there.Dist || both.Dist > 4*size+1 {
		t.Fatalf("%v there, %v both", there, both)
	}
	if d := both.On.Dist(both.To); math.Abs(d-both.Dist) > 1e-6 {
		t.Fatalf("%v: places are %v apart", both, d)
	}
	Lies(p, q, there.Dist)
	d, e := Areas(p, q, tol), Areas(q, p, tol)
	finite(t, "areas", d.Gained, d.Lost, d.Residual)
	if d.OK != e.OK || d.Gained < 0 || d.Lost < 0 {
		t.Fatalf("%v, exchanged %v", d, e)
	}
	if d.OK && math.Abs(d.Gained-d.Lost-(q.Area()-p.Area())) > 1e-6*(1+size)+1e-10*size*size {
		t.Fatalf("%v against %v and %v", d, p.Area(), q.Area())
	}
	m, rms, _ := RegisterPaths([]Path{p}, []Path{q}, tol)
	finite(t, "motion", m.Angle, m.Shift.X, m.Shift.Y, rms)
	s := Sideways(p, q, tol)
	finite(t, "movement", s.Out.Dist, s.In.Dist)
}
