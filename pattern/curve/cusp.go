package curve

// cusp finds where a cubic stops and turns right back: where its speed is least, and so
// little that stopping there moves no place of it by more than size mm.
func (s *Segment) cusp(size float64) (float64, bool) {
	const n = 24
	least := func(t float64) float64 { return s.Deriv(t).Dot(s.second(t)) } // half the slope of the square of the speed
	t0, g0 := 0.0, least(0)
	for i := 1; i <= n; i++ {
		t1 := float64(i) / n
		g1 := least(t1)
		if g0 < 0 && g1 >= 0 {
			at := slowest(least, t0, t1)
			if s.Deriv(at).Len() <= size && at > 1e-3 && at < 1-1e-3 {
				return at, true
			}
		}
		t0, g0 = t1, g1
	}
	return 0, false
}

// slowest is where a function that is below 0 at t0 and not at t1 changes its sign.
func slowest(g func(float64) float64, t0, t1 float64) float64 {
	for range 50 {
		m := t0 + (t1-t0)/2
		if g(m) < 0 {
			t0 = m
		} else {
			t1 = m
		}
	}
	return t1
}

// parallelCusp is the parallel curve of a cubic with a cusp: of what lies before it and
// of what lies behind, and between them, as where a path turns right back, an arc about
// the tip.
func (s *Segment) parallelCusp(at, d, tol float64) Path {
	before, after := s.Split(at)
	before.P2, after.P1 = before.P3, after.P0 // it stands still there
	c := linker{snap: max(tol/16, samePlace)}
	tol -= tol / 16
	c.add(before.Parallel(d, tol)...)
	back, _ := s.second(at).Unit()
	c.add(swing(s.At(at), back.Mul(-1), back, d, d > 0, tol)...)
	c.add(after.Parallel(d, tol)...)
	return c.path
}
