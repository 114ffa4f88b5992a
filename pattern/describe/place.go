package describe

import (
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// side is a part of an outline that is one line to the maker: one edge, or
// several that a drawing program cut at a bend. The edges are in outline order.
type side struct {
	piece *pattern.Piece
	edges []int
}

func (s side) known() bool { return len(s.edges) > 0 }

func (s side) path() curve.Path {
	var p curve.Path
	for _, e := range s.edges {
		p = append(p, s.piece.EdgePath(e)...)
	}
	return p
}

func (s side) refs() []pattern.Ref {
	refs := make([]pattern.Ref, len(s.edges))
	for i, e := range s.edges {
		refs[i] = pattern.Ref{Piece: s.piece.Name, Edge: s.piece.Edges[e].Name}
	}
	return refs
}

func (s side) first() int { return s.edges[0] }                             // the corner where it begins
func (s side) last() int  { return s.piece.After(s.edges[len(s.edges)-1]) } // the corner where it ends
func (s side) move() curve.Point {
	return s.piece.Corners[s.last()].At.Sub(s.piece.Corners[s.first()].At)
}

// meets tells whether s ends at the corner where t begins.
func (s side) meets(t side) bool { return s.known() && t.known() && s.last() == t.first() }

// panel is a piece with the sides that its outline shows. A side that is not
// clear is empty.
type panel struct {
	piece                 *pattern.Piece
	front, hem, back, top side
}

// bend is the turn at a corner, in degrees, up to which the edges on both sides
// of it are one line to the maker.
const bend = 40

// place finds the sides of a piece. Its outline runs anticlockwise: down the
// front, along the hem, up the back, along the top.
//
// Where the outline is four lines and each begins at another extreme of the piece
// (upper left, lower left, lower right, upper right, in the box round it), these
// are the sides. Else the front is the line that leads down farthest, the
// back the one that leads up farthest, each clearly farther than any other; what
// lies between them is the hem and the top where all of it leads across.
func place(p *pattern.Piece) panel {
	none := panel{piece: p}
	if len(p.Corners) != len(p.Edges) || len(p.Edges) < 2 || len(p.Edges) > mostEdges {
		return none
	}
	lines := linesOf(p)
	if q, ok := quarters(p, lines); ok {
		return q
	}
	front, okF := farthest(lines, curve.Pt(0, -1))
	back, okB := farthest(lines, curve.Pt(0, 1))
	if !okF || !okB {
		return none
	}
	q := panel{piece: p, front: lines[front], back: lines[back]}
	q.hem = between(lines, front, back, curve.Pt(1, 0))
	q.top = between(lines, back, front, curve.Pt(-1, 0))
	return q
}

// mostEdges is more than any piece has that one could name by its places.
const mostEdges = 200

// linesOf joins edges over corners that hardly turn. Where fewer than three
// lines would be left, each edge is its own.
func linesOf(p *pattern.Piece) []side {
	n := len(p.Edges)
	var starts []int
	for i := range n {
		if turn(p.EdgePath((i+n-1)%n), p.EdgePath(i)) > bend {
			starts = append(starts, i)
		}
	}
	if len(starts) < 3 {
		starts = starts[:0]
		for i := range n {
			starts = append(starts, i)
		}
	}
	lines := make([]side, len(starts))
	for k, from := range starts {
		to := starts[(k+1)%len(starts)]
		lines[k].piece = p
		for i := from; ; i = (i + 1) % n {
			lines[k].edges = append(lines[k].edges, i)
			if (i+1)%n == to {
				break
			}
		}
	}
	return lines
}

// turn gives the angle between the end of a and the start of b, degrees.
func turn(a, b curve.Path) float64 {
	u, ok := a.EndTangent()
	v, ok2 := b.StartTangent()
	if !ok || !ok2 {
		return 180
	}
	return math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) * 180 / math.Pi
}

// quarters takes four lines whose starts are the four extremes.
func quarters(p *pattern.Piece, lines []side) (panel, bool) {
	box := p.Outline().Bounds()
	if len(lines) != 4 || box.Width() <= 0 || box.Height() <= 0 {
		return panel{}, false
	}
	extreme := func(kx, ky float64) int {
		best, most := 0, math.Inf(-1)
		for i, l := range lines {
			at := p.Corners[l.first()].At.Sub(box.Min)
			if v := kx*at.X/box.Width() + ky*at.Y/box.Height(); v > most {
				best, most = i, v
			}
		}
		return best
	}
	tf, hf, hb, tb := extreme(-1, 1), extreme(-1, -1), extreme(1, -1), extreme(1, 1)
	if hf != (tf+1)%4 || hb != (tf+2)%4 || tb != (tf+3)%4 {
		return panel{}, false
	}
	return panel{piece: p, front: lines[tf], hem: lines[hf], back: lines[hb], top: lines[tb]}, true
}

// farthest finds the line that leads farthest a way, and more that way than
// across; false where none does or another leads more than 0.6 as far.
func farthest(lines []side, way curve.Point) (int, bool) {
	best, far, next := -1, 0.0, 0.0
	for i, l := range lines {
		d := l.move().Dot(way)
		if d <= math.Abs(l.move().Cross(way)) {
			continue
		}
		if d > far {
			best, far, next = i, d, far
		} else {
			next = max(next, d)
		}
	}
	return best, best >= 0 && next <= 0.6*far
}

// between joins the lines between two others where all of them lead one way.
func between(lines []side, from, to int, way curve.Point) side {
	s := side{piece: lines[from].piece}
	for i := (from + 1) % len(lines); i != to; i = (i + 1) % len(lines) {
		if d := lines[i].move(); d.Dot(way) <= math.Abs(d.Cross(way)) {
			return side{}
		}
		s.edges = append(s.edges, lines[i].edges...)
	}
	if len(s.edges) == 0 {
		return side{}
	}
	return s
}

// held is the length of a side and where it crosses the waist.
type held struct {
	length float64
	waist  pattern.Opt // mm from the side's lower end, where it crosses the waist once
}

// hold measures a side that goes up (the back) or down (the front).
func hold(g *pattern.Garment, s side, up bool) held {
	path := s.path()
	h := held{length: path.Length(measure.Accuracy)}
	y, ok := g.LevelOn(s.piece, waist)
	if !ok {
		return h
	}
	var at []float64
	for _, hit := range path.CrossingsY(y) {
		d := path.LengthTo(hit.Seg, hit.T, measure.Accuracy)
		if !slices.ContainsFunc(at, func(x float64) bool { return math.Abs(x-d) < 1e-3 }) {
			at = append(at, d)
		}
	}
	if len(at) == 1 {
		if !up {
			at[0] = h.length - at[0]
		}
		h.waist = pattern.Some(at[0])
	}
	return h
}

const waist = "waist"

// misfit is the greatest difference of two sides, in the whole and on each side
// of the waist where both cross it.
func misfit(a, b held) float64 {
	off := math.Abs(a.length - b.length)
	if a.waist.Set && b.waist.Set {
		below := a.waist.Value - b.waist.Value
		off = max(off, math.Abs(below), math.Abs(a.length-b.length-below))
	}
	return off
}
