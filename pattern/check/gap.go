package check

import (
	"fmt"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

func gaps(in Input) diag.List {
	g := in.Garment
	var out diag.List
	if g.Body != "" && in.Body == nil {
		return append(out, diag.Problem{
			ID: "body.absent", Severity: diag.Note, Place: g.Place, Subject: g.Body,
			Found:    "no body here: bodies/" + g.Body + ".body is not in this folder, so no gap is predicted",
			Expected: "",
		})
	}
	wanted := map[string][]pattern.Wanted{}
	for _, w := range g.Wanted {
		wanted[w.Closure] = append(wanted[w.Closure], w)
	}
	for _, c := range g.Closures {
		if p := gapOutside(in, &c, wanted[c.Name]); p != nil {
			out = append(out, *p)
		}
	}
	return append(out, pressure(in)...)
}

// gapOutside is the finding about all levels at which a lacing's predicted gap is
// outside the wanted range: the worst one, the others beside it; nil where none is.
// Where the cloth does not go all round, nothing is predicted.
func gapOutside(in Input, c *pattern.Closure, wanted []pattern.Wanted) *diag.Problem {
	g := in.Garment
	var worst *diag.Problem
	var places diag.Problem
	var off []diag.Related
	at := 0
	for _, w := range wanted {
		if len(in.rounds.shortAt(w.Level)) > 0 {
			continue
		}
		gap, ok := measure.GapOf(g, in.Body, c, in.rounds.girthAt(w.Level))
		if !ok {
			continue
		}
		v := gap.Value()
		excess := max(w.Min-v, v-w.Max)
		if excess <= slack {
			continue
		}
		way := ".wide"
		if v < w.Min {
			way = ".narrow"
		}
		places.AddPart(w.Level+way, excess)
		if worst == nil || excess > worst.Amount {
			at = len(off)
			worst = &diag.Problem{
				ID: "gap.outside", Severity: diag.Warning, Place: w.Place, Subject: w.Closure, Amount: excess,
				Found:    fmt.Sprintf("the predicted gap of %s at %s is %.1f mm", w.Closure, w.Level, v),
				Expected: fmt.Sprintf("%g to %g", w.Min, w.Max),
				Hint:     fmt.Sprintf("the girth there is %.1f mm %s than wanted", excess*float64(gap.Lacings), girthWord(v < w.Min)),
			}
		}
		off = append(off, diag.Related{Place: w.Place, Text: fmt.Sprintf("%s %.1f, wanted %g to %g", w.Level, v, w.Min, w.Max)})
	}
	if worst != nil {
		worst.Parts = places.Parts
	}
	if len(off) > 1 {
		more := "more level"
		if len(off) > 2 {
			more += "s"
		}
		worst.Found += fmt.Sprintf(" (and outside at %d %s)", len(off)-1, more)
		worst.Related = slices.Delete(off, at, at+1)
	}
	return worst
}

func girthWord(gapTooSmall bool) string {
	if gapTooSmall {
		return "larger"
	}
	return "smaller"
}

// Press is how a garment presses at a level, as worn and laced shut.
type Press struct {
	Level         string
	AsWorn        float64 // percent of the body; negative: smaller than the body
	LacedShut     float64 // percent; meaningful where the garment is laced
	HasLacing     bool
	SmallerByWorn float64 // mm
}

// Tight tells whether the garment is smaller than the body there, worn or laced shut.
func (p Press) Tight() bool { return min(p.AsWorn, p.LacedShut) < -0.05 }

// Presses gives the percent of the body at each level where the girth of the
// body and that of the garment are known.
func Presses(g *pattern.Garment, b *pattern.Body) []Press {
	return presses(newRounds(g), b)
}

func presses(r *rounds, b *pattern.Body) []Press {
	g := r.garment
	var out []Press
	var lacing *pattern.Closure
	for i := range g.Closures {
		if g.Closures[i].Kind == pattern.Lacing {
			lacing = &g.Closures[i]
			break
		}
	}
	for _, level := range measure.LevelNames(g) {
		body, ok := b.Girth(level)
		if !ok {
			continue
		}
		sum := r.girthAt(level)
		if sum.Why() != "" {
			continue
		}
		p := Press{Level: level, HasLacing: lacing != nil}
		if lacing != nil {
			gap, _ := measure.GapOf(g, b, lacing, sum)
			p.AsWorn, p.LacedShut = gap.AsWorn(), gap.LacedShut()
		} else {
			worn := sum.Worn() - g.Thickness.Or(0)
			p.AsWorn = measure.Percent(worn-body, body)
			p.LacedShut = p.AsWorn
		}
		p.SmallerByWorn = -p.AsWorn / 100 * body
		out = append(out, p)
	}
	return out
}

// Signed prints a percent or an amount with its sign and one decimal; what
// rounds to nothing has no sign.
func Signed(v float64) string {
	s := fmt.Sprintf("%+.1f", v)
	if s == "-0.0" || s == "+0.0" {
		return "0.0"
	}
	return s
}

// pressure notes the strongest compression, with the caution.
func pressure(in Input) diag.List {
	var worst *Press
	for _, p := range presses(in.rounds, in.Body) {
		if len(in.rounds.shortAt(p.Level)) > 0 {
			continue // the sum is no girth
		}
		if p.Tight() && (worst == nil || min(p.AsWorn, p.LacedShut) < min(worst.AsWorn, worst.LacedShut)) {
			worst = &p
		}
	}
	if worst == nil {
		return nil
	}
	found := fmt.Sprintf("at %s the garment is worn %s %% against the body", worst.Level, Signed(worst.AsWorn))
	if worst.HasLacing {
		found += fmt.Sprintf(", laced shut %s %%", Signed(worst.LacedShut))
	}
	return diag.List{{
		ID: "girth.presses", Severity: diag.Note, Place: in.Garment.Place, Subject: worst.Level,
		Amount: -min(worst.AsWorn, worst.LacedShut), Found: found, Hint: Caution,
	}}
}
