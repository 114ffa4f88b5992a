package main

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"seamkeep/pattern/check"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// choosePaths decides what keep commits: the named pieces, with the fittings that the
// note answers; or the pattern files of the folder, its settings, and what git tracks in
// it already. Other files, the measures of a body among them, are left alone and named.
func (a *app) choosePaths(p *place, k *keeping) error {
	tracked, others, err := p.differing()
	if err != nil {
		return err
	}
	if len(k.pieces) > 0 {
		for _, piece := range k.pieces {
			k.paths = append(k.paths, path.Join(p.dir, "pieces", piece+".piece"))
		}
		a.takeFittings(p, k, append(tracked, others...))
		return nil
	}
	for _, n := range tracked {
		if text.KindOf(n) != text.BodyFile {
			k.paths = append(k.paths, n)
		} else if err := a.bodyInGit(p, k, n); err != nil {
			return err
		}
	}
	var left []string
	for _, n := range others {
		switch {
		case text.KindOf(n) == text.BodyFile:
			a.sayPrivate(p, n)
		case p.belongs(n):
			k.paths = append(k.paths, n)
		case !strings.HasPrefix(path.Base(n), tempStart):
			left = append(left, n)
		}
	}
	a.sayLeft(left)
	return nil
}

// differing lists the files of the folder that differ from HEAD and that git knows, and
// those that it does not know and would not ignore. What lies in a pattern folder
// inside it is that one's.
func (p *place) differing() (tracked, others []string, err error) {
	work, err := p.snapshot("work")
	if err != nil {
		return nil, nil, unreadable(err)
	}
	inner, err := text.Find(work)
	if err != nil {
		return nil, nil, unreadable(err)
	}
	inner = slices.DeleteFunc(inner, func(d string) bool { return d == p.dir || p.dir != "." && !strings.HasPrefix(d, p.dir+"/") })
	foreign := func(name string) bool {
		return slices.ContainsFunc(inner, func(d string) bool { return strings.HasPrefix(name, d+"/") })
	}
	if tracked, err = p.tracked(); err != nil {
		return nil, nil, err
	}
	if others, err = p.list("ls-files", "-z", "--others", "--exclude-standard"); err != nil {
		return nil, nil, err
	}
	return slices.DeleteFunc(tracked, foreign), slices.DeleteFunc(others, foreign), nil
}

// takeFittings takes fittings along with named pieces: those that the note answers, or all
// that are new or differ where that is asked for.
func (a *app) takeFittings(p *place, k *keeping, differing []string) {
	for _, n := range differing {
		switch {
		case !p.fittingFile(n):
		case k.fittings || slices.Contains(k.lines[answers], fittingName(n)):
			k.paths = append(k.paths, n)
		default:
			a.say("not kept with the pieces: " + n + "; --fittings takes it along")
		}
	}
}

// bodyInGit decides on the measures of a body that git's index has or the last version
// had. Ignored ones are refused: somebody forced them in. Others are only kept where the
// last version has them already, as those of a dress form may be, or in a merge, which is
// kept whole.
func (a *app) bodyInGit(p *place, k *keeping, name string) error {
	staged, err := p.repo.Git("--literal-pathspecs", "ls-files", "-z", "--cached", "--", name)
	if err != nil {
		return err
	}
	_, gone := os.Lstat(filepath.Join(p.root, filepath.FromSlash(name)))
	_, open := p.repo.Git("check-ignore", "--quiet", "--no-index", "--", name) // it fails where git would not ignore it
	_, fresh := p.repo.Git("cat-file", "-e", "HEAD:"+name)
	switch {
	case gone != nil:
		k.paths = append(k.paths, name)
	case staged == "":
		a.say(name + " is still in the last version; git commit -m \"bodies stay private\" takes it out, with all else that is staged")
	case open == nil:
		return refused("%s holds the measures of a body and was forced into git's index: not kept; git is as it was\n%s\ntake it out, the file itself stays: git rm --cached -- %s", name, check.PrivateCaution, shellWord(name))
	case fresh != nil && !merging(p):
		a.sayPrivate(p, name)
	default:
		k.paths = append(k.paths, name)
		a.say(name + " is kept, since git has it already; if it is a person's: git rm --cached -- " + shellWord(name) + ". " + check.PrivateCaution)
	}
	return nil
}

func (a *app) sayPrivate(p *place, body string) {
	a.say("not kept, and private: " + body + "; write bodies/ into " + path.Join(p.dir, ".gitignore") + ". " + check.PrivateCaution)
}

// belongs tells whether a new file is part of a pattern folder.
func (p *place) belongs(name string) bool {
	dir, kind := path.Dir(name), text.KindOf(name)
	base := path.Base(name)
	switch dir {
	case p.dir:
		return kind == text.GarmentFile || base == ".gitattributes" || base == ".gitignore"
	case path.Join(p.dir, "pieces"):
		return kind == text.PieceFile
	}
	return p.fittingFile(name)
}

func (a *app) sayLeft(left []string) {
	const most = 4
	if len(left) == 0 {
		return
	}
	more := ""
	if len(left) > most {
		more = fmt.Sprintf(" and %d more", len(left)-most)
		left = left[:most]
	}
	a.say("not kept, since they are no pattern files: " + strings.Join(left, ", ") + more + " (git add takes them in)")
}

// tracked lists the files of the folder that differ from HEAD and that git
// knows, staged or not.
func (p *place) tracked() ([]string, error) {
	head, err := p.repo.Head()
	if err != nil {
		return nil, unreadable(err)
	}
	if head == nil {
		return p.list("ls-files", "-z", "--cached")
	}
	return p.list("diff", "--name-only", "--no-renames", "--no-ext-diff", "-z", "HEAD")
}

func (p *place) list(args ...string) ([]string, error) {
	out, err := p.repo.Git(append([]string{"--literal-pathspecs"}, append(args, "--", p.dir)...)...)
	if err != nil {
		return nil, err
	}
	names := strings.Split(out, "\x00")
	return slices.DeleteFunc(names, func(n string) bool { return n == "" }), nil
}

// addPaths stages files as they lie on disk, gone ones as gone.
func addPaths(r *repo.Repo, names []string) error {
	var there []string
	for _, n := range names {
		if _, err := os.Lstat(filepath.Join(r.Root(), filepath.FromSlash(n))); err == nil {
			there = append(there, n)
			continue
		}
		if out, err := r.Git("--literal-pathspecs", "ls-files", "-z", "--cached", "--", n); err == nil && out != "" {
			there = append(there, n)
		}
	}
	if len(there) == 0 {
		return nil
	}
	_, err := r.GitInput(strings.Join(there, "\x00"), "--literal-pathspecs", "add", "-A", "--pathspec-from-file=-", "--pathspec-file-nul")
	return err
}

// underWay refuses to keep in the middle of something that git has to finish.
func (p *place) underWay(k *keeping) error {
	for file, what := range map[string]string{
		"CHERRY_PICK_HEAD": "git cherry-pick", "REVERT_HEAD": "git revert", "rebase-merge": "git rebase", "rebase-apply": "git rebase",
	} {
		if _, err := os.Lstat(filepath.Join(p.repo.GitDir(), file)); err == nil {
			return refused("a %s is under way; nothing was changed\nfinish it with %s --continue, or give it up with %s --abort", strings.TrimPrefix(what, "git "), what, what)
		}
	}
	if _, err := os.Lstat(p.repo.IndexFile() + ".lock"); err == nil {
		return refused("another git is at work here (%s.lock); nothing was changed\nwait until it is done; if none runs any more, remove that file", p.repo.IndexFile())
	}
	if !merging(p) {
		return nil
	}
	if len(k.pieces) > 0 {
		return usage("a merge is under way, and it is kept whole: seamkeep keep %s --because TEXT", k.name)
	}
	index, err := p.repo.Snapshot("index")
	if err != nil {
		return unreadable(err)
	}
	// a pattern file may be mended and not staged: the judge reads it
	if names := slices.DeleteFunc(index.Unmerged(), p.belongs); len(names) > 0 {
		return refused("%s is not merged yet; nothing was changed\nmend it and say so with git add, or give the merge up with git merge --abort", strings.Join(names, ", "))
	}
	return nil
}

// indexState is the maker's index before keep stages anything.
type indexState struct {
	file string
	data []byte
	mode fs.FileMode
	none bool
}

func readIndex(file string) (indexState, error) {
	s := indexState{file: file}
	info, err := os.Stat(file)
	if os.IsNotExist(err) {
		s.none = true
		return s, nil
	}
	if err == nil {
		s.mode = info.Mode().Perm()
		s.data, err = os.ReadFile(file)
	}
	return s, err
}

// restore puts the index back as it was.
func (s indexState) restore() error {
	if s.none {
		return os.Remove(s.file)
	}
	if err := writeFile(s.file, s.data); err != nil {
		return err
	}
	return os.Chmod(s.file, s.mode)
}

// literal is a pathspec for one path, whatever signs it holds.
func literal(path string) string { return ":(literal)" + path }
