package main

import (
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
	"strings"
	"time"

	"seamkeep/diffview/report"
)

// writeFiles writes files below root, each whole or not at all: pieces first,
// garments last, so that a second run completes one that was cut short. No
// link leads the writing outside root.
func writeFiles(root string, files map[string][]byte) error {
	r, err := os.OpenRoot(root)
	if err != nil {
		return err
	}
	defer r.Close()
	names := make([]string, 0, len(files))
	for n := range files {
		names = append(names, n)
	}
	sort.Slice(names, func(i, j int) bool {
		gi, gj := strings.HasSuffix(names[i], ".garment"), strings.HasSuffix(names[j], ".garment")
		if gi != gj {
			return gj
		}
		return names[i] < names[j]
	})
	swept := map[string]bool{}
	for _, n := range names {
		if dir := path.Dir(n); !swept[dir] {
			sweep(r, dir, tempStart, tempEnd)
			swept[dir] = true
		}
		if err := writeIn(r, n, files[n]); err != nil {
			return notWritten(n, err)
		}
	}
	return nil
}

// A file on its way is called tempStart, digits, tempEnd.
const tempStart, tempEnd = ".seamkeep-", ".tmp"

// tempLife is how old a file on its way must be before it counts as left by a
// run that was killed.
const tempLife = time.Hour

// sweep removes from a folder what killed runs left. It does not matter if it
// cannot.
func sweep(r *os.Root, dir, start, end string) {
	entries, _ := fs.ReadDir(r.FS(), dir)
	for _, e := range entries {
		if n := e.Name(); !e.Type().IsRegular() || !strings.HasPrefix(n, start) || !strings.HasSuffix(n, end) {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > tempLife {
			_ = r.Remove(path.Join(dir, e.Name()))
		}
	}
}

// writeFile writes one file whole or not at all. The error names it.
func writeFile(name string, data []byte) error {
	dir, base := filepath.Split(name)
	if dir == "" {
		dir = "."
	}
	r, err := os.OpenRoot(dir)
	if err != nil {
		return notWritten(name, fmt.Errorf("its folder: %w", bare(err)))
	}
	defer r.Close()
	if err := writeIn(r, base, data); err != nil {
		return notWritten(name, err)
	}
	return nil
}

// notWritten names the file that was asked for, not the one that was on its way.
func notWritten(name string, err error) error {
	return fmt.Errorf("write %s: %w", report.Clean(name), bare(err))
}

// bare is an error without the names of files that the system adds.
func bare(err error) error {
	switch e := err.(type) {
	case *fs.PathError:
		return e.Err
	case *os.LinkError:
		return e.Err
	}
	return err
}

// writeIn goes through a temporary file beside the target, synced, then renamed.
func writeIn(r *os.Root, name string, data []byte) error {
	dir := path.Dir(name)
	if dir != "." {
		if err := r.MkdirAll(dir, 0o755); err != nil {
			return err
		}
	}
	var random [6]byte
	if _, err := rand.Read(random[:]); err != nil {
		return err
	}
	temp := path.Join(dir, tempStart+hex.EncodeToString(random[:])+tempEnd)
	mode := fs.FileMode(0o644)
	if old, err := r.Lstat(name); err == nil && old.Mode().IsRegular() {
		mode = old.Mode().Perm() // whoever may read it may read what replaces it
	}
	f, err := r.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = r.Rename(temp, name)
	}
	if err != nil {
		_ = r.Remove(temp)
	}
	return err
}

// removeFiles removes files below root.
func removeFiles(root string, names []string) error {
	r, err := os.OpenRoot(root)
	if err != nil {
		return err
	}
	defer r.Close()
	for _, n := range names {
		if err := r.Remove(filepath.FromSlash(n)); err != nil {
			return fmt.Errorf("remove %s: %w", n, err)
		}
	}
	return nil
}
