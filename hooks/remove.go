package hooks

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Remove takes every script of ours out of the folder, puts a hook that was
// moved aside back with its bytes and mode, and removes the folders that
// Install had to make, as far as they are empty. It reports on the hooks of
// Default, then on others of ours. Foreign and edited files are left and
// reported as Kept. A folder that is not there is no error. If the disk
// refuses, the results up to there are given with the error and a rerun
// completes.
func Remove(dir string) ([]Result, error) {
	present, err := survey(dir, Default())
	if err != nil {
		return nil, err
	}
	var results []Result
	folders := 0
	for _, f := range present {
		if f.ours() {
			folders = max(folders, f.script.folders)
		}
		r, err := remove(f)
		if err != nil {
			return results, fmt.Errorf("remove %s hook: %w", f.Name, err)
		}
		results = append(results, r)
	}
	if err := sweep(dir); err != nil {
		return results, err
	}
	removeFolders(dir, folders)
	return results, nil
}

// remove sees to one hook.
func remove(f found) (Result, error) {
	r := f.Result
	r.AddLine = ""
	switch {
	case f.kept && (f.ours() || f.State == Absent):
		r.State, r.Detail = Removed, "the hook that was there before is back"
		return r, os.Rename(f.Path+keptSuffix, f.Path)
	case f.ours():
		r.State, r.Detail = Removed, ""
		return r, os.Remove(f.Path)
	case f.State == Joined:
		r.State, r.Detail = Kept, "not seamkeep's file; take the line that calls seamkeep out by hand"
	case f.State == Edited:
		r.State, r.Detail = Kept, "edited since seamkeep wrote it; delete it by hand"
	case f.State == Foreign:
		r.State, r.Detail = Kept, "not seamkeep's file"
	}
	return r, nil
}

// sweep deletes what an interrupted Install left half written.
func sweep(dir string) error {
	entries, err := readFolder(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		name := e.Name()
		if !e.Type().IsRegular() || !strings.HasPrefix(name, stagePrefix) || !strings.HasSuffix(name, stageSuffix) {
			continue
		}
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			return fmt.Errorf("remove half-written hook: %w", err)
		}
	}
	return nil
}

// removeFolders removes that many levels, from the inside, and stops at the
// first that holds something.
func removeFolders(dir string, levels int) {
	for range levels {
		if os.Remove(dir) != nil {
			return
		}
		dir = filepath.Dir(dir)
	}
}
