package main

import (
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
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
	a, b = revision(p.repo, a), revision(p.repo, b)
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
	between  []*repo.Commit // the versions that lead from one to the other, newest first
	title    string
	faulty   diag.List // errors of the reader: the pieces concerned are left out
}

// compare loads two versions and compares them. A version without the folder
// counts as empty; pieces that cannot be read in one of them are left out of
// both, and told as faults.
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
	faults, left := leaveFaulty(before, after)
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
		change: compare.Garments(before.folder.Garment, after.folder.Garment, compare.Options{Body: body, Faults: faults}),
		from:   p.label(before.snap, specs.from), to: p.label(after.snap, specs.to),
		title:  g.Title,
		faulty: append(before.faulty, after.faulty...),
	}
	c.change.Faults = slices.DeleteFunc(c.change.Faults, func(f compare.Fault) bool {
		return f.Why == compare.NoPieces && left // they were left out, not away
	})
	if c.between, err = p.between(before.snap, after.snap); err != nil {
		return nil, unreadable(err)
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
	if dirs, err := text.Find(snap); err == nil && !slices.Contains(dirs, p.dir) {
		return &loaded{snap: snap, folder: &text.Folder{Dir: p.dir}}, nil
	}
	l, problems, err := p.load(loader, spec)
	if err != nil {
		return nil, err
	}
	if l.faulty = problems.Only(diag.Error); len(l.faulty) == 0 {
		return l, nil
	}
	l.faulty.Sort()
	a.say("in " + p.theVersion(snap, spec) + ":")
	a.talk().Problems(l.faulty)
	for _, x := range l.faulty {
		if l.folder.Garment == nil || text.KindOf(x.Place.File) == text.GarmentFile && !readable(x) {
			return nil, found(codeOf(l.faulty)) // nothing holds the pieces together
		}
	}
	return l, nil
}

// leaveFaulty takes the pieces whose files have errors out of both versions, so
// that half a piece is never compared with a whole one, and says so as faults.
func leaveFaulty(before, after *loaded) (out []compare.Fault, left bool) {
	bad := map[string]bool{}
	for _, l := range []*loaded{before, after} {
		told := map[string]bool{}
		for _, x := range l.faulty {
			name := strings.TrimSuffix(path.Base(x.Place.File), ".piece")
			if text.KindOf(x.Place.File) != text.PieceFile {
				name = ""
			}
			if !told[name] {
				told[name] = true
				bad[name] = bad[name] || name != "" && !readable(x)
				left = left || bad[name]
				out = append(out, compare.Fault{Piece: name, After: l == after, Why: faultWords(x, bad[name])})
			}
		}
	}
	for _, l := range []*loaded{before, after} {
		if g := l.folder.Garment; g != nil {
			l.folder.Garment = without(g, bad)
		}
	}
	return out, left
}

// readable tells whether an error leaves a piece whole: a name that leads
// nowhere does.
func readable(x diag.Problem) bool {
	return x.ID == text.IDNameUnknown || x.ID == text.IDNameAmbiguous
}

func faultWords(x diag.Problem, left bool) string {
	words := fmt.Sprintf("line %d of %s: %s", x.Place.Line, path.Base(x.Place.File), x.Found)
	if x.Place.Line == 0 {
		words = x.Found
	}
	if left {
		words += "; it is left out of the comparison"
	}
	return words
}

// without gives a garment with some of its pieces left out; the model that the
// loader shares stays as it is.
func without(g *pattern.Garment, names map[string]bool) *pattern.Garment {
	out := *g
	out.Pieces = nil
	for _, p := range g.Pieces {
		if !names[p.Name] {
			out.Pieces = append(out.Pieces, p)
		}
	}
	return &out
}

// theVersion is label in a sentence.
func (p *place) theVersion(snap *repo.Snapshot, spec string) string {
	label := p.label(snap, spec)
	switch {
	case snap.Commit() != nil:
		return "version " + label
	case spec == "index":
		return "what is staged"
	}
	return "the " + label
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

// verdict ends a command that has shown what it could of faulty versions.
func (c *compared) verdict() error {
	if len(c.faulty) == 0 {
		return nil
	}
	return found(codeOf(c.faulty))
}

// mostNotes is how many versions between two are asked of git.
const mostNotes = 200

// between lists the versions that the later one has and the earlier one lacks,
// as far as they touched this folder, newest first. The working tree and the
// index stand on HEAD.
func (p *place) between(before, after *repo.Snapshot) ([]*repo.Commit, error) {
	from := before.Commit()
	if p.repo == nil || from == nil {
		return nil, nil
	}
	to := "HEAD"
	if c := after.Commit(); c != nil {
		to = c.ID
	}
	var paths []string
	if p.dir != "." {
		paths = []string{p.dir}
	}
	return p.repo.Log(from.ID+".."+to, paths, mostNotes)
}

// note gives the lines that head a picture: the note of the one version that
// made the change, or the names of several.
func (c *compared) note() []string {
	switch len(c.between) {
	case 0:
		return nil
	case 1:
		lines := []string{c.between[0].Subject()}
		if n := noteOf(c.between[0]); n.because != "" {
			lines = append(lines, "because: "+n.because)
		}
		return lines
	}
	const shown = 6
	var names []string
	for i := range min(shown, len(c.between)) {
		names = append(names, nameOf(c.between[i]))
	}
	slices.Reverse(names)
	line := fmt.Sprintf("%d versions: ", len(c.between))
	if more := len(c.between) - shown; more > 0 {
		line += fmt.Sprintf("%d earlier, then ", more)
	}
	return []string{line + strings.Join(names, ", ")}
}

// nameOf is the name of a version's note, or else its subject.
func nameOf(c *repo.Commit) string {
	if n := noteOf(c).name; n != "" {
		return n
	}
	return c.Subject()
}
