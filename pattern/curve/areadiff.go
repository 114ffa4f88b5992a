package curve

import "math"

// AreaDiff is what a ring gained and lost, in square mm.
type AreaDiff struct {
	Gained float64 // inside the new ring only
	Lost   float64 // inside the old ring only
	OK     bool    // false: not known, and both figures are 0
	// Residual is gained - lost less the difference of the two rings' own areas,
	// which are exact (Green's theorem): what the sweep has miscounted.
	Residual float64
}

// Areas finds the areas that a closed ring gained and lost from one version to
// the next. Both rings must run anticlockwise and not meet themselves; an empty
// path is a ring without area. OK is false where that does not hold, where the
// two do not wind round each place as such rings do, or where Residual is larger
// than rounding explains: never a wrong figure.
//
// Figures of lines are exact. With curves each errs by at most 8 tol mm times
// the length of the changed segments, and mostly by thousands of times less: only
// what lies within 8 tol of a crossing is approximate. A tol below 1e-6 mm is
// taken as that.
//
// Method: a place lies inside the new ring only where the new ring less the old
// one winds round it once, inside the old one only where it does so minus once.
// Segments that are in both rings bit for bit cancel and are dropped. The others
// are flattened within 8 tol, and swept upwards in slabs that hold neither a corner
// nor a crossing, so that nothing depends on how the lines are joined and no
// near miss can break it. The slivers between the curves and their chords, whose
// areas are exact, are added on the side on which they lie.
func Areas(old, new Path, tol float64) AreaDiff {
	was, okOld := sound(old)
	now, okNew := sound(new)
	if !okOld || !okNew {
		return AreaDiff{}
	}
	if !(tol > samePlace) {
		tol = samePlace
	}
	var w sweep
	length, ok := w.addChanged(was, now, coarser*tol)
	if !ok {
		return AreaDiff{}
	}
	w.run()
	d := AreaDiff{Gained: w.gained, Lost: w.lost, Residual: w.gained - w.lost - (now.Area() - was.Area())}
	noise := areaNoise(was.Bounds().Union(now.Bounds()))
	exact, loose := float64(samePlace*length)+noise, float64(coarser*tol*length)+noise
	if !(math.Abs(d.Residual) <= exact) || !(max(w.wrong, -d.Gained, -d.Lost) <= loose) {
		return AreaDiff{Residual: finiteOr0(d.Residual)}
	}
	d.OK = true
	switch { // what is hardly less than nothing is nothing, and the difference stays right
	case d.Gained < 0:
		d.Gained, d.Lost = 0, max(d.Lost-d.Gained, 0)
	case d.Lost < 0:
		d.Gained, d.Lost = max(d.Gained-d.Lost, 0), 0
	}
	return d
}

// areaNoise is what rounding may do to areas within a box.
func areaNoise(b Box) float64 {
	if b.Empty() {
		return 0
	}
	size := max(b.Width(), b.Height())
	return float64(1e-12 * size * (size + math.Abs(b.Min.X) + math.Abs(b.Min.Y)))
}

const (
	maxChords = 1 << 20 // bounds the work: above it there is no answer
	// coarser is how many times tol the chords may stray from the curves. The
	// slivers set that right but close to crossings, where chord and curve may lie
	// in another order: 3 000 pairs at tol 1e-4 erred by 1e-3 mm2 at most.
	coarser = 8
)

func finiteOr0(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

// sound gives the ring with joints that meet to the last bit, lines with their
// handles at the thirds; false where it has no clear inside.
func sound(p Path) (Path, bool) {
	if len(p) == 0 {
		return nil, true
	}
	if !p.closed() {
		return nil, false
	}
	ring := make(Path, len(p))
	at := p.End()
	for i, s := range p {
		if s.P0.Dist(at) > samePlace {
			return nil, false
		}
		s.P0 = at
		ring[i], at = s.plain(), s.P3
	}
	return ring, ring.Area() > 0 && len(ring.SelfCrossings()) == 0
}

// addChanged flattens what is in one ring only, and gives the length of it.
func (w *sweep) addChanged(was, now Path, tol float64) (float64, bool) {
	fresh, gone := changedSegments(was, now)
	total := 0
	for _, p := range [2]Path{fresh, gone} {
		for i := range p {
			total += roundUp(p[i].pieces(tol))
		}
	}
	if total > maxChords {
		return 0, false
	}
	w.chords = make([]chord, 0, total)
	for i := range fresh {
		w.flatten(&fresh[i], tol, true)
	}
	for i := range gone {
		w.flatten(&gone[i], tol, false)
	}
	return fresh.Length(1) + gone.Length(1), true
}

// changedSegments gives the segments that are in one ring only, bit for bit.
func changedSegments(was, now Path) (fresh, gone Path) {
	kept := make(map[[4]Point]int, len(was))
	for i := range was {
		kept[was[i].key()]++
	}
	for i := range now {
		if k := now[i].key(); kept[k] > 0 {
			kept[k]--
			continue
		}
		fresh = append(fresh, now[i])
	}
	for i := len(was) - 1; i >= 0; i-- {
		if k := was[i].key(); kept[k] > 0 {
			kept[k]--
			gone = append(gone, was[i])
		}
	}
	return fresh, gone
}

func (s *Segment) key() [4]Point { return [4]Point{s.P0, s.P1, s.P2, s.P3} }

// flatten adds the chords of a segment. Their number is rounded up to one of few,
// so that two versions of one curve are mostly cut at the same parameters.
func (w *sweep) flatten(s *Segment, tol float64, isNew bool) {
	n := roundUp(s.pieces(tol))
	g, third := 0.5/float64(n), s.third()
	from := s.P0
	for i := 1; i <= n; i++ {
		to := s.P3
		if i < n {
			to = s.At(float64(i) / float64(n))
		}
		sliver := 0.0
		if !s.Straight {
			sliver = s.sliver(float64(2*i-1)*g, g, third)
		}
		w.add(from, to, isNew, i == 1, sliver)
		from = to
	}
	w.turns = append(w.turns, s.P3.Y+float64(s.P3.X*shear))
}

// roundUp gives the next number of the kind 2^k or 3 * 2^k.
func roundUp(n int) int {
	p := 1
	for p < n {
		if p > 1 && p/2*3 >= n {
			return p / 2 * 3
		}
		p *= 2
	}
	return p
}

// third is the third derivative by the parameter, the same everywhere.
func (s *Segment) third() Point {
	return s.P3.Sub(s.P0).Sub(s.P2.Sub(s.P1).Mul(3)).Mul(6)
}

// sliver is the area between the chord over the parameters m-g to m+g and its
// curve, positive where the curve lies to the right. With the derivatives v, a, j
// at m the curve is v x + a x^2/2 + j x^3/6 for x from -g to g, and half the
// integral of the vector product of place and velocity, there along the curve
// and back along the chord, is 2/3 g^3 v x a - 1/15 g^5 a x j.
func (s *Segment) sliver(m, g float64, j Point) float64 {
	v, a := s.Deriv(m), s.second(m)
	gg := float64(g * g)
	return float64(gg*g) * (float64(v.Cross(a)*(2.0/3)) - float64(gg*a.Cross(j)/15))
}
