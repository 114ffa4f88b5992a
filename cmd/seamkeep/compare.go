package main

import (
	"bytes"
	"slices"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
)

func compareCommand(a *app) *cobra.Command {
	var o comparing
	c := &cobra.Command{
		Use:   "compare [A [B]]",
		Short: "Tell in figures what changed between two versions",
		Long: `Compare tells what changed: by how much each edge was let out or taken in and
where, widths, girths, gaps and seams before and after. Without versions HEAD is
compared with the working tree; with one, that version with the working tree.
A..B, A...B (from where they parted), index and work are understood.`,
		Example:           "  seamkeep compare\n  seamkeep compare HEAD~1 HEAD\n  seamkeep compare mock-up-1 --json",
		Args:              cobra.MaximumNArgs(2),
		ValidArgsFunction: a.completeVersions,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.compareVersions(args, &o)
		},
	}
	f := c.Flags()
	f.BoolVar(&o.json, "json", false, "write seamkeep.compare/1")
	f.BoolVar(&o.markdown, "markdown", false, "write a comment for a review")
	f.StringVar(&o.html, "html", "", "write one HTML page with the overlay to this file")
	f.BoolVar(&o.exitCode, "exit-code", false, "exit with 1 where something differs")
	c.MarkFlagsMutuallyExclusive("json", "markdown", "html")
	_ = c.MarkFlagFilename("html", "html")
	return c
}

// comparing is how compare shows what it found.
type comparing struct {
	json, markdown, exitCode bool
	html                     string
}

func (a *app) compareVersions(args []string, o *comparing) error {
	p, err := a.locate()
	if err != nil {
		return err
	}
	c, err := a.compare(p, args)
	if err != nil {
		return err
	}
	switch {
	case o.json:
		err = report.WriteJSON(a.out, report.ChangeJSON(c.change, c.from, c.to))
	case o.markdown:
		err = report.Markdown(a.out, c.page())
	case o.html != "":
		err = a.writePage(c, o.html)
	default:
		t := a.text()
		for _, line := range c.note() {
			t.Para(line, "  ")
		}
		t.Change(c.change, c.from, c.to)
		err = t.Err
		a.caution(c.change.After, c.change.Body)
	}
	if err != nil {
		return err
	}
	if err := c.verdict(); err != nil {
		return err
	}
	if o.exitCode && c.change.Any() {
		return found(exitFindings)
	}
	return nil
}

func (c *compared) page() report.Page {
	p := report.Page{Title: c.title, From: c.from, To: c.to, Change: c.change}
	if len(c.between) == 1 {
		p.Note = c.note()
	}
	for _, v := range slices.Backward(c.between) {
		n := noteOf(v)
		p.Notes = append(p.Notes, report.Note{Name: n.name, Subject: v.Subject(), Because: n.because, Short: v.Short()})
	}
	return p
}

func (a *app) writePage(c *compared, file string) error {
	var picture, out bytes.Buffer
	if err := c.draw(&picture, ""); err != nil {
		return err
	}
	page := c.page()
	page.Picture = picture.Bytes()
	if err := report.HTML(&out, page); err != nil {
		return err
	}
	if err := mayOverwrite(file); err != nil {
		return err
	}
	if err := writeFile(file, out.Bytes()); err != nil {
		return err
	}
	a.say("wrote " + report.Clean(file))
	return nil
}
