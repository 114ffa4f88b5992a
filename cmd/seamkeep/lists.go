package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/material"
	"seamkeep/pattern/sheet"
)

// listing is what the command lines of cutting and materials say.
type listing struct {
	rev                 string
	json, csv, markdown bool
	widths              []string
	page                printing // where and how it is printed, if it is
}

// flags adds those that both commands have.
func (f *listing) flags(c *cobra.Command, form string) {
	c.Flags().StringVar(&f.rev, "rev", "", "a version instead of the working tree: a revision, or index")
	c.Flags().BoolVar(&f.json, "json", false, "write "+form)
	c.Flags().BoolVar(&f.csv, "csv", false, "write a table for a spreadsheet")
	c.Flags().BoolVar(&f.markdown, "markdown", false, "write it for a hosting page")
	c.Flags().StringVarP(&f.page.out, "output", "o", "", "print it to a file, .pdf or .svg; - for PDF on standard output")
	f.page.paperFlags(c)
	_ = c.MarkFlagFilename("output", "pdf", "svg")
	c.MarkFlagsMutuallyExclusive("json", "csv", "markdown", "output")
}

func cuttingCommand(a *app) *cobra.Command {
	var f listing
	c := &cobra.Command{
		Use:   "cutting",
		Short: "List what is cut: pieces, pairs, grain, allowances",
		Long: `Cutting lists, cloth by cloth and in the order of the labels, every piece with
how often and which way round it is cut, its grain, and the allowance of each
edge. It says which version it is of, whether exactly that is KEPT in git, and
whether its seams are WALKED and match. -o writes it on pages for printing.`,
		Example: "  seamkeep cutting\n  seamkeep cutting --rev mock-up-1 --csv\n  seamkeep cutting -o cutting.pdf",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.cutting(&f) },
	}
	f.flags(c, "seamkeep.cutting/1")
	return c
}

func (a *app) cutting(f *listing) error {
	p, l, err := a.open(f.rev)
	if err != nil {
		return err
	}
	c := material.CuttingOf(l.folder.Garment, p.versionFacts(l, f.rev))
	if f.page.out != "" {
		return a.printList(p, l, f, report.CuttingList(c))
	}
	err = a.listed(f, report.CuttingJSON(c),
		func(w io.Writer) error { return report.CuttingCSV(w, c) },
		func(w io.Writer) error { return report.CuttingMarkdown(w, c) },
		func(t *report.Text) { t.Cutting(c) })
	if err == nil && len(c.Walked.Off) > 0 {
		a.say("", "the seams do not match: seamkeep walk shows them, seamkeep check tells how to mend them")
	}
	return err
}

func materialsCommand(a *app) *cobra.Command {
	var f listing
	c := &cobra.Command{
		Use:   "materials",
		Short: "List what is needed: cloth, elastic, bones, buttons, laces",
		Long: `Materials lists what is needed: cloth with an estimate of its lay, elastic,
bones and cords with their lengths, buttons, eyelets, laces and binding. Each
figure says how it was reckoned. Lengths are in mm. -o writes it on pages for
printing.`,
		Example: "  seamkeep materials\n  seamkeep materials --width 1500 --width elastic=300 --markdown",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.materials(&f) },
	}
	f.flags(c, "seamkeep.materials/1")
	c.Flags().StringArrayVar(&f.widths, "width", nil, fmt.Sprintf("how wide the cloth is, MM or CLOTH=MM (default %g)", material.DefaultWidth))
	return c
}

func (a *app) materials(f *listing) error {
	p, l, err := a.open(f.rev)
	if err != nil {
		return err
	}
	g := l.folder.Garment
	o := material.Options{Body: l.body}
	if err := readWidths(f.widths, g, &o); err != nil {
		return err
	}
	m := material.ListOf(g, p.versionFacts(l, f.rev), o)
	if f.page.out != "" {
		return a.printList(p, l, f, report.MaterialsList(m))
	}
	return a.listed(f, report.MaterialsJSON(m),
		func(w io.Writer) error { return report.MaterialsCSV(w, m) },
		func(w io.Writer) error { return report.MaterialsMarkdown(w, m) },
		func(t *report.Text) { t.Materials(m) })
}

// printList writes a list on pages.
func (a *app) printList(p *place, l *loaded, f *listing, list sheet.List) error {
	if err := f.page.check(); err != nil {
		return err
	}
	o, err := f.page.options()
	if err != nil {
		return err
	}
	if o.Version, o.Date, err = a.printed(p, l); err != nil {
		return err
	}
	o.Lists = []sheet.List{list}
	what := strings.ToLower(list.Title)
	made, err := sheet.NewLists(l.folder.Garment, *o, what)
	if err != nil {
		return usage("%v", err)
	}
	return a.writeSheet(made, &f.page, o.Version, what+", "+report.Plural(len(made.Pages), "page"))
}

// listed writes a list in the form that is asked for.
func (a *app) listed(f *listing, doc any, csv, markdown func(io.Writer) error, words func(*report.Text)) error {
	switch {
	case f.json:
		return report.WriteJSON(a.out, doc)
	case f.csv:
		return csv(a.out)
	case f.markdown:
		return markdown(a.out)
	}
	t := a.text()
	words(t)
	return t.Err
}

// readWidths reads MM and CLOTH=MM.
func readWidths(words []string, g *pattern.Garment, o *material.Options) error {
	cloths := map[string]bool{}
	for _, p := range g.Pieces {
		for _, c := range p.Cloths {
			cloths[c.Name] = true
		}
	}
	for _, word := range words {
		cut := strings.LastIndexByte(word, '=')
		mm, err := strconv.ParseFloat(word[cut+1:], 64)
		if err != nil || !(mm >= 1 && mm <= 100_000) {
			return usage("--width %q: say how wide the cloth is in mm, such as 1400 or canvas=1400", report.Clean(word))
		}
		switch {
		case cut < 0:
			o.Width = mm
		case !cloths[word[:cut]]:
			return usage("--width %q: no piece is cut from %q%s", report.Clean(word), report.Clean(word[:cut]), didYouMean(word[:cut], slices.Sorted(maps.Keys(cloths))))
		default:
			if o.Widths == nil {
				o.Widths = map[string]float64{}
			}
			o.Widths[word[:cut]] = mm
		}
	}
	return nil
}

// versionFacts tells a list or a picture what version it is of. A working tree that says what HEAD
// says is that version.
func (p *place) versionFacts(l *loaded, spec string) material.Version {
	c, kept, err := p.standsFor(l)
	if c == nil || !kept || err != nil {
		return material.Version{Label: p.label(l.snap, spec)}
	}
	v := material.Version{Label: p.label(p.repo.At(c), spec), Commit: c.Short(), Date: c.Author.When.Format("2006-01-02"), Kept: true}
	if tags, err := p.repo.Tags(); err == nil {
		v.Tags = tags[c.ID]
	}
	return v
}
