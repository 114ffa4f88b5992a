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

// Unclaimed tells what changed of the girth, the gaps, the pieces and the garment
// file and that no claim names: one warning, with the lines that would claim it
// all. Less than the tolerance of a claim needs none. What follows from a Changes
// claim is named with it: the girth with the gap or the worn girth, and the gap with
// them as far as it follows the girth. Gaps are told without the measures of the body
// too, so that a note says the same where these are and where they are not. An Only
// claim speaks of all pieces and of the garment file. A claim
// with a tolerance that lets anything pass names nothing, and neither does one that
// cannot be told: leave those out. A first or a last version has no claims.
func Unclaimed(c *compare.Change, claims []Claim) diag.List {
	if c == nil || c.Before == nil || c.After == nil {
		return nil
	}
	claims = slices.DeleteFunc(slices.Clone(claims), Claim.loose)
	var u unclaimed
	u.figures(c, claims)
	u.parts(c, c, claims)
	return u.list(c)
}

// UnclaimedOf is Unclaimed for part of a change: its pieces and its records of the
// garment file, and the figures of the whole where they are asked for. The lines that
// would claim it speak of the whole, against which claims are measured.
func UnclaimedOf(part, whole *compare.Change, figures bool, claims []Claim) diag.List {
	if whole.Before == nil || whole.After == nil {
		return nil
	}
	claims = slices.DeleteFunc(slices.Clone(claims), Claim.loose)
	var u unclaimed
	if figures {
		u.figures(whole, claims)
	}
	u.parts(part, whole, claims)
	return u.list(whole)
}

// figures adds the girths and the gaps.
func (u *unclaimed) figures(c *compare.Change, claims []Claim) {
	b := newBench(c)
	girths := b.atLevels(b.figures(measure.Measure{Kind: "girth"}))
	u.figure(measure.Measure{Kind: "girth"}, unnamed(girths, "girth", "", claims), len(girths), false)
	for _, x := range c.After.Closures {
		m := measure.Measure{Kind: "gap", Closure: x.Name}
		if x.Kind != pattern.Lacing || !lacing(c.Before, x.Name) || lacings(c.Before) != lacings(c.After) {
			continue
		}
		levels := b.atLevels(b.gaps(m))
		at := slices.DeleteFunc(unnamed(levels, "gap", x.Name, claims), func(l compare.AtLevel) bool {
			return b.fromGirth(l, girths) // a claim on the girth, true or not, names it too
		})
		u.figure(m, at, len(levels), c.Body == nil)
	}
}

// fromGirth tells whether the girth at rest changed where a gap did, and by what
// explains it: cloth gives and stretches no more than the garment file says.
func (b bench) fromGirth(gap compare.AtLevel, girths []compare.AtLevel) bool {
	most := 0.0
	for _, g := range []*pattern.Garment{b.before, b.after} {
		most = max(most, g.Give.Or(0))
		for _, o := range g.Options {
			most = max(most, o.Stretch.Or(0))
		}
	}
	for _, l := range girths {
		girth, ok := l.Delta()
		if !ok || l.Level != gap.Level || math.Abs(girth) <= DefaultTolerance("girth")+slack {
			continue
		}
		room, _ := gap.Delta()
		taken := -room * float64(lacings(b.after))
		near, far := girth, girth*(1+most/100)
		tol := DefaultTolerance("gap")
		return taken > min(near, far)-tol && taken < max(near, far)+tol
	}
	return false
}

// unclaimed gathers what no claim names.
type unclaimed struct {
	names   []string // a word or two for each
	found   []string // the same with the figures
	lines   []string // of the claims that would name it
	related []diag.Related
}

func (u *unclaimed) list(c *compare.Change) diag.List {
	if len(u.names) == 0 {
		return nil
	}
	place := diag.Place{Garment: c.After.Name}
	if len(u.names) == 1 && len(u.related) == 1 {
		place.Piece = u.names[0]
	}
	return diag.List{{
		ID: UnclaimedID, Severity: diag.Warning, Place: place, Subject: strings.Join(u.names, ", "), Related: u.related,
		Found:    "no claim names what changed: " + strings.Join(u.found, "; "),
		Expected: "expected each of it in a claim", Hint: "add to the note what you meant, as it was measured:\n" + strings.Join(u.lines, "\n"),
	}}
}

// parts adds the pieces and the garment file, of part of a change.
func (u *unclaimed) parts(c, whole *compare.Change, claims []Claim) {
	if slices.ContainsFunc(claims, func(c Claim) bool { return c.Kind == Only }) {
		return
	}
	before := len(u.names)
	named := namedPieces(c, claims)
	for _, p := range c.ChangedPieces() {
		if !covers(named, p) {
			u.names, u.found = append(u.names, p.Name), append(u.found, p.Name+" "+fate(p))
			u.related = append(u.related, diag.Related{Place: diag.Place{Garment: c.After.Name, Piece: p.Name}, Text: strings.TrimPrefix(p.Sentence(), p.Name+": ")})
		}
	}
	if list := unnamedRecords(c, claims); len(list) > 0 {
		u.names, u.found = append(u.names, Garment), append(u.found, records(list))
	}
	if len(u.names) > before {
		for _, only := range onlyOf(whole) {
			u.lines = append(u.lines, only.Line())
		}
	}
}

// unnamedRecords tells, in words, what changed in the garment file that no claim
// names.
func unnamedRecords(c *compare.Change, claims []Claim) []string {
	var out []string
	for _, e := range c.Edits {
		if e.Piece != "" || e.Words() == "" {
			continue
		}
		if !slices.ContainsFunc(claims, func(x Claim) bool { return x.records(e) }) {
			out = append(out, e.Words())
		}
	}
	return out
}

// records tells whether a claim is on the very figure that a record gives. What else
// the garment file says, only an Only names.
func (c Claim) records(e compare.Edit) bool {
	if c.Kind != Changes {
		return false
	}
	switch e.Kind {
	case "closure":
		return c.Measure.Kind == "overlap" && c.Measure.Closure == e.Name && strings.HasPrefix(e.Words(), "overlap ")
	case "buttons", "eyelets", "hooks":
		return (c.Measure.Kind == "pitch" || c.Measure.Kind == "count") && c.Measure.Closure == e.Name && !resized(e)
	case "reduce", "thickness":
		return c.Measure.Kind == "gap"
	case "give", "cords":
		return c.Measure.Kind == "gap" || c.Measure.Kind == "worn" || c.Measure.Kind == "girth"
	case "wanted gap": // what is aimed at, beside a gap that changes
		return c.Measure.Kind == "gap" && strings.HasPrefix(e.Name, c.Measure.Closure+" at ")
	}
	return false
}

// loose tells whether the note gives the claim a tolerance with which it says next to
// nothing: more than five times what is usual.
func (c Claim) loose() bool {
	return c.Kind != Only && c.Within.Set && c.Within.Value > 5*max(DefaultTolerance(c.Measure.Kind), 0.1)
}

// atLevels gives figures at every level of either version at which both are known; a
// level that only one of them records is measured on the other at the same height.
func (b bench) atLevels(figures []figure) []compare.AtLevel {
	var out []compare.AtLevel
	for _, f := range figures {
		if f.known() {
			out = append(out, compare.AtLevel{Level: f.level, Pair: compare.Pair{Before: pattern.Some(f.before.value), After: pattern.Some(f.after.value)}})
		}
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
	return c.Kind == Changes && (m.Kind == "worn" || kind != "gap" && (m.Kind == "girth" || m.Kind == "gap"))
}

// fate says in a word or two what became of a piece.
func fate(p compare.PieceChange) string {
	switch p.Status {
	case compare.Added, compare.Removed, compare.Moved:
		return "was " + string(p.Status)
	}
	return "changed"
}

// figure adds a figure at the levels where it changed, of so many; of a relative one
// only the change means something.
func (u *unclaimed) figure(m measure.Measure, at []compare.AtLevel, of int, relative bool) {
	if len(at) == 0 {
		return
	}
	found, lines := make([]string, len(at)), make([]string, len(at))
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
		if relative {
			found[i] = fmt.Sprintf("%+.1f at %s", last, l.Level)
		}
		lines[i] = line(l.Level, last)
		amounts[signed(rounded(last, 1))] = true
	}
	if len(amounts) == 1 && len(at) == of && of > 1 {
		found, lines = []string{fmt.Sprintf("%+.1f at every level", last)}, []string{line("", last)}
	}
	u.names, u.found, u.lines = append(u.names, m.String()), append(u.found, m.String()+" "+strings.Join(found, ", ")), append(u.lines, lines...)
}

// namedPieces lists the pieces that claims say something changes of, those of seams
// and of runs at seams too. What a claim keeps says of no piece that it changed.
func namedPieces(c *compare.Change, claims []Claim) []string {
	b := bench{change: c, before: c.Before, after: c.After}
	seams := map[string]bool{}
	var out []string
	for _, claim := range claims {
		m := claim.Measure
		if claim.Kind != Changes {
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

// resized tells whether buttons or eyelets that were recorded before became larger,
// smaller or thicker, which no pitch and no count tells.
func resized(e compare.Edit) bool {
	before, was := e.Before.(pattern.Fastening)
	after, is := e.After.(pattern.Fastening)
	return was && is && (before.Diameter != after.Diameter || before.Thickness != after.Thickness)
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
