package main

import (
	"fmt"
	"strings"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

// status tells where the maker stands: version, what changed since, seams off,
// the gap, and the next step.
func (a *app) status() error {
	p, err := a.locate()
	if err != nil {
		return err
	}
	loader := text.NewLoader()
	l, problems, err := p.load(loader, a.defaultSpec(p))
	if err != nil {
		return err
	}
	problems = append(problems, judge.LeftOut(l.snap, p.dir)...)
	t := a.text()
	g := l.folder.Garment
	if g == nil || problems.HasErrors() {
		a.talk().Problems(problems)
		t.Para("next: mend the files, then: seamkeep check", "  ")
		return found(codeOf(problems))
	}
	problems = append(problems, check.Run(check.Input{Garment: g, Body: l.body})...)
	title := g.Title
	if title == "" {
		title = g.Name
	}
	t.Para(fmt.Sprintf("%s: %s, %s, in %s", title, report.Plural(len(g.Pieces), "piece"), report.Plural(len(g.Seams), "seam"), p.dir), "  ")
	change, err := a.standing(t, p, loader, l)
	if err != nil {
		return err
	}
	for _, words := range p.openFittings(l) {
		t.Para(words, "  ")
	}
	a.seamsAndGaps(t, g, l.body, problems)
	t.Para("next: "+nextStep(p, g, change, problems), "      ")
	return t.Err
}

// standing tells the last version and what changed since.
func (a *app) standing(t *report.Text, p *place, loader *text.Loader, l *loaded) (*compare.Change, error) {
	if p.repo == nil {
		t.Para("not in a git repository: nothing is kept yet", "  ")
		return nil, nil
	}
	head, err := p.repo.Head()
	if err != nil {
		return nil, unreadable(err)
	}
	if head == nil {
		t.Para("no version is kept yet", "  ")
		return nil, nil
	}
	n := noteOf(head)
	line := "version " + head.Short()
	if n.name != "" {
		line += ", " + n.name
	}
	line += ", " + head.Author.When.Format("2006-01-02")
	if b := p.repo.Branch(); b != "" {
		line += ", on " + b
	}
	tags, err := p.repo.Tags()
	if err != nil {
		return nil, unreadable(err)
	}
	if list := tags[head.ID]; len(list) > 0 {
		line += ", tagged " + strings.Join(list, ", ")
	}
	t.Para(line, "  ")
	for _, x := range n.unfinished {
		t.Para("unfinished: "+x, "  ")
	}
	if p.repo.Bare() {
		return nil, nil
	}
	before, problems := loader.Load(p.repo.At(head), p.dir)
	if before == nil || before.Garment == nil || problems.HasErrors() {
		t.Para("this folder is not in the last version, or cannot be read there", "  ")
		return compare.Garments(nil, l.folder.Garment, compare.Options{}), nil
	}
	change := compare.Garments(before.Garment, l.folder.Garment, compare.Options{})
	t.Para("changed since: "+changedNames(change), "  ")
	return change, nil
}

func changedNames(c *compare.Change) string {
	var names []string
	for _, p := range c.ChangedPieces() {
		names = append(names, p.Name)
	}
	if len(c.Records) > 0 {
		names = append(names, "the garment file ("+strings.Join(c.Records, ", ")+")")
	}
	if len(names) == 0 {
		return "nothing"
	}
	return strings.Join(names, ", ")
}

func (a *app) seamsAndGaps(t *report.Text, g *pattern.Garment, b *pattern.Body, problems diag.List) {
	var near []string
	for _, x := range problems {
		if x.ID == "seam.near" && x.Severity != diag.Note {
			near = append(near, fmt.Sprintf("%s %.2f", x.Subject, x.Amount))
		}
	}
	s := check.StandingIn(g, problems)
	switch {
	case len(s.Off) > 0:
		t.Para("seams off: "+strings.Join(s.Off, ", "), "  ")
	case len(s.Purpose) > 0:
		t.Para("all seams match but what is off on purpose: "+strings.Join(s.Purpose, ", "), "  ")
	case s.Seams > 0:
		t.Para("all seams match", "  ")
	}
	if len(near) > 0 {
		t.Para("nearly off: "+strings.Join(near, ", "), "  ")
	}
	for i := range g.Closures {
		var parts []string
		for _, level := range measure.LevelNames(g) {
			if gap, ok := measure.GapAt(g, b, &g.Closures[i], level); ok {
				parts = append(parts, fmt.Sprintf("%s %.1f", level, gap.Value()))
			}
		}
		if len(parts) > 0 {
			t.Para("predicted gap "+g.Closures[i].Name+": "+strings.Join(parts, ", "), "  ")
		}
	}
	if count := len(s.Faults); count > 0 {
		t.Para(report.Plural(count, "other error")+": seamkeep check", "  ")
	}
	a.caution(g, b)
}

// nextStep says what the maker would do now.
func nextStep(p *place, g *pattern.Garment, change *compare.Change, problems diag.List) string {
	switch {
	case problems.HasErrors():
		return "see what is wrong and how to mend it: seamkeep check"
	case len(g.Pieces) == 0:
		return "bring a drawing in: seamkeep import FILE.svg"
	case p.repo == nil:
		return "put the folder under git: git init, then seamkeep hooks install"
	case change == nil || change.Any():
		return "look at the change: seamkeep overlay -o change.svg; then keep it: seamkeep keep NAME --because TEXT"
	}
	return "alter the pattern; seamkeep notes lists the versions"
}
