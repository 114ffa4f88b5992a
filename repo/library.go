package repo

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/go-git/go-billy/v5"
	"github.com/go-git/go-billy/v5/osfs"
	gitlib "github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/cache"
	"github.com/go-git/go-git/v5/plumbing/format/index"
	"github.com/go-git/go-git/v5/plumbing/storer"
	"github.com/go-git/go-git/v5/storage/filesystem"
	"github.com/go-git/go-git/v5/storage/filesystem/dotgit"
)

// library reads by go-git. Only its stores and decoders are used: its
// repository type refuses extensions that do not change what is read
// (worktreeConfig), and its file walks stop at the first odd name.
type library struct {
	mu     sync.Mutex // the stores are not made for several goroutines
	refsIn *filesystem.Storage
	stores []*filesystem.ObjectStorage // our own, then the alternates
}

func newLibrary(r *Repo) *library {
	own := billy.Filesystem(noAlternates{osfs.New(r.gitDir)})
	if r.common != r.gitDir {
		own = noAlternates{dotgit.NewRepositoryFilesystem(osfs.New(r.gitDir), osfs.New(r.common))}
	}
	objects := cache.NewObjectLRU(8 * cache.MiByte)
	// ExclusiveAccess would list all object folders first. KeepDescriptors
	// costs nothing here, since Close is ours, and saves opening the pack anew
	// for each object.
	o := filesystem.Options{
		KeepDescriptors:      true,
		LargeObjectThreshold: maxMeta,
		AlternatesFS:         noAlternates{own},
	}
	lib := &library{refsIn: filesystem.NewStorageWithOptions(own, objects, o)}
	lib.stores = []*filesystem.ObjectStorage{&lib.refsIn.ObjectStorage}
	for _, dir := range alternates(filepath.Join(r.common, "objects"), 0, nil) {
		fsys := relocated{Filesystem: osfs.New(dir)}
		s := filesystem.NewObjectStorageWithOptions(
			dotgit.NewWithOptions(fsys, dotgit.Options{KeepDescriptors: true, AlternatesFS: noAlternates{fsys}}), objects, o)
		lib.stores = append(lib.stores, s)
	}
	return lib
}

// noAlternates hides the list of alternates, which we follow ourselves: go-git
// opens them anew for each object and gets relative ones wrong.
type noAlternates struct{ billy.Filesystem }

func (n noAlternates) Open(name string) (billy.File, error) {
	if filepath.ToSlash(name) == "objects/info/alternates" {
		return nil, os.ErrNotExist
	}
	return n.Filesystem.Open(name)
}

// relocated shows a folder of objects, whatever its name, as "objects".
type relocated struct{ billy.Filesystem }

func (m relocated) inside(name string) string {
	rest, _ := strings.CutPrefix(filepath.ToSlash(name), "objects")
	return filepath.FromSlash("." + rest)
}

func (m relocated) Open(name string) (billy.File, error) {
	if strings.HasSuffix(filepath.ToSlash(name), "info/alternates") {
		return nil, os.ErrNotExist
	}
	return m.Filesystem.Open(m.inside(name))
}

func (m relocated) OpenFile(name string, flag int, perm os.FileMode) (billy.File, error) {
	return m.Filesystem.OpenFile(m.inside(name), flag, perm)
}

func (m relocated) Stat(name string) (os.FileInfo, error) {
	return m.Filesystem.Stat(m.inside(name))
}

func (m relocated) Lstat(name string) (os.FileInfo, error) {
	return m.Filesystem.Lstat(m.inside(name))
}

func (m relocated) ReadDir(name string) ([]os.FileInfo, error) {
	return m.Filesystem.ReadDir(m.inside(name))
}

// alternates lists the object folders that an object folder borrows from, five
// deep as in git. A relative one counts from the folder that names it; further
// down git does not follow relative ones.
func alternates(objects string, depth int, seen []string) []string {
	f, err := os.Open(filepath.Join(objects, "info", "alternates"))
	if err != nil || depth > 5 {
		return seen
	}
	defer f.Close()
	sc := bufio.NewScanner(f)
	for sc.Scan() {
		dir := sc.Text()
		if dir == "" || dir[0] == '#' || dir[0] == '"' && depth > 0 {
			continue
		}
		if !filepath.IsAbs(dir) {
			if depth > 0 {
				continue
			}
			dir = filepath.Join(objects, dir)
		}
		if info, err := os.Stat(dir); err != nil || !info.IsDir() || slices.Contains(seen, dir) {
			continue
		}
		seen = alternates(dir, depth+1, append(seen, dir))
	}
	return seen
}

func (l *library) encoded(id string) (gitlib.EncodedObject, error) {
	if len(id) != 40 {
		return nil, errMissing
	}
	h := gitlib.NewHash(id)
	var last error
	for _, s := range l.stores {
		o, err := s.EncodedObject(gitlib.AnyObject, h)
		if err == nil {
			return o, nil
		}
		if !errors.Is(err, gitlib.ErrObjectNotFound) {
			last = err
		}
	}
	if last != nil {
		return nil, fmt.Errorf("read object %s: %w", short(id), last)
	}
	// git may have packed the objects since we looked.
	for _, s := range l.stores {
		s.Reindex()
		if o, err := s.EncodedObject(gitlib.AnyObject, h); err == nil {
			return o, nil
		}
	}
	return nil, errMissing
}

func (l *library) object(id string, limit int64) (object, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	o, err := l.encoded(id)
	if err != nil {
		return object{}, err
	}
	if o.Size() > limit {
		return object{}, &TooLargeError{Size: o.Size(), Limit: limit}
	}
	rd, err := o.Reader()
	if err != nil {
		return object{}, fmt.Errorf("read object %s: %w", short(id), err)
	}
	data := make([]byte, o.Size())
	if _, err = io.ReadFull(rd, data); err != nil {
		rd.Close()
		return object{}, fmt.Errorf("read object %s: %w", short(id), err)
	}
	return object{kind: o.Type().String(), data: data}, rd.Close()
}

func (l *library) size(id string) (string, int64, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	o, err := l.encoded(id)
	if err != nil {
		return "", 0, err
	}
	return o.Type().String(), o.Size(), nil
}

func (l *library) head() (head, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	h, err := l.refsIn.Reference(gitlib.HEAD)
	if err != nil {
		return head{}, fmt.Errorf("%w: %w", errUnreadable, err)
	}
	if h.Type() == gitlib.HashReference {
		return head{id: h.Hash().String()}, nil
	}
	out := head{ref: h.Target().String()}
	id, err := l.follow(h.Target())
	if errors.Is(err, errMissing) {
		return out, nil
	}
	out.id = id
	return out, err
}

// follow gives the id that a full ref name leads to.
func (l *library) follow(name gitlib.ReferenceName) (string, error) {
	ref, err := storer.ResolveReference(l.refsIn, name)
	switch {
	case errors.Is(err, gitlib.ErrReferenceNotFound), errors.Is(err, fs.ErrNotExist),
		errors.Is(err, dotgit.ErrIsDir), errors.Is(err, dotgit.ErrReferenceNameEscape):
		return "", errMissing
	case err != nil:
		return "", fmt.Errorf("read ref %q: %w", name, err)
	}
	return ref.Hash().String(), nil
}

func (l *library) refs(prefix string) ([]ref, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	it, err := l.refsIn.IterReferences()
	if err != nil {
		return nil, fmt.Errorf("list refs: %w", err)
	}
	var out []ref
	err = it.ForEach(func(r *gitlib.Reference) error {
		name := r.Name()
		if !strings.HasPrefix(name.String(), prefix) {
			return nil
		}
		id, err := r.Hash().String(), error(nil)
		if r.Type() != gitlib.HashReference {
			id, err = l.follow(name)
		}
		if err == nil {
			out = append(out, ref{name.String(), id})
		}
		return nil // a ref that leads nowhere is passed over, as git does
	})
	slices.SortFunc(out, func(a, b ref) int { return strings.Compare(a.name, b.name) })
	return out, err
}

func (l *library) entries(file string) ([]indexEntry, error) {
	f, err := os.Open(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read the index: %w", err)
	}
	defer f.Close()
	var idx index.Index
	if err := index.NewDecoder(bufio.NewReader(f)).Decode(&idx); err != nil {
		return nil, fmt.Errorf("decode the index %q: %w: %w", file, errUnreadable, err)
	}
	out := make([]indexEntry, len(idx.Entries))
	for i, e := range idx.Entries {
		out[i] = indexEntry{
			name: e.Name, mode: uint32(e.Mode), id: e.Hash.String(),
			stage: int(e.Stage), intent: e.IntentToAdd, absent: e.SkipWorktree,
		}
	}
	return out, nil
}

func (l *library) close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	var errs []error
	for _, s := range l.stores {
		errs = append(errs, s.Close())
	}
	return errors.Join(errs...)
}
