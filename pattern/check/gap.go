package check

import (
	"fmt"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Caution stands beside every figure of compression that the tool shows.
const Caution = "Pattern arithmetic only, no medical advice. Girth smaller than the body presses: " +
	"little and slowly; stop at pain, numbness, tingling, short breath or dizziness; ask a clinician " +
	"first in pregnancy, after surgery, with heart, lung, gut or nerve illness; no child is " +
	"compressed; somebody must be able to unlace it fast."

// ElasticCaution stands beside every figure of stretch that the tool shows.
const ElasticCaution = "Elastic ages: date it, test its recovery before use, never count on its maximum. " +
	"Anyone who moves hard in it tries the full range unloaded and low first."

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
	for _, w := range g.Wanted {
		c := g.Closure(w.Closure)
		if c == nil {
			continue
		}
		gap, ok := measure.GapAt(g, in.Body, c, w.Level)
		if !ok {
			continue
		}
		if v := gap.Value(); v < w.Min-slack || v > w.Max+slack {
			out = append(out, diag.Problem{
				ID: "gap.outside", Severity: diag.Warning, Place: w.Place, Subject: w.Closure,
				Amount:   max(w.Min-v, v-w.Max),
				Found:    fmt.Sprintf("the predicted gap of %s at %s is %.1f mm", w.Closure, w.Level, v),
				Expected: fmt.Sprintf("%g to %g", w.Min, w.Max),
				Hint:     fmt.Sprintf("the girth there is %.1f mm %s than wanted", max(w.Min-v, v-w.Max)*float64(gap.Lacings), girthWord(v < w.Min)),
			})
		}
	}
	return append(out, pressure(in)...)
}

// around warns of each piece that goes round the body and lacks a level: girth,
// gap and compression cannot be told there.
func around(in Input) diag.List {
	g := in.Garment
	var out diag.List
	for _, m := range g.Around {
		p := g.Piece(m.Name)
		if p == nil {
			continue // the reader has said so
		}
		var lacks []string
		for _, level := range measure.LevelNames(g) {
			if _, ok := g.LevelOn(p, level); !ok {
				lacks = append(lacks, level)
			}
		}
		if len(lacks) == 0 {
			continue
		}
		x := pieceProblem("around.no-level", p, p.Place, "")
		x.Severity, x.Amount = diag.Warning, float64(len(lacks))
		x.Found = fmt.Sprintf("piece %s goes round the body but has no level %s, so girth and gap there are not known", p.Name, strings.Join(lacks, ", "))
		x.Expected = "every level of the garment on a piece of around"
		x.Hint = fmt.Sprintf("give it the level in its file: level %s Y, also where it ends below or above it; or bring it in again with --waist; or take it out of around", lacks[0])
		out = append(out, x)
	}
	return out
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

// Presses gives the percent of the body at each level where the girth of the
// body and that of the garment are known.
func Presses(g *pattern.Garment, b *pattern.Body) []Press {
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
		sum := measure.GirthAt(g, level)
		if sum.Why() != "" {
			continue
		}
		p := Press{Level: level, HasLacing: lacing != nil}
		if lacing != nil {
			gap, _ := measure.GapAt(g, b, lacing, level)
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
	for _, p := range Presses(in.Garment, in.Body) {
		if min(p.AsWorn, p.LacedShut) < -0.05 && (worst == nil || min(p.AsWorn, p.LacedShut) < min(worst.AsWorn, worst.LacedShut)) {
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
