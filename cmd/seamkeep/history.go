package main

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"seamkeep/diffview/overlay"
	"seamkeep/diffview/report"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

func historyCommand(a *app) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "history PIECE [VERSION] -o FILE.svg",
		Short: "Draw every version of a piece on one sheet",
		Long: `History draws every version of a piece that led to VERSION (default HEAD): the
older ones as faint lines where they differ, the last one bold, their notes as a
legend. At full size, for comparing; not for cutting.`,
		Example:           "  seamkeep history side-back -o side-back-history.svg",
		Args:              cobra.RangeArgs(1, 2),
		ValidArgsFunction: a.completePieces,
		RunE: func(_ *cobra.Command, args []string) error {
			rev := "HEAD"
			if len(args) > 1 {
				rev = args[1]
			}
			return a.history(args[0], rev, out)
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "file to write; - for standard output")
	_ = c.MarkFlagFilename("output", "svg")
	return c
}

func (a *app) history(piece, rev, out string) error {
	if out == "" {
		return noOutput()
	}
	p, err := a.locate()
	if err != nil {
		return err
	}
	if p.repo == nil {
		return unreadable(fmt.Errorf("no git repository holds this folder, so there are no versions yet"))
	}
	bar := a.progress("reading versions", 0)
	versions, title, err := p.versionsOf(piece, rev, bar.step)
	bar.end()
	if err != nil {
		return err
	}
	var buf bytes.Buffer
	if err := overlay.History(&buf, piece, versions, overlay.Options{Title: title}); err != nil {
		return err
	}
	return a.writePicture(buf.Bytes(), out, report.Plural(len(versions), "version")+" of "+piece)
}

// versionsOf reads the piece in each version, the oldest first, under the name
// that it had there; each is called for every version. A version whose files have faults is
// left out.
func (p *place) versionsOf(piece, rev string, each func()) (list []overlay.Version, title string, err error) {
	commits, err := p.repo.Log(revision(p.repo, rev), p.logPaths(), 0)
	if err != nil {
		return nil, "", noVersion(rev)
	}
	tags, err := p.repo.Tags()
	if err != nil {
		return nil, "", unreadable(err)
	}
	loader, name, seen := text.NewLoader(), piece, 0
	for _, c := range commits { // the newest first: a piece knows what it was called before
		each()
		f, problems := loader.Load(p.repo.At(c), p.dir)
		if f == nil || f.Garment == nil || problems.HasErrors() {
			continue
		}
		if title == "" {
			title = f.Garment.Title
		}
		now := f.Garment.Piece(name)
		if now == nil && len(list) > 0 {
			if was := list[len(list)-1].Piece; was != nil && was.Was != "" {
				name = was.Was
				now = f.Garment.Piece(name)
			}
		}
		v := versionOf(c)
		v.Garment, v.Piece, v.Tags = f.Garment, now, tags[c.ID]
		list = append(list, v)
		if now != nil {
			seen = len(list)
		}
	}
	if seen == 0 {
		return nil, "", usage("no version that led to %s has a piece %q", rev, piece)
	}
	list = list[:seen] // what is older does not have it yet
	slices.Reverse(list)
	return list, title, nil
}

func versionOf(c *repo.Commit) overlay.Version {
	return overlay.Version{
		Label: versionName(c) + " (" + c.Short() + ")", Note: c.Subject(), Because: noteOf(c).because, When: c.Author.When.Format("2006-01-02"),
	}
}
