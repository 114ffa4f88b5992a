package sheet

import (
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// List is a list in words that stands on pages of its own: of what is cut, of what is
// needed.
type List struct {
	Title  string // "Cutting list"
	Before []Line // that stand before all parts
	Parts  []Part
	After  []Line
}

// Part is the entries of a list under a heading.
type Part struct {
	Head    string
	Entries [][]Line // the lines of one are not parted where a column can hold them
}

// Line is one paragraph of a list.
type Line struct {
	Words        string
	Indent, Hang int // of its first and of its further lines, in columns of a terminal
}

// NewLists puts lists alone, o.Lists, on pages that bear what every page bears. what says
// what they are. Errors are those of New about paper and margin.
func NewLists(g *pattern.Garment, o Options, what string) (*Sheet, error) {
	s := newSetter(g, o)
	if err := s.setFrame(); err != nil {
		return nil, err
	}
	s.listPages()
	return s.finish(what), nil
}

// listColumn is how far a column of a terminal sets words in on a page, mm.
const listColumn = 0.9

// listPages puts the lists behind the pages that there are, each on its own. Instead of
// large paper they take A4, which is handed round.
func (s *setter) listPages() {
	on := *s
	on.besideSquares = true
	if !s.paper.Roll && s.paper.Height > papers[2].Height/s.stretch.Y {
		on.paper.Name = papers[0].Name
		on.paper.Width, on.paper.Height = papers[0].Width/s.stretch.X, papers[0].Height/s.stretch.Y
		on.content = on.contentOf(on.paper.Height)
	}
	for _, l := range s.o.Lists {
		on.list(l)
	}
	s.pages = on.pages
}

func (s *setter) list(l List) {
	sections := []section{{rows: append([]row{space(1.5)}, s.entries([][]Line{l.Before})...)}}
	for _, p := range l.Parts {
		sections = append(sections, section{head: s.headed(p.Head, ""), rows: s.entries(p.Entries)})
	}
	sections = append(sections, section{rows: append([]row{space(3)}, s.entries([][]Line{l.After})...)})
	s.form(ListPage, l.Title, sections)
}

// entries are rows of lines: one for each entry, and one for each line of an entry so long
// that a column might not hold it.
func (s *setter) entries(list [][]Line) []row {
	const most = 12 // lines kept together
	var out []row
	for _, entry := range list {
		var lines []row
		for _, l := range entry {
			lines = append(lines, s.paragraph(l)...)
		}
		if len(lines) > 0 && len(lines) <= most {
			lines = []row{stacked(lines)}
		}
		out = append(out, lines...)
	}
	return out
}

// stacked is rows as one that is not parted.
func stacked(rows []row) row {
	return row{heightOf(rows), func(d *ink.Drawing, at curve.Point, width float64) {
		for _, r := range rows {
			r.draw(d, at, width)
			at.Y -= r.height
		}
	}}
}

// paragraph is rows of words, broken to the width of a column, their further lines set in
// by Hang.
func (s *setter) paragraph(l Line) []row {
	_, width := s.columns()
	first, further := float64(l.Indent)*listColumn, float64(l.Hang)*listColumn
	words := s.o.Face.Words(l.Words)
	begin := wrap(s.o.Face, words, formText, width-first)[0]
	out := []row{s.line(begin, formText, first)}
	if rest := strings.Join(strings.Fields(words)[len(strings.Fields(begin)):], " "); rest != "" {
		for _, line := range wrap(s.o.Face, rest, formText, width-further) {
			out = append(out, s.line(line, formText, further))
		}
	}
	return out
}
