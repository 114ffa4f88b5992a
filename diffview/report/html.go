package report

import (
	"bytes"
	_ "embed"
	"html/template"
	"io"
	"strings"

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
	clean := func(list []string) []string {
		out := make([]string, len(list))
		for i, s := range list {
			out[i] = Clean(s)
		}
		return out
	}
	var out bytes.Buffer
	err = t.Execute(&out, map[string]any{
		"Title": Clean(p.Title), "From": Clean(p.From), "To": Clean(p.To), "Note": clean(p.Note),
		"Sentences": clean(p.sentences()), "Tables": tables(p.Change), "Unchanged": unchanged(p.Change),
		"Pressing": pressing(p.Change), "Caution": check.Caution, "Picture": inline(p.Picture),
	})
	if err != nil {
		return err
	}
	_, err = w.Write(out.Bytes())
	return err
}

// inline takes the XML head off a picture, which has no place inside HTML.
func inline(svg []byte) template.HTML {
	if i := bytes.Index(svg, []byte("<svg")); i >= 0 {
		return template.HTML(strings.TrimSpace(string(svg[i:])))
	}
	return ""
}
