package main

import (
	"fmt"
	"math"
	"slices"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/measure"
)

func notchesMoveCommand(a *app) *cobra.Command {
	var move string
	c := &cobra.Command{
		Use:   "move SEAM NAME [at LEVEL | MM above|below LEVEL]",
		Short: "Make a pair of notches meet, or put it elsewhere",
		Long: `Move makes the two notches of a pair meet when the seam is sewn: walked from the
waist, else from the seam's beginning. The pair of the waist itself is matched
to the nearest other pair, else to where both sides cross the waist. --move says
which notch moves: that of a piece, or both, each half the way. Without it that
of the piece changed since the last commit moves; if neither or both were, both.

With a place the whole pair moves there, as notches add would write it.

A move after which the seam no longer matches is refused: its edges differ then,
and no notch mends that.`,
		Example: `  seamkeep notches move side-back-back bust --move back
  seamkeep notches move side-back-back hip-line 45 below waist`,
		Args:              cobra.RangeArgs(2, 5),
		ValidArgsFunction: a.completeNotches,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 2 {
				return a.matchNotches(args[0], args[1], move)
			}
			if c.Flags().Changed("move") {
				return usage("--move goes with no place: both notches of the pair go to one")
			}
			spot, err := spotOf(args[2:])
			if err != nil {
				return err
			}
			return a.moveNotches(args[0], args[1], spot)
		},
	}
	c.Flags().StringVar(&move, "move", "", "the piece whose notch moves, or both")
	return c
}

func notchesDropCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "drop SEAM NAME",
		Short: "Take a pair of notches out",
		Long: `Drop takes the notches of a name out on both sides of a seam; where one stands
alone, that one. Notches at which a span or a zone of ease ends are refused.`,
		Example:           "  seamkeep notches drop side-back-back hip-line",
		Args:              cobra.ExactArgs(2),
		ValidArgsFunction: a.completeNotches,
		RunE:              func(_ *cobra.Command, args []string) error { return a.dropNotches(args[0], args[1]) },
	}
}

func (a *app) matchNotches(seam, name, move string) error {
	p, l, err := a.openSeam(seam)
	if err != nil {
		return err
	}
	g := l.folder.Garment
	s := g.Seam(seam)
	if near := movable(s); move != "" && !slices.Contains(near, move) {
		return usage("seam %s has no piece %q%s", seam, report.Clean(move), didYouMean(move, near))
	}
	chosen := move
	if move == "" {
		chosen = p.moved(g, s)
	}
	out, err := alter.MatchNotches(g, seam, name, chosen, measure.Accuracy)
	if err != nil {
		return whyNot(err)
	}
	if move == "" && len(out.Moved) > 0 {
		a.say("moving " + chosen + whyMove(chosen))
	}
	return a.showMoved(p, l, out, name)
}

func (a *app) moveNotches(seam, name string, on pattern.Spot) error {
	p, l, err := a.openSeam(seam)
	if err != nil {
		return err
	}
	out, err := alter.MoveNotches(l.folder.Garment, seam, name, on, measure.Accuracy)
	if err != nil {
		return whyNot(err)
	}
	return a.showMoved(p, l, out, name)
}

// showMoved writes a moved pair and tells where it stands.
func (a *app) showMoved(p *place, l *loaded, m *alter.MovedPair, name string) error {
	if len(m.Moved) == 0 {
		a.say("the pair stands so already: nothing to do")
		return nil
	}
	if err := a.rewrite(p, l, m.Garment); err != nil {
		return err
	}
	t := a.text()
	for _, n := range m.Moved {
		t.Para(fmt.Sprintf("notch %s on %s.%s: %.1f -> %.1f mm along the seam", name, n.Piece, n.Edge, n.Was, n.Now), "  ")
	}
	t.Para(fmt.Sprintf("the two were %.2f mm apart when sewn, now %.2f", math.Abs(m.Before), math.Abs(m.Now)), "  ")
	return t.Err
}

func (a *app) dropNotches(seam, name string) error {
	p, l, err := a.openSeam(seam)
	if err != nil {
		return err
	}
	g := l.folder.Garment
	after, gone, err := alter.DropNotches(g, seam, name, measure.Accuracy)
	if err != nil {
		return whyNot(err)
	}
	if err := a.rewrite(p, l, after); err != nil {
		return err
	}
	t := a.text()
	for _, n := range gone {
		t.Para("took out "+placedWords(n), "  ")
	}
	if waistLost(g, after, seam) {
		a.say("the seam is walked from its beginning now, no more from the waist; write that pair again: seamkeep notches add " + seam + " at waist")
	}
	return t.Err
}

// completeNotches offers seams, then the notches of the seam.
func (a *app) completeNotches(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return a.completeSeams(c, args, word)
	}
	g := a.garmentQuietly()
	if g == nil || len(args) > 1 || g.Seam(args[0]) == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var names []string
	if w, problem := measure.WalkSeam(g, g.Seam(args[0]), measure.Accuracy); problem == nil {
		for _, ticks := range w.Ticks {
			for _, t := range ticks {
				if !slices.Contains(names, t.Notch.Name) {
					names = append(names, t.Notch.Name)
				}
			}
		}
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}
