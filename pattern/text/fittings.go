package text

import (
	"errors"
	"io/fs"
	"path"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// FittingPath is where the fitting of a name lies in a pattern folder.
func FittingPath(dir, name string) string { return path.Join(dir, "fittings", name+".fitting") }

// Fittings reads every fitting of a pattern folder, by name, and says what is wrong
// with them. None has to be there. A fitting that cannot be read whole is left out.
func Fittings(fsys fs.FS, dir string) (list []*pattern.Fitting, problems diag.List) {
	names, problems := FittingNames(fsys, dir)
	for _, name := range names {
		f, faults := ReadFittingIn(fsys, dir, name)
		problems = append(problems, faults...)
		if f != nil && !faults.HasErrors() {
			list = append(list, f)
		}
	}
	problems.Sort()
	return list, problems
}

// FittingNames lists the fittings of a pattern folder, sorted. Links are never
// followed, and said to be none.
func FittingNames(fsys fs.FS, dir string) (names []string, problems diag.List) {
	sub := path.Join(dir, "fittings")
	if _, err := fs.Stat(fsys, sub); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	files, problems := filesOf(fsys, sub, FittingFile)
	for _, file := range files {
		names = append(names, nameOf(file, FittingFile))
	}
	return names, problems
}

// ReadFittingIn reads the fitting of a name; see ReadFitting.
func ReadFittingIn(fsys fs.FS, dir, name string) (*pattern.Fitting, diag.List) {
	file := FittingPath(dir, name)
	src, problem := readLimited(fsys, file)
	if problem != nil {
		return nil, diag.List{*problem}
	}
	return ReadFitting(file, src)
}
