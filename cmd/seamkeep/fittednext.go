package main

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/step"
)

// pinnedSteps turns what was pinned into alterations of the pattern as it is, a step for each
// seam and way: taken in where cloth was pinned out, let out where it is wanting. What
// the pattern has no seam or level for any more is left out.
func pinnedSteps(record *pattern.Fitting, g *pattern.Garment) []step.Step {
	var out []step.Step
	at := map[string]int{}
	for _, p := range record.Pinned {
		verb, mm := "take-in", p.Amount
		if mm < 0 {
			verb, mm = "let-out", -mm
		}
		one := step.Step{Verb: verb, Seam: p.Seam, Amounts: []step.Amount{{MM: mm, At: p.Level}}}
		if mm == 0 || step.Check(one, g).HasErrors() {
			continue
		}
		if i, ok := at[verb+" "+p.Seam]; ok {
			out[i].Amounts = append(out[i].Amounts, one.Amounts...)
			continue
		}
		at[verb+" "+p.Seam] = len(out)
		out = append(out, one)
	}
	return out
}

// sayPinned gives the command that keeps what was pinned, once it is drawn.
func (a *app) sayPinned(record *pattern.Fitting, g *pattern.Garment) {
	steps := pinnedSteps(record, g)
	if len(steps) == 0 {
		return
	}
	k := keeping{name: "after-" + record.Name, because: "what the fitting showed", lines: map[string][]string{answers: {record.Name}}}
	var lines []string
	for _, s := range steps {
		lines = append(lines, "Does: "+s.String())
	}
	a.say("once what was pinned is drawn, this keeps it, and is refused where it is not:")
	for _, line := range k.command(lines) {
		fmt.Fprintln(a.err, "  "+line)
	}
}
