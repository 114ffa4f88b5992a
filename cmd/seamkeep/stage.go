package main

import (
	"os"
	"path"
	"path/filepath"

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

// paths gives what is to be committed, as pathspecs of git from the root: the
// folder without files that a killed run left, or the named pieces.
func (p *place) paths(k *keeping) []string {
	if len(k.pieces) == 0 {
		return []string{literal(p.dir), ":(exclude,glob)**/" + tempStart + "*" + tempEnd}
	}
	var out []string
	for _, piece := range k.pieces {
		out = append(out, literal(path.Join(p.dir, "pieces", piece+".piece")))
	}
	return out
}

// literal is a pathspec for one path, whatever signs it holds.
func literal(path string) string { return ":(literal)" + path }

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
		if err := copyFile(filepath.Join(p.repo.GitDir(), "index"), s.index); err != nil {
			s.close()
			return nil, err
		}
	} else if _, err := r.Git("read-tree", from); err != nil {
		s.close()
		return nil, err
	}
	if _, err := r.Git(append([]string{"add", "-A", "--"}, p.paths(k)...)...); err != nil {
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

func (s *stage) judge(p *place, k *keeping) (*judge.Verdict, error) {
	q, err := commitRequest(s.repo, k.amend)
	if err != nil {
		return nil, unreadable(err)
	}
	v, err := judge.Commit(q)
	if err != nil {
		return nil, unreadable(err)
	}
	if len(v.Folders) == 0 {
		return nil, refused("nothing changed in %s since the last version: nothing to keep", p.dir)
	}
	return v, nil
}
