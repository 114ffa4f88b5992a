package main

import (
	"os"
	"path/filepath"
	"slices"

	"seamkeep/hooks/judge"
	"seamkeep/repo"
)

// stage is the commit that keep is about to make, in an index of its own: the
// maker's own index is not touched until the commit.
type stage struct {
	repo  *repo.Repo
	index string
}

func (s *stage) close() {
	s.repo.Close()
	os.Remove(s.index)
	os.Remove(s.index + ".lock")
}

func (p *place) stage(k *keeping) (*stage, error) {
	const start = "seamkeep-index-"
	if r, err := os.OpenRoot(p.repo.GitDir()); err == nil {
		sweep(r, ".", start, "")
		sweep(r, ".", tempStart, tempEnd)
		r.Close()
	}
	f, err := os.CreateTemp(p.repo.GitDir(), start)
	if err != nil {
		return nil, err
	}
	f.Close()
	os.Remove(f.Name()) // git wants no file, or a whole one
	env := append(os.Environ(), "GIT_INDEX_FILE="+f.Name())
	r, err := repo.OpenWith(p.root, repo.Options{Environ: env})
	if err != nil {
		return nil, unreadable(err)
	}
	s := &stage{repo: r, index: f.Name()}
	from := "HEAD"
	head, err := r.Head()
	if err == nil && head == nil {
		from = "--empty"
	}
	if merging(p) {
		if err := copyFile(p.repo.IndexFile(), s.index); err != nil {
			s.close()
			return nil, err
		}
	} else if _, err := r.Git("read-tree", from); err != nil {
		s.close()
		return nil, err
	}
	if err := addPaths(r, k.paths); err != nil {
		s.close()
		return nil, err
	}
	return s, nil
}

func merging(p *place) bool {
	_, err := os.Stat(filepath.Join(p.repo.GitDir(), "MERGE_HEAD"))
	return err == nil
}

func copyFile(from, to string) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, data, 0o600)
}

// judge tells what the checks find, and gives the request, with which the note
// can be measured too.
func (s *stage) judge(p *place, k *keeping) (*judge.Verdict, judge.Request, error) {
	q, err := commitRequest(s.repo, k.amend)
	if err != nil {
		return nil, q, unreadable(err)
	}
	q.Facts = judge.NewFacts()
	v, err := judge.Commit(q)
	if err != nil {
		return nil, q, unreadable(err)
	}
	if len(v.Folders) == 0 && !merging(p) && !slices.ContainsFunc(k.paths, p.fittingFile) {
		return nil, q, refused("nothing changed since the last version: nothing to keep")
	}
	return v, q, nil
}
