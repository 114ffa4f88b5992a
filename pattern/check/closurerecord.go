package check

import (
	"fmt"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// What an example of a record says where nothing is known, mm: common practice, no
// source.
const (
	exampleButton = 18.0 // diameter
	examplePitch  = 25.0 // of buttons
	exampleEyelet = 20.0 // pitch of eyelets, at most
	exampleMargin = 10.0
)

// unrecorded gives the findings of a closure without a record of its buttons or
// eyelets. Where marks stand at its edges they are of no record. Where none stand it is
// noted once the garment file has allowances, so that it is to be cut; before that the
// pattern is not there yet.
func (f *fastener) unrecorded(c *pattern.Closure) diag.List {
	if c.Kind != pattern.ButtonClosure && c.Kind != pattern.Lacing {
		return nil
	}
	out := append(f.wideUnrecorded(c), f.opposite(c)...)
	x := NoRecord(f.in.Garment, c, f.in.Tol)
	x.Severity = diag.Warning
	rows, total := f.standing(c)
	if total == 0 {
		x.Severity = diag.Note
		if len(f.in.Garment.Allowances) > 0 {
			out = append(out, x)
		}
		return out
	}
	x.Amount = float64(total)
	for _, r := range rows {
		if len(r.marks) == 0 {
			continue
		}
		x.AddPart(r.Name(), float64(len(r.marks)))
		if len(x.Parts) == 1 {
			m := &r.Piece.Marks[r.marks[0].Index]
			x.Place = onPiece(m.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(m.At.X, m.At.Y)
			x.Found = fmt.Sprintf("%s at %s, but the garment file has no line for that", standAs(c, len(r.marks)), r.Name())
			x.Hint = "write: " + recordOf(c, r)
		}
	}
	x.Related = []diag.Related{{Place: c.Place, Text: "closure " + c.Name}}
	return append(out, x)
}

// markedRow is an edge of a closure with the buttons or eyelets that stand at it.
type markedRow struct {
	measure.Row
	marks []measure.Standing // the uppermost first
}

// standAs tells how many buttons or eyelets stand.
func standAs(c *pattern.Closure, n int) string {
	if n == 1 {
		return "a single one of its " + measure.WordOf(c) + " stands"
	}
	return fmt.Sprintf("%d %s stand", n, measure.WordOf(c))
}

// standing gives the buttons or eyelets at the edges of a closure, and how many; those
// that lie outside their piece are found as that.
func (f *fastener) standing(c *pattern.Closure) (rows []markedRow, total int) {
	kind := pattern.Button
	if c.Kind == pattern.Lacing {
		kind = pattern.Eyelet
	}
	for _, ref := range c.Edges {
		r, problem := measure.BareRow(f.in.Garment, ref, f.in.Tol)
		if problem != nil || !closed(r.Piece) {
			continue
		}
		list := slices.DeleteFunc(r.Standing(kind, f.rivals[c.Kind][r.Piece.Name], false, f.in.Tol), func(s measure.Standing) bool { return s.Outside && s.Away > onLine })
		rows, total = append(rows, markedRow{r, list}), total+len(list)
	}
	return rows, total
}

// NoRecord says that nothing is recorded of what closes a closure, with a line to write
// that fits its first edge. Lengths are within tol.
func NoRecord(g *pattern.Garment, c *pattern.Closure, tol float64) diag.Problem {
	x := closureProblem("closure.no-record", c.Place, c, 1)
	x.Found = fmt.Sprintf("the garment file records no %s for closure %s", measure.WordOf(c), c.Name)
	x.Expected = "how many, and where"
	x.Hint = "write for example: " + exampleRecord(g, c, tol)
	if c.Kind == pattern.ButtonClosure && !c.Overlap.Set {
		x.Hint += fmt.Sprintf("\nand at the end of the line of closure %s: overlap %g", c.Name, 2*measure.Extension*exampleButton)
	}
	if len(c.Edges) > 0 {
		x.Place.Piece, x.Place.Edge = c.Edges[0].Piece, c.Edges[0].Edge
	}
	return x
}

// exampleRecord gives a record that the first edge of a closure has room for.
func exampleRecord(g *pattern.Garment, c *pattern.Closure, tol float64) string {
	r, long := measure.Row{}, 0.0
	if len(c.Edges) > 0 {
		if bare, problem := measure.BareRow(g, c.Edges[0], tol); problem == nil && closed(bare.Piece) {
			r, long = bare, bare.Length()
		}
	}
	if c.Kind == pattern.Lacing {
		spaces := max(1, math.Ceil((long-2*exampleMargin)/exampleEyelet-slack))
		return fmt.Sprintf("eyelets %s count %g margin %g", c.Name, spaces+1, exampleMargin)
	}
	const room = exampleButton / 2
	if r.Piece != nil {
		level := r.Strain(g, nil, tol)
		if at, ok := r.Crossing(g, level, tol); ok {
			top, bottom := r.Ends(at)
			return fmt.Sprintf("buttons %s from %s pitch %g diameter %g up %g down %g", c.Name, level, examplePitch, exampleButton,
				spacesIn(top-room, examplePitch), spacesIn(bottom-room, examplePitch))
		}
	}
	return fmt.Sprintf("buttons %s diameter %g count %g margin %g", c.Name, exampleButton, spacesIn(long-2*exampleMargin, examplePitch)+1, exampleMargin)
}

// counts says how many to write in a record that says where they stand but not how many
// there are.
func (x fastening) counts(r measure.Row) string {
	pitch := x.f.Pitch.Or(examplePitch)
	if x.c.Kind == pattern.Lacing {
		pitch = x.f.Pitch.Or(exampleEyelet)
	}
	if !(pitch > 0) {
		return "write how many there are, and a pitch above 0"
	}
	up, down := 0.0, spacesIn(r.Length()-2*x.f.Margin.Or(x.room()), pitch)
	words := fmt.Sprintf("count %g", down+1)
	if at, ok := r.Crossing(x.in.Garment, x.f.From, x.in.Tol); ok && x.f.Pitch.Set {
		top, bottom := r.Ends(at)
		up, down = spacesIn(top-x.room(), pitch), spacesIn(bottom-x.room(), pitch)
		words = fmt.Sprintf("up %g down %g", up, down)
	}
	if x.c.Kind == pattern.Lacing && up+down < 1 {
		return fmt.Sprintf("at pitch %g there is room for one only: write a smaller pitch, and how many there are", pitch)
	}
	return "write how many there are; there is room for " + words
}

// spacesIn is how many spaces of a pitch a length has room for.
func spacesIn(length, pitch float64) float64 { return max(0, math.Floor(length/pitch+slack)) }

// recordOf gives the record that describes the marks of a row best: from a level where
// one of them stands on it, else between margins.
func recordOf(c *pattern.Closure, r markedRow) string {
	line := fmt.Sprintf("%s %s", measure.WordOf(c), c.Name)
	size := ""
	if d := r.Widest(&pattern.Fastening{}, r.marks); d.Set {
		size = fmt.Sprintf(" diameter %g", d.Value)
	}
	n := len(r.marks)
	top, _ := r.Ends(r.marks[0].Along)
	last, bottom := r.Ends(r.marks[n-1].Along)
	if n == 1 {
		return line + size + " count 1"
	}
	pitch := pattern.RoundLength((last - top) / float64(n-1))
	if math.Abs(top-bottom) < 1 {
		return fmt.Sprintf("%s%s count %d margin %s", line, size, n, tenths((top+bottom)/2))
	}
	return fmt.Sprintf("%s pitch %g%s count %d margin %s", line, pitch, size, n, tenths(top))
}

// tenths writes a length for a file, mm, to a tenth and not below 0.
func tenths(mm float64) string { return fmt.Sprintf("%g", math.Round(10*max(0, mm))/10) }
