package judge

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"sort"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// Worse is how much worse, in the finding's own unit, an accepted finding may
// get before it is refused again.
const Worse = 0.05

// Request says what to judge.
type Request struct {
	Before *repo.Snapshot // the parent: HEAD, its parent in an amend, or the empty snapshot
	After  *repo.Snapshot // what would be committed
	Noted  *repo.Snapshot // HEAD, whose note may list unfinished findings; nil: Before
	Bodies fs.FS          // where bodies are read, paths as in After; nil: none
	Merge  []Parent       // the sides of a merge, ours first; empty otherwise
	Base   *repo.Snapshot // where the sides of a merge parted; nil: unknown
	// Crossed tells that the sides parted at several places, of which Base is one: what
	// each did alone cannot be told for certain.
	Crossed bool
	Accept  []string // addresses of findings that this commit accepts
	Facts   *Facts   // what was found before; nil: nothing is kept
	// Waits excuses a commit that waits to be folded into another one from claims of
	// its own: while it is made, not when others are to take it.
	Waits bool
	// Undone finds the commits that a message says it undoes: what each was made
	// from, and what it made. Those that are not at hand are left out.
	Undone func(message string) []Undone
	// Earlier gives the first parent of a version, nil where there is none: a version
	// that cannot be read whole is passed over. nil: none is known.
	Earlier func(*repo.Snapshot) *repo.Snapshot
	// Touched gives the versions up to Before that changed something in a folder, the
	// newest first: one that comes back had a last version. nil: none is known.
	Touched func(dir string) []*repo.Snapshot
	// SetKnownApart takes out findings that a parent had already and that did not
	// get worse: whoever looks back at a commit holds only what it did against it.
	SetKnownApart bool
	// SetWarningsApart takes out the warnings that Before had only: whoever makes a
	// commit, or merges one, is told what it brings.
	SetWarningsApart bool

	moved map[string]string // folders of After that Before has at another path
	gone  []string          // folders of Before that After lacks
}

// Undone is a commit that a later one undoes.
type Undone struct {
	Before, After *repo.Snapshot
	Undo          note.Undo
}

// Parent is one side of a merge.
type Parent struct {
	Name     string // how messages call it: "ours", "theirs (half-move)"
	Snapshot *repo.Snapshot
}

// Verdict is what was found.
type Verdict struct {
	Folders []Folder
}

// Folder is the verdict on one pattern folder.
type Folder struct {
	Dir    string
	Was    string           // its path before, where it was moved; else Dir
	Before *pattern.Garment // nil where it is new
	After  *pattern.Garment // nil where it went or cannot be read
	// BeforeFaulty: Before is only part of what its files meant, so that no
	// figure can be compared with it.
	BeforeFaulty bool
	Since        *repo.Commit     // of Before, where that is not the parent, which cannot be read whole
	Partly       *pattern.Garment // what of a later version could be read that cannot be read whole
	Body         *pattern.Body
	Problems     diag.List // sorted; errors refuse the commit
	Accepted     diag.List // errors that the commit's note accepts
	// Known holds the findings that a parent had already, where they are set apart.
	Known diag.List
	// Inherited holds the errors that HEAD's note accepts; they stand in
	// Problems as warnings.
	Inherited diag.List
}

// Refused tells whether some folder has an error.
func (v *Verdict) Refused() bool {
	for _, f := range v.Folders {
		if f.Problems.HasErrors() {
			return true
		}
	}
	return false
}

// Problems gives all findings of all folders.
func (v *Verdict) Problems() diag.List {
	var all diag.List
	for _, f := range v.Folders {
		all = append(all, f.Problems...)
	}
	return all
}

// Known gives the findings of all folders that a parent had already, where they are set
// apart.
func (v *Verdict) Known() diag.List {
	var all diag.List
	for _, f := range v.Folders {
		all = append(all, f.Known...)
	}
	return all
}

// Commit judges every pattern folder that the commit changes. Errors are of git
// or the disk; what is wrong with the pattern stands in the verdict.
func Commit(q Request) (*Verdict, error) {
	if q.Facts == nil {
		q.Facts = NewFacts()
	}
	dirs, err := q.changed()
	if err != nil {
		return nil, err
	}
	v := &Verdict{}
	for _, dir := range dirs {
		v.Folders = append(v.Folders, q.folder(dir))
	}
	return v, q.replaced(v)
}

// replaced adds the folders that lost their garment file while their pieces
// stay, or whose garment file gave way to a link or something else that is
// never followed: nothing would be judged there from now on.
func (q Request) replaced(v *Verdict) error {
	now, err := text.Find(q.After)
	if err != nil {
		return err
	}
	before, err := text.Find(q.Before)
	if err != nil {
		return err
	}
	for _, dir := range before {
		if slices.Contains(now, dir) {
			continue
		}
		problems := LeftOut(q.After, dir)
		if left, err := ids(q.After, dir); err != nil {
			return err
		} else if len(problems) == 0 && left != "" {
			problems = diag.List{{
				ID: text.IDFileMissing, Severity: diag.Error, Place: diag.Place{File: dir}, Subject: "garment",
				Found: "the garment file of " + dir + " goes and its pieces stay", Expected: "a garment file beside them",
				Hint: "bring it back with git checkout HEAD -- FILE, or remove the pieces too",
			}}
		}
		if len(problems) > 0 {
			problems.Sort()
			v.Folders = append(v.Folders, Folder{Dir: dir, Problems: problems})
		}
	}
	return nil
}

func (q Request) folder(dir string) Folder {
	now := q.Facts.of(q.After, dir, q.Bodies)
	f := q.read(dir)
	f.After, f.Problems = now.garment, now.list()
	if f.After != nil && now.checked {
		q.weighMerge(&f)
	}
	f.Problems = append(f.Problems, q.exposed(&f)...)
	addressed(f.Problems)
	q.accept(&f)
	q.setKnownApart(&f)
	f.Problems.Sort()
	return f
}

// readable tells whether the files could be read, so that checks make sense. A
// name that refers to nothing, or stands twice, does not hide what is wrong
// elsewhere.
func readable(problems diag.List) bool {
	for _, x := range problems {
		if x.Severity == diag.Error && (strings.HasPrefix(x.ID, "text.") || strings.HasPrefix(x.ID, "file.")) {
			return false
		}
	}
	return true
}

// addressed gives each finding of a reader, which knows only its line, the
// piece or the garment as its address.
func addressed(problems diag.List) {
	for i := range problems {
		x := &problems[i]
		if x.Subject == "" {
			x.Subject = "garment"
			if x.Place.Piece != "" {
				x.Subject = x.Place.Piece
			}
		}
	}
}

// accept takes out the findings that this commit's note lists, and lowers those
// that HEAD's note lists and that did not get worse to warnings.
func (q Request) accept(f *Folder) {
	now := map[string]bool{}
	for _, a := range q.Accept {
		now[a] = true
	}
	inherited := q.inherited(f)
	var left diag.List
	for _, x := range f.Problems {
		switch {
		case x.Severity == diag.Error && now[x.Address()]:
			f.Accepted = append(f.Accepted, x)
			continue
		case x.Severity == diag.Error && noWorse(x, inherited[x.Address()]):
			f.Inherited = append(f.Inherited, x)
			x.Severity = diag.Warning
			x.Hint = strings.TrimSpace(x.Hint + "\nunfinished: the last note accepts this until it is mended")
		}
		left = append(left, x)
	}
	f.Problems = left
}

// noWorse tells whether a finding is no worse than one of its address was before.
func noWorse(x diag.Problem, before diag.List) bool {
	return slices.ContainsFunc(before, func(was diag.Problem) bool { return x.NoWorse(was, Worse) })
}

// inherited gives the findings that the note of HEAD accepts, as they were there, by
// their address.
func (q Request) inherited(f *Folder) map[string]diag.List {
	noted := q.Noted
	if noted == nil {
		noted = q.Before
	}
	head := noted.Commit()
	if head == nil {
		return nil
	}
	listed := map[string]bool{}
	for _, t := range repo.Trailers(head.Message) {
		if strings.EqualFold(t.Key, "Unfinished") {
			listed[t.Value] = true
		}
	}
	if len(listed) == 0 {
		return nil
	}
	there := map[string]diag.List{}
	for _, dir := range []string{f.Dir, f.Was} { // HEAD has it at either
		for _, x := range q.Facts.of(noted, dir, q.Bodies).list() {
			if listed[x.Address()] {
				there[x.Address()] = append(there[x.Address()], x)
			}
		}
	}
	return there
}

// setKnownApart moves the findings that a parent had already to Known, as far as it is
// asked for.
func (q Request) setKnownApart(f *Folder) {
	apart := func(x diag.Problem) bool {
		return q.SetKnownApart || q.SetWarningsApart && x.Severity == diag.Warning
	}
	if !slices.ContainsFunc(f.Problems, apart) {
		return // what the parents had is not looked for in vain
	}
	parents := []*facts{q.Facts.of(q.Before, f.Was, q.Bodies)}
	if q.SetKnownApart {
		for _, p := range q.Merge {
			parents = append(parents, q.Facts.of(p.Snapshot, f.Dir, q.Bodies))
		}
	}
	before := map[string]diag.List{}
	for _, p := range parents {
		for _, x := range p.list() {
			key := x.Severity.String() + " " + x.Address()
			before[key] = append(before[key], x)
		}
	}
	var left diag.List
	for _, x := range f.Problems {
		if noWorse(x, before[x.Severity.String()+" "+x.Address()]) && apart(x) {
			f.Known = append(f.Known, x)
			continue
		}
		left = append(left, x)
	}
	f.Problems = left
}

// LoadBody reads the body that a garment names from bodies/ beside it. Without
// such a file it gives nil and no problem: bodies are private and often absent.
func LoadBody(fsys fs.FS, dir string, g *pattern.Garment) (*pattern.Body, diag.List) {
	if fsys == nil || g == nil || g.Body == "" {
		return nil, nil
	}
	name := path.Join(dir, "bodies", g.Body+".body")
	src, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, nil
	}
	body, problems := text.ReadBody(name, src)
	if problems.HasErrors() {
		return nil, problems
	}
	return body, problems
}

// LeftOut reports files in a pattern folder that are never followed: links,
// odd names, unmerged entries.
func LeftOut(s *repo.Snapshot, dir string) diag.List {
	var out diag.List
	for _, sub := range []string{dir, path.Join(dir, "pieces")} {
		list, err := s.LeftOutIn(sub)
		if err != nil {
			continue
		}
		for _, l := range list {
			if text.KindOf(l.Path) == "" {
				continue
			}
			out = append(out, diag.Problem{
				ID: "file.left-out", Severity: diag.Error, Place: diag.Place{File: l.Path},
				Found: fmt.Sprintf("%s: %s", path.Base(l.Path), l.Why), Expected: "a plain file",
			})
		}
	}
	return out
}

// differs tells whether a file of a pattern folder differs between two
// snapshots, by object id.
func differs(a, b *repo.Snapshot, dir string) (bool, error) {
	x, err := ids(a, dir)
	if err != nil {
		return false, err
	}
	y, err := ids(b, dir)
	if err != nil {
		return false, err
	}
	return x != y, nil
}

// ids lists the names and object ids of a folder's pattern files.
func ids(s *repo.Snapshot, dir string) (string, error) {
	var lines []string
	for _, sub := range []string{dir, path.Join(dir, "pieces")} {
		entries, err := fs.ReadDir(s, sub)
		if err != nil {
			continue // the folder is not there in this version
		}
		for _, e := range entries {
			name := path.Join(sub, e.Name())
			if e.IsDir() || text.KindOf(name) == "" {
				continue
			}
			id, _ := s.ID(name)
			lines = append(lines, name+" "+id)
		}
		left, err := s.LeftOutIn(sub)
		if err != nil {
			return "", err
		}
		for _, l := range left { // a link in the place of a file is a change too
			if text.KindOf(l.Path) != "" {
				lines = append(lines, l.Path+" "+l.Why)
			}
		}
	}
	sort.Strings(lines)
	return strings.Join(lines, "\n"), nil
}
