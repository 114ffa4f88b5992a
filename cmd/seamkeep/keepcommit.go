package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"seamkeep/repo"
)

// message is the whole commit message.
func (k *keeping) message(accept []string) string {
	subject := k.subject
	if subject == "" {
		subject = k.name
	}
	trailers := []repo.Trailer{{Key: "Alteration", Value: k.name}, {Key: "Because", Value: k.because}}
	for _, line := range k.claims {
		key, value, _ := strings.Cut(line, ": ")
		trailers = append(trailers, repo.Trailer{Key: key, Value: value})
	}
	for _, x := range accept {
		trailers = append(trailers, repo.Trailer{Key: "Unfinished", Value: x})
	}
	return repo.FormatTrailers(subject, "", trailers)
}

// commit stages and commits through git, so that its hooks, signatures and
// settings count. A refusal by another hook leaves the index as it was.
func (a *app) commit(p *place, k *keeping, accept []string) error {
	env := append(os.Environ(), "SEAMKEEP_UNFINISHED="+strings.Join(accept, "\n"))
	if k.amend {
		env = append(env, "SEAMKEEP_AMEND=1")
	}
	r, err := repo.OpenWith(p.root, repo.Options{Environ: env})
	if err != nil {
		return unreadable(err)
	}
	defer r.Close()
	before, err := readIndex(p.repo.IndexFile())
	if err != nil {
		return err
	}
	old, err := p.repo.Head()
	if err != nil {
		return unreadable(err)
	}
	args := []string{"commit", "--quiet", "--file=-", "--cleanup=whitespace"}
	if k.amend {
		args = append(args, "--amend")
	}
	if err := addPaths(r, k.paths); err != nil {
		return refused("not kept: %v", err)
	}
	if !merging(p) {
		list, err := p.pathList(k)
		if err != nil {
			return err
		}
		defer os.Remove(list)
		args = append(args, "--only", "--pathspec-from-file="+list, "--pathspec-file-nul")
	}
	if _, err = r.GitInput(k.message(accept), append([]string{"--literal-pathspecs"}, args...)...); err != nil {
		if back := before.restore(); back != nil {
			err = errors.Join(err, fmt.Errorf("put back what was staged: %w", back))
		}
		return refused("not kept: %v", err)
	}
	k.kept = true
	head, err := r.Head()
	if err != nil {
		return err
	}
	if k.amend {
		a.tagsLeft(p, old, head)
	}
	if k.tag != "" {
		if _, err := r.Git("tag", "--", k.tag, head.ID); err != nil {
			return refused("kept as %s, but not tagged: %v", head.Short(), err)
		}
	}
	return a.kept(k, head, accept)
}

// tagsLeft says which tags stay on the version that an amend replaced: what was
// cut from it must still be found.
func (a *app) tagsLeft(p *place, old, head *repo.Commit) {
	tags, err := p.repo.Tags()
	if err != nil || old == nil || len(tags[old.ID]) == 0 {
		return
	}
	a.say(fmt.Sprintf("still on the version before, %s: the tag %s; to move it: git tag -f %s %s",
		old.Short(), strings.Join(tags[old.ID], ", "), tags[old.ID][0], head.Short()))
}

// pathList writes the paths to commit into a file for git: there may be more
// than a command line holds.
func (p *place) pathList(k *keeping) (string, error) {
	f, err := os.CreateTemp(p.repo.GitDir(), "seamkeep-index-")
	if err != nil {
		return "", err
	}
	_, err = f.WriteString(strings.Join(k.paths, "\x00"))
	return f.Name(), errors.Join(err, f.Close())
}

func (a *app) kept(k *keeping, head *repo.Commit, accept []string) error {
	line := fmt.Sprintf("kept %s as %s", k.name, head.Short())
	if k.tag != "" {
		line += ", tagged " + k.tag
	}
	t := a.text()
	t.Para(line, "  ")
	for _, x := range accept {
		t.Para("unfinished: "+x, "  ")
	}
	return t.Err
}
