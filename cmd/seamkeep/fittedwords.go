package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
)

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
