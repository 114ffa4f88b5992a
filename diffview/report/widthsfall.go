package report

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/diffview/waterfall"
	"seamkeep/pattern"
	"seamkeep/pattern/compare"
)

// Waterfall writes how the gap of one closure came from what it was to what it is: a
// line for each version, a column for each level. The data are of the same versions
// and not grouped; none writes nothing. Figures have one decimal and add up as they
// stand.
func (t *Text) Waterfall(list []waterfall.Data) {
	if len(list) == 0 {
		return
	}
	t.Para(fmt.Sprintf("gap %s, predicted, in mm: what each note did to it", list[0].Closure), "  ")
	levels := make([]string, len(list))
	for i, d := range list {
		levels[i] = d.Level
	}
	column := func(name string, sign bool, of func(d waterfall.Data) pattern.Opt) gridRow {
		r := gridRow{name: name, sign: sign, change: sign}
		for _, d := range list {
			r.at = append(r.at, compare.AtLevel{Level: d.Level, Pair: compare.Pair{After: of(d)}})
		}
		return r
	}
	rows := []gridRow{column("old gap: "+list[0].First.Name(), false, func(d waterfall.Data) pattern.Opt { return d.Start })}
	for i, s := range list[0].Steps {
		rows = append(rows, column(s.Label(), true, func(d waterfall.Data) pattern.Opt {
			if i >= len(d.Steps) || !d.Steps[i].Known {
				return pattern.Opt{}
			}
			return pattern.Some(d.Steps[i].Shown())
		}))
	}
	rows = append(rows, column("gap now", false, func(d waterfall.Data) pattern.Opt { return d.End }))
	if slices.ContainsFunc(list, waterfall.Data.AnyOutside) {
		rows = append(rows,
			column("of it, by notes", true, func(d waterfall.Data) pattern.Opt { by, _ := d.Printed(); return pattern.Some(by) }),
			column("without a note", true, func(d waterfall.Data) pattern.Opt { _, out := d.Printed(); return pattern.Some(out) }))
	}
	t.grid(levels, rows, true)
	t.whyUnknown(list)
	var wanted []string
	for _, d := range list {
		if v := d.Verdict(); v != "" && d.End.Set {
			span, verdict, _ := strings.Cut(strings.TrimPrefix(v, "wanted "), ": ")
			wanted = append(wanted, fmt.Sprintf("%s %s (%s)", d.Level, strings.ReplaceAll(span, "\u2212", "-"), verdict))
		}
	}
	if len(wanted) > 0 {
		t.Para("  wanted: "+strings.Join(wanted, ", "), "    ")
	}
}

// whyUnknown says of which versions the gap is not known; levels with the same reason
// share a line.
func (t *Text) whyUnknown(list []waterfall.Data) {
	var order []string
	levels := map[string][]string{}
	note := func(text, level string) {
		if levels[text] == nil {
			order = append(order, text)
		}
		levels[text] = append(levels[text], level)
	}
	for _, d := range list {
		if !d.Start.Set {
			note(d.Why, d.Level)
			continue
		}
		for _, s := range d.Steps {
			if !s.Known {
				note(s.Name()+": "+s.Why, d.Level)
			}
		}
	}
	for _, text := range order {
		at := ""
		if len(levels[text]) < len(list) {
			at = " at " + strings.Join(levels[text], ", ")
		}
		t.Para("  not known"+at+": "+text, "    ")
	}
}
