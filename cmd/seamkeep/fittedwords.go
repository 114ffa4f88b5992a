package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// telling puts what a maker says of a fitting into its record, one sentence at a
// time, whether it stands on the command line or was typed in answer. Each method
// gives an error that says how the sentence is said.
type telling struct {
	record *pattern.Fitting
	seams  []string // of the version that was cut, and of the pattern as it is
	levels []string
	body   *pattern.Body
}

func newTelling(record *pattern.Fitting, body *pattern.Body, garments ...*pattern.Garment) *telling {
	w := &telling{record: record, body: body}
	for _, g := range garments {
		w.seams = joined(w.seams, seamNames(g))
		w.levels = joined(w.levels, measure.LevelNames(g))
	}
	return w
}

// joined adds to a list what it lacks.
func joined(list, more []string) []string {
	for _, x := range more {
		if !slices.Contains(list, x) {
			list = append(list, x)
		}
	}
	return list
}

// fill puts what the command line says into the record.
func (w *telling) fill(f *fitting) error {
	for _, one := range []struct {
		flag  string
		words []string
		tell  func(string) error
	}{
		{"date", some(f.date), w.date}, {"square", some(f.square), w.square},
		{"observed", f.observed, w.observed}, {"pinned", f.pinned, w.pinned},
		{"moved", f.moved, w.moved}, {"verdict", f.verdicts, w.verdict}, {"note", f.notes, w.note},
	} {
		for _, words := range one.words {
			if err := one.tell(words); err != nil {
				return usage("--%s %q: %v", one.flag, report.Clean(words), err)
			}
		}
	}
	return nil
}

// some is a list of what was said once, or not at all.
func some(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

func (w *telling) date(words string) error {
	if _, err := time.Parse(time.DateOnly, words); err != nil {
		return errors.New("say a day of the calendar, YYYY-MM-DD")
	}
	w.record.Date = words
	return nil
}

// square takes both sides of the check square.
func (w *telling) square(words string) error {
	across, along, ok := strings.Cut(strings.ToLower(words), "x")
	a, errA := strconv.ParseFloat(strings.TrimSpace(across), 64)
	b, errB := strconv.ParseFloat(strings.TrimSpace(along), 64)
	if !ok || errA != nil || errB != nil || !(a >= 50 && a <= 200 && b >= 50 && b <= 200) {
		return errors.New("say both sides of the square of 100 mm as measured, in mm: 99.5x99.2")
	}
	w.record.Square = &pattern.Square{Across: pattern.RoundLength(a), Along: pattern.RoundLength(b)}
	return nil
}

// figure reads "NAME LEVEL MM", or "NAME at LEVEL MM" as the file says it.
func figure(s string) (name, level string, mm float64, ok bool) {
	words := strings.Fields(s)
	if len(words) == 4 && words[1] == "at" {
		words = slices.Delete(words, 1, 2)
	}
	if len(words) != 3 {
		return "", "", 0, false
	}
	mm, ok = inMM(words[2])
	return words[0], words[1], mm, ok
}

// inMM reads a length that a file can hold.
func inMM(s string) (float64, bool) {
	mm, err := strconv.ParseFloat(s, 64)
	return pattern.RoundLength(mm), err == nil && mm >= -100_000 && mm <= 100_000
}

// observed takes a gap that was seen.
func (w *telling) observed(words string) error {
	closure, level, mm, ok := figure(words)
	if !ok {
		return errors.New(`say "CLOSURE LEVEL MM", such as "front bust 31"`)
	}
	var known []string
	for i := range w.record.Gaps {
		g := &w.record.Gaps[i]
		if g.Closure == closure && g.Level == level {
			g.Observed = pattern.Some(mm)
			return nil
		}
		known = append(known, g.Closure+" "+g.Level)
	}
	if len(known) == 0 {
		return errors.New("the fitting has no gap: the version that was cut has no lacing")
	}
	return fmt.Errorf("the fitting has no such gap%s\nits gaps: %s", didYouMean(closure+" "+level, known), strings.Join(known, ", "))
}

// pinned takes what was pinned out at a seam.
func (w *telling) pinned(words string) error {
	seam, level, mm, ok := figure(words)
	if !ok {
		return errors.New(`say "SEAM LEVEL MM", such as "side-back-back waist 4"`)
	}
	for _, one := range []struct {
		what, name string
		known      []string
	}{{"seam", seam, w.seams}, {"level", level, w.levels}} {
		if !slices.Contains(one.known, one.name) {
			return fmt.Errorf("there is no %s %s%s\nits %ss: %s", one.what, report.Clean(one.name), didYouMean(one.name, one.known), one.what, strings.Join(one.known, ", "))
		}
	}
	list := &w.record.Pinned
	i := slices.IndexFunc(*list, func(x pattern.Pinned) bool { return x.Seam == seam && x.Level == level })
	if i < 0 {
		i = len(*list)
		*list = append(*list, pattern.Pinned{Seam: seam, Level: level})
	}
	(*list)[i].Amount = mm
	return nil
}

func (w *telling) moved(words string) error { return w.how(&w.record.Moved, words, "both arms up") }

func (w *telling) verdict(words string) error { return w.how(&w.record.Verdicts, words, "back neck") }

// how takes "WHAT HOW": quotes round what, as in the file, or a colon behind it do no harm.
func (w *telling) how(list *[]pattern.Verdict, words, example string) error {
	words = strings.TrimSpace(words)
	cut := strings.LastIndexByte(words, ' ') + 1
	of, how := strings.Trim(strings.TrimRight(words[:cut], " :"), `" `), words[cut:]
	known := howNames()
	if of == "" || !slices.Contains(known, how) {
		return fmt.Errorf("say what, and how it was%s: \"%s %s\"\nhow is one of %s", diagNear(how, known), example, known[0], strings.Join(known, ", "))
	}
	if err := w.sayable(of); err != nil {
		return err
	}
	i := slices.IndexFunc(*list, func(x pattern.Verdict) bool { return x.Of == of })
	if i < 0 {
		i = len(*list)
		*list = append(*list, pattern.Verdict{Of: of})
	}
	(*list)[i].How = pattern.How(how)
	return nil
}

// diagNear names the known word that one may have been meant for.
func diagNear(word string, known []string) string {
	if near := diag.Nearest(word, known); near != "" {
		return " (did you mean " + near + "?)"
	}
	return ""
}

func howNames() []string {
	var out []string
	for _, h := range pattern.Hows() {
		out = append(out, string(h))
	}
	return out
}

func (w *telling) note(words string) error {
	words = strings.TrimSpace(words)
	if err := w.sayable(words); err != nil {
		return err
	}
	w.record.Notes = append(w.record.Notes, pattern.Remark{Text: words})
	return nil
}

// longestWords is far below what a line of a file may have.
const longestWords = 4000

// sayable refuses words that a file cannot hold, and measures of the body: history
// keeps what was once pushed.
func (w *telling) sayable(words string) error {
	if words == "" || words != report.Clean(words) {
		return errors.New("it holds control characters or nothing; write plain text")
	}
	if len(words) > longestWords {
		return fmt.Errorf("it has %d bytes, and %d are the most; say it in several", len(words), longestWords)
	}
	if level := w.body.Told(words); level != "" {
		return errors.New(bodyTold(level))
	}
	return nil
}

// bodyTold says why words with a measure of the body are not kept.
func bodyTold(level string) string {
	return "it holds the body's girth at " + level + ", which is private and stands in bodies/ alone; say it without the figure"
}
