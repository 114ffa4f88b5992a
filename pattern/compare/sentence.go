package compare

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern/curve"
)

// Seen is the smallest change, in mm, that sentences tell of a width, a girth
// or a gap.
const Seen = 0.05

// Sentences tell what changed in the trade's words, most important first: what
// is wrong with either version, the edges that moved, the pieces that came and
// went, then girth, gap and seams.
func (c *Change) Sentences() []string {
	var out []string
	for _, f := range c.Faults {
		out = append(out, f.Sentence())
	}
	switch {
	case !c.Any() && len(out) > 0:
		return append(out, "nothing else changed")
	case !c.Any():
		return append(out, "nothing changed")
	case c.Before == nil && c.unread(false) || c.After == nil && c.unread(true):
		return append(out, fmt.Sprintf("nothing to compare %s with", count(len(c.Pieces), "piece")))
	case c.Before == nil:
		return append(out, fmt.Sprintf("the first version: %s", count(len(c.Pieces), "piece")))
	case c.After == nil:
		return append(out, fmt.Sprintf("the later version has no pattern: %s removed", count(len(c.Pieces), "piece")))
	}
	out = append(out, c.pieceSentences()...)
	if s := c.lonelyWidth(); s != "" {
		out = append(out, s)
	}
	if s := deltas(c.Girths); s != "" {
		out = append(out, "girth "+s)
	} else if known(c.Girths) {
		out = append(out, "girth unchanged")
	}
	for _, g := range c.Gaps {
		if s := arrows(g.Levels); s != "" {
			out = append(out, "gap "+g.Closure+" "+s)
		}
	}
	for _, s := range c.Seams {
		if text := s.Sentence(); text != "" {
			out = append(out, text)
		}
	}
	if len(c.Records) > 0 {
		out = append(out, "recorded: "+strings.Join(grouped(c.Records), ", "))
	}
	return out
}

func (c *Change) pieceSentences() []string {
	if c.first() {
		names := make([]string, len(c.Pieces))
		for i, p := range c.Pieces {
			names[i] = p.Name
		}
		return []string{"the first pieces: " + strings.Join(names, ", ")}
	}
	var out []string
	quiet := 0
	for _, p := range c.Pieces {
		if p.Status == Unchanged {
			quiet++
			continue
		}
		out = append(out, p.Sentence())
	}
	switch {
	case len(out) == 0:
		out = append(out, "no piece changed")
	case quiet > 0:
		out = append(out, "no other piece changed")
	}
	return out
}

// Sentence tells what became of the piece: "side-back: back let out 14.0 at
// bust, 6.0 at waist".
func (p PieceChange) Sentence() string {
	switch p.Status {
	case Added:
		return p.Name + " added"
	case Removed:
		return p.Name + " removed"
	case Split:
		return p.Name + " split off " + strings.Join(p.Was, ", ")
	case Joined:
		return p.Name + " joined from " + strings.Join(p.Was, " and ")
	}
	var parts []string
	if len(p.Was) > 0 {
		parts = append(parts, "was "+strings.Join(p.Was, ", "))
	}
	if p.Fit != (curve.Rigid{}) {
		text := fmt.Sprintf("moved as a whole by %.1f", p.Shift)
		if turn := p.Fit.Angle * 180 / math.Pi; math.Abs(turn) >= 0.05 {
			text += fmt.Sprintf(", turned %.1f degrees", math.Abs(turn))
		}
		parts = append(parts, text)
	}
	parts = append(parts, p.edgeWords()...)
	parts = append(parts, grouped(p.Records)...)
	return p.Name + ": " + strings.Join(parts, "; ")
}

// Sentence tells how far a seam was off and is; "" where that did not change,
// and for a seam that is new or gone and matched.
func (s SeamChange) Sentence() string {
	before, after := s.Difference.Before, s.Difference.After
	switch {
	case before.Set && after.Set && s.Difference.Differs(Seen):
		return fmt.Sprintf("seam %s %s -> %s", s.Name, off(before.Value), off(after.Value))
	case !before.Set && after.Set && math.Abs(after.Value) >= Seen:
		return fmt.Sprintf("seam %s, new, %s", s.Name, off(after.Value))
	}
	return ""
}

func off(mm float64) string {
	if math.Abs(mm) < 0.005 {
		return "matching"
	}
	return fmt.Sprintf("off by %+.2f", mm)
}

// known tells whether there are figures, each of them before and after.
func known(levels []AtLevel) bool {
	for _, l := range levels {
		if _, ok := l.Delta(); !ok {
			return false
		}
	}
	return len(levels) > 0
}

func deltas(levels []AtLevel) string {
	var amounts, names []string
	for _, l := range levels {
		if d, ok := l.Delta(); ok && math.Abs(d) >= Seen {
			amounts, names = append(amounts, fmt.Sprintf("%+.1f", d)), append(names, l.Level)
		}
	}
	return strings.Join(eachLevel(amounts, names, len(levels)), ", ")
}

// eachLevel gives "4.0 at bust" and so on; one phrase where the amount is the
// same at each of three levels or more, and there are no others.
func eachLevel(amounts, levels []string, of int) []string {
	same := len(amounts) == of && of >= 3
	var parts []string
	for i := range amounts {
		same = same && amounts[i] == amounts[0]
		parts = append(parts, amounts[i]+" at "+levels[i])
	}
	if same {
		return []string{amounts[0] + " at every level"}
	}
	return parts
}

func arrows(levels []AtLevel) string {
	var parts []string
	for _, l := range levels {
		if l.Differs(Seen) && l.Before.Set && l.After.Set {
			parts = append(parts, fmt.Sprintf("%.1f -> %.1f at %s", l.Before.Value, l.After.Value, l.Level))
		}
	}
	return strings.Join(parts, ", ")
}

// grouped puts several records of one kind that share a fate into one: "6
// notches added".
func grouped(records []string) []string {
	type key struct{ kind, fate string }
	counts := map[key]int{}
	keyOf := func(r string) (key, bool) {
		words := strings.Fields(r)
		if len(words) < 3 {
			return key{}, false
		}
		k := key{words[0], words[len(words)-1]}
		if words[0] == "wanted" {
			k.kind = "wanted gap"
		}
		if words[0] == "settings" {
			k.kind = "piece"
		}
		if k.fate == "now" && words[len(words)-3] == "called" {
			k.fate = "renamed"
			return k, true
		}
		return k, k.fate == "added" || k.fate == "lost" || k.fate == "changed"
	}
	for _, r := range records {
		if k, ok := keyOf(r); ok {
			counts[k]++
		}
	}
	var out []string
	told := map[key]bool{}
	for _, r := range records {
		k, ok := keyOf(r)
		switch {
		case !ok || counts[k] < 3:
			out = append(out, r)
		case !told[k]:
			told[k] = true
			text := count(counts[k], k.kind) + " " + k.fate
			if k.kind == "piece" {
				text = "settings of " + text
			}
			out = append(out, text)
		}
	}
	return out
}

// count says how many of a kind.
func count(n int, kind string) string {
	if n == 1 {
		return "1 " + kind
	}
	switch kind {
	case "notch":
		kind = "notches"
	case "calibrate":
		kind = "calibrations"
	case "reduce":
		kind = "reductions"
	case "buttons", "eyelets", "hooks", "cords":
	default:
		kind += "s"
	}
	return fmt.Sprintf("%d %s", n, kind)
}
