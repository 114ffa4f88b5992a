package measure

import (
	"cmp"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Side is one side of a seam, laid out from where the first side's walk begins.
type Side struct {
	Refs   []pattern.Ref
	Length float64 // mm
	Parts  []Part  // in walking order
}

// Part is an edge of a side, or the span of it that is sewn.
type Part struct {
	Ref      pattern.Ref
	Piece    *pattern.Piece
	Edge     int
	From, To float64 // mm along the edge from its first corner, From < To
	Offset   float64 // mm of the side before this part
	Backward bool    // walked against the edge's direction
	FromName string  // PIECE.CORNER or notch at From
	ToName   string
}

// Length gives the part's length in mm.
func (p Part) Length() float64 { return p.To - p.From }

// Along turns a distance on the edge into a distance on the side; false where
// it lies outside the span.
func (p Part) Along(at float64) (float64, bool) {
	const hair = 1e-6
	if at < p.From-hair || at > p.To+hair {
		return 0, false
	}
	if p.Backward {
		return p.Offset + p.To - at, true
	}
	return p.Offset + at - p.From, true
}

// EdgeAt turns a distance on the side into a place on an edge.
func (s Side) EdgeAt(at float64) (Part, float64) {
	for i, p := range s.Parts {
		if at <= p.Offset+p.Length() || i == len(s.Parts)-1 {
			return p, p.onEdge(at)
		}
	}
	return Part{}, 0
}

// onEdge turns a distance on the side into one on the part's edge.
func (p Part) onEdge(at float64) float64 {
	if p.Backward {
		return p.To - (at - p.Offset)
	}
	return p.From + at - p.Offset
}

// StartName names where the walk along the side begins: PIECE.CORNER, or the
// notch where a span begins.
func (s Side) StartName() string { return s.Parts[0].begin() }

// EndName names where the walk along the side ends.
func (s Side) EndName() string { return s.Parts[len(s.Parts)-1].end() }

// Begins names where the walk along the part begins, on its piece: PIECE.CORNER,
// or PIECE.EDGE at NOTCH.
func (p Part) Begins() string { return p.qualified(p.begin()) }

// Ends names where the walk along the part ends; see Begins.
func (p Part) Ends() string { return p.qualified(p.end()) }

func (p Part) qualified(name string) string {
	if strings.Contains(name, ".") {
		return name
	}
	return p.Piece.Name + "." + p.Piece.Edges[p.Edge].Name + " at " + name
}

func (p Part) begin() string {
	if p.Backward {
		return p.ToName
	}
	return p.FromName
}

func (p Part) end() string {
	if p.Backward {
		return p.FromName
	}
	return p.ToName
}

func layOut(g *pattern.Garment, refs []pattern.Ref, backward bool, tol float64) (Side, *diag.Problem) {
	side := Side{Refs: refs}
	for _, r := range refs {
		part, problem := partOf(g, r, tol/float64(len(refs)))
		if problem != nil {
			return Side{}, problem
		}
		part.Ref, part.Backward = r, backward
		side.Parts = append(side.Parts, part)
	}
	if backward {
		for i, j := 0, len(side.Parts)-1; i < j; i, j = i+1, j-1 {
			side.Parts[i], side.Parts[j] = side.Parts[j], side.Parts[i]
		}
	}
	for i := range side.Parts {
		side.Parts[i].Offset = side.Length
		side.Length += side.Parts[i].Length()
	}
	return side, nil
}

func partOf(g *pattern.Garment, r pattern.Ref, tol float64) (Part, *diag.Problem) {
	p, i, ok := g.Edge(r)
	if !ok {
		return Part{}, &diag.Problem{
			ID: "name.unknown", Severity: diag.Error, Place: r.Place, Subject: r.Piece + "." + r.Edge,
			Found: "there is no edge " + r.Piece + "." + r.Edge, Expected: "an edge of a piece in this folder",
		}
	}
	part := Part{
		Piece: p, Edge: i, To: p.EdgePath(i).Length(tol),
		FromName: p.Name + "." + p.Corners[i].Name,
		ToName:   p.Name + "." + p.Corners[p.After(i)].Name,
	}
	if r.From == "" {
		return part, nil
	}
	from, problem := notchAt(g, p, i, r.From, r.Place, tol)
	if problem != nil {
		return Part{}, problem
	}
	to, problem := notchAt(g, p, i, r.To, r.Place, tol)
	if problem != nil {
		return Part{}, problem
	}
	part.From, part.To, part.FromName, part.ToName = from, to, r.From, r.To
	if to < from {
		part.From, part.To, part.FromName, part.ToName = to, from, r.To, r.From
	}
	return part, nil
}

func notchAt(g *pattern.Garment, p *pattern.Piece, edge int, name string, at diag.Place, tol float64) (float64, *diag.Problem) {
	name0 := p.Name + "." + p.Edges[edge].Name
	n := p.NotchIndex(p.Edges[edge].Name, name)
	if n < 0 {
		return 0, &diag.Problem{
			ID: "name.unknown", Severity: diag.Error, Place: at, Subject: name0,
			Found: "edge " + name0 + " has no notch " + name, Expected: "a notch of that edge",
		}
	}
	d, err := g.SpotAt(p, edge, p.Notches[n].On, tol)
	if err != nil {
		return 0, NotchProblem(p, p.Notches[n], err)
	}
	return d, nil
}

// NotchProblem says that a notch has no place on its edge.
func NotchProblem(p *pattern.Piece, n pattern.Notch, err *pattern.SpotError) *diag.Problem {
	place := n.Place
	place.Piece, place.Edge = p.Name, n.Edge.Name
	if i := p.EdgeIndex(n.Edge.Name); err.Near.Set && i >= 0 {
		q := p.EdgePath(i).PointAt(err.Near.Value, Accuracy)
		place.At, place.OnEdge = err.Near.Value, true
		place = place.Point(q.X, q.Y)
	}
	return &diag.Problem{
		ID: "notch.no-place", Severity: diag.Error, Place: place, Subject: p.Name + "." + n.Edge.Name,
		Found: "notch " + n.Name + ": " + err.Found, Expected: err.Expected, Hint: err.Hint,
	}
}

// Tick is a notch on a side of a seam.
type Tick struct {
	Piece *pattern.Piece
	Notch *pattern.Notch
	At    float64 // mm along the side, from where the seam's walk begins
	On    float64 // mm along its edge, from the edge's first corner
}

// ticks gives every notch on the side that has a place, in walking order.
func (s Side) ticks(g *pattern.Garment, tol float64) []Tick {
	var out []Tick
	for _, part := range s.Parts {
		for i := range part.Piece.Notches {
			n := &part.Piece.Notches[i]
			if n.Edge.Name != part.Piece.Edges[part.Edge].Name {
				continue
			}
			at, err := g.SpotAt(part.Piece, part.Edge, n.On, tol)
			if err != nil {
				continue // the check of notches reports it
			}
			if d, inside := part.Along(at); inside {
				out = append(out, Tick{part.Piece, n, d, at})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Tick) int { return cmp.Compare(a.At, b.At) })
	return out
}

// stations gives every notch of a side by name, at its distance from the
// side's start. A name that stands on the side twice is left out: it pairs
// with nothing.
func stations(ticks []Tick) map[string]float64 {
	found, twice := map[string]float64{}, map[string]bool{}
	for _, t := range ticks {
		if _, seen := found[t.Notch.Name]; seen {
			twice[t.Notch.Name] = true
		}
		found[t.Notch.Name] = t.At
	}
	for name := range twice {
		delete(found, name)
	}
	return found
}

// waist gives where the side crosses the waist; false unless it does so once.
func (s Side) waist(g *pattern.Garment, tol float64) (float64, bool) {
	var at []float64
	for _, part := range s.Parts {
		y, ok := g.LevelOn(part.Piece, "waist")
		if !ok {
			continue
		}
		path := part.Piece.EdgePath(part.Edge)
		for _, hit := range path.CrossingsY(y) {
			if d, inside := part.Along(path.LengthTo(hit.Seg, hit.T, tol)); inside {
				at = appendApart(at, d)
			}
		}
	}
	if len(at) != 1 {
		return 0, false
	}
	return at[0], true
}

// appendApart adds a distance unless it stands there already: a crossing at
// the joint of two edges is found from both.
func appendApart(list []float64, d float64) []float64 {
	const same = 1e-3
	for _, x := range list {
		if x-d < same && d-x < same {
			return list
		}
	}
	return append(list, d)
}

// SewnPath gives the side's sewing line from the start of the walk to its end,
// each part in its own piece's frame.
func (p Part) SewnPath(tol float64) curve.Path {
	path := p.Piece.EdgePath(p.Edge).SubPath(p.From, p.To, tol)
	if p.Backward {
		return path.Reverse()
	}
	return path
}

// Along turns a place on an edge of a piece, mm from the edge's first corner, into the
// distance on the side; false where the side does not have it.
func (s Side) Along(piece string, edge int, at float64) (float64, bool) {
	for _, p := range s.Parts {
		if p.Piece.Name == piece && p.Edge == edge {
			if d, ok := p.Along(at); ok {
				return d, true
			}
		}
	}
	return 0, false
}
