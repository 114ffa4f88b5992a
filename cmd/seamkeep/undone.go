package main

import (
	"os"
	"path/filepath"
	"strings"

	"seamkeep/hooks/judge"
	"seamkeep/pattern/note"
	"seamkeep/repo"
)

// undone finds the commits that a message says it undoes, among what came before a
// version: by their ids; where a rebase gave what is undone another id, by the subject
// that git quotes.
func undone(r *repo.Repo, before string) func(message string) []judge.Undone {
	return func(message string) []judge.Undone {
		list := note.UndosOf(message)
		var out []judge.Undone
		for _, u := range list {
			c, err := r.Resolve(u.Commit)
			if err != nil || !strings.HasPrefix(c.ID, u.Commit) || !precedes(r, c, before) { // a branch may be called like an id
				if c = nil; len(list) == 1 {
					c = quoted(r, before, message)
				}
			}
			if c == nil || len(c.Parents) == 0 {
				continue
			}
			parent := c.Parents[0]
			for _, p := range c.Parents {
				if u.Against != "" && strings.HasPrefix(p, u.Against) {
					parent = p
				}
			}
			if p, err := r.Resolve(parent); err == nil {
				out = append(out, judge.Undone{Before: r.At(p), After: r.At(c), Undo: u})
			}
		}
		return out
	}
}

// precedes tells whether a commit is a version or came before it.
func precedes(r *repo.Repo, c *repo.Commit, version string) bool {
	at, err := r.Resolve(version)
	if err != nil {
		return false
	}
	base, err := r.MergeBase(c.ID, at.ID)
	return err == nil && base.ID == c.ID
}

// touched gives the versions up to one that changed something in a folder, the newest
// first.
func touched(r *repo.Repo, before string) func(dir string) []*repo.Snapshot {
	return func(dir string) []*repo.Snapshot {
		const far = 200 // versions
		var paths []string
		if dir != "." {
			paths = []string{dir}
		}
		list, err := r.Log(before, paths, far)
		if err != nil {
			return nil
		}
		var out []*repo.Snapshot
		for _, c := range list {
			out = append(out, r.At(c))
		}
		return out
	}
}

// quoted finds the newest commit before a version whose subject a revert quotes.
func quoted(r *repo.Repo, before, message string) *repo.Commit {
	subject, _, _ := strings.Cut(strings.TrimLeft(message, "\n"), "\n")
	wanted, ok := strings.CutPrefix(subject, `Revert "`)
	if !ok {
		if wanted, ok = strings.CutPrefix(subject, `Reapply "`); !ok {
			return nil
		}
		wanted = `Revert "` + wanted
	} else {
		wanted = strings.TrimSuffix(wanted, `"`)
	}
	const far = 1000 // versions
	list, err := r.Log(before, nil, far)
	if err != nil {
		return nil
	}
	for _, c := range list {
		if c.Subject() == wanted && c.Message != message {
			return c
		}
	}
	return nil
}

// earlier gives the first parent of a version.
func earlier(r *repo.Repo) func(*repo.Snapshot) *repo.Snapshot {
	return func(s *repo.Snapshot) *repo.Snapshot {
		c := s.Commit()
		if c == nil || len(c.Parents) == 0 {
			return nil
		}
		p, err := r.Resolve(c.Parents[0])
		if err != nil {
			return nil
		}
		return r.At(p)
	}
}

// lacking adds to an error about a version that this clone may simply not have it.
func lacking(r *repo.Repo, err error) error {
	if !shallow(r) {
		return err
	}
	return usage("%v\nthis clone is shallow: git fetch --unshallow --tags", err)
}

// shallow tells whether this clone lacks what came before some version.
func shallow(r *repo.Repo) bool {
	_, err := os.Stat(filepath.Join(r.CommonDir(), "shallow"))
	return err == nil
}
