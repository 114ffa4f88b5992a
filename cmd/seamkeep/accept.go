package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/check/findings"
	"seamkeep/pattern/diag"
)

func acceptCommand(a *app) *cobra.Command {
	var because string
	c := &cobra.Command{
		Use:   "accept ID [SUBJECT] --because TEXT",
		Short: "Let a finding stand on purpose, and say why",
		Long: `Accept writes a line into the garment file that lets a finding of check stand:
its id, the seam, run or piece it is about, and how bad it is now, at each of
its places where it has several. From then on it is a note with your reason, for
everybody who works on the pattern. If it gets worse at any of them, it is told
again as before; once it is mended, check asks to take the line out.

Faults of a file, of an outline or of a recorded length cannot be accepted.`,
		Example: `  seamkeep accept seam.near side-back-back --because "eased in with the iron"`,
		Args:    cobra.RangeArgs(1, 2),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.accept(args[0], strings.Join(args[1:], ""), strings.Join(strings.Fields(because), " "))
		},
	}
	c.Flags().StringVar(&because, "because", "", "why it is meant to stand")
	return c
}

func (a *app) accept(id, subject, because string) error {
	if because == "" {
		return usage("say why it is to stand: --because TEXT")
	}
	if _, known := findings.Find(id); !known {
		return usage("no finding has the id %q%s\nseamkeep explain lists them", report.Clean(id), didYouMean(id, findings.IDs()))
	}
	if !check.Acceptable(id) {
		return refused("%s cannot be accepted; mend it\nseamkeep explain %s tells how", id, id)
	}
	p, l, err := a.open("")
	if err == nil {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	x, err := pickFinding(check.Run(check.Input{Garment: l.folder.Garment, Body: l.body}), id, subject)
	if err != nil {
		return err
	}
	after := alter.Accept(l.folder.Garment, x, because)
	if err := a.rewrite(p, l, after); err != nil {
		return err
	}
	t := a.text()
	for _, r := range after.Accepted {
		if r.Address() == x.Address() {
			t.Para(fmt.Sprintf("accepted %s %s: %s", r.Address(), upTo(r), r.Reason), "  ")
		}
	}
	return t.Err
}

// upTo says how bad an accepted finding may be, place by place where it has several.
func upTo(r pattern.Accepted) string {
	if len(r.Parts) == 0 {
		return fmt.Sprintf("up to %g", r.Amount)
	}
	var words []string
	for _, p := range r.Parts {
		words = append(words, fmt.Sprintf("at %s up to %g", p.At, p.Amount))
	}
	return strings.Join(words, ", ")
}

// pickFinding gives the finding of an id about a subject, the worst of several; without
// a subject there must be only one that has the id.
func pickFinding(list diag.List, id, subject string) (diag.Problem, error) {
	var best *diag.Problem
	var subjects []string
	for i, x := range list {
		if x.ID != id {
			continue
		}
		if !slices.Contains(subjects, x.Subject) {
			subjects = append(subjects, x.Subject)
		}
		if (subject == "" || x.Subject == subject) && (best == nil || x.Amount > best.Amount) {
			best = &list[i]
		}
	}
	switch {
	case len(subjects) == 0:
		return diag.Problem{}, refused("there is no %s to accept\nseamkeep check lists what there is", id)
	case best == nil:
		return diag.Problem{}, refused("there is no %s about %s, but about %s", id, report.Clean(subject), strings.Join(subjects, ", "))
	case subject == "" && len(subjects) > 1:
		return diag.Problem{}, usage("%s is found several times; say about which: %s", id, strings.Join(subjects, ", "))
	}
	return *best, nil
}
