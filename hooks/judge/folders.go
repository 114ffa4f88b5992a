package judge

import (
	"slices"

	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// Folders gives the pattern folders that a commit changes, before and after,
// without judging them.
func Folders(q Request) ([]Folder, error) {
	if q.Facts == nil {
		q.Facts = NewFacts()
	}
	dirs, err := q.changed()
	if err != nil {
		return nil, err
	}
	var out []Folder
	for _, dir := range dirs {
		out = append(out, q.read(dir))
	}
	return out, nil
}

// changed lists the folders of the later version that differ from the earlier
// one, and notes which of them only have another path.
func (q *Request) changed() ([]string, error) {
	dirs, err := text.Find(q.After)
	if err != nil {
		return nil, err
	}
	if q.moved, err = q.moves(dirs); err != nil {
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

// read reads a folder in both versions.
func (q Request) read(dir string) Folder {
	now, before := q.Facts.of(q.After, dir, q.Bodies), q.Facts.of(q.Before, q.was(dir), q.Bodies)
	f := Folder{Dir: dir, Was: q.was(dir), Before: before.garment, After: now.garment, Body: now.body}
	f.BeforeFaulty = before.garment != nil && before.faulty
	if now.faulty {
		f.After = nil
	}
	return f
}

// standing gives the folders of the later version as if nothing had been done to
// them.
func (q Request) standing() ([]Folder, error) {
	dirs, err := text.Find(q.After)
	if err != nil {
		return nil, err
	}
	q.Before, q.moved = q.After, nil
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

// moves pairs the folders that are new with those that went: one garment of the
// same name at another path is the same one, moved with git mv.
func (q Request) moves(now []string) (map[string]string, error) {
	if q.Before == nil {
		return nil, nil
	}
	before, err := text.Find(q.Before)
	if err != nil || slices.Equal(before, now) {
		return nil, err
	}
	beside := func(list, other []string, in *repo.Snapshot) map[string][]string {
		byName := map[string][]string{}
		for _, dir := range list {
			if g := q.Facts.of(in, dir, q.Bodies).garment; g != nil && !slices.Contains(other, dir) {
				byName[g.Name] = append(byName[g.Name], dir)
			}
		}
		return byName
	}
	went, came := beside(before, now, q.Before), beside(now, before, q.After)
	out := map[string]string{}
	for name, dirs := range came {
		if len(dirs) == 1 && len(went[name]) == 1 {
			out[dirs[0]] = went[name][0]
		}
	}
	return out, nil
}
