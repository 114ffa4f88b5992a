package again

import (
	"fmt"
	"math"
	"sort"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// frame is the movement that lays a drawing on its piece.
type frame struct {
	fit  curve.Rigid
	by   How
	lays laid
}

// laid says which edges of a piece a movement finds on the drawn ring.
type laid struct {
	put      curve.Rigid // lays the piece on the ring
	on       []bool      // of each edge: the ring runs along it, whole
	from, to []float64   // and between which places
	length   float64     // mm of edges that are on the ring
	marks    float64     // mm of marks that lie on drawn ones, points as pointWeight
	strays   float64     // mm that the ring lies off the old line in the mean; where judged
	judged   bool
}

// pointWeight is how much a point that lies in place says about a movement,
// beside mm of lines.
const pointWeight = 10

func (a laid) all() bool {
	for _, on := range a.on {
		if !on {
			return false
		}
	}
	return len(a.on) > 0
}

func (a laid) count() (n int) {
	for _, on := range a.on {
		if on {
			n++
		}
	}
	return n
}

func (a laid) score() float64 { return a.length + a.marks }

// frame finds how the ring lies on the piece, or says why not.
func (y *laying) frame(k *kept, l *loop, d Drawn, o Options) (frame, bool) {
	s := &search{k: k, l: l, d: d}
	var page laid
	if o.At != nil {
		page = s.lay(curve.Rigid{Shift: *o.At}, k.within)
		if page.all() {
			return frameOf(page, ByPage), true
		}
	}
	best, rival := s.best()
	if !best.all() && s.mirrored(best) {
		y.add(k.piece, "mirrored", diag.Error, "", "it is drawn as its own mirror image",
			"the piece as seen on the right side of the cloth",
			"flip it back in the drawing and import again; a piece that is cut in mirrored pairs is drawn once")
		return frame{}, false
	}
	if page.length > 0 && !(2*best.length > k.total && best.length > 2*page.length) {
		return frameOf(page, ByPage), true
	}
	if best.length > 0 {
		s.doubts(y, best, rival)
		return frameOf(best, ByEdges), true
	}
	return s.guess(y, o)
}

func frameOf(a laid, by How) frame { return frame{fit: inverse(a.put), by: by, lays: a} }

func inverse(r curve.Rigid) curve.Rigid {
	back := curve.Rotate(-r.Angle).Apply(r.Shift)
	return curve.Rigid{Angle: -r.Angle, Shift: curve.Pt(-back.X, -back.Y)}
}

// doubts says where the frame stands on little.
func (s *search) doubts(y *laying, best, rival laid) {
	const far = 0.1 // of the size of the piece
	name := func(a laid) string {
		for i, on := range a.on {
			if on {
				return s.k.piece.Edges[i].Name
			}
		}
		return ""
	}
	if off := s.differ(best.put, rival.put); rival.length > 0 && off > 10*s.k.within && 2*best.score() <= s.k.total {
		y.add(s.k.piece, "frame", diag.Warning, "", fmt.Sprintf(
			"it was laid on its old outline by edge %s; edge %s would lie in place too if the piece were moved by %.1f mm",
			name(best), name(rival), off), "edges that agree on one place",
			"leave the piece where the export put it, or change one edge at a time")
	} else if off := s.stray(best.put); best.count() == 1 && off > far*s.k.size {
		y.add(s.k.piece, "frame", diag.Warning, "", fmt.Sprintf(
			"it was laid on its old outline by edge %s alone, and its corners lie %.1f mm off the old line in the mean", name(best), off),
			"several edges that kept their shape", "look at the picture before the new outline is kept")
	}
}

// stray is how far, in mm and in the mean, the joints of the ring lie from the
// piece as a movement puts it.
func (s *search) stray(put curve.Rigid) float64 {
	m, sum := inverse(put).Affine(), 0.0
	outline := s.k.piece.Outline()
	for _, seg := range s.l.path {
		sum += outline.Nearest(m.Apply(seg.P0)).Dist
	}
	return sum / float64(len(s.l.path))
}

// differ is how far apart, in mm, two movements put a corner of the piece at most.
func (s *search) differ(a, b curve.Rigid) float64 {
	far := 0.0
	m, n := a.Affine(), b.Affine()
	for _, c := range s.k.piece.Corners {
		far = math.Max(far, m.Apply(c.At).Dist(n.Apply(c.At)))
	}
	return far
}

// search looks for the movement that lays a piece on a ring.
type search struct {
	k *kept
	l *loop
	d Drawn
}

// Bounds on the search: edges tried, longest first, and places tried for each.
const (
	seedEdges  = 12
	seedPlaces = 48
)

// best tries the movements that lay one edge on a stretch of the ring of its
// shape, and keeps the one that lays most; the second answer is the next best of
// those that differ from it.
func (s *search) best() (best, rival laid) {
	order := make([]int, 0, len(s.k.paths))
	for i := range s.k.paths {
		if s.k.lengths[i] > 20*s.k.within {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return s.k.lengths[order[a]] > s.k.lengths[order[b]] })
	for _, i := range order[:min(seedEdges, len(order))] {
		for _, c := range s.seeds(i) {
			got := s.refined(c, i)
			switch {
			case got.length == 0:
			case s.better(&got, &best):
				if s.differ(best.put, got.put) > 10*s.k.within {
					rival = best
				}
				best = got
			case s.better(&got, &rival) && s.differ(best.put, got.put) > 10*s.k.within:
				rival = got
			}
		}
		if 4*best.length > 3*s.k.total {
			break
		}
	}
	return best, rival
}

// better prefers the movement that lays more and leaves the ring near to the old
// line, then the smaller turn.
func (s *search) better(a, b *laid) bool {
	const equal = 0.1 // mm, far above what noise does to a length
	switch {
	case b.length == 0:
		return a.length > 0
	case a.all() && b.all() && math.Abs(a.marks-b.marks) > equal:
		return a.marks > b.marks
	case a.all() && b.all():
		return math.Abs(a.put.Angle) < math.Abs(b.put.Angle)-1e-6
	}
	than := s.merit(b)
	if a.score() < than {
		return false // its merit is no more than that
	}
	noise := equal + 2*s.k.within/(strayed*s.k.size)*a.score()
	if d := s.merit(a) - than; math.Abs(d) > noise {
		return d > 0
	}
	return math.Abs(a.put.Angle) < math.Abs(b.put.Angle)-1e-6
}

// strayed is the part of the size of a piece by which a ring that strays in the mean halves
// what its edges in place say: one long edge that fits elsewhere by chance brings
// the rest of the outline out of place.
const strayed = 0.05

// merit is how much speaks for a movement, in mm of line.
func (s *search) merit(a *laid) float64 {
	if !a.judged {
		a.strays, a.judged = s.stray(a.put), true
	}
	return a.score() / (1 + a.strays/(strayed*s.k.size))
}

// seeds gives the movements that lay edge i on a stretch of the ring that begins
// or ends at a joint and has its shape, the smallest turn first.
func (s *search) seeds(i int) []curve.Rigid {
	const steps = 8
	r := 4 * s.k.within
	var from [steps + 1]curve.Point
	for n := range from {
		from[n] = s.k.paths[i].PointAt(s.k.lengths[i]*float64(n)/steps, lengthTol)
	}
	chord := from[0].Dist(from[steps])
	var out []curve.Rigid
	try := func(start float64, a, b curve.Point) {
		if math.Abs(a.Dist(b)-chord) > 2*r {
			return
		}
		var to [steps + 1]curve.Point
		for n := range to {
			to[n] = s.l.point(start + s.k.lengths[i]*float64(n)/steps)
		}
		if fit, rms, ok := curve.Register(from[:], to[:]); ok && rms <= r {
			out = append(out, fit)
		}
	}
	for n, seg := range s.l.path {
		a := s.l.at[n]
		end := s.l.point(a + s.k.lengths[i])
		try(a, seg.P0, end)
		// a stretch that begins at a joint has been tried from there
		if start := s.l.wrap(a - s.k.lengths[i]); !s.joint(start) {
			try(start, s.l.point(start), seg.P0)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return math.Abs(out[a].Angle) < math.Abs(out[b].Angle)-1e-6 })
	return out[:min(seedPlaces, len(out))]
}

// joint tells whether a joint of the ring stands at a place.
func (s *search) joint(place float64) bool {
	i, t := s.l.find(place)
	return t == 0 || s.l.apart(place, s.l.at[i]) <= s.k.within || s.l.apart(place, s.l.at[i+1]) <= s.k.within
}

// refined lays the piece by the movement that one edge gave, and betters it by
// all the edges that it laid.
func (s *search) refined(put curve.Rigid, seed int) laid {
	r := s.k.within
	// an edge that is off by r at its ends is off by more across the piece
	a := s.lay(put, r*(2+s.k.size/s.k.lengths[seed]))
	for range 2 {
		if fit, ok := s.refit(a); ok {
			a = s.lay(fit, 1.5*r)
		}
	}
	if fit, ok := s.refit(a); ok {
		a.put = fit
	}
	return s.lay(a.put, r)
}

// refit is the movement of least squares over the edges that were laid.
func (s *search) refit(a laid) (curve.Rigid, bool) {
	var from, to []curve.Point
	for i, on := range a.on {
		if !on {
			continue
		}
		steps := 4 + int(math.Ceil(64*s.k.lengths[i]/s.k.total))
		span := s.l.ahead(a.from[i], a.to[i])
		if span == 0 {
			span = s.l.total()
		}
		for n := range steps + 1 {
			u := float64(n) / float64(steps)
			from = append(from, s.k.paths[i].PointAt(s.k.lengths[i]*u, lengthTol))
			to = append(to, s.l.point(a.from[i]+span*u))
		}
	}
	fit, _, ok := curve.Register(from, to)
	return fit, ok
}

// lay finds the edges that a movement lays on the ring within r.
func (s *search) lay(put curve.Rigid, r float64) laid {
	n := len(s.k.paths)
	a := laid{put: put, on: make([]bool, n), from: make([]float64, n), to: make([]float64, n)}
	m := put.Affine()
	at := make([][]float64, n)
	for i := range at {
		at[i] = s.places(m, i, r)
	}
	for i := range s.k.paths {
		if s.k.lengths[i] <= r {
			continue
		}
		s.layEdge(&a, i, m, at[i], at[s.k.next(i)], r)
	}
	a.marks = s.marksLaid(inverse(put).Affine(), r)
	return a
}

// places lists where the ring passes corner i. A corner that turns must stand at
// a joint: a straight edge also lies on a line that was made longer.
func (s *search) places(m curve.Affine, i int, r float64) []float64 {
	all := s.l.places(m.Apply(s.k.corner(i)), r)
	if !s.k.sharp[i] {
		return all
	}
	var out []float64
	for _, place := range all {
		if _, t := s.l.find(place); t == 0 {
			out = append(out, place)
		}
	}
	return out
}

func (s *search) layEdge(a *laid, i int, m curve.Affine, starts, ends []float64, r float64) {
	slack := 16*r + 1e-4*s.k.lengths[i]
	for _, from := range starts {
		for _, to := range ends {
			span := s.l.ahead(from, to)
			if len(s.k.paths) == 1 || span == 0 {
				span = s.l.total()
			}
			if math.Abs(span-s.k.lengths[i]) > slack || !agree(s.k.paths[i].Transform(m), s.l.cut(from, to), r) {
				continue
			}
			a.on[i], a.from[i], a.to[i] = true, from, to
			a.length += s.k.lengths[i]
			return
		}
	}
}

// mirrored tells whether the ring is the mirror image of the piece: mirrored, it
// fits all round, or by more than half where the ring as drawn does not. Edges that lie on the
// piece's own mirror image say nothing of it.
func (s *search) mirrored(direct laid) bool {
	lost := 2*direct.length <= s.k.total
	if !lost && !s.sameSize() {
		return false // then no mirror image fits all round, and there is no need to look
	}
	best := s.k.mirroredOn(s.l.path)
	if best.all() || !lost || 2*best.length <= s.k.total {
		return best.all()
	}
	return best.length > 1.25*max(direct.length, s.k.mirroredOn(s.k.piece.Outline()).length)
}

// mirroredOn lays the mirror image of a piece on a ring.
func (k *kept) mirroredOn(ring curve.Path) laid {
	m := &search{k: k, l: newLoop(ring.Transform(curve.Scale(-1, 1)).Reverse())}
	best, _ := m.best()
	return best
}

// sameSize tells whether ring and piece have the same length and area, as
// congruent outlines do.
func (s *search) sameSize() bool {
	return math.Abs(s.l.total()-s.k.total) <= 4*s.k.within &&
		math.Abs(math.Abs(s.l.path.Area())-math.Abs(s.k.piece.Outline().Area())) <= s.k.within*s.k.total/4
}
