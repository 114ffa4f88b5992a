package check

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// slack keeps a seam that is off by exactly the tolerance from failing by the
// rounding of a length, in mm.
const slack = 1e-5

// walked holds the seams of a garment, each walked once; those that cannot be walked
// are problems.
type walked struct {
	walks    []*measure.Walk
	of       map[string]*measure.Walk // by the name of the seam
	problems diag.List
}

func walkAll(in Input) *walked {
	all := &walked{of: map[string]*measure.Walk{}}
	for i := range in.Garment.Seams {
		w, problem := measure.WalkSeam(in.Garment, &in.Garment.Seams[i], in.Tol)
		if problem != nil {
			all.problems = append(all.problems, *problem)
			continue
		}
		all.walks, all.of[w.Seam.Name] = append(all.walks, w), w
	}
	return all
}

func seams(in Input) diag.List {
	out := append(slices.Clone(in.walked.problems), warnsAbove(in.Garment)...)
	ends := joints(in.walked.walks)
	for _, w := range in.walked.walks {
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

// Judge holds a walk against the tolerance of its seam.
func Judge(g *pattern.Garment, w *measure.Walk) Verdict {
	v := Verdict{Amount: max(math.Abs(w.Difference), math.Abs(w.Worst().Difference))}
	v.Limit, v.Warn = g.SeamTolerance(w.Seam)
	v.OK = v.Amount <= v.Limit+slack
	v.Near = v.OK && v.Amount > v.Warn+slack
	return v
}

// Stays tells whether the garment file accepts what is wrong with a walked seam; false
// where nothing is.
func Stays(g *pattern.Garment, w *measure.Walk) bool {
	v := Judge(g, w)
	id := v.graced(v.id(w))
	return id != "" && slices.ContainsFunc(g.Accepted, func(a pattern.Accepted) bool {
		return a.Subject == w.Seam.Name && settles(a, id, v.Amount, seamParts(w, v.Warn))
	})
}

// graced gives the id under which a finding may be accepted: over the limit by no more
// than an accepted one may get worse, it is still near it.
func (v Verdict) graced(id string) string {
	if grade(id) > grade("seam.near") && v.Amount <= v.Limit+AcceptedSlack {
		return "seam.near"
	}
	return id
}

// id is that of the finding which the verdict calls for; empty for none.
func (v Verdict) id(w *measure.Walk) string {
	switch {
	case v.Near:
		return "seam.near"
	case v.OK:
		return ""
	case math.Abs(w.Difference) > v.Limit+slack:
		return "seam.differs"
	}
	return "seam.segment"
}

func judgeWalk(in Input, w *measure.Walk) (diag.Problem, bool) {
	v := Judge(in.Garment, w)
	if v.OK && !v.Near {
		return diag.Problem{}, false
	}
	s := w.Seam
	x := diag.Problem{ID: v.id(w), Severity: diag.Warning, Place: s.Place, Subject: s.Name, Amount: v.Amount, Parts: seamParts(w, v.Warn)}
	limit := v.Warn
	if !v.OK {
		x.Severity, limit = diag.Error, v.Limit
	}
	if math.Abs(w.Difference) > limit+slack {
		x.Found = fmt.Sprintf("seam %s: %s is %s mm %s than %s", s.Name, measure.SideName(s.First),
			over(w.Difference, limit), longer(w.Difference), measure.SideName(s.Second))
	} else {
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
	x.Related = append(sideLines(w, in.Tol), segmentLines(w, limit, in.Tol)...)
	x.Hint = Cure(in.Garment, w, in.Tol)
	return x, true
}

// seamParts are what is off by more than warn of a walk, the whole and each segment, at the
// side that is the longer one there: a difference the other way is another place. A segment
// is named by the station that it begins at, the first one by the start of the seam.
func seamParts(w *measure.Walk, warn float64) []diag.Part {
	var x diag.Problem
	add := func(mm float64, more string) {
		side := w.Seam.First
		if mm < 0 && len(w.Seam.Second) > 0 {
			side = w.Seam.Second
		}
		if math.Abs(mm) > warn+slack && len(side) > 0 {
			x.AddPart(side[0].Piece+"."+side[0].Edge+more, math.Abs(mm))
		}
	}
	add(w.Difference, "")
	for i, s := range w.Segments {
		switch {
		case len(w.Segments) == 1:
		case i == 0 && !w.Agreed[0]:
			add(s.Difference, ".start")
		default:
			add(s.Difference, "."+s.From)
		}
	}
	return x.Parts
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

// sideLines gives both sides with their lengths, each at the middle of the
// segment where they differ most.
func sideLines(w *measure.Walk, tol float64) []diag.Related {
	worst := w.Worst()
	line := func(s measure.Side, i int) diag.Related {
		place := alongSide(s, (worst.Start[i]+worst.End[i])/2, tol)
		place.At, place.OnEdge = 0, false // it is about the whole side
		return diag.Related{Place: place, Text: fmt.Sprintf("%s measures %.2f", measure.SideName(s.Refs), s.Length)}
	}
	return []diag.Related{line(w.First, 0), line(w.Second, 1)}
}

// alongSide gives the place at a distance along a side, mm, with its point.
func alongSide(s measure.Side, dist, tol float64) diag.Place {
	part, at := s.EdgeAt(dist)
	place := part.Piece.Edges[part.Edge].Place
	place.Piece, place.Edge = part.Piece.Name, part.Piece.Edges[part.Edge].Name
	place.At, place.OnEdge = at, true
	q := part.Piece.EdgePath(part.Edge).PointAt(at, tol)
	return place.Point(q.X, q.Y)
}

// segmentLines lists the segments where the difference arises.
func segmentLines(w *measure.Walk, limit, tol float64) []diag.Related {
	if len(w.Segments) < 2 {
		return nil
	}
	var out []diag.Related
	for _, seg := range w.Segments {
		if math.Abs(seg.Difference) < limit/4 {
			continue
		}
		a, b := seg.Lengths()
		place := alongSide(w.First, seg.Start[0], tol)
		out = append(out, diag.Related{Place: place, Text: fmt.Sprintf("%s to %s: %.2f against %.2f, %+.2f", seg.From, seg.To, a, b, seg.Difference)})
	}
	return out
}
