package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/measure"
)

func notchesCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "notches",
		Short: "Write, move and take out notches in pairs",
		Long: `Notches writes, moves and takes out notches on both sides of a seam at once, so
that they meet when the seam is sewn.`,
		Example: "  seamkeep notches add side-back-back at bust\n  seamkeep notches move side-back-back bust",
		Args:    knownCommand,
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(notchesAddCommand(a), notchesMoveCommand(a), notchesDropCommand(a))
	return c
}

func notchesAddCommand(a *app) *cobra.Command {
	var name string
	c := &cobra.Command{
		Use:   "add SEAM [at LEVEL | MM above|below LEVEL]",
		Short: "Write a pair of notches on a seam, or the half that is missing",
		Long: `Add writes a pair of notches. On the first side of the seam it stands at the
level, or so many mm along the edge above or below it; on the second side at the
place that meets it when the seam is sewn: at the same distance from the nearest
pair that is there, else from the waist, with ease taken in proportion.

Where one of the two stands there already its partner alone is written, on
whichever side it is missing; with --name and no place, wherever the other one
stands.

A place within 5 mm of a corner or of another notch is refused. The name is that
of the level, unless --name gives another.`,
		Example: `  seamkeep notches add side-back-back at waist
  seamkeep notches add side-back-back 40 below waist --name hip-line
  seamkeep notches add side-back-back --name hip-line`,
		Args:              cobra.RangeArgs(1, 4),
		ValidArgsFunction: a.completeFirstSeam,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 && name != "" {
				return a.addNotches(args[0], nil, name)
			}
			spot, err := spotOf(args[1:])
			if err != nil {
				return err
			}
			return a.addNotches(args[0], &spot, name)
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

// addNotches writes a pair; without a spot what is missing of one.
func (a *app) addNotches(seam string, on *pattern.Spot, name string) error {
	p, l, err := a.openSeam(seam)
	if err != nil {
		return err
	}
	g := l.folder.Garment
	var out *alter.Notched
	if on == nil {
		out, err = alter.CompleteNotches(g, seam, name, measure.Accuracy)
	} else {
		out, err = alter.AddNotches(g, seam, *on, name, measure.Accuracy)
	}
	if err != nil {
		return whyNot(err)
	}
	if len(out.Placed) > 0 { // before it is told: who reads may stop reading
		if err := a.rewrite(p, l, out.Garment); err != nil {
			return err
		}
	}
	t := a.text()
	for _, n := range out.Stood {
		t.Para("there already: "+placedWords(n), "  ")
	}
	for _, n := range out.Placed {
		t.Para(placedWords(n), "  ")
	}
	if len(out.Placed) == 0 {
		a.say("nothing is missing: nothing to do")
	}
	if waistLost(g, out.Garment, seam) {
		a.say("the seam is walked from this pair now, no more from where the edges cross the waist; add that too: " +
			"seamkeep notches add " + seam + " at waist")
	}
	return t.Err
}

func placedWords(n alter.Placed) string {
	if n.Placeless {
		return fmt.Sprintf("notch %s on %s.%s, which had no place", n.Notch.Name, n.Piece, n.Edge)
	}
	return fmt.Sprintf("notch %s on %s.%s, %.1f mm along the seam", n.Notch.Name, n.Piece, n.Edge, n.At)
}

// openSeam reads the folder for a command that alters notches of a seam.
func (a *app) openSeam(seam string) (*place, *loaded, error) {
	p, l, err := a.open("")
	if err == nil {
		err = p.writable()
	}
	if err != nil {
		return nil, nil, err
	}
	if g := l.folder.Garment; g.Seam(seam) == nil {
		return nil, nil, usage("there is no seam %q%s", report.Clean(seam), didYouMean(seam, seamNames(g)))
	}
	return p, l, nil
}

// whyNot words the refusal of an alteration; other errors stay what they are.
func whyNot(err error) error {
	var no *alter.Refusal
	if !errors.As(err, &no) {
		return err
	}
	lines := []string{report.Clean(no.Error())}
	if no.Hint != "" {
		lines = append(lines, no.Hint)
	}
	return refused("%s\nnothing was changed", strings.Join(lines, "\n"))
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
