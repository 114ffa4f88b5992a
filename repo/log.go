package repo

import (
	"errors"
	"fmt"
	"path"
	"strconv"
	"strings"
)

// Log lists the commits that a revision leads back to, newest first as
// `git log` orders them. rev is a revision, "A..B" (in B and not in A) or
// "A...B" (in one of them only); an empty side and "" are HEAD, and an unborn
// HEAD has none. At the edge of a shallow clone the list ends.
//
// With paths (files or folders, slashes, from the root) only commits that
// touched one of them: against its parent, or, for a merge, against any of its
// parents. No side of a merge is passed over, even where the merge took
// everything from the other: an alteration that a merge dropped was made all the
// same (`git log --full-history`). Renames are not followed. limit is the most
// to give; 0 or less gives all.
func (r *Repo) Log(rev string, paths []string, limit int) ([]*Commit, error) {
	paths, err := cleanPaths(paths)
	if err != nil {
		return nil, err
	}
	w, err := r.rangeOf(rev)
	if err != nil || w == nil {
		return nil, err
	}
	if len(paths) > 0 {
		if _, err := gitPath(); err == nil {
			if list, err := r.logByGit(w, paths, limit); err == nil {
				return list, nil
			}
		}
	}
	return w.walk(paths, limit)
}

// rangeOf reads rev; nil for the history of an unborn HEAD.
func (r *Repo) rangeOf(rev string) (*walk, error) {
	w := &walk{r: r}
	a, b, symmetric := strings.Cut(rev, "...")
	two := symmetric
	if !symmetric {
		a, b, two = strings.Cut(rev, "..")
	}
	if !two {
		a, b = "", rev
	}
	to, err := r.tip(b)
	if err != nil {
		return nil, err
	}
	var from *Commit
	if two {
		if from, err = r.tip(a); err != nil {
			return nil, err
		}
	}
	switch {
	case from == nil && to == nil:
		return nil, nil
	case to == nil && symmetric:
		w.tips = []*Commit{from}
	case to == nil:
		return nil, nil
	case from == nil:
		w.tips = []*Commit{to}
	case symmetric:
		w.tips, w.symmetric = []*Commit{from, to}, true
	default:
		w.tips, w.bottom = []*Commit{to}, from
	}
	return w, nil
}

// tip resolves a side of a range; nil, nil for an unborn HEAD.
func (r *Repo) tip(spec string) (*Commit, error) {
	if spec == "" || spec == "HEAD" || spec == "@" {
		return r.Head()
	}
	return r.Resolve(spec)
}

// cleanPaths brings paths to one form; none where the whole tree is meant.
func cleanPaths(paths []string) ([]string, error) {
	var out []string
	for _, p := range paths {
		c := path.Clean(p)
		if c == "." {
			return nil, nil
		}
		if strings.HasPrefix(c, "../") || c == ".." || path.IsAbs(c) {
			return nil, fmt.Errorf("path %q: %w", p, ErrOutside)
		}
		out = append(out, c)
	}
	return out, nil
}

// logByGit has git walk, and reads the commits that it names.
func (r *Repo) logByGit(w *walk, paths []string, limit int) ([]*Commit, error) {
	args := []string{"--literal-pathspecs", "rev-list", "--full-history"}
	if limit > 0 {
		args = append(args, "--max-count="+strconv.Itoa(limit))
	}
	if w.symmetric {
		args = append(args, w.tips[0].ID+"..."+w.tips[1].ID)
	} else {
		args = append(args, w.tips[0].ID)
	}
	if w.bottom != nil {
		args = append(args, "^"+w.bottom.ID)
	}
	out, err := r.Git(append(append(args, "--"), paths...)...)
	if err != nil {
		return nil, err
	}
	var list []*Commit
	for id := range strings.FieldsSeq(out) {
		c, err := r.commit(id)
		if err != nil {
			return nil, err
		}
		list = append(list, c)
	}
	return list, nil
}

// MergeBase finds the best common ancestor of two revisions, as
// `git merge-base` does: one that no other common ancestor descends from; of
// several the youngest. ErrNoMergeBase where there is none in this clone.
func (r *Repo) MergeBase(a, b string) (*Commit, error) {
	bases, err := r.MergeBases(a, b)
	if err != nil {
		return nil, err
	}
	return bases[0], nil
}

// MergeBases finds all best common ancestors of two revisions, as `git merge-base
// --all` does, the youngest first: several where two lines were merged crosswise.
// ErrNoMergeBase where there is none in this clone.
func (r *Repo) MergeBases(a, b string) ([]*Commit, error) {
	ca, err := r.Resolve(a)
	if err != nil {
		return nil, err
	}
	cb, err := r.Resolve(b)
	if err != nil {
		return nil, err
	}
	bases, err := r.commonAncestors(ca, cb)
	if err != nil {
		return nil, err
	}
	if len(bases) == 0 {
		return nil, fmt.Errorf("%q and %q: %w", a, b, ErrNoMergeBase)
	}
	return bases, nil
}

// missingParent says that a walk met a commit that is not here.
func missingParent(err error) error {
	if errors.Is(err, errMissing) {
		return &UnsupportedError{What: "the whole history", Hint: "some commits are not in this clone; git fetch may bring them", Err: err}
	}
	return err
}
