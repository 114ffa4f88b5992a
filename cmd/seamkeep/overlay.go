package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"seamkeep/diffview/overlay"
)

func overlayCommand(a *app) *cobra.Command {
	var out, piece string
	var strip bool
	c := &cobra.Command{
		Use:   "overlay [A [B]] -o FILE.svg",
		Short: "Draw what changed between two versions, at full size",
		Long: `Overlay draws every piece that changed, before and after on top of each other at
full size, with the amounts. It shows the sewing lines for comparing; it is not
for cutting. Versions are named as for compare.

--strip draws the panels that go round the body side by side instead, touching
at the waist, so that neckline and hem read as one line.`,
		Example:           "  seamkeep overlay -o change.svg\n  seamkeep overlay HEAD~1 HEAD -o last.svg\n  seamkeep overlay mock-up-1 --piece side-back -o side-back.svg",
		Args:              cobra.MaximumNArgs(2),
		ValidArgsFunction: a.completeVersions,
		RunE:              func(_ *cobra.Command, args []string) error { return a.overlay(args, piece, out, strip) },
	}
	c.Flags().StringVarP(&out, "output", "o", "", "file to write; - for standard output")
	c.Flags().StringVar(&piece, "piece", "", "draw one piece alone")
	c.Flags().BoolVar(&strip, "strip", false, "draw the panels side by side, touching at the waist")
	c.MarkFlagsMutuallyExclusive("piece", "strip")
	_ = c.MarkFlagFilename("output", "svg")
	return c
}

func (a *app) overlay(args []string, piece, out string, strip bool) error {
	if out == "" {
		return noOutput()
	}
	p, err := a.locate()
	if err != nil {
		return err
	}
	c, err := a.compare(p, args)
	if err != nil {
		return err
	}
	var buf bytes.Buffer
	if strip {
		err = overlay.Strip(&buf, c.change, c.options())
	} else {
		err = c.draw(&buf, piece)
	}
	if err != nil {
		return err
	}
	if err := a.writePicture(buf.Bytes(), out, c.from+" -> "+c.to); err != nil {
		return err
	}
	return c.verdict()
}

func noOutput() error {
	return usage("say where to write the picture: -o FILE.svg, or -o - for standard output")
}

// writePicture writes to a file, or to standard output for "-".
func (a *app) writePicture(picture []byte, out, what string) error {
	if err := mayOverwrite(out); err != nil {
		return err
	}
	return a.writePrint(picture, out, what)
}

func (c *compared) options() overlay.Options {
	return overlay.Options{Title: c.title, From: c.from, To: c.to, Note: c.note()}
}

// draw writes the sheet of all changed pieces, or the picture of one.
func (c *compared) draw(buf *bytes.Buffer, piece string) error {
	o := c.options()
	if piece == "" {
		return overlay.Sheet(buf, c.change, o)
	}
	for _, p := range c.change.Pieces {
		if p.Name == piece {
			return overlay.Piece(buf, c.change, piece, o)
		}
	}
	return usage("neither version has a piece %q", piece)
}
