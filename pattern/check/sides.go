package check

import (
	"fmt"

	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// joint is two places on outlines that a seam lays on each other.
type joint struct{ a, b string }

// joints gives the places that the ends of all seams bring together.
func joints(walks []*measure.Walk) map[joint]bool {
	set := map[joint]bool{}
	for _, w := range walks {
		if w.Seam.Mirrored {
			continue
		}
		last, other := w.First.Parts[len(w.First.Parts)-1], w.Second.Parts[len(w.Second.Parts)-1]
		for _, j := range []joint{
			{w.First.Parts[0].Begins(), w.Second.Parts[0].Begins()},
			{last.Ends(), other.Ends()},
		} {
			set[j], set[joint{j.b, j.a}] = true, true
		}
	}
	return set
}

// brokenSides checks that each edge of a side joined by + begins where the one
// before it ended: at the same corner, or at one that a seam joins to it.
func brokenSides(w *measure.Walk, ends map[joint]bool) diag.List {
	var out diag.List
	for _, side := range []measure.Side{w.First, w.Second} {
		for i := 1; i < len(side.Parts); i++ {
			from, to := side.Parts[i-1].Ends(), side.Parts[i].Begins()
			if from == to || ends[joint{from, to}] {
				continue
			}
			before, after := side.Parts[i-1], side.Parts[i]
			out = append(out, diag.Problem{
				ID: "seam.broken-side", Severity: diag.Error, Place: after.Ref.Place, Subject: w.Seam.Name,
				Found:    fmt.Sprintf("seam %s: %s ends at %s, but %s begins at %s", w.Seam.Name, before.Ref, from, after.Ref, to),
				Expected: "edges joined by + that meet at one corner, or at corners that a seam joins",
				Hint:     "list the edges in the order in which they are sewn, along the outline (anticlockwise)",
			})
		}
	}
	return out
}
