package repo

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// localVars are the variables that tie git to one repository, as
// `git rev-parse --local-env-vars` lists them.
func localVars() []string {
	return []string{
		"GIT_ALTERNATE_OBJECT_DIRECTORIES", "GIT_CONFIG", "GIT_CONFIG_PARAMETERS",
		"GIT_CONFIG_COUNT", "GIT_OBJECT_DIRECTORY", "GIT_DIR", "GIT_WORK_TREE",
		"GIT_IMPLICIT_WORK_TREE", "GIT_GRAFT_FILE", "GIT_INDEX_FILE",
		"GIT_NO_REPLACE_OBJECTS", "GIT_REPLACE_REF_BASE", "GIT_PREFIX",
		"GIT_INTERNAL_SUPER_PREFIX", "GIT_SHALLOW_FILE", "GIT_COMMON_DIR",
	}
}

// environment is what a repository was opened under.
type environment struct {
	all      []string // NAME=value
	honoured bool     // GIT_DIR and its like count
}

// get gives a variable; "" where it is not set.
func (e environment) get(name string) string {
	for i := len(e.all) - 1; i >= 0; i-- {
		if k, v, ok := strings.Cut(e.all[i], "="); ok && k == name {
			return v
		}
	}
	return ""
}

// git gives one of the variables that git sets for hooks, where they count.
func (e environment) git(name string) string {
	if !e.honoured {
		return ""
	}
	return e.get(name)
}

// mergeNames gives the ids in GITHEAD_<id> variables, in order of id.
func (e environment) mergeNames() []string {
	if !e.honoured {
		return nil
	}
	var ids []string
	for _, kv := range e.all {
		k, _, _ := strings.Cut(kv, "=")
		if id, ok := strings.CutPrefix(k, "GITHEAD_"); ok && isID(id) {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// quarantined says that objects lie elsewhere than in the repository, as in a
// server's pre-receive.
func (e environment) quarantined() bool {
	return e.git("GIT_OBJECT_DIRECTORY") != "" || e.git("GIT_ALTERNATE_OBJECT_DIRECTORIES") != ""
}

// forGit is the environment for a git process that works on r: nothing ties it
// to another repository, and what r was opened from is passed on with absolute
// paths, since git starts in another folder than we did.
func (r *Repo) forGit() []string {
	drop := localVars()
	// git-replace(1): what is judged is the commit itself, not what a ref that
	// anybody can push shows in its place
	out := []string{"GIT_NO_REPLACE_OBJECTS=1"}
	for _, kv := range r.env.all {
		k, _, _ := strings.Cut(kv, "=")
		config := k == "GIT_CONFIG_PARAMETERS" || k == "GIT_CONFIG_COUNT"
		if slices.Contains(drop, k) && !(config && r.env.honoured) {
			continue
		}
		if !r.env.honoured && (strings.HasPrefix(k, "GIT_CONFIG_KEY_") || strings.HasPrefix(k, "GIT_CONFIG_VALUE_")) {
			continue
		}
		out = append(out, kv)
	}
	if r.env.git("GIT_DIR") != "" {
		out = append(out, "GIT_DIR="+r.gitDir)
		if r.root != "" {
			out = append(out, "GIT_WORK_TREE="+r.root)
		}
	}
	if r.env.git("GIT_COMMON_DIR") != "" {
		out = append(out, "GIT_COMMON_DIR="+r.common)
	}
	if r.env.git("GIT_INDEX_FILE") != "" {
		out = append(out, "GIT_INDEX_FILE="+r.index)
	}
	if dir := r.env.git("GIT_OBJECT_DIRECTORY"); dir != "" {
		out = append(out, "GIT_OBJECT_DIRECTORY="+absolute(dir))
	}
	if dirs := r.env.git("GIT_ALTERNATE_OBJECT_DIRECTORIES"); dirs != "" {
		list := filepath.SplitList(dirs)
		for i := range list {
			list[i] = absolute(list[i])
		}
		out = append(out, "GIT_ALTERNATE_OBJECT_DIRECTORIES="+strings.Join(list, string(os.PathListSeparator)))
	}
	return out
}

// absolute makes a path absolute; it stays as it is where the current folder
// is gone.
func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return path
}
