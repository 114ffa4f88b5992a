package repo

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
	"time"
)

// LeftOut is something that a snapshot does not hand out, and why. Path may
// hold control characters: quote it before it is printed.
type LeftOut struct{ Path, Why string }

// Snapshot is the content of the repository at one moment: of a commit, of the
// index, or the working tree as it lies on disk. It is an fs.FS with slash
// paths from the root, read only. Nothing is read before it is asked for, a
// folder at a time.
//
// Not handed out, neither listed nor opened: symbolic links (never followed),
// other repositories (submodules), unmerged entries, entries added with intent
// only, and names that are not UTF-8 or hold control characters, backslashes,
// ".." or ".git". Opening one gives an error that is fs.ErrNotExist and says
// why. Files above MaxFile are refused before they are read.
//
// Symbolic links apart, the working tree shows what is on disk, ignored files
// too; a sparse one shows the files that git keeps off the disk as well.
type Snapshot struct {
	repo   *Repo
	label  string
	commit *Commit
	src    source

	mu   sync.Mutex
	left map[string]string
}

// source is a tree of files: a commit's, the index's, the disk's.
type source interface {
	// list gives the usable entries of a folder in order of name.
	list(s *Snapshot, dir string) ([]entry, error)
	// find gives the entry at a path other than ".".
	find(s *Snapshot, name string) (entry, error)
	read(e entry) ([]byte, error)
	size(e entry) (int64, error)
	blob(e entry) (string, error)
}

// entry is one usable file or folder.
type entry struct {
	path  string // from the root
	dir   bool
	exec  bool
	id    string // of the blob or tree; "" on disk
	bytes int64  // length where known, else -1
	when  time.Time
}

// Snapshot gives the working tree ("" or "work"), the staged content
// ("index"), or the tree of a revision as Resolve finds it. A branch that is
// named work or index is reached as refs/heads/work.
func (r *Repo) Snapshot(spec string) (*Snapshot, error) {
	switch spec {
	case "", "work":
		return r.workSnapshot()
	case "index":
		return r.indexSnapshot()
	}
	c, err := r.Resolve(spec)
	if err != nil {
		return nil, err
	}
	return r.At(c), nil
}

// At gives the tree of a commit of this repository.
func (r *Repo) At(c *Commit) *Snapshot {
	s := &Snapshot{repo: r, label: c.Short(), commit: c}
	s.src = &listing{repo: r, when: c.Committer.When, loaded: make(map[string][]entry), root: c.tree}
	return s
}

// EmptySnapshot is what an unborn branch holds: nothing.
func (r *Repo) EmptySnapshot() *Snapshot {
	return &Snapshot{repo: r, label: "empty", src: &listing{repo: r, loaded: map[string][]entry{".": nil}}}
}

// HeadSnapshot is the tree of HEAD; the empty one where HEAD is unborn.
func (r *Repo) HeadSnapshot() (*Snapshot, error) {
	c, err := r.Head()
	if err != nil {
		return nil, err
	}
	if c == nil {
		return r.EmptySnapshot(), nil
	}
	return r.At(c), nil
}

// Label is "work", "index", "empty", or the short id of the commit.
func (s *Snapshot) Label() string { return s.label }

// Commit is the commit that is shown; nil for work, index and empty.
func (s *Snapshot) Commit() *Commit { return s.commit }

// ID is the blob id of a file; false for folders and what is not there. In the
// working tree the file is read and its bytes hashed as they are: no line end
// is converted and no filter run.
func (s *Snapshot) ID(name string) (string, bool) {
	e, err := s.find("id", name)
	if err != nil || e.dir {
		return "", false
	}
	id, err := s.src.blob(e)
	return id, err == nil
}

// LeftOut lists what was met and not handed out in the folders listed so far,
// in order of path; in the index, everything.
func (s *Snapshot) LeftOut() []LeftOut {
	s.mu.Lock()
	defer s.mu.Unlock()
	var out []LeftOut
	for p, why := range s.left {
		out = append(out, LeftOut{p, why})
	}
	slices.SortFunc(out, func(a, b LeftOut) int { return strings.Compare(a.Path, b.Path) })
	return out
}

// LeftOutIn is LeftOut for what lies directly in one folder, which it lists
// first if need be. A folder that is not there leaves nothing out.
func (s *Snapshot) LeftOutIn(dir string) ([]LeftOut, error) {
	if _, err := s.ReadDir(dir); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	var out []LeftOut
	for _, l := range s.LeftOut() {
		if path.Dir(l.Path) == dir {
			out = append(out, l)
		}
	}
	return out, nil
}

// Unmerged lists the paths of the index that a merge left in conflict, in
// order; always none for a commit and the working tree.
func (s *Snapshot) Unmerged() []string {
	if l, ok := s.src.(*listing); ok {
		return slices.Clone(l.unmerged)
	}
	return nil
}

func (s *Snapshot) leave(name, why string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.left == nil {
		s.left = make(map[string]string)
	}
	s.left[name] = why
}

// leftOutError is fs.ErrNotExist with the reason.
type leftOutError struct{ why string }

func (e *leftOutError) Error() string        { return "left out: " + e.why }
func (e *leftOutError) Is(target error) bool { return target == fs.ErrNotExist }

// missing is the error for a path that is not there, or was left out.
func (s *Snapshot) missing(name string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	for p := name; p != "."; p = path.Dir(p) {
		if why, ok := s.left[p]; ok {
			return &leftOutError{why}
		}
	}
	return fs.ErrNotExist
}

func (s *Snapshot) find(op, name string) (entry, error) {
	if !fs.ValidPath(name) {
		return entry{}, &fs.PathError{Op: op, Path: name, Err: fs.ErrInvalid}
	}
	if name == "." {
		return entry{path: ".", dir: true}, nil
	}
	e, err := s.src.find(s, name)
	if err != nil {
		return e, &fs.PathError{Op: op, Path: name, Err: err}
	}
	return e, nil
}

// oddName says what is wrong with a name from a tree; "" for a usable one.
func oddName(name string) string {
	switch {
	case name == "" || name == "." || name == "..":
		return "the name is empty or dots"
	case strings.ContainsAny(name, "/\\"):
		return "the name holds a slash or backslash"
	case !fs.ValidPath(name):
		return "the name is not UTF-8"
	case strings.ContainsFunc(name, isControl):
		return "the name holds control characters"
	case isDotGit(name):
		return "the name is one of git's own"
	}
	return ""
}

// isControl is wider than unicode.IsControl: it takes in the marks that turn
// the writing direction or cannot be seen.
func isControl(c rune) bool {
	return c < 0x20 || c >= 0x7f && c < 0xa0 || c >= 0x200b && c <= 0x200f ||
		c >= 0x2028 && c <= 0x202e || c >= 0x2066 && c <= 0x2069 || c == 0xfeff
}

// isDotGit knows ".git" as file systems that fold names would open it.
func isDotGit(name string) bool {
	n := strings.ToLower(strings.TrimRight(name, ". "))
	n, _, _ = strings.Cut(n, ":")
	return n == ".git" || n == "git~1"
}

// modes of tree entries
const (
	modeType    = 0o170000
	modeTree    = 0o040000
	modeFile    = 0o100000
	modeLink    = 0o120000
	modeGitlink = 0o160000
)

// oddMode says why an entry of this mode is left out; "" for files and folders.
func oddMode(mode uint32) string {
	switch mode & modeType {
	case modeTree, modeFile:
		return ""
	case modeLink:
		return "it is a symbolic link"
	case modeGitlink:
		return "it is another repository (submodule)"
	}
	return fmt.Sprintf("its mode is %o", mode)
}
