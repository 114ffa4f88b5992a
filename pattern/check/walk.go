package check

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// slack keeps a seam that is off by exactly the tolerance from failing by the
// rounding of a length, in mm.
const slack = 1e-5

func measureNotch(p *pattern.Piece, n pattern.Notch, err *pattern.SpotError) *diag.Problem {
	return measure.NotchProblem(p, n, err)
}

func seams(in Input) diag.List {
	var out diag.List
	ends := joints(in.Garment)
	for i := range in.Garment.Seams {
		s := &in.Garment.Seams[i]
		out = append(out, chained(in.Garment, s, ends)...)
		w, problem := measure.WalkSeam(in.Garment, s, in.Tol)
		if problem != nil {
			out = append(out, *problem)
			continue
		}
		if x, found := judgeWalk(in, w); found {
			out = append(out, x)
		}
	}
	return out
}

// Verdict is what the tolerances say of a walk.
type Verdict struct {
	Limit, Warn float64 // mm
	OK          bool    // whole and each segment within Limit
	Near        bool    // OK, but something is over Warn
	Amount      float64 // the greatest difference, whole or of a segment, mm
}

// Judge holds a walk against the garment's seam tolerance.
func Judge(g *pattern.Garment, w *measure.Walk) Verdict {
	v := Verdict{Amount: max(math.Abs(w.Difference), math.Abs(w.Worst().Difference))}
	v.Limit, v.Warn = g.SeamTolerance()
	v.OK = v.Amount <= v.Limit+slack
	v.Near = v.OK && v.Amount > v.Warn+slack
	return v
}

func judgeWalk(in Input, w *measure.Walk) (diag.Problem, bool) {
	v := Judge(in.Garment, w)
	if v.OK && !v.Near {
		return diag.Problem{}, false
	}
	s := w.Seam
	x := diag.Problem{ID: "seam.near", Severity: diag.Warning, Place: s.Place, Subject: s.Name, Amount: v.Amount}
	limit := v.Warn
	if !v.OK {
		x.ID, x.Severity, limit = "seam.differs", diag.Error, v.Limit
	}
	if math.Abs(w.Difference) > limit+slack {
		x.Found = fmt.Sprintf("seam %s: %s is %.2f mm %s than %s", s.Name, measure.SideName(s.First),
			math.Abs(w.Difference), longer(w.Difference), measure.SideName(s.Second))
	} else {
		if x.ID == "seam.differs" {
			x.ID = "seam.segment"
		}
		seg := w.Worst()
		x.Found = fmt.Sprintf("seam %s, %s to %s: %s is %.2f mm %s than %s", s.Name, seg.From, seg.To,
			measure.SideName(s.First), math.Abs(seg.Difference), longer(seg.Difference), measure.SideName(s.Second))
	}
	if w.Ease != 0 {
		x.Found += fmt.Sprintf(" beyond its ease of %.1f", w.Ease)
	}
	x.Expected = fmt.Sprintf("at most %.1f", v.Limit)
	if v.OK {
		x.Expected = fmt.Sprintf("at most %.1f (refused above %.1f)", v.Warn, v.Limit)
	}
	x.Related = append(sideLines(w), segmentLines(w, limit)...)
	x.Hint = cure(in, w)
	return x, true
}

func longer(d float64) string {
	if d < 0 {
		return "shorter"
	}
	return "longer"
}

func sideLines(w *measure.Walk) []diag.Related {
	line := func(s measure.Side) diag.Related {
		part := s.Parts[0]
		place := part.Piece.Edges[part.Edge].Place
		place.Piece, place.Edge = part.Piece.Name, part.Piece.Edges[part.Edge].Name
		return diag.Related{Place: place, Text: fmt.Sprintf("%s measures %.2f", measure.SideName(s.Refs), s.Length)}
	}
	return []diag.Related{line(w.First), line(w.Second)}
}

// segmentLines lists the segments where the difference arises.
func segmentLines(w *measure.Walk, limit float64) []diag.Related {
	if len(w.Segments) < 2 {
		return nil
	}
	var out []diag.Related
	for _, seg := range w.Segments {
		if math.Abs(seg.Difference) < limit/4 {
			continue
		}
		a, b := seg.Lengths()
		part, at := w.First.EdgeAt(seg.Start[0])
		place := part.Piece.Edges[part.Edge].Place
		place.Piece, place.Edge, place.At, place.OnEdge = part.Piece.Name, part.Piece.Edges[part.Edge].Name, at, true
		out = append(out, diag.Related{Place: place, Text: fmt.Sprintf("%s to %s: %.2f against %.2f, %+.2f", seg.From, seg.To, a, b, seg.Difference)})
	}
	return out
}

// cure says how much at each end, where the first side's corners would go, and
// the command that does it.
func cure(in Input, w *measure.Walk) string {
	s := w.Seam
	start, end := w.Ends()
	a, b := short(w.First.StartName()), short(w.First.EndName())
	lines := []string{amounts(measure.SideName(s.First), a, start, b, end)}
	if why := CannotTrue(s); why != "" {
		return strings.Join(append(lines, why+": move the corners in the drawing or in the file"), "\n")
	}
	p, okP := slid(w.First, false, start, in.Tol)
	q, okQ := slid(w.First, true, end, in.Tol)
	if okP && okQ {
		lines = append(lines, fmt.Sprintf("(%s to %s, %s to %s), or as much the other way on %s", a, coords(p), b, coords(q), measure.SideName(s.Second)))
	}
	return strings.Join(append(lines, fmt.Sprintf("seamkeep true %s [--move %s|%s|both]", s.Name, s.First[0].Piece, s.Second[0].Piece)), "\n")
}

// amounts says how much to add or take off at each end of a side; an end that
// matches is left out.
func amounts(side, a string, start float64, b string, end float64) string {
	const none = 0.005
	at := func(d float64, corner string) string { return fmt.Sprintf("%.2f at the %s end", math.Abs(d), corner) }
	switch {
	case math.Abs(start) < none && math.Abs(end) < none:
		return "the ends match; move a notch, or redraw the edge between the notches"
	case math.Abs(end) < none:
		return verb(start) + " " + side + ": " + at(start, a)
	case math.Abs(start) < none:
		return verb(end) + " " + side + ": " + at(end, b)
	case start*end > 0:
		return verb(start) + " " + side + ": " + at(start, a) + ", " + at(end, b)
	}
	return verb(start) + " " + side + ": " + at(start, a) + "; " + verb(end) + " it " + at(end, b)
}

func verb(d float64) string {
	if d < 0 {
		return "add to"
	}
	return "take off"
}

// short leaves out the piece of a corner: the line has named it.
func short(name string) string {
	if _, corner, ok := strings.Cut(name, "."); ok {
		return corner
	}
	return name
}

func slid(s measure.Side, atEnd bool, amount, tol float64) (curve.Point, bool) {
	p, edge, corner, path, err := s.Slide(atEnd, amount, tol)
	if err != nil {
		return curve.Point{}, false
	}
	if corner == edge && len(p.Corners) > 1 {
		return path.Start(), true
	}
	return path.End(), true
}

func coords(p curve.Point) string { return fmt.Sprintf("%.3f %.3f", p.X, p.Y) }

// CannotTrue says why a seam cannot be trued by sliding corners; "" where it can.
func CannotTrue(s *pattern.Seam) string {
	switch {
	case s.Mirrored:
		return "a mirrored seam has one side only"
	case len(s.First) > 1 || len(s.Second) > 1:
		return "a side of several edges (+) is not trued by a command"
	case s.First[0].From != "" || s.Second[0].From != "":
		return "a span between notches is not trued by a command"
	}
	return ""
}

// joint is a corner of one side that a seam lays on a corner of the other.
type joint struct{ a, b string }

func joints(g *pattern.Garment) map[joint]bool {
	set := map[joint]bool{}
	for i := range g.Seams {
		s := &g.Seams[i]
		if s.Mirrored || len(s.First) == 0 || len(s.Second) == 0 {
			continue
		}
		a0, a1 := cornerOf(g, s.First[0], false), cornerOf(g, s.First[len(s.First)-1], true)
		b0, b1 := cornerOf(g, s.Second[0], false), cornerOf(g, s.Second[len(s.Second)-1], true)
		if !s.SameWay {
			b0, b1 = b1, b0
		}
		for _, j := range []joint{{a0, b0}, {b0, a0}, {a1, b1}, {b1, a1}} {
			set[j] = true
		}
	}
	return set
}

func cornerOf(g *pattern.Garment, r pattern.Ref, end bool) string {
	p, i, ok := g.Edge(r)
	if !ok || len(p.Corners) != len(p.Edges) {
		return ""
	}
	if end {
		i = p.After(i)
	}
	return p.Name + "." + p.Corners[i].Name
}

// chained checks that each edge of a side joined by + begins where the last
// one ended.
func chained(g *pattern.Garment, s *pattern.Seam, ends map[joint]bool) diag.List {
	var out diag.List
	for _, side := range [][]pattern.Ref{s.First, s.Second} {
		for i := 1; i < len(side); i++ {
			from, to := cornerOf(g, side[i-1], true), cornerOf(g, side[i], false)
			if from == "" || to == "" || from == to || ends[joint{from, to}] {
				continue
			}
			out = append(out, diag.Problem{
				ID: "seam.broken-side", Severity: diag.Error, Place: side[i].Place, Subject: s.Name,
				Found:    fmt.Sprintf("seam %s: %s ends at %s, but %s begins at %s", s.Name, side[i-1], from, side[i], to),
				Expected: "edges joined by + that meet at one corner, or at corners that a seam joins",
				Hint:     "list the edges in the order in which they are sewn, along the outline (anticlockwise)",
			})
		}
	}
	return out
}
