package report

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/measure"
)

// Page is what a review reads of two versions, the same for Markdown and HTML.
type Page struct {
	Title    string
	From, To string
	Note     []string // of the later version: subject, why
	Notes    []Note   // of every version after the earlier one up to the later one, newest last
	Change   *compare.Change
	Picture  []byte // the overlay, SVG; only HTML shows it
}

// sentences are those of the change, with real arrows: first what is wrong with
// either version, then what changed.
func (p Page) sentences() (faults, changes []string) {
	list := p.Change.Sentences()
	for i, s := range list {
		list[i] = strings.ReplaceAll(s, " -> ", " → ")
	}
	n := len(p.Change.Faults)
	return list[:n], list[n:]
}

// table is figures in rows, ready for any markup.
type table struct {
	Title string
	Head  []string
	Rows  []row
	Words bool     // its cells are words, not figures
	Fine  bool     // a detail, which Markdown folds away
	Under []string // sentences below it: what it lacks, and why
}

// row is one line of a table; Moved rows are those that changed.
type row struct {
	Cells []string
	Moved bool
}

// tables gives the figures of a change in the order in which a reviewer wants
// them: first gap, girth and widths, which stand before the picture, then seams and
// records, then the edges of each piece.
func tables(c *compare.Change) (first, rest, edges []table) {
	some := func(list ...table) []table {
		return slices.DeleteFunc(list, func(t table) bool { return len(t.Rows) == 0 })
	}
	for _, p := range c.ChangedPieces() {
		edges = append(edges, some(edgeTable(p))...)
	}
	return some(garmentTable(c), widthTable(c)), some(seamTable(c), recordTable(c)), edges
}

func levelHead(c *compare.Change, first string) []string { return append([]string{first}, c.Levels...) }

func levelRow(name string, levels []compare.AtLevel, order []string) row {
	r := row{Cells: []string{name}}
	for _, level := range order {
		text := ""
		for _, l := range levels {
			if l.Level == level {
				text = both(l.Pair)
				r.Moved = r.Moved || l.Differs(compare.Seen)
			}
		}
		r.Cells = append(r.Cells, text)
	}
	return r
}

// both prints a figure once where it stayed or is new, else before and after.
func both(p compare.Pair) string { return bothAs(p, cell, " → ") }

// bothAs prints a figure like both, each side of the arrow as asked.
func bothAs(p compare.Pair, print func(set bool, v float64) string, arrow string) string {
	after := print(p.After.Set, p.After.Value)
	if !p.Before.Set || !p.Differs(compare.Seen) {
		return after
	}
	return print(p.Before.Set, p.Before.Value) + arrow + after
}

func garmentTable(c *compare.Change) table {
	t := table{Title: "Garment", Head: levelHead(c, "mm")}
	for _, g := range c.Gaps {
		if !t.addLevels("predicted gap "+g.Closure, g.Levels, c.Levels) {
			t.Under = append(t.Under, "No predicted gap "+g.Closure+": "+whyNoGap(c)+".")
		}
	}
	t.addLevels("girth", c.Girths, c.Levels)
	t.addLevels("girth worn", c.Worn, c.Levels)
	if why := whyNoGirth(c); why != "" {
		t.Under = append(t.Under, "No girth is known: "+why+".")
	}
	return t
}

// addLevels adds a row, unless there is nothing that it could say at any level.
func (t *table) addLevels(name string, levels []compare.AtLevel, order []string) bool {
	if len(levels) > 0 {
		t.Rows = append(t.Rows, levelRow(name, levels, order))
	}
	return len(levels) > 0
}

// whyNoGirth says why the girth is unknown at every level; nothing where some
// version's is known somewhere.
func whyNoGirth(c *compare.Change) string {
	known := func(l compare.AtLevel) bool { return l.Before.Set || l.After.Set }
	if len(c.Girths) == 0 || c.After == nil || slices.ContainsFunc(c.Girths, known) {
		return ""
	}
	return measure.GirthAt(c.After, c.Girths[0].Level).Why()
}

// whyNoGap says why no level has a predicted gap.
func whyNoGap(c *compare.Change) string {
	if c.Body == nil {
		return "no body here"
	}
	return "at no level are the girths of body and garment both known"
}

func widthTable(c *compare.Change) table {
	t := table{Title: "Widths of the pieces that changed", Head: levelHead(c, "piece, mm")}
	for _, p := range c.ChangedPieces() {
		t.addLevels(p.Name, p.Widths, c.Levels)
	}
	t.addLevels("together", together(c), c.Levels)
	return t
}

// together sums, at each level, the widths of the pieces round the body that
// changed: what one took from another leaves the sum as it was. It is empty for
// fewer than two such pieces.
func together(c *compare.Change) []compare.AtLevel {
	if c.Before == nil || c.After == nil {
		return nil
	}
	var pieces []compare.PieceChange
	for _, p := range c.ChangedPieces() {
		named := func(m pattern.Mention) bool { return m.Name == p.Name }
		if slices.ContainsFunc(c.After.Around, named) || slices.ContainsFunc(c.Before.Around, named) {
			pieces = append(pieces, p)
		}
	}
	if len(pieces) < 2 {
		return nil
	}
	var out []compare.AtLevel
	for _, level := range c.Levels {
		sum := compare.AtLevel{Level: level}
		for _, p := range pieces {
			for _, l := range p.Widths {
				if l.Level == level {
					sum.Before = plus(sum.Before, l.Before)
					sum.After = plus(sum.After, l.After)
				}
			}
		}
		if sum.Before.Set || sum.After.Set {
			out = append(out, sum)
		}
	}
	return out
}

// plus adds a width where there is one; a piece that one version lacks adds
// nothing to it.
func plus(a, b pattern.Opt) pattern.Opt {
	if !b.Set {
		return a
	}
	return pattern.Some(a.Value + b.Value)
}

func seamTable(c *compare.Change) table {
	t := table{Title: "Seams", Head: []string{"seam, mm", "first side", "second side", "difference", "worst segment"}}
	for _, s := range c.Seams {
		t.Rows = append(t.Rows, row{
			[]string{s.Name, both(s.Lengths[0]), both(s.Lengths[1]), bothAs(s.Difference, cell2, " → "), bothAs(s.Worst, size2, " → ")},
			s.Difference.Differs(compare.Seen) || s.Worst.Differs(compare.Seen),
		})
	}
	return t
}

func size2(set bool, v float64) string {
	if !set {
		return "-"
	}
	return fmt.Sprintf("%.2f", v)
}

// recordTable lists what else is recorded otherwise: marks, notches, cloth, and
// the garment's own records.
func recordTable(c *compare.Change) table {
	t := table{Title: "Marks and records", Head: []string{"where", "what"}, Words: true, Fine: true}
	add := func(where string, records []string) {
		if len(records) > 0 {
			t.Rows = append(t.Rows, row{Cells: []string{where, strings.ReplaceAll(strings.Join(records, "; "), " -> ", " → ")}})
		}
	}
	for _, p := range c.ChangedPieces() {
		add(p.Name, p.Records)
	}
	add("garment", c.Records)
	return t
}

func edgeTable(p compare.PieceChange) table {
	t := table{Title: p.Name + ", " + string(p.Status), Head: []string{"edge, mm", "before", "after", "change", "moved most"}, Fine: true}
	for _, e := range p.Edges {
		r := row{[]string{
			e.Name, cell(e.Length.Before.Set, e.Length.Before.Value), cell(e.Length.After.Set, e.Length.After.Value), "=", "=",
		}, !e.Lies()}
		if e.Lies() && e.Status != compare.Unchanged {
			r.Cells[4] = e.Phrase()
		}
		if r.Moved {
			r.Cells[3], r.Cells[4] = "", movedMost(e)
			if d, ok := e.Length.Delta(); ok {
				r.Cells[3] = signed(d, 1)
			}
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

// unchanged names the pieces that did not change.
func unchanged(c *compare.Change) []string {
	var names []string
	for _, p := range c.Pieces {
		if p.Status == compare.Unchanged {
			names = append(names, p.Name)
		}
	}
	return names
}

// pressing tells how much the garment presses at each level, as worn and laced
// shut; nothing where it presses nowhere.
func pressing(c *compare.Change) []string {
	if c.After == nil {
		return nil
	}
	var out []string
	presses := false
	for _, p := range check.Presses(c.After, c.Body) {
		text := fmt.Sprintf("%s %s", p.Level, check.Signed(p.AsWorn))
		if p.HasLacing {
			text += " (" + check.Signed(p.LacedShut) + ")"
		}
		out = append(out, text)
		presses = presses || min(p.AsWorn, p.LacedShut) < -0.05
	}
	if !presses {
		return nil
	}
	return out
}
