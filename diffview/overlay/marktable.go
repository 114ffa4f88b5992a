package overlay

import (
	"fmt"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/svg"
)

// maxMarkRows is how many rows the marks of a piece take in the table.
const maxMarkRows = 8

// markRow is one line of the table of marks: one mark, or several of a kind
// with the same fate.
type markRow struct{ what, became string }

// markRows gives the rows: the largest movement first, then what was lost,
// added and changed; three or more of a kind with the same fate and the same
// amount share a row. more is how many marks have none.
func markRows(marks []pieceMark) (rows []markRow, more int) {
	sorted := append([]pieceMark(nil), marks...)
	rank := map[markFate]int{markMoved: 0, markLost: 1, markAdded: 2, markChanged: 3}
	sort.SliceStable(sorted, func(i, j int) bool {
		a, b := sorted[i], sorted[j]
		if a.fate != b.fate {
			return rank[a.fate] < rank[b.fate]
		}
		return a.fate == markMoved && a.far > b.far+seen
	})
	of := map[markRow][]pieceMark{} // by kind and what became of it
	var groups []markRow
	for _, m := range sorted {
		if _, told := rank[m.fate]; !told {
			continue
		}
		k := markRow{m.kind, m.became()}
		if len(of[k]) == 0 {
			groups = append(groups, k)
		}
		of[k] = append(of[k], m)
	}
	for _, k := range groups {
		list := of[k]
		if len(list) >= 3 {
			if len(rows) < maxMarkRows {
				rows = append(rows, markRow{marksOfKind(len(list), k.what), k.became})
			} else {
				more += len(list)
			}
			continue
		}
		for _, m := range list {
			if len(rows) < maxMarkRows {
				rows = append(rows, markRow{m.kind + " " + m.name, k.became})
			} else {
				more++
			}
		}
	}
	return rows, more
}

// became says in a word or two what became of the mark.
func (m pieceMark) became() string {
	switch {
	case m.fate == markMoved:
		return "moved " + amount(m.far)
	case m.fate != markChanged:
		return string(m.fate)
	}
	words := "changed"
	if m.far > 0 {
		words = "moved " + amount(m.far) + " and changed"
	}
	if m.settings != "" {
		words += ": " + m.settings
	}
	return words
}

// marksOfKind counts marks in the trade's words.
func marksOfKind(n int, kind string) string {
	switch kind {
	case "notch":
		return fmt.Sprintf("%d notches", n)
	case string(pattern.Stitch), string(pattern.Placement):
		return fmt.Sprintf("%d %s lines", n, kind)
	case string(pattern.Drill):
		return fmt.Sprintf("%d drill holes", n)
	}
	return fmt.Sprintf("%d %ss", n, kind)
}

// markTable lists the marks that changed; those of a piece that came or went came
// or went with it.
func (s *stack) markTable(f *figure) {
	rows, more := markRows(f.marks)
	if len(rows) == 0 || f.whole.Before == nil || f.whole.After == nil {
		return
	}
	s.space(3)
	s.row(cell{0, 40, "marks", small()})
	s.rule()
	wide := 0.0
	for _, r := range rows {
		wide = max(wide, strong().Width(r.what)+4)
	}
	wide = min(wide, 0.66*s.width)
	for _, r := range rows {
		s.add(0, func(pg *page, _, _ float64) {
			pg.pen.Titled(f.change.Name+": "+r.what+" "+r.became, svg.A("data-mark-row", f.change.Name))
		})
		s.row(cell{0, wide - 2, r.what, strong()}, cell{wide, s.width - wide, r.became, strong()})
		s.add(0, func(pg *page, _, _ float64) { pg.pen.End() })
	}
	if more > 0 {
		s.line("and "+plural(more, "mark", "marks")+" more, drawn but not listed", small())
	}
}

// otherRecords gives the records of a piece that no row of the table of marks
// tells: those that say what was called otherwise before, too.
func otherRecords(p compare.PieceChange, marks []pieceMark) []string {
	var out []string
	for _, r := range p.Records {
		told := false
		for _, m := range marks {
			if m.fate != markSame && m.fate != markCarried && r == m.part.Words() && m.part.Was == "" && m.part.WasEdge == "" {
				told = true
			}
		}
		if !told {
			out = append(out, r)
		}
	}
	return out
}

// toldOf says what else changed on a piece, the marks as in their table.
func toldOf(c *compare.Change, p compare.PieceChange) []string {
	if p.Before == nil || p.After == nil {
		return p.Records
	}
	marks := pieceMarks(p, [2]*pattern.Garment{c.Before, c.After})
	rows, more := markRows(marks)
	var out []string
	for _, r := range rows {
		out = append(out, r.what+" "+r.became)
	}
	if more > 0 {
		out = append(out, "and "+plural(more, "mark", "marks")+" more")
	}
	return append(out, otherRecords(p, marks)...)
}
