package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/measure"
)

func bonesCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:     "bones",
		Short:   "Fit bones and cords to their channels",
		Long:    `Bones fits the bones and cords that are drawn on pieces to their channels.`,
		Example: "  seamkeep bones fit front",
		Args:    knownCommand,
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(bonesFitCommand(a))
	return c
}

func bonesFitCommand(a *app) *cobra.Command {
	var cords, dry bool
	c := &cobra.Command{
		Use:   "fit [PIECE...]",
		Short: "Shorten or lengthen bones as their channels became",
		Long: fmt.Sprintf(`Fit draws each bone so that it stops short of the sewing lines at both ends by
the clearance in the garment file, and writes its length where one is recorded.
After an edge was altered that makes bones shorter, or longer. Each is told with
its channel and its length, before and now.

An end that is drawn more than %g mm before the sewing line is meant to stop
there and stays. A bone that is drawn as its channel, longer than its length by
both clearances, is drawn so again. What lies outside its piece altogether is
left alone and told.`, check.ChannelReach),
		Example:           "  seamkeep bones fit\n  seamkeep bones fit front back --dry-run",
		ValidArgsFunction: a.completePieces,
		RunE: func(_ *cobra.Command, args []string) error {
			kind := pattern.Bone
			if cords {
				kind = pattern.Cord
			}
			return a.fitBones(kind, args, dry)
		},
	}
	c.Flags().BoolVar(&cords, "cords", false, "fit the cords instead")
	c.Flags().BoolVar(&dry, "dry-run", false, "show what would change, write nothing")
	return c
}

func (a *app) fitBones(kind pattern.MarkKind, pieces []string, dry bool) error {
	p, l, err := a.open("")
	if err == nil && !dry {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	g := l.folder.Garment
	meant := map[string]bool{}
	for _, name := range pieces {
		if g.Piece(name) == nil {
			var known []string
			for _, q := range g.Pieces {
				known = append(known, q.Name)
			}
			return usage("there is no piece %q%s", report.Clean(name), didYouMean(name, known))
		}
		meant[name] = true
	}
	after, list := alter.FitBones(g, kind, meant, measure.Accuracy)
	changes := slices.ContainsFunc(list, alter.FittedBone.Changed)
	if changes && !dry { // before it is told: who reads may stop reading
		if err := a.rewrite(p, l, after); err != nil {
			return err
		}
	}
	if err := a.showFitted(kind, list, p.keptGarment()); err != nil {
		return err
	}
	switch {
	case len(list) == 0:
		a.say(fmt.Sprintf("there are no %ss here", kind))
	case !changes:
		a.say("nothing to do")
	case dry:
		a.say("nothing was written")
	}
	return nil
}

// showFitted tells what became of each bone, and how many there are of what.
func (a *app) showFitted(kind pattern.MarkKind, list []alter.FittedBone, kept *pattern.Garment) error {
	t := a.text()
	shorter, longer, same := 0, 0, 0
	for _, f := range list {
		name := fmt.Sprintf("%s %s of %s: ", kind, f.Mark, f.Piece)
		switch {
		case f.Kept != "":
			t.Para(name+"left alone: "+f.Kept, "  ")
			continue
		case !f.Changed():
			same++
			continue
		case f.Now < f.Was:
			shorter++
		case f.Now > f.Was:
			longer++
		}
		channel := fmt.Sprintf("%.1f", f.Channel)
		if was, ok := keptChannel(kept, kind, f); ok {
			channel = fmt.Sprintf("%.1f -> %.1f", was, f.Channel)
		}
		t.Para(fmt.Sprintf("%schannel %s, %s %.1f -> %.1f%s", name, channel, kind, f.Was, f.Now, endWords(f)), "  ")
	}
	var counts []string
	for _, n := range []struct {
		count int
		what  string
	}{{shorter, "now too long, shortened"}, {longer, "now too short, lengthened"}, {len(list) - shorter - longer - same, "moved or left alone"}, {same, "as before"}} {
		if n.count > 0 {
			counts = append(counts, fmt.Sprintf("%s %s", plural(n.count, string(kind), string(kind)+"s"), n.what))
		}
	}
	if len(counts) > 0 {
		t.Para(strings.Join(counts, "; "), "  ")
	}
	return t.Err
}

// keptChannel gives the channel of a bone as the last version has it, where that differs.
func keptChannel(kept *pattern.Garment, kind pattern.MarkKind, f alter.FittedBone) (float64, bool) {
	if kept == nil || kept.Piece(f.Piece) == nil {
		return 0, false
	}
	p := kept.Piece(f.Piece)
	i := slices.IndexFunc(p.Marks, func(m pattern.Mark) bool { return m.Kind == kind && m.Name == f.Mark })
	if i < 0 || len(p.Corners) != len(p.Edges) {
		return 0, false
	}
	c, ok := measure.ChannelOf(p.Outline(), p.Marks[i].Path(), measure.Accuracy)
	return c.Length, ok && math.Abs(c.Length-f.Channel) >= 0.05
}

// endWords says which ends of a bone were moved: ", 12.0 off its upper end".
func endWords(f alter.FittedBone) string {
	words := ""
	for i, by := range f.Ends {
		switch {
		case by < 0:
			words += fmt.Sprintf(", %.1f off its %s end", -by, f.Names[i])
		case by > 0:
			words += fmt.Sprintf(", %.1f more at its %s end", by, f.Names[i])
		}
	}
	return words
}
