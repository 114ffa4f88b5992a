package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"seamkeep/diffview/overlay"
	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

// fitting is what the command line of fitted says.
type fitting struct {
	rev, date, square, page string
	observed, pinned, notes []string
	calibrate               bool
}

func fittedCommand(a *app) *cobra.Command {
	var f fitting
	c := &cobra.Command{
		Use:   "fitted [NAME]",
		Short: "Write down what a fitting showed, beside what was predicted",
		Long: `Fitted keeps what the fitting of a mock-up showed in fittings/NAME.fitting: the
gap that the version predicted at each level, and the one that was observed. A
new file is made from the version that was cut (--rev, by default the last one);
on a terminal the gaps are asked for. Movements, verdicts and notes are typed
into the file. Without a NAME the fittings are listed.

The difference at each level is what --calibrate writes into the garment file;
measure --calibrated and widths --calibrated then add it to what they predict.`,
		Example: `  seamkeep fitted mock-up-1 --rev mock-up-1
  seamkeep fitted mock-up-1 -o page.svg
  seamkeep fitted mock-up-1 --observed "front bust 31"
  seamkeep fitted mock-up-1 --pinned "side-back-back waist 4" --calibrate`,
		Args: cobra.MaximumNArgs(1),
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
	c.Flags().StringArrayVar(&f.notes, "note", nil, "anything else, in a sentence")
	c.Flags().StringVarP(&f.page, "output", "o", "", "draw the page to take to the fitting, to this SVG file")
	_ = c.MarkFlagFilename("output", "svg")
	c.Flags().BoolVar(&f.calibrate, "calibrate", false, "write the differences into the garment file")
	return c
}

func (a *app) listFittings() error {
	p, l, err := a.open("")
	if err != nil {
		return err
	}
	list, problems := text.Fittings(l.snap, p.dir)
	t := a.text()
	for _, f := range list {
		words := []string{f.Name}
		if f.Date != "" {
			words = append(words, f.Date)
		}
		if f.Version != "" {
			words = append(words, "cut from "+f.Version)
		}
		t.Para(strings.Join(words, ", "), "  ")
	}
	if len(list) == 0 && len(problems) == 0 {
		a.say("no fitting is kept here yet: seamkeep fitted NAME makes one")
	}
	a.talk().Problems(problems)
	if t.Err != nil {
		return t.Err
	}
	return found(codeOf(problems))
}

func (a *app) fitted(name string, f *fitting) error {
	if fault := pattern.NameFault(name); fault != "" {
		return usage("the name of a fitting %s", fault)
	}
	p, l, err := a.open("")
	if err == nil {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	record, src, err := a.fittingOf(p, l, name, f)
	if err != nil {
		return err
	}
	if err := f.fill(record); err != nil {
		return err
	}
	if err := a.askObserved(record, f); err != nil {
		return err
	}
	t := a.text()
	t.Fitted(record)
	if words := report.PrintScale(record, l.folder.Garment); words != "" {
		t.Para(words, "  ")
	}
	a.caution(l.folder.Garment, l.body)
	if t.Err != nil {
		return t.Err
	}
	file := text.FittingPath(p.dir, name)
	out, err := text.Update(file, src, record)
	if err != nil {
		return err
	}
	files := map[string][]byte{}
	if string(out) != string(src) {
		files[file] = out
	}
	if err := a.calibrated(p, l, record, f.calibrate, files); err != nil {
		return err
	}
	if err := writeFiles(p.root, files); err != nil {
		return err
	}
	for _, n := range sortedNames(files) {
		a.say("wrote " + report.Clean(n))
	}
	if f.page == "" {
		return nil
	}
	var buf bytes.Buffer
	if err := overlay.FittingPage(&buf, record, l.folder.Garment, overlay.Options{Title: l.folder.Garment.Title}); err != nil {
		return err
	}
	return a.writePicture(buf.Bytes(), f.page, "the page for the fitting; print it at 100 %")
}

// fittingOf reads a fitting, or begins one with what its version predicts.
func (a *app) fittingOf(p *place, l *loaded, name string, f *fitting) (*pattern.Fitting, []byte, error) {
	file := text.FittingPath(p.dir, name)
	if !exists(l.snap, file) {
		record, err := a.newFitting(p, l, name, f)
		return record, nil, err
	}
	record, problems := text.ReadFittingIn(l.snap, p.dir, name)
	if problems.HasErrors() {
		a.talk().Problems(problems)
		return nil, nil, found(codeOf(problems))
	}
	if f.rev != "" && f.rev != record.Version {
		return nil, nil, usage("fitting %s was cut from %s; a fitting of another version is another one", name, report.Clean(record.Version))
	}
	src, err := fs.ReadFile(l.snap, file)
	if err != nil {
		return nil, nil, unreadable(err)
	}
	return record, src, nil
}

// newFitting predicts the gaps of the version that was cut.
func (a *app) newFitting(p *place, l *loaded, name string, f *fitting) (*pattern.Fitting, error) {
	cut, rev := l, f.rev
	if rev == "" && p.repo != nil {
		if head, err := p.repo.Head(); err == nil && head != nil {
			rev = "HEAD"
		}
	}
	if rev != "" {
		var err error
		if cut, err = a.read(p, text.NewLoader(), rev); err != nil {
			return nil, err
		}
	}
	g := cut.folder.Garment
	record := &pattern.Fitting{Name: name, Date: a.today().Format(time.DateOnly), Version: p.cutFrom(cut), Body: g.Body}
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
	return record, nil
}

func (l *loaded) whyNoGap() string {
	if l.body == nil {
		return "no body here"
	}
	return "seamkeep measure says why"
}

// cutFrom names a version as a fitting can: by a tag, else by its commit; nothing for
// what is in no version.
func (p *place) cutFrom(l *loaded) string {
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
	return c.Short()
}

// fill puts what the command line says into the record.
func (f *fitting) fill(record *pattern.Fitting) error {
	if f.date != "" {
		if _, err := time.Parse(time.DateOnly, f.date); err != nil {
			return usage("--date %q: say a day of the calendar, YYYY-MM-DD", report.Clean(f.date))
		}
		record.Date = f.date
	}
	if f.square != "" {
		across, along, ok := strings.Cut(f.square, "x")
		a, errA := strconv.ParseFloat(across, 64)
		b, errB := strconv.ParseFloat(along, 64)
		if !ok || errA != nil || errB != nil || !(a >= 1 && a < 1000 && b >= 1 && b < 1000) {
			return usage("--square %q: say both sides of the square of 100 mm as measured, such as 99.5x99.2", report.Clean(f.square))
		}
		record.Square = &pattern.Square{Across: pattern.RoundLength(a), Along: pattern.RoundLength(b)}
	}
	for _, words := range f.observed {
		if err := observe(record, words); err != nil {
			return err
		}
	}
	for _, words := range f.pinned {
		seam, level, mm, ok := threeWords(words)
		if !ok || pattern.NameFault(seam) != "" || pattern.NameFault(level) != "" {
			return usage("--pinned %q: say \"SEAM LEVEL MM\", such as \"side-back-back waist 4\"", report.Clean(words))
		}
		i := slices.IndexFunc(record.Pinned, func(x pattern.Pinned) bool { return x.Seam == seam && x.Level == level })
		if i < 0 {
			i = len(record.Pinned)
			record.Pinned = append(record.Pinned, pattern.Pinned{Seam: seam, Level: level})
		}
		record.Pinned[i].Amount = mm
	}
	for _, note := range f.notes {
		if note == "" || note != report.Clean(note) {
			return usage("--note holds control characters or nothing; write plain text")
		}
		record.Notes = append(record.Notes, pattern.Remark{Text: note})
	}
	return nil
}

// threeWords reads "NAME LEVEL MM".
func threeWords(s string) (name, level string, mm float64, ok bool) {
	words := strings.Fields(s)
	if len(words) != 3 {
		return "", "", 0, false
	}
	mm, err := strconv.ParseFloat(words[2], 64)
	if err != nil || !(mm >= -100_000 && mm <= 100_000) {
		return "", "", 0, false
	}
	return words[0], words[1], pattern.RoundLength(mm), true
}

// observe records a gap that was seen.
func observe(record *pattern.Fitting, words string) error {
	closure, level, mm, ok := threeWords(words)
	if !ok {
		return usage("--observed %q: say \"CLOSURE LEVEL MM\", such as \"front bust 31\"", report.Clean(words))
	}
	var known []string
	for i := range record.Gaps {
		g := &record.Gaps[i]
		if g.Closure == closure && g.Level == level {
			g.Observed = pattern.Some(mm)
			return nil
		}
		known = append(known, g.Closure+" "+g.Level)
	}
	return usage("--observed %q: the fitting has no such gap%s\nits gaps: %s", report.Clean(words), didYouMean(closure+" "+level, known), strings.Join(known, ", "))
}

// askObserved asks on a terminal for the gaps that nobody told.
func (a *app) askObserved(record *pattern.Fitting, f *fitting) error {
	if !isTerminal(a.in) || len(f.observed) > 0 || f.calibrate || f.page != "" {
		return nil
	}
	for i := 0; i < len(record.Gaps); i++ {
		g := &record.Gaps[i]
		if g.Observed.Set {
			continue
		}
		answer, err := a.question(a.answers(), fmt.Sprintf("gap %s at %s, predicted %s, observed (enter: not yet): ", g.Closure, g.Level, predicted(*g)))
		if err != nil {
			return err
		}
		if answer == "" {
			continue
		}
		if err := observe(record, g.Closure+" "+g.Level+" "+answer); err != nil {
			a.say("say it in mm, such as 31 or 30.5")
			i--
		}
	}
	return nil
}

func predicted(g pattern.FittedGap) string {
	if !g.Predicted.Set {
		return "unknown"
	}
	return fmt.Sprintf("%.1f", g.Predicted.Value)
}

// calibrated adds the garment file with the differences to files, or says what would
// be written.
func (a *app) calibrated(p *place, l *loaded, record *pattern.Fitting, write bool, files map[string][]byte) error {
	list, err := differences(record, l.folder.Garment)
	if err != nil {
		return err
	}
	g := pattern.Clone(l.folder.Garment)
	var fresh []string
	for _, n := range list {
		i := slices.IndexFunc(g.Calibrate, func(x pattern.LevelNum) bool { return x.Level == n.Level })
		switch {
		case i < 0:
			g.Calibrate = append(g.Calibrate, n)
		case g.Calibrate[i].Value == n.Value:
			continue
		default:
			g.Calibrate[i].Value = n.Value
		}
		fresh = append(fresh, fmt.Sprintf("calibrate %s %s", n.Level, strconv.FormatFloat(n.Value, 'f', -1, 64)))
	}
	switch {
	case len(list) == 0 && write:
		return refused("nothing to calibrate: no level has a predicted and an observed gap")
	case len(list) == 0:
		a.say("what was seen: seamkeep fitted " + record.Name + ` --observed "CLOSURE LEVEL MM"`)
	case len(fresh) == 0:
		a.say("the garment file holds these differences already")
	case !write:
		a.say("the difference, kept beside the prediction: "+strings.Join(fresh, ", "), "seamkeep fitted "+record.Name+" --calibrate writes it into the garment file")
	default:
		out, err := text.Update(l.folder.GarmentPath, l.folder.Sources[l.folder.GarmentPath], g)
		if err != nil {
			return err
		}
		files[l.folder.GarmentPath] = out
	}
	return nil
}

// differences gives the calibration of each level of the garment that was observed. Two
// lacings that differ at one level leave open which of them counts.
func differences(record *pattern.Fitting, g *pattern.Garment) ([]pattern.LevelNum, error) {
	var out []pattern.LevelNum
	for _, gap := range record.Gaps {
		d := gap.Difference()
		if _, known := g.Level(gap.Level); !d.Set || !known {
			continue
		}
		i := slices.IndexFunc(out, func(x pattern.LevelNum) bool { return x.Level == gap.Level })
		switch {
		case i < 0:
			out = append(out, pattern.LevelNum{Level: gap.Level, Value: d.Value})
		case out[i].Value != d.Value:
			return nil, refused("two lacings differ at %s from what was predicted, by %g and %g\nwrite the calibration into the garment file by hand", gap.Level, out[i].Value, d.Value)
		}
	}
	return out, nil
}

// fittingFaults says what is wrong with the fittings of a version: never more than a
// warning, since no piece is cut from them.
func fittingFaults(fsys fs.FS, dir string) diag.List {
	_, problems := text.Fittings(fsys, dir)
	for i := range problems {
		problems[i].Severity = diag.Warning
	}
	return problems
}

// fittingFile tells whether a path is a fitting of the folder.
func (p *place) fittingFile(name string) bool {
	return path.Dir(name) == path.Join(p.dir, "fittings") && text.KindOf(name) == text.FittingFile
}
