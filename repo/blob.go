package repo

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"time"
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
// no commit and no push carries along; nil where there is none, *TooLargeError
// above MaxFile.
func (r *Repo) ReadPrivate(name string) ([]byte, error) {
	file := r.private(name)
	info, err := os.Stat(file)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	if info.Size() > MaxFile {
		return nil, &TooLargeError{Size: info.Size(), Limit: MaxFile}
	}
	return os.ReadFile(file)
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

// LockPrivate makes sure that no other run of ours changes such a file until the
// lock is given back: a file beside it, made as git makes its own locks, with the
// number of the process that holds it. A lock whose process is gone is taken
// over.
func (r *Repo) LockPrivate(name string) (unlock func(), err error) {
	const wait, step = 10 * time.Second, 50 * time.Millisecond
	lock := r.private(name) + ".lock"
	if err := os.MkdirAll(filepath.Dir(lock), 0o777); err != nil {
		return nil, err
	}
	for begun := time.Now(); ; time.Sleep(step) {
		f, err := os.OpenFile(lock, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
		if err == nil {
			_, err = f.WriteString(strconv.Itoa(os.Getpid()))
			return func() { _ = os.Remove(lock) }, errors.Join(err, f.Close())
		}
		if !errors.Is(err, os.ErrExist) {
			return nil, err
		}
		if abandoned(lock) {
			_ = os.Remove(lock)
		}
		if time.Since(begun) > wait {
			return nil, fmt.Errorf("another run holds %s; if none is under way, remove it", lock)
		}
	}
}

// abandoned tells whether the process that made a lock is gone. One that is
// empty may be on its way for a moment.
func abandoned(lock string) bool {
	info, err := os.Stat(lock)
	if err != nil {
		return false
	}
	text, err := os.ReadFile(lock)
	if err != nil {
		return false
	}
	pid, err := strconv.Atoi(string(text))
	if err != nil || pid <= 0 {
		return time.Since(info.ModTime()) > time.Second
	}
	process, err := os.FindProcess(pid)
	if err != nil {
		return true // on Windows: there is no such process
	}
	defer func() { _ = process.Release() }()
	return runtime.GOOS != "windows" && errors.Is(process.Signal(syscall.Signal(0)), os.ErrProcessDone)
}

// private is where our own files lie: a name of our own below git's folder.
func (r *Repo) private(name string) string {
	return filepath.Join(r.common, "seamkeep", filepath.Base(name))
}
