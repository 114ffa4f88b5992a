package repo

import (
	"crypto/sha1" // what git names files by
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// disk is the working tree as a source. All access goes through an os.Root, so
// that no link, however made, leads outside.
type disk struct {
	repo   *Repo
	root   *os.Root
	absent *listing // what a sparse working tree keeps off the disk
}

func (r *Repo) workSnapshot() (*Snapshot, error) {
	if r.Bare() {
		return nil, ErrNoWorkTree
	}
	root, err := r.openRoot()
	if err != nil {
		return nil, err
	}
	d := &disk{repo: r, root: root}
	s := &Snapshot{repo: r, label: "work", src: d}
	d.absent, err = r.sparse(s)
	return s, err
}

func (r *Repo) openRoot() (*os.Root, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.disk == nil {
		root, err := os.OpenRoot(r.root)
		if err != nil {
			return nil, fmt.Errorf("open the working tree: %w", err)
		}
		r.disk = root
	}
	return r.disk, nil
}

// sparse lists the files that a sparse working tree keeps off the disk.
func (r *Repo) sparse(s *Snapshot) (*listing, error) {
	l := &listing{repo: r, loaded: map[string][]entry{".": nil}}
	if !r.local.truth("core.sparsecheckout", false) {
		return l, nil
	}
	lines, err := ask(r, func(rd reader) ([]indexEntry, error) { return rd.entries(r.index) })
	if err != nil {
		return nil, fmt.Errorf("read the index: %w", err)
	}
	l.fill(s, slices.DeleteFunc(lines, func(e indexEntry) bool { return !e.absent || e.stage != 0 }))
	return l, nil
}

// find looks at each folder on the way, since a link must not be followed even
// where it stays inside.
func (d *disk) find(s *Snapshot, name string) (entry, error) {
	parts := strings.Split(name, "/")
	for i := range parts {
		at := strings.Join(parts[:i+1], "/")
		info, err := d.root.Lstat(filepath.FromSlash(at))
		if errors.Is(err, fs.ErrNotExist) {
			return d.absent.find(s, name)
		}
		if err != nil {
			return entry{}, plainError(err)
		}
		e, why := d.judge(at, info)
		switch {
		case why != "":
			s.leave(at, why)
			return entry{}, &leftOutError{why}
		case i == len(parts)-1:
			return e, nil
		case !e.dir:
			return entry{}, fs.ErrNotExist
		}
	}
	return entry{}, fs.ErrNotExist
}

// judge makes an entry, or says why it is left out.
func (d *disk) judge(at string, info fs.FileInfo) (entry, string) {
	if why := oddName(path.Base(at)); why != "" {
		return entry{}, why
	}
	mode := info.Mode()
	e := entry{path: at, dir: info.IsDir(), exec: mode&0o111 != 0, bytes: info.Size(), when: info.ModTime()}
	switch {
	case mode&fs.ModeSymlink != 0:
		return e, "it is a symbolic link"
	case e.dir:
		if _, err := d.root.Lstat(filepath.FromSlash(at + "/.git")); err == nil {
			return e, "it is another repository"
		}
	case !mode.IsRegular():
		return e, "it is not a plain file"
	}
	return e, ""
}

func (d *disk) list(s *Snapshot, dir string) ([]entry, error) {
	names, err := d.names(dir)
	list := slices.Clone(d.absent.loaded[dir])
	if err != nil && (list == nil || !errors.Is(err, fs.ErrNotExist)) {
		return nil, plainError(err)
	}
	for _, name := range names {
		if dir == "." && name == ".git" {
			continue
		}
		at := strings.TrimPrefix(dir+"/", "./") + name
		info, err := d.root.Lstat(filepath.FromSlash(at))
		if errors.Is(err, fs.ErrNotExist) {
			continue // gone since
		}
		if err != nil {
			return nil, plainError(err)
		}
		e, why := d.judge(at, info)
		if why != "" {
			s.leave(at, why)
			continue
		}
		list = slices.DeleteFunc(list, func(a entry) bool { return a.path == at })
		list = append(list, e)
	}
	sortEntries(list)
	return list, nil
}

// names lists a folder of the disk.
func (d *disk) names(dir string) ([]string, error) {
	f, err := d.root.Open(filepath.FromSlash(dir))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return f.Readdirnames(-1)
}

// read asks for the size first, and again of the open file, which might have
// been exchanged.
func (d *disk) read(e entry) ([]byte, error) {
	if e.id != "" {
		return d.absent.read(e)
	}
	if e.bytes > MaxFile {
		return nil, &TooLargeError{Size: e.bytes, Limit: MaxFile}
	}
	f, err := d.root.Open(filepath.FromSlash(e.path))
	if err != nil {
		return nil, plainError(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, plainError(err)
	}
	if !info.Mode().IsRegular() {
		return nil, &leftOutError{"it is not a plain file"}
	}
	data := make([]byte, 0, min(info.Size(), MaxFile)+1)
	w := &limited{left: MaxFile, data: data}
	if _, err := io.Copy(w, f); err != nil {
		return nil, plainError(err)
	}
	return w.data, nil
}

// limited collects bytes up to a limit.
type limited struct {
	left int64
	data []byte
}

func (l *limited) Write(p []byte) (int, error) {
	if l.left -= int64(len(p)); l.left < 0 {
		return 0, &TooLargeError{Size: MaxFile - l.left, Limit: MaxFile}
	}
	l.data = append(l.data, p...)
	return len(p), nil
}

func (d *disk) size(e entry) (int64, error) { return d.absent.size(e) }

func (d *disk) blob(e entry) (string, error) {
	if e.id != "" {
		return e.id, nil
	}
	data, err := d.read(e)
	if err != nil {
		return "", err
	}
	return d.repo.hash("blob", data), nil
}

// hash gives the id of an object in this repository's kind of ids.
func (r *Repo) hash(kind string, data []byte) string {
	h := hash.Hash(sha1.New())
	if strings.EqualFold(r.local.get("extensions.objectformat"), "sha256") {
		h = sha256.New()
	}
	fmt.Fprintf(h, "%s %d\x00", kind, len(data))
	h.Write(data)
	return hex.EncodeToString(h.Sum(nil))
}

// plainError drops the operating system's path, since the caller names ours.
func plainError(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
