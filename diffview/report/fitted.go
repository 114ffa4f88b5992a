package report

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// Fitted writes what a fitting showed: the gap at each level as it was predicted and
// observed, then what was pinned, tried and said.
func (t *Text) Fitted(f *pattern.Fitting) {
	head := "fitting " + f.Name
	if f.Date != "" {
		head += ", " + f.Date
	}
	if f.Version != "" {
		head += ", cut from " + f.Version
	}
	if f.Body != "" {
		head += ", on " + f.Body
	}
	t.Para(head, "  ")
	t.fittedGaps(f)
	for _, p := range f.Pinned {
		word := "pinned out"
		if p.Amount < 0 {
			word = "wanting"
		}
		t.Para(fmt.Sprintf("%s at %s: %s %.1f", p.Seam, p.Level, word, math.Abs(p.Amount)), "  ")
	}
	for _, v := range f.Moved {
		t.Para(v.Of+": "+string(v.How), "  ")
	}
	for _, v := range f.Verdicts {
		t.Para(v.Of+": "+string(v.How), "  ")
	}
	for _, n := range f.Notes {
		t.Para(n.Text, "  ")
	}
}

func (t *Text) fittedGaps(f *pattern.Fitting) {
	var names []string
	for _, g := range f.Gaps {
		names = append(names, "  "+g.Level, "gap "+g.Closure)
	}
	col := min(widest(12, names), max(12, t.width()-44))
	closure := ""
	for _, g := range f.Gaps {
		if g.Closure != closure {
			closure = g.Closure
			t.row("", 0, "gap "+closure, col, fmt.Sprintf(" %10s %10s %10s", "predicted", "observed", "difference"), "")
		}
		difference := g.Difference()
		last := ""
		if difference.Set {
			last = signed(difference.Value, 1)
		}
		t.row("  ", 2, g.Level, col-2, fmt.Sprintf(" %10s %10s %10s", gapFigure(g.Predicted), gapFigure(g.Observed), last), "")
	}
}

func gapFigure(o pattern.Opt) string {
	if !o.Set {
		return "-"
	}
	return fmt.Sprintf("%.1f", o.Value)
}

// PrintScale says what a check square that is not 100 mm does to a girth: the mock-up
// is wrong by (f - 1) G. Nothing where it is within 0.1 mm both ways, or where no girth
// is known.
func PrintScale(f *pattern.Fitting, g *pattern.Garment) string {
	if f.Square == nil || math.Abs(f.Square.Across-100) < 0.1 && math.Abs(f.Square.Along-100) < 0.1 {
		return ""
	}
	words := fmt.Sprintf("the print is %s %% across and %s %% along", trimmed(f.Square.Across), trimmed(f.Square.Along))
	var parts []string
	for _, level := range measure.LevelNames(g) {
		if sum := measure.GirthAt(g, level); sum.Why() == "" {
			parts = append(parts, fmt.Sprintf("%s %s", level, signed(sum.Rest()*(f.Square.Across/100-1), 1)))
		}
	}
	if len(parts) > 0 {
		words += "; where pieces were laid upright across the sheet the girth is off by: " + strings.Join(parts, ", ")
		if !f.Waits() {
			words += "; the gap by as much the other way, and a calibration would keep that too"
		}
	}
	return words
}
