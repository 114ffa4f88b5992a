package repo

import (
	"bytes"
	"errors"
	"fmt"
	"os/exec"
	"strings"
)

// GitError says that git refused or failed.
type GitError struct {
	Args   []string // as given, without the program
	Code   int      // exit code; -1 when it was ended from outside
	Stderr string   // what git said, without the last line end
}

// Error gives the command's name and what git said.
func (e *GitError) Error() string {
	name := "git"
	for _, a := range e.Args {
		if !strings.HasPrefix(a, "-") {
			name += " " + a
			break
		}
	}
	if e.Stderr == "" {
		return fmt.Sprintf("%s ended with %d", name, e.Code)
	}
	return name + ": " + e.Stderr
}

// gitPath finds the program.
func gitPath() (string, error) {
	path, err := exec.LookPath("git")
	if err != nil {
		return "", ErrNoGit
	}
	return path, nil
}

// GitAvailable says where the git program is and which version it says it is
// ("2.39.5"). It runs git once.
func GitAvailable() (path string, version string, ok bool) {
	path, err := gitPath()
	if err != nil {
		return "", "", false
	}
	out, err := exec.Command(path, "version").Output()
	if err != nil {
		return "", "", false
	}
	f := strings.Fields(strings.TrimPrefix(string(out), "git version "))
	if len(f) == 0 {
		return "", "", false
	}
	return path, f[0], true
}

// Git runs git in the root of the working tree (of a bare repository, in its
// folder) and gives its standard output. The environment is cleaned of what ties
// git to another repository. On failure the error is a *GitError, and the
// output up to then is still given. ErrNoGit where there is no git.
func (r *Repo) Git(args ...string) (string, error) { return r.GitInput("", args...) }

// GitInput is Git with text on standard input.
func (r *Repo) GitInput(stdin string, args ...string) (string, error) {
	out, err := r.run([]byte(stdin), r.forGit(), args...)
	return string(out), err
}

func (r *Repo) run(stdin []byte, env []string, args ...string) ([]byte, error) {
	git, err := gitPath()
	if err != nil {
		return nil, err
	}
	cmd := exec.Command(git, args...)
	cmd.Dir, cmd.Env = r.base(), env
	cmd.Stdin = bytes.NewReader(stdin)
	var out, said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &said
	err = cmd.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return out.Bytes(), &GitError{
			Args: args, Code: exit.ExitCode(), Stderr: strings.TrimRight(said.String(), "\n"),
		}
	}
	if err != nil {
		return out.Bytes(), fmt.Errorf("run git: %w", err)
	}
	return out.Bytes(), nil
}
