package main

import (
	"fmt"
	"strings"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
)

// asks tells whether questions are asked: on a terminal, where the command line tells
// nothing itself and the fitting is not written down yet.
func (f *fitting) asks(a *app, w *telling, fresh bool) bool {
	told := len(f.observed) + len(f.pinned) + len(f.moved) + len(f.verdicts) + len(f.notes)
	if !isTerminal(a.in) || told > 0 || f.square != "" || f.calibrate || f.page.out != "" {
		return false
	}
	for _, g := range w.record.Gaps {
		fresh = fresh || !g.Observed.Set
	}
	return fresh
}

// ask goes through the fitting as its page does, line by line. An answer that cannot be
// taken is asked for again; nothing is written before the last one.
func (w *telling) ask(a *app) error {
	head := "fitting " + w.record.Name
	if w.record.Version != "" {
		head += ", cut from " + report.Clean(w.record.Version)
	}
	a.say(head+": what was seen? Enter skips a line; nothing is written before the end",
		"how it was is one of "+strings.Join(howNames(), ", "))
	if w.record.Square == nil {
		if _, err := a.answered("check square of 100 mm as measured, across x along (99.5x99.2): ", w.square); err != nil {
			return err
		}
	}
	if err := w.askGaps(a); err != nil {
		return err
	}
	for _, one := range []struct {
		prompt string
		tell   func(string) error
	}{
		{"pinned out (SEAM LEVEL MM; Enter: no more): ", w.pinned},
		{"movement, and how it was (both arms up rides; Enter: no more): ", w.moved},
		{"area, and how it fits (back neck gapes; Enter: no more): ", w.verdict},
		{"anything else (Enter: no more): ", w.note},
	} {
		for more := true; more; {
			var err error
			if more, err = a.answered(one.prompt, one.tell); err != nil {
				return err
			}
		}
	}
	return nil
}

func (w *telling) askGaps(a *app) error {
	for i := range w.record.Gaps {
		g := &w.record.Gaps[i]
		if g.Observed.Set {
			continue
		}
		prompt := fmt.Sprintf("gap %s at %s, predicted %s, seen: ", g.Closure, g.Level, predicted(*g))
		if _, err := a.answered(prompt, func(words string) error {
			mm, ok := inMM(strings.TrimSpace(strings.TrimSuffix(words, "mm")))
			if !ok {
				return fmt.Errorf("say it in mm, such as 31 or 30.5")
			}
			g.Observed = pattern.Some(mm)
			return nil
		}); err != nil {
			return err
		}
	}
	return nil
}

// answered asks until the answer can be taken; false where Enter skipped it.
func (a *app) answered(prompt string, tell func(string) error) (bool, error) {
	for {
		words, err := a.question(a.answers(), prompt)
		if err != nil {
			return false, refused("no answer: nothing was written")
		}
		if words == "" {
			return false, nil
		}
		if err = tell(words); err == nil {
			return true, nil
		}
		a.say(strings.Split(err.Error(), "\n")...)
	}
}

func predicted(g pattern.FittedGap) string {
	if !g.Predicted.Set {
		return "unknown"
	}
	return fmt.Sprintf("%.1f", g.Predicted.Value)
}
