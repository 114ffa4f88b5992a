package repo

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
	"time"
)

// listing is a source whose folders are lists: a commit's, loaded one by one
// from its trees, or the index's, loaded at once.
type listing struct {
	repo     *Repo
	root     string    // tree id of the root; "" when all is loaded
	when     time.Time // shown as each file's time
	unmerged []string

	mu     sync.Mutex
	loaded map[string][]entry // by folder
}

func (l *listing) list(s *Snapshot, dir string) ([]entry, error) {
	l.mu.Lock()
	list, ok := l.loaded[dir]
	l.mu.Unlock()
	if ok {
		return list, nil
	}
	id := l.root
	if id == "" {
		return nil, s.missing(dir)
	}
	if dir != "." {
		e, err := l.find(s, dir)
		if err != nil {
			return nil, err
		}
		id = e.id
		if !e.dir {
			return nil, errNotFolder
		}
	}
	lines, err := l.repo.tree(id)
	if err != nil {
		return nil, err
	}
	list = l.usable(s, dir, lines)
	l.mu.Lock()
	l.loaded[dir] = list
	l.mu.Unlock()
	return list, nil
}

// errNotFolder says that a path used as a folder is a file.
var errNotFolder = errors.New("not a folder")

// usable turns tree lines into entries and notes what it leaves out.
func (l *listing) usable(s *Snapshot, dir string, lines []treeEntry) []entry {
	list := make([]entry, 0, len(lines))
	for _, t := range lines {
		full := path.Join(dir, t.name)
		why := oddName(t.name)
		if why != "" {
			full = strings.TrimPrefix(dir+"/", "./") + t.name // not cleaned of dots
		} else {
			why = oddMode(t.mode)
		}
		if why != "" {
			s.leave(full, why)
			continue
		}
		list = append(list, entry{
			path: full, dir: t.mode&modeType == modeTree, exec: t.mode&0o111 != 0,
			id: t.id, bytes: -1, when: l.when,
		})
	}
	sortEntries(list)
	return slices.CompactFunc(list, func(a, b entry) bool { return a.path == b.path })
}

func sortEntries(list []entry) {
	slices.SortStableFunc(list, func(a, b entry) int { return strings.Compare(a.path, b.path) })
}

func (l *listing) find(s *Snapshot, name string) (entry, error) {
	list, err := l.list(s, path.Dir(name))
	if errors.Is(err, errNotFolder) {
		err = fs.ErrNotExist
	}
	if err != nil {
		return entry{}, err
	}
	i, ok := slices.BinarySearchFunc(list, name, func(e entry, n string) int { return strings.Compare(e.path, n) })
	if !ok {
		return entry{}, s.missing(name)
	}
	return list[i], nil
}

func (l *listing) read(e entry) ([]byte, error) {
	o, err := ask(l.repo, func(rd reader) (object, error) { return rd.object(e.id, MaxFile) })
	if err == nil && o.kind != "blob" {
		err = fmt.Errorf("%s is a %s, not a file", short(e.id), o.kind)
	}
	return o.data, err
}

func (l *listing) size(e entry) (int64, error) {
	type sized struct {
		kind string
		n    int64
	}
	v, err := ask(l.repo, func(rd reader) (sized, error) {
		kind, n, err := rd.size(e.id)
		return sized{kind, n}, err
	})
	return v.n, err
}

func (l *listing) blob(e entry) (string, error) { return e.id, nil }

// indexSnapshot reads the staged content: the file that GIT_INDEX_FILE names,
// else the index of this working tree.
func (r *Repo) indexSnapshot() (*Snapshot, error) {
	if r.Bare() && r.env.git("GIT_INDEX_FILE") == "" {
		return nil, ErrNoWorkTree
	}
	lines, err := ask(r, func(rd reader) ([]indexEntry, error) { return rd.entries(r.index) })
	if err != nil {
		return nil, fmt.Errorf("read the index: %w", err)
	}
	l := &listing{repo: r, loaded: map[string][]entry{".": nil}}
	s := &Snapshot{repo: r, label: "index", src: l}
	l.fill(s, lines)
	return s, nil
}

// fill files lines of the index under their folders.
func (l *listing) fill(s *Snapshot, lines []indexEntry) {
	for _, e := range lines {
		l.stage(s, e)
	}
	slices.Sort(l.unmerged)
	l.unmerged = slices.Compact(l.unmerged)
	for _, list := range l.loaded {
		sortEntries(list)
	}
}

// stage files one line of the index under its folder.
func (l *listing) stage(s *Snapshot, e indexEntry) {
	why := oddMode(e.mode)
	for part := range strings.SplitSeq(e.name, "/") {
		if odd := oddName(part); odd != "" {
			why = odd
		}
	}
	switch {
	case e.stage != 0:
		l.unmerged = append(l.unmerged, e.name)
		why = "it is unmerged"
	case e.intent && why == "":
		why = "it is added with intent only, nothing is staged"
	case e.mode&modeType == modeTree && why == "":
		why = "it is a folder in one line (sparse index)"
	}
	if why != "" {
		s.leave(e.name, why)
		return
	}
	l.folder(path.Dir(e.name))
	dir := path.Dir(e.name)
	l.loaded[dir] = append(l.loaded[dir], entry{
		path: e.name, exec: e.mode&0o111 != 0, id: e.id, bytes: -1,
	})
}

// folder makes sure that a folder and those above it are listed.
func (l *listing) folder(dir string) {
	if _, ok := l.loaded[dir]; ok {
		return
	}
	l.loaded[dir] = nil
	up := path.Dir(dir)
	l.folder(up)
	l.loaded[up] = append(l.loaded[up], entry{path: dir, dir: true})
}
