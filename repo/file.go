package repo

import (
	"bytes"
	"io"
	"io/fs"
	"path"
	"time"
)

var (
	_ fs.ReadDirFS  = (*Snapshot)(nil)
	_ fs.ReadFileFS = (*Snapshot)(nil)
	_ fs.StatFS     = (*Snapshot)(nil)
)

// Open opens a file or folder for reading. A file is read whole at once.
func (s *Snapshot) Open(name string) (fs.File, error) {
	e, err := s.find("open", name)
	if err != nil {
		return nil, err
	}
	if e.dir {
		list, err := s.src.list(s, name)
		if err != nil {
			return nil, &fs.PathError{Op: "open", Path: name, Err: err}
		}
		return &openFolder{info: s.info(e), rest: s.dirEntries(list)}, nil
	}
	data, err := s.src.read(e)
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	e.bytes = int64(len(data))
	return &openFile{Reader: bytes.NewReader(data), info: s.info(e)}, nil
}

// ReadFile gives the content of a file. The bytes are the caller's.
func (s *Snapshot) ReadFile(name string) ([]byte, error) {
	e, err := s.find("read", name)
	if err == nil && e.dir {
		err = &fs.PathError{Op: "read", Path: name, Err: fs.ErrInvalid}
	}
	if err != nil {
		return nil, err
	}
	data, err := s.src.read(e)
	if err != nil {
		return nil, &fs.PathError{Op: "read", Path: name, Err: err}
	}
	return data, nil
}

// ReadDir lists a folder in order of name, without what is left out.
func (s *Snapshot) ReadDir(name string) ([]fs.DirEntry, error) {
	e, err := s.find("readdir", name)
	if err == nil && !e.dir {
		err = &fs.PathError{Op: "readdir", Path: name, Err: errNotFolder}
	}
	if err != nil {
		return nil, err
	}
	list, err := s.src.list(s, name)
	if err != nil {
		return nil, &fs.PathError{Op: "readdir", Path: name, Err: err}
	}
	return s.dirEntries(list), nil
}

// Stat gives kind, size and time. The time of a file in a commit is the
// commit's; in the index it is the zero time.
func (s *Snapshot) Stat(name string) (fs.FileInfo, error) {
	e, err := s.find("stat", name)
	if err != nil {
		return nil, err
	}
	return s.sized(e)
}

// sized asks for the length where it is not yet known.
func (s *Snapshot) sized(e entry) (fs.FileInfo, error) {
	if !e.dir && e.bytes < 0 {
		n, err := s.src.size(e)
		if err != nil {
			return nil, &fs.PathError{Op: "stat", Path: e.path, Err: err}
		}
		e.bytes = n
	}
	return s.info(e), nil
}

func (s *Snapshot) info(e entry) fileInfo {
	if e.dir {
		e.bytes = 0
	}
	return fileInfo{e}
}

func (s *Snapshot) dirEntries(list []entry) []fs.DirEntry {
	out := make([]fs.DirEntry, len(list))
	for i, e := range list {
		out[i] = dirEntry{s, e}
	}
	return out
}

type fileInfo struct{ e entry }

func (i fileInfo) Name() string       { return path.Base(i.e.path) }
func (i fileInfo) Size() int64        { return i.e.bytes }
func (i fileInfo) ModTime() time.Time { return i.e.when }
func (i fileInfo) IsDir() bool        { return i.e.dir }
func (i fileInfo) Sys() any           { return nil }
func (i fileInfo) String() string     { return fs.FormatFileInfo(i) }

func (i fileInfo) Mode() fs.FileMode {
	switch {
	case i.e.dir:
		return fs.ModeDir | 0o555
	case i.e.exec:
		return 0o555
	}
	return 0o444
}

type dirEntry struct {
	s *Snapshot
	e entry
}

func (d dirEntry) Name() string               { return path.Base(d.e.path) }
func (d dirEntry) IsDir() bool                { return d.e.dir }
func (d dirEntry) Type() fs.FileMode          { return fileInfo{d.e}.Mode().Type() }
func (d dirEntry) Info() (fs.FileInfo, error) { return d.s.sized(d.e) }
func (d dirEntry) String() string             { return fs.FormatDirEntry(d) }

// openFile is a file's content; bytes.Reader brings Seek and ReadAt.
type openFile struct {
	*bytes.Reader
	info fileInfo
}

func (f *openFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *openFile) Close() error               { return nil }

type openFolder struct {
	info fileInfo
	rest []fs.DirEntry
}

func (f *openFolder) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *openFolder) Close() error               { return nil }

func (f *openFolder) Read([]byte) (int, error) {
	return 0, &fs.PathError{Op: "read", Path: f.info.e.path, Err: fs.ErrInvalid}
}

// ReadDir gives the next n entries, or all that are left.
func (f *openFolder) ReadDir(n int) ([]fs.DirEntry, error) {
	if n > 0 && len(f.rest) == 0 {
		return nil, io.EOF
	}
	if n <= 0 || n > len(f.rest) {
		n = len(f.rest)
	}
	out := f.rest[:n]
	f.rest = f.rest[n:]
	return out, nil
}
