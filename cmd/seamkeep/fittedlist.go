package main

import (
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

// listFittings tells which fittings are kept, the first one first.
func (a *app) listFittings() error {
	p, l, err := a.open("")
	if err != nil {
		return err
	}
	list, problems := text.Fittings(l.snap, p.dir)
	slices.SortStableFunc(list, func(x, y *pattern.Fitting) int { return strings.Compare(x.Date, y.Date) })
	t := a.text()
	for _, f := range list {
		words := []string{f.Name}
		if f.Date != "" {
			words = append(words, f.Date)
		}
		if f.Version != "" {
			words = append(words, "cut from "+f.Version)
		}
		if f.Waits() {
			words = append(words, "waits for what is seen")
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

// openFittings says which fittings wait for what is seen, and which are in no version yet.
func (p *place) openFittings(l *loaded) []string {
	list, _ := text.Fittings(l.snap, p.dir)
	if len(list) == 0 || p.repo == nil || p.repo.Bare() {
		return nil
	}
	head, err := p.repo.HeadSnapshot()
	if err != nil {
		return nil
	}
	var out []string
	for _, f := range list {
		kept, problems := text.ReadFittingIn(head, p.dir, f.Name)
		switch {
		case f.Waits():
			out = append(out, "fitting "+f.Name+" waits for what is seen: seamkeep fitted "+f.Name)
		case problems.HasErrors() || !pattern.EqualFittings(kept, f):
			out = append(out, "fitting "+f.Name+" is not kept yet; the version that answers it takes it in: seamkeep keep NAME --because TEXT --answers "+f.Name)
		}
	}
	return out
}
