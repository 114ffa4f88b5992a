package check

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// onLine is how far from the outline a point may be and still lie on it, mm.
const onLine = measure.OnLine

// stray is a mark of a piece that lies outside, or in part.
type stray struct {
	index int
	at    curve.Point // its point that is furthest out
	off   float64     // mm
}

// strays lists the marks of a piece that lie outside it.
func strays(p *pattern.Piece, ring curve.Path) []stray {
	var out []stray
	box := ring.Bounds()
	for i, m := range p.Marks {
		if at, off := outside(ring, box, m); off > 0 {
			out = append(out, stray{i, at, off})
		}
	}
	return out
}

func (s stray) problem(p *pattern.Piece) diag.Problem {
	m := p.Marks[s.index]
	x := pieceProblem("mark.outside", p, m.Place.Point(s.at.X, s.at.Y), "")
	x.Found = fmt.Sprintf("%s %s of %s lies %.1f mm outside at %.1f %.1f", m.Kind, m.Name, p.Name, s.off, s.at.X, s.at.Y)
	x.Expected = "marks inside the sewing line"
	x.Amount = s.off
	x.Hint = "move the mark, or shorten it"
	return x
}

// eachOutside gives a finding for every single mark outside, for a comparison of what
// was with what is.
func eachOutside(pieces []*pattern.Piece) diag.List {
	var out diag.List
	for _, p := range pieces {
		if closed(p) {
			for _, s := range strays(p, p.Outline()) {
				out = append(out, s.problem(p))
			}
		}
	}
	return out
}

// marks tells lines that have no length, and marks outside their piece: of each kind
// the worst, with how many there are. Bones and cords that stick
// out since they are too long are found as that.
func marks(in Input) diag.List {
	var out diag.List
	for _, p := range in.Garment.Pieces {
		if !closed(p) {
			continue
		}
		out = append(out, empty(in, p)...)
		ring := p.Outline()
		byKind := map[pattern.MarkKind][]stray{}
		var kinds []pattern.MarkKind
		for _, s := range strays(p, ring) {
			m := &p.Marks[s.index]
			if _, _, ok := sticksOut(ring, m, in.Garment.Clearance(m.Kind), in.Tol); ok {
				continue
			}
			if byKind[m.Kind] == nil {
				kinds = append(kinds, m.Kind)
			}
			byKind[m.Kind] = append(byKind[m.Kind], s)
		}
		for _, k := range kinds {
			out = append(out, allOutside(in, p, k, byKind[k]))
		}
	}
	return out
}

// allOutside tells the marks of a kind that lie outside a piece. Where a record says
// where they belong, the cure is to place them again; else each is named.
func allOutside(in Input, p *pattern.Piece, kind pattern.MarkKind, list []stray) diag.Problem {
	worst := list[0]
	for _, s := range list {
		if s.off > worst.off {
			worst = s
		}
	}
	x := worst.problem(p)
	if len(list) > 1 {
		x.Found = fmt.Sprintf("%d of the %ss of %s lie outside; %s lies furthest, by %.1f mm at %.1f %.1f", len(list), kind, p.Name, p.Marks[worst.index].Name, worst.off, worst.at.X, worst.at.Y)
		x.Hint = "move the marks, or shorten them"
	}
	if cure := placing(in, p, kind, list); cure != "" {
		x.Hint = cure
		return x
	}
	for _, s := range list {
		if s != worst {
			y := s.problem(p)
			x.Related = append(x.Related, diag.Related{Place: y.Place, Text: y.Found})
		}
	}
	return x
}

// placing gives the commands that put all these marks where the garment file records
// them; "" where one of them belongs to no record.
func placing(in Input, p *pattern.Piece, kind pattern.MarkKind, list []stray) string {
	if measure.MarkLetter(kind) == "" {
		return ""
	}
	g := in.Garment
	closure, records := pattern.ButtonClosure, g.Buttons
	if kind == pattern.Eyelet {
		closure, records = pattern.Lacing, g.Eyelets
	}
	rivals := measure.ClosureEdges(g, closure)[p.Name]
	left := map[int]bool{}
	for _, s := range list {
		left[s.index] = true
	}
	var cures []string
	for i := range records {
		c := g.Closure(records[i].Closure)
		if c == nil || c.Kind != closure {
			continue
		}
		before := len(left)
		for _, ref := range c.Edges {
			if q, e, ok := g.Edge(ref); ok && q == p {
				for _, s := range (measure.Row{Ref: ref, Piece: p, Edge: e}).Standing(kind, rivals, true, in.Tol) {
					delete(left, s.Index)
				}
			}
		}
		if cure := fmt.Sprintf("seamkeep place %s %s", measure.WordOf(c), c.Name); len(left) < before && !slices.Contains(cures, cure) {
			cures = append(cures, cure)
		}
	}
	if len(left) > 0 {
		return ""
	}
	return strings.Join(cures, "\n")
}

// empty tells lines that begin where they end and have no way between.
func empty(in Input, p *pattern.Piece) diag.List {
	var names []string
	var out diag.List
	for i := range p.Marks {
		m := &p.Marks[i]
		if !m.Kind.IsLine() || m.Path().Length(in.Tol) >= pattern.Grid {
			continue
		}
		names = append(names, string(m.Kind)+" "+m.Name)
		if len(names) > 1 {
			out[0].Related = append(out[0].Related, diag.Related{Place: m.Place.Point(m.At.X, m.At.Y), Text: names[len(names)-1] + " has no length either"})
			continue
		}
		x := pieceProblem("mark.no-length", p, m.Place.Point(m.At.X, m.At.Y), "")
		x.Severity = diag.Warning
		x.Expected = "a line from one end to the other"
		x.Hint = "write where it ends, or take it out"
		out = diag.List{x}
	}
	if len(names) > 0 {
		out[0].Amount = float64(len(names))
		out[0].Found = fmt.Sprintf("%s of %s ends where it begins, at %.1f %.1f", names[0], p.Name, out[0].Place.X, out[0].Place.Y)
	}
	return out
}

// outside gives the point of a mark that lies furthest outside, and how far; 0
// where all of it lies inside or on the line.
func outside(ring curve.Path, box curve.Box, m pattern.Mark) (worst curve.Point, off float64) {
	points := []curve.Point{m.At}
	if m.Kind.IsLine() {
		points = m.Path().Flatten(0.05)
	}
	grown := box.Grow(onLine)
	for _, q := range points {
		inBox := q.X >= grown.Min.X && q.X <= grown.Max.X && q.Y >= grown.Min.Y && q.Y <= grown.Max.Y
		if inBox && ring.Contains(q) {
			continue
		}
		if d := ring.Nearest(q).Dist; d > onLine && d > off {
			worst, off = q, d
		}
	}
	return worst, off
}
