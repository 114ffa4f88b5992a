package measure

import (
	"seamkeep/pattern/curve"
)

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
	const onLine = 0.05 // mm: a line may end on the seam, or a hair beyond it
	var best ChannelEnd
	found := false
	for _, hit := range ring.CrossLine(from, from.Add(way)) {
		far := hit.Point.Sub(from).Dot(way)
		if far > -onLine && (!found || far < best.Free) {
			best, found = ChannelEnd{Seg: hit.Seg, T: hit.T, At: hit.Point, Free: far}, true
		}
	}
	best.Free = max(best.Free, 0)
	return best, found
}
