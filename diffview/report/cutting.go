package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/material"
	"seamkeep/pattern/sheet"
)

// Cutting writes the cutting list.
func (t *Text) Cutting(c material.Cutting) {
	t.list(CuttingList(c))
}

// CuttingList is the cutting list as a terminal and a page show it.
func CuttingList(c material.Cutting) sheet.List {
	out := sheet.List{Title: "Cutting list", Before: []sheet.Line{
		{Words: versionLine(c.Garment, c.Version), Hang: 2},
		{Words: keptWord(c.Version) + "; " + walkedWords(c.Walked), Hang: 2},
	}}
	if len(c.Cloths) == 0 {
		out.Before = append(out.Before, sheet.Line{Words: "no piece yet"})
	}
	for _, cloth := range c.Cloths {
		part := sheet.Part{Head: clothName(cloth.Name) + ": " + Plural(cloth.Pieces, "piece") + " to cut"}
		for _, x := range cloth.Cuts {
			part.Entries = append(part.Entries, []sheet.Line{
				{Words: fmt.Sprintf("%d of %d  %s: %s; %s", x.Label, x.Of, pieceTitle(x), cutWords(x), grainWords(x.Grain)), Indent: 2, Hang: 10},
				{Words: "allowance: " + allowanceWords(x), Indent: 10, Hang: 12},
			})
		}
		out.Parts = append(out.Parts, part)
	}
	return out
}

// list writes a list that pages show too.
func (t *Text) list(l sheet.List) {
	t.listLines(l.Before)
	for _, p := range l.Parts {
		t.Para("", "")
		t.Para(p.Head, "  ")
		for _, entry := range p.Entries {
			t.listLines(entry)
		}
	}
	if len(l.After) > 0 {
		t.Para("", "")
		t.listLines(l.After)
	}
}

func (t *Text) listLines(lines []sheet.Line) {
	for _, l := range lines {
		t.Para(strings.Repeat(" ", l.Indent)+l.Words, strings.Repeat(" ", l.Hang))
	}
}

// versionLine names the garment and the version.
func versionLine(garment string, v material.Version) string {
	line := garment + ", " + v.Label
	if v.Date != "" {
		line += ", " + v.Date
	}
	if len(v.Tags) > 0 {
		line += ", tagged " + strings.Join(v.Tags, ", ")
	}
	return line
}

func keptWord(v material.Version) string {
	if v.Kept {
		return "KEPT"
	}
	return "NOT KEPT: this is in no version of git"
}

// walkedWords say whether the seams match, and within what.
func walkedWords(s check.Standing) string {
	switch {
	case !s.Walked(), len(s.Purpose) > 0:
		return s.Words()
	case s.Rough:
		return fmt.Sprintf("%s, as a rough mock-up: the sides of %s match within that, in mm", s.Head(), Plural(s.Seams, "seam"))
	}
	return fmt.Sprintf("%s: the sides of %s match within that, in mm", s.Head(), Plural(s.Seams, "seam"))
}

func clothName(name string) string {
	if name == "" {
		return "no cloth recorded"
	}
	return name
}

func pieceTitle(c material.Cut) string {
	if c.Title == "" || strings.EqualFold(c.Title, strings.ReplaceAll(c.Piece, "-", " ")) {
		return c.Piece
	}
	return c.Piece + " (" + c.Title + ")"
}

// cutWords says how often and which way round a piece is cut.
func cutWords(c material.Cut) string {
	var words string
	switch c.Way {
	case pattern.Pair:
		words = Plural(c.Count, "pair") + ", mirrored"
	case pattern.OnFold:
		words = Plural(c.Count, "piece") + " on the fold at " + c.Fold
	default:
		words = Plural(c.Count, "piece") + ", all alike"
		if c.Count == 1 {
			words = "1 piece"
		}
	}
	if c.Assumed {
		words += " (taken so, since none is recorded)"
	}
	return words
}

func grainWords(lean pattern.Opt) string {
	switch {
	case !lean.Set:
		return "no grain drawn: upright"
	case math.Abs(lean.Value) < 0.05:
		return "grain upright"
	case math.Abs(lean.Value) > 89.95:
		return "grain across"
	case lean.Value > 0:
		return fmt.Sprintf("grain leans %.1f degrees to the left", lean.Value)
	}
	return fmt.Sprintf("grain leans %.1f degrees to the right", -lean.Value)
}

// allowanceWords lists the edges by their allowance: "12 front, back; 0 hem".
func allowanceWords(c material.Cut) string {
	var order []string
	edges := map[string][]string{}
	for _, e := range c.Edges {
		key := trimmed(e.MM)
		switch e.Source {
		case material.FromFold:
			key = "fold"
		case material.FromNone:
			key = "none recorded"
		}
		if edges[key] == nil {
			order = append(order, key)
		}
		edges[key] = append(edges[key], e.Edge)
	}
	parts := make([]string, len(order))
	for i, key := range order {
		parts[i] = key + " " + strings.Join(edges[key], ", ")
		if key == "none recorded" {
			parts[i] = key + ": " + strings.Join(edges[key], ", ")
		}
	}
	return strings.Join(parts, "; ")
}

// CuttingMarkdown writes the cutting list for a hosting page.
func CuttingMarkdown(w io.Writer, c material.Cutting) error {
	var b strings.Builder
	fmt.Fprintf(&b, "### Cutting list: %s\n\n**%s**, **%s**\n", markdownText(versionLine(c.Garment, c.Version)), markdownText(keptWord(c.Version)), markdownText(walkedWords(c.Walked)))
	for _, cloth := range c.Cloths {
		t := table{Title: clothName(cloth.Name) + ": " + Plural(cloth.Pieces, "piece") + " to cut", Head: []string{"no.", "piece", "cut", "grain", "allowance, mm"}, Words: true}
		for _, x := range cloth.Cuts {
			t.Rows = append(t.Rows, row{Cells: []string{fmt.Sprintf("%d of %d", x.Label, x.Of), pieceTitle(x), cutWords(x), grainWords(x.Grain), allowanceWords(x)}})
		}
		t.markdown(&b)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// CuttingCSV writes the cutting list as a table, a row for each edge of each piece
// and cloth, lengths in mm. It has no figure that no edge has.
func CuttingCSV(w io.Writer, c material.Cutting) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"number", "piece", "title", "cloth", "pieces", "way", "count", "grain_degrees", "edge", "edge_length", "allowance", "version", "kept", "walked"}}
	for _, cloth := range c.Cloths {
		for _, x := range cloth.Cuts {
			grain := ""
			if x.Grain.Set {
				grain = figure(x.Grain.Value, 1)
			}
			for _, e := range x.Edges {
				rows = append(rows, []string{
					strconv.Itoa(x.Label), x.Piece, csvText(x.Title), csvText(cloth.Name), strconv.Itoa(x.Pieces), string(x.Way), strconv.Itoa(x.Count), grain,
					e.Edge, figure(e.Length, 3), figure(e.MM, 3), csvText(c.Version.Label), strconv.FormatBool(c.Version.Kept), c.Walked.Head(),
				})
			}
		}
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("write CSV: %w", err)
	}
	return nil
}

// csvText cleans text from elsewhere; what a spreadsheet would take for a formula
// gets a quote before it.
func csvText(s string) string {
	s = Clean(s)
	if s != "" && strings.ContainsRune("=+-@", rune(s[0])) {
		return "'" + s
	}
	return s
}

// figure prints a number with at most so many decimals, none of them needless.
func figure(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
