package repo

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/go-git/go-billy/v5/osfs"
	gitlib "github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/cache"
	"github.com/go-git/go-git/v5/plumbing/filemode"
	"github.com/go-git/go-git/v5/plumbing/format/index"
	"github.com/go-git/go-git/v5/storage/filesystem"
)

// Builder writes a repository that it has just created, without the git
// program. Nothing else may write to it at the same time.
type Builder struct {
	dir   string
	store *filesystem.Storage
	trees map[string]string // tree id of each commit made
}

// NewCommit is what a commit shall hold. The same input gives the same id.
type NewCommit struct {
	Branch    string // short name; it is set to the new commit
	Parents   []string
	Author    Person
	Committer Person            // the author where its Name is empty
	Message   string            // a line end is added at the end where there is none
	Files     map[string][]byte // the whole tree, slash paths from the root
}

// ErrNotEmpty says that a folder in which a repository shall be made holds
// something.
var ErrNotEmpty = errors.New("the folder is not empty")

// Create makes a repository in dir, which must be empty or absent, with HEAD
// on an unborn branch.
func Create(dir, branch string) (*Builder, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("create a repository: %w", err)
	}
	if err := badRef("refs/heads/" + branch); err != nil {
		return nil, err
	}
	names, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("create a repository: %w", err)
	}
	if len(names) > 0 {
		return nil, fmt.Errorf("create a repository in %q: %w", dir, ErrNotEmpty)
	}
	dot := filepath.Join(dir, ".git")
	for _, d := range []string{"objects/info", "objects/pack", "refs/heads", "refs/tags", "info", "hooks"} {
		if err := os.MkdirAll(filepath.Join(dot, filepath.FromSlash(d)), 0o777); err != nil {
			return nil, fmt.Errorf("create a repository: %w", err)
		}
	}
	config := "[core]\n\trepositoryformatversion = 0\n\tfilemode = true\n\tbare = false\n\tlogallrefupdates = true\n"
	if filepath.Separator == '\\' {
		config = strings.Replace(config, "filemode = true", "filemode = false", 1)
	}
	for name, text := range map[string]string{"HEAD": "ref: refs/heads/" + branch + "\n", "config": config} {
		if err := os.WriteFile(filepath.Join(dot, name), []byte(text), 0o666); err != nil {
			return nil, fmt.Errorf("create a repository: %w", err)
		}
	}
	return &Builder{
		dir:   dir,
		store: filesystem.NewStorage(osfs.New(dot), cache.NewObjectLRUDefault()),
		trees: make(map[string]string),
	}, nil
}

// Dir is the root of the working tree, absolute.
func (b *Builder) Dir() string { return b.dir }

// Commit writes blobs, trees and the commit, and sets its branch. Names and
// addresses lose what git does not allow in them.
func (b *Builder) Commit(c NewCommit) (id string, err error) {
	branch := "refs/heads/" + c.Branch
	if err := badRef(branch); err != nil {
		return "", err
	}
	tree, err := b.tree(c.Files)
	if err != nil {
		return "", fmt.Errorf("commit on %q: %w", c.Branch, err)
	}
	if c.Committer.Name == "" {
		c.Committer = c.Author
	}
	var text strings.Builder
	fmt.Fprintf(&text, "tree %s\n", tree)
	for _, p := range c.Parents {
		if b.trees[p] == "" {
			return "", fmt.Errorf("commit on %q: parent %q: %w", c.Branch, p, ErrUnknownRevision)
		}
		fmt.Fprintf(&text, "parent %s\n", p)
	}
	fmt.Fprintf(&text, "author %s\ncommitter %s\n\n%s\n", c.Author.line(), c.Committer.line(),
		strings.TrimRight(strings.ReplaceAll(c.Message, "\x00", ""), "\n"))
	if id, err = b.object(gitlib.CommitObject, []byte(text.String())); err != nil {
		return "", err
	}
	b.trees[id] = tree
	return id, b.setRef(branch, id)
}

// line is the form in which git stores a person.
func (p Person) line() string {
	clean := func(s string) string {
		s = strings.Map(func(c rune) rune {
			if c < 0x20 || c == '<' || c == '>' || c == 0x7f {
				return -1
			}
			return c
		}, s)
		return strings.Trim(s, " .,:;\"\\'")
	}
	return fmt.Sprintf("%s <%s> %d %s", clean(p.Name), clean(p.Email), p.When.Unix(), p.When.Format("-0700"))
}

// Tag sets a plain tag on a commit.
func (b *Builder) Tag(name, id string) error {
	if b.trees[id] == "" {
		return fmt.Errorf("tag %q on %q: %w", name, id, ErrUnknownRevision)
	}
	if err := badRef("refs/tags/" + name); err != nil {
		return err
	}
	return b.setRef("refs/tags/"+name, id)
}

func (b *Builder) setRef(name, id string) error {
	ref := gitlib.NewHashReference(gitlib.ReferenceName(name), gitlib.NewHash(id))
	if err := b.store.SetReference(ref); err != nil {
		return fmt.Errorf("set %q: %w", name, err)
	}
	return nil
}

// badRef refuses names that git would not take (git-check-ref-format).
func badRef(name string) error {
	bad := strings.ContainsAny(name, " ~^:?*[\\\x7f") || strings.Contains(name, "..") ||
		strings.Contains(name, "@{") || strings.HasSuffix(name, ".") || strings.HasSuffix(name, "/@")
	for part := range strings.SplitSeq(name, "/") {
		bad = bad || part == "" || part[0] == '.' || part[0] == '-' || strings.HasSuffix(part, ".lock")
	}
	for _, c := range []byte(name) {
		bad = bad || c < 0x20
	}
	if bad {
		return fmt.Errorf("%q is not a name that git takes", name)
	}
	return nil
}

func (b *Builder) object(kind gitlib.ObjectType, data []byte) (string, error) {
	o := b.store.NewEncodedObject()
	o.SetType(kind)
	o.SetSize(int64(len(data)))
	w, err := o.Writer()
	if err == nil {
		if _, err = w.Write(data); err == nil {
			err = w.Close()
		}
	}
	if err == nil && b.store.HasEncodedObject(o.Hash()) == nil {
		return o.Hash().String(), nil
	}
	if err == nil {
		_, err = b.store.SetEncodedObject(o)
	}
	if err != nil {
		return "", fmt.Errorf("write a %s: %w", kind, err)
	}
	return o.Hash().String(), nil
}

// tree writes files and folders and gives the id of the root.
func (b *Builder) tree(files map[string][]byte) (string, error) {
	here := make(map[string]string)             // name to blob id
	below := make(map[string]map[string][]byte) // folder to its files
	for p, data := range files {
		name, rest, deep := strings.Cut(p, "/")
		if why := oddName(name); why != "" || deep && rest == "" {
			return "", fmt.Errorf("file %q: %s", p, why)
		}
		if deep {
			if below[name] == nil {
				below[name] = make(map[string][]byte)
			}
			below[name][rest] = data
			continue
		}
		id, err := b.object(gitlib.BlobObject, data)
		if err != nil {
			return "", err
		}
		here[name] = id
	}
	var lines []string // git orders folders as if their names ended in "/"
	for name := range here {
		if below[name] != nil {
			return "", fmt.Errorf("%q is both a file and a folder", name)
		}
		lines = append(lines, name)
	}
	for name := range below {
		lines = append(lines, name+"/")
	}
	slices.Sort(lines)
	var data []byte
	for _, l := range lines {
		id, mode := here[l], "100644"
		if name, folder := strings.CutSuffix(l, "/"); folder {
			var err error
			if id, err = b.tree(below[name]); err != nil {
				return "", err
			}
			l, mode = name, "40000"
		}
		h := gitlib.NewHash(id)
		data = append(append(data, mode+" "+l+"\x00"...), h[:]...)
	}
	return b.object(gitlib.TreeObject, data)
}

// Checkout sets HEAD to a branch and makes the working tree and the index
// those of its commit. Files of an earlier Checkout that the branch lacks are
// removed; other files stay.
func (b *Builder) Checkout(branch string) error {
	name := gitlib.ReferenceName("refs/heads/" + branch)
	ref, err := b.store.Reference(name)
	if err != nil {
		return fmt.Errorf("check out %q: %w", branch, ErrUnknownRevision)
	}
	if err := b.store.SetReference(gitlib.NewSymbolicReference(gitlib.HEAD, name)); err != nil {
		return fmt.Errorf("check out %q: %w", branch, err)
	}
	old, err := b.store.Index()
	if err != nil {
		return fmt.Errorf("check out %q: %w", branch, err)
	}
	root, err := os.OpenRoot(b.dir)
	if err != nil {
		return fmt.Errorf("check out %q: %w", branch, err)
	}
	defer root.Close()
	idx := &index.Index{Version: 2}
	if err := b.unpack(root, idx, b.trees[ref.Hash().String()], "."); err != nil {
		return fmt.Errorf("check out %q: %w", branch, err)
	}
	for _, e := range old.Entries {
		if _, err := idx.Entry(e.Name); err == nil {
			continue
		}
		if err := removeFile(root, e.Name); err != nil {
			return fmt.Errorf("check out %q: %w", branch, err)
		}
	}
	slices.SortFunc(idx.Entries, func(x, y *index.Entry) int { return strings.Compare(x.Name, y.Name) })
	if err := b.store.SetIndex(idx); err != nil {
		return fmt.Errorf("check out %q: %w", branch, err)
	}
	return nil
}

// removeFile removes a file and the folders above it that become empty.
func removeFile(root *os.Root, name string) error {
	if err := root.Remove(filepath.FromSlash(name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for dir := path.Dir(name); dir != "."; dir = path.Dir(dir) {
		if root.Remove(filepath.FromSlash(dir)) != nil {
			return nil // something else lies in it
		}
	}
	return nil
}

// unpack writes a tree's files and enters them in the index.
func (b *Builder) unpack(root *os.Root, idx *index.Index, tree, dir string) error {
	_, data, err := b.stored(tree)
	if err != nil {
		return err
	}
	lines, err := parseTree(data, len(tree)/2)
	if err != nil {
		return err
	}
	for _, t := range lines {
		name := path.Join(dir, t.name)
		if t.mode == modeTree {
			err := root.Mkdir(filepath.FromSlash(name), 0o777)
			if err == nil || errors.Is(err, fs.ErrExist) {
				err = b.unpack(root, idx, t.id, name)
			}
			if err != nil {
				return err
			}
			continue
		}
		if err := b.place(root, idx, t.id, name); err != nil {
			return err
		}
	}
	return nil
}

func (b *Builder) stored(id string) (gitlib.ObjectType, []byte, error) {
	o, err := b.store.EncodedObject(gitlib.AnyObject, gitlib.NewHash(id))
	if err != nil {
		return 0, nil, fmt.Errorf("object %s: %w", short(id), err)
	}
	rd, err := o.Reader()
	if err != nil {
		return 0, nil, fmt.Errorf("object %s: %w", short(id), err)
	}
	defer rd.Close()
	data, err := io.ReadAll(rd)
	return o.Type(), data, err
}

// place writes one file and its line in the index.
func (b *Builder) place(root *os.Root, idx *index.Index, id, name string) error {
	_, data, err := b.stored(id)
	if err != nil {
		return err
	}
	file := filepath.FromSlash(name)
	if err := root.WriteFile(file, data, 0o666); err != nil {
		return err
	}
	info, err := root.Lstat(file)
	if err != nil {
		return err
	}
	e := &index.Entry{
		Name: name, Hash: gitlib.NewHash(id), Mode: filemode.Regular,
		ModifiedAt: info.ModTime(), Size: uint32(info.Size()),
	}
	fileDetails(e, info)
	idx.Entries = append(idx.Entries, e)
	return nil
}
