package main

import (
	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/sheet"
)

// pageOptions reads how the page for the fitting is printed; nil where none is asked for.
func (f *fitting) pageOptions() (*sheet.Options, error) {
	if f.page.out == "" {
		return nil, nil
	}
	if f.page.out == "-" {
		return nil, usage("standard output has the fitting in words; name a file for its page: -o FILE.pdf")
	}
	if err := f.page.check(); err != nil {
		return nil, err
	}
	return f.page.options()
}

// fittingPage writes the page to take to the fitting, with the words of the version that
// was cut.
func (a *app) fittingPage(p *place, cut *loaded, record *pattern.Fitting, f *fitting, o *sheet.Options) error {
	var err error
	if o.Version, o.Date, err = a.printed(p, cut); err != nil {
		return err
	}
	cautions := []string{check.Caution, check.ElasticCaution, check.WearCaution}
	made, err := sheet.NewFitting(cut.folder.Garment, record, cautions, *o)
	if err != nil {
		return usage("%v", err)
	}
	return a.writeSheet(made, &f.page, o.Version, report.Plural(len(made.Pages), "page")+" for the fitting; print at 100 % and measure a check square")
}
