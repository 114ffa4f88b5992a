package check

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// warnsAbove tells the seams, and the garment, that are to be mentioned only from a
// difference on that is refused anyway.
func warnsAbove(g *pattern.Garment) diag.List {
	var out diag.List
	for _, t := range g.Tolerances {
		if t.Kind == "seam" && t.Warn.Set && t.Warn.Value > t.Value+slack {
			out = append(out, warnAbove("the garment", "garment", t.Place, t.Warn.Value, t.Value))
		}
	}
	for i := range g.Seams {
		s := &g.Seams[i]
		if s.Within.Set && s.Warn.Set && s.Warn.Value > s.Within.Value+slack {
			out = append(out, warnAbove("seam "+s.Name, s.Name, s.Place, s.Warn.Value, s.Within.Value))
		}
	}
	return out
}

func warnAbove(what, subject string, place diag.Place, warn, limit float64) diag.Problem {
	return diag.Problem{
		ID: "seam.warn-above", Severity: diag.Warning, Place: place, Subject: subject, Amount: warn - limit,
		Found:    fmt.Sprintf("%s warns from %g mm on, above its tolerance of %g, so it never warns", what, warn, limit),
		Expected: "a warning below the tolerance",
		Hint:     fmt.Sprintf("write warn with a number below %g, or leave it out", limit),
	}
}
