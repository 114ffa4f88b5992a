package repo

import (
	"errors"
	"fmt"
)

// errMissing says that an object or ref is not in the store.
var errMissing = errors.New("object not found")

// errUnreadable says that the library does not know the format.
var errUnreadable = errors.New("format not known to the library")

// errNotCommit says that an object is a tree or a file, not a commit.
var errNotCommit = errors.New("not a commit")

// TooLargeError says that a file is larger than MaxFile.
type TooLargeError struct {
	Size, Limit int64 // bytes
}

// Error gives both sizes.
func (e *TooLargeError) Error() string {
	return fmt.Sprintf("file of %d bytes is larger than the limit of %d", e.Size, e.Limit)
}

// object is one git object as stored, without its header.
type object struct {
	kind string // commit, tree, blob, tag
	data []byte
}

// head is what HEAD says: a ref, which may be unborn, or a bare id.
type head struct {
	ref string // full name; "" when detached
	id  string // "" when unborn
}

// ref is a full name and the id that it leads to, tags not peeled.
type ref struct{ name, id string }

// indexEntry is one line of the staged content.
type indexEntry struct {
	name   string // raw bytes, slashes
	mode   uint32 // as in trees: 0100644 ...
	id     string
	stage  int  // 0, or 1 to 3 in a conflict
	intent bool // added with intent only: nothing is staged yet
	absent bool // left out of a sparse working tree
}

// reader is all that this package asks of a git store. Ids are hexadecimal. It
// is safe for use by several goroutines.
type reader interface {
	// object reads an object of at most limit bytes, else *TooLargeError.
	object(id string, limit int64) (object, error)
	// size gives kind and length in bytes without reading the content.
	size(id string) (kind string, size int64, err error)
	head() (head, error)
	// refs lists those below a prefix that ends in "/", in order of name.
	refs(prefix string) ([]ref, error)
	// resolve finds the object that a revision names, not peeled.
	resolve(spec string) (string, error)
	// entries decodes an index file; none where there is no such file.
	entries(file string) ([]indexEntry, error)
	close() error
}

// ask puts a question to the main reader, and where that fails, to git. Where
// git cannot be asked the first error stands.
func ask[T any](r *Repo, question func(reader) (T, error)) (T, error) {
	answer, err := question(r.main)
	var large *TooLargeError
	if err == nil || errors.As(err, &large) {
		return answer, err
	}
	spare := r.fallback()
	if spare == nil {
		return answer, unsupported(err, ErrNoGit)
	}
	second, err2 := question(spare)
	if err2 == nil || errors.As(err2, &large) {
		return second, err2
	}
	return answer, unsupported(err, err2)
}

// unsupported turns the library's "not known" into an error with advice.
func unsupported(err, gitErr error) error {
	if !errors.Is(err, errUnreadable) {
		return err
	}
	hint := "install git and make sure that it is on PATH"
	if !errors.Is(gitErr, ErrNoGit) {
		hint = "a newer git may be needed; see what `git status` says there"
	}
	return &UnsupportedError{What: "this repository", Hint: hint, Err: errors.Join(err, gitErr)}
}

// fallback is git as second reader, or nil: it is the main one, or missing.
func (r *Repo) fallback() reader {
	r.mu.Lock()
	defer r.mu.Unlock()
	if _, same := r.main.(*plumbing); same {
		return nil
	}
	if r.spare == nil {
		if _, err := gitPath(); err != nil {
			return nil
		}
		r.spare = newPlumbing(r)
	}
	return r.spare
}
