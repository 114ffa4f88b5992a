package judge

import (
	"maps"
	"slices"
	"strings"

	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
	"seamkeep/pattern/text"
)

// answered warns of a fitting that the note answers and that no changed folder keeps, and of
// one that was cut from the alteration itself: what it showed is for the next one.
// Folders that keep no fittings at all leave them on paper, and are not asked.
func (q *Request) answered(n *note.Note, folders []Folder) diag.List {
	cutFrom := map[string][]string{} // of each fitting, in every folder that keeps one of its name
	for _, f := range folders {
		names, _ := text.FittingNames(q.After, f.Dir)
		for _, name := range names {
			version := ""
			if kept, _ := text.ReadFittingIn(q.After, f.Dir, name); kept != nil {
				version = kept.Version
			}
			cutFrom[name] = append(cutFrom[name], version)
		}
	}
	if len(cutFrom) == 0 {
		return nil
	}
	var out diag.List
	for _, g := range n.Groups {
		for _, e := range g.Answers {
			versions, kept := cutFrom[e.Text]
			switch {
			case !kept:
				out = append(out, unkept(e, slices.Sorted(maps.Keys(cutFrom))))
			case g.Name != "" && slices.Contains(versions, g.Name):
				out = append(out, diag.Problem{
					ID: "note.answers", Severity: diag.Warning, Place: e.Place, Subject: e.Text,
					Found: "the note answers " + e.Text + ", which was cut from " + g.Name + " itself", Expected: "a fitting of an earlier version",
					Hint: "name the fitting that this version answers; what " + e.Text + " showed is for the next one",
				})
			}
		}
	}
	return out
}

// unkept says that no fitting of a name is there.
func unkept(e note.Entry, kept []string) diag.Problem {
	p := diag.Problem{
		ID: "note.answers", Severity: diag.Warning, Place: e.Place, Subject: e.Text,
		Found: "the note answers " + e.Text + ", but no fitting of that name is kept", Expected: "one of " + strings.Join(kept, ", "),
		Hint: "seamkeep fitted NAME keeps what a fitting showed",
	}
	if near := diag.Nearest(e.Text, kept); near != "" {
		p.Hint = "did you mean " + near + "?"
	}
	return p
}
