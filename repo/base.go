package repo

// marks of commits in the search for common ancestors
const (
	ofFirst  = 1 << iota // the first side leads to it
	ofSecond             // the second side leads to it
	stale                // a common ancestor leads to it
)

// commonAncestors lists the best common ancestors of two commits, youngest first.
//
// Both sides are painted backwards, youngest commit first, until everything
// still to be looked at descends from a common ancestor. Wrong clocks may leave
// an ancestor of another one in the result; reduce takes it out.
func (r *Repo) commonAncestors(a, b *Commit) ([]*Commit, error) {
	if a.ID == b.ID {
		return []*Commit{a}, nil
	}
	marks := map[string]int{a.ID: ofFirst, b.ID: ofSecond}
	var q queue
	q.push(a)
	q.push(b)
	var found []*Commit
	for fresh(q, marks) {
		c := q.pop()
		m := marks[c.ID]
		if m&(ofFirst|ofSecond) == ofFirst|ofSecond {
			if m&stale == 0 {
				found = appendNew(found, c)
			}
			m |= stale
		}
		parents, err := r.parents(c)
		if err != nil {
			return nil, err
		}
		for _, p := range parents {
			if marks[p.ID]&m != m {
				marks[p.ID] |= m
				q.push(p)
			}
		}
	}
	var best []*Commit
	for _, c := range found {
		if marks[c.ID]&stale == 0 {
			best = append(best, c)
		}
	}
	return r.reduce(best)
}

// fresh says whether something in the queue may still lead to a better one.
func fresh(q queue, marks map[string]int) bool {
	for _, c := range q {
		if marks[c.ID]&stale == 0 {
			return true
		}
	}
	return false
}

func appendNew(list []*Commit, c *Commit) []*Commit {
	for _, have := range list {
		if have.ID == c.ID {
			return list
		}
	}
	return append(list, c)
}

// reduce drops those that another one of the list leads back to, and orders the
// rest by date.
func (r *Repo) reduce(list []*Commit) ([]*Commit, error) {
	if len(list) < 2 {
		return list, nil
	}
	older := make(map[string]bool)
	for _, c := range list {
		set, err := r.ancestors(c)
		if err != nil {
			return nil, err
		}
		delete(set, c.ID)
		for id := range set {
			older[id] = true
		}
	}
	var q queue
	for _, c := range list {
		if !older[c.ID] {
			q.push(c)
		}
	}
	return q, nil
}
