package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

func walkCommand(a *app) *cobra.Command {
	var asJSON bool
	var rev string
	c := &cobra.Command{
		Use:   "walk [SEAM...]",
		Short: "Measure both sides of every seam against each other",
		Long: `Walk measures both sides of every seam on the sewing line, whole and between
matching notches; where a seam has no notches, from the waist. A seam whose
sides differ by more than the tolerance FAILs and ends the command with 1.

With names of seams, only those are walked and all their segments are shown.`,
		Example:           "  seamkeep walk\n  seamkeep walk side-back-back\n  seamkeep walk --json",
		ValidArgsFunction: a.completeSeams,
		RunE:              func(_ *cobra.Command, args []string) error { return a.walk(args, rev, asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write seamkeep.walk/1")
	c.Flags().StringVar(&rev, "rev", "", "a version instead of the working tree: a revision, or index")
	return c
}

func (a *app) walk(names []string, rev string, asJSON bool) error {
	_, l, err := a.open(rev)
	if err != nil {
		return err
	}
	g := l.folder.Garment
	seams, err := pickSeams(g, names)
	if err != nil {
		return err
	}
	var walks []*measure.Walk
	var problems diag.List
	code := exitFine
	for _, s := range seams {
		w, problem := measure.WalkSeam(g, s, measure.Accuracy)
		if problem != nil {
			problems = append(problems, *problem)
			continue
		}
		walks = append(walks, w)
		if !check.Judge(g, w).OK && !check.Stays(g, w) {
			code = exitFindings
		}
	}
	if asJSON {
		err = report.WriteJSON(a.out, report.WalkJSON(g, walks))
	} else {
		t := a.text()
		t.Walks(g, walks, len(names) > 0)
		err = t.Err
		if len(g.Seams) == 0 {
			a.say("no seam is described yet: seamkeep describe proposes them")
		}
		if code != exitFine {
			a.say("", "a seam that FAILs is refused at a commit; check tells how to mend it")
		}
	}
	if len(problems) > 0 {
		a.talk().Problems(problems)
		code = exitFindings
	}
	if err != nil {
		return err
	}
	return found(code)
}

func pickSeams(g *pattern.Garment, names []string) ([]*pattern.Seam, error) {
	var out []*pattern.Seam
	if len(names) == 0 {
		for i := range g.Seams {
			out = append(out, &g.Seams[i])
		}
		return out, nil
	}
	for _, n := range names {
		s := g.Seam(n)
		if s == nil {
			return nil, usage("there is no seam %q%s", n, didYouMean(n, seamNames(g)))
		}
		out = append(out, s)
	}
	return out, nil
}

func seamNames(g *pattern.Garment) []string {
	var names []string
	for _, s := range g.Seams {
		names = append(names, s.Name)
	}
	return names
}

func didYouMean(word string, known []string) string {
	if near := diag.Nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean %s?", near)
	}
	return ""
}
