package text

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

func readCorner(c *record, _ string, p *pattern.Piece) {
	if len(p.Corners) > len(p.Edges) {
		c.r.bad(c.r.tokens[0].at, IDOutlineOrder, "a corner after a corner", "an edge between them", "corners and edges take turns")
		p.Edges = append(p.Edges, pattern.Edge{}) // keeps the two lists of one length
	}
	k := pattern.Corner{Place: c.recordPlace(), Name: c.name("the name of the corner")}
	c.declare("corner", k.Name)
	c.point(&k.At.X, &k.At.Y)
	if c.accept("was") {
		k.Was = c.name("the corner's former name")
	}
	p.Corners = append(p.Corners, k)
}

func readEdge(c *record, _ string, p *pattern.Piece) {
	if len(p.Edges) == len(p.Corners) {
		found := "an edge after an edge"
		if len(p.Edges) == 0 {
			found = "an edge before the first corner"
		}
		c.r.bad(c.r.tokens[0].at, IDOutlineOrder, found, "the corner where it begins", "corners and edges take turns")
		p.Corners = append(p.Corners, pattern.Corner{})
	}
	e := pattern.Edge{Place: c.recordPlace(), Name: c.name("the name of the edge")}
	e.Place.Edge = e.Name
	c.r.place.Edge = e.Name
	c.declare("edge", e.Name)
	if c.accept("length") {
		c.option(&e.Length, "length", notBelow0)
	}
	if c.accept("was") {
		e.Was = c.name("the edge's former name")
	}
	p.Edges = append(p.Edges, e)
	c.r.open = anEdge
}

// readSegment reads a segment of the last edge or mark.
func readSegment(c *record, word string, p *pattern.Piece) {
	s := pattern.Seg{Place: c.recordPlace(), Curve: word == "curve"}
	if s.Curve {
		c.point(&s.H1.X, &s.H1.Y)
		c.point(&s.H2.X, &s.H2.Y)
	}
	c.need("to")
	if c.accept("corner") {
		s.ToCorner = true
	} else {
		c.point(&s.To.X, &s.To.Y)
	}
	switch c.r.open {
	case anEdge:
		e := &p.Edges[len(p.Edges)-1]
		e.Segs = append(e.Segs, s)
	case aMark:
		m := &p.Marks[len(p.Marks)-1]
		if s.ToCorner {
			c.r.bad(c.r.tokens[c.next-1].at, IDMarkLine, `"corner" in a mark`, "a point", "only edges end at a corner")
		}
		m.Segs = append(m.Segs, s)
	default:
		c.r.bad(c.r.tokens[0].at, IDSegmentStray, "a segment without an edge or mark before it", "an edge, or a mark without \"to\"", "")
		c.r.open = skipping
	}
}

func printOutline(p *pattern.Piece, s *sheet) {
	for i, k := range p.Corners {
		s.record(outline, "corner", k.Name, "corner").word(k.Name).point(k.At.X, k.At.Y).named("was", k.Was).done()
		if i < len(p.Edges) {
			printEdge(p.Edges[i], s)
		}
	}
}

func printEdge(e pattern.Edge, s *sheet) {
	s.record(outline, "edge", e.Name, "edge").word(e.Name).option("length", e.Length).named("was", e.Was).done()
	if len(e.Segs) == 1 && !e.Segs[0].Curve && e.Segs[0].ToCorner {
		return // a straight edge needs no segment
	}
	for _, seg := range e.Segs {
		printSegment(seg, s)
	}
}

func printSegment(seg pattern.Seg, s *sheet) {
	word := "line"
	if seg.Curve {
		word = "curve"
	}
	l := s.segment(word)
	if seg.Curve {
		l.point(seg.H1.X, seg.H1.Y).point(seg.H2.X, seg.H2.Y)
	}
	l.word("to")
	if seg.ToCorner {
		l.word("corner")
	} else {
		l.point(seg.To.X, seg.To.Y)
	}
	l.done()
}

// finishPiece checks what can be judged only after the last record.
func finishPiece(r *reader, p *pattern.Piece) {
	end := diag.Place{File: r.place.File, Piece: p.Name, Line: max(r.line, 1), Column: 1}
	if len(p.Corners) > len(p.Edges) {
		k := p.Corners[len(p.Corners)-1]
		if !r.faulty[k.Place.Line] {
			r.reportAt(k.Place, IDOutlineOrder, "a corner at the end of the outline",
				"an edge after it, which leads back to the first corner", "corners and edges take turns")
		}
		p.Edges = append(p.Edges, pattern.Edge{})
	}
	if len(p.Corners) < 2 && len(r.faulty) == 0 {
		r.reportAt(end, IDRecordMissing, fmt.Sprintf("an outline with %d corners", len(p.Corners)),
			"at least 2 corners, each followed by an edge", "")
	}
	for _, e := range p.Edges {
		r.checkEdgeEnd(e)
	}
	for _, m := range p.Marks {
		r.checkMarkLine(m)
	}
}

// checkEdgeEnd makes sure that the last segment, and no other, ends at the corner.
func (r *reader) checkEdgeEnd(e pattern.Edge) {
	if r.faulty[e.Place.Line] || r.anyFaulty(e.Segs) {
		return
	}
	for i, s := range e.Segs {
		last := i == len(e.Segs)-1
		at := s.Place
		switch {
		case last && !s.ToCorner:
			r.reportAt(at, IDOutlineEnd, "a last segment that ends at a point", `"to corner" at the end of edge `+e.Name, "")
		case !last && s.ToCorner:
			r.reportAt(at, IDOutlineEnd, `"to corner" before the last segment`, "a point", "the segments of an edge end at the corner once, at last")
		}
	}
}

func (r *reader) anyFaulty(segs []pattern.Seg) bool {
	for _, s := range segs {
		if r.faulty[s.Place.Line] {
			return true
		}
	}
	return false
}

// Lengths sets the recorded length of every edge to its true length, rounded
// to 0.001 mm. An edge longer than the greatest number of a file gets none; a
// piece whose corners and edges do not pair is left alone.
func Lengths(p *pattern.Piece) {
	if len(p.Corners) != len(p.Edges) {
		return
	}
	for i := range p.Edges {
		p.Edges[i].Length = pattern.Opt{}
		length := math.Round(float64(p.EdgePath(i).Length(1e-6)*1000)) / 1000
		if length <= maxNumber {
			p.Edges[i].Length = pattern.Some(length)
		}
	}
}
