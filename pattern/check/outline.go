package check

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// MinEdge is the shortest edge that is taken for meant, in mm: common
// practice, no source.
const MinEdge = 0.5

// StaleLength is how far a recorded length may be off, in mm.
const StaleLength = 0.001

func outlines(in Input) diag.List {
	var out diag.List
	for _, p := range in.Garment.Pieces {
		if !closed(p) {
			continue // the reader has said so
		}
		out = append(out, outline(p, in.Tol)...)
	}
	return out
}

// closed tells whether the outline has a corner for each edge.
func closed(p *pattern.Piece) bool { return len(p.Corners) > 1 && len(p.Corners) == len(p.Edges) }

func outline(p *pattern.Piece, tol float64) diag.List {
	var out diag.List
	for i := range p.Edges {
		if l := p.EdgePath(i).Length(tol); l < MinEdge {
			x := pieceProblem("edge.short", p, p.Edges[i].Place, p.Edges[i].Name)
			x.Found = fmt.Sprintf("edge %s of %s is %.3f mm long", p.Edges[i].Name, p.Name, l)
			x.Expected = fmt.Sprintf("at least %.1f mm", MinEdge)
			x.Amount = MinEdge - l
			x.Hint = "take out one of its two corners, or move it"
			middle := p.EdgePath(i).PointAt(l/2, tol)
			x.Place = x.Place.Point(middle.X, middle.Y)
			out = append(out, x)
		}
	}
	ring := p.Outline()
	if crossings := ring.SelfCrossings(); len(crossings) > 0 {
		return append(out, crossed(p, crossings))
	}
	if area := ring.Area(); area <= 0 {
		x := pieceProblem("outline.clockwise", p, p.Place, "")
		x.Found = fmt.Sprintf("the outline of %s runs clockwise", p.Name)
		x.Expected = "anticlockwise: down the front, along the hem, up the back, along the top"
		x.Hint = "write its corners in the opposite order, or mirror the drawing"
		if area == 0 {
			x.Found = fmt.Sprintf("the outline of %s encloses nothing", p.Name)
		}
		x.Amount = math.Abs(area)
		out = append(out, x)
	}
	return out
}

func crossed(p *pattern.Piece, crossings []curve.SelfCrossing) diag.Problem {
	edges := edgeOfSegment(p)
	c := crossings[0]
	a, b := edges[c.SegA], edges[c.SegB]
	x := pieceProblem("outline.crosses", p, p.Edges[a].Place, p.Edges[a].Name)
	x.Found = fmt.Sprintf("edge %s of %s crosses edge %s at %.1f %.1f", p.Edges[a].Name, p.Name, p.Edges[b].Name, c.Point.X, c.Point.Y)
	if a == b {
		x.Found = fmt.Sprintf("edge %s of %s crosses itself at %.1f %.1f", p.Edges[a].Name, p.Name, c.Point.X, c.Point.Y)
	}
	x.Expected = "an outline that never meets itself"
	x.Amount = float64(len(crossings))
	x.Place = x.Place.Point(c.Point.X, c.Point.Y)
	x.Hint = "pull the handles or corners there apart"
	if a != b {
		other := p.Edges[b].Place
		other.Piece, other.Edge = p.Name, p.Edges[b].Name
		x.Related = []diag.Related{{Place: other.Point(c.Point.X, c.Point.Y), Text: "the other edge"}}
	}
	return x
}

// edgeOfSegment gives, for each segment of the outline, the index of its edge.
func edgeOfSegment(p *pattern.Piece) []int {
	var edges []int
	for i := range p.Edges {
		for range p.EdgePath(i) {
			edges = append(edges, i)
		}
	}
	return edges
}

func lengths(in Input) diag.List {
	var out diag.List
	for _, p := range in.Garment.Pieces {
		for i, e := range p.Edges {
			if !e.Length.Set || !closed(p) {
				continue
			}
			l := p.EdgePath(i).Length(in.Tol)
			off := math.Abs(l - e.Length.Value)
			if off <= StaleLength+slack {
				continue
			}
			x := pieceProblem("edge.length-stale", p, e.Place, e.Name)
			x.Found = fmt.Sprintf("edge %s of %s says length %.3f", e.Name, p.Name, e.Length.Value)
			x.Expected = fmt.Sprintf("%.3f, as its line measures", l)
			x.Amount = off
			x.Hint = "run: seamkeep tidy"
			out = append(out, x)
		}
	}
	return out
}
