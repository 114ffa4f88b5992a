package repo

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// settings are git's configuration values by key; section and name in lower
// case, a later value overrules an earlier one.
type settings struct {
	values   map[string][]string
	includes bool // other files are named, which we do not follow
}

// get gives the last value; "" where there is none.
func (s settings) get(key string) string {
	v := s.values[key]
	if len(v) == 0 {
		return ""
	}
	return v[len(v)-1]
}

// truth reads a boolean as git does; an absent or odd value is the default.
func (s settings) truth(key string, otherwise bool) bool {
	switch v := s.values[key]; {
	case len(v) == 0:
		return otherwise
	default:
		switch strings.ToLower(v[len(v)-1]) {
		case "true", "yes", "on", "1":
			return true
		case "false", "no", "off", "0":
			return false
		}
		return otherwise
	}
}

// readSettings reads files in order of growing authority; absent ones are
// passed over.
func readSettings(files ...string) (settings, error) {
	s := settings{values: make(map[string][]string)}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) && file != files[len(files)-1] {
			continue
		}
		if err != nil {
			return s, fmt.Errorf("read git settings: %w", err)
		}
		if err := s.parse(string(data)); err != nil {
			return s, fmt.Errorf("read git settings %q: %w", file, err)
		}
	}
	return s, nil
}

// personalFiles are the configuration files outside any repository, the
// system's first.
func (e environment) personalFiles() []string {
	var files []string
	if e.get("GIT_CONFIG_NOSYSTEM") == "" {
		system := e.get("GIT_CONFIG_SYSTEM")
		if system == "" {
			system = "/etc/gitconfig"
		}
		files = append(files, system)
	}
	if global := e.get("GIT_CONFIG_GLOBAL"); global != "" {
		return append(files, global)
	}
	home := e.home()
	xdg := e.get("XDG_CONFIG_HOME")
	if xdg == "" && home != "" {
		xdg = filepath.Join(home, ".config")
	}
	if xdg != "" {
		files = append(files, filepath.Join(xdg, "git", "config"))
	}
	if home != "" {
		files = append(files, filepath.Join(home, ".gitconfig"))
	}
	return files
}

func (e environment) home() string {
	if h := e.get("HOME"); h != "" {
		return h
	}
	h, err := os.UserHomeDir()
	if err != nil {
		return ""
	}
	return h
}

// HooksDir is the folder in which git looks for this repository's hooks,
// absolute, as `git rev-parse --git-path hooks` gives it: core.hooksPath where
// set (relative to the root of the working tree, in a bare repository to its
// folder), else "hooks" in CommonDir. Without the git program the settings are
// read here; a setting that stands in an included file is then an error, since
// the answer might be wrong.
func (r *Repo) HooksDir() (string, error) {
	if _, err := gitPath(); err == nil {
		out, err := r.Git("rev-parse", "--git-path", "hooks")
		if err != nil {
			return "", fmt.Errorf("find the hooks folder: %w", err)
		}
		return r.fromBase(strings.TrimSuffix(out, "\n")), nil
	}
	return r.hooksBySettings()
}

func (r *Repo) hooksBySettings() (string, error) {
	s, err := readSettings(append(r.env.personalFiles(), r.settingsFiles()...)...)
	if err != nil {
		return "", err
	}
	path := s.get("core.hookspath")
	if path == "" && s.includes {
		return "", fmt.Errorf("the git settings include other files, which may name the hooks folder: %w", ErrNoGit)
	}
	if path == "" {
		return filepath.Join(r.common, "hooks"), nil
	}
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		path = filepath.Join(r.env.home(), rest)
	}
	return r.fromBase(path), nil
}

// Setting gives git's value for a key, as `git config --get` does, "" where none is
// set. A hook is in a hurry: where the files that git reads are known they are read
// here, and git is asked only where settings stand elsewhere too.
func (r *Repo) Setting(key string) string {
	elsewhere := runtime.GOOS != "linux" || r.env.get("GIT_CONFIG_PARAMETERS") != "" || r.env.get("GIT_CONFIG_COUNT") != ""
	if !elsewhere {
		s, err := readSettings(append(r.env.personalFiles(), r.settingsFiles()...)...)
		if err == nil && !s.includes {
			return s.get(strings.ToLower(key))
		}
	}
	out, err := r.Git("config", "--get", key)
	if err != nil {
		return ""
	}
	return strings.TrimSuffix(out, "\n")
}

// fromBase makes a path absolute as git means it: from the working tree's root,
// or from a bare repository's folder.
func (r *Repo) fromBase(path string) string {
	path = filepath.FromSlash(path)
	if filepath.IsAbs(path) {
		return filepath.Clean(path)
	}
	return filepath.Join(r.base(), path)
}

// base is the folder in which git is started.
func (r *Repo) base() string {
	if r.root != "" {
		return r.root
	}
	return r.gitDir
}

// settingsFiles are the repository's own.
func (r *Repo) settingsFiles() []string {
	files := []string{filepath.Join(r.common, "config")}
	if r.local.truth("extensions.worktreeconfig", false) {
		files = append(files, filepath.Join(r.gitDir, "config.worktree"))
	}
	return files
}
