package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

func trueCommand(a *app) *cobra.Command {
	var move string
	var dry bool
	c := &cobra.Command{
		Use:   "true SEAM",
		Short: "Make the two sides of a seam agree by sliding its corners",
		Long: `True slides the corners at both ends of a seam along the seam's own edges until
the segments next to them match; beyond an edge's end it goes on along the
tangent. The neighbouring edges keep their handles and end at the new corners.
Nothing else changes.

A seam that matches already is left as it is, and so is one whose notch or inner
part is wrong: no corner mends that. Other seams of the pieces that would change
are walked too; if one of them would no longer match, nothing is written.

Without --move the piece that changed since the last commit moves; if neither
or both did, both move, each half the way.`,
		Example:           "  seamkeep true side-back-back --dry-run\n  seamkeep true side-back-back --move back",
		Args:              cobra.ExactArgs(1),
		ValidArgsFunction: a.completeSeams,
		RunE:              func(_ *cobra.Command, args []string) error { return a.trueSeam(args[0], move, dry) },
	}
	c.Flags().StringVar(&move, "move", "", "the piece whose corners move, or both")
	c.Flags().BoolVar(&dry, "dry-run", false, "show what would change, write nothing")
	return c
}

func (a *app) trueSeam(name, move string, dry bool) error {
	p, l, err := a.open("")
	if err == nil && !dry {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	g := l.folder.Garment
	seam := g.Seam(name)
	if seam == nil {
		return usage("there is no seam %q%s", name, didYouMean(name, seamNames(g)))
	}
	if near := movable(seam); move != "" && !slices.Contains(near, move) {
		return usage("seam %s cannot move %q; say --move with one of: %s", name, report.Clean(move), strings.Join(near, ", "))
	}
	asked := move
	if move == "" {
		move = p.moved(g, seam)
	}
	trued, err := alter.True(g, name, move, measure.Accuracy)
	if asked == "" && (err != nil || len(trued.Slid) > 0) {
		a.say(fmt.Sprintf("moving %s%s", move, whyMove(move)))
	}
	var no *alter.Refusal
	if errors.As(err, &no) {
		a.talk().Problems(no.Problems)
		return refused("%s\n%s\nnothing was changed", no.Error(), no.Hint)
	}
	if err != nil {
		return err
	}
	if len(trued.Slid) == 0 {
		return a.nothingToTrue(trued)
	}
	effects := trued.Effects(g, measure.Accuracy)
	if err := a.showTrued(trued, effects); err != nil {
		return err
	}
	if err := spoils(g, trued, effects, move); err != nil {
		return err
	}
	if dry {
		a.say("nothing was written")
		return nil
	}
	return a.rewrite(p, l, trued.Garment)
}

// movable lists what --move may name.
func movable(s *pattern.Seam) []string {
	out := []string{alter.Both}
	for _, r := range slices.Concat(s.First, s.Second) {
		if !slices.Contains(out, r.Piece) {
			out = append(out, r.Piece)
		}
	}
	return out
}

func (a *app) nothingToTrue(t *alter.Trued) error {
	out := a.text()
	out.Walks(t.Garment, []*measure.Walk{t.Before}, true)
	out.Para("", "")
	out.Para("it matches already: nothing to do", "")
	return out.Err
}

// spoils refuses to write what makes another seam fail, and names the moves that
// would not.
func spoils(g *pattern.Garment, t *alter.Trued, effects []alter.Effect, move string) error {
	fail := failing(effects)
	if len(fail) == 0 {
		return nil
	}
	seam := t.Before.Seam
	hint := "no other move spares it: alter the drawing, or mend that seam first"
	for _, other := range alter.Others(seam, move) {
		tried, err := alter.True(g, seam.Name, other, measure.Accuracy)
		if err == nil && len(failing(tried.Effects(g, measure.Accuracy))) == 0 {
			hint = fmt.Sprintf("move otherwise: seamkeep true %s --move %s", seam.Name, other)
			break
		}
	}
	return refused("seam %s would no longer match\n%s\nnothing was changed", strings.Join(fail, ", "), hint)
}

func failing(effects []alter.Effect) []string {
	var names []string
	for _, e := range effects {
		if e.Fails {
			names = append(names, e.Seam)
		}
	}
	return names
}

func whyMove(move string) string {
	if move == alter.Both {
		return " sides, each half the way (choose with --move PIECE)"
	}
	return ", the piece that changed since the last commit (choose with --move)"
}

// moved gives the piece of a seam that changed since HEAD, or alter.Both.
func (p *place) moved(g *pattern.Garment, s *pattern.Seam) string {
	if s.Mirrored || len(s.First) != 1 || len(s.Second) != 1 || p.repo == nil {
		return alter.Both
	}
	head, err := p.repo.HeadSnapshot()
	if err != nil {
		return alter.Both
	}
	before, _ := text.Load(head, p.dir)
	if before == nil || before.Garment == nil {
		return alter.Both
	}
	var changed []string
	for _, c := range compare.Garments(before.Garment, g, compare.Options{}).Pieces {
		if c.Moved && (c.Name == s.First[0].Piece || c.Name == s.Second[0].Piece) {
			changed = append(changed, c.Name)
		}
	}
	if len(changed) == 1 {
		return changed[0]
	}
	return alter.Both
}

func (a *app) showTrued(t *alter.Trued, effects []alter.Effect) error {
	out := a.text()
	out.Para("before", "")
	out.Walks(t.Garment, []*measure.Walk{t.Before}, true)
	out.Para("", "")
	out.Para("after", "")
	out.Walks(t.Garment, []*measure.Walk{t.After}, true)
	out.Para("", "")
	for _, s := range t.Slid {
		word := "shorter"
		if s.Amount < 0 {
			word = "longer"
		}
		out.Para(fmt.Sprintf("%s.%s: side %.2f %s, %.1f %.1f -> %.1f %.1f", s.Piece, s.Corner,
			math.Abs(s.Amount), word, s.From.X, s.From.Y, s.To.X, s.To.Y), "  ")
	}
	for _, e := range effects {
		out.Para(fmt.Sprintf("seam %s: %s -> %s", e.Seam, off(e.Before.Difference), off(e.After.Difference)), "  ")
	}
	if _, warn := t.Garment.SeamTolerance(t.After.Seam); t.Left > warn {
		out.Para(fmt.Sprintf("a segment between notches is still %.2f off: corners cannot mend that, move a notch or redraw the edge", t.Left), "  ")
	}
	return out.Err
}

// off prints a difference with its sign; what rounds to nothing has none.
func off(mm float64) string {
	text := fmt.Sprintf("%+.2f", mm)
	if text == "+0.00" || text == "-0.00" {
		return "0.00"
	}
	return text
}
