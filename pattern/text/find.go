package text

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"sort"
	"strings"
)

// maxDepth is how many folders deep a pattern folder may lie.
const maxDepth = 16

// Find lists the pattern folders of a tree, sorted: those with a garment file
// directly in them, as slash paths, "." for the root. A folder with several is
// listed too, so that Load can complain of it. Folders whose name begins with
// a dot are passed over, as are those that may not be read, links, and what
// lies more than 16 folders deep.
func Find(fsys fs.FS) ([]string, error) {
	found := map[string]bool{}
	err := fs.WalkDir(fsys, ".", func(file string, d fs.DirEntry, err error) error {
		switch {
		case err != nil && file != "." && errors.Is(err, fs.ErrPermission):
			return fs.SkipDir
		case err != nil:
			return err
		case d.IsDir() && file != "." && (strings.HasPrefix(d.Name(), ".") || strings.Count(file, "/") >= maxDepth):
			return fs.SkipDir
		case !d.IsDir() && KindOf(file) == GarmentFile:
			found[path.Dir(file)] = true
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("look for pattern folders: %w", err)
	}
	folders := make([]string, 0, len(found))
	for dir := range found {
		folders = append(folders, dir)
	}
	sort.Strings(folders)
	return folders, nil
}
