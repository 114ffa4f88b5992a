package claim

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Unclaimed tells the girth, the gaps and the pieces that changed and that no
// claim names: one warning for the girth, one a lacing, one a piece. Less than
// the tolerance of a claim needs none. What follows from a Changes claim is named
// with it: the gap with the girth or the worn girth, and they with the gap; so a
// note says the same where the measures of the body are and where they are not.
// An Only claim speaks of all pieces. A first or a last version has no claims.
func Unclaimed(c *compare.Change, claims []Claim) diag.List {
	if c == nil || c.Before == nil || c.After == nil {
		return nil
	}
	place := diag.Place{Garment: c.After.Name}
	var out diag.List
	if at := unnamed(c.Girths, "girth", "", claims); len(at) > 0 {
		out = append(out, unclaimed(place, measure.Measure{Kind: "girth"}, at, len(c.Girths)))
	}
	for _, g := range c.Gaps {
		if at := unnamed(g.Levels, "gap", g.Closure, claims); len(at) > 0 {
			out = append(out, unclaimed(place, measure.Measure{Kind: "gap", Closure: g.Closure}, at, len(g.Levels)))
		}
	}
	if len(namedOnly(claims)) > 0 {
		return out
	}
	named := namedPieces(c, claims)
	hint := ""
	for _, only := range onlyOf(c) {
		hint = only.Line()
	}
	for _, p := range c.ChangedPieces() {
		if covers(named, p) {
			continue
		}
		place.Piece = p.Name
		out = append(out, diag.Problem{
			ID: UnclaimedID, Severity: diag.Warning, Place: place, Subject: p.Name,
			Found: p.Name + " " + fate(p) + ", which no claim names", Expected: "expected it in an Only, or in a measure of it", Hint: hint,
			Related: []diag.Related{{Place: place, Text: p.Sentence()}},
		})
	}
	return out
}

// unnamed lists the levels at which a figure changed that no claim names.
func unnamed(levels []compare.AtLevel, kind, closure string, claims []Claim) []compare.AtLevel {
	var out []compare.AtLevel
	for _, l := range levels {
		if d, ok := l.Delta(); !ok || math.Abs(d) <= DefaultTolerance(kind)+slack {
			continue
		}
		if !slices.ContainsFunc(claims, func(c Claim) bool { return c.names(kind, closure, l.Level) }) {
			out = append(out, l)
		}
	}
	return out
}

// names tells whether the claim speaks of a girth or a gap at a level, or of what
// changes it.
func (c Claim) names(kind, closure, level string) bool {
	m := c.Measure
	if c.Kind == Only || m.Level != "" && m.Level != level {
		return false
	}
	if m.Kind == kind && m.Closure == closure {
		return true
	}
	return c.Kind == Changes && (m.Kind == "girth" || m.Kind == "worn" || m.Kind == "gap" && kind != "gap")
}

// fate says in a word or two what became of a piece.
func fate(p compare.PieceChange) string {
	switch p.Status {
	case compare.Added, compare.Removed, compare.Moved:
		return "was " + string(p.Status)
	}
	return "changed"
}

// unclaimed is the problem of a figure at the levels where it changed, of so many.
// The hint has the lines that would claim it.
func unclaimed(place diag.Place, m measure.Measure, at []compare.AtLevel, of int) diag.Problem {
	found, hint := make([]string, len(at)), make([]string, len(at))
	amounts := map[string]bool{}
	line := func(level string, d float64) string {
		m := m
		m.Level = level
		return Claim{Kind: Changes, Measure: m, By: pattern.Some(rounded(d, 1))}.Line()
	}
	last := 0.0
	for i, l := range at {
		last, _ = l.Delta()
		found[i] = fmt.Sprintf("%.1f -> %.1f at %s", l.Before.Value, l.After.Value, l.Level)
		hint[i] = line(l.Level, last)
		amounts[signed(rounded(last, 1))] = true
	}
	if len(amounts) == 1 && len(at) == of && of > 1 {
		found, hint = []string{fmt.Sprintf("%+.1f at every level", last)}, []string{line("", last)}
	}
	return diag.Problem{
		ID: UnclaimedID, Severity: diag.Warning, Place: place, Subject: m.String(),
		Found: m.String() + " " + strings.Join(found, ", ") + ", which no claim names", Expected: "expected a claim on it", Hint: strings.Join(hint, "\n"),
	}
}

// namedPieces lists the pieces that claims on measures speak of, those of seams
// and of runs at seams too.
func namedPieces(c *compare.Change, claims []Claim) []string {
	b := bench{change: c, before: c.Before, after: c.After}
	seams := map[string]bool{}
	var out []string
	for _, claim := range claims {
		m := claim.Measure
		if claim.Kind == Only {
			continue
		}
		if m.Piece != "" {
			out = append(out, m.Piece)
		}
		if m.Seam != "" && !seams[m.Seam] {
			seams[m.Seam] = true
			for _, r := range b.sides(m.Seam) {
				out = append(out, r.Piece)
			}
		}
		out = append(out, closurePieces(c, m)...)
	}
	return out
}

// closurePieces lists the pieces at the edges of the closure of an overlap, a
// pitch or a count.
func closurePieces(c *compare.Change, m measure.Measure) []string {
	if m.Kind == "gap" || m.Closure == "" {
		return nil
	}
	var out []string
	if x := c.After.Closure(m.Closure); x != nil {
		for _, r := range x.Edges {
			out = append(out, r.Piece)
		}
	}
	return out
}
