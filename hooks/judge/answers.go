package judge

import (
	"slices"
	"strings"

	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
	"seamkeep/pattern/text"
)

// answered warns of a fitting that the note answers and that no changed folder keeps.
// Folders that keep no fittings at all leave them on paper, and are not asked.
func (q *Request) answered(n *note.Note, folders []Folder) diag.List {
	var kept []string
	for _, f := range folders {
		names, _ := text.FittingNames(q.After, f.Dir)
		kept = append(kept, names...)
	}
	if len(kept) == 0 {
		return nil
	}
	var out diag.List
	for _, g := range n.Groups {
		for _, e := range g.Answers {
			if slices.Contains(kept, e.Text) {
				continue
			}
			p := diag.Problem{
				ID: "note.answers", Severity: diag.Warning, Place: e.Place, Subject: e.Text,
				Found: "the note answers " + e.Text + ", but no fitting of that name is kept", Expected: "one of " + strings.Join(kept, ", "),
				Hint: "seamkeep fitted NAME keeps what a fitting showed",
			}
			if near := diag.Nearest(e.Text, kept); near != "" {
				p.Hint = "did you mean " + near + "?"
			}
			out = append(out, p)
		}
	}
	return out
}
