package report

import (
	"fmt"
	"strings"

	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
)

// Page is what a review reads of two versions, the same for Markdown and HTML.
type Page struct {
	Title    string
	From, To string
	Note     []string // of the later version: subject, why
	Change   *compare.Change
	Picture  []byte // the overlay, SVG; only HTML shows it
}

// sentences are those of the change, with real arrows.
func (p Page) sentences() []string {
	list := p.Change.Sentences()
	for i, s := range list {
		list[i] = strings.ReplaceAll(s, " -> ", " → ")
	}
	return list
}

// table is figures in rows, ready for any markup.
type table struct {
	Title string
	Head  []string
	Rows  []row
}

// row is one line of a table; Moved rows are those that changed.
type row struct {
	Cells []string
	Moved bool
}

// tables gives the figures of a change in the order in which a reviewer wants
// them: gap and girth, widths, seams, edges.
func tables(c *compare.Change) []table {
	var out []table
	add := func(t table) {
		if len(t.Rows) > 0 {
			out = append(out, t)
		}
	}
	add(garmentTable(c))
	add(widthTable(c))
	add(seamTable(c))
	for _, p := range c.ChangedPieces() {
		add(edgeTable(p))
	}
	return out
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

// both prints a figure once where it stayed, else before and after.
func both(p compare.Pair) string {
	if !p.Differs(compare.Seen) {
		return cell(p.After.Set, p.After.Value)
	}
	return cell(p.Before.Set, p.Before.Value) + " → " + cell(p.After.Set, p.After.Value)
}

func garmentTable(c *compare.Change) table {
	t := table{Title: "Garment", Head: levelHead(c, "mm")}
	for _, g := range c.Gaps {
		t.Rows = append(t.Rows, levelRow("predicted gap "+g.Closure, g.Levels, c.Levels))
	}
	if len(c.Girths) > 0 {
		t.Rows = append(t.Rows, levelRow("girth", c.Girths, c.Levels), levelRow("girth worn", c.Worn, c.Levels))
	}
	return t
}

func widthTable(c *compare.Change) table {
	t := table{Title: "Widths of the pieces that changed", Head: levelHead(c, "piece, mm")}
	for _, p := range c.ChangedPieces() {
		if len(p.Widths) > 0 {
			t.Rows = append(t.Rows, levelRow(p.Name, p.Widths, c.Levels))
		}
	}
	return t
}

func seamTable(c *compare.Change) table {
	t := table{Title: "Seams", Head: []string{"seam, mm", "first side", "second side", "difference"}}
	for _, s := range c.Seams {
		difference := cell2(s.Difference.After.Set, s.Difference.After.Value)
		moved := s.Difference.Differs(compare.Seen)
		if moved {
			difference = cell2(s.Difference.Before.Set, s.Difference.Before.Value) + " → " + difference
		}
		t.Rows = append(t.Rows, row{[]string{s.Name, both(s.Lengths[0]), both(s.Lengths[1]), difference}, moved})
	}
	return t
}

func edgeTable(p compare.PieceChange) table {
	t := table{Title: p.Name + ", " + string(p.Status), Head: []string{"edge", "before", "after", "change", "moved most"}}
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
