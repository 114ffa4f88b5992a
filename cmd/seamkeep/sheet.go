package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern/material"
	"seamkeep/pattern/sheet"
	"seamkeep/pattern/sheet/ink"
)

// printing is what the command line of sheet says.
type printing struct {
	rev, paper, out, font, measured string
	pieces                          []string
	margin                          float64
	both, corrected, json, lists    bool
}

func sheetCommand(a *app) *cobra.Command {
	var o printing
	c := &cobra.Command{
		Use:   "sheet -o FILE.pdf",
		Short: "Print the pieces at full size, on tiles or whole",
		Long: `Sheet writes the pieces at full size for printing: as PDF, or as one SVG picture
where the file ends in .svg. What fits on a page lies whole on one, the rest on
tiles to tape together; a map shows which goes where. Every page bears two check
squares and says which version it shows, whether that is KEPT and whether its
seams are WALKED; --lists adds what is to be cut and to be had.

Print at 100 %, not "fit to page", and measure a square. --measured 98.6x99.2
tells what a print does whose square of 100 mm measured so, across and upwards;
with --corrected the file is stretched to come out true on that printer.`,
		Example: "  seamkeep sheet -o waistcoat.pdf\n  seamkeep sheet --paper a0 --rev mock-up-1 -o mock-up-1.pdf\n  seamkeep sheet --paper roll:914 --both -o roll.pdf\n  seamkeep sheet --pieces back,strap -o two.pdf\n  seamkeep sheet --measured 98.6x99.2",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.sheet(&o) },
	}
	f := c.Flags()
	f.StringVarP(&o.out, "output", "o", "", "file to write, .pdf or .svg; - for PDF on standard output")
	f.StringVar(&o.rev, "rev", "", "a version instead of the working tree: a revision, or index")
	o.paperFlags(c)
	f.StringSliceVar(&o.pieces, "pieces", nil, "print these pieces alone")
	f.BoolVar(&o.both, "both", false, "draw left and right of what is cut in mirrored pairs, and the whole of what is cut on the fold")
	f.BoolVar(&o.lists, "lists", false, "put the cutting list and the material list behind the pieces")
	f.StringVar(&o.measured, "measured", "", "what a square of 100 mm measures on a print, ACROSSxUPWARDS in mm")
	f.BoolVar(&o.corrected, "corrected", false, "with --measured: stretch the file so that it prints true")
	f.BoolVar(&o.json, "json", false, "write seamkeep.sheet/1: what lies on which page")
	_ = c.RegisterFlagCompletionFunc("pieces", a.completePieces)
	_ = c.MarkFlagFilename("output", "pdf", "svg")
	return c
}

// paperFlags adds those that every print has.
func (o *printing) paperFlags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.paper, "paper", "a4", strings.Join(sheet.Papers(), ", ")+" (in mm)")
	f.Float64Var(&o.margin, "margin", sheet.DefaultMargin, "what the printer leaves white at each side, in mm")
	f.StringVar(&o.font, "font", "", "a TrueType font for words that the own one lacks")
	_ = c.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions(sheet.Papers(), cobra.ShellCompDirectiveNoFileComp))
	_ = c.MarkFlagFilename("font", "ttf")
}

// check refuses what cannot be carried out before anything is read.
func (o *printing) check() error {
	switch {
	case o.out == "" && o.measured == "":
		return usage("say where to write the sheets: -o FILE.pdf")
	case o.out == "" && (o.corrected || o.json):
		return usage("say where to write the sheets: -o FILE.pdf")
	case o.corrected && o.measured == "":
		return usage("--corrected needs what the square measured: --measured 98.6x99.2")
	case o.out == "-" && o.json:
		return usage("-o - and --json both write to standard output; give a file")
	case o.out == "" || o.out == "-" || o.svg() || strings.EqualFold(filepath.Ext(o.out), ".pdf"):
		return nil
	}
	return usage("%s: sheets are written as FILE.pdf or FILE.svg", report.Clean(o.out))
}

func (o *printing) svg() bool { return strings.EqualFold(filepath.Ext(o.out), ".svg") }

func (a *app) sheet(o *printing) error {
	if err := o.check(); err != nil {
		return err
	}
	opts, err := o.options()
	if err != nil {
		return err
	}
	p, l, err := a.open(o.rev)
	if err != nil {
		return err
	}
	g := l.folder.Garment
	if opts.Pieces, err = pickPieces(g, o.pieces); err != nil {
		return err
	}
	if o.measured != "" {
		measured, err := sheet.ParseMeasured(o.measured)
		if err != nil {
			return usage("%v", err)
		}
		t := a.text()
		if o.json {
			t = a.talk()
		}
		t.Measured(g, measured)
		if o.corrected {
			opts.Measured = measured
		}
		if o.out == "" {
			return t.Err
		}
	}
	if opts.Version, opts.Date, err = a.printed(p, l); err != nil {
		return err
	}
	if o.lists {
		v := p.versionFacts(l, o.rev)
		opts.Lists = []sheet.List{
			report.CuttingList(material.CuttingOf(g, v)), report.MaterialsList(material.ListOf(g, v, material.Options{Body: l.body})),
		}
	}
	bar := a.progress("drawing the sheets", 0)
	made, err := sheet.New(g, *opts)
	bar.end()
	if none := (*sheet.NoCutLine)(nil); errors.As(err, &none) {
		a.talk().Problems(none.Problems)
		a.say("nothing was written: a sheet without a cut line is no sheet to cut from; seamkeep explain ID tells more")
		return found(exitFindings)
	}
	if err != nil {
		return usage("%v", err)
	}
	return a.writeSheet(made, o, opts.Version, sheetWords(made))
}

// options reads what needs no pattern.
func (o *printing) options() (*sheet.Options, error) {
	paper, err := sheet.ParsePaper(o.paper)
	if err != nil {
		return nil, usage("%v", err)
	}
	if !(o.margin > 0) {
		return nil, usage("--margin %g: no printer prints to the edge; give the white at each side in mm, 10 as a rule", o.margin)
	}
	out := &sheet.Options{Paper: paper, Margin: o.margin, Both: o.both}
	if o.font == "" {
		return out, nil
	}
	data, err := os.ReadFile(o.font)
	if err != nil {
		return nil, unreadable(fmt.Errorf("read font: %w", err))
	}
	if out.Face, err = ink.ParseFace(data); err != nil {
		return nil, unreadable(fmt.Errorf("%s: %w", report.Clean(o.font), err))
	}
	return out, nil
}

// writeSheet writes the file whole or not at all, and then tells what is in it.
func (a *app) writeSheet(s *sheet.Sheet, o *printing, v sheet.Version, what string) error {
	var buf bytes.Buffer
	write := s.Book.WritePDF
	if o.svg() {
		write = s.Book.WriteSVG
	}
	bar := a.progress("writing the pages", 0)
	err := write(&buf)
	bar.end()
	if err != nil {
		return err
	}
	if err := a.writePrint(buf.Bytes(), o.out, what); err != nil {
		return err
	}
	if !v.Kept || !v.Walked {
		a.say("every page says so: " + v.Standing())
	}
	if !o.json {
		return nil
	}
	return report.WriteJSON(a.out, report.SheetJSON(s))
}

func sheetWords(s *sheet.Sheet) string {
	words := report.Plural(len(s.Pages), "page")
	if s.Pages[0].Kind == sheet.MapPage {
		words += ", the first the map"
	}
	return words + "; print at 100 % and measure a check square"
}

// writePrint is writePicture for sheets, which may be PDF.
func (a *app) writePrint(data []byte, out, what string) error {
	if out == "-" {
		_, err := a.out.Write(data)
		return err
	}
	if err := mayRenew(out); err != nil {
		return err
	}
	if err := writeFile(out, data); err != nil {
		return err
	}
	a.say(fmt.Sprintf("wrote %s: %s", report.Clean(out), what))
	return nil
}
