package main

import (
	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

func checkCommand(a *app) *cobra.Command {
	var asJSON bool
	var rev string
	c := &cobra.Command{
		Use:   "check",
		Short: "Find what is wrong with the pattern, and how to mend it",
		Long: `Check reads the whole pattern folder and reports every finding: what the files
say wrongly, outlines that cross themselves, seams that do not match, gaps
outside the wanted range. Errors refuse a commit; warnings and notes never do.

The id of a finding stands in brackets behind it; explain tells what it means,
and accept lets it stand on purpose.`,
		Example: "  seamkeep check\n  seamkeep check --rev HEAD~2\n  seamkeep check --json",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.check(rev, asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write seamkeep.check/1")
	c.Flags().StringVar(&rev, "rev", "", "a version instead of the working tree: a revision, or index")
	return c
}

func (a *app) check(rev string, asJSON bool) error {
	p, err := a.locate()
	if err != nil {
		return err
	}
	if rev == "" {
		rev = a.defaultSpec(p)
	}
	l, problems, err := p.load(text.NewLoader(), rev)
	if err != nil {
		return err
	}
	problems = append(problems, judge.LeftOut(l.snap, p.dir)...)
	if g := l.folder.Garment; g != nil && !problems.HasErrors() {
		problems = append(problems, check.Run(check.Input{Garment: g, Body: l.body})...)
	}
	problems.Sort()
	if asJSON {
		err = report.WriteJSON(a.out, report.CheckJSON(problems))
	} else {
		t := a.text()
		t.Problems(problems)
		if len(problems) > 0 {
			t.Para("", "")
		}
		t.Para(report.Count(problems), "")
		err = t.Err
		if len(problems) > len(problems.Only(diag.Note)) {
			a.say("seamkeep explain ID tells what a finding means")
		}
	}
	if err != nil {
		return err
	}
	return found(codeOf(problems))
}
