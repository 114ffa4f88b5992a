package main

import (
	"bytes"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"seamkeep/diffview/overlay"
	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

func checkCommand(a *app) *cobra.Command {
	var o checkOptions
	c := &cobra.Command{
		Use:   "check",
		Short: "Find what is wrong with the pattern, and how to mend it",
		Long: `Check reads the whole pattern folder and reports every finding: what the files
say wrongly, outlines that cross themselves, seams that do not match, gaps
outside the wanted range. Errors refuse a commit; warnings and notes never do.

The id of a finding stands in brackets behind it; explain tells what it means,
and accept lets it stand on purpose. --picture draws the findings at their
places on the pieces, and numbers them there as in the text. Of more than six of
one kind the first three are told and the others named; --all tells each.`,
		Example: "  seamkeep check\n  seamkeep check --picture findings.svg\n  seamkeep check --rev HEAD~2\n  seamkeep check --json",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.check(o) },
	}
	c.Flags().BoolVar(&o.json, "json", false, "write seamkeep.check/1")
	c.Flags().StringVar(&o.rev, "rev", "", "a version instead of the working tree: a revision, or index")
	c.Flags().StringVar(&o.picture, "picture", "", "draw the findings on the pieces into FILE.svg")
	c.Flags().BoolVar(&o.all, "all", false, "tell each finding in full, also where there are many of one kind")
	_ = c.MarkFlagFilename("picture", "svg")
	return c
}

type checkOptions struct {
	json, all    bool
	rev, picture string
}

func (a *app) check(o checkOptions) error {
	if o.picture == "-" {
		return usage("standard output has the findings in words; name a file for their picture: --picture FILE.svg")
	}
	p, err := a.locate()
	if err != nil {
		return err
	}
	rev := o.rev
	if rev == "" {
		rev = a.defaultSpec(p)
	}
	l, problems, err := p.load(text.NewLoader(), rev)
	if err != nil {
		return err
	}
	problems = append(problems, judge.LeftOut(l.snap, p.dir)...)
	if g := l.folder.Garment; g != nil && !problems.HasErrors() {
		problems = append(problems, check.Run(check.Input{Garment: g, Body: l.body, Today: a.today()})...)
	}
	problems = append(problems, fittingFaults(l.snap, p.dir, p.namedBody)...)
	problems.Sort()
	if o.picture != "" {
		if err := a.drawFindings(l.folder.Garment, problems, p.label(l.snap, rev), o.picture); err != nil {
			return err
		}
	}
	if o.json {
		err = report.WriteJSON(a.out, report.CheckJSON(problems))
	} else {
		t := a.text()
		switch {
		case o.picture != "":
			t.NumberedProblems(problems)
		case o.all:
			t.Problems(problems)
		default:
			t.ProblemsShortly(problems, "seamkeep check --all")
		}
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

// drawFindings writes the picture of what was found in a version.
func (a *app) drawFindings(g *pattern.Garment, list diag.List, version, file string) error {
	var picture bytes.Buffer
	if err := overlay.Findings(&picture, g, list, overlay.Options{To: version}); err != nil {
		return err
	}
	return a.writePicture(picture.Bytes(), file, report.Count(list))
}

// today is the day by which it is judged whether a test of elastic is old; a build
// that is to give the same bytes again sets SOURCE_DATE_EPOCH, seconds since 1970.
func (a *app) today() time.Time {
	if s, err := strconv.ParseInt(a.env("SOURCE_DATE_EPOCH"), 10, 64); err == nil {
		return time.Unix(s, 0).UTC()
	}
	return time.Now().UTC()
}
