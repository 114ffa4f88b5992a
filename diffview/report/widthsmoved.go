package report

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/measure"
)

// flow is what width left which pieces and arrived at which at a level, in mm as
// drawn: on each half of a half garment.
type flow struct {
	level    string
	from, to []share
	overlap  float64 // by how much the overlap grew, on each half
}

type share struct {
	piece  string
	amount float64 // mm at rest, over 0
	worn   float64 // mm with the stretch in use, where it has one; else 0
}

// balance is what arrived beyond what left.
func (f flow) balance() float64 { return total(f.to) - total(f.from) }

func total(list []share) float64 {
	sum := 0.0
	for _, s := range list {
		sum += s.amount
	}
	return sum
}

// flowsOf compares the pieces that go round the body, level by level. It tells
// nothing where one of the versions is absent, and of a level where some width is
// unknown. A piece that came, went, or goes round in one version only counts as 0
// in the other. Changes under compare.Seen are not told.
func flowsOf(w *widths) []flow {
	if w.versions[0] == nil || w.versions[1] == nil {
		return nil
	}
	var out []flow
	for i, level := range w.c.Levels {
		if !has(w.versions[0], level) || !has(w.versions[1], level) {
			continue
		}
		f, known := flow{level: level}, true
		for _, p := range w.pieces {
			d, ok := p.gain(w.versions, i)
			known = known && ok
			switch {
			case d >= compare.Seen:
				f.to = append(f.to, share{p.name, d, w.stretched(p.name, 1, d)})
			case d <= -compare.Seen:
				f.from = append(f.from, share{p.name, -d, w.stretched(p.name, 0, -d)})
			}
		}
		if o, ok := w.overlap[i].Delta(); ok {
			f.overlap = o / halves(w.versions[1])
		}
		if known && len(f.from)+len(f.to) > 0 {
			out = append(out, f)
		}
	}
	return out
}

// stretched is what a width of an elastic piece comes to in use; 0 for others.
func (w *widths) stretched(piece string, v int, mm float64) float64 {
	for _, e := range w.elastic {
		if e.name == piece && e.of[v] != nil {
			return mm * (1 + e.of[v].InUse/100)
		}
	}
	return 0
}

// halves is how many times a garment's pieces are mirrored to go round.
func halves(g *pattern.Garment) float64 {
	if g.Half == pattern.Whole {
		return 1
	}
	return 2
}

// gain is by how much more the piece goes round on each half, mm.
func (p pieceWidths) gain(versions [2]*pattern.Garment, level int) (mm float64, ok bool) {
	pair := p.at[level].Pair
	var round [2]float64
	for v := range round {
		if !p.round[v] {
			continue
		}
		width := *side(&pair, v)
		if !width.Set {
			return 0, false
		}
		round[v] = width.Value * p.times[v].Value / halves(versions[v])
	}
	return round[1] - round[0], true
}

// movedSentences tell where the width went. Levels at which the same happened
// share a sentence.
func (w *widths) movedSentences() []string {
	t := &tellers{of: len(w.c.Levels)}
	for _, f := range w.moved {
		switch {
		case len(f.from) > 0 && len(f.to) > 0 && math.Abs(f.balance()) < compare.Seen:
			for _, x := range f.transfers() {
				t.add(" went from "+x.from+" to "+x.to, x.amount, f.level)
			}
		case len(f.from) == 0 && math.Abs(f.balance()-f.overlap) < compare.Seen:
			for _, s := range f.to {
				t.add(" arrived at "+s.piece+"; the overlap takes it up", s.amount, f.level)
			}
		case len(f.from) == 0:
			for _, s := range f.to {
				t.add(" arrived at "+s.piece+"; nothing was taken from another piece", s.amount, f.level)
			}
		case len(f.to) == 0 && math.Abs(f.balance()-f.overlap) < compare.Seen:
			for _, s := range f.from {
				t.add(" left "+s.piece+"; the overlap gives it back", s.amount, f.level)
			}
		case len(f.to) == 0:
			for _, s := range f.from {
				t.add(" left "+s.piece+"; nothing was given to another piece", s.amount, f.level)
			}
		default:
			t.list = append(t.list, teller{whole: f.sentence()})
		}
	}
	return t.sentences()
}

// sentence tells a level where more left than arrived, or less.
func (f flow) sentence() string {
	word, by := "more", f.balance()
	if by < 0 {
		word, by = "less", -by
	}
	return fmt.Sprintf("at %s: left %s; arrived at %s; %.1f %s than before", f.level, shares(f.from), shares(f.to), by, word)
}

func shares(list []share) string {
	var parts []string
	for _, s := range list {
		text := fmt.Sprintf("%s %.1f", s.piece, s.amount)
		if s.worn != 0 {
			text += fmt.Sprintf(" (stretched %.1f)", s.worn)
		}
		parts = append(parts, text)
	}
	if n := len(parts); n > 1 {
		parts = append(parts[:n-2], parts[n-2]+" and "+parts[n-1])
	}
	return strings.Join(parts, ", ")
}

type transfer struct {
	from, to string
	amount   float64
}

// transfers matches what left with what arrived, both front to back, so that cloth
// goes the shortest way along the garment: the monotone coupling, which is the
// cheapest transport on a line (G. Monge, 1781).
func (f flow) transfers() []transfer {
	var out []transfer
	from, to := append([]share(nil), f.from...), append([]share(nil), f.to...)
	for len(from) > 0 && len(to) > 0 {
		n := min(from[0].amount, to[0].amount)
		if n >= compare.Seen {
			out = append(out, transfer{from[0].piece, to[0].piece, n})
		}
		if from[0].amount -= n; from[0].amount < 1e-9 {
			from = from[1:]
		}
		if to[0].amount -= n; to[0].amount < 1e-9 {
			to = to[1:]
		}
	}
	return out
}

// tellers gather amounts at levels under the words that follow them.
type tellers struct {
	of   int // levels that there are
	list []teller
}

type teller struct {
	whole           string // a sentence of its own
	words           string
	amounts, levels []string
}

func (t *tellers) add(words string, amount float64, level string) {
	text := fmt.Sprintf("%.1f", amount)
	for i := range t.list {
		if x := &t.list[i]; x.whole == "" && x.words == words {
			x.amounts, x.levels = append(x.amounts, text), append(x.levels, level)
			return
		}
	}
	t.list = append(t.list, teller{words: words, amounts: []string{text}, levels: []string{level}})
}

func (t *tellers) sentences() []string {
	var out []string
	for _, x := range t.list {
		if x.whole != "" {
			out = append(out, x.whole)
			continue
		}
		out = append(out, amountsAt(x.amounts, x.levels, t.of)+x.words)
	}
	return out
}

// amountsAt gives "14.0 at bust, 6.0 at waist"; one phrase where the amount is the
// same at every one of three levels or more.
func amountsAt(amounts, levels []string, of int) string {
	same := len(amounts) == of && of >= 3
	var parts []string
	for i := range amounts {
		same = same && amounts[i] == amounts[0]
		parts = append(parts, amounts[i]+" at "+levels[i])
	}
	if same {
		return amounts[0] + " at every level"
	}
	return strings.Join(parts, ", ")
}

// elasticNow tells the stretch of a piece in a version, in words.
func elasticNow(e measure.Elastic) string {
	text := fmt.Sprintf("worn stretched by %s %%", trimmed(e.InUse))
	r := e.Reserve()
	switch {
	case !r.Set:
		return text + "; how far it was tested is not recorded, so no reserve is known"
	case r.Value < 0:
		text += fmt.Sprintf(", %s more than the %s %% that it was tested to", trimmed(-r.Value), trimmed(e.Of.Value))
	default:
		text += fmt.Sprintf(" of the %s %% that it was tested to: %s in reserve", trimmed(e.Of.Value), trimmed(r.Value))
	}
	if e.Tested == "" {
		return text + "; the day of the test is not recorded"
	}
	return text + "; tested on " + e.Tested
}

// trimmed prints a percent with at most one decimal.
func trimmed(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }
