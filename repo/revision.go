package repo

import (
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"
	"strings"

	gitlib "github.com/go-git/go-git/v5/plumbing"
)

// Resolve finds the commit that a revision names: HEAD or @, a branch, a tag, a
// remote branch, a whole or shortened id, each with ~N, ^N, ^{commit} or ^{} behind
// it; anything else that `git rev-parse` knows where git is at hand. ""
// is HEAD. ErrUnknownRevision, naming the revision, where there is no such
// commit.
func (r *Repo) Resolve(spec string) (*Commit, error) {
	if spec == "" {
		spec = "HEAD"
	}
	if strings.HasPrefix(spec, "-") || strings.ContainsAny(spec, "\x00\n") {
		return nil, fmt.Errorf("%w %q", ErrUnknownRevision, spec)
	}
	id, err := ask(r, func(rd reader) (string, error) {
		if lib, ok := rd.(*library); ok {
			return r.evaluate(lib, spec)
		}
		id, err := rd.resolve(spec + "^{commit}")
		return id, err
	})
	if err == nil {
		var c *Commit
		if c, err = r.commit(id); err == nil {
			return c, nil
		}
	}
	var no *UnsupportedError
	if errors.As(err, &no) {
		return nil, err
	}
	var odd *revisionError
	if errors.As(err, &odd) {
		return nil, fmt.Errorf("%w %q: %s", ErrUnknownRevision, spec, odd.why)
	}
	if errors.Is(err, errMissing) || errors.Is(err, errNotCommit) {
		return nil, fmt.Errorf("%w %q", ErrUnknownRevision, spec)
	}
	return nil, fmt.Errorf("revision %q: %w", spec, err)
}

// revisionError says what is wrong with a revision's text.
type revisionError struct{ why string }

func (e *revisionError) Error() string { return e.why }

// evaluate reads a base name and the steps behind it.
func (r *Repo) evaluate(lib *library, spec string) (string, error) {
	end := strings.IndexAny(spec, "~^")
	if end < 0 {
		end = len(spec)
	}
	base, steps := spec[:end], spec[end:]
	if base == "" || base == "@" {
		base = "HEAD"
		if end == 0 {
			return "", &revisionError{"it does not begin with a name"}
		}
	}
	id, err := lib.resolve(base)
	if err != nil {
		return "", err
	}
	for steps != "" {
		if id, steps, err = r.step(id, steps); err != nil {
			return "", err
		}
	}
	return r.peel(id)
}

// step takes one of ~N, ^N, ^{commit}, ^{} from the front of steps.
func (r *Repo) step(id, steps string) (next, rest string, err error) {
	kind, rest := steps[0], steps[1:]
	for _, braces := range []string{"{commit}", "{}"} {
		if after, ok := strings.CutPrefix(rest, braces); ok && kind == '^' {
			next, err = r.peel(id)
			return next, after, err
		}
	}
	digits := len(rest) - len(strings.TrimLeft(rest, "0123456789"))
	n := 1
	if digits > 0 {
		if n, err = strconv.Atoi(rest[:digits]); err != nil {
			return "", "", &revisionError{"the number is too large"}
		}
	}
	rest = rest[digits:]
	if rest != "" && rest[0] != '~' && rest[0] != '^' {
		return "", "", &revisionError{fmt.Sprintf("%q is not understood", steps)}
	}
	if next, err = r.peel(id); err != nil {
		return "", "", err
	}
	if kind == '^' {
		if n == 0 {
			return next, rest, nil
		}
		next, err = r.parent(next, n)
		return next, rest, err
	}
	for ; n > 0; n-- {
		if next, err = r.parent(next, 1); err != nil {
			return "", "", err
		}
	}
	return next, rest, nil
}

// parent gives the n-th parent, from 1.
func (r *Repo) parent(id string, n int) (string, error) {
	c, err := r.commit(id)
	if err != nil {
		return "", err
	}
	if n > len(c.Parents) {
		if c.Shallow {
			return "", &revisionError{"the clone is shallow and ends at " + c.Short()}
		}
		return "", &revisionError{fmt.Sprintf("%s has %d parents", c.Short(), len(c.Parents))}
	}
	return c.Parents[n-1], nil
}

// resolve finds a name in git's order: a whole id, a ref, a shortened id.
func (l *library) resolve(name string) (string, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(name) == 40 && isHex(strings.ToLower(name)) {
		return strings.ToLower(name), nil
	}
	if strings.ContainsAny(name, ":@{}*?[\\ \x7f") || strings.Contains(name, "..") {
		return "", &revisionError{"it is not a plain name"}
	}
	for _, form := range []string{"%s", "refs/%s", "refs/tags/%s", "refs/heads/%s", "refs/remotes/%s", "refs/remotes/%s/HEAD"} {
		id, err := l.follow(gitlib.ReferenceName(fmt.Sprintf(form, name)))
		if !errors.Is(err, errMissing) {
			return id, err
		}
	}
	if len(name) >= 4 && len(name) < 40 && isHex(strings.ToLower(name)) {
		return l.lengthen(strings.ToLower(name))
	}
	return "", errMissing
}

// lengthen finds the one commit or tag whose id begins so.
func (l *library) lengthen(digits string) (string, error) {
	whole, err := hex.DecodeString(digits[:len(digits)/2*2])
	if err != nil {
		return "", errMissing
	}
	found := make(map[string]bool)
	for _, s := range l.stores {
		hashes, err := s.HashesWithPrefix(whole)
		if err != nil {
			continue
		}
		for _, h := range hashes {
			id := h.String()
			if !strings.HasPrefix(id, digits) {
				continue
			}
			if o, err := l.encoded(id); err == nil &&
				(o.Type() == gitlib.CommitObject || o.Type() == gitlib.TagObject) {
				found[id] = true
			}
		}
	}
	switch len(found) {
	case 0:
		return "", errMissing
	case 1:
		for id := range found {
			return id, nil
		}
	}
	return "", &revisionError{fmt.Sprintf("%d commits begin so; give more digits", len(found))}
}
