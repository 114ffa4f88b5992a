package measure

import (
	"math"

	"seamkeep/pattern"
)

// Turn is what a run does where it crosses a seam.
type Turn struct {
	Run, Seam   string
	First, Next float64 // interior angles of the two pieces at the joint, degrees
}

// Kink is how far the sewn edge turns from a straight line, in degrees: 0 where
// the two angles make 180; positive where the sewn edge points outwards.
func (t Turn) Kink() float64 { return 180 - t.First - t.Next }

// TurnAt measures the run at the seam that touches both of two neighbouring
// edges of it; ok is false where the seam does not cross the run.
func TurnAt(g *pattern.Garment, r *pattern.Run, s *pattern.Seam) (Turn, bool) {
	if s.Mirrored || len(s.First) == 0 || len(s.Second) == 0 {
		return Turn{}, false
	}
	for i := 0; i+1 < len(r.Refs); i++ {
		for _, end := range seamEnds(g, s) {
			a, okA := end.first.angleWith(r.Refs[i].Edge, r.Refs[i].Piece)
			b, okB := end.second.angleWith(r.Refs[i+1].Edge, r.Refs[i+1].Piece)
			if !okA || !okB {
				a, okA = end.second.angleWith(r.Refs[i].Edge, r.Refs[i].Piece)
				b, okB = end.first.angleWith(r.Refs[i+1].Edge, r.Refs[i+1].Piece)
			}
			if okA && okB {
				return Turn{Run: r.Name, Seam: s.Name, First: a, Next: b}, true
			}
		}
	}
	return Turn{}, false
}

// seamEnd is a corner of each side that the seam brings together.
type seamEnd struct{ first, second pieceCorner }

type pieceCorner struct {
	piece  *pattern.Piece
	corner int // index of the corner
	edge   int // index of the seam's edge
}

func seamEnds(g *pattern.Garment, s *pattern.Seam) []seamEnd {
	firstStart, firstEnd, ok1 := sideCorners(g, s.First)
	secondStart, secondEnd, ok2 := sideCorners(g, s.Second)
	if !ok1 || !ok2 {
		return nil
	}
	if s.SameWay {
		return []seamEnd{{firstStart, secondStart}, {firstEnd, secondEnd}}
	}
	return []seamEnd{{firstStart, secondEnd}, {firstEnd, secondStart}}
}

func sideCorners(g *pattern.Garment, refs []pattern.Ref) (start, end pieceCorner, ok bool) {
	p, i, ok := g.Edge(refs[0])
	if !ok {
		return start, end, false
	}
	q, j, ok := g.Edge(refs[len(refs)-1])
	if !ok {
		return start, end, false
	}
	return pieceCorner{p, i, i}, pieceCorner{q, q.After(j), j}, true
}

// angleWith gives the interior angle between the seam's edge and the named
// edge at the corner where they meet, in degrees.
func (c pieceCorner) angleWith(edge, piece string) (float64, bool) {
	if c.piece.Name != piece {
		return 0, false
	}
	i := c.piece.EdgeIndex(edge)
	if i < 0 || i == c.edge || (i != c.corner && c.piece.After(i) != c.corner) {
		return 0, false
	}
	return InteriorAngle(c.piece, c.corner)
}

// InteriorAngle gives the angle inside the outline at a corner, in degrees from
// 0 to 360; false where an edge there has no direction.
func InteriorAngle(p *pattern.Piece, corner int) (float64, bool) {
	before := (corner + len(p.Edges) - 1) % len(p.Edges)
	in, ok1 := p.EdgePath(before).EndTangent()
	out, ok2 := p.EdgePath(corner).StartTangent()
	if !ok1 || !ok2 {
		return 0, false
	}
	turn := math.Atan2(in.Cross(out), in.Dot(out)) * 180 / math.Pi
	return 180 - turn, true
}
