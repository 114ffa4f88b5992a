package curve

import "math"

// Turns tells of each joint of a closed path by how many degrees (0 to 180) the
// direction changes there: element i is the joint at which segment i begins.
//
// Drawing programs leave crumbs, whose direction is rounding: a segment shorter
// than part mm is passed over, and the turn then stands where the first of such
// segments begins; a handle shorter than handle mm is passed over for the next
// control point.
func (p Path) Turns(part, handle float64) []float64 {
	var long []int
	for i, s := range p {
		if s.P0.Dist(s.P3) >= part || !s.Straight && max(s.P0.Dist(s.P1), s.P0.Dist(s.P2)) >= part {
			long = append(long, i)
		}
	}
	turn := make([]float64, len(p))
	for k, i := range long {
		in, ok1 := p[i].Reverse().leaving(handle)
		out, ok2 := p[long[(k+1)%len(long)]].leaving(handle)
		if !ok1 || !ok2 {
			continue
		}
		in = in.Mul(-1)
		turn[(i+1)%len(p)] = math.Abs(math.Atan2(in.Cross(out), in.Dot(out))) * 180 / math.Pi
	}
	return turn
}

// leaving is the direction in which a segment leaves its start, by the first
// handle that is longer than handle.
func (s Segment) leaving(handle float64) (Point, bool) {
	if !s.Straight {
		for _, q := range [2]Point{s.P1, s.P2} {
			if d := q.Sub(s.P0); d.Len() > handle {
				return d.Unit()
			}
		}
	}
	return s.P3.Sub(s.P0).Unit()
}
