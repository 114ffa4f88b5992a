package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// reader holds what was read so far.
type reader struct {
	path     string
	src      []byte
	lines    [][]byte
	comma    rune
	columns  map[string]column
	groups   []*group // pieces, in order
	table    Table
	problems diag.List
}

// column says where a quantity stands and what its unit is in mm.
type column struct {
	at, unit int
}

// cell is a field and its place.
type cell struct {
	text  string
	place diag.Place
}

// row is one height of a piece.
type row struct {
	level         cell
	name          string // of the level; empty where the row is none
	height, width float64
	front         pattern.Opt
	place         diag.Place
}

// group is the rows of a piece.
type group struct {
	name, title string
	place       diag.Place
	rows        []row
}

func (r *reader) fail(at diag.Place, id, found, expected, hint string) {
	r.add(diag.Problem{ID: id, Severity: diag.Error, Place: at, Found: found, Expected: expected, Hint: hint})
}

func (r *reader) add(p diag.Problem) {
	if len(r.problems) < maxProblems {
		r.problems = append(r.problems, p)
	}
}

// read takes the table apart.
func (r *reader) read() {
	whole := diag.Place{File: r.path}
	switch {
	case len(r.src) > maxBytes:
		r.fail(whole, "table.size", fmt.Sprintf("the table has %d bytes", len(r.src)), fmt.Sprintf("at most %d", maxBytes), "")
		return
	case !utf8.Valid(r.src) || bytes.IndexByte(r.src, 0) >= 0:
		r.fail(whole, "table.encoding", "the file is not UTF-8 text", "a CSV file in UTF-8", "save it again from the spreadsheet as CSV, UTF-8")
		return
	}
	r.lines = bytes.Split(r.src, []byte("\n"))
	text := bytes.TrimPrefix(r.src, []byte("\ufeff"))
	r.comma = separator(text)
	c := csv.NewReader(bytes.NewReader(text))
	c.Comma, c.Comment, c.FieldsPerRecord, c.TrimLeadingSpace = r.comma, '#', -1, r.comma != '\t'
	for n := 0; len(r.problems) < maxProblems; {
		fields, err := c.Read()
		var broken *csv.ParseError
		switch {
		case err == io.EOF:
			r.complete(whole, n)
			return
		case errors.As(err, &broken):
			r.fail(r.placeAt(broken.Line, broken.Column), "table.quote", "a quoted field is not closed, or a quote stands inside a field",
				`fields in quotes as in "Side front", a quote in them written twice`, "")
			continue
		case err != nil:
			r.fail(whole, "table.csv", err.Error(), "a CSV file", "")
			return
		}
		cells := r.cells(c, fields)
		if empty(cells) {
			continue
		}
		if n++; n == 1 {
			r.header(cells)
		} else if n > maxRows {
			r.fail(cells[0].place, "table.rows", fmt.Sprintf("the table has more than %d rows", maxRows), "fewer", "")
			return
		} else if r.columns != nil {
			r.row(cells)
		}
	}
}

func (r *reader) complete(whole diag.Place, rows int) {
	if rows < 2 && len(r.problems) == 0 {
		r.fail(whole, "table.empty", "the table has no rows", "a row of column names, then one row for each height of each piece",
			"piece,level,height,width\nfront,bust,160,52.5")
	}
}

// separator is what the first row is divided by most.
func separator(text []byte) rune {
	for _, line := range bytes.Split(text, []byte("\n")) {
		if line = bytes.TrimSpace(line); len(line) == 0 || line[0] == '#' {
			continue
		}
		best, most := ',', 0
		for _, c := range []rune{',', ';', '\t'} {
			if n := strings.Count(string(line), string(c)); n > most {
				best, most = c, n
			}
		}
		return best
	}
	return ','
}

func (r *reader) cells(c *csv.Reader, fields []string) []cell {
	cells := make([]cell, len(fields))
	for i, f := range fields {
		line, col := c.FieldPos(i)
		cells[i] = cell{strings.TrimSpace(f), r.placeAt(line, col)}
	}
	return cells
}

// placeAt turns a column in bytes into one in characters.
func (r *reader) placeAt(line, col int) diag.Place {
	at := diag.Place{File: r.path, Line: line, Column: col}
	if line >= 1 && line <= len(r.lines) && col >= 1 {
		text := r.lines[line-1]
		if line == 1 {
			text = bytes.TrimPrefix(text, []byte("\ufeff"))
		}
		at.Column = utf8.RuneCount(text[:min(col-1, len(text))]) + 1
	}
	return at
}

func empty(cells []cell) bool {
	for _, c := range cells {
		if c.text != "" {
			return false
		}
	}
	return true
}

// header finds the columns.
func (r *reader) header(cells []cell) {
	known := []string{"piece", "level", "height", "width", "front"}
	columns := map[string]column{}
	before := len(r.problems)
	for i, c := range cells {
		if c.text == "" {
			continue
		}
		name, unit, ok := heading(c.text)
		switch _, twice := columns[name]; {
		case !in(name, known):
			expected := "one of " + strings.Join(known, ", ")
			if near := diag.Nearest(name, known); near != "" {
				expected += fmt.Sprintf(" (nearest: %q)", near)
			}
			r.fail(c.place, "table.column", fmt.Sprintf("found a column %q", c.text), expected, "")
		case !ok:
			r.fail(c.place, "table.unit", fmt.Sprintf("found a column %q in a unit that is not known", c.text), "mm or cm, or none for mm", "")
		case twice:
			r.fail(c.place, "table.column", fmt.Sprintf("found a second column %s", name), "one", "")
		default:
			columns[name] = column{i, unit}
		}
	}
	for _, name := range known[:4] {
		if _, ok := columns[name]; !ok && len(r.problems) == before {
			r.fail(cells[0].place, "table.column", "the first row names no column "+name, "the columns piece, level, height, width and, if wanted, front", "")
		}
	}
	if len(r.problems) == before {
		r.columns = columns
	}
}

func in(word string, list []string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

// heading takes a column's name and unit apart: "Width (cm)" is width, 10 mm.
func heading(text string) (name string, unit int, ok bool) {
	words := strings.FieldsFunc(strings.ToLower(text), func(c rune) bool { return strings.ContainsRune(" ()[]_,/", c) })
	if len(words) == 0 {
		return "", 0, false
	}
	if len(words) == 1 {
		return words[0], 1, true
	}
	switch words[1] {
	case "mm":
		return words[0], 1, len(words) == 2
	case "cm":
		return words[0], 10, len(words) == 2
	}
	return words[0], 0, false
}
