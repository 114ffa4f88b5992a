package alter

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
)

// Accept gives a copy of the garment that accepts a finding as bad as it is, to 0.01 of
// its unit, place by place where it has several. A record that accepted the same before,
// or a lighter or heavier finding that asks the same, gives way to it.
func Accept(g *pattern.Garment, x diag.Problem, reason string) *pattern.Garment {
	c := pattern.Clone(g)
	a := pattern.Accepted{ID: x.ID, Subject: x.Subject, Reason: reason}
	for _, p := range x.Parts {
		a.Parts = append(a.Parts, diag.Part{At: p.At, Amount: inHundredths(p.Amount)})
	}
	if len(a.Parts) == 0 {
		a.Amount = inHundredths(x.Amount)
	}
	var kept []pattern.Accepted
	placed := false
	for _, old := range c.Accepted {
		switch {
		case old.Subject != a.Subject || !check.AsksSame(old.ID, a.ID):
			kept = append(kept, old)
		case !placed:
			kept, placed = append(kept, a), true
		}
	}
	if !placed {
		kept = append(kept, a)
	}
	c.Accepted = kept
	return c
}

func inHundredths(v float64) float64 { return math.Round(v*100) / 100 }
