package report_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"html"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
)

// told is what a reader can count in a report.
type told struct {
	sentences []string
	pieces    []string            // that changed, with what became of them
	moved     []string            // edges that moved, came or went: PIECE.EDGE
	figures   map[string][]string // girth, gaps and widths per level, before and after where they differ
}

func TestEveryReportTellsTheSame(t *testing.T) {
	for _, p := range append(samplePairs(t), specialPairs(t)...) {
		want := toldInJSON(t, p)
		assert.Equal(t, want, toldInHTML(t, p), "HTML: %s", p.name)
		assert.Equal(t, want, toldInMarkdown(t, p), "Markdown: %s", p.name)
		got := toldInText(t, p)
		got.pieces = want.pieces // text names pieces by their edges
		assert.Equal(t, want, got, "text: %s", p.name)
	}
}

// The reports are not all empty: the half change moves three edges of one piece.
func TestWhatIsCountedOfTheHalfChange(t *testing.T) {
	g := sample(t, "waistcoat--04-half-move")
	got := toldInHTML(t, pair{"half", sample(t, "waistcoat--03-gusset"), g, body(g)})
	assert.Equal(t, []string{"side-back, changed"}, got.pieces)
	assert.Equal(t, []string{"side-back.hem", "side-back.back", "side-back.top"}, got.moved)
	assert.Equal(t, "52.4 → 24.4", got.figures["gap front"][0])
	assert.Equal(t, "53.0 → 67.0", got.figures["width side-back"][0])
}

func arrowed(list []string) []string {
	out := []string{}
	for _, s := range list {
		out = append(out, strings.ReplaceAll(s, " -> ", " → "))
	}
	return out
}

// toldInJSON counts from the numbers, in its own way.
func toldInJSON(t testing.TB, p pair) told {
	c := p.change()
	doc, _ := document(t, report.ChangeJSON(c, "a", "b"))
	out := told{pieces: []string{}, moved: []string{}, figures: map[string][]string{}}
	for _, s := range doc["sentences"].([]any) {
		out.sentences = append(out.sentences, s.(string))
	}
	out.sentences = arrowed(out.sentences)
	levels := func(name string, v any) {
		m := v.(map[string]any)
		var cells []string
		for _, l := range c.Levels {
			if pair, ok := m[l].([]any); ok {
				cells = append(cells, figure(pair))
			}
		}
		if len(cells) > 0 {
			out.figures[name] = cells
		}
	}
	for _, v := range doc["pieces"].([]any) {
		piece := v.(map[string]any)
		if piece["status"] == "unchanged" {
			continue
		}
		name := piece["name"].(string)
		levels("width "+name, piece["widths"])
		edges := piece["edges"].([]any)
		if len(edges) > 0 {
			out.pieces = append(out.pieces, name+", "+piece["status"].(string))
		}
		for _, v := range edges {
			e := v.(map[string]any)
			most, _ := e["moved"].(map[string]any)["max"].(float64)
			parted := slices.Contains([]any{"split", "joined"}, e["status"]) // it may lie where it lay
			if slices.Contains([]any{"changed", "added", "removed"}, e["status"]) || parted && most > 0 {
				out.moved = append(out.moved, name+"."+e["name"].(string))
			}
		}
	}
	levels("girth", doc["girths"])
	for name, v := range doc["gaps"].(map[string]any) {
		levels("gap "+name, v)
	}
	return out
}

// figure prints a pair as the reports do: both where they differ by 0.05 or more.
func figure(pair []any) string {
	text := func(v any) string {
		if v == nil {
			return "-"
		}
		return fmt.Sprintf("%.1f", v)
	}
	a, before := pair[0].(float64)
	b, after := pair[1].(float64)
	if before && (!after || a-b > 0.05 || b-a > 0.05) {
		return text(pair[0]) + " → " + text(pair[1])
	}
	return text(pair[1])
}

// shown is a table of a report as a reader sees it.
type shown struct {
	title string
	rows  [][]string
	moved []bool
}

func toldInTables(tables []shown) told {
	out := told{pieces: []string{}, moved: []string{}, figures: map[string][]string{}}
	row := func(name string, cells []string) {
		cells = slices.DeleteFunc(slices.Clone(cells), func(s string) bool { return s == "" })
		if len(cells) > 0 {
			out.figures[name] = cells
		}
	}
	for _, t := range tables {
		for i, r := range t.rows {
			switch {
			case t.title == "Garment" && r[0] == "girth":
				row("girth", r[1:])
			case t.title == "Garment" && strings.HasPrefix(r[0], "predicted "):
				row(strings.TrimPrefix(r[0], "predicted "), r[1:])
			case strings.HasPrefix(t.title, "Widths") && r[0] != "together":
				row("width "+r[0], r[1:])
			case strings.Contains(t.title, ", ") && t.moved[i]:
				piece, _, _ := strings.Cut(t.title, ", ")
				out.moved = append(out.moved, piece+"."+r[0])
			}
		}
		if strings.Contains(t.title, ", ") {
			out.pieces = append(out.pieces, t.title)
		}
	}
	return out
}

func pageOf(p pair) report.Page {
	return report.Page{Title: "Waistcoat", From: "a", To: "b", Change: p.change()}
}

// toldInHTML reads a page as a browser would show it: headings, tables, lists.
func toldInHTML(t testing.TB, p pair) told {
	var page bytes.Buffer
	require.NoError(t, report.HTML(&page, pageOf(p)))
	dec := xml.NewDecoder(&page)
	dec.Strict, dec.AutoClose, dec.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var tables []shown
	var sentences []string
	var words strings.Builder
	title := ""
	for {
		token, err := dec.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		switch x := token.(type) {
		case xml.CharData:
			words.Write(x)
		case xml.StartElement:
			words.Reset()
			switch x.Name.Local {
			case "table":
				tables = append(tables, shown{title: title})
			case "tr":
				last := &tables[len(tables)-1]
				last.rows = append(last.rows, nil)
				last.moved = append(last.moved, len(x.Attr) > 0 && x.Attr[0].Value == "moved")
			}
		case xml.EndElement:
			switch x.Name.Local {
			case "h2":
				title = words.String()
			case "li":
				sentences = append(sentences, words.String())
			case "th", "td":
				rows := tables[len(tables)-1].rows
				rows[len(rows)-1] = append(rows[len(rows)-1], words.String())
			}
		}
	}
	for i := range tables { // without their heads
		tables[i].rows, tables[i].moved = tables[i].rows[1:], tables[i].moved[1:]
	}
	out := toldInTables(tables)
	out.sentences = sentences
	return out
}

var escapes = regexp.MustCompile("\\\\([\\\\`*_{}\\[\\]#|~!$])")

// toldInMarkdown reads a comment as a hosting site would show it.
func toldInMarkdown(t testing.TB, p pair) told {
	var md bytes.Buffer
	require.NoError(t, report.Markdown(&md, pageOf(p)))
	plain := func(s string) string {
		return html.UnescapeString(escapes.ReplaceAllString(strings.Trim(s, " *"), "$1"))
	}
	var tables []shown
	var sentences []string
	title, head := "", 0
	for line := range strings.Lines(md.String()) {
		line = strings.TrimSuffix(line, "\n")
		switch {
		case strings.HasPrefix(line, "- "):
			sentences = append(sentences, plain(line[2:]))
		case strings.HasPrefix(line, "**"):
			title, head = plain(line), 0
			tables = append(tables, shown{title: title})
		case strings.HasPrefix(line, "|"):
			if head++; head <= 2 {
				continue
			}
			var cells []string
			for _, c := range strings.Split(strings.Trim(line, "|"), " | ") {
				cells = append(cells, plain(c))
			}
			last := &tables[len(tables)-1]
			last.rows, last.moved = append(last.rows, cells), append(last.moved, strings.HasPrefix(line, "| **"))
		}
	}
	out := toldInTables(tables)
	out.sentences = sentences
	return out
}

// toldInText reads what a terminal shows: paragraphs end where a line is not
// indented.
func toldInText(t testing.TB, p pair) told {
	var b bytes.Buffer
	text := &report.Text{W: &b, Width: 4000}
	text.Change(p.change(), "a", "b")
	require.NoError(t, text.Err)
	out := told{moved: []string{}, figures: map[string][]string{}}
	blocks := strings.Split(b.String(), "\n\n")
	require.Greater(t, len(blocks), 1)
	out.sentences = arrowed(strings.Split(strings.TrimSpace(blocks[1]), "\n"))
	for _, block := range blocks[2:] {
		inEdges := false
		for line := range strings.Lines(block) {
			fields := strings.Fields(line)
			name, figures, isList := strings.Cut(strings.TrimSuffix(line, "\n"), ": ")
			switch {
			case len(fields) > 0 && fields[0] == "edge" && !isList:
				inEdges = true
			case inEdges:
				if len(fields) > 2 && fields[2] != "=" {
					out.moved = append(out.moved, fields[0])
				}
			case isList && !strings.HasPrefix(name, "seams"):
				for _, f := range arrowed(strings.Split(figures, ", ")) {
					_, f, _ = strings.Cut(f, " ")
					out.figures[name] = append(out.figures[name], f)
				}
			}
		}
	}
	return out
}
