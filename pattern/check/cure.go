package check

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// Cure says how a seam that is off is mended: how much at each end, where the
// first side's corners would go, and the command that does it; or, where no
// corner mends it, which notch to move. Amounts in mm; lines within tol.
func Cure(g *pattern.Garment, w *measure.Walk, tol float64) string {
	v := Judge(g, w)
	limit := v.Warn
	if !v.OK {
		limit = v.Limit
	}
	if w.Remains() > limit+slack {
		return beyondCorners(w, v.Warn)
	}
	s := w.Seam
	start, end := w.Ends()
	a, b := short(w.First.StartName()), short(w.First.EndName())
	lines := []string{Amounts(w)}
	if why := CannotTrue(w); why != "" {
		return strings.Join(append(lines, why+": move the corners in the drawing or in the file"), "\n")
	}
	p, okP := slid(w.First, false, start, tol)
	q, okQ := slid(w.First, true, end, tol)
	if okP && okQ {
		lines = append(lines, fmt.Sprintf("(%s to %s, %s to %s), or as much the other way on %s", a, coords(p), b, coords(q), measure.SideName(s.Second)))
	}
	lines = append(lines, fmt.Sprintf("seamkeep true %s --move %s   (or --move %s, --move both)", s.Name, s.First[0].Piece, s.Second[0].Piece))
	if notch := misplaced(w, v.Warn); notch != "" {
		lines = append(lines, "or, if the ends are right, "+notch)
	}
	return strings.Join(lines, "\n")
}

// Amounts says how much to add to the first side of a seam, or to take off, at
// each of its ends, in mm.
func Amounts(w *measure.Walk) string {
	start, end := w.Ends()
	if math.Abs(start) < none && math.Abs(end) < none {
		return "the ends match: nothing to add or to take off there"
	}
	return amounts(measure.SideName(w.Seam.First), short(w.First.StartName()), start, short(w.First.EndName()), end)
}

// beyondCorners says how to mend what no corner mends: a notch out of its place,
// or an edge of another length between two notches.
func beyondCorners(w *measure.Walk, warn float64) string {
	start, end := w.Ends()
	matched := math.Abs(start) < none && math.Abs(end) < none
	notch := misplaced(w, warn)
	switch {
	case notch != "" && matched:
		return notch
	case notch != "":
		return notch + "\nbesides, " + Amounts(w)
	case w.Agreed[0] && w.Agreed[1] && len(w.Segments) == 1:
		return fmt.Sprintf("both ends are matched, %s and %s, so no corner is to slide; move a notch, or redraw the edge between them", w.Segments[0].From, w.Segments[0].To)
	case matched:
		return "the ends match; move a notch, or redraw the edge between the notches"
	}
	seg := w.Worst()
	return fmt.Sprintf("no corner mends %s to %s; move a notch there, or redraw the edge between\nbesides, %s", seg.From, seg.To, Amounts(w))
}

// misplaced names a notch between two segments that cancel, how far to move it
// on the first side, and which way; "" where there is none. Two segments cancel
// that are off to opposite sides and together by no more than the warning.
func misplaced(w *measure.Walk, warn float64) string {
	worst, out := warn, ""
	for i := 1; i < len(w.Segments); i++ {
		before, after := w.Segments[i-1].Difference, w.Segments[i].Difference
		by := (before - after) / 2 // positive: the notch stands too far along
		part, ok := notched(w.First, w.Segments[i].From)
		if !ok || before*after >= 0 || math.Abs(before+after) > warn+slack || math.Abs(by) <= worst {
			continue
		}
		towards := part.Begins()
		if by < 0 {
			towards = part.Ends()
		}
		worst = math.Abs(by)
		out = fmt.Sprintf("move notch %s on %s.%s by %.2f towards %s, or its partner on %s as much the other way", w.Segments[i].From,
			part.Piece.Name, part.Piece.Edges[part.Edge].Name, worst, short(towards), measure.SideName(w.Seam.Second))
	}
	return out
}

// notched gives the part of a side that carries a notch; false where the
// station is the waist and no notch.
func notched(s measure.Side, name string) (measure.Part, bool) {
	for _, p := range s.Parts {
		if p.Piece.NotchIndex(p.Piece.Edges[p.Edge].Name, name) >= 0 {
			return p, true
		}
	}
	return measure.Part{}, false
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
