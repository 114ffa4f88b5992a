package main

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/sheet"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// printed says which version is printed, whether it can be had again and whether
// its seams match; and the date that the file bears: of the version, or what
// SOURCE_DATE_EPOCH says (reproducible-builds.org).
func (a *app) printed(p *place, l *loaded) (sheet.Version, time.Time, error) {
	walked := check.StandingOf(check.Input{Garment: l.folder.Garment, Body: l.body})
	v := sheet.Version{Walked: walked.Walked(), Walk: walked.Words()}
	date := time.Unix(0, 0).UTC()
	c, kept, err := p.standsFor(l)
	if err != nil {
		return v, date, err
	}
	if c != nil {
		v.Commit, v.Note, v.Kept = c.Short(), noteOf(c).name, kept
		date = c.Author.When.UTC()
		v.Date = c.Author.When.Format(time.DateOnly)
		if kept {
			tags, err := p.repo.Tags()
			if err != nil {
				return v, date, unreadable(err)
			}
			v.Tag = mockUp(tags[c.ID])
		}
	}
	if epoch := a.env("SOURCE_DATE_EPOCH"); epoch != "" {
		seconds, err := strconv.ParseInt(epoch, 10, 64)
		if err != nil || seconds < 0 {
			return v, date, usage("SOURCE_DATE_EPOCH=%s: it holds whole seconds since 1970", epoch)
		}
		date = time.Unix(seconds, 0).UTC()
	}
	return v, date, nil
}

// standsFor gives the version that is printed; or the last one, and false, where
// something in the pattern differs from it.
func (p *place) standsFor(l *loaded) (*repo.Commit, bool, error) {
	if c := l.snap.Commit(); c != nil || p.repo == nil {
		return c, c != nil, nil
	}
	head, err := p.repo.Head()
	if err != nil {
		return nil, false, unreadable(err)
	}
	if head == nil {
		return nil, false, nil
	}
	before, problems := text.NewLoader().Load(p.repo.At(head), p.dir)
	if before == nil || before.Garment == nil || problems.HasErrors() {
		return head, false, nil
	}
	return head, !compare.Garments(before.Garment, l.folder.Garment, compare.Options{}).Any(), nil
}

// mockUp picks the tag that names what is cut: one called mock-up or toile before
// any other.
func mockUp(tags []string) string {
	tags = slices.Sorted(slices.Values(tags))
	for _, t := range tags {
		if strings.Contains(t, "mock-up") || strings.Contains(t, "toile") {
			return t
		}
	}
	if len(tags) > 0 {
		return tags[0]
	}
	return ""
}
