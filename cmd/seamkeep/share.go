package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/step"
)

func shareCommand(a *app) *cobra.Command {
	var seams []string
	var rev string
	c := &cobra.Command{
		Use:   "share CHANGE...",
		Short: "Part a change of girth over seams: how much for each edge",
		Long: `Share tells what a change of girth is for each seam and each edge, so that
nobody has to divide: in a half garment over N seams it is a 2N-th at each seam
and a 4N-th on each edge. It writes the lines for the note, and the command that
keeps the change with them. Nothing is altered.

A CHANGE is such as "girth bust -60", or "girth bust to 840"; several are parted
together, each at its level.`,
		Example: `  seamkeep share "girth bust -60" --seams front-side-front,side-back-back
  seamkeep share "girth bust -60" "girth waist -40" --seams side-back-back`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error { return a.share(args, seams, rev) },
	}
	c.Flags().StringSliceVar(&seams, "seams", nil, "the seams that take it, with commas between")
	c.Flags().StringVar(&rev, "rev", "", "a version instead of the working tree: a revision, or index")
	_ = c.RegisterFlagCompletionFunc("seams", a.completeSeams)
	return c
}

func (a *app) share(changes, seams []string, rev string) error {
	var asked []claim.Claim
	for _, words := range changes {
		list, problems := claim.Parse("Changes", words, diag.Place{File: "share"})
		if problems.HasErrors() {
			return usage("%q: %s", report.Clean(words), problems[0].Message())
		}
		asked = append(asked, list...)
	}
	_, l, err := a.open(rev)
	if err != nil {
		return err
	}
	g := l.folder.Garment
	if len(seams) == 0 {
		return usage("say which seams take it: --seams SEAM,SEAM\nits seams: %s", strings.Join(seamNames(g), ", "))
	}
	shared, problems := step.ShareGirth(g, seams, asked)
	if problems.HasErrors() {
		p := problems[0]
		if p.Hint != "" {
			return usage("%s\n%s", p.Message(), p.Hint)
		}
		return usage("%s", p.Message())
	}
	for _, c := range asked {
		if before, after, ok := girths(g, c); ok && after <= 0 {
			return usage("%s is %.1f now, and %.1f is no girth; ask for less", c.Measure.String(), before, after)
		}
	}
	t := a.text()
	for i, c := range asked {
		t.Para(changeWords(g, c, len(seams)), "  ")
		for _, x := range shared {
			t.Para("  "+x.Seam+": "+sharedWords(g, x, x.Amounts[i]), "    ")
		}
	}
	t.Para("", "")
	lines := proving(asked, shared)
	for _, line := range lines {
		t.Para(line, "  ")
	}
	k := keeping{name: strings.TrimSuffix("girth-"+asked[0].Measure.Level, "-"), because: "what the fitting showed"}
	t.Para("", "")
	t.Para("once it is drawn, this keeps it, and is refused where an edge lacks its part:", "")
	for _, line := range k.command(lines) {
		fmt.Fprintln(a.out, "  "+line)
	}
	a.caution(g, l.body)
	return t.Err
}

// proving gives the lines of a note that hold once every edge took its part: what was asked
// for, and the step at each seam.
func proving(asked []claim.Claim, shared []step.Shared) []string {
	var lines []string
	for _, x := range shared {
		for _, s := range x.Steps {
			lines = append(lines, "Does: "+s.String())
		}
	}
	for _, c := range asked {
		lines = append(lines, "Changes: "+c.String())
	}
	return lines
}

// changeWords says what the girth was and will be.
func changeWords(g *pattern.Garment, c claim.Claim, seams int) string {
	words := fmt.Sprintf("%s, over %s", strings.TrimPrefix(c.String(), "Changes: "), report.Plural(seams, "seam"))
	if before, after, ok := girths(g, c); ok {
		words += fmt.Sprintf(": %.1f -> %.1f", before, after)
	}
	return words
}

// girths gives what the girth is and what it is to be, mm; false where it is not known.
func girths(g *pattern.Garment, c claim.Claim) (before, after float64, ok bool) {
	v, err := c.Measure.Eval(measure.Input{Garment: g})
	if err != nil || len(v) != 1 || !v[0].Known {
		return 0, 0, false
	}
	after = v[0].Value + c.By.Value
	if c.To.Set {
		after = c.To.Value
	}
	return v[0].Value, after, true
}

// sharedWords says what a seam takes, and each of its edges.
func sharedWords(g *pattern.Garment, x step.Shared, at step.SharedAt) string {
	verb := "let out"
	if at.Amount < 0 {
		verb = "take in"
	}
	where := ""
	if g.Half != pattern.Whole {
		where = " on each half"
	}
	s := g.Seam(x.Seam)
	edges := measure.SideName(s.First)
	if s.Mirrored {
		edges += " on either side"
		where = ""
	} else {
		edges += ", " + measure.SideName(s.Second)
	}
	return fmt.Sprintf("%s %.2f%s; %.2f on each edge: %s", verb, math.Abs(at.Amount), where, math.Abs(at.Edge), edges)
}
