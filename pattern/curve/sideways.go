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
// least 8 a segment), and at the two extremes. No Dist anywhere on the new path
// is beyond them by more than 1e-4 mm, as long as the foot does not leap to
// another part of the old path and back between two samples: what cannot be
// bounded by that is sampled more finely (at 4 000 places more, if need be). Dist below 2e-7 mm is given as
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
	out, in := r.extremes(new, trail)
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
func (r *ruler) measure(q Point) step {
	n := r.path.Nearest(q)
	s := step{Sample: Sample{Old: n.Point, New: q}, near: n}
	s.At = r.upTo[n.Seg] + r.path[n.Seg].LengthBetween(0, n.T, footTol/2)
	s.At = min(s.At, r.length())
	dist, way := n.Dist, r.way(n)
	if r.open {
		if d := q.Sub(r.end); d.Dot(r.last) > 0 && s.At >= r.length()/2 && math.Abs(r.last.Cross(d)) <= dist {
			s.At, s.Old = r.length(), r.end.Add(r.last.Mul(d.Dot(r.last)))
			dist, way, s.beyond = math.Abs(r.last.Cross(d)), r.last, 1
		}
		if d := q.Sub(r.start); d.Dot(r.first) < 0 && s.At <= r.length()/2 && math.Abs(r.first.Cross(d)) <= dist {
			s.At, s.Old = 0, r.start.Add(r.first.Mul(d.Dot(r.first)))
			dist, way, s.beyond = math.Abs(r.first.Cross(d)), r.first, -1
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

// step is a sample, its place on the new path, and where it was measured.
type step struct {
	Sample
	place  place
	near   Near // the nearest place of the old path
	beyond int  // -1 and 1: measured against the extension at the start, at the end
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
	s := r.measure(p[at.seg].At(at.t))
	s.place = at
	return s
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
