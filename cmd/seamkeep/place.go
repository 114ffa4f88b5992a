package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// place is the pattern folder that a command works on.
type place struct {
	repo *repo.Repo // nil where no repository holds it
	root string     // absolute folder that paths start from
	dir  string     // the pattern folder, a slash path from root
}

// locate finds the pattern folder: -C itself, the one above it, or the only
// one below it.
func (a *app) locate() (*place, error) {
	p := &place{}
	abs, err := filepath.Abs(a.dir)
	if err != nil {
		return nil, err
	}
	if info, err := os.Stat(abs); err != nil || !info.IsDir() {
		return nil, unreadable(fmt.Errorf("there is no folder %s", a.dir))
	}
	p.repo, err = repo.Open(abs)
	switch {
	case errors.Is(err, repo.ErrNoRepository):
		p.root = abs
	case err != nil:
		return nil, unreadable(err)
	case p.repo.Bare():
		return p, p.choose(a, ".")
	default:
		p.root = p.repo.Root()
	}
	start := "."
	if p.repo != nil {
		if start, err = p.repo.Rel(abs); err != nil {
			return nil, unreadable(err)
		}
	}
	return p, p.choose(a, start)
}

// choose picks the pattern folder at start, above it, or the only one below.
func (p *place) choose(a *app, start string) error {
	snap, err := p.snapshot(a.defaultSpec(p))
	if err != nil {
		return unreadable(err)
	}
	dirs, err := text.Find(snap)
	if err != nil {
		return unreadable(err)
	}
	dirs = p.withKept(dirs)
	for up := start; ; up = path.Dir(up) {
		for _, d := range dirs {
			if d == up {
				p.dir = d
				return nil
			}
		}
		if up == "." {
			break
		}
	}
	var below []string
	for _, d := range dirs {
		if start == "." || strings.HasPrefix(d, start+"/") {
			below = append(below, d)
		}
	}
	switch len(below) {
	case 1:
		p.dir = below[0]
		return nil
	case 0:
		return unreadable(fmt.Errorf("no pattern folder here: no file NAME.garment in %s\nstart one with: seamkeep new NAME", a.dir))
	}
	return usage("several pattern folders here; choose one with -C: %s", strings.Join(below, ", "))
}

// withKept adds the folders that the last version has and the disk does not:
// one that lost its garment file can still be restored.
func (p *place) withKept(dirs []string) []string {
	if p.repo == nil {
		return dirs
	}
	head, err := p.repo.HeadSnapshot()
	if err != nil {
		return dirs // what cannot be read is reported where it is asked for
	}
	kept, err := text.Find(head)
	if err != nil {
		return dirs
	}
	for _, d := range kept {
		if !slices.Contains(dirs, d) {
			dirs = append(dirs, d)
		}
	}
	return dirs
}

// defaultSpec is what commands read where no version is named.
func (a *app) defaultSpec(p *place) string {
	if p.repo != nil && p.repo.Bare() {
		return "HEAD"
	}
	return "work"
}

// snapshot gives a version of the repository, or the folder as it lies on disk.
func (p *place) snapshot(spec string) (*repo.Snapshot, error) {
	if p.repo != nil {
		return p.repo.Snapshot(spec)
	}
	if spec != "" && spec != "work" {
		return nil, fmt.Errorf("no git repository holds this folder, so there is no version %q", spec)
	}
	return repo.Folder(p.root)
}

// at is snapshot with errors for the maker.
func (p *place) at(spec string) (*repo.Snapshot, error) {
	snap, err := p.snapshot(spec)
	if errors.Is(err, repo.ErrUnknownRevision) {
		snap, err = p.snapshot(revision(p.repo, spec))
	}
	if errors.Is(err, repo.ErrUnknownRevision) {
		return nil, noVersion(spec)
	}
	if err != nil {
		return nil, unreadable(err)
	}
	return snap, nil
}

// openRepo opens the repository here; why says what none means for the command.
func (a *app) openRepo(why string) (*repo.Repo, error) {
	r, err := repo.Open(a.dir)
	if errors.Is(err, repo.ErrNoRepository) {
		return nil, unreadable(errors.New("no git repository here" + why))
	}
	if err != nil {
		return nil, unreadable(err)
	}
	return r, nil
}

func noVersion(spec string) error {
	return usage("there is no version %q: name a note, a commit, a branch, a tag, index or work\nseamkeep notes lists the versions", report.Clean(spec))
}

// byNote finds the newest version of this branch whose note has a name: the
// names that a maker gave are as good as tags.
func byNote(r *repo.Repo, name string) *repo.Commit {
	if r == nil || pattern.NameFault(name) != "" {
		return nil
	}
	commits, err := r.Log("", nil, 0)
	if err != nil {
		return nil
	}
	for _, c := range commits {
		if slices.Contains(noteOf(c).names, name) {
			return c
		}
	}
	return nil
}

// revision turns the name of a note into its commit's id, also before git's ~ and ^,
// and leaves what git knows.
func revision(r *repo.Repo, spec string) string {
	if _, err := r.Resolve(spec); err == nil {
		return spec
	}
	name, steps := spec, ""
	if i := strings.IndexAny(spec, "~^"); i > 0 {
		name, steps = spec[:i], spec[i:]
	}
	if c := byNote(r, name); c != nil {
		return c.ID + steps
	}
	return spec
}

// ends splits a range A..B or A...B; an end that is left out is HEAD. Of one
// revision there is only a.
func ends(rang string) (a, dots, b string) {
	for _, dots := range []string{"...", ".."} {
		if a, b, ok := strings.Cut(rang, dots); ok {
			return orHead(a), dots, orHead(b)
		}
	}
	return rang, "", ""
}

// rangeOf turns the names of notes in a range into ids, and leaves what git knows.
func rangeOf(r *repo.Repo, rang string) string {
	a, dots, b := ends(rang)
	if dots == "" {
		return revision(r, a)
	}
	return revision(r, a) + dots + revision(r, b)
}

// noRange says which end of a range is no version.
func noRange(r *repo.Repo, rang string) error {
	a, dots, b := ends(rang)
	if _, err := r.Resolve(revision(r, a)); err != nil || dots == "" {
		return noVersion(a)
	}
	return noVersion(b)
}

// loaded is a version of the pattern, read.
type loaded struct {
	snap   *repo.Snapshot
	folder *text.Folder
	body   *pattern.Body
	faulty diag.List // errors of the reader, where a command goes on in spite of them
}

// load reads a version. Findings of the reader come back as problems; the
// garment may then be nil.
func (p *place) load(l *text.Loader, spec string) (*loaded, diag.List, error) {
	snap, err := p.at(spec)
	if err != nil {
		return nil, nil, err
	}
	folder, problems := l.Load(snap, p.dir)
	out := &loaded{snap: snap, folder: folder}
	body, more := p.body(folder.Garment)
	out.body = body
	return out, append(problems, more...), nil
}

// body reads the body that a garment names; always from the working tree.
func (p *place) body(g *pattern.Garment) (*pattern.Body, diag.List) {
	if p.repo != nil && p.repo.Bare() {
		return nil, nil
	}
	work, err := p.snapshot("work")
	if err != nil {
		return nil, nil
	}
	return judge.LoadBody(work, p.dir, g)
}

// open finds the folder and reads a version of it, the working tree where none
// is named; a pattern that cannot be read is shown and ends the command.
func (a *app) open(rev string) (*place, *loaded, error) {
	p, err := a.locate()
	if err != nil {
		return nil, nil, err
	}
	if rev == "" {
		rev = a.defaultSpec(p)
	}
	l, err := a.read(p, text.NewLoader(), rev)
	return p, l, err
}

// read reads one version; see open.
func (a *app) read(p *place, loader *text.Loader, spec string) (*loaded, error) {
	l, problems, err := p.load(loader, spec)
	if err != nil {
		return nil, err
	}
	if problems.HasErrors() {
		problems.Sort()
		a.talk().Problems(problems)
		return nil, found(codeOf(problems))
	}
	return l, nil
}

// writable refuses where there is no working tree to write into.
func (p *place) writable() error {
	if p.repo != nil && p.repo.Bare() {
		return unreadable(errors.New("this repository has no working tree to write into; work in a clone of it"))
	}
	return nil
}

// exists tells whether a path is there in a snapshot.
func exists(fsys fs.FS, name string) bool {
	_, err := fs.Stat(fsys, name)
	return err == nil
}
