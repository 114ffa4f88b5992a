package measure

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// NearClosure is how far from the edge of a closure a mark may stand and still be one
// of its buttons or eyelets, mm, unless it bears a name that placing gives: common
// practice, no source.
const NearClosure = 30.0

// MarkLetter begins the names that placing gives: b1 for a button, h1 for a
// buttonhole, e1 for an eyelet. "" for other kinds.
func MarkLetter(k pattern.MarkKind) string {
	switch k {
	case pattern.Button:
		return "b"
	case pattern.Buttonhole:
		return "h"
	case pattern.Eyelet:
		return "e"
	}
	return ""
}

// Numbered tells whether a mark bears a name that placing gives.
func Numbered(m *pattern.Mark) bool {
	digits, ok := strings.CutPrefix(m.Name, MarkLetter(m.Kind))
	return ok && MarkLetter(m.Kind) != "" && digits != "" && strings.Trim(digits, "0123456789") == ""
}

// ClosureEdges gives, for each piece, the edges of closures of a kind on it.
func ClosureEdges(g *pattern.Garment, kind string) map[string][]int {
	out := map[string][]int{}
	for i := range g.Closures {
		if g.Closures[i].Kind != kind {
			continue
		}
		for _, ref := range g.Closures[i].Edges {
			if p, e, ok := g.Edge(ref); ok && !slices.Contains(out[p.Name], e) {
				out[p.Name] = append(out[p.Name], e)
			}
		}
	}
	return out
}

// Standing is a mark of a row, and what part of the edge it lies beside.
type Standing struct {
	Index      int     // in Piece.Marks
	From, To   float64 // mm along the edge: a point for a button, an interval for a hole
	Near, Away float64 // mm from the edge
}

// Middle is where the mark stands, mm along the edge.
func (s Standing) Middle() float64 { return (s.From + s.To) / 2 }

// Standing lists the marks of a kind that belong to the row, the uppermost first:
// those for which no other of the edges rivals is nearer. With numbered only those
// count that bear a name that placing gives; else also those within NearClosure.
func (r Row) Standing(kind pattern.MarkKind, rivals []int, numbered bool, tol float64) []Standing {
	path := r.path()
	var out []Standing
	for i := range r.Piece.Marks {
		m := &r.Piece.Marks[i]
		if m.Kind != kind || numbered && !Numbered(m) {
			continue
		}
		near := path.Nearest(m.At)
		if near.Dist > NearClosure && !Numbered(m) || r.nearer(m.At, near.Dist, rivals) {
			continue
		}
		at := path.LengthTo(near.Seg, near.T, tol)
		s := Standing{Index: i, From: at, To: at, Near: near.Dist, Away: near.Dist}
		if kind == pattern.Buttonhole && m.Length.Set {
			far := path.Nearest(m.At.Add(Direction(m.Angle.Or(0)).Mul(m.Length.Value)))
			end := path.LengthTo(far.Seg, far.T, tol)
			s.From, s.To = min(at, end), max(at, end)
			s.Near, s.Away = min(near.Dist, far.Dist), max(near.Dist, far.Dist)
		}
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b Standing) int { return cmp.Compare(r.down()*a.Middle(), r.down()*b.Middle()) })
	return out
}

// nearer tells whether another edge is nearer to a place than the row's own.
func (r Row) nearer(at curve.Point, dist float64, rivals []int) bool {
	for _, e := range rivals {
		if e != r.Edge && r.Piece.EdgePath(e).Nearest(at).Dist < dist {
			return true
		}
	}
	return false
}

// Direction gives the vector of length 1 at an angle in degrees, anticlockwise from x.
func Direction(degrees float64) curve.Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return curve.Pt(cos, sin)
}
