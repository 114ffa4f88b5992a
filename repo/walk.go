package repo

import (
	"maps"
	"slices"
	"strings"
)

// walk goes back through history from tips, leaving out what bottom leads to,
// or, when symmetric, what both tips lead to.
type walk struct {
	r         *Repo
	tips      []*Commit
	bottom    *Commit
	symmetric bool

	out   map[string]bool // not wanted
	edges map[string]bool // those of out at which the range begins
}

// queue holds commits, youngest first; those of one second in order of arrival,
// as git keeps them.
type queue []*Commit

func (q *queue) push(c *Commit) {
	i, _ := slices.BinarySearchFunc(*q, c, func(have, c *Commit) int {
		if have.Committer.When.Unix() < c.Committer.When.Unix() {
			return 1
		}
		return -1
	})
	*q = slices.Insert(*q, i, c)
}

func (q *queue) pop() *Commit {
	c := (*q)[0]
	*q = (*q)[1:]
	return c
}

// walk gives the commits in git's order.
func (w *walk) walk(paths []string, limit int) ([]*Commit, error) {
	if err := w.exclude(); err != nil {
		return nil, err
	}
	var q queue
	seen := make(map[string]bool)
	add := func(c *Commit) {
		if !seen[c.ID] && !w.out[c.ID] {
			seen[c.ID] = true
			q.push(c)
		}
	}
	for _, t := range w.tips {
		add(t)
	}
	var list []*Commit
	for len(q) > 0 && (limit <= 0 || len(list) < limit) {
		c := q.pop()
		parents, err := w.r.parents(c)
		if err != nil {
			return nil, err
		}
		for _, p := range parents {
			add(p)
		}
		touched, err := w.touches(c, parents, paths)
		if err != nil {
			return nil, err
		}
		if touched {
			list = append(list, c)
		}
	}
	return list, nil
}

func (r *Repo) parents(c *Commit) ([]*Commit, error) {
	var out []*Commit
	for _, id := range c.Parents {
		p, err := r.commit(id)
		if err != nil {
			return nil, missingParent(err)
		}
		out = append(out, p)
	}
	return out, nil
}

// exclude finds the commits that are not wanted.
func (w *walk) exclude() error {
	var err error
	var edges []*Commit
	switch {
	case w.bottom != nil:
		edges = []*Commit{w.bottom}
	case w.symmetric:
		if edges, err = w.r.commonAncestors(w.tips[0], w.tips[1]); err != nil {
			return err
		}
	}
	w.out, w.edges = make(map[string]bool), make(map[string]bool)
	for _, c := range edges {
		w.edges[c.ID] = true
		set, err := w.r.ancestors(c)
		if err != nil {
			return err
		}
		maps.Copy(w.out, set)
	}
	return nil
}

// ancestors is the set of a commit and all that it leads back to.
func (r *Repo) ancestors(c *Commit) (map[string]bool, error) {
	seen := map[string]bool{c.ID: true}
	for todo := []*Commit{c}; len(todo) > 0; {
		c := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		parents, err := r.parents(c)
		if err != nil {
			return nil, err
		}
		for _, p := range parents {
			if !seen[p.ID] {
				seen[p.ID] = true
				todo = append(todo, p)
			}
		}
	}
	return seen, nil
}

// touches compares a commit with its parents at the paths. As in git, a parent
// that is not wanted itself does not make a merge worth showing as long as it
// has another one.
func (w *walk) touches(c *Commit, parents []*Commit, paths []string) (bool, error) {
	if len(paths) == 0 {
		return true, nil
	}
	if len(parents) == 0 {
		return w.differ("", c.tree, paths)
	}
	wanted, wantedDiffers, otherDiffers := 0, false, false
	for _, p := range parents {
		differs, err := w.differ(p.tree, c.tree, paths)
		if err != nil {
			return false, err
		}
		if !w.out[p.ID] || w.edges[p.ID] {
			wanted++
			wantedDiffers = wantedDiffers || differs
		} else {
			otherDiffers = otherDiffers || differs
		}
	}
	if wanted > 0 {
		return wantedDiffers, nil
	}
	return otherDiffers, nil
}

// differ says whether two trees differ at one of the paths.
func (w *walk) differ(a, b string, paths []string) (bool, error) {
	for _, p := range paths {
		x, y := treeEntry{mode: modeTree, id: a}, treeEntry{mode: modeTree, id: b}
		for part := range strings.SplitSeq(p, "/") {
			if x == y {
				break // the same folder, hence the same below
			}
			var err error
			if x, err = w.below(x, part); err != nil {
				return false, err
			}
			if y, err = w.below(y, part); err != nil {
				return false, err
			}
		}
		if x.mode != y.mode || x.id != y.id {
			return true, nil
		}
	}
	return false, nil
}

// below finds an entry of a folder; the zero entry where there is none.
func (w *walk) below(folder treeEntry, name string) (treeEntry, error) {
	if folder.mode&modeType != modeTree {
		return treeEntry{}, nil
	}
	lines, err := w.r.tree(folder.id)
	if err != nil {
		return treeEntry{}, err
	}
	for _, t := range lines {
		if t.name == name {
			return t, nil
		}
	}
	return treeEntry{}, nil
}
