package measure

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// Corner is a corner of a piece's outline.
type Corner struct {
	Piece *pattern.Piece
	Index int
}

// Point is where the corner lies in the piece's own frame, mm.
func (c Corner) Point() curve.Point { return c.Piece.Corners[c.Index].At }

// Name gives the corner as PIECE.CORNER.
func (c Corner) Name() string { return c.Piece.Name + "." + c.Piece.Corners[c.Index].Name }

// Turn is what a run does where it goes on from one of its edges to the next: over a
// seam, or over a corner of one piece.
type Turn struct {
	Run, Seam   string         // no seam where both edges are of one piece and meet in a corner
	First, Next float64        // interior angles of the two pieces at the joint, degrees; over a corner there is only the first
	Edges       [2]pattern.Ref // of the run, in its order
	At          [2]Corner      // where each of them ends
	AtEnd       bool           // where the seam's walk ends; else where it begins
}

// Kink is how far the sewn edge turns from a straight line, in degrees: 0 where
// the two angles make 180; positive where the sewn edge points outwards.
func (t Turn) Kink() float64 { return 180 - t.First - t.Next }

// TurnAt measures the run at the seam that touches both of two neighbouring
// edges of it; ok is false where the seam does not cross the run.
func TurnAt(g *pattern.Garment, r *pattern.Run, s *pattern.Seam) (Turn, bool) {
	m := meetings{}
	m.add(g, s)
	for _, t := range m.follow(g, r).Turns {
		if t.Seam == s.Name {
			return t, true
		}
	}
	return Turn{}, false
}

// Course is the way of a run over the pieces.
type Course struct {
	Run    *pattern.Run
	Turns  []Turn   // where its edges meet, in its order; a ring's last one closes it
	Breaks []Broken // where an edge does not meet the one before it
	Back   []int    // edges that the run leaves where it came in, by their place in the run
}

// Courses follows each run of a garment. Its cost grows with the sum of the seams and
// the edges of runs.
func Courses(g *pattern.Garment) []Course {
	m := meetings{}
	for i := range g.Seams {
		m.add(g, &g.Seams[i])
	}
	out := make([]Course, 0, len(g.Runs))
	for i := range g.Runs {
		out = append(out, m.follow(g, &g.Runs[i]))
	}
	return out
}

// meetings tells, for a corner, the corners that seams bring to it.
type meetings map[Corner][]meeting

type meeting struct {
	seam  string
	edge  int // the seam's edge at the corner
	other end
	atEnd bool
}

// end is an end of a side of a seam.
type end struct {
	Corner
	edge int
}

// add enters both ends of a seam. An end that is a notch, and not a corner, brings
// none together; a mirrored seam brings a corner to itself.
func (m meetings) add(g *pattern.Garment, s *pattern.Seam) {
	if s.Mirrored || len(s.First) == 0 || len(s.Second) == 0 {
		return
	}
	first, ok1 := sideEnds(g, s.First)
	second, ok2 := sideEnds(g, s.Second)
	if !ok1 || !ok2 {
		return
	}
	if !s.SameWay {
		second[0], second[1] = second[1], second[0]
	}
	for i := range first {
		a, b := first[i], second[i]
		if a.Piece == nil || b.Piece == nil {
			continue
		}
		m[a.Corner] = append(m[a.Corner], meeting{s.Name, a.edge, b, i == 1})
		m[b.Corner] = append(m[b.Corner], meeting{s.Name, b.edge, a, i == 1})
	}
}

// sideEnds gives the corners at which a side begins and ends, in the direction of its
// outline; no piece where it begins or ends at a notch.
func sideEnds(g *pattern.Garment, refs []pattern.Ref) (ends [2]end, ok bool) {
	first, last := refs[0], refs[len(refs)-1]
	p, i, ok := g.Edge(first)
	if !ok {
		return ends, false
	}
	q, k, ok := g.Edge(last)
	if !ok {
		return ends, false
	}
	if first.From == "" {
		ends[0] = end{Corner{p, i}, i}
	}
	if last.To == "" {
		ends[1] = end{Corner{q, q.After(k)}, k}
	}
	return ends, true
}

// follow walks a run from edge to edge.
func (m meetings) follow(g *pattern.Garment, r *pattern.Run) Course {
	c := Course{Run: r}
	came := Corner{} // where the run came into the edge
	for i := 0; i+1 < len(r.Refs); i++ {
		t, ok := m.between(g, r, i, i+1, came)
		if !ok {
			c.Breaks = append(c.Breaks, m.broken(g, r, i, came))
			came = Corner{}
			continue
		}
		if n := len(c.Turns); n > 0 && c.Turns[n-1].Edges[1] == t.Edges[0] && c.Turns[n-1].At[1] == t.At[0] {
			c.Back = append(c.Back, i)
		}
		c.Turns, came = append(c.Turns, t), t.At[1]
	}
	if t, ok := m.round(g, r); ok {
		c.Turns = append(c.Turns, t)
	}
	if last := len(r.Refs) - 1; last > 0 && len(c.Breaks) == 0 {
		first := c.Turns[0]
		if t, ok := m.between(g, r, last, 0, came); ok && t.At[0] != came && t.At[1] != first.At[0] {
			c.Turns = append(c.Turns, t)
		}
	}
	return c
}

// round gives the turn where a run of a single edge closes round: both its ends meet in
// one seam, as the hem of a sleeve does.
func (m meetings) round(g *pattern.Garment, r *pattern.Run) (Turn, bool) {
	if len(r.Refs) != 1 {
		return Turn{}, false
	}
	p, i, ok := g.Edge(r.Refs[0])
	if !ok {
		return Turn{}, false
	}
	start, end := Corner{p, i}, Corner{p, p.After(i)}
	for _, x := range m[end] {
		if x.other.Corner == start && start != end && x.edge != i && x.other.edge != i {
			t, ok := turnOver(x.seam, end, start, x.atEnd)
			t.Run, t.Edges = r.Name, [2]pattern.Ref{r.Refs[0], r.Refs[0]}
			return t, ok
		}
	}
	return Turn{}, false
}

// between gives the turn from an edge of a run to another one, if they meet: rather not
// at the corner where the run came into the first, if there is a choice.
func (m meetings) between(g *pattern.Garment, r *pattern.Run, i, k int, came Corner) (best Turn, found bool) {
	p, a, ok1 := g.Edge(r.Refs[i])
	q, b, ok2 := g.Edge(r.Refs[k])
	if !ok1 || !ok2 || p == q && a == b {
		return Turn{}, false
	}
	touches := func(p *pattern.Piece, edge, corner int) bool { return corner == edge || corner == p.After(edge) }
	offer := func(t Turn, ok bool) {
		if ok && (!found || best.At[0] == came) {
			t.Run, t.Edges = r.Name, [2]pattern.Ref{r.Refs[i], r.Refs[k]}
			best, found = t, true
		}
	}
	for _, corner := range []int{a, p.After(a)} {
		at := Corner{p, corner}
		for _, x := range m[at] {
			if x.edge != a && x.other.Piece == q && x.other.edge != b && touches(q, b, x.other.Index) {
				offer(turnOver(x.seam, at, x.other.Corner, x.atEnd))
			}
		}
		if p == q && touches(q, b, corner) {
			offer(turnOver("", at, at, false))
		}
	}
	return best, found
}

// turnOver measures the angles at two corners that a seam brings together, or at one.
func turnOver(seam string, a, b Corner, atEnd bool) (Turn, bool) {
	t := Turn{Seam: seam, At: [2]Corner{a, b}, AtEnd: atEnd}
	var ok1, ok2 bool
	t.First, ok1 = InteriorAngle(a.Piece, a.Index)
	if a == b {
		return t, ok1
	}
	t.Next, ok2 = InteriorAngle(b.Piece, b.Index)
	return t, ok1 && ok2
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
