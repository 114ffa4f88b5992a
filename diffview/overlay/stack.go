package overlay

import (
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// stack is a column of words and tables that grows downwards, laid out before
// anything is drawn.
type stack struct {
	width, height float64
	ops           []op
}

type op struct {
	y    float64
	draw func(pg *page, x, y float64)
}

// add takes a strip of that height.
func (s *stack) add(height float64, draw func(pg *page, x, y float64)) {
	s.ops = append(s.ops, op{s.height, draw})
	s.height += height
}

func (s *stack) space(h float64) { s.height += h }

// draw puts the stack down with its upper left corner at x, y.
func (s *stack) draw(pg *page, x, y float64) {
	for _, o := range s.ops {
		o.draw(pg, x, y+o.y)
	}
}

// lead is the height of a line of text.
func lead(st style) float64 { return 1.45 * st.Size }

// line writes one line, cut where it is too long.
func (s *stack) line(text string, st style) {
	text = st.Shorten(text, s.width)
	s.add(lead(st), func(pg *page, x, y float64) { pg.text(x, y+st.Size, text, st) })
}

// para writes a text over several lines, at most that many.
func (s *stack) para(text string, st style, most int) {
	for _, line := range wrap(text, st, s.width, most) {
		s.line(line, st)
	}
}

// rule draws a thin line across, ruleTo one of that length.
func (s *stack) rule() { s.ruleTo(s.width) }

func (s *stack) ruleTo(length float64) {
	s.add(1.6, func(pg *page, x, y float64) {
		pg.pen.Line(curve.Pt(x, y+0.7), curve.Pt(x+length, y+0.7), ruleInk()...)
	})
}

// cell is one text of a row: x is its left end, or its right end where the
// style says so.
type cell struct {
	x, room float64
	text    string
	style   style
}

// row writes cells on one line.
func (s *stack) row(cells ...cell) {
	s.add(rowHeight, func(pg *page, x, y float64) {
		for _, c := range cells {
			if text := c.style.Shorten(c.text, c.room); c.text != "" {
				pg.text(x+c.x, y+4, text, c.style)
			}
		}
	})
}

const rowHeight = 6

// wrap breaks a text into lines of at most that width: at spaces, after
// hyphens, and inside a word that is too long alone. Where there would be more
// lines than most, the last one ends in "…".
func wrap(text string, st style, width float64, most int) []string {
	var lines []string
	line := ""
	for _, word := range parts(svg.CleanText(text)) {
		if strings.TrimSpace(line+word) != "" && st.Width(strings.TrimRight(line+word, " ")) > width {
			if strings.TrimSpace(line) != "" {
				lines = append(lines, strings.TrimSpace(line))
			}
			line = strings.TrimLeft(word, " ")
			for st.Width(strings.TrimRight(line, " ")) > width {
				n := fits(line, st, width)
				lines = append(lines, line[:n])
				line = line[n:]
			}
			continue
		}
		line += word
	}
	if strings.TrimSpace(line) != "" {
		lines = append(lines, strings.TrimSpace(line))
	}
	if len(lines) > most {
		lines = lines[:most]
		lines[most-1] = st.Shorten(lines[most-1], width-st.Width("\u2026")) + "\u2026"
		lines[most-1] = strings.ReplaceAll(lines[most-1], "\u2026\u2026", "\u2026")
	}
	return lines
}

// parts cuts a text behind each space and each hyphen inside a word.
func parts(text string) []string {
	var out []string
	from := 0
	for i := 0; i < len(text); i++ {
		if text[i] == ' ' || text[i] == '-' && i > from {
			out = append(out, text[from:i+1])
			from = i + 1
		}
	}
	return append(out, text[from:])
}

// fits counts the bytes of the longest beginning that fits, at least one
// character.
func fits(text string, st style, width float64) int {
	n := 0
	for i, r := range text {
		end := i + len(string(r))
		if n > 0 && st.Width(text[:end]) > width {
			break
		}
		n = end
	}
	return n
}
