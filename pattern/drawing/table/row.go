package table

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// row reads one height of a piece.
func (r *reader) row(cells []cell) {
	for _, c := range cells[min(len(cells), r.width()):] {
		if c.text != "" {
			hint := ""
			if r.comma == ',' {
				hint = "with decimal commas, separate the columns by ;"
			}
			r.fail(c.place, "table.fields", fmt.Sprintf("found %q after the last column", c.text), "as many fields as columns", hint)
			return
		}
	}
	g := r.group(r.cell(cells, "piece"))
	level := r.cell(cells, "level")
	new := row{level: level, place: cells[0].place}
	if level.text != "" {
		new.name = r.name(level, "level")
	}
	before := len(r.problems)
	new.height = r.number(cells, "height")
	new.width = r.number(cells, "width")
	if c := r.cell(cells, "front"); c.text != "" {
		new.front = pattern.Some(r.number(cells, "front"))
	}
	if len(r.problems) > before {
		return
	}
	if new.width < Narrowest {
		r.fail(r.cell(cells, "width").place, "table.width", fmt.Sprintf("found a width of %s mm", plain(new.width)),
			fmt.Sprintf("at least %s", plain(Narrowest)), "where a piece ends in a point, give it that width and draw the point later")
		return
	}
	if new.front.Value+new.width > largest {
		r.fail(r.cell(cells, "front").place, "table.number", fmt.Sprintf("the back edge would lie at x = %s mm", plain(new.front.Value+new.width)),
			fmt.Sprintf("at most %d", largest), "")
		return
	}
	if g != nil {
		new.place = r.cell(cells, "height").place
		g.rows = append(g.rows, new)
	}
}

// width is the number of columns.
func (r *reader) width() int {
	n := 0
	for _, c := range r.columns {
		n = max(n, c.at+1)
	}
	return n
}

// cell gives the field of a column; an empty one at the row's start where the
// row is too short for it.
func (r *reader) cell(cells []cell, name string) cell {
	col, ok := r.columns[name]
	if !ok || col.at >= len(cells) {
		return cell{"", cells[0].place}
	}
	return cells[col.at]
}

// group finds the rows of the piece that a field names; nil where none is.
func (r *reader) group(c cell) *group {
	if c.text == "" {
		if len(r.groups) == 0 {
			r.fail(c.place, "table.piece", "the first row names no piece", "the name of a piece", "")
			return nil
		}
		return r.groups[len(r.groups)-1]
	}
	name := r.name(c, "piece")
	if name == "" {
		return nil
	}
	for i, g := range r.groups {
		if g.name == name {
			// an empty field below means this one
			r.groups = append(append(r.groups[:i:i], r.groups[i+1:]...), g)
			return g
		}
	}
	g := &group{name: name, place: c.place}
	if c.text != name {
		g.title = c.text
	}
	r.groups = append(r.groups, g)
	return g
}

// name makes a name of what stands in a field: lower case, hyphens for spaces.
func (r *reader) name(c cell, what string) string {
	name := strings.Join(strings.FieldsFunc(strings.ToLower(c.text), func(x rune) bool { return x == ' ' || x == '_' || x == '-' || x == '\u00a0' }), "-")
	if fault := pattern.NameFault(name); fault != "" {
		r.fail(c.place, "table.name", fmt.Sprintf("the %s %q gives no name: it %s", what, c.text, fault), "a letter of a-z, then letters, digits, spaces or hyphens", "")
		return ""
	}
	return name
}

// number reads a length in mm.
func (r *reader) number(cells []cell, name string) float64 {
	c := r.cell(cells, name)
	if c.text == "" {
		r.fail(c.place, "table.number", "the row has no "+name, "a number", "")
		return 0
	}
	v, why := length(c.text, r.columns[name].unit, r.comma != ',')
	if why != "" {
		hint := ""
		if r.comma == ',' && strings.Contains(c.text, ",") {
			hint = "with decimal commas, separate the columns by ;"
		}
		r.fail(c.place, "table.number", fmt.Sprintf("found the %s %q, which %s", name, c.text, why), "a number such as 52.5", hint)
	}
	return v
}

// length reads plain decimals; why says what is wrong with them. The decimals are
// shifted in the text, not multiplied, so that 5.28 cm is 52.8 mm exactly.
func length(text string, unit int, decimalComma bool) (mm float64, why string) {
	s := strings.TrimPrefix(strings.Replace(text, "\u2212", "-", 1), "+")
	if decimalComma {
		s = strings.Replace(s, ",", ".", 1)
	}
	digits := strings.TrimPrefix(s, "-")
	whole, part, _ := strings.Cut(digits, ".")
	if whole+part == "" || strings.Trim(whole+part, "0123456789") != "" {
		return 0, "is no number"
	}
	part = strings.TrimRight(part, "0")
	places := 3
	if unit == 10 {
		places = 4
	}
	if len(part) > places {
		return 0, "is finer than 0.001 mm"
	}
	if unit == 10 {
		part += strings.Repeat("0", 4-len(part))
		whole, part = whole+part[:1], part[1:]
	}
	v, err := strconv.ParseFloat(whole+"."+part, 64)
	if err != nil || v > largest {
		return 0, fmt.Sprintf("is more than %d mm", largest)
	}
	if strings.HasPrefix(s, "-") {
		v = -v
	}
	return pattern.RoundLength(v), ""
}

// plain writes a number as a table would.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// near tells whether two heights are too close for an edge between them.
func near(a, b float64) bool { return math.Abs(a-b) < pattern.Grid/2 }

func (r *reader) failRow(w row, id, found, expected, hint string) {
	r.fail(w.place, id, found, expected, hint)
}

func related(at diag.Place, text string) []diag.Related {
	return []diag.Related{{Place: at, Text: text}}
}
