package curve

import (
	"math"
	"sort"
)

// Sample is one place of the new path and its foot on the old one.
type Sample struct {
	At   float64 // mm along the old path to the foot, between 0 and its length
	Dist float64 // mm moved sideways, positive to the right of the old path's walk
	Old  Point   // the foot, on the old path or on its extension
	New  Point
}

// Movement is what Sideways found.
type Movement struct {
	Samples []Sample // along the new path, from its start
	Out     Sample   // the largest Dist above 0; the zero Sample if there is none
	In      Sample   // the most negative Dist; the zero Sample if there is none
	Moved   bool     // some Dist is larger than eps, either way
}

const (
	footTol = 1e-4 // accuracy of Sample.At in mm
	stillAt = 2e-7 // what is less than the accuracy of Nearest is no movement, mm
)

// Sideways measures how far the new path lies beside the old one. For places
// along the new path it finds the nearest place on the old path, which is
// extended at both ends along its end tangents: plain nearest distance would
// invent a movement where an edge only became longer. Outlines run
// anticlockwise, so right is out of the piece.
//
// The samples stand at even steps (at most 1/64 of the new path's length and at
// least 8 a segment), and at the two extremes, whose Dist is exact to 1e-4 mm
// as long as Dist has no second bump between two samples. Dist below 2e-7 mm is given as
// 0, so the same curve, also cut at other places, has 0 everywhere. Paths equal
// bit for bit give only their joints. The extension at an end serves only places
// nearer to that half of the old path, so that a strongly bent edge is not
// measured against the extension of its far end; a closed old path is not
// extended. An old or new path without points gives no samples; an old path
// that is a single point has no sides, and gives none either.
func Sideways(old, new Path, eps float64) Movement {
	r, ok := newRuler(old)
	if !ok || len(new) == 0 {
		return Movement{}
	}
	if samePath(old, new) {
		return Movement{Samples: r.joints()}
	}
	trail := r.trail(new)
	m := Movement{}
	out, in := r.extreme(new, trail, 1), r.extreme(new, trail, -1)
	if out.Dist > 0 {
		m.Out = out.Sample
		trail = insertStep(trail, out)
	}
	if in.Dist < 0 {
		m.In = in.Sample
		trail = insertStep(trail, in)
	}
	m.Samples = make([]Sample, len(trail))
	for i := range trail {
		m.Samples[i] = trail[i].Sample
	}
	m.Moved = m.Out.Dist > eps || -m.In.Dist > eps
	return m
}

func samePath(p, q Path) bool {
	if len(p) != len(q) {
		return false
	}
	for i := range p {
		if p[i] != q[i] {
			return false
		}
	}
	return true
}

// ruler is an old path prepared for measuring against it.
type ruler struct {
	path        Path
	start, end  Point     // the ends
	first, last Point     // unit directions of the walk at the ends
	upTo        []float64 // mm to the start of each segment, and to the end of the last
	open        bool
}

func newRuler(p Path) (*ruler, bool) {
	r := &ruler{path: p, start: p.Start(), end: p.End(), open: !p.closed()}
	var ok bool
	if r.first, ok = p.StartTangent(); !ok {
		return nil, false
	}
	r.last, _ = p.EndTangent()
	r.upTo = make([]float64, len(p)+1)
	for i := range p {
		r.upTo[i+1] = r.upTo[i] + p[i].Length(footTol/float64(2*len(p)))
	}
	return r, true
}

func (r *ruler) length() float64 { return r.upTo[len(r.path)] }

// joints samples an old path that did not change.
func (r *ruler) joints() []Sample {
	list := make([]Sample, 0, len(r.path)+1)
	for i := range r.path {
		p := r.path[i].P0
		list = append(list, Sample{At: r.upTo[i], Old: p, New: p})
	}
	return append(list, Sample{At: r.length(), Old: r.end, New: r.end})
}

// measure gives the foot and the signed distance of one place q.
func (r *ruler) measure(q Point) Sample {
	n := r.path.Nearest(q)
	s := Sample{Old: n.Point, New: q}
	s.At = r.upTo[n.Seg] + r.path[n.Seg].LengthBetween(0, n.T, footTol/2)
	s.At = min(s.At, r.length())
	dist, way := n.Dist, r.way(n)
	if r.open {
		if d := q.Sub(r.end); d.Dot(r.last) > 0 && s.At >= r.length()/2 && math.Abs(r.last.Cross(d)) <= dist {
			s.At, s.Old = r.length(), r.end.Add(r.last.Mul(d.Dot(r.last)))
			dist, way = math.Abs(r.last.Cross(d)), r.last
		}
		if d := q.Sub(r.start); d.Dot(r.first) < 0 && s.At <= r.length()/2 && math.Abs(r.first.Cross(d)) <= dist {
			s.At, s.Old = 0, r.start.Add(r.first.Mul(d.Dot(r.first)))
			dist, way = math.Abs(r.first.Cross(d)), r.first
		}
	}
	if dist <= stillAt {
		return s
	}
	s.Dist = dist
	if way.Cross(q.Sub(s.Old)) > 0 {
		s.Dist = -dist
	}
	return s
}

// way is the direction of the walk at a foot. At a joint that turns it is the
// mean of both directions, which tells the sides apart all round the joint.
func (r *ruler) way(n Near) Point {
	u, _ := r.path[n.Seg].Tangent(n.T)
	before, after := n.Seg, n.Seg
	switch {
	case n.T <= 0:
		before = r.neighbour(n.Seg, -1)
	case n.T >= 1:
		after = r.neighbour(n.Seg, 1)
	default:
		return u
	}
	if before < 0 || after < 0 {
		return u
	}
	a, okA := r.path[before].EndTangent()
	b, okB := r.path[after].StartTangent()
	if !okA || !okB {
		return u
	}
	return a.Add(b)
}

// neighbour is the next segment with a direction, round a ring; -1 at an end.
func (r *ruler) neighbour(i, step int) int {
	for range r.path {
		i += step
		if i < 0 || i >= len(r.path) {
			if r.open {
				return -1
			}
			i = (i + len(r.path)) % len(r.path)
		}
		if !r.path[i].point() {
			return i
		}
	}
	return -1
}

// step is a sample and its place on the new path.
type step struct {
	Sample
	place place
}

// trail samples the new path.
func (r *ruler) trail(p Path) []step {
	const most, least, whole = 64, 8, 64
	total := p.Length(1)
	var list []step
	for i := range p {
		n := most
		if total > 0 {
			n = int(math.Ceil(whole * p[i].Length(1) / total))
		}
		n = min(max(n, least), most)
		if p[i].point() {
			n = 1
		}
		for k := range n {
			list = append(list, r.stepAt(p, place{i, float64(k) / float64(n)}))
		}
	}
	return append(list, r.stepAt(p, place{len(p) - 1, 1}))
}

func (r *ruler) stepAt(p Path, at place) step {
	return step{r.measure(p[at.seg].At(at.t)), at}
}

// extreme finds the largest sign*Dist on the new path: every sample that no
// neighbour exceeds and that could be topped between them is refined.
func (r *ruler) extreme(p Path, trail []step, sign float64) step {
	best := trail[0]
	for _, s := range trail {
		if sign*s.Dist > sign*best.Dist {
			best = s
		}
	}
	for k := range trail {
		lo, hi := max(k-1, 0), min(k+1, len(trail)-1)
		d, dl, dh := sign*trail[k].Dist, sign*trail[lo].Dist, sign*trail[hi].Dist
		if d < dl || d < dh {
			continue
		}
		// A bump between samples rises about as much again as it fell to the lower one.
		if d+2*(d-min(dl, dh)) < sign*best.Dist || d == 0 && dl == 0 && dh == 0 {
			continue
		}
		found := r.climb(p, trail[lo], trail[hi], sign)
		if trail[lo].place.seg != trail[k].place.seg { // a joint: each side by itself
			found = r.climb(p, trail[lo], trail[k], sign)
			if s := r.climb(p, trail[k], trail[hi], sign); sign*s.Dist > sign*found.Dist {
				found = s
			}
		}
		if sign*found.Dist > sign*best.Dist {
			best = found
		}
	}
	return best
}

// climb looks for the largest sign*Dist between two near steps by golden sections;
// both lie on the earlier one's segment or at its end.
func (r *ruler) climb(p Path, a, b step, sign float64) step {
	if a.place == b.place {
		return a
	}
	seg, t0, t1 := a.place.seg, a.place.t, b.place.t
	if b.place.seg != seg {
		t1 = 1
	}
	const golden = 0.6180339887498949
	x0, x1 := between(t1, t0, golden), between(t0, t1, golden)
	s0, s1 := r.stepAt(p, place{seg, x0}), r.stepAt(p, place{seg, x1})
	for range 60 {
		gap := s0.New.Dist(s1.New)
		if gap < footTol/2 || t1-t0 < 1e-9 {
			break
		}
		if sign*s0.Dist >= sign*s1.Dist {
			t1, x1, s1 = x1, x0, s0
			x0 = between(t1, t0, golden)
			s0 = r.stepAt(p, place{seg, x0})
		} else {
			t0, x0, s0 = x0, x1, s1
			x1 = between(t0, t1, golden)
			s1 = r.stepAt(p, place{seg, x1})
		}
	}
	if sign*s0.Dist >= sign*s1.Dist {
		return s0
	}
	return s1
}

// insertStep puts a step in its place along the new path.
func insertStep(trail []step, s step) []step {
	i := sort.Search(len(trail), func(i int) bool {
		p := trail[i].place
		return p.seg > s.place.seg || p.seg == s.place.seg && p.t >= s.place.t
	})
	if i < len(trail) && trail[i].place == s.place {
		return trail
	}
	trail = append(trail, step{})
	copy(trail[i+1:], trail[i:])
	trail[i] = s
	return trail
}
