package main

import (
	"slices"

	"seamkeep/repo"
)

// mainLine gives the versions of a range that touched the paths, the oldest first,
// along first parents: only there is each one made from the one before it, so that
// their changes add up. brought gives, by the id of a merge, the versions that it
// brought in from beside the line, the oldest first.
func mainLine(r *repo.Repo, rang string, paths []string) (line []*repo.Commit, brought map[string][]*repo.Commit, err error) {
	all, err := r.Log(rang, nil, 0)
	if err != nil || len(all) == 0 {
		return nil, nil, err
	}
	touched := all
	if len(paths) > 0 {
		if touched, err = r.Log(rang, paths, 0); err != nil {
			return nil, nil, err
		}
	}
	byID := map[string]*repo.Commit{}
	for _, c := range all {
		byID[c.ID] = c
	}
	var merges []*repo.Commit
	home := map[string]string{} // the commit of the line that a commit came in by
	for c := all[0]; c != nil; c = byID[firstParent(c)] {
		home[c.ID] = c.ID
		if len(c.Parents) > 1 {
			merges = append(merges, c)
		}
	}
	for _, m := range slices.Backward(merges) { // what an older merge brought, a newer one did not
		for todo := slices.Clone(m.Parents[1:]); len(todo) > 0; {
			id := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			if c := byID[id]; c != nil && home[id] == "" {
				home[id] = m.ID
				todo = append(todo, c.Parents...)
			}
		}
	}
	brought = map[string][]*repo.Commit{}
	for _, c := range slices.Backward(touched) {
		if by := home[c.ID]; by == c.ID {
			line = append(line, c)
		} else {
			brought[by] = append(brought[by], c)
		}
	}
	return line, brought, nil
}

func firstParent(c *repo.Commit) string {
	if len(c.Parents) == 0 {
		return ""
	}
	return c.Parents[0]
}

// notesOf gives the names of the notes of versions that have one.
func notesOf(commits []*repo.Commit) []string {
	var out []string
	for _, c := range commits {
		if name := noteOf(c).name; name != "" {
			out = append(out, name)
		}
	}
	return out
}
