package overlay

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// Measures of the page for a fitting, mm: the width is what a printer leaves of A4.
const (
	fittingWidth  = 190.0
	fittingMargin = 4.0
	blankHeight   = 7.0 // room to write in by hand
	figureRoom    = 27.0
	blankRoom     = 34.0
)

// FittingPage draws the page that a maker takes to a fitting: what is predicted for the
// gap at each level with room for what is seen, what is pinned out by seam and level,
// movements, verdicts and notes. What the record holds already is filled in. g is the
// version that was cut; o.Title names the garment. It is 190 mm wide; six seams and five
// levels fit on one sheet of A4, more of them need more height. What cannot be written is the error.
func FittingPage(w io.Writer, f *pattern.Fitting, g *pattern.Garment, o Options) error {
	if o.Title == "" {
		o.Title = g.Title
	}
	s := &stack{width: fittingWidth - 2*fittingMargin}
	name := "Fitting " + f.Name
	if o.Title != "" {
		name += ": " + o.Title
	}
	s.para(name, style{Size: 6.4, Bold: true}, 2)
	s.fittingFacts(f)
	s.fittingGaps(f, g)
	s.fittingPins(f, g)
	how := make([]string, len(pattern.Hows()))
	for i, h := range pattern.Hows() {
		how[i] = string(h)
	}
	s.fittingWords("Movements tried", "how it took them: "+strings.Join(how, ", "), f.Moved, 3)
	s.fittingWords("Areas", "how they fit, in the same words", f.Verdicts, 4)
	s.fittingNotes(f)
	s.space(2)
	s.para(check.Caution, small(), 6)
	s.para(check.ElasticCaution, small(), 4)
	pen := svg.New(w, svg.Picture{
		Width: fittingWidth, Height: tenth(s.height + 2*fittingMargin), Title: name, Desc: fittingDesc(f), Prefix: o.Prefix,
	})
	s.draw(newPage(pen), fittingMargin, fittingMargin)
	if err := pen.Close(); err != nil {
		return fmt.Errorf("drawing the page for a fitting: %w", err)
	}
	return nil
}

// fittingFacts says what was cut, for whom, and how true it was printed.
func (s *stack) fittingFacts(f *pattern.Fitting) {
	words := []string{}
	if f.Version != "" {
		words = append(words, "cut from "+f.Version)
	}
	if f.Date != "" {
		words = append(words, f.Date)
	}
	if f.Body != "" {
		words = append(words, "on "+f.Body)
	}
	s.para(strings.Join(words, ", "), style{Size: 4.2, Mute: true}, 2)
	square := pattern.Square{}
	if f.Square != nil {
		square = *f.Square
	}
	s.space(1)
	st := plain()
	s.add(blankHeight+1, func(pg *page, x, y float64) {
		label := "check square of 100 mm on the sheets:"
		pg.text(x, y+5, label, st)
		x += st.Width(label) + 2
		pg.blank(x, y, 22, sized(square.Across))
		pg.text(x+24, y+5, "across,", st)
		pg.blank(x+24+st.Width("across,")+2, y, 22, sized(square.Along))
		pg.text(x+50+st.Width("across,"), y+5, "along", st)
	})
}

func sized(mm float64) string {
	if mm == 0 {
		return ""
	}
	return bare(mm)
}

// blank draws a box to write in, with what is known already.
func (pg *page) blank(x, y, width float64, text string) {
	pg.pen.Rect(x, y, width, blankHeight-1, svg.A("class", "line"), svg.A("fill", "none"), svg.A("stroke", inkColour), svg.N("stroke-width", 0.25))
	if text != "" {
		pg.text(x+width-2, y+4.6, plain().Shorten(text, width-3), plain().End())
	}
}

// head writes the title of a part and a word on it.
func (s *stack) head(title, more string) {
	s.space(2.5)
	s.line(title, heading())
	if more != "" {
		s.para(more, small(), 2)
	}
}

func (s *stack) fittingGaps(f *pattern.Fitting, g *pattern.Garment) {
	closure := ""
	columns := []float64{s.width - 2*blankRoom - 2*figureRoom, s.width - 2*blankRoom - figureRoom, s.width - 2*blankRoom, s.width - blankRoom}
	for _, gap := range f.Gaps {
		if gap.Closure != closure {
			closure = gap.Closure
			s.head("Gap of the lacing "+closure+", mm", "")
			h := small()
			s.row(cell{0, columns[0] - figureRoom, "level", h}, cell{columns[0] + figureRoom - 2, figureRoom, "predicted", h.End()},
				cell{columns[1] + figureRoom - 2, figureRoom, "wanted", h.End()}, cell{columns[2] + 2, blankRoom, "seen", h}, cell{columns[3] + 2, blankRoom, "difference", h})
		}
		wanted, difference := "", gap.Difference()
		for _, w := range g.Wanted {
			if w.Closure == gap.Closure && w.Level == gap.Level {
				wanted = bare(w.Min) + " to " + bare(w.Max)
			}
		}
		s.add(blankHeight, func(pg *page, x, y float64) {
			st := plain()
			pg.text(x, y+4.6, st.Shorten(gap.Level, columns[0]), st)
			pg.text(x+columns[0]+figureRoom-2, y+4.6, known1(gap.Predicted), st.End())
			pg.text(x+columns[1]+figureRoom-2, y+4.6, wanted, st.End())
			pg.blank(x+columns[2], y, blankRoom-2, optional1(gap.Observed))
			pg.blank(x+columns[3], y, blankRoom-2, optional1(difference))
		})
	}
}

// known1 prints a figure, or that there is none.
func known1(o pattern.Opt) string {
	if !o.Set {
		return "unknown"
	}
	return optional1(o)
}

// optional1 prints a figure with a decimal, or nothing.
func optional1(o pattern.Opt) string {
	if !o.Set {
		return ""
	}
	return fmt.Sprintf("%.1f", o.Value)
}

// fittingPins is a table of boxes: seams down, levels across.
func (s *stack) fittingPins(f *pattern.Fitting, g *pattern.Garment) {
	levels := fromTop(g.Levels)
	if len(g.Seams) == 0 || len(levels) == 0 {
		return
	}
	s.head("Pinned out, mm", "on one half of the body, both sides of the seam together; minus: cloth is wanting")
	const names = 52.0
	width := (s.width - names) / float64(len(levels))
	cells := []cell{{0, names, "seam", small()}}
	for i, l := range levels {
		cells = append(cells, cell{names + width*float64(i), width - 1, l.Name, small()})
	}
	s.row(cells...)
	for _, seam := range g.Seams {
		s.add(blankHeight, func(pg *page, x, y float64) {
			pg.text(x, y+4.6, plain().Shorten(seam.Name, names-1), plain())
			for i, l := range levels {
				pg.blank(x+names+width*float64(i), y, width-1, pinnedAt(f, seam.Name, l.Name))
			}
		})
	}
}

func pinnedAt(f *pattern.Fitting, seam, level string) string {
	for _, p := range f.Pinned {
		if p.Seam == seam && p.Level == level {
			return bare(p.Amount)
		}
	}
	return ""
}

// fittingWords lists what was said, and leaves at least as many lines as blanks.
func (s *stack) fittingWords(title, more string, list []pattern.Verdict, blanks int) {
	s.head(title, more)
	for i := range max(blanks, len(list)) {
		v := pattern.Verdict{}
		if i < len(list) {
			v = list[i]
		}
		s.add(blankHeight, func(pg *page, x, y float64) {
			pg.blankLine(x, y, s.width-blankRoom-4, v.Of)
			pg.blankLine(x+s.width-blankRoom, y, blankRoom, string(v.How))
		})
	}
}

// blankLine draws a line to write on.
func (pg *page) blankLine(x, y, width float64, text string) {
	pg.pen.Line(curve.Pt(x, y+6), curve.Pt(x+width, y+6), ruleInk()...)
	if text != "" {
		pg.text(x+1, y+4.8, plain().Shorten(text, width-2), plain())
	}
}

func (s *stack) fittingNotes(f *pattern.Fitting) {
	s.head("Notes", "")
	for _, n := range f.Notes {
		s.para(n.Text, plain(), 4)
	}
	for range 2 {
		s.add(blankHeight, func(pg *page, x, y float64) { pg.blankLine(x, y, s.width, "") })
	}
}

// fittingDesc says what the page is for.
func fittingDesc(f *pattern.Fitting) string {
	var parts []string
	for _, g := range f.Gaps {
		parts = append(parts, g.Closure+" at "+g.Level+" "+known1(g.Predicted))
	}
	text := "A page to fill in at a fitting: the gap at each level, what is pinned out by seam and level, movements, areas, notes"
	if len(parts) > 0 {
		text += ". Predicted gaps, mm: " + strings.Join(parts, ", ")
	}
	return text + "."
}

// bare prints a figure with the decimals that it has.
func bare(mm float64) string { return strconv.FormatFloat(mm, 'f', -1, 64) }
