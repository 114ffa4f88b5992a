package sheet

import (
	"math"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// row is a strip across a column of a form, mm high. draw gets its upper left corner and
// the width of the column.
type row struct {
	height float64
	draw   func(d *ink.Drawing, at curve.Point, width float64)
}

// section is rows under a head, which stands again where the rows go on elsewhere.
type section struct{ head, rows []row }

// A column of a form is at least so wide, mm; wide paper has several.
const (
	columnWidth = 170
	columnGap   = 8
)

// columns tells how many columns a form has on the paper, and how wide each is. A single
// one leaves the check squares their place beside it where that is asked for and leaves
// it wide enough to be read.
func (s *setter) columns() (n int, width float64) {
	const readable, squares = 65, fourInches + 5
	n = max(1, int((s.content.Width()+columnGap)/(columnWidth+columnGap)))
	if beside := s.content.Width() - squares; s.besideSquares && n == 1 && beside >= readable {
		return n, beside
	}
	return n, (s.content.Width() - float64(n-1)*columnGap) / float64(n)
}

// form lays sections out on as many pages of a kind as they need, column by column; name is
// what their heads call them, or empty.
func (s *setter) form(kind Kind, name string, sections []section) {
	w := &flowing{s: s, height: s.formHeight(sections), kind: kind, name: name}
	w.n, w.width = s.columns()
	w.col = w.n // the first row begins a page
	for _, part := range sections {
		lead := heightOf(part.head)
		if len(part.rows) > 0 {
			lead += part.rows[0].height
		}
		w.room(lead)
		w.place(part.head...)
		for _, r := range part.rows {
			if w.room(r.height) {
				w.place(part.head...)
			}
			w.place(r)
		}
	}
}

// formHeight is how high the pages of a form are: on a roll as high as its columns.
func (s *setter) formHeight(sections []section) float64 {
	if !s.paper.Roll {
		return s.paper.Height
	}
	const breaks = 50 // what the end of a column may leave, and heads that stand again
	total := 0.0
	for _, part := range sections {
		total += heightOf(part.head) + heightOf(part.rows)
	}
	n, _ := s.columns()
	return math.Ceil(max(100+fourInches+2, total/float64(n)+breaks) + headHeight + 2*s.margin.Y)
}

func heightOf(rows []row) float64 {
	sum := 0.0
	for _, r := range rows {
		sum += r.height
	}
	return sum
}

// flowing is where the next row of a form stands.
type flowing struct {
	s             *setter
	n, col        int // columns of a page; the one that is filled, from 0
	width, height float64
	kind          Kind
	name          string
	p             *page
	y             float64
}

// room begins another column where this one has no room for so many mm, and tells whether
// it did. A row that is higher than a column stands alone and runs out of it.
func (w *flowing) room(mm float64) bool {
	if w.col < w.n && (w.y-mm >= w.p.box.Min.Y || w.y == w.p.box.Max.Y) {
		return false
	}
	fresh := w.p == nil
	if w.col++; w.col >= w.n {
		w.p, w.col = w.s.formPage(w), 0
	}
	w.y = w.p.box.Max.Y
	return !fresh
}

func (w *flowing) place(rows ...row) {
	for _, r := range rows {
		at := curve.Pt(w.p.box.Min.X+float64(w.col)*(w.width+columnGap), w.y)
		r.draw(w.p.parts[0].Drawing, at, w.width)
		w.y -= r.height
	}
}

// formPage begins a page.
func (s *setter) formPage(w *flowing) *page {
	p := &page{called: w.name, box: s.contentOf(w.height), parts: []ink.Part{{Drawing: &ink.Drawing{}, Clip: curve.EmptyBox()}}}
	p.Kind, p.paper, p.Width, p.Height = w.kind, s.paper.Name, s.paper.Width, w.height
	s.pages = append(s.pages, p)
	return p
}

// Sizes of what a form says, mm.
const (
	formTitle = 4
	formText  = 3.2
	formSmall = 2.6
	fieldRow  = 6.5 // room to write by hand
)

// write puts words on a line, as much of them as fits.
func (s *setter) write(d *ink.Drawing, at curve.Point, size, room float64, a ink.Anchor, words string) {
	f := s.o.Face
	d.Write(ink.Text{Layer: ink.Labels, At: at, Size: size, Anchor: a, Words: f.Shorten(f.Words(words), size, room)})
}

// lines are rows of words, broken to the width of a column.
func (s *setter) lines(words string, size float64) []row {
	var out []row
	_, width := s.columns()
	for _, line := range wrap(s.o.Face, s.o.Face.Words(words), size, width) {
		out = append(out, s.line(line, size, 0))
	}
	return out
}

// line is a row of words, set in by so many mm.
func (s *setter) line(words string, size, in float64) row {
	return row{float64(size * 1.35), func(d *ink.Drawing, at curve.Point, width float64) {
		s.write(d, at.Add(curve.Pt(in, -size)), size, width-in, ink.Start, words)
	}}
}

// headed is the head of a section: its title, and a word on it.
func (s *setter) headed(title, more string) []row {
	out := []row{{formTitle + 4, func(d *ink.Drawing, at curve.Point, width float64) {
		s.write(d, at.Sub(curve.Pt(0, formTitle+2.4)), formTitle, width, ink.Start, title)
	}}}
	if more != "" {
		out = append(out, s.lines(more, formSmall)...)
	}
	return out
}

// space is an empty row.
func space(mm float64) row {
	return row{mm, func(*ink.Drawing, curve.Point, float64) {}}
}

// field draws a box to write in, with what is known already at its right; at is the upper
// left corner of its row.
func (s *setter) field(d *ink.Drawing, at curve.Point, width float64, known string) {
	d.Rect(ink.Labels, 0.2, 0, curve.Box{Min: at.Sub(curve.Pt(0, fieldRow-0.8)), Max: at.Add(curve.Pt(width, -0.2))})
	if known != "" {
		s.write(d, at.Add(curve.Pt(width-1.5, -4.5)), formText, width-3, ink.End, known)
	}
}

// ruled draws a line to write on.
func (s *setter) ruled(d *ink.Drawing, at curve.Point, width float64, known string) {
	foot := at.Sub(curve.Pt(0, fieldRow-1))
	d.Line(ink.Labels, 0.15, 0.35, foot, foot.Add(curve.Pt(width, 0)))
	if known != "" {
		s.write(d, foot.Add(curve.Pt(1, 1.2)), formText, width-2, ink.Start, known)
	}
}
