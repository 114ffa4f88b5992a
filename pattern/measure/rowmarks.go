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

// EyeletClear is how much cloth lies between the rim of an eyelet and the edge at
// least, mm: common practice, no source.
const EyeletClear = 3.0

// EyeletRoom is how far inside the edge the middle of an eyelet stands at least, mm;
// without a diameter it counts as a point.
func EyeletRoom(diameter pattern.Opt) float64 { return diameter.Or(0)/2 + EyeletClear }

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

// Fastens tells whether closures of a kind close with marks of a kind. Hooks and slides
// have no marks of their own.
func Fastens(closure string, k pattern.MarkKind) bool {
	switch k {
	case pattern.Button, pattern.Buttonhole:
		return closure == pattern.ButtonClosure
	case pattern.Eyelet:
		return closure == pattern.Lacing
	}
	return false
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

// Standing is a mark of a row.
type Standing struct {
	Index   int            // in Piece.Marks
	Ends    [2]curve.Point // of a hole; the same point twice for a button or eyelet
	Away    float64        // mm from the edge, of the end that is further
	Outside bool           // on the side of the edge where the piece is not
	Along   float64        // mm along the edge, of its middle
}

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
		s := Standing{Index: i, Ends: [2]curve.Point{m.At, m.At}, Away: near.Dist}
		if kind == pattern.Buttonhole && m.Length.Set {
			s.Ends[1] = m.At.Add(Direction(m.Angle.Or(0)).Mul(m.Length.Value))
			s.Away = max(s.Away, path.Nearest(s.Ends[1]).Dist)
		}
		middle := path.Nearest(s.Ends[0].Lerp(s.Ends[1], 0.5))
		s.Along = path.LengthTo(middle.Seg, middle.T, tol)
		if way, ok := path.TangentAt(s.Along, tol); ok {
			s.Outside = way.Cross(m.At.Sub(near.Point)) < 0
		}
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b Standing) int { return cmp.Compare(r.down()*a.Along, r.down()*b.Along) })
	return out
}

// TopEdge is the number of the edge of a closure with two that lies on top and has the
// holes: the second where holes of the closure stand there, else the first. rivals are
// the ClosureEdges of its kind.
func TopEdge(g *pattern.Garment, c *pattern.Closure, rivals map[string][]int, tol float64) int {
	r := Row{Ref: c.Edges[1]}
	var ok bool
	if r.Piece, r.Edge, ok = g.Edge(r.Ref); !ok {
		return 0
	}
	if len(r.Standing(pattern.Buttonhole, rivals[r.Piece.Name], true, tol)) > 0 {
		return 1
	}
	return 0
}

// Off is how far a mark misses place k, mm. Where it is known how far inside the edge
// the place lies, it is the distance from there; else how far the mark lies beside the
// line that crosses the edge squarely there. A hole counts by its nearest point.
func (r Row) Off(s Standing, k int, inset pattern.Opt, tol float64) float64 {
	if inset.Set {
		return toSegment(r.Point(k, inset.Value, tol), s.Ends)
	}
	on, in := r.Point(k, 0, tol), r.Inward(k, tol)
	a, b := in.Cross(s.Ends[0].Sub(on)), in.Cross(s.Ends[1].Sub(on))
	if a*b <= 0 {
		return 0
	}
	return min(math.Abs(a), math.Abs(b))
}

// toSegment is how far a point is from a straight piece.
func toSegment(q curve.Point, ends [2]curve.Point) float64 {
	way := ends[1].Sub(ends[0])
	if long := way.Dot(way); long > 0 {
		return q.Dist(ends[0].Lerp(ends[1], min(max(q.Sub(ends[0]).Dot(way)/long, 0), 1)))
	}
	return q.Dist(ends[0])
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

// Widest gives the greatest diameter of the record and of the marks of the row;
// unknown where none has one.
func (r Row) Widest(f *pattern.Fastening, list []Standing) pattern.Opt {
	widest := f.Diameter
	for _, s := range list {
		if d := r.Piece.Marks[s.Index].Diameter; d.Set && d.Value > widest.Or(0) {
			widest = d
		}
	}
	return widest
}
