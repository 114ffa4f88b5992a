package repo

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// Options say how a repository is opened. The zero value is what Open does.
type Options struct {
	// Environ is the environment as NAME=value, for reading and for git
	// processes; nil is that of this process.
	Environ []string
	// IgnoreEnvironment opens what dir holds even inside a hook, where git has
	// set GIT_DIR, GIT_INDEX_FILE and their like for another repository.
	IgnoreEnvironment bool
}

// Open finds the repository that holds dir, looking upwards, or the bare
// repository at dir. Where git has set GIT_DIR, GIT_WORK_TREE, GIT_COMMON_DIR,
// GIT_INDEX_FILE or GIT_OBJECT_DIRECTORY, as it does for hooks, they count, as
// they do for git. ErrNoRepository where there is none, *OwnerError where it is
// somebody else's, *UnsupportedError where it cannot be read.
func Open(dir string) (*Repo, error) { return OpenWith(dir, Options{}) }

// OpenWith is Open with a choice of environment.
func OpenWith(dir string, o Options) (*Repo, error) {
	env := environment{all: o.Environ, honoured: !o.IgnoreEnvironment}
	if o.Environ == nil {
		env.all = os.Environ()
	}
	start, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("open %q: %w", dir, err)
	}
	r := &Repo{env: env, commits: make(map[string]*Commit), trees: make(map[string][]treeEntry)}
	if err := r.locate(realPath(start)); err != nil {
		return nil, fmt.Errorf("open %q: %w", dir, err)
	}
	if err := r.checkOwner(); err != nil {
		return nil, err
	}
	if err := r.choose(); err != nil {
		return nil, err
	}
	return r, nil
}

// locate fills in the folders.
func (r *Repo) locate(start string) error {
	top, gitDir, err := discover(start)
	named := r.env.git("GIT_DIR")
	if named != "" {
		named = realPath(absolute(named))
		if !isGitDir(named, r.env) {
			return fmt.Errorf("GIT_DIR is %q: %w", named, ErrNoRepository)
		}
		if err != nil || gitDir != named {
			// As for git, the folder where it was started is then the root.
			top, gitDir = start, named
		}
	} else if err != nil {
		return err
	}
	r.gitDir = gitDir
	r.common = commonDir(gitDir, r.env)
	if r.local, err = readSettings(filepath.Join(r.common, "config")); err != nil {
		return err
	}
	if r.local.truth("extensions.worktreeconfig", false) {
		if r.local, err = readSettings(r.settingsFiles()...); err != nil {
			return err
		}
	}
	r.root = r.workTree(top, named != "")
	r.index = filepath.Join(r.gitDir, "index")
	if file := r.env.git("GIT_INDEX_FILE"); file != "" {
		// git gives it relative to the root of the working tree.
		r.index = r.fromBase(file)
	}
	return nil
}

// workTree decides on the root: GIT_WORK_TREE, core.worktree, none when bare,
// else the folder above .git. A linked working tree has its own root whatever
// the shared settings say.
func (r *Repo) workTree(top string, named bool) string {
	if dir := r.env.git("GIT_WORK_TREE"); dir != "" {
		return realPath(absolute(dir))
	}
	linked := r.gitDir != r.common
	if dir := r.local.get("core.worktree"); dir != "" && !linked {
		if !filepath.IsAbs(dir) {
			dir = filepath.Join(r.gitDir, dir)
		}
		return realPath(dir)
	}
	bare := top == ""
	if named && top == r.gitDir {
		bare = true
	}
	if !linked && r.local.truth("core.bare", bare) {
		return ""
	}
	if top == "" && !linked { // opened from inside .git
		return filepath.Dir(r.gitDir)
	}
	if top == "" {
		return linkedRoot(r.gitDir)
	}
	return top
}

// linkedRoot reads where a linked working tree lies from its git folder.
func linkedRoot(gitDir string) string {
	data, err := os.ReadFile(filepath.Join(gitDir, "gitdir"))
	if err != nil {
		return ""
	}
	dotGit := strings.TrimSpace(string(data))
	if !filepath.IsAbs(dotGit) {
		dotGit = filepath.Join(gitDir, dotGit)
	}
	return realPath(filepath.Dir(dotGit))
}

// discover looks upwards for a repository. top is the folder that holds .git,
// "" where the git folder itself was met.
func discover(start string) (top, gitDir string, err error) {
	for dir := start; ; dir = filepath.Dir(dir) {
		dot := filepath.Join(dir, ".git")
		info, statErr := os.Stat(dot)
		switch {
		case statErr == nil && info.IsDir():
			if real := realPath(dot); isGitDir(real, environment{}) {
				return dir, real, nil
			}
		case statErr == nil:
			gitDir, err := followGitFile(dot)
			return dir, gitDir, err
		case !errors.Is(statErr, fs.ErrNotExist) && !errors.Is(statErr, fs.ErrPermission) && dir == start:
			return "", "", fmt.Errorf("look for a repository: %w", statErr)
		}
		if isGitDir(dir, environment{}) {
			return "", dir, nil
		}
		if filepath.Dir(dir) == dir {
			return "", "", ErrNoRepository
		}
	}
}

// followGitFile reads a .git file, which names the git folder.
func followGitFile(file string) (string, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return "", fmt.Errorf("read %q: %w", file, err)
	}
	target, ok := strings.CutPrefix(string(data), "gitdir:")
	if !ok {
		return "", fmt.Errorf("%q does not name a git folder: %w", file, ErrNoRepository)
	}
	target = strings.TrimSpace(target)
	if !filepath.IsAbs(target) {
		target = filepath.Join(filepath.Dir(file), target)
	}
	target = realPath(target)
	if !isGitDir(target, environment{}) {
		return "", fmt.Errorf("%q leads to %q, where there is no repository: %w", file, target, ErrNoRepository)
	}
	return target, nil
}

// isGitDir says whether a folder looks like git's own: HEAD, objects, refs.
func isGitDir(dir string, env environment) bool {
	if _, err := os.Lstat(filepath.Join(dir, "HEAD")); err != nil {
		return false
	}
	common := commonDir(dir, env)
	objects := filepath.Join(common, "objects")
	if o := env.git("GIT_OBJECT_DIRECTORY"); o != "" {
		objects = o
	}
	for _, d := range []string{objects, filepath.Join(common, "refs")} {
		if info, err := os.Stat(d); err != nil || !info.IsDir() {
			return false
		}
	}
	return true
}

// commonDir follows the commondir file of a linked working tree.
func commonDir(gitDir string, env environment) string {
	if dir := env.git("GIT_COMMON_DIR"); dir != "" {
		return realPath(absolute(dir))
	}
	data, err := os.ReadFile(filepath.Join(gitDir, "commondir"))
	if err != nil {
		return gitDir
	}
	dir := strings.TrimSpace(string(data))
	if !filepath.IsAbs(dir) {
		dir = filepath.Join(gitDir, dir)
	}
	return realPath(dir)
}

// choose picks the reader: the library, or git for what it is known not to read.
func (r *Repo) choose() error {
	what := r.beyondLibrary()
	_, gitErr := gitPath()
	switch {
	case what != "" && gitErr != nil:
		return &UnsupportedError{What: what, Hint: "install git and make sure that it is on PATH", Err: gitErr}
	case what != "", r.env.quarantined():
		if gitErr != nil {
			return &UnsupportedError{What: "objects of a push under way", Hint: "install git", Err: gitErr}
		}
		r.main = newPlumbing(r)
		if what == "" {
			return nil
		}
		if _, err := r.main.head(); err != nil {
			return &UnsupportedError{What: what, Hint: "a newer git may be needed", Err: err}
		}
	default:
		r.main = newLibrary(r)
	}
	return nil
}

// beyondLibrary names the format of a repository that the library is known not
// to read; "" for all others.
func (r *Repo) beyondLibrary() string {
	if v := r.local.get("core.repositoryformatversion"); v != "" {
		if n, err := strconv.Atoi(v); err != nil || n > 1 {
			return fmt.Sprintf("a repository of format version %q", v)
		}
	}
	for key := range r.local.values {
		ext, ok := strings.CutPrefix(key, "extensions.")
		if !ok {
			continue
		}
		value := r.local.get(key)
		switch ext {
		case "worktreeconfig", "relativeworktrees", "preciousobjects", "noop", "noop-v1", "partialclone":
		case "objectformat":
			if !strings.EqualFold(value, "sha1") {
				return fmt.Sprintf("a repository with %s object ids", value)
			}
		case "refstorage":
			if !strings.EqualFold(value, "files") {
				return fmt.Sprintf("a repository with refs stored as %s", value)
			}
		case "compatobjectformat":
			return "a repository with two kinds of object ids"
		default:
			return fmt.Sprintf("a repository with the extension %q", ext)
		}
	}
	return ""
}
