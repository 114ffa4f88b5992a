package repo

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

// MaxFile is the largest file, in bytes, that a Snapshot hands out.
const MaxFile = 16 << 20

var (
	// ErrNoRepository says that no git repository holds the folder.
	ErrNoRepository = errors.New("not in a git repository")
	// ErrUnknownRevision says that a revision names no commit.
	ErrUnknownRevision = errors.New("unknown revision")
	// ErrNoWorkTree says that a bare repository has neither working tree nor index.
	ErrNoWorkTree = errors.New("a bare repository has no working tree")
	// ErrNoGit says that the git program, needed here, is not on PATH.
	ErrNoGit = errors.New("git is not on PATH")
	// ErrOutside says that a path lies outside the working tree.
	ErrOutside = errors.New("outside the working tree")
	// ErrNoMergeBase says that two commits have no common ancestor here.
	ErrNoMergeBase = errors.New("no common ancestor")
)

// UnsupportedError says that neither the library nor git can read something.
type UnsupportedError struct {
	What string // what the repository is: "an index in pieces (split index)"
	Hint string // what to do about it
	Err  error  // what the last attempt said; may be nil
}

// Error gives what cannot be read and why.
func (e *UnsupportedError) Error() string {
	if e.Err == nil {
		return "cannot read " + e.What + ": " + e.Hint
	}
	return fmt.Sprintf("cannot read %s: %v: %s", e.What, e.Err, e.Hint)
}

// Unwrap gives the cause.
func (e *UnsupportedError) Unwrap() error { return e.Err }

// Repo is an open repository. It may be used by several goroutines; Close it
// when nothing reads from it or from its snapshots any more.
type Repo struct {
	root   string // work tree, absolute, symbolic links resolved; "" when bare
	gitDir string // of this worktree, absolute
	common string // shared by all worktrees, absolute
	index  string // file that holds the staged content, absolute
	env    environment
	local  settings // of the repository's own files

	main reader // the library, or git where the library cannot

	mu      sync.Mutex
	spare   reader // git, once the library has failed; nil until then
	commits map[string]*Commit
	trees   map[string][]treeEntry
	shallow map[string]bool // nil until read
	disk    *os.Root        // nil until the working tree is read
}

// Root is the working tree's folder, absolute and with symbolic links
// resolved; "" in a bare repository.
func (r *Repo) Root() string { return r.root }

// GitDir is the folder that holds HEAD and the index of this working tree,
// absolute.
func (r *Repo) GitDir() string { return r.gitDir }

// IndexFile is the file that holds the staged content, absolute: the one that
// GIT_INDEX_FILE names, else that of this working tree.
func (r *Repo) IndexFile() string { return r.index }

// CommonDir is the folder that holds objects and refs, shared by all linked
// working trees, absolute.
func (r *Repo) CommonDir() string { return r.common }

// Bare says whether the repository has no working tree.
func (r *Repo) Bare() bool { return r.root == "" }

// Rel turns a path of the operating system, absolute or relative to the
// current folder, into a slash path from the root; "." is the root. The file
// need not exist. Symbolic links in the folders above it are resolved, the last
// name is not. ErrOutside where the path leads out of the working tree.
func (r *Repo) Rel(path string) (string, error) {
	if r.Bare() {
		return "", ErrNoWorkTree
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", fmt.Errorf("path %q: %w", path, err)
	}
	if rel, ok := within(r.root, abs); ok && rel == "." {
		return rel, nil
	}
	rel, ok := within(r.root, filepath.Join(realPath(filepath.Dir(abs)), filepath.Base(abs)))
	if !ok {
		rel, ok = within(r.root, realPath(abs)) // the root itself, by way of a link
	}
	if !ok {
		return "", fmt.Errorf("%q is %w %q", path, ErrOutside, r.root)
	}
	return filepath.ToSlash(rel), nil
}

// within gives path relative to root where it does not lead out of it.
func within(root, path string) (string, bool) {
	rel, err := filepath.Rel(root, path)
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return "", false
	}
	return rel, true
}

// realPath resolves the symbolic links in the part of path that exists.
func realPath(path string) string {
	rest := ""
	for p := path; ; {
		if real, err := filepath.EvalSymlinks(p); err == nil {
			return filepath.Join(real, rest)
		}
		up := filepath.Dir(p)
		if up == p {
			return path
		}
		rest = filepath.Join(filepath.Base(p), rest)
		p = up
	}
}

// Close frees what reading has opened: files, and git if it was started.
func (r *Repo) Close() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	var err error
	if r.main != nil { // a plain folder has none
		err = r.main.close()
	}
	if r.spare != nil {
		err = errors.Join(err, r.spare.close())
		r.spare = nil
	}
	if r.disk != nil {
		err = errors.Join(err, r.disk.Close())
		r.disk = nil
	}
	return err
}

// Branch is the short name of the branch that HEAD is on, born or unborn; ""
// when HEAD is detached or cannot be read.
func (r *Repo) Branch() string {
	h, err := ask(r, func(rd reader) (head, error) { return rd.head() })
	if err != nil {
		return ""
	}
	return strings.TrimPrefix(h.ref, "refs/heads/")
}

// Head is the commit that HEAD names; nil, nil when the branch is unborn.
func (r *Repo) Head() (*Commit, error) {
	h, err := ask(r, func(rd reader) (head, error) { return rd.head() })
	if err != nil {
		return nil, fmt.Errorf("read HEAD: %w", err)
	}
	if h.id == "" {
		return nil, nil
	}
	return r.commit(h.id)
}

// Tags gives the names of the tags that each commit bears, by commit id, in
// order of name. Annotated tags count for the commit they lead to; tags of
// anything but a commit are left out.
func (r *Repo) Tags() (map[string][]string, error) {
	refs, err := ask(r, func(rd reader) ([]ref, error) { return rd.refs("refs/tags/") })
	if err != nil {
		return nil, fmt.Errorf("read the tags: %w", err)
	}
	tags := make(map[string][]string)
	for _, t := range refs {
		id, err := r.peel(t.id)
		if errors.Is(err, errMissing) || errors.Is(err, errNotCommit) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("tag %q: %w", t.name, err)
		}
		tags[id] = append(tags[id], strings.TrimPrefix(t.name, "refs/tags/"))
	}
	return tags, nil
}

// MergeHeads gives the other sides of a merge in progress: those that
// MERGE_HEAD names; else, as in pre-merge-commit, where that file does not exist
// yet, those that git names by GITHEAD_<id> in the environment. None: nil, nil.
func (r *Repo) MergeHeads() ([]*Commit, error) {
	var ids []string
	data, err := os.ReadFile(filepath.Join(r.gitDir, "MERGE_HEAD"))
	switch {
	case err == nil:
		ids = strings.Fields(string(data))
	case errors.Is(err, os.ErrNotExist):
		ids = r.env.mergeNames()
	default:
		return nil, fmt.Errorf("read the merge in progress: %w", err)
	}
	var heads []*Commit
	for _, id := range ids {
		c, err := r.Resolve(id)
		if err != nil {
			return nil, fmt.Errorf("side of the merge %q: %w", id, err)
		}
		heads = append(heads, c)
	}
	return heads, nil
}
