package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern/check"
)

//go:embed page.html
var pageHTML string

// HTML writes a page as one file that needs no script, no font and no network.
// The picture is set in as it is: it must come from package overlay, which
// escapes all that it draws.
func HTML(w io.Writer, p Page) error {
	t, err := template.New("page").Parse(pageHTML)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err = t.Execute(&out, p.fields()); err != nil {
		return err
	}
	_, err = w.Write(out.Bytes())
	return err
}

// fields are what the page's template shows, cleaned.
func (p Page) fields() map[string]any {
	faults, changes := p.sentences()
	first, rest, edges := tables(p.Change)
	notes, more := p.between()
	shown := make([]map[string]string, len(notes))
	for i, n := range notes {
		shown[i] = map[string]string{"Head": Clean(n.head()), "Subject": Clean(n.Subject), "Because": Clean(n.Because)}
	}
	return map[string]any{
		"Head": p.windowTitle(), "Title": Clean(p.Title), "From": Clean(p.From), "To": Clean(p.To), "Note": cleaned(p.Note), "Notes": shown, "More": more,
		"Faults": cleaned(faults), "Sentences": cleaned(changes), "First": htmlTables(first, "first"), "Rest": htmlTables(rest, "rest"), "Edges": htmlTables(edges, "edges"),
		"Unchanged": cleaned(unchanged(p.Change)), "Pressing": cleaned(pressing(p.Change)), "Caution": check.Caution, "Picture": inline(p.Picture),
	}
}

// windowTitle names the page in a list of windows, where 70 characters have room.
func (p Page) windowTitle() string {
	const room = 70
	title := Clean(p.Title)
	for _, s := range []string{title + ": " + Clean(p.From) + " to " + Clean(p.To), title + ": " + Clean(p.To), title} {
		if utf8.RuneCountInString(s) <= room {
			return s
		}
	}
	return string([]rune(title)[:room-1]) + "…"
}

func cleaned(list []string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = Clean(s)
	}
	return out
}

// htmlTable is a table with the id of its heading.
type htmlTable struct {
	ID string
	table
}

func htmlTables(list []table, id string) []htmlTable {
	out := make([]htmlTable, len(list))
	for i, t := range list {
		t.Title, t.Head, t.Under = Clean(t.Title), cleaned(t.Head), cleaned(t.Under)
		rows := make([]row, len(t.Rows))
		for j, r := range t.Rows {
			rows[j] = row{cleaned(r.Cells), r.Moved}
		}
		t.Rows = rows
		out[i] = htmlTable{fmt.Sprintf("%s-%d", id, i+1), t}
	}
	return out
}

// inline takes the XML head off a picture, which has no place inside HTML.
func inline(svg []byte) template.HTML {
	if i := bytes.Index(svg, []byte("<svg")); i >= 0 {
		return template.HTML(strings.TrimSpace(string(svg[i:])))
	}
	return ""
}
