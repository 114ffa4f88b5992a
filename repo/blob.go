package repo

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// ErrNoBlob says that the repository does not hold a file's content.
var ErrNoBlob = errors.New("no such file content in this repository")

// Blob gives the content that a blob id names. ErrNoBlob where this clone does
// not hold it, or holds something else under that id; *TooLargeError above
// MaxFile.
func (r *Repo) Blob(id string) ([]byte, error) {
	id = strings.ToLower(id)
	if !isID(id) {
		return nil, fmt.Errorf("%q: %w", id, ErrNoBlob)
	}
	o, err := ask(r, func(rd reader) (object, error) { return rd.object(id, MaxFile) })
	switch {
	case errors.Is(err, errMissing):
		return nil, fmt.Errorf("%s: %w", short(id), ErrNoBlob)
	case err != nil:
		return nil, fmt.Errorf("blob %s: %w", short(id), err)
	case o.kind != "blob":
		return nil, fmt.Errorf("%s is a %s: %w", short(id), o.kind, ErrNoBlob)
	}
	return bytes.Clone(o.data), nil
}

// KeepBlob stores content among git's objects, through git, and gives its id.
// Git may drop it after some weeks unless a commit comes to hold it.
func (r *Repo) KeepBlob(data []byte) (string, error) {
	out, err := r.GitInput(string(data), "hash-object", "-w", "--stdin", "--no-filters")
	if err != nil {
		return "", err
	}
	return strings.TrimSpace(out), nil
}

// ReadPrivate gives a file of our own in the repository's common folder, which
// no commit and no push carries along; nil where there is none.
func (r *Repo) ReadPrivate(name string) ([]byte, error) {
	data, err := os.ReadFile(r.private(name))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	return data, err
}

// WritePrivate writes such a file whole: beside it, then in its place.
func (r *Repo) WritePrivate(name string, data []byte) error {
	file := r.private(name)
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(file), "."+filepath.Base(file)+"-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // gone already where all went well
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), file)
}

// private is where our own files lie: a name of our own below git's folder.
func (r *Repo) private(name string) string {
	return filepath.Join(r.common, "seamkeep", filepath.Base(name))
}
