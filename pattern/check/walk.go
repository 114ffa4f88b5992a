package check

import (
	"fmt"
	"math"
	"strconv"
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
	walks := make([]*measure.Walk, 0, len(in.Garment.Seams))
	for i := range in.Garment.Seams {
		w, problem := measure.WalkSeam(in.Garment, &in.Garment.Seams[i], in.Tol)
		if problem != nil {
			out = append(out, *problem)
			continue
		}
		walks = append(walks, w)
	}
	ends := joints(walks)
	for _, w := range walks {
		out = append(out, brokenSides(w, ends)...)
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
		x.Found = fmt.Sprintf("seam %s: %s is %s mm %s than %s", s.Name, measure.SideName(s.First),
			over(w.Difference, limit), longer(w.Difference), measure.SideName(s.Second))
	} else {
		if x.ID == "seam.differs" {
			x.ID = "seam.segment"
		}
		seg := w.Worst()
		x.Found = fmt.Sprintf("seam %s, %s to %s: %s is %s mm %s than %s", s.Name, seg.From, seg.To,
			measure.SideName(s.First), over(seg.Difference, limit), longer(seg.Difference), measure.SideName(s.Second))
	}
	if w.Ease != 0 {
		x.Found += fmt.Sprintf(" beyond its ease of %.1f", w.Ease)
	}
	x.Expected = "at most " + figure(v.Limit)
	if v.OK {
		x.Expected = "at most " + figure(v.Warn) + " (refused above " + figure(v.Limit) + ")"
	}
	x.Related = append(sideLines(w), segmentLines(w, limit)...)
	x.Hint = cure(in, w)
	return x, true
}

// over prints a difference so finely that it does not read as the limit that
// it is over.
func over(mm, limit float64) string {
	s := fmt.Sprintf("%.2f", math.Abs(mm))
	if v, err := strconv.ParseFloat(s, 64); err == nil && v <= limit {
		return fmt.Sprintf("%.4f", math.Abs(mm))
	}
	return s
}

// figure prints a tolerance with all its decimals, at least one.
func figure(mm float64) string {
	s := strings.TrimRight(fmt.Sprintf("%.3f", mm), "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	return s
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
	if math.Abs(start) < none && math.Abs(end) < none {
		return "the ends match; move a notch, or redraw the edge between the notches"
	}
	lines := []string{amounts(measure.SideName(s.First), a, start, b, end)}
	if why := CannotTrue(w); why != "" {
		return strings.Join(append(lines, why+": move the corners in the drawing or in the file"), "\n")
	}
	p, okP := slid(w.First, false, start, in.Tol)
	q, okQ := slid(w.First, true, end, in.Tol)
	if okP && okQ {
		lines = append(lines, fmt.Sprintf("(%s to %s, %s to %s), or as much the other way on %s", a, coords(p), b, coords(q), measure.SideName(s.Second)))
	}
	return strings.Join(append(lines, fmt.Sprintf("seamkeep true %s [--move %s|%s|both]", s.Name, s.First[0].Piece, s.Second[0].Piece)), "\n")
}

// none is an amount, in mm, that is not worth telling.
const none = 0.005

// amounts says how much to add or take off at each end of a side; an end that
// matches is left out.
func amounts(side, a string, start float64, b string, end float64) string {
	at := func(d float64, corner string) string { return fmt.Sprintf("%.2f at the %s end", math.Abs(d), corner) }
	switch {
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
func CannotTrue(w *measure.Walk) string {
	s := w.Seam
	switch {
	case s.Mirrored:
		return "a mirrored seam has one side only"
	case len(s.First) > 1 || len(s.Second) > 1:
		return "a side of several edges (+) is not trued by a command"
	case s.First[0].From != "" || s.Second[0].From != "":
		return "a span between notches is not trued by a command"
	case w.First.StartName() == w.Second.StartName() || w.First.EndName() == w.Second.EndName():
		return "a dart, whose sides meet in a corner, is not trued by a command"
	}
	return ""
}
