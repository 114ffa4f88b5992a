package check

import (
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Private finds what the words of a fitting tell of the body that wore it; nothing where
// its measures are not known. Its figures are of the garment and are not looked at.
func Private(f *pattern.Fitting, b *pattern.Body) diag.List {
	var out diag.List
	say := func(place diag.Place, words string) {
		if level := b.Told(words); level != "" {
			out = append(out, diag.Problem{
				ID: "fitting.private", Severity: diag.Error, Place: place, Subject: f.Name,
				Found: "the words hold the body's girth at " + level, Expected: "measures of a body in bodies/ alone",
				Hint: "say it without the figure. " + PrivateCaution,
			})
		}
	}
	for _, v := range slices.Concat(f.Moved, f.Verdicts) {
		say(v.Place, v.Of)
	}
	for _, n := range f.Notes {
		say(n.Place, n.Text)
	}
	return out
}
