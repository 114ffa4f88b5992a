package report

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
)

// gridRow is a line of a table whose columns are levels; what changed takes three
// lines: was, now, change.
type gridRow struct {
	name string
	at   []compare.AtLevel // one for each level
	sign bool              // figures bear their sign: they are terms of a sum

	change bool // figures are changes: one that is none is "="
}

// stateCol is the room for "was", "now" and "change".
const stateCol = 8

// grid writes rows in as many blocks of levels as fit the width. Levels of which
// no row tells anything are left out.
func (t *Text) grid(levels []string, rows []gridRow, single bool) {
	var names []string
	for _, r := range rows {
		names = append(names, r.name)
	}
	states := stateCol
	if single {
		states = 0
	}
	var shown []int
	room := t.width() - 2 - states
	for i := range levels {
		if rowsTell(rows, i) {
			shown = append(shown, i)
			room -= columnOf(levels[i])
		}
	}
	col := min(widest(8, names), max(21, room))
	for len(shown) > 0 {
		n, used := 0, 2+col+states
		for n < len(shown) && (n == 0 || used+columnOf(levels[shown[n]]) <= t.width()) {
			used += columnOf(levels[shown[n]])
			n++
		}
		t.block(levels, shown[:n], rows, col, states)
		shown = shown[n:]
	}
}

func rowsTell(rows []gridRow, i int) bool {
	for _, r := range rows {
		if r.at[i].Before.Set || r.at[i].After.Set {
			return true
		}
	}
	return false
}

// longLevel is how wide a level's name may be before it stands above its column.
const longLevel = 18

func columnOf(level string) int {
	n := utf8.RuneCountInString(Clean(level))
	if n > longLevel {
		return 10
	}
	return max(9, n+2)
}

func (t *Text) block(levels []string, shown []int, rows []gridRow, col, states int) {
	head := strings.Repeat(" ", 2+col+states)
	for _, i := range shown {
		level, width := Clean(levels[i]), columnOf(levels[i])
		if utf8.RuneCountInString(level) > longLevel {
			t.Para("  at "+level+":", "  ")
			level = ""
		}
		head += padLeft(level, width)
	}
	t.line(head)
	for _, r := range rows {
		t.gridRow(r, shown, levels, col, states)
	}
}

func (t *Text) gridRow(r gridRow, shown []int, levels []string, col, states int) {
	moved, gone := false, true
	for _, i := range shown {
		moved = moved || r.at[i].Before.Set && r.at[i].After.Set && r.at[i].Differs(compare.Seen)
		gone = gone && !r.at[i].After.Set
	}
	cells := func(cell func(p compare.Pair) string) string {
		s := ""
		for _, i := range shown {
			s += padLeft(cell(r.at[i].Pair), columnOf(levels[i]))
		}
		return s
	}
	was := func(p compare.Pair) string { return r.figure(p.Before) }
	now := func(p compare.Pair) string { return r.figure(p.After) }
	line := func(state string) string {
		if states == 0 {
			return ""
		}
		return "  " + pad(state, states-2)
	}
	switch {
	case moved:
		t.row("", 2, r.name, col, line("was")+cells(was), "")
		t.row("", 2, "", col, line("now")+cells(now), "")
		t.row("", 2, "", col, line("change")+cells(changeOf), "")
	case gone && states > 0:
		t.row("", 2, r.name, col, line("was")+cells(was), "")
	case r.onlyNow(shown) && states > 0:
		t.row("", 2, r.name, col, line("new")+cells(now), "")
	default:
		t.row("", 2, r.name, col, line("")+cells(now), "")
	}
}

// onlyNow tells whether the earlier version has none of the figures.
func (r gridRow) onlyNow(shown []int) bool {
	for _, i := range shown {
		if r.at[i].Before.Set {
			return false
		}
	}
	return true
}

func (r gridRow) figure(o pattern.Opt) string {
	switch {
	case !o.Set:
		return "-"
	case r.change && o.Value == 0:
		return "="
	case r.sign:
		return signed(o.Value, 1)
	}
	return unsignedZero(o.Value)
}

// changeOf tells a change with its sign; "=" where one decimal shows none.
func changeOf(p compare.Pair) string {
	d, ok := p.Delta()
	switch {
	case !ok:
		return ""
	case math.Abs(d) < compare.Seen:
		return "="
	}
	return signed(d, 1)
}

// unsignedZero prints one decimal and never -0.0.
func unsignedZero(v float64) string {
	if s := fmt.Sprintf("%.1f", v); s != "-0.0" {
		return s
	}
	return "0.0"
}

func padLeft(s string, width int) string {
	if n := width - utf8.RuneCountInString(s); n > 0 {
		return strings.Repeat(" ", n) + s
	}
	return " " + s
}
