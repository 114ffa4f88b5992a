package again

import "math"

// weights scale the costs of an alignment.
type weights struct {
	span   float64 // of the ring between the anchors, mm
	size   float64 // the larger of that and of the old way, mm
	within float64
}

// What it costs to leave something out, in parts of weights.size. A corner that
// turns is given up last; a new one is set only where none can be found for it.
const (
	costGone    = 2.0  // a sharp corner without a place
	costNew     = 1.0  // a turn of the ring without a corner
	costSmooth  = 0.6  // a smooth corner that has to be set by its part of the way
	costKink    = 0.5  // a turn inside an edge that was drawn straight
	costRounded = 0.5  // a corner that turned stands at a joint that does not
	costNoJoint = 0.9  // or where there is no joint at all
	costInPlace = -1.5 // it stands where it stood: better than any turn near by
)

// slightTurn is how far, in degrees, a smooth joint inside an edge may be bent
// and still be no corner: more is a nick. Common practice, no source.
const slightTurn = 45

// align gives each item, in order, a spot or -1, such that the whole is cheapest:
// corners keep their order, and else stand near where they stood.
func align(items []item, spots []spot, w weights) ([]int, float64) {
	n, m := len(items), len(spots)
	cost := make([][]float64, n+1)
	for a := range cost {
		cost[a] = make([]float64, m+1)
	}
	for b := range m {
		cost[0][b+1] = cost[0][b] + w.newCorner(spots[b])
	}
	for a := range n {
		cost[a+1][0] = cost[a][0] + w.leftOut(items[a])
		for b := range m {
			cost[a+1][b+1] = math.Min(math.Min(
				cost[a][b+1]+w.leftOut(items[a]),
				cost[a+1][b]+w.newCorner(spots[b])),
				cost[a][b]+w.pair(items[a], spots[b]))
		}
	}
	match := make([]int, n)
	for a, b := n, m; a > 0; {
		switch {
		case b > 0 && cost[a][b] == cost[a-1][b-1]+w.pair(items[a-1], spots[b-1]):
			match[a-1] = b - 1
			a, b = a-1, b-1
		case b > 0 && cost[a][b] == cost[a][b-1]+w.newCorner(spots[b-1]):
			b--
		default:
			match[a-1] = -1
			a--
		}
	}
	return match, cost[n][m]
}

func (w weights) newCorner(s spot) float64 {
	if s.sharp {
		return costNew * w.size
	}
	return 0
}

func (w weights) leftOut(it item) float64 {
	switch {
	case it.corner < 0 && !it.sharp:
		return 0
	case it.corner < 0:
		return costKink * w.size
	case it.sharp:
		return costGone * w.size
	}
	return costSmooth * w.size
}

// pair is the cost of an item at a spot; infinite where it cannot stand there.
func (w weights) pair(it item, s spot) float64 {
	off := it.old.Dist(s.at)
	inPlace := off <= w.within
	switch {
	case inPlace && (s.sharp || !it.sharp):
		return off + costInPlace*w.size
	case it.corner < 0 && !s.sharp:
		return math.Inf(1)
	case it.corner < 0 && !it.sharp:
		if off <= it.reach && s.turn <= slightTurn {
			return off
		}
		return math.Inf(1)
	case it.sharp && s.sharp:
		return off
	case it.sharp && s.joint && off <= it.reach:
		return off + costRounded*w.size
	case it.sharp && inPlace:
		return costNoJoint * w.size
	case it.sharp:
		return math.Inf(1)
	}
	along := math.Abs(s.ahead - it.part*w.span)
	if math.Min(off, along) > it.reach || !s.joint {
		return math.Inf(1)
	}
	return off
}
