package main

import (
	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
)

func compareCommand(a *app) *cobra.Command {
	var asJSON, exitCode bool
	c := &cobra.Command{
		Use:   "compare [A [B]]",
		Short: "Tell in figures what changed between two versions",
		Long: `Compare tells what changed: by how much each edge was let out or taken in and
where, widths, girths, gaps and seams before and after. Without versions HEAD is
compared with the working tree; with one, that version with the working tree.
A..B, A...B (from where they parted), index and work are understood.`,
		Example:           "  seamkeep compare\n  seamkeep compare HEAD~1 HEAD\n  seamkeep compare mock-up-1 --json",
		Args:              cobra.MaximumNArgs(2),
		ValidArgsFunction: a.completeVersions,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.compareVersions(args, asJSON, exitCode)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write seamkeep.compare/1")
	c.Flags().BoolVar(&exitCode, "exit-code", false, "exit with 1 where something differs")
	return c
}

func (a *app) compareVersions(args []string, asJSON, exitCode bool) error {
	p, err := a.locate()
	if err != nil {
		return err
	}
	c, err := a.compare(p, args)
	if err != nil {
		return err
	}
	if asJSON {
		err = report.WriteJSON(a.out, report.ChangeJSON(c.change, c.from, c.to))
	} else {
		t := a.text()
		t.Change(c.change, c.from, c.to)
		err = t.Err
		a.caution(c.change.After, c.change.Body)
	}
	if err != nil {
		return err
	}
	if exitCode && c.change.Any() {
		return found(exitFindings)
	}
	return nil
}
