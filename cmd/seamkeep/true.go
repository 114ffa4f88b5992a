package main

import (
	"errors"
	"fmt"
	"math"
	"path"

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
	if move == "" {
		move = p.moved(g, seam)
		a.say(fmt.Sprintf("moving %s%s", move, whyMove(move)))
	}
	trued, err := alter.True(g, name, move, measure.Accuracy)
	var no *alter.Refusal
	if errors.As(err, &no) {
		a.talk().Problems(no.Problems)
		return refused("%s\n%s\nnothing was changed", no.Error(), no.Hint)
	}
	if err != nil {
		return err
	}
	if err := a.showTrued(trued); err != nil {
		return err
	}
	if dry || len(trued.Slid) == 0 {
		a.say("nothing was written")
		return nil
	}
	return a.writeTrued(p, l, trued)
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
	for _, r := range []pattern.Ref{s.First[0], s.Second[0]} {
		for _, c := range compare.Garments(before.Garment, g, compare.Options{}).Pieces {
			if c.Name == r.Piece && c.Moved {
				changed = append(changed, r.Piece)
			}
		}
	}
	if len(changed) == 1 {
		return changed[0]
	}
	return alter.Both
}

func (a *app) showTrued(t *alter.Trued) error {
	out := a.text()
	out.Para("before", "")
	out.Walks(t.Garment, []*measure.Walk{t.Before}, true)
	out.Para("", "")
	out.Para("after", "")
	out.Walks(t.Garment, []*measure.Walk{t.After}, true)
	out.Para("", "")
	for _, s := range t.Slid {
		word := "in"
		if s.Amount < 0 {
			word = "on"
		}
		out.Para(fmt.Sprintf("%s.%s slides %s by %.2f: %.3f %.3f -> %.3f %.3f", s.Piece, s.Corner, word,
			math.Abs(s.Amount), s.From.X, s.From.Y, s.To.X, s.To.Y), "  ")
	}
	if len(t.Slid) == 0 {
		out.Para("both ends match already", "")
	}
	limit, _ := t.Garment.SeamTolerance()
	if t.Left > limit {
		out.Para(fmt.Sprintf("a segment between notches is still %.2f off: corners cannot mend that, move a notch or redraw the edge", t.Left), "  ")
	}
	return out.Err
}

// writeTrued rewrites the lines of the pieces that changed and nothing else.
func (a *app) writeTrued(p *place, l *loaded, t *alter.Trued) error {
	files := map[string][]byte{}
	for _, s := range t.Slid {
		name := path.Join(p.dir, "pieces", s.Piece+".piece")
		out, err := text.Update(name, l.folder.Sources[name], t.Garment.Piece(s.Piece))
		if err != nil {
			return err
		}
		files[name] = out
	}
	if err := writeFiles(p.root, files); err != nil {
		return err
	}
	for _, n := range sortedNames(files) {
		a.say("wrote " + report.Clean(n))
	}
	return nil
}
