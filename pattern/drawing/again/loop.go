package again

import (
	"fmt"
	"math"
	"sort"

	"seamkeep/pattern/curve"
)

// lengthTol is the accuracy of lengths along a ring, in mm.
const lengthTol = 1e-7

// What makes a corner; 10 degrees: common practice, no source. The same rule
// finds the corners of a piece that is brought in for the first time.
const (
	cornerTurn  = 10.0 // degrees by which the outline turns
	shortHandle = 0.05 // mm; a shorter handle gives no direction
	shortPart   = 0.1  // mm; a shorter segment gives no direction
)

// loop is a closed path, measured. A place on it is its distance in mm from the
// start, walking anticlockwise.
type loop struct {
	path curve.Path
	at   []float64   // where each segment begins; one more than segments
	turn []float64   // degrees by which the outline turns where the segment begins
	box  []curve.Box // that hold each segment, found without solving anything
}

func newLoop(path curve.Path) *loop {
	l := &loop{path: path, at: make([]float64, len(path)+1), turn: turns(path)}
	for i, s := range path {
		l.box = append(l.box, curve.EmptyBox().Add(s.P0).Add(s.P1).Add(s.P2).Add(s.P3))
		l.at[i+1] = l.at[i] + s.Length(lengthTol/float64(len(path)))
	}
	return l
}

// sound gives a drawn ring that is closed, anticlockwise and without segments of
// no length, or says what is wrong with it, as the end of a sentence. A gap of
// within mm is closed.
func sound(ring curve.Path, within float64) (curve.Path, string) {
	const largest, least = 1e5, 1e-6 // mm
	var out curve.Path
	for _, s := range ring {
		for _, q := range [4]curve.Point{s.P0, s.P1, s.P2, s.P3} {
			if !(math.Abs(q.X) <= largest && math.Abs(q.Y) <= largest) {
				return nil, "the drawn outline has a point that is no place on a sheet"
			}
		}
		if b := s.Bounds(); math.Max(b.Width(), b.Height()) <= least {
			continue
		}
		if n := len(out); n > 0 {
			if gap := out[n-1].P3.Dist(s.P0); gap > within {
				return nil, fmt.Sprintf("the drawn outline has a gap of %.3f mm at %.1f %.1f", gap, s.P0.X, s.P0.Y)
			}
			s = fromPoint(s, out[n-1].P3)
		}
		out = append(out, s)
	}
	if len(out) < 1 {
		return nil, "the drawn outline is empty"
	}
	if gap := out.End().Dist(out.Start()); gap > within {
		return nil, fmt.Sprintf("the drawn outline is open: its ends lie %.3f mm apart", gap)
	}
	out[0] = fromPoint(out[0], out.End())
	area := out.Area()
	if !(math.Abs(area) > within*within) {
		return nil, "the drawn outline has no inside"
	}
	if area < 0 {
		out = out.Reverse()
	}
	return out, ""
}

// fromPoint gives the segment with another start.
func fromPoint(s curve.Segment, p curve.Point) curve.Segment {
	if s.Straight {
		return curve.Line(p, s.P3)
	}
	s.P0 = p
	return s
}

// sharp tells whether the outline turns by more than cornerTurn where segment i
// begins.
func (l *loop) sharp(i int) bool { return l.turn[i] > cornerTurn }

func turns(ring curve.Path) []float64 { return ring.Turns(shortPart, shortHandle) }

func (l *loop) total() float64 { return l.at[len(l.path)] }

// wrap brings a place into the first round.
func (l *loop) wrap(s float64) float64 {
	t := l.total()
	if s = math.Mod(s, t); s < 0 {
		s += t
	}
	if s >= t {
		return 0
	}
	return s
}

// ahead is how far the walk is from one place to another: at least 0 and less
// than a round.
func (l *loop) ahead(from, to float64) float64 { return l.wrap(to - from) }

// apart is the shorter way between two places.
func (l *loop) apart(s, t float64) float64 {
	d := l.ahead(s, t)
	return math.Min(d, l.total()-d)
}

// find gives the segment and the parameter at a place.
func (l *loop) find(s float64) (int, float64) {
	s = l.wrap(s)
	i := sort.SearchFloat64s(l.at, s)
	if i == len(l.at) || l.at[i] > s {
		i--
	}
	i = min(i, len(l.path)-1)
	if s-l.at[i] <= lengthTol {
		return i, 0
	}
	if l.at[i+1]-s <= lengthTol {
		return (i + 1) % len(l.path), 0
	}
	return i, l.path[i].ParamAt(s-l.at[i], lengthTol)
}

func (l *loop) point(s float64) curve.Point {
	i, t := l.find(s)
	return l.path[i].At(t)
}

// cut gives the way from one place to another: a whole round where they are the
// same.
func (l *loop) cut(from, to float64) curve.Path {
	i, t := l.find(from)
	j, u := l.find(to)
	if i == j && t < u {
		return curve.Path{l.path[i].Sub(t, u)}
	}
	out := curve.Path{l.path[i].Sub(t, 1)}
	for k := (i + 1) % len(l.path); k != j; k = (k + 1) % len(l.path) {
		out = append(out, l.path[k])
	}
	if u > 0 {
		out = append(out, l.path[j].Sub(0, u))
	}
	return out
}

// places lists where the ring passes a point within r mm: one place for each
// time, the joint there if one is as near as that, else the nearest place.
func (l *loop) places(q curve.Point, r float64) []float64 {
	type place struct{ s, dist float64 }
	var found []place
	box := curve.EmptyBox().Add(q).Grow(r)
	for i, seg := range l.path {
		if d := seg.P0.Dist(q); d <= r {
			found = append(found, place{l.at[i], d - r}) // joints go before all others
		}
		if !l.box[i].Overlaps(box) {
			continue
		}
		if n := (curve.Path{seg}).Nearest(q); n.Dist <= r && n.T > 0 && n.T < 1 {
			found = append(found, place{l.at[i] + seg.LengthBetween(0, n.T, lengthTol), n.Dist})
		}
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].dist < found[j].dist })
	var out []float64
next:
	for _, f := range found {
		for _, s := range out {
			if l.apart(s, f.s) <= 8*r {
				continue next
			}
		}
		out = append(out, f.s)
	}
	return out
}
