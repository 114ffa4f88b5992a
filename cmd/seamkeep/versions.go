package main

import (
	"errors"
	"fmt"
	"strings"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// two is a pair of versions to compare.
type two struct{ from, to string }

// parseTwo reads the versions on a command line: none is HEAD against the
// working tree, one is that version against it, A..B and A...B are understood
// as git does.
func (p *place) parseTwo(args []string) (two, error) {
	work := "work"
	if p.repo != nil && p.repo.Bare() {
		work = "HEAD"
	}
	switch len(args) {
	case 0:
		if work == "HEAD" {
			return two{"HEAD^", "HEAD"}, nil
		}
		return two{"HEAD", work}, nil
	case 2:
		return two{args[0], args[1]}, nil
	}
	if a, b, ok := strings.Cut(args[0], "..."); ok {
		return p.fromBase(orHead(a), orHead(b))
	}
	if a, b, ok := strings.Cut(args[0], ".."); ok {
		return two{orHead(a), orHead(b)}, nil
	}
	return two{args[0], work}, nil
}

func orHead(s string) string {
	if s == "" {
		return "HEAD"
	}
	return s
}

func (p *place) fromBase(a, b string) (two, error) {
	if p.repo == nil {
		return two{}, fmt.Errorf("no git repository holds this folder")
	}
	base, err := p.repo.MergeBase(a, b)
	if errors.Is(err, repo.ErrUnknownRevision) {
		return two{}, usage("%v: name a commit, a branch or a tag", err)
	}
	if err != nil {
		return two{}, unreadable(err)
	}
	return two{base.ID, b}, nil
}

// compared is a Change with the names of its versions.
type compared struct {
	change   *compare.Change
	from, to string
	toCommit *repo.Commit // nil for the working tree and the index
	title    string
}

// compare loads two versions and compares them. A version without the folder
// counts as empty.
func (a *app) compare(p *place, args []string) (*compared, error) {
	specs, err := p.parseTwo(args)
	if err != nil {
		return nil, err
	}
	loader := text.NewLoader()
	before, err := a.version(p, loader, specs.from)
	if err != nil {
		return nil, err
	}
	after, err := a.version(p, loader, specs.to)
	if err != nil {
		return nil, err
	}
	g := after.folder.Garment
	if g == nil {
		g = before.folder.Garment
	}
	if g == nil {
		return nil, unreadable(fmt.Errorf("neither %s nor %s has the pattern folder %s", specs.from, specs.to, p.dir))
	}
	body := after.body
	if body == nil {
		body = before.body
	}
	c := &compared{
		change: compare.Garments(before.folder.Garment, after.folder.Garment, compare.Options{Body: body}),
		from:   p.label(before.snap, specs.from), to: p.label(after.snap, specs.to),
		toCommit: after.snap.Commit(), title: g.Title,
	}
	if c.title == "" {
		c.title = g.Name
	}
	return c, nil
}

// version reads one version; HEAD before the first commit, and a version that
// does not have the folder yet, are empty.
func (a *app) version(p *place, loader *text.Loader, spec string) (*loaded, error) {
	if spec == "HEAD" && p.repo != nil {
		if head, err := p.repo.Head(); err == nil && head == nil {
			return &loaded{snap: p.repo.EmptySnapshot(), folder: &text.Folder{}}, nil
		}
	}
	snap, err := p.at(spec)
	if err != nil {
		return nil, err
	}
	if dirs, err := text.Find(snap); err == nil && !contains(dirs, p.dir) {
		return &loaded{snap: snap, folder: &text.Folder{Dir: p.dir}}, nil
	}
	return a.read(p, loader, spec)
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// label names a version for people: its note and short id.
func (p *place) label(snap *repo.Snapshot, spec string) string {
	c := snap.Commit()
	switch {
	case c != nil:
		if name := noteOf(c).name; name != "" {
			return fmt.Sprintf("%s (%s)", name, c.Short())
		}
		return c.Short()
	case spec == "index":
		return "staged"
	case spec == "HEAD":
		return "nothing yet"
	}
	return "working tree"
}

// note gives the lines of the later version's note.
func (c *compared) note() []string {
	if c.toCommit == nil {
		return nil
	}
	lines := []string{c.toCommit.Subject()}
	if n := noteOf(c.toCommit); n.because != "" {
		lines = append(lines, "because: "+n.because)
	}
	return lines
}
