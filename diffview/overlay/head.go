package overlay

import (
	"fmt"
	"strings"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/svg"
)

// notForCutting stands on every picture.
const notForCutting = "comparison, not for cutting"

// headStack holds the words at the top: what it is, why it changed, whether the
// figures agree, which versions.
func headStack(c *compare.Change, o Options, title string, list []compare.PieceChange, faults []string, width float64) *stack {
	s := &stack{width: width}
	k := headScale(width)
	large, second := titleSizes(width, 7.5)
	s.para(title, style{Size: large, Bold: true}, 3)
	s.line(notForCutting, style{Size: 4.2 * k, Bold: true, Mute: true})
	s.space(1.5 * k)
	first := style{Size: second, Bold: true}
	for i, line := range o.Note {
		if i == 8 {
			s.line("\u2026", style{Size: 3.6 * k})
			break
		}
		st := style{Size: 4.2 * k}
		if i == 0 {
			st = first
		}
		s.para(line, st, 6)
	}
	if strings.TrimSpace(svg.CleanText(o.Verdict)) != "" {
		s.para(o.Verdict, style{Size: 4.2 * k, Mute: true}, 3)
	}
	s.space(k)
	s.para("before: "+orDash(o.From)+"  \u2192  after: "+orDash(o.To), style{Size: 4.2 * k}, 4)
	s.para(tally(c, list)+notAllDrawn(list), style{Size: 4.2 * k}, 3)
	s.faulty(faults, k)
	return s
}

// headScale makes the words at the top larger on a wide sheet, so that they can
// be read when it is printed on an A4 page; bounded, for at full size they would
// fill a phone.
func headScale(width float64) float64 { return min(max(1, width/235), 1.8) }

// titleSizes are those of a picture's title, which it has on a narrow sheet, and of
// the first line of its note. They grow with the sheet as far as it takes to read
// them when the whole of it is shown at the width of a phone: there are 390 CSS
// pixels, so the 47.5th part of the sheet is a letter of 8 of them.
func titleSizes(width, title float64) (head, first float64) {
	first = max(5, (width+2*margin)/47.5)
	return max(title*min(headScale(width), 1.2), 1.05*first), first
}

func orDash(s string) string {
	if strings.TrimSpace(svg.CleanText(s)) == "" {
		return "\u2013"
	}
	return s
}

// tally says in one line how much changed.
func tally(c *compare.Change, list []compare.PieceChange) string {
	counts := map[compare.Status]int{}
	for _, p := range c.Pieces {
		counts[p.Status]++
	}
	if len(list) == 1 && list[0].Status == compare.Unchanged {
		return "This piece did not change."
	}
	if len(list) == 0 {
		if len(c.Records) == 0 {
			return "Nothing changed between these two versions."
		}
		return "No piece changed; the garment file did."
	}
	var words []string
	for _, s := range []compare.Status{compare.Changed, compare.Moved, compare.Renamed, compare.Split, compare.Joined, compare.Added, compare.Removed} {
		if n := counts[s]; n > 0 {
			words = append(words, plural(n, "piece", "pieces")+" "+string(s))
		}
	}
	if n := counts[compare.Unchanged]; n > 0 {
		words = append(words, plural(n, "piece", "pieces")+" not changed")
	}
	return strings.Join(words, ", ") + "."
}

// notAllDrawn says that some pieces are too many for one sheet.
func notAllDrawn(list []compare.PieceChange) string {
	n := len(list) - MostPieces
	if n <= 0 {
		return ""
	}
	return fmt.Sprintf(" Only %d are drawn here; the other %d are named at the end.", MostPieces, n)
}

// mostWords bounds the description; the sheet itself holds everything.
const mostWords = 6000

// describe says what the picture shows, for readers who do not see it.
func describe(c *compare.Change, o Options, list []compare.PieceChange, faults []string) string {
	parts := []string{notForCutting, "before " + orDash(o.From) + ", after " + orDash(o.To), strings.TrimSuffix(tally(c, list)+notAllDrawn(list), ".")}
	parts = append(parts, faults...)
	parts = append(parts, o.Note...)
	if o.Verdict != "" {
		parts = append(parts, o.Verdict)
	}
	for _, p := range list {
		if p.Status == compare.Unchanged {
			parts = append(parts, p.Name+": unchanged")
			continue
		}
		if p.Status != compare.Changed {
			parts = append(parts, p.Sentence())
			continue
		}
		for _, e := range p.Edges {
			if !e.Lies() {
				parts = append(parts, sentence(p.Name, e))
			}
		}
		parts = append(parts, figures(p.Name+" width", p.Widths)...)
		if told := toldOf(c, p); len(told) > 0 {
			parts = append(parts, p.Name+": "+joined(told))
		}
	}
	parts = append(parts, figures("girth", c.Girths)...)
	for _, g := range c.Gaps {
		parts = append(parts, figures("gap "+g.Closure, g.Levels)...)
	}
	parts = append(parts, c.Records...)
	return bounded(strings.Join(parts, ". ") + ".")
}

// bounded cuts a description at mostWords characters.
func bounded(text string) string {
	text = svg.CleanText(text)
	if runes := []rune(text); len(runes) > mostWords {
		text = string(runes[:mostWords]) + "\u2026"
	}
	return text
}

// figures says which figures per level changed.
func figures(what string, list []compare.AtLevel) []string {
	var out []string
	for _, l := range list {
		if l.Differs(seen) {
			out = append(out, what+" at "+l.Level+" "+optional(l.Before)+" to "+optional(l.After)+" mm")
		}
	}
	return out
}
