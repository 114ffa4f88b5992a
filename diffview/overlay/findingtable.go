package overlay

import (
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// table lists all findings in columns of a width, the first of them left mm from
// the left: number, what, where, what to do.
func (s *findingSheet) table(to *stack, left, width float64, n int) {
	columns := inColumns(s.entries(width), n)
	tallest := 0.0
	for _, c := range columns {
		tallest = max(tallest, heightOf(c))
	}
	to.add(tallest, func(pg *page, x, y float64) {
		for i, c := range columns {
			at := y
			for _, b := range c {
				b.draw(pg, x+left+float64(i)*(width+columnGap), at)
				at += b.height + entryGap
			}
		}
	})
}

// heightOf gives the height of blocks in one column, with the gaps.
func heightOf(list []*stack) float64 {
	sum := 0.0
	for _, b := range list {
		sum += b.height + entryGap
	}
	return sum
}

const entryGap = 4.0

// entries gives the blocks of the table, in order.
func (s *findingSheet) entries(width float64) []*stack {
	var out []*stack
	numbers := pinSize
	for _, f := range s.list {
		numbers = max(numbers, pinWidth(f.number))
	}
	group := func(title string, belongs func(finding) bool) {
		first := true
		for _, f := range s.list {
			if !belongs(f) {
				continue
			}
			b := &stack{width: width}
			if first {
				b.line(title, heading())
				b.space(2)
			}
			first = false
			b.finding(f, numbers)
			out = append(out, b)
		}
	}
	group("Findings on the pieces", func(f finding) bool { return len(f.spots) > 0 })
	group("About the whole garment", func(f finding) bool { return len(f.spots) == 0 })
	list := func(title string, names []string) {
		if len(names) > 0 {
			b := &stack{width: width}
			b.line(title, heading())
			b.space(1)
			b.para(strings.Join(names, ", "), plain(), 60)
			out = append(out, b)
		}
	}
	if n := len(s.all) - len(s.list); n > 0 {
		list("Not shown", []string{plural(n, "further finding", "further findings") + ": seamkeep check lists all of them"})
	}
	list("Not drawn", s.undrawn)
	list("Nothing to say about", s.quiet)
	return out
}

// finding writes one finding: its tag, and beside it the words.
func (s *stack) finding(f finding, numbers float64) {
	indent := numbers + 3.5
	room := s.width - indent
	lines := func(text string, st style, most int) {
		for _, l := range wrap(text, st, room, most) {
			s.add(lead(st), func(pg *page, x, y float64) { pg.text(x+indent, y+st.Size, l, st) })
		}
	}
	s.add(0, func(pg *page, x, y float64) {
		pg.pen.Titled(f.title(), svg.A("data-row", f.number))
		pg.findingTag(curve.Pt(x+numbers/2, y+pinSize/2-1), f.number, f.Severity)
	})
	from := s.height
	lines(f.Severity.String()+": "+f.Message(), plain(), 8)
	if where := f.where(); where != "" {
		lines(where, small(), 4)
	}
	if hint, _, _ := strings.Cut(strings.TrimSpace(f.Hint), "\n"); hint != "" {
		lines("\u2192 "+hint, plain(), 5)
	}
	s.height = max(s.height, from+pinSize)
	s.add(0, func(pg *page, _, _ float64) { pg.pen.End() })
}

// inColumns shares blocks out among n columns of about equal height, in order.
func inColumns(list []*stack, n int) [][]*stack {
	total := heightOf(list)
	var out [][]*stack
	from, sum := 0, 0.0
	for i, b := range list {
		h := b.height + entryGap
		if i > from && len(out) < n-1 && sum+h/2 > total*float64(len(out)+1)/float64(n) {
			out = append(out, list[from:i])
			from = i
		}
		sum += h
	}
	if from < len(list) {
		out = append(out, list[from:])
	}
	return out
}
