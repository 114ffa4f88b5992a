package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/measure"
)

func notchesCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "notches",
		Short: "Write notches in pairs, where the two sides meet",
		Long: `Notches writes notches on both sides of a seam at once, so that they meet when
the seam is sewn.`,
		Example: "  seamkeep notches add side-back-back at bust",
		Args:    knownCommand,
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(notchesAddCommand(a))
	return c
}

func notchesAddCommand(a *app) *cobra.Command {
	var name string
	c := &cobra.Command{
		Use:   "add SEAM at LEVEL | add SEAM MM above|below LEVEL",
		Short: "Write a pair of notches on a seam",
		Long: `Add writes a pair of notches. On the first side of the seam it stands at the
level, or so many mm along the edge above or below it; on the second side at the
place that meets it when the seam is sewn: at the same distance from the nearest
pair that is there, else from the waist, with ease taken in proportion.

A place within 5 mm of a corner or of another notch is refused. The name is that
of the level, unless --name gives another.`,
		Example: `  seamkeep notches add side-back-back at waist
  seamkeep notches add side-back-back at bust
  seamkeep notches add side-back-back 40 below waist --name hip-line`,
		Args: cobra.RangeArgs(3, 4),
		ValidArgsFunction: func(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return a.completeSeams(c, args, word)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			spot, err := spotOf(args[1:])
			if err != nil {
				return err
			}
			return a.addNotches(args[0], spot, name)
		},
	}
	c.Flags().StringVar(&name, "name", "", "name of the pair")
	return c
}

// spotOf reads "at LEVEL" or "MM above|below LEVEL".
func spotOf(words []string) (pattern.Spot, error) {
	form := usage("a place is written: at LEVEL, or MM above LEVEL, or MM below LEVEL")
	if len(words) == 2 && words[0] == "at" {
		return pattern.Spot{Kind: pattern.AtLevel, Level: words[1]}, nil
	}
	if len(words) != 3 || words[1] != "above" && words[1] != "below" {
		return pattern.Spot{}, form
	}
	mm, err := strconv.ParseFloat(words[0], 64)
	if err != nil || math.IsNaN(mm) || mm < 0 || mm > 100_000 {
		return pattern.Spot{}, form
	}
	return pattern.Spot{Kind: pattern.FromLevel, Level: words[2], Distance: pattern.RoundLength(mm), Above: words[1] == "above"}, nil
}

func (a *app) addNotches(seam string, on pattern.Spot, name string) error {
	p, l, err := a.open("")
	if err == nil {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	g := l.folder.Garment
	if g.Seam(seam) == nil {
		return usage("there is no seam %q%s", report.Clean(seam), didYouMean(seam, seamNames(g)))
	}
	out, err := alter.AddNotches(g, seam, on, name, measure.Accuracy)
	var no *alter.Refusal
	if errors.As(err, &no) {
		return refused("%s\n%s\nnothing was changed", no.Error(), no.Hint)
	}
	if err != nil {
		return err
	}
	if err := a.rewrite(p, l, out.Garment); err != nil {
		return err
	}
	t := a.text()
	for _, n := range out.Placed {
		t.Para(fmt.Sprintf("notch %s on %s.%s, %.1f mm along the seam", n.Notch.Name, n.Piece, n.Edge, n.At), "  ")
	}
	if waistLost(g, out.Garment, seam) {
		a.say("the seam is walked from this pair now, no more from where the edges cross the waist; add that too: " +
			"seamkeep notches add " + seam + " at waist")
	}
	return t.Err
}

// waistLost tells whether a seam was walked from the crossings of the waist and is no
// longer: they count only where no pair of notches does.
func waistLost(before, after *pattern.Garment, seam string) bool {
	return stationAt(before, seam, "waist") && !stationAt(after, seam, "waist")
}

func stationAt(g *pattern.Garment, seam, name string) bool {
	w, problem := measure.WalkSeam(g, g.Seam(seam), measure.Accuracy)
	if problem != nil {
		return false
	}
	return slices.ContainsFunc(w.Segments, func(s measure.Segment) bool { return s.From == name || s.To == name })
}
