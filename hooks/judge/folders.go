package judge

import (
	"maps"
	"path"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// Folders gives the pattern folders that a commit changes, before and after,
// without judging them, and those that are gone.
func Folders(q Request) ([]Folder, error) {
	if q.Facts == nil {
		q.Facts = NewFacts()
	}
	dirs, err := q.changed()
	if err != nil {
		return nil, err
	}
	var out []Folder
	for _, dir := range append(dirs, q.gone...) {
		out = append(out, q.read(dir))
	}
	return out, nil
}

// merged gives a folder that the first side of a merge lacks the version of the side
// that has it: from there it came.
func (q Request) merged(f *Folder) bool {
	if f.Before != nil || f.After == nil {
		return false
	}
	for _, side := range q.Merge {
		if had := q.Facts.of(side.Snapshot, f.Dir, q.Bodies); had.garment != nil && !had.faulty {
			f.Before, f.Since = had.garment, side.Snapshot.Commit()
			return true
		}
	}
	return false
}

// changed lists the folders of the later version that differ from the earlier
// one, and notes which of them only have another path and which are gone.
func (q *Request) changed() ([]string, error) {
	dirs, err := text.Find(q.After)
	if err != nil {
		return nil, err
	}
	if err := q.follow(dirs); err != nil {
		return nil, err
	}
	var out []string
	for _, dir := range dirs {
		changed, err := differs(q.Before, q.After, dir)
		if err != nil {
			return nil, err
		}
		if changed {
			out = append(out, dir)
		}
	}
	return out, nil
}

// read reads a folder in both versions; the earlier one, where that cannot be read
// whole or has no such folder, as it last was.
func (q Request) read(dir string) Folder {
	now, before := q.Facts.of(q.After, dir, q.Bodies), q.Facts.of(q.Before, q.was(dir), q.Bodies)
	f := Folder{Dir: dir, Was: q.was(dir), Before: before.garment, After: now.garment, Body: now.body}
	if there, err := ids(q.Before, f.Was); err == nil && there != "" {
		f.BeforeFaulty = before.faulty
	}
	if now.faulty {
		f.After, f.Partly = nil, now.garment
	}
	const far = 100 // versions: nobody leaves a fault for longer
	at := q.Before
	for range far {
		if !f.BeforeFaulty || q.Earlier == nil {
			break
		}
		if at = q.Earlier(at); at == nil {
			break
		}
		if sound := q.Facts.of(at, q.whereIn(at, f), q.Bodies); sound.garment != nil && !sound.faulty {
			f.Before, f.BeforeFaulty, f.Since = sound.garment, false, at.Commit()
		}
	}
	if !q.merged(&f) {
		q.returned(&f)
	}
	return f
}

// whereIn finds the path of a folder in another version: the same, the one before, or
// that of the one garment of its name, or that is like it, unless that is another folder
// of today.
func (q Request) whereIn(s *repo.Snapshot, f Folder) string {
	for _, dir := range []string{f.Dir, f.Was} {
		if q.Facts.of(s, dir, q.Bodies).garment != nil {
			return dir
		}
	}
	g := f.After
	if g == nil {
		g = f.Before
	}
	dirs, err := text.Find(s)
	if g == nil || err != nil {
		return f.Dir
	}
	free := slices.DeleteFunc(dirs, func(dir string) bool { return q.Facts.of(q.After, dir, q.Bodies).garment != nil })
	for _, is := range []func(*pattern.Garment) bool{
		func(x *pattern.Garment) bool { return x.Name == g.Name },
		func(x *pattern.Garment) bool { return alike(x, g) },
	} {
		var found []string
		for _, dir := range free {
			if x := q.Facts.of(s, dir, q.Bodies).garment; x != nil && is(x) {
				found = append(found, dir)
			}
		}
		if len(found) == 1 {
			return found[0]
		}
	}
	return f.Dir
}

// returned gives a folder that comes back the version in which it last stood, if that
// was the same garment: it is no first version, so what changed meanwhile is owed.
func (q Request) returned(f *Folder) {
	if q.Touched == nil || f.Before != nil || f.BeforeFaulty || f.After == nil {
		return
	}
	for _, s := range q.Touched(f.Dir) {
		for _, at := range []*repo.Snapshot{s, q.earlier(s)} {
			if at == nil {
				continue
			}
			if stood := q.Facts.of(at, f.Dir, q.Bodies); stood.garment != nil && !stood.faulty {
				if !alike(stood.garment, f.After) {
					return
				}
				f.Before, f.Since = stood.garment, at.Commit()
				return
			}
		}
	}
}

func (q Request) earlier(s *repo.Snapshot) *repo.Snapshot {
	if q.Earlier == nil {
		return nil
	}
	return q.Earlier(s)
}

// standing gives the folders of the later version as if nothing had been done to
// them.
func (q Request) standing() ([]Folder, error) {
	dirs, err := text.Find(q.After)
	if err != nil {
		return nil, err
	}
	q.Before, q.moved, q.gone = q.After, nil, nil
	var out []Folder
	for _, dir := range dirs {
		out = append(out, q.read(dir))
	}
	return out, nil
}

// was gives the path that a folder had in the earlier version.
func (q Request) was(dir string) string {
	if old, moved := q.moved[dir]; moved {
		return old
	}
	return dir
}

// follow pairs the folders that are new with those that went: one garment of the same
// name at another path is the same one, moved with git mv; so is the one whose pieces
// are, under whatever names, those of the one that went. What is left is gone.
func (q *Request) follow(now []string) error {
	q.moved, q.gone = map[string]string{}, nil
	if q.Before == nil {
		return nil
	}
	before, err := text.Find(q.Before)
	if err != nil || slices.Equal(before, now) {
		return err
	}
	without := func(list, other []string) []string {
		return slices.DeleteFunc(slices.Clone(list), func(dir string) bool { return slices.Contains(other, dir) })
	}
	went, came := without(before, now), without(now, before)
	of := func(s *repo.Snapshot, dir string) *pattern.Garment { return q.Facts.of(s, dir, q.Bodies).garment }
	named := func(s *repo.Snapshot, dirs []string, name string) (found []string) {
		for _, dir := range dirs {
			if g := of(s, dir); g != nil && g.Name == name {
				found = append(found, dir)
			}
		}
		return found
	}
	for _, dir := range came {
		if g := of(q.After, dir); g != nil && len(named(q.After, came, g.Name)) == 1 {
			if old := named(q.Before, went, g.Name); len(old) == 1 {
				q.moved[dir] = old[0]
			}
		}
	}
	taken := func(dir string) bool { return slices.Contains(slices.Collect(maps.Values(q.moved)), dir) }
	for _, dir := range came {
		if _, known := q.moved[dir]; known {
			continue
		}
		if old := nearest(of(q.After, dir), dir, slices.DeleteFunc(slices.Clone(went), taken), func(old string) *pattern.Garment { return of(q.Before, old) }); old != "" {
			q.moved[dir] = old
		}
	}
	q.gone = slices.DeleteFunc(went, taken)
	return nil
}

// nearest gives, of some folders that went, the one that a garment at a path was: with
// the most pieces that are the same now, then with the same last word in its path;
// empty where none is like it.
func nearest(g *pattern.Garment, dir string, went []string, of func(string) *pattern.Garment) string {
	best, most := "", -1
	for _, old := range went {
		was := of(old)
		if !alike(was, g) {
			continue
		}
		n := 0
		for _, p := range was.Pieces {
			if q := g.Piece(p.Name); q != nil && pattern.EqualPieces(p, q) {
				n += 2
			}
		}
		if path.Base(old) == path.Base(dir) {
			n++
		}
		if n > most {
			best, most = old, n
		}
	}
	return best
}

// alike tells whether half of a garment's pieces are in another one, by name or shape.
func alike(a, b *pattern.Garment) bool {
	if a == nil || b == nil || len(a.Pieces) == 0 {
		return false
	}
	n := 0
	for _, p := range compare.Garments(a, b, compare.Options{}).Pieces {
		if p.Before != nil && p.After != nil {
			n++
		}
	}
	return 2*n >= len(a.Pieces)
}
