package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/diffview/waterfall"
	"seamkeep/pattern"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

func widthsCommand(a *app) *cobra.Command {
	var asJSON, calibrated bool
	c := &cobra.Command{
		Use:   "widths [A [B]]",
		Short: "Show the widths per level, girth, and the gap with its terms",
		Long: `Widths shows each piece's width per level before and after, the sums over both
halves, what left where and arrived where, girth at rest and worn, the predicted
gap with every term of its sum, the percent of the body as worn and if laced
shut, and the stretch in use and in reserve. Versions are named as for compare.`,
		Example:           "  seamkeep widths\n  seamkeep widths mock-up-1 HEAD\n  seamkeep widths --json",
		Args:              cobra.MaximumNArgs(2),
		ValidArgsFunction: a.completeVersions,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.widths(args, asJSON, calibrated)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write seamkeep.widths/1")
	c.Flags().BoolVar(&calibrated, "calibrated", false, "add to the gap what fittings showed")
	return c
}

func (a *app) widths(args []string, asJSON, calibrated bool) error {
	p, err := a.locate()
	if err != nil {
		return err
	}
	c, err := a.compare(p, args)
	if err != nil {
		return err
	}
	o := report.WidthsOptions{From: c.from, To: c.to, Calibrated: calibrated}
	if asJSON {
		err = report.WriteJSON(a.out, report.WidthsJSON(c.change, o))
	} else {
		t := a.text()
		t.Widths(c.change, o)
		err = t.Err
	}
	if err != nil {
		return err
	}
	return c.verdict()
}

// falling is what the command line of waterfall says.
type falling struct {
	closure, level, out string
	json                bool
}

func waterfallCommand(a *app) *cobra.Command {
	var f falling
	c := &cobra.Command{
		Use:   "waterfall [RANGE]",
		Short: "Follow the predicted gap from note to note",
		Long: `Waterfall shows what each note did to the predicted gap of a lacing, from the
first version of a range to the last: the amounts add up exactly. RANGE is as
git reads it; without one it is the whole of this branch. A merge stands for the
notes that it brought in, against its first parent; what versions without a note
changed is told apart. --at picks a level; else every level is shown.`,
		Example: "  seamkeep waterfall --at bust\n  seamkeep waterfall mock-up-1..HEAD --at waist -o gap.svg",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			rang := ""
			if len(args) > 0 {
				rang = args[0]
			}
			return a.waterfall(rang, &f)
		},
	}
	c.Flags().StringVar(&f.closure, "closure", "", "which lacing, where there are several")
	c.Flags().StringVar(&f.level, "at", "", "the level")
	c.Flags().StringVarP(&f.out, "output", "o", "", "draw it to this SVG file; needs --at")
	c.Flags().BoolVar(&f.json, "json", false, "write seamkeep.waterfall/1")
	_ = c.MarkFlagFilename("output", "svg")
	return c
}

func (a *app) waterfall(rang string, f *falling) error {
	p, err := a.locate()
	if err != nil {
		return err
	}
	if p.repo == nil {
		return unreadable(fmt.Errorf("no git repository holds this folder, so there are no versions to follow"))
	}
	versions, last, err := p.gapVersions(rang)
	if err != nil {
		return err
	}
	if last == nil {
		return refused("no version in this range has the pattern")
	}
	closure, err := lacingOf(last, f.closure)
	if err != nil {
		return err
	}
	levels := measure.LevelNames(last)
	if f.level != "" {
		if !slices.Contains(levels, f.level) {
			return usage("there is no level %q%s\nits levels: %s", report.Clean(f.level), didYouMean(f.level, levels), strings.Join(levels, ", "))
		}
		levels = []string{f.level}
	}
	body, _ := p.body(last)
	var all []waterfall.Data
	for _, level := range levels {
		all = append(all, waterfall.Of(versions, body, closure, level))
	}
	switch {
	case f.out != "" && len(all) != 1:
		return usage("a picture shows one level: say --at LEVEL")
	case f.out != "":
		var buf bytes.Buffer
		if err := waterfall.Picture(&buf, all[0], waterfall.Options{Title: last.Title}); err != nil {
			return err
		}
		return a.writePicture(buf.Bytes(), f.out, "the gap "+closure+" at "+f.level+", note by note")
	case f.json:
		return report.WriteJSON(a.out, report.WaterfallJSON(all))
	}
	t := a.text()
	t.Waterfall(all)
	return t.Err
}

// lacingOf finds the lacing that is meant.
func lacingOf(g *pattern.Garment, name string) (string, error) {
	var lacings []string
	for _, c := range g.Closures {
		if c.Kind == pattern.Lacing {
			lacings = append(lacings, c.Name)
		}
	}
	switch {
	case name != "" && slices.Contains(lacings, name):
		return name, nil
	case name != "":
		return "", usage("there is no lacing %q%s\nits lacings: %s", report.Clean(name), didYouMean(name, lacings), strings.Join(lacings, ", "))
	case len(lacings) == 1:
		return lacings[0], nil
	case len(lacings) == 0:
		return "", refused("this garment has no lacing, so no gap is predicted")
	}
	return "", usage("several lacings here; choose one with --closure: %s", strings.Join(lacings, ", "))
}

// gapVersions reads the states of the pattern over a range, the oldest first,
// with the one that the range begins after.
func (p *place) gapVersions(rang string) ([]waterfall.Version, *pattern.Garment, error) {
	commits, brought, err := mainLine(p.repo, rangeOf(p.repo, rang), p.logPaths())
	if err != nil {
		return nil, nil, noRange(p.repo, rang)
	}
	if len(commits) > 0 && len(commits[0].Parents) > 0 {
		if before, err := p.repo.Resolve(commits[0].Parents[0]); err == nil {
			commits = slices.Insert(commits, 0, before)
		}
	}
	loader := text.NewLoader()
	var out []waterfall.Version
	var last *pattern.Garment
	for _, c := range commits {
		v := waterfall.Version{Note: noteOf(c).name, Subject: c.Subject(), Short: c.Short()}
		if v.Note == "" {
			v.Note = strings.Join(notesOf(brought[c.ID]), ", ")
		}
		snap := p.repo.At(c)
		if dirs, err := text.Find(snap); err == nil && slices.Contains(dirs, p.dir) {
			if folder, problems := loader.Load(snap, p.dir); !problems.HasErrors() {
				v.Garment = folder.Garment
			}
		}
		if v.Garment != nil {
			last = v.Garment
		}
		out = append(out, v)
	}
	for len(out) > 1 && (out[0].Garment == nil || len(out[0].Garment.Pieces) == 0) {
		out = out[1:] // there was no gap yet
	}
	return out, last, nil
}

// logPaths are the paths whose versions count.
func (p *place) logPaths() []string {
	if p.dir == "." {
		return nil
	}
	return []string{p.dir}
}
