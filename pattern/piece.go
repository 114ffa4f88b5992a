package pattern

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Piece is one flat piece: a ring of corners and edges, and what stands on it.
type Piece struct {
	Place    diag.Place
	Name     string // base name of its file
	Title    string
	Was      string // its name before a rename, or the piece that it was split from
	Cloths   []Cloth
	Grain    *Grain
	Corners  []Corner // Corners[i] is where Edges[i] begins
	Edges    []Edge
	NoLevels bool    // the garment's levels do not hold on this piece
	Levels   []Level // these override the garment's
	Notches  []Notch
	Marks    []Mark
}

// Cut tells how often, and which way round, a piece is cut from a cloth.
type Cut string

// The ways to cut.
const (
	Pair   Cut = "pair"    // mirrored pairs
	Alike  Cut = "alike"   // all the same way up
	OnFold Cut = "on fold" // the cloth is folded along an edge
)

// Cloth says from what a piece is cut.
type Cloth struct {
	Place diag.Place
	Name  string // free text
	Count int    // pieces, or pairs where Cut is Pair
	Cut   Cut
	Fold  Mention // the edge on the fold, where Cut is OnFold
}

// Grain is the direction of the warp, as a line on the piece.
type Grain struct {
	Place    diag.Place
	From, To curve.Point
}

// Corner is a named point of the outline.
type Corner struct {
	Place diag.Place
	Name  string
	At    curve.Point
	Was   string
}

// Edge runs from the corner before it to the corner after it.
type Edge struct {
	Place  diag.Place
	Name   string
	Length Opt // as the file records it, mm
	Was    string
	Segs   []Seg // the last one ends at the corner; none: a straight edge
}

// Seg is one segment of an edge or of a mark.
type Seg struct {
	Place    diag.Place
	Curve    bool
	H1, H2   curve.Point // handles of a curve
	To       curve.Point // where it ends, unless ToCorner
	ToCorner bool        // it ends at the corner that closes the edge
}

// Level is a named height on the body, in mm above the waist.
type Level struct {
	Place diag.Place
	Name  string
	Y     float64
}

// MarkKind is what a mark is for.
type MarkKind string

// The kinds of marks. The first five are lines, the others points.
const (
	Bone       MarkKind = "bone"
	Cord       MarkKind = "cord"
	Stitch     MarkKind = "stitch"
	Placement  MarkKind = "placement"
	Cutout     MarkKind = "cutout"
	Eyelet     MarkKind = "eyelet"
	Button     MarkKind = "button"
	Buttonhole MarkKind = "buttonhole"
	Drill      MarkKind = "drill"
)

// IsLine tells whether marks of this kind are lines.
func (k MarkKind) IsLine() bool {
	switch k {
	case Bone, Cord, Stitch, Placement, Cutout:
		return true
	}
	return false
}

// Mark is a line or a point drawn on a piece.
type Mark struct {
	Place    diag.Place
	Kind     MarkKind
	Name     string
	Width    Opt    // mm
	Length   Opt    // mm
	Diameter Opt    // mm
	Angle    Opt    // degrees, anticlockwise from x
	Only     string // "left" or "right" where the other half lacks it
	At       curve.Point
	Segs     []Seg // lines only; none ends at a corner
}

// Path gives the line of a mark, or an empty path for a point.
func (m Mark) Path() curve.Path { return chain(m.At, m.Segs, curve.Point{}) }

// EdgeIndex finds an edge by name; -1 where there is none.
func (p *Piece) EdgeIndex(name string) int {
	for i := range p.Edges {
		if p.Edges[i].Name == name {
			return i
		}
	}
	return -1
}

// CornerIndex finds a corner by name; -1 where there is none.
func (p *Piece) CornerIndex(name string) int {
	for i := range p.Corners {
		if p.Corners[i].Name == name {
			return i
		}
	}
	return -1
}

// After gives the index of the corner where edge i ends.
func (p *Piece) After(i int) int { return (i + 1) % len(p.Corners) }

// EdgePath gives edge i from the corner before it to the corner after it; an
// empty path where a faulty file left the outline without a corner for each edge.
func (p *Piece) EdgePath(i int) curve.Path {
	if len(p.Corners) != len(p.Edges) {
		return nil
	}
	from, to := p.Corners[i].At, p.Corners[p.After(i)].At
	if len(p.Edges[i].Segs) == 0 {
		return curve.Path{curve.Line(from, to)}
	}
	return chain(from, p.Edges[i].Segs, to)
}

// Outline gives the closed ring of all edges, in order.
func (p *Piece) Outline() curve.Path {
	var ring curve.Path
	for i := range p.Edges {
		ring = append(ring, p.EdgePath(i)...)
	}
	return ring
}

// Folded tells whether the piece is cut on a fold, so that its drawn half
// stands for both.
func (p *Piece) Folded() bool {
	for _, c := range p.Cloths {
		if c.Cut == OnFold {
			return true
		}
	}
	return false
}

// NotchIndex finds a notch by its edge and name; -1 where there is none.
func (p *Piece) NotchIndex(edge, name string) int {
	for i := range p.Notches {
		if p.Notches[i].Edge.Name == edge && p.Notches[i].Name == name {
			return i
		}
	}
	return -1
}

func chain(from curve.Point, segs []Seg, corner curve.Point) curve.Path {
	path := make(curve.Path, 0, len(segs))
	for _, s := range segs {
		to := s.To
		if s.ToCorner {
			to = corner
		}
		if s.Curve {
			path = append(path, curve.Cubic(from, s.H1, s.H2, to))
		} else {
			path = append(path, curve.Line(from, to))
		}
		from = to
	}
	return path
}
