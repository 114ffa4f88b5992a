package again

import (
	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// kept is a piece as it is kept, measured.
type kept struct {
	piece   *pattern.Piece
	paths   []curve.Path // of the edges
	lengths []float64
	total   float64
	sharp   []bool    // of the corners
	joints  [][]joint // inside each edge, in order
	within  float64   // mm within which two lines are the same
	size    float64   // of the box, mm
}

// joint is where two segments of one edge meet.
type joint struct {
	at    curve.Point
	sharp bool
}

// keptOf measures a piece; false where its outline is not one.
func keptOf(p *pattern.Piece, within float64) (*kept, bool) {
	if len(p.Corners) < 2 || len(p.Corners) != len(p.Edges) {
		return nil, false
	}
	k := &kept{piece: p, within: within, sharp: make([]bool, len(p.Corners)), joints: make([][]joint, len(p.Edges))}
	if !(within > 0) {
		k.within = Noise(p)
	}
	ring := p.Outline()
	turn := turns(ring)
	n := 0
	for i := range p.Edges {
		path := p.EdgePath(i)
		k.paths = append(k.paths, path)
		k.lengths = append(k.lengths, path.Length(lengthTol))
		k.total += k.lengths[i]
		k.sharp[i] = turn[n] > cornerTurn
		for j := 1; j < len(path); j++ {
			k.joints[i] = append(k.joints[i], joint{path[j].P0, turn[n+j] > cornerTurn})
		}
		n += len(path)
	}
	b := ring.Bounds()
	k.size = max(b.Width(), b.Height())
	return k, k.total > k.within
}

func (k *kept) next(i int) int { return (i + 1) % len(k.paths) }

func (k *kept) corner(i int) curve.Point { return k.piece.Corners[i].At }

// covers tells whether a ring and the whole outline are one line.
func (k *kept) covers(l *loop) bool {
	var ring curve.Path
	for _, p := range k.paths {
		ring = append(ring, p...)
	}
	return curve.Lies(l.path, ring, k.within) && curve.Lies(ring, l.path, k.within)
}

// agree tells whether two paths are one line, walked the same way.
func agree(a, b curve.Path, r float64) bool {
	if len(a) == 0 || len(b) == 0 || a.Start().Dist(b.Start()) > r || a.End().Dist(b.End()) > r {
		return false
	}
	return handlesAgree(a, b, r) || curve.Lies(a, b, r) && curve.Lies(b, a, r)
}

// handlesAgree is the quick way to find that two paths agree: the points of two
// cubics at one parameter are no farther apart than their control points.
func handlesAgree(a, b curve.Path, r float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !near(a[i], b[i], r) {
			return false
		}
	}
	return true
}

func near(s, t curve.Segment, r float64) bool {
	return s.P0.Dist(t.P0) <= r && s.P1.Dist(t.P1) <= r && s.P2.Dist(t.P2) <= r && s.P3.Dist(t.P3) <= r
}
