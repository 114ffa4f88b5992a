package text

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"sync"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Folder is a pattern folder as it was read.
type Folder struct {
	Dir         string // slash path; "." for the root of the tree
	GarmentPath string // "" where there is no garment file
	Garment     *pattern.Garment
	Sources     map[string][]byte // text of every file that was read, by path
}

// Load reads a pattern folder: its garment file and the pieces in its folder
// "pieces", never a body. It reports everything wrong with each file, then every name that
// refers to nothing and what else shows only when all files are there.
// Garment is nil only where the garment file could not be read; where the list
// has errors, it holds what could be read and is good for nothing but messages.
func Load(fsys fs.FS, dir string) (*Folder, diag.List) { return NewLoader().Load(fsys, dir) }

// Loader reads pattern folders and keeps what it read, so that a file that is
// the same in several versions is read once. It may be used by several
// goroutines. The models and texts that it gives are shared: nobody may change
// them; pattern.Clone makes a copy that may be changed.
type Loader struct {
	mu   sync.Mutex
	kept map[string]*loaded
}

type loaded struct {
	src      []byte
	piece    *pattern.Piece
	garment  *pattern.Garment
	problems diag.List
}

// NewLoader makes a loader that keeps nothing yet.
func NewLoader() *Loader { return &Loader{kept: map[string]*loaded{}} }

// Load reads a folder like the function Load. A file is kept where fsys has a
// method ID(path string) (id string, ok bool) that names its contents.
func (l *Loader) Load(fsys fs.FS, dir string) (*Folder, diag.List) {
	f := &Folder{Dir: dir, Sources: map[string][]byte{}}
	file, problems := garmentFile(fsys, dir)
	var pieces []*pattern.Piece
	if file != "" {
		f.GarmentPath = file
		got := l.file(fsys, file)
		f.keep(file, got)
		problems = append(problems, got.problems...)
		if got.garment != nil {
			g := *got.garment
			f.Garment = &g
		}
	}
	paths, faults := pieceFiles(fsys, dir)
	problems = append(problems, faults...)
	for _, p := range paths {
		got := l.file(fsys, p)
		f.keep(p, got)
		problems = append(problems, got.problems...)
		if got.piece != nil {
			pieces = append(pieces, got.piece)
		}
	}
	if f.Garment != nil {
		f.Garment.Pieces = pieces
		f.Garment.SortPieces()
		problems = append(problems, checkNames(f.Garment, f.Sources, problems.HasErrors())...)
	}
	problems.Sort()
	return f, problems
}

func (f *Folder) keep(file string, got *loaded) {
	if got.src != nil {
		f.Sources[file] = got.src
	}
}

// garmentFile finds the one garment file of a folder.
func garmentFile(fsys fs.FS, dir string) (string, diag.List) {
	files, problems := filesOf(fsys, dir, GarmentFile)
	switch {
	case len(problems) > 0 && len(files) == 0:
		return "", problems
	case len(files) == 0:
		return "", diag.List{fileProblem(IDFileMissing, dir, "found no garment file in the folder", "expected one, NAME.garment")}
	}
	for _, more := range files[1:] {
		p := fileProblem(IDFileSeveral, more, "found a second garment file in the folder", "expected one")
		p.Related = []diag.Related{{Place: diag.Place{File: files[0]}, Text: "the first"}}
		p.Hint = "remove one of them, or give it a folder of its own"
		problems = append(problems, p)
	}
	return files[0], problems
}

func pieceFiles(fsys fs.FS, dir string) ([]string, diag.List) {
	pieces := path.Join(dir, "pieces")
	if _, err := fs.Stat(fsys, pieces); errors.Is(err, fs.ErrNotExist) {
		return nil, nil // a garment without pieces yet
	}
	return filesOf(fsys, pieces, PieceFile)
}

// filesOf lists the plain files of one kind in a folder, sorted. Links and the
// like are never followed, and said to be none.
func filesOf(fsys fs.FS, dir string, k Kind) (files []string, problems diag.List) {
	entries, err := fs.ReadDir(fsys, dir)
	if err != nil {
		return nil, diag.List{unreadable(dir, err)}
	}
	for _, e := range entries {
		file := path.Join(dir, e.Name())
		switch {
		case KindOf(file) != k || e.IsDir():
		case !e.Type().IsRegular():
			problems = append(problems, fileProblem(IDFileKind, file, "found a link or a special file", "expected a plain file"))
		default:
			files = append(files, file)
		}
	}
	return files, problems
}

// file reads and parses one file, or takes what was kept of it.
func (l *Loader) file(fsys fs.FS, file string) *loaded {
	key := ""
	if ids, ok := fsys.(interface {
		ID(path string) (string, bool)
	}); ok {
		if id, known := ids.ID(file); known {
			key = id + "\x00" + file
		}
	}
	if key == "" {
		return parse(fsys, file)
	}
	l.mu.Lock()
	got := l.kept[key]
	l.mu.Unlock()
	if got == nil {
		got = parse(fsys, file)
		l.mu.Lock()
		l.kept[key] = got
		l.mu.Unlock()
	}
	return got
}

func parse(fsys fs.FS, file string) *loaded {
	src, problem := readLimited(fsys, file)
	if problem != nil {
		return &loaded{problems: diag.List{*problem}}
	}
	got := &loaded{src: src}
	if KindOf(file) == GarmentFile {
		got.garment, got.problems = ReadGarment(file, src)
	} else {
		got.piece, got.problems = ReadPiece(file, src)
	}
	return got
}

// readLimited reads a file after asking for its size.
func readLimited(fsys fs.FS, file string) ([]byte, *diag.Problem) {
	k := KindOf(file)
	info, err := fs.Stat(fsys, file)
	if err != nil {
		p := unreadable(file, err)
		return nil, &p
	}
	if info.Size() > k.MaxBytes() {
		p := sizeProblem(diag.Place{File: file}, k, info.Size())
		return nil, &p
	}
	f, err := fsys.Open(file)
	if err != nil {
		p := unreadable(file, err)
		return nil, &p
	}
	defer f.Close()
	// one byte more than allowed, in case the file grew since it was asked
	src, err := io.ReadAll(io.LimitReader(f, k.MaxBytes()+1))
	if err != nil {
		p := unreadable(file, err)
		return nil, &p
	}
	return src, nil
}

func unreadable(file string, err error) diag.Problem {
	return fileProblem(IDFileUnreadable, file, fmt.Sprintf("found that it cannot be read: %v", err), "expected a readable file or folder")
}

func fileProblem(id, file, found, expected string) diag.Problem {
	return diag.Problem{ID: id, Severity: diag.Error, Place: diag.Place{File: file}, Found: found, Expected: expected}
}
