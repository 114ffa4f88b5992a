package main

import (
	"bytes"
	"io/fs"
	"path"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

// fitting is what the command line of fitted says.
type fitting struct {
	rev, date, square       string
	page                    printing // the page to take there; out is its file
	observed, pinned, notes []string
	moved, verdicts         []string
	calibrate               bool
}

func fittedCommand(a *app) *cobra.Command {
	var f fitting
	c := &cobra.Command{
		Use:   "fitted [NAME]",
		Short: "Write down what a fitting showed, beside what was predicted",
		Long: `Fitted keeps what the fitting of a mock-up showed in fittings/NAME.fitting: the
gap that the version predicted at each level, and the one that was observed;
what was pinned out, movements, verdicts and notes. A new file is made from the
version that was cut (--rev, by default the last one). On a terminal it asks
line by line for what is not told yet; Enter skips a line. Without a NAME the
fittings are listed.

The difference at each level is what --calibrate writes into the garment file;
measure --calibrated and widths --calibrated then add it to what they predict.`,
		Example: `  seamkeep fitted mock-up-1 --rev mock-up-1
  seamkeep fitted mock-up-1 -o page.pdf --paper letter
  seamkeep fitted mock-up-1 --observed "front bust 31"
  seamkeep fitted mock-up-1 --moved "arms up rides" --verdict "back neck gapes"
  seamkeep fitted mock-up-1 --pinned "side-back-back waist 4" --calibrate`,
		Args:              cobra.MaximumNArgs(1),
		ValidArgsFunction: a.completeFittings,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.listFittings()
			}
			return a.fitted(args[0], &f)
		},
	}
	c.Flags().StringVar(&f.rev, "rev", "", "the version that was cut: a note, a tag or a commit")
	c.Flags().StringVar(&f.date, "date", "", "when it was tried on, YYYY-MM-DD (default: today)")
	c.Flags().StringVar(&f.square, "square", "", "the printed check square as measured, such as 99.5x99.2")
	c.Flags().StringArrayVar(&f.observed, "observed", nil, "a gap that was seen: \"CLOSURE LEVEL MM\"")
	c.Flags().StringArrayVar(&f.pinned, "pinned", nil, "what was pinned out: \"SEAM LEVEL MM\"")
	c.Flags().StringArrayVar(&f.moved, "moved", nil, "a movement, and how it was: \"both arms up rides\"")
	c.Flags().StringArrayVar(&f.verdicts, "verdict", nil, "an area, and how it fits: \"back neck gapes\"")
	c.Flags().StringArrayVar(&f.notes, "note", nil, "anything else, in a sentence")
	c.Flags().StringVarP(&f.page.out, "output", "o", "", "draw the page to take to the fitting, to this file, .pdf or .svg")
	f.page.paperFlags(c)
	_ = c.MarkFlagFilename("output", "pdf", "svg")
	_ = c.RegisterFlagCompletionFunc("rev", a.completeVersions)
	c.Flags().BoolVar(&f.calibrate, "calibrate", false, "write the differences into the garment file")
	return c
}

func (a *app) fitted(name string, f *fitting) error {
	if fault := pattern.NameFault(name); fault != "" {
		return usage("the name of a fitting %s", fault)
	}
	page, err := f.pageOptions()
	if err != nil {
		return err
	}
	p, l, err := a.open("")
	if err == nil {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	record, cut, src, err := a.fittingOf(p, l, name, f)
	if err != nil {
		return err
	}
	if page != nil && cut == l && record.Version != "" {
		return refused("the page shows the version that was cut, and %s cannot be read here: no page\nbring it in with git fetch, or write into %s what was cut", report.Clean(record.Version), text.FittingPath(p.dir, name))
	}
	w := newTelling(record, p.namedBody(record.Body), cut.folder.Garment, l.folder.Garment)
	if err := w.fill(f); err != nil {
		return err
	}
	if f.asks(a, w, src == nil) {
		if err := w.ask(a); err != nil {
			return err
		}
	}
	t := a.text()
	t.Fitted(record)
	if words := report.PrintScale(record, cut.folder.Garment); words != "" {
		t.Para(words, "  ")
	}
	a.caution(cut.folder.Garment, cut.body)
	if t.Err != nil {
		return t.Err
	}
	if page != nil { // first: where it cannot be written, nothing is
		if err := a.fittingPage(p, cut, record, f, page); err != nil {
			return err
		}
	}
	if err := a.writeFitted(p, l, record, src, f.calibrate); err != nil {
		return err
	}
	if len(f.pinned) > 0 || src == nil {
		a.sayPinned(record, l.folder.Garment)
	}
	return nil
}

// writeFitted writes the record where it differs from src and, when asked, the
// calibration into the garment file.
func (a *app) writeFitted(p *place, l *loaded, record *pattern.Fitting, src []byte, calibrate bool) error {
	file := text.FittingPath(p.dir, record.Name)
	out, err := text.Update(file, src, record)
	if err != nil {
		return err
	}
	files := map[string][]byte{}
	if !bytes.Equal(out, src) {
		files[file] = out
	}
	if err := a.calibrated(l, record, calibrate, files); err != nil {
		return err
	}
	if err := writeFiles(p.root, files); err != nil {
		return err
	}
	for _, n := range sortedNames(files) {
		a.say("wrote " + report.Clean(n))
	}
	return nil
}

// fittingOf reads a fitting and the version that was cut for it, or begins one with what
// its version predicts.
func (a *app) fittingOf(p *place, l *loaded, name string, f *fitting) (*pattern.Fitting, *loaded, []byte, error) {
	file := text.FittingPath(p.dir, name)
	if !exists(l.snap, file) {
		cut, err := a.cut(p, l, f.rev)
		if err != nil {
			return nil, nil, nil, err
		}
		return a.newFitting(p, cut, name, f.rev), cut, nil, nil
	}
	record, problems := text.ReadFittingIn(l.snap, p.dir, name)
	if problems.HasErrors() {
		a.talk().Problems(problems)
		return nil, nil, nil, found(codeOf(problems))
	}
	if f.rev != "" && f.rev != record.Version {
		return nil, nil, nil, usage("fitting %s was cut from %s; a fitting of another version is another one", name, report.Clean(record.Version))
	}
	src, err := fs.ReadFile(l.snap, file)
	if err != nil {
		return nil, nil, nil, unreadable(err)
	}
	return record, a.cutBefore(p, l, record), src, nil
}

// cut reads the version that is being fitted: the last one where none is named.
func (a *app) cut(p *place, l *loaded, rev string) (*loaded, error) {
	if rev == "" && p.repo != nil {
		if head, err := p.repo.Head(); err == nil && head != nil {
			rev = "HEAD"
		}
	}
	if rev == "" {
		return l, nil
	}
	return a.read(p, text.NewLoader(), rev)
}

// cutBefore reads the version that a fitting names. Where it is gone or cannot be read,
// what the folder holds serves for the names of seams and levels.
func (a *app) cutBefore(p *place, l *loaded, record *pattern.Fitting) *loaded {
	if record.Version == "" {
		return l
	}
	cut, problems, err := p.load(text.NewLoader(), record.Version)
	if err != nil || problems.HasErrors() {
		a.say("the version " + report.Clean(record.Version) + ", which was cut for it, cannot be read here; the names are those of the pattern as it is")
		return l
	}
	return cut
}

// newFitting predicts the gaps of the version that was cut.
func (a *app) newFitting(p *place, cut *loaded, name, rev string) *pattern.Fitting {
	g := cut.folder.Garment
	record := &pattern.Fitting{Name: name, Date: a.today().Format(time.DateOnly), Version: p.cutFrom(cut, rev), Body: g.Body}
	for i := range g.Closures {
		if c := &g.Closures[i]; c.Kind == pattern.Lacing {
			for _, level := range measure.LevelNames(g) {
				gap := pattern.FittedGap{Closure: c.Name, Level: level}
				if x, ok := measure.GapAt(g, cut.body, c, level); ok {
					gap.Predicted = pattern.Some(pattern.RoundLength(x.Value()))
				}
				record.Gaps = append(record.Gaps, gap)
			}
		}
	}
	if len(record.Gaps) > 0 && !record.Gaps[0].Predicted.Set {
		a.say("no gap is predicted: " + cut.whyNoGap())
	}
	return record
}

func (l *loaded) whyNoGap() string {
	if l.body == nil {
		return "no body here"
	}
	return "seamkeep measure says why"
}

// cutFrom names a version as a fitting can: by a tag, else by the name of a note by which the
// maker asked for it, else by its commit; nothing for what is in no version.
func (p *place) cutFrom(l *loaded, rev string) string {
	c := l.snap.Commit()
	if c == nil {
		return ""
	}
	if tags, err := p.repo.Tags(); err == nil {
		for _, tag := range tags[c.ID] {
			if text.Revision(tag) {
				return tag
			}
		}
	}
	if n := byNote(p.repo, rev); n != nil && n.ID == c.ID {
		return rev
	}
	return c.Short()
}

// fittingFile tells whether a path is a fitting of the folder.
func (p *place) fittingFile(name string) bool {
	return path.Dir(name) == path.Join(p.dir, "fittings") && text.KindOf(name) == text.FittingFile
}

// fittingName is the name of the fitting in a file.
func fittingName(file string) string { return strings.TrimSuffix(path.Base(file), path.Ext(file)) }
