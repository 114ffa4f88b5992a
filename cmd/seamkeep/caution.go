package main

import (
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
)

// caution writes, beside figures of girth and gap, how much the garment presses
// and the caution that belongs to it; nothing where it presses nowhere.
func (a *app) caution(g *pattern.Garment, b *pattern.Body) {
	if g == nil {
		return
	}
	var worn []string
	presses := false
	for _, p := range check.Presses(g, b) {
		line := p.Level + " " + check.Signed(p.AsWorn)
		if p.HasLacing {
			line += " (" + check.Signed(p.LacedShut) + ")"
		}
		worn = append(worn, line)
		presses = presses || p.Tight()
	}
	if !presses {
		return
	}
	t := a.text()
	t.Para("", "")
	t.Para("percent of the body as worn (laced shut): "+strings.Join(worn, ", "), "  ")
	t.Para(check.Caution, "  ")
}
