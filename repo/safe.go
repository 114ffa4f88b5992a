package repo

import (
	"fmt"
	"path/filepath"
	"strings"
)

// OwnerError says that a repository belongs to another user of the machine,
// whose settings and hooks we must not follow.
type OwnerError struct {
	Dir string // what is owned by somebody else
	Top string // the folder to be declared safe
}

// Error gives the folder and git's own remedy.
func (e *OwnerError) Error() string {
	return fmt.Sprintf("%q is owned by another user; to trust it: git config --global --add safe.directory %q",
		e.Dir, e.Top)
}

// checkOwner refuses a repository of another user, as git does, unless the
// user's own settings list it in safe.directory. Settings of the repository
// itself do not count.
func (r *Repo) checkOwner() error {
	strange := ""
	for _, dir := range []string{r.root, r.gitDir, r.common} {
		if dir != "" && !ownedByUs(dir) {
			strange = dir
			break
		}
	}
	// GIT_DIR named by hand is taken as an order, as git takes it.
	if strange == "" || r.env.git("GIT_DIR") != "" {
		return nil
	}
	top := r.base()
	s, err := readSettings(r.env.personalFiles()...)
	if err == nil && listedSafe(s.values["safe.directory"], top, r.env.home()) {
		return nil
	}
	return &OwnerError{Dir: strange, Top: filepath.ToSlash(top)}
}

// listedSafe reads the list as git does: an empty value forgets what stood
// before it, "*" is everything, a trailing "/*" is everything below.
func listedSafe(list []string, top, home string) bool {
	safe := false
	for _, v := range list {
		if rest, ok := strings.CutPrefix(v, "~/"); ok {
			v = home + "/" + rest
		}
		switch below, all := strings.CutSuffix(v, "/*"); {
		case v == "":
			safe = false
		case v == "*", filepath.Clean(v) == filepath.Clean(top):
			safe = true
		case all && strings.HasPrefix(filepath.ToSlash(top)+"/", below+"/"):
			safe = true
		}
	}
	return safe
}
