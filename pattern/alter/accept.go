package alter

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
)

// Accept gives a copy of the garment that accepts a finding as bad as it is, to 0.01 of
// its unit. A record that accepted the same before, or a lighter or heavier finding
// that asks the same, gives way to it.
func Accept(g *pattern.Garment, x diag.Problem, reason string) *pattern.Garment {
	c := pattern.Clone(g)
	a := pattern.Accepted{ID: x.ID, Subject: x.Subject, Amount: math.Round(x.Amount*100) / 100, Reason: reason}
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
