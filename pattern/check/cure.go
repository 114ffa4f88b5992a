package check

import (
	"fmt"
	"math"
	"slices"
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
	least := min(none, limit+slack)
	if w.Remains() > limit+slack {
		return beyondCorners(w, v.Warn, limit, least)
	}
	s := w.Seam
	start, end := w.Ends()
	a, b := short(w.First.StartName()), short(w.First.EndName())
	lines := []string{endAmounts(w, least)}
	if why := CannotTrue(w); why != "" {
		lines = append(lines, why+": move the corners in the drawing or in the file")
	} else {
		p, okP := slid(w.First, false, start, tol)
		q, okQ := slid(w.First, true, end, tol)
		if okP && okQ {
			lines = append(lines, fmt.Sprintf("(%s to %s, %s to %s), or as much the other way on %s", a, coords(p), b, coords(q), measure.SideName(s.Second)))
		}
		lines = append(lines, fmt.Sprintf("seamkeep true %s --move %s   (or --move %s, --move both)", s.Name, s.First[0].Piece, s.Second[0].Piece))
	}
	if notches, after := misplaced(w, v.Warn); len(notches) > 0 && greatest(after) <= limit+slack {
		lines = append(lines, "or, if the ends are right, "+strings.Join(notches, "\nand "))
	}
	return strings.Join(lines, "\n")
}

// Amounts says how much to add to the first side of a seam, or to take off, at
// each of its ends, in mm.
func Amounts(w *measure.Walk) string { return endAmounts(w, none) }

// endAmounts is Amounts where less than least is not worth telling.
func endAmounts(w *measure.Walk, least float64) string {
	start, end := w.Ends()
	if matched(w, least) {
		return "the ends match: nothing to add or to take off there"
	}
	return amounts(measure.SideName(w.Seam.First), short(w.First.StartName()), start, short(w.First.EndName()), end, least)
}

// matched tells whether nothing is to be added or taken off at the ends of a seam.
func matched(w *measure.Walk, least float64) bool {
	start, end := w.Ends()
	return math.Abs(start) < least && math.Abs(end) < least
}

// beyondCorners says how to mend what no corner mends: notches out of their place, or
// an edge of another length between two notches. What is said of the ends besides is
// what is off there once the notches have been moved.
func beyondCorners(w *measure.Walk, warn, limit, least float64) string {
	notches, after := misplaced(w, warn)
	hint := strings.Join(notches, "\nand ")
	besides := ""
	if !matched(after, least) {
		besides = "\nbesides, " + endAmounts(after, least)
	}
	switch {
	case hint != "" && greatest(after) <= limit+slack:
		return hint
	case hint != "" && after.Remains() <= limit+slack:
		return hint + besides
	case hint != "":
		hint += "\nthen "
	}
	switch {
	case after.Agreed[0] && after.Agreed[1] && len(after.Segments) == 1:
		return fmt.Sprintf("both ends are matched, %s and %s, so no corner is to slide; move a notch, or redraw the edge between them", after.Segments[0].From, after.Segments[0].To)
	case besides == "" && hint == "":
		return "the ends match; move a notch, or redraw the edge between the notches"
	}
	seg := inside(after)
	return fmt.Sprintf("%sno corner mends %s to %s; move a notch there, or redraw the edge between%s", hint, seg.From, seg.To, besides)
}

// greatest gives by how much a seam is off, whole or in a segment, mm.
func greatest(w *measure.Walk) float64 {
	return max(math.Abs(w.Difference), math.Abs(w.Worst().Difference))
}

// inside gives the segment that is most off of those which no corner mends; of all,
// where there is none such.
func inside(w *measure.Walk) measure.Segment {
	inner := measure.Walk{Segments: w.Segments}
	if !w.Agreed[0] && len(inner.Segments) > 1 {
		inner.Segments = inner.Segments[1:]
	}
	if last := len(inner.Segments) - 1; !w.Agreed[1] && last > 0 {
		inner.Segments = inner.Segments[:last]
	}
	return inner.Worst()
}

// misplaced names the notches that stand between two segments which cancel, how far to
// move each on the first side, and which way; the most misplaced first. after is the
// walk with all of them moved, w itself where there is none. Two segments cancel that
// are off to opposite sides and together by no more than the warning.
func misplaced(w *measure.Walk, warn float64) (hints []string, after *measure.Walk) {
	after = w
	for range w.Segments {
		i, by := mostMisplaced(after, warn)
		if i < 0 {
			break
		}
		part, _ := notched(w.First, w.Segments[i].From)
		towards := part.Begins()
		if by < 0 {
			towards = part.Ends()
		}
		hint := fmt.Sprintf("move notch %s on %s.%s by %s towards %s, or its partner on %s as much the other way", w.Segments[i].From,
			part.Piece.Name, part.Piece.Edges[part.Edge].Name, over(by, 0), short(towards), measure.SideName(w.Seam.Second))
		if meets(w, w.Segments[i].From, by, warn) {
			hint += "\n" + moveCommand(w, w.Segments[i].From)
		}
		hints = append(hints, hint)
		after = after.Shifted(i, -by)
	}
	return hints, after
}

// meets tells whether to bring a pair together, as the command does that moves notches,
// is to move the first side's back by so many mm: it counts from the waist.
func meets(w *measure.Walk, name string, by, warn float64) bool {
	if name == "waist" {
		return true
	}
	return slices.ContainsFunc(w.Drifts(), func(d measure.Drift) bool { return d.Name == name && math.Abs(d.By-by) <= warn+slack })
}

// mostMisplaced gives the segment that begins at the notch which is furthest out of its
// place, and how far too far along it stands on the first side, mm; -1 where none is
// out of it by more than the warning.
func mostMisplaced(w *measure.Walk, warn float64) (segment int, by float64) {
	segment, by = -1, warn
	for i := 1; i < len(w.Segments); i++ {
		before, after := w.Segments[i-1].Difference, w.Segments[i].Difference
		off := (before - after) / 2
		if before*after >= 0 || math.Abs(before+after) > warn+slack || math.Abs(off) <= math.Abs(by) {
			continue
		}
		if _, ok := notched(w.First, w.Segments[i].From); ok {
			segment, by = i, off
		}
	}
	return segment, by
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

// none is an amount, in mm, that is not worth telling, unless less is allowed.
const none = 0.005

// amounts says how much to add or take off at each end of a side; an end that
// matches to less than least is left out.
func amounts(side, a string, start float64, b string, end, least float64) string {
	at := func(d float64, corner string) string { return over(d, 0) + " at the " + corner + " end" }
	switch {
	case math.Abs(end) < least:
		return verb(start) + " " + side + ": " + at(start, a)
	case math.Abs(start) < least:
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
