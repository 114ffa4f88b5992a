package measure

import (
	"slices"

	"seamkeep/pattern/curve"
)

// OnLine is how far from the outline a point may be and still lie on it, mm: a bone may
// end on the seam, or a hair beyond it.
const OnLine = 0.05

// Channel is the finished channel of a bone or cord, from sewing line to sewing line:
// the line of the bone, carried on straight at both ends to the outline of its piece.
type Channel struct {
	Length float64 // mm
	Ends   [2]ChannelEnd
}

// ChannelEnd is where a channel ends on the outline.
type ChannelEnd struct {
	Seg  int // segment of the outline
	T    float64
	At   curve.Point
	Free float64 // mm of the channel beyond the bone's line
}

// ChannelOf finds the channel of a line in a closed outline; false where the line has
// no length, and where an end lies outside, so that it meets no sewing line going on.
// The length is within tol.
func ChannelOf(ring, line curve.Path, tol float64) (Channel, bool) {
	start, ok1 := line.StartTangent()
	end, ok2 := line.EndTangent()
	if !ok1 || !ok2 {
		return Channel{}, false
	}
	before, ok1 := reach(ring, line.Start(), start.Mul(-1))
	after, ok2 := reach(ring, line.End(), end)
	c := Channel{Length: before.Free + line.Length(tol) + after.Free, Ends: [2]ChannelEnd{before, after}}
	return c, ok1 && ok2
}

// reach finds where a straight way, a vector of length 1, first meets the outline.
func reach(ring curve.Path, from, way curve.Point) (ChannelEnd, bool) {
	var best ChannelEnd
	found := false
	for _, hit := range ring.CrossLine(from, from.Add(way)) {
		far := hit.Point.Sub(from).Dot(way)
		if far > -OnLine && (!found || far < best.Free) {
			best, found = ChannelEnd{Seg: hit.Seg, T: hit.T, At: hit.Point, Free: far}, true
		}
	}
	best.Free = max(best.Free, 0)
	return best, found
}

// Line gives the channel's own line, from sewing line to sewing line, of the line that it
// was found of.
func (c Channel) Line(line curve.Path) curve.Path {
	return runOn(runOn(line.Reverse(), c.Ends[0]).Reverse(), c.Ends[1])
}

// runOn carries a line on straight to an end of its channel.
func runOn(line curve.Path, e ChannelEnd) curve.Path {
	if e.Free == 0 {
		return line
	}
	out := slices.Clone(line)
	if last := &out[len(out)-1]; last.Straight {
		*last = curve.Line(last.P0, e.At)
		return out
	}
	return append(out, curve.Line(line.End(), e.At))
}

// Within gives the part of a line that lies inside an outline, or on it, where that is
// one stretch; false where there is none, and where the line leaves the piece and
// comes back. Lengths are within tol.
func Within(ring, line curve.Path, tol float64) (curve.Path, bool) {
	long := line.Length(tol)
	cuts := []float64{0, long}
	for i, a := range line {
		for _, b := range ring {
			for _, hit := range curve.Intersections(a, b) {
				cuts = append(cuts, line.LengthTo(i, hit.TA, tol))
			}
		}
	}
	slices.Sort(cuts)
	from, to, parts, in := 0.0, 0.0, 0, false
	for k := 1; k < len(cuts); k++ {
		if cuts[k]-cuts[k-1] < OnLine {
			continue // too short to tell
		}
		middle := line.PointAt((cuts[k-1]+cuts[k])/2, tol)
		was := in
		in = ring.Contains(middle) || ring.Nearest(middle).Dist <= OnLine
		if !in {
			continue
		}
		if !was {
			from = cuts[k-1]
			parts++
		}
		to = cuts[k]
	}
	if parts != 1 {
		return nil, false
	}
	return line.SubPath(from, to, tol), true
}
