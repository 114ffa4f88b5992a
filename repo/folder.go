package repo

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

// Folder gives a folder that no repository holds as a snapshot, read with the
// same care as a working tree: links are not followed, nothing outside is
// reached. Its paths start from dir.
func Folder(dir string) (*Snapshot, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("open %q: %w", dir, err)
	}
	r := &Repo{root: realPath(abs), commits: make(map[string]*Commit), trees: make(map[string][]treeEntry)}
	return r.workSnapshot()
}

// Init makes a repository in an existing folder through git, with its first
// branch unborn.
func Init(dir, branch string) error {
	git, err := gitPath()
	if err != nil {
		return err
	}
	cmd := exec.Command(git, "init", "--quiet", "--initial-branch="+branch)
	cmd.Dir = dir
	cmd.Env = (&Repo{env: environment{all: os.Environ()}}).forGit()
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("git init: %s: %w", out, err)
	}
	return nil
}
