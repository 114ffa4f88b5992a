package claim

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
)

// Judge measures every claim, in order. A measure without a level is judged at
// every level where it can be told in either version. A claim that cannot be
// measured is never OK. Several Only claims count as one with all their pieces.
func Judge(c *compare.Change, claims []Claim) []Result {
	if c == nil {
		return nil
	}
	b := newBench(c)
	named := namedOnly(claims)
	out := make([]Result, len(claims))
	for i, claim := range claims {
		if claim.Kind == Only {
			out[i] = b.judgeOnly(claim, named)
		} else {
			out[i] = b.judge(claim)
		}
	}
	return out
}

// judge measures a claim on a measure.
func (b bench) judge(c Claim) Result {
	r := Result{Claim: c, Claimed: c.claimed()}
	figures := b.figures(c.Measure)
	if b.lacksBody(c) && !c.To.Set && lacings(b.before) == lacings(b.after) {
		figures = b.withoutBody(c.Measure)
	}
	told, notes := tellable(c, figures)
	if r.Unknown = b.untold(c, figures, told); r.Unknown != "" {
		r.NoBody = b.lacksBody(c)
		r.Measured = "cannot be told: " + r.Unknown
		return r
	}
	var wrong []figure
	for _, f := range told {
		if math.Abs(f.off(c)) > c.Tolerance()+slack {
			wrong = append(wrong, f)
		}
	}
	r.OK, r.Notes, r.Measured = len(wrong) == 0, notes, c.measured(told)
	if !r.OK {
		r.Where = b.where(c, wrong)
	}
	return r
}

// untold says why the claim cannot be judged; "" where it can.
func (b bench) untold(c Claim, figures, told []figure) string {
	switch {
	case b.after == nil:
		return "there is no later version"
	case b.before == nil && !c.To.Set:
		return "there is no earlier version"
	case len(figures) == 0:
		return "there is no level to measure at"
	case len(told) == 0:
		return figures[0].named(c) + ": " + figures[0].whyNot()
	}
	for _, f := range told {
		if f.after.why != "" || f.before.why != "" && !c.To.Set {
			return f.named(c) + ": " + f.whyNot()
		}
	}
	return ""
}

// lacksBody tells whether nothing but the measures of a body is wanting to judge a
// claim.
func (b bench) lacksBody(c Claim) bool {
	return b.change.Body == nil && c.Measure.Kind == "gap" && lacing(b.after, c.Measure.Closure) && (c.To.Set || lacing(b.before, c.Measure.Closure))
}

// lacing tells whether a closure is one, so that only a body is wanting to tell
// its gap.
func lacing(g *pattern.Garment, closure string) bool {
	if g == nil {
		return false
	}
	c := g.Closure(closure)
	return c != nil && c.Kind == pattern.Lacing
}

// tellable leaves out, with a note, the levels of a claim on every level at which
// neither version has a figure: nothing can have changed there.
func tellable(c Claim, figures []figure) (told []figure, notes []string) {
	if !perLevel(c.Measure.Kind) || c.Measure.Level != "" {
		return figures, nil
	}
	for _, f := range figures {
		if f.before.why == "" || f.after.why == "" {
			told = append(told, f)
			continue
		}
		notes = append(notes, "not measured at "+f.level+": "+f.whyNot())
	}
	if len(told) == 0 {
		notes = nil
	}
	return told, notes
}

// whyNot says why the figure is not known in both versions.
func (f figure) whyNot() string {
	if f.before.why == "" || f.before.why == f.after.why {
		return f.after.why
	}
	if f.after.why == "" {
		return f.before.why
	}
	return f.before.why + "; " + f.after.why
}

// named names the figure in words.
func (f figure) named(c Claim) string {
	if f.level != "" {
		c.Measure.Level = f.level
	}
	if f.of != "" {
		return c.inWords() + ", " + f.of
	}
	return c.inWords()
}

// off is how far the figure lies from what the claim says.
func (f figure) off(c Claim) float64 {
	if c.To.Set {
		return f.after.value - c.To.Value
	}
	return f.delta() - c.By.Value
}

// measured tells all figures: "girth at bust 847.0 -> 875.0, +28.0; at waist
// 701.0, unchanged".
func (c Claim) measured(figures []figure) string {
	start := c.inWords()
	if perLevel(c.Measure.Kind) {
		m := c.Measure
		m.Level = ""
		start = m.String()
	}
	parts := make([]string, len(figures))
	for i, f := range figures {
		label := f.of
		if f.level != "" {
			label = "at " + f.level
		}
		parts[i] = strings.TrimPrefix(label+" "+f.told(c), " ")
	}
	if len(figures) > 0 && figures[0].of != "" {
		start += ":"
	}
	return start + " " + strings.Join(parts, "; ")
}

// told gives the numbers before and after, with so many decimals that an untrue
// claim shows.
func (f figure) told(c Claim) string {
	digits := decimals(c.Measure.Kind)
	if off := math.Abs(f.off(c)); off > c.Tolerance()+slack {
		for digits < 3 && rounded(off, digits) <= c.Tolerance() {
			digits++
		}
	}
	write := func(v float64) string {
		s := strconv.FormatFloat(v, 'f', digits, 64)
		if strings.Trim(s, "-0.") == "" {
			s = strings.TrimPrefix(s, "-")
		}
		return s
	}
	d := write(f.delta())
	if d[0] != '-' {
		d = "+" + d
	}
	same := math.Abs(f.delta()) < 0.5*math.Pow10(-digits)
	switch {
	case f.relative && same:
		return "unchanged"
	case f.relative:
		return d
	case !f.known():
		return write(f.after.value)
	case same:
		return write(f.after.value) + ", unchanged"
	}
	return fmt.Sprintf("%s -> %s, %s", write(f.before.value), write(f.after.value), d)
}

func rounded(v float64, digits int) float64 {
	p := math.Pow10(digits)
	return math.Round(v*p) / p
}

// decimals are those that a figure of a kind is told with.
func decimals(measureKind string) int {
	switch measureKind {
	case "area", "count":
		return 0
	case "girth", "worn", "gap", "width", "overlap":
		return 1
	}
	return 2
}

// Problem gives what is wrong with the claim at its place in the message: an
// error, or a warning where nothing but the measures of a body is wanting. ok is
// false for a claim that is true.
func (r Result) Problem() (p diag.Problem, ok bool) {
	if r.OK {
		return diag.Problem{}, false
	}
	p = diag.Problem{
		ID: Untrue, Severity: diag.Error, Place: r.Claim.Place,
		Found: "measured " + r.Measured, Expected: "claimed " + r.Claimed, Hint: strings.Join(r.Where, "\n"),
	}
	if r.Unknown != "" {
		p.ID, p.Found = Untold, "this claim cannot be told: "+r.Unknown
		if r.NoBody {
			p.Severity = diag.Warning
		}
	}
	return p, true
}

// namedOnly lists the pieces of all Only claims.
func namedOnly(claims []Claim) []string {
	var out []string
	for _, c := range claims {
		if c.Kind != Only {
			continue
		}
		for _, p := range c.Pieces {
			if !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}
