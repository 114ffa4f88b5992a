// Package findings holds a page for every id that a finding can have: what it means,
// why it matters, how to mend it and where its figure comes from. The pages are the
// Markdown files beside it; seamkeep explain shows them and reports take their titles.
package findings

import (
	"embed"
	"fmt"
	"path"
	"sort"
	"strings"
)

//go:embed *.md
var files embed.FS

// Page explains one id. Each text is one paragraph without line breaks.
type Page struct {
	ID      string
	Title   string // one sentence
	Means   string
	Matters string
	Mend    string
	Figure  string // where the limit comes from: a source, or "common practice, no source"
}

// All gives every page, in the order of their ids. What is not written as a page is
// left out; the tests of this package allow none.
func All() []Page {
	pages, _ := read()
	return pages
}

// Find gives the page of an id.
func Find(id string) (Page, bool) {
	for _, p := range All() {
		if p.ID == id {
			return p, true
		}
	}
	return Page{}, false
}

// IDs lists every id that has a page, in order.
func IDs() []string {
	pages := All()
	ids := make([]string, len(pages))
	for i, p := range pages {
		ids[i] = p.ID
	}
	return ids
}

// read takes all files apart. The error is that of the first page that is not
// written as one, or whose id stands twice.
func read() ([]Page, error) {
	entries, err := files.ReadDir(".")
	if err != nil {
		return nil, err
	}
	var pages []Page
	var first error
	seen := map[string]bool{}
	for _, e := range entries {
		src, err := files.ReadFile(e.Name())
		if err != nil {
			return nil, err
		}
		_, text, _ := strings.Cut("\n"+string(src), "\n## ") // what stands above the first page is for editors
		for _, section := range strings.Split(text, "\n## ") {
			p, err := parse(section)
			if err == nil && seen[p.ID] {
				err = fmt.Errorf("%s has two pages", p.ID)
			}
			if err == nil {
				seen[p.ID] = true
				pages = append(pages, p)
			} else if first == nil {
				first = fmt.Errorf("%s: %w", path.Base(e.Name()), err)
			}
		}
	}
	sort.Slice(pages, func(i, j int) bool { return pages[i].ID < pages[j].ID })
	return pages, first
}

// parse reads one page, from its id on: the title in the next line, then four
// paragraphs that each begin with their word.
func parse(section string) (Page, error) {
	id, rest, _ := strings.Cut(section, "\n")
	title, rest, _ := strings.Cut(rest, "\n")
	p := Page{ID: strings.TrimSpace(id), Title: strings.TrimSpace(title)}
	if p.ID == "" || p.Title == "" {
		return p, fmt.Errorf("page %q has no id or no title", p.ID)
	}
	for _, part := range []struct {
		word string
		to   *string
	}{{"Means", &p.Means}, {"Matters", &p.Matters}, {"Mend", &p.Mend}, {"Figure", &p.Figure}} {
		lead := "**" + part.word + ".** "
		rest = strings.TrimLeft(rest, "\n")
		if !strings.HasPrefix(rest, lead) {
			return p, fmt.Errorf("page %s lacks a paragraph that begins %q", p.ID, lead)
		}
		end := strings.Index(rest[len(lead):], "\n\n")
		if next := strings.Index(rest[len(lead):], "\n**"); next >= 0 && (end < 0 || next < end) {
			end = next
		}
		if end < 0 {
			end = len(rest) - len(lead)
		}
		*part.to = strings.Join(strings.Fields(rest[len(lead):len(lead)+end]), " ")
		rest = rest[len(lead)+end:]
	}
	if strings.TrimSpace(rest) != "" {
		return p, fmt.Errorf("page %s goes on behind its four paragraphs", p.ID)
	}
	return p, nil
}
