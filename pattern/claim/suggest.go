package claim

import (
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/measure"
)

// Suggest gives the measured changes as claims that are true: what changed of
// girth, gap, seams and closures, what of girth and gap stayed, and which pieces
// alone changed. They are few: one claim for all levels where these changed
// alike, and nothing that follows from another claim. A change under half the
// tolerance counts as none. A first version, and a last one, have no claims.
func Suggest(c *compare.Change) []Claim {
	if c == nil || c.Before == nil || c.After == nil || !c.Any() {
		return nil
	}
	b := newBench(c)
	out := b.suggest(measure.Measure{Kind: "girth"})
	movable := moves(out) || len(c.Records) > 0 // something that a gap depends on changed
	for _, g := range c.Gaps {
		m := measure.Measure{Kind: "gap", Closure: g.Closure}
		figures := b.gaps(m)
		gap := b.claims(m, figures)
		if moves(gap) && !b.follows(b.atLevels(figures)) || !moves(gap) && movable {
			out = append(out, gap...)
		}
	}
	for _, s := range c.Seams {
		out = append(out, b.changed(measure.Measure{Kind: "seam", Seam: s.Name})...)
	}
	for _, x := range c.After.Closures {
		for _, kind := range []string{"overlap", "pitch", "count"} {
			out = append(out, b.changed(measure.Measure{Kind: kind, Closure: x.Name})...)
		}
	}
	return append(inOrder(out), onlyOf(c)...)
}

// moves tells whether any of the claims is a change.
func moves(claims []Claim) bool {
	return slices.ContainsFunc(claims, func(c Claim) bool { return c.Kind == Changes })
}

// inOrder puts what changes before what stays, as a note reads.
func inOrder(claims []Claim) []Claim {
	var out []Claim
	for _, kind := range []Kind{Changes, Keeps} {
		for _, c := range claims {
			if c.Kind == kind {
				out = append(out, c)
			}
		}
	}
	return out
}

// suggest claims a measure that has levels: one claim where all levels changed
// alike or not at all, else one a level.
func (b bench) suggest(m measure.Measure) []Claim { return b.claims(m, b.figures(m)) }

func (b bench) claims(m measure.Measure, figures []figure) []Claim {
	told, _ := tellable(Claim{Kind: Keeps, Measure: m}, figures)
	alike, complete := true, true
	var each []Claim
	for _, f := range told {
		if !f.known() {
			complete = false
			continue
		}
		at := m
		at.Level = f.level
		c := f.claim(at)
		alike = alike && (len(each) == 0 || c.Kind == each[0].Kind && math.Abs(c.By.Value-each[0].By.Value) < 0.15)
		each = append(each, c)
	}
	if len(each) > 0 && alike && complete {
		each = each[:1]
		each[0].Measure.Level = ""
	}
	return each
}

// claim says what became of a figure.
func (f figure) claim(m measure.Measure) Claim {
	if math.Abs(f.delta()) < DefaultTolerance(m.Kind)/2 {
		return Claim{Kind: Keeps, Measure: m}
	}
	return Claim{Kind: Changes, Measure: m, By: pattern.Some(rounded(f.delta(), 1))}
}

// changed claims a measure without levels that changed; both sides of a seam
// must have done so alike.
func (b bench) changed(m measure.Measure) []Claim {
	var first Claim
	for i, f := range b.figures(m) {
		if !f.known() || f.delta() == 0 {
			return nil
		}
		c := f.claim(m)
		switch {
		case c.Kind != Changes:
			return nil
		case i == 0:
			first = c
		case math.Abs(f.delta()-first.By.Value) > first.Tolerance():
			return nil
		}
	}
	switch m.Kind {
	case "pitch", "count": // one says how many and how far apart, not by how much
		first.To, first.By = pattern.Some(rounded(b.figures(m)[0].after.value, 3)), pattern.Opt{}
	}
	return []Claim{first}
}

// follows tells whether a gap changed at every level as the girth at rest says,
// so that a claim on it adds nothing.
func (b bench) follows(gaps []compare.AtLevel) bool {
	lacings := float64(lacings(b.after))
	girths := map[string]float64{}
	for _, l := range b.change.Girths {
		if d, ok := l.Delta(); ok {
			girths[l.Level] = d
		}
	}
	for _, l := range gaps {
		d, ok := l.Delta()
		girth, known := girths[l.Level]
		if !ok || !known || lacings == 0 || math.Abs(d+girth/lacings) >= DefaultTolerance("gap")/2 {
			return false
		}
	}
	return true
}

// onlyOf names all that changed.
func onlyOf(c *compare.Change) []Claim {
	only := Claim{Kind: Only}
	for _, p := range c.ChangedPieces() {
		only.Pieces = append(only.Pieces, p.Name)
	}
	if garmentChanged(c) {
		only.Pieces = append(only.Pieces, Garment)
	}
	if len(only.Pieces) == 0 {
		return nil
	}
	return []Claim{only}
}
