package again

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/match"
)

// merging joins what a drawing and the pattern made of one base.
type merging struct {
	base, now, drawn *pattern.Piece // all in the frame of now
	edges, corners   []int          // of drawn: the base's edge and corner, or -1
	parts            map[string][]string
	toNow, toDrawn   []int // of each base corner, or -1
	within           float64
	take             Take
	out              Outcome
	piece            *pattern.Piece
	ends             []ends // of each edge of piece: where it was drawn
	problems         diag.List
}

// ends are where an edge began and ended in the version that it was taken from.
type ends struct{ from, to curve.Point }

func newMerging(base, now *pattern.Piece, y *laying, o Options) *merging {
	m := &merging{
		base: base, now: now, drawn: y.piece, edges: y.edges, corners: y.corners, parts: y.parts,
		within: o.Within, take: o.Take, problems: y.problems,
	}
	if !(m.within > 0) {
		m.within = Noise(base)
	}
	if fit, ok := match.Register(base, now, match.Options{}); ok && fit != (curve.Rigid{}) {
		m.base, m.drawn = movedPiece(base, fit), movedPiece(y.piece, fit)
	}
	n := len(base.Corners)
	m.toNow, m.toDrawn = make([]int, n), make([]int, n)
	for i := range n {
		m.toNow[i], m.toDrawn[i] = -1, -1
	}
	for _, c := range match.Corners(base, now, match.Edges(base, now, match.Options{}), match.Options{}) {
		if c.Before >= 0 && c.After >= 0 {
			m.toNow[c.Before] = c.After
		}
	}
	inOrder(m.toNow, len(now.Corners))
	for j, i := range y.corners {
		if i >= 0 {
			m.toDrawn[i] = j
		}
	}
	return m
}

// inOrder pairs what is left open between two pairs that follow each other,
// where both outlines have as many corners there: one that moved and got another
// name meanwhile is still the one between its neighbours. to gives for each
// corner of a ring that of another ring with n corners, or -1.
func inOrder(to []int, n int) {
	var known []int
	for i, j := range to {
		if j >= 0 {
			known = append(known, i)
		}
	}
	for k, i := range known {
		next := known[(k+1)%len(known)]
		gap := (next-i+len(to)-1)%len(to) + 1
		if (to[next]-to[i]+n-1)%n+1 != gap {
			continue
		}
		for d := 1; d < gap; d++ {
			to[(i+d)%len(to)] = (to[i] + d) % n
		}
	}
}

// movedPiece is a piece in another frame, rounded.
func movedPiece(p *pattern.Piece, fit curve.Rigid) *pattern.Piece {
	m := fit.Affine()
	put := func(q curve.Point) curve.Point { return pattern.Round(m.Apply(q)) }
	p = pattern.Clone(p)
	for i := range p.Corners {
		p.Corners[i].At = put(p.Corners[i].At)
	}
	for i := range p.Edges {
		for j := range p.Edges[i].Segs {
			s := &p.Edges[i].Segs[j]
			s.H1, s.H2, s.To = put(s.H1), put(s.H2), put(s.To)
			if s.ToCorner {
				s.To = curve.Point{}
			}
		}
	}
	for i := range p.Marks {
		p.Marks[i] = redrawn(p.Marks[i], movedMark(p.Marks[i], fit))
	}
	if p.Grain != nil {
		p.Grain.From, p.Grain.To = put(p.Grain.From), put(p.Grain.To)
	}
	return p
}

func (m *merging) merge() *pattern.Piece {
	m.piece = pattern.Clone(m.now)
	anchors := m.anchors()
	if len(anchors) == 0 {
		m.nothingShared()
	} else {
		m.outline(anchors)
	}
	m.marks()
	m.grain()
	check := &laying{piece: m.piece, parts: m.parts}
	check.references(m.now)
	check.crossing(m.now)
	m.problems = append(m.problems, check.problems...)
	return m.piece
}

// anchors lists the base corners that are there in all three versions, in so far
// as they follow each other in the same order.
func (m *merging) anchors() []int {
	var out []int
	n := len(m.now.Corners)
	first, reached := -1, -1
	for i := range m.toNow {
		j := m.toNow[i]
		if j < 0 || m.toDrawn[i] < 0 {
			continue
		}
		if first < 0 {
			first = j
		}
		if step := (j - first + n) % n; step > reached {
			reached = step
			out = append(out, i)
		}
	}
	return out
}

// nothingShared is the outcome where no corner is common: the whole outline is
// one conflict.
func (m *merging) nothingShared() {
	if m.take == TakeDrawing {
		m.piece.Corners, m.piece.Edges = pattern.Clone(m.drawn).Corners, pattern.Clone(m.drawn).Edges
	}
	m.conflict(m.now.Edges[0].Name, m.base.Outline(), m.drawn.Outline(), m.now.Outline())
}

// run is a chain of edges of one version, from one corner to another.
type run struct {
	piece    *pattern.Piece
	edges    []int
	from, to int
}

func runOf(p *pattern.Piece, from, to int) run {
	r := run{piece: p, from: from, to: to}
	for i := from; ; {
		r.edges = append(r.edges, i)
		if i = p.After(i); i == to {
			return r
		}
	}
}

func (r run) path() curve.Path {
	var out curve.Path
	for _, i := range r.edges {
		out = append(out, r.piece.EdgePath(i)...)
	}
	return out
}

// same tells whether two runs have the same edges along the same line.
func (r run) same(s run, within float64) bool {
	if len(r.edges) != len(s.edges) {
		return false
	}
	for n := range r.edges {
		if !agree(r.piece.EdgePath(r.edges[n]), s.piece.EdgePath(s.edges[n]), within) {
			return false
		}
	}
	return true
}

func (r run) names() []string {
	var out []string
	for _, i := range r.edges {
		out = append(out, r.piece.Edges[i].Name)
	}
	return out
}

// outline merges the outline chain by chain.
func (m *merging) outline(anchors []int) {
	m.piece.Corners, m.piece.Edges = nil, nil
	for n, i := range anchors {
		j := anchors[(n+1)%len(anchors)]
		b := runOf(m.base, i, j)
		now := runOf(m.now, m.toNow[i], m.toNow[j])
		drawn := runOf(m.drawn, m.toDrawn[i], m.toDrawn[j])
		c := m.now.Corners[m.toNow[i]]
		c.At = m.corner(i)
		m.piece.Corners = append(m.piece.Corners, c)
		if m.drawingWins(b, now, drawn) {
			m.takeDrawn(b, now, drawn)
		} else {
			m.takeNow(now)
		}
	}
	first := m.piece.CornerIndex(m.now.Corners[0].Name)
	if first > 0 { // the file begins where it began
		m.piece.Corners = append(m.piece.Corners[first:len(m.piece.Corners):len(m.piece.Corners)], m.piece.Corners[:first]...)
		m.piece.Edges = append(m.piece.Edges[first:len(m.piece.Edges):len(m.piece.Edges)], m.piece.Edges[:first]...)
		m.ends = append(m.ends[first:len(m.ends):len(m.ends)], m.ends[:first]...)
	}
	m.join()
}

// corner is where a corner that all versions have stands.
func (m *merging) corner(i int) curve.Point {
	b, now, drawn := m.base.Corners[i].At, m.now.Corners[m.toNow[i]].At, m.drawn.Corners[m.toDrawn[i]].At
	inDrawing, inPattern := b.Dist(drawn) > m.within, b.Dist(now) > m.within
	if inDrawing && (!inPattern || m.take == TakeDrawing && now.Dist(drawn) > m.within) {
		return drawn
	}
	return now
}

// drawingWins tells whose a chain is, and notes who changed it.
func (m *merging) drawingWins(b, now, drawn run) bool {
	switch {
	case drawn.same(b, m.within):
		if !now.same(b, m.within) {
			m.out.Pattern = append(m.out.Pattern, now.names()...)
		}
		return false
	case now.same(drawn, m.within):
		return false
	case now.same(b, m.within):
		m.out.Drawing = append(m.out.Drawing, now.names()...)
		return true
	}
	m.conflict(now.names()[0], b.path(), drawn.path(), now.path())
	return m.take == TakeDrawing
}

// conflict notes that both sides changed a line.
func (m *merging) conflict(edge string, b, drawn, now curve.Path) {
	const fine = 0.01 // mm
	c := Conflict{edge, curve.Hausdorff(b, drawn, fine).Dist, curve.Hausdorff(b, now, fine).Dist}
	m.out.Both = append(m.out.Both, c)
	if m.take == TakeDrawing || m.take == TakePattern {
		return
	}
	x := problem(m.now, "conflict", diag.Error, edge, fmt.Sprintf(
		"edge %s was changed in both since the drawing was made: the drawing moved it by up to %.1f mm, the pattern by up to %.1f mm",
		edge, c.Drawing, c.Pattern), "a change on one side only",
		"--take drawing or --take pattern picks a side for such edges; the others are merged either way")
	x.Amount = math.Max(c.Drawing, c.Pattern)
	m.problems = append(m.problems, x)
}

func (m *merging) takeNow(r run) {
	for n, i := range r.edges {
		if n > 0 {
			m.piece.Corners = append(m.piece.Corners, r.piece.Corners[i])
		}
		m.addEdge(*pattern.Clone(&r.piece.Edges[i]), r.piece, i)
	}
}

func (m *merging) addEdge(e pattern.Edge, from *pattern.Piece, i int) {
	m.piece.Edges = append(m.piece.Edges, e)
	m.ends = append(m.ends, ends{from.Corners[i].At, from.Corners[from.After(i)].At})
}

// takeDrawn takes a chain of the drawing under the names that its edges bear by
// now.
func (m *merging) takeDrawn(b, now, drawn run) {
	renamed := map[string]string{}
	record := map[int]pattern.Edge{}
	if len(b.edges) == len(now.edges) {
		for n, i := range b.edges {
			record[i] = m.now.Edges[now.edges[n]]
			renamed[m.base.Edges[i].Name] = record[i].Name
		}
	}
	for n, i := range drawn.edges {
		if n > 0 {
			m.piece.Corners = append(m.piece.Corners, drawn.piece.Corners[i])
		}
		e := *pattern.Clone(&drawn.piece.Edges[i])
		if r, ok := record[m.edges[i]]; ok {
			e.Name, e.Was, e.Place = r.Name, r.Was, r.Place
		} else if name, ok := renamed[e.Was]; ok {
			e.Was = name
		}
		m.addEdge(e, drawn.piece, i)
	}
	for was, name := range renamed {
		if parts := m.parts[was]; name != was && parts != nil {
			delete(m.parts, was)
			m.parts[name] = parts
		}
	}
}

// join makes the edges end at the corners between them, where the two sides put
// a corner in different places: the end of the line and its handle move along.
func (m *merging) join() {
	p := m.piece
	for i := range p.Edges {
		from, to := p.Corners[i].At, p.Corners[p.After(i)].At
		if m.ends[i] == (ends{from, to}) {
			continue
		}
		e := &p.Edges[i]
		if n := len(e.Segs); n > 0 {
			first, last := &e.Segs[0], &e.Segs[n-1]
			if first.Curve {
				first.H1 = pattern.Round(first.H1.Add(from.Sub(m.ends[i].from)))
			}
			if last.Curve {
				last.H2 = pattern.Round(last.H2.Add(to.Sub(m.ends[i].to)))
			}
		}
		e.Length = pattern.Some(pattern.RoundLength(p.EdgePath(i).Length(1e-6)))
		off := math.Max(from.Dist(m.ends[i].from), to.Dist(m.ends[i].to))
		if off > 2*m.within {
			m.problems = append(m.problems, problem(m.now, "joined", diag.Warning, e.Name, fmt.Sprintf(
				"edge %s was drawn to end %.1f mm from where its corner stands now; its end was moved along", e.Name, off),
				"sides that agree on the corner", "look at the picture before the new outline is kept"))
		}
	}
}
