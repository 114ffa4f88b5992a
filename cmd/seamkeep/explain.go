package main

import (
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern/check/findings"
)

func explainCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "explain [ID]",
		Short: "Tell what a finding means, why it matters and how to mend it",
		Long: `Explain tells what a finding means, why it matters, how to mend it and where its
figure comes from. ID is what check prints in brackets. Without an ID all
findings are listed; with the first word of one, such as seam, those that begin
with it.`,
		Example: "  seamkeep explain seam.segment\n  seamkeep explain notch\n  seamkeep explain",
		Args:    cobra.MaximumNArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return findings.IDs(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.listFindings(findings.All())
			}
			return a.explain(args[0])
		},
	}
}

func (a *app) explain(id string) error {
	if p, ok := findings.Find(id); ok {
		t := a.text()
		t.Para(p.ID+": "+p.Title, "  ")
		for _, part := range []struct{ word, text string }{
			{"Means", p.Means}, {"Matters", p.Matters}, {"Mend", p.Mend}, {"Figure", p.Figure},
		} {
			t.Para("", "")
			t.Para(part.word+". "+part.text, "  ")
		}
		return t.Err
	}
	var family []findings.Page
	for _, p := range findings.All() {
		if strings.HasPrefix(p.ID, id+".") {
			family = append(family, p)
		}
	}
	if len(family) == 0 {
		return usage("no finding has the id %q%s\nseamkeep explain lists them", report.Clean(id), didYouMean(id, findings.IDs()))
	}
	return a.listFindings(family)
}

func (a *app) listFindings(pages []findings.Page) error {
	t := a.text()
	for _, p := range pages {
		t.Para(p.ID+": "+p.Title, "    ")
	}
	return t.Err
}
