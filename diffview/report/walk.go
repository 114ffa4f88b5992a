package report

import (
	"fmt"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/measure"
)

// Walks writes how the seams of a garment match. Segments are shown for a seam
// that is off, and for all where detail is set.
func (t *Text) Walks(g *pattern.Garment, walks []*measure.Walk, detail bool) {
	limit, warn := g.SeamTolerance(nil)
	t.Para(fmt.Sprintf("%s: %s walked, in mm; over %g FAILs, over %g is near",
		titleOf(g), Plural(len(walks), "seam"), limit, warn), "  ")
	t.ownTolerances(g, walks)
	t.accepted(g, walks)
	if len(walks) == 0 {
		return
	}
	names := make([]string, len(walks))
	for i, w := range walks {
		names[i] = w.Seam.Name
		if v := check.Judge(g, w); detail || !v.OK || v.Near {
			for _, s := range w.Segments {
				names = append(names, segmentName(s, w))
			}
		}
	}
	col := min(widest(8, names), max(8, t.width()-46))
	t.printf("      %s %9s %9s %7s %11s", pad("seam", col), "first", "second", "ease", "difference")
	for _, w := range walks {
		v := check.Judge(g, w)
		ease := ""
		if w.Ease != 0 {
			ease = fmt.Sprintf("%.1f", w.Ease)
		}
		t.row(t.verdict(v, check.Stays(g, w))+" ", 6, w.Seam.Name, col, fmt.Sprintf(" %9.1f %9.1f %7s %11s", w.First.Length, w.Second.Length, ease, signed(w.Difference, 2)), "")
		if detail || !v.OK || v.Near {
			t.segments(w, col)
		}
	}
}

// ownTolerances lists the seams that are held against another tolerance than the
// garment's.
func (t *Text) ownTolerances(g *pattern.Garment, walks []*measure.Walk) {
	limit, warn := g.SeamTolerance(nil)
	var own []string
	for _, w := range walks {
		if l, n := g.SeamTolerance(w.Seam); l != limit || n != warn {
			own = append(own, fmt.Sprintf("%s %g, near over %g", w.Seam.Name, l, n))
		}
	}
	if len(own) > 0 {
		t.Para("  with a tolerance of its own: "+strings.Join(own, "; "), "    ")
	}
}

// accepted says what the word stays means, where it stands.
func (t *Text) accepted(g *pattern.Garment, walks []*measure.Walk) {
	for _, w := range walks {
		if check.Stays(g, w) {
			t.Para("  a seam that stays is off by as much as the garment file accepts", "    ")
			return
		}
	}
}

func (t *Text) verdict(v check.Verdict, stays bool) string {
	switch {
	case stays:
		return t.paint(yellow, "stays")
	case !v.OK:
		return t.paint(red, "FAIL ")
	case v.Near:
		return t.paint(yellow, "near ")
	}
	return t.paint(green, "ok   ")
}

func (t *Text) segments(w *measure.Walk, col int) {
	t.Para("        "+measure.SideName(w.First.Refs)+" against "+other(w), "          ")
	if len(w.Segments) < 2 && w.Seam.Mirrored {
		return
	}
	for _, s := range w.Segments {
		a, b := s.Lengths()
		ease := ""
		if s.Ease != 0 {
			ease = fmt.Sprintf("%.1f", s.Ease)
		}
		name := short(s.From, w) + " to " + short(s.To, w)
		t.row("", 8, name, col-2, fmt.Sprintf(" %9.1f %9.1f %7s %11s", a, b, ease, signed(s.Difference, 2)), "")
	}
}

func segmentName(s measure.Segment, w *measure.Walk) string {
	return "  " + short(s.From, w) + " to " + short(s.To, w)
}

// short leaves out the piece of a corner that names a segment's end: the line
// above has said it.
func short(end string, w *measure.Walk) string {
	if len(w.First.Parts) == 1 {
		if _, corner, ok := strings.Cut(end, "."); ok {
			return corner
		}
	}
	return end
}

func other(w *measure.Walk) string {
	if w.Seam.Mirrored {
		return "its mirror image"
	}
	return measure.SideName(w.Second.Refs)
}

func titleOf(g *pattern.Garment) string {
	switch {
	case g == nil:
		return "no garment"
	case g.Title == "":
		return g.Name
	}
	return g.Title
}

type jsonSide struct {
	Edges  []string `json:"edges"`
	Length number   `json:"length"`
}

type jsonSegment struct {
	From       string    `json:"from"`
	To         string    `json:"to"`
	Lengths    [2]number `json:"lengths"`
	Ease       number    `json:"ease"`
	Difference number    `json:"difference"`
}

type jsonSeam struct {
	Name       string        `json:"name"`
	Sides      [2]jsonSide   `json:"sides"`
	Ease       number        `json:"ease"`
	Difference number        `json:"difference"`
	Tolerance  number        `json:"tolerance"`
	OK         bool          `json:"ok"`
	Warn       bool          `json:"warn"`
	Accepted   bool          `json:"accepted"`
	Segments   []jsonSegment `json:"segments"`
}

// WalkJSON gives the document of walk --json.
func WalkJSON(g *pattern.Garment, walks []*measure.Walk) any {
	doc := struct {
		Schema  string     `json:"schema"`
		Garment string     `json:"garment"`
		Seams   []jsonSeam `json:"seams"`
	}{"seamkeep.walk/1", g.Name, []jsonSeam{}}
	for _, w := range walks {
		v := check.Judge(g, w)
		s := jsonSeam{
			Name: w.Seam.Name, Sides: [2]jsonSide{sideJSON(w.First), sideJSON(w.Second)},
			Ease: known(w.Ease), Difference: known(w.Difference), Tolerance: known(v.Limit),
			OK: v.OK, Warn: v.Near, Accepted: check.Stays(g, w), Segments: []jsonSegment{},
		}
		for _, seg := range w.Segments {
			a, b := seg.Lengths()
			s.Segments = append(s.Segments, jsonSegment{
				From: seg.From, To: seg.To, Lengths: [2]number{known(a), known(b)},
				Ease: known(seg.Ease), Difference: known(seg.Difference),
			})
		}
		doc.Seams = append(doc.Seams, s)
	}
	return doc
}

func sideJSON(s measure.Side) jsonSide {
	j := jsonSide{Length: known(s.Length), Edges: []string{}}
	for _, r := range s.Refs {
		j.Edges = append(j.Edges, r.String())
	}
	return j
}
