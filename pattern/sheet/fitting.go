package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// NewFitting draws the pages that a maker takes to a fitting: the predicted gap at each level
// beside room for the one that is seen, room for what is pinned out by seam and level,
// movements and areas with words to ring, and notes, in the order in which the command
// asks for them afterwards. What the record holds is filled in. g is the version that was
// cut, o.Version says which that is; o.Pieces and o.Both mean nothing here. The
// cautions stand last. Errors are those of New about paper and margin.
func NewFitting(g *pattern.Garment, f *pattern.Fitting, cautions []string, o Options) (*Sheet, error) {
	s := newSetter(g, o)
	if err := s.setFrame(); err != nil {
		return nil, err
	}
	sections := []section{s.fittingFacts(f)}
	sections = append(sections, s.fittingGaps(f)...)
	sections = append(sections, s.fittingPins(f)...)
	sections = append(sections,
		s.verdicts("Movements tried", "such as both arms up, arms forward, seated, bent, turned, a deep breath; ring how it was", f.Moved, 4),
		s.verdicts("Areas", "such as back neck, armhole, waist, hem; ring how it fits", f.Verdicts, 3),
		s.fittingNotes(f), s.fittingEnd(f, cautions))
	s.form(FittingPage, "", sections)
	return s.finish("page for a fitting"), nil
}

// fittingFacts says what was cut, for whom, and asks how true it was printed.
func (s *setter) fittingFacts(f *pattern.Fitting) section {
	const size = 5.5
	out := section{head: []row{{size + 3, func(d *ink.Drawing, at curve.Point, width float64) {
		s.write(d, at.Sub(curve.Pt(0, size)), size, width, ink.Start, "Fitting "+f.Name)
	}}}}
	words := []string{s.o.Version.Standing()}
	if f.Version != "" {
		words[0] = "cut from " + f.Version + ": " + words[0]
	}
	if f.Body != "" {
		words = append(words, "on "+f.Body)
	}
	out.rows = append(s.lines(strings.Join(words, "; "), formText), space(1))
	square := pattern.Square{}
	if f.Square != nil {
		square = *f.Square
	}
	out.rows = append(out.rows, s.fields([]named{
		{"tried on", f.Date, 28}, {"check square of 100 mm on the sheets, across", sized(square.Across), 18}, {"along", sized(square.Along), 18},
	}))
	return out
}

// named is a field with words before it.
type named struct {
	words, known string
	width        float64
}

// fields are boxes beside each other, each behind its words.
func (s *setter) fields(list []named) row {
	return row{fieldRow + 1, func(d *ink.Drawing, at curve.Point, _ float64) {
		for _, n := range list {
			s.write(d, at.Sub(curve.Pt(0, 4.5)), formText, columnWidth, ink.Start, n.words)
			at.X += s.o.Face.Width(n.words, formText) + 1.5
			s.field(d, at, n.width, n.known)
			at.X += n.width + 3
		}
	}}
}

func sized(mm float64) string {
	if mm == 0 {
		return ""
	}
	return plain(mm)
}

// gapColumns are the columns of a table of gaps: how far left of its right end each begins, mm.
var gapColumns = [...]struct {
	title string
	from  float64
}{{"predicted", 108}, {"wanted", 84}, {"seen", 58}, {"difference", 28}}

const (
	gapTable = 195 // at most: names far from their figures are read wrongly
	gapField = 26
)

// fittingGaps has a table for each lacing.
func (s *setter) fittingGaps(f *pattern.Fitting) []section {
	var out []section
	closure := ""
	for _, gap := range f.Gaps {
		if gap.Closure != closure {
			closure = gap.Closure
			head := s.headed("Gap of the lacing "+closure+", mm", "")
			out = append(out, section{head: append(head, row{4, func(d *ink.Drawing, at curve.Point, width float64) {
				width = min(width, gapTable)
				for _, c := range gapColumns {
					s.write(d, at.Add(curve.Pt(width-c.from, -2.8)), formSmall, gapField, ink.Start, c.title)
				}
			}})})
		}
		last := &out[len(out)-1]
		last.rows = append(last.rows, s.gapRow(gap))
	}
	return out
}

func (s *setter) gapRow(gap pattern.FittedGap) row {
	wanted := ""
	for _, w := range s.garment.Wanted {
		if w.Closure == gap.Closure && w.Level == gap.Level {
			wanted = plain(w.Min) + " to " + plain(w.Max)
		}
	}
	told := [...]string{tenths(gap.Predicted, "unknown"), wanted, tenths(gap.Observed, ""), tenths(gap.Difference(), "")}
	return row{fieldRow, func(d *ink.Drawing, at curve.Point, width float64) {
		width = min(width, gapTable)
		base := at.Sub(curve.Pt(0, 4.5))
		s.write(d, base, formText, width-gapColumns[0].from-2, ink.Start, gap.Level)
		for i, c := range gapColumns {
			if i < 2 {
				s.write(d, base.Add(curve.Pt(width-c.from, 0)), formText, gapField-2, ink.Start, told[i])
			} else {
				s.field(d, at.Add(curve.Pt(width-c.from, 0)), gapField, told[i])
			}
		}
	}}
}

// tenths prints a figure with one decimal, or what stands for none.
func tenths(o pattern.Opt, none string) string {
	if !o.Set {
		return none
	}
	return strconv.FormatFloat(o.Value, 'f', 1, 64)
}

// fittingPins are tables of boxes, seams down and levels across; as many tables as the levels
// need.
func (s *setter) fittingPins(f *pattern.Fitting) []section {
	const names, narrowest = 52, 17
	levels := slices.Clone(s.garment.Levels)
	slices.SortStableFunc(levels, func(a, b pattern.Level) int { return cmp.Compare(b.Y, a.Y) })
	_, width := s.columns()
	most := int((width - names) / narrowest)
	var out []section
	for len(levels) > 0 && len(s.garment.Seams) > 0 {
		n := min(most, len(levels))
		out = append(out, s.pinTable(f, levels[:n], names, (width-names)/float64(n)))
		levels = levels[n:]
	}
	return out
}

func (s *setter) pinTable(f *pattern.Fitting, levels []pattern.Level, names, each float64) section {
	head := s.headed("Pinned out, mm", "on one half of the body, both sides of the seam together; minus where cloth is wanting")
	out := section{head: append(head, row{4, func(d *ink.Drawing, at curve.Point, _ float64) {
		for i, l := range levels {
			s.write(d, at.Add(curve.Pt(names+each*float64(i), -2.8)), formSmall, each-1, ink.Start, l.Name)
		}
	}})}
	for _, seam := range s.garment.Seams {
		out.rows = append(out.rows, row{fieldRow, func(d *ink.Drawing, at curve.Point, _ float64) {
			s.write(d, at.Sub(curve.Pt(0, 4.5)), formText, names-2, ink.Start, seam.Name)
			for i, l := range levels {
				s.field(d, at.Add(curve.Pt(names+each*float64(i), 0)), each-1, pinnedAt(f, seam.Name, l.Name))
			}
		}})
	}
	return out
}

func pinnedAt(f *pattern.Fitting, seam, level string) string {
	for _, p := range f.Pinned {
		if p.Seam == seam && p.Level == level {
			return plain(p.Amount)
		}
	}
	return ""
}

// verdicts lists what was said and leaves at least some lines to write on; behind each stand
// the words for how it was, to ring one.
func (s *setter) verdicts(title, more string, list []pattern.Verdict, least int) section {
	out := section{head: s.headed(title, more)}
	words := 0.0
	for _, h := range pattern.Hows() {
		words += s.o.Face.Width(string(h), formSmall) + 4
	}
	for i := range max(least, len(list)) {
		v := pattern.Verdict{}
		if i < len(list) {
			v = list[i]
		}
		out.rows = append(out.rows, row{fieldRow, func(d *ink.Drawing, at curve.Point, width float64) {
			s.ruled(d, at, width-words-2, v.Of)
			s.hows(d, at.Add(curve.Pt(width-words, 0)), v.How)
		}})
	}
	return out
}

// hows writes the words for how it was, a frame round the one that is known.
func (s *setter) hows(d *ink.Drawing, at curve.Point, known pattern.How) {
	for _, h := range pattern.Hows() {
		t := ink.Text{Layer: ink.Labels, At: at.Add(curve.Pt(2, -4.5)), Size: formSmall, Words: string(h)}
		d.Write(t)
		if h == known {
			d.Rect(ink.Labels, 0.4, 0, t.Box(s.o.Face).Grow(0.7))
		}
		at.X += s.o.Face.Width(string(h), formSmall) + 4
	}
}

func (s *setter) fittingNotes(f *pattern.Fitting) section {
	out := section{head: s.headed("Notes", "no measures of the body here: they are private")}
	out.head = append(out.head, space(1))
	for _, n := range f.Notes {
		out.rows = append(out.rows, s.lines(n.Text, formText)...)
	}
	for range 2 {
		out.rows = append(out.rows, row{fieldRow, func(d *ink.Drawing, at curve.Point, width float64) { s.ruled(d, at, width, "") }})
	}
	return out
}

// fittingEnd says how it is typed back, and the cautions.
func (s *setter) fittingEnd(f *pattern.Fitting, cautions []string) section {
	out := section{head: []row{space(3)}}
	out.rows = s.lines(fmt.Sprintf("Afterwards: seamkeep fitted %s asks for all this in the same order.", f.Name), formSmall)
	for _, c := range cautions {
		out.rows = append(out.rows, s.lines(c, formSmall)...)
	}
	return out
}
