package repo

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
)

// plumbing reads by git's own commands. One `git cat-file --batch` serves all
// objects until close; it also fetches what a partial clone lacks.
type plumbing struct {
	r *Repo

	mu  sync.Mutex
	cmd *exec.Cmd
	in  io.WriteCloser
	out *bufio.Reader
}

func newPlumbing(r *Repo) *plumbing { return &plumbing{r: r} }

// start runs cat-file. The lock is held.
func (p *plumbing) start() error {
	if p.cmd != nil {
		return nil
	}
	git, err := gitPath()
	if err != nil {
		return err
	}
	cmd := exec.Command(git, "cat-file", "--batch")
	cmd.Dir, cmd.Env = p.r.base(), p.r.forGit()
	in, err := cmd.StdinPipe()
	if err != nil {
		return fmt.Errorf("start git cat-file: %w", err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return fmt.Errorf("start git cat-file: %w", err)
	}
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("start git cat-file: %w", err)
	}
	p.cmd, p.in, p.out = cmd, in, bufio.NewReaderSize(out, 1<<16)
	return nil
}

// request asks for one object and reads the line that announces it.
func (p *plumbing) request(id string) (kind string, size int64, err error) {
	if !isID(id) {
		return "", 0, errMissing
	}
	if err := p.start(); err != nil {
		return "", 0, err
	}
	if _, err := io.WriteString(p.in, id+"\n"); err != nil {
		return "", 0, p.broken(err)
	}
	line, err := p.out.ReadString('\n')
	if err != nil {
		return "", 0, p.broken(err)
	}
	f := strings.Fields(line)
	if len(f) == 3 {
		size, err = strconv.ParseInt(f[2], 10, 64)
	}
	switch {
	case len(f) == 2 && f[1] == "missing":
		return "", 0, errMissing
	case len(f) != 3 || err != nil:
		return "", 0, p.broken(fmt.Errorf("unexpected answer %q", line))
	}
	return f[1], size, nil
}

// broken ends a process that can no longer be talked to.
func (p *plumbing) broken(err error) error {
	p.stop()
	if errors.Is(err, io.EOF) {
		err = errors.New("it ended early; see what `git status` says there")
	}
	return fmt.Errorf("git cat-file: %w", err)
}

func (p *plumbing) stop() {
	if p.cmd == nil {
		return
	}
	p.in.Close()
	p.cmd.Process.Kill()
	p.cmd.Wait() // killed on purpose: its result means nothing
	p.cmd, p.in, p.out = nil, nil, nil
}

func (p *plumbing) object(id string, limit int64) (object, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	kind, size, err := p.request(id)
	if err != nil {
		return object{}, err
	}
	if size > limit {
		if _, err := io.CopyN(io.Discard, p.out, size+1); err != nil {
			return object{}, p.broken(err)
		}
		return object{}, &TooLargeError{Size: size, Limit: limit}
	}
	data := make([]byte, size+1) // and a line end
	if _, err := io.ReadFull(p.out, data); err != nil {
		return object{}, p.broken(err)
	}
	return object{kind: kind, data: data[:size]}, nil
}

func (p *plumbing) size(id string) (string, int64, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	kind, size, err := p.request(id)
	if err != nil {
		return "", 0, err
	}
	if _, err := io.CopyN(io.Discard, p.out, size+1); err != nil {
		return "", 0, p.broken(err)
	}
	return kind, size, nil
}

func (p *plumbing) head() (head, error) {
	var h head
	out, err := p.r.Git("symbolic-ref", "-q", "HEAD")
	var failed *GitError
	switch {
	case err == nil:
		h.ref = strings.TrimSpace(out)
	case !errors.As(err, &failed) || failed.Code != 1: // 1 is: detached
		return h, err
	}
	id, err := p.resolve("HEAD")
	if errors.Is(err, errMissing) && h.ref != "" {
		return h, nil
	}
	h.id = id
	return h, err
}

func (p *plumbing) refs(prefix string) ([]ref, error) {
	out, err := p.r.Git("for-each-ref", "--format=%(objectname) %(refname)", prefix)
	if err != nil {
		return nil, err
	}
	var list []ref
	for line := range strings.Lines(out) {
		if id, name, ok := strings.Cut(strings.TrimSuffix(line, "\n"), " "); ok {
			list = append(list, ref{name, id})
		}
	}
	return list, nil
}

func (p *plumbing) resolve(spec string) (string, error) {
	out, err := p.r.Git("rev-parse", "--verify", "--quiet", "--end-of-options", spec)
	var failed *GitError
	if errors.As(err, &failed) {
		why, ours := strings.CutPrefix(failed.Stderr, "error: ") // fatal: is about the repository
		switch {
		case failed.Stderr == "":
			return "", errMissing
		case ours:
			return "", &revisionError{why}
		}
	}
	id := strings.TrimSpace(out)
	if err == nil && !isID(id) {
		return "", errMissing
	}
	return id, err
}

func (p *plumbing) entries(file string) ([]indexEntry, error) {
	if _, err := os.Stat(file); errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	git := func(args ...string) ([]byte, error) {
		env := append(p.r.forGit(), "GIT_INDEX_FILE="+file, "GIT_OPTIONAL_LOCKS=0")
		return p.r.run(nil, env, args...)
	}
	out, err := git("ls-files", "--stage", "-t", "-z")
	if err != nil {
		return nil, err
	}
	list, empty, err := parseStage(out)
	if err != nil || !empty {
		return list, err
	}
	// The listing does not tell an empty file from one added with intent only.
	out, err = git("diff-files", "-z", "--name-only", "--diff-filter=A", "--no-ext-diff")
	if err != nil {
		return nil, err
	}
	intent := make(map[string]bool)
	for name := range strings.SplitSeq(string(out), "\x00") {
		intent[name] = true
	}
	for i := range list {
		list[i].intent = intent[list[i].name]
	}
	return list, nil
}

// parseStage reads "tag SP mode SP id SP stage TAB name NUL" lines, where the tag
// S is for a file kept off the disk, and says whether one of the files is empty.
func parseStage(out []byte) (list []indexEntry, empty bool, err error) {
	const emptySHA1 = "e69de29bb2d1d6434b8b29ae775ad8c2e48c5391"
	const emptySHA256 = "473a0f4c3be8a93681a267e3b1e9a7dcda1185436fe141f7749120a303721813"
	for len(out) > 0 {
		line, rest, ok := bytes.Cut(out, []byte{0})
		meta, name, tab := bytes.Cut(line, []byte("\t"))
		f := strings.Fields(string(meta))
		if !ok || !tab || len(f) != 4 {
			return nil, false, fmt.Errorf("git ls-files: unexpected line %q", line)
		}
		mode, err := strconv.ParseUint(f[1], 8, 32)
		if err != nil || !isID(f[2]) || len(f[3]) != 1 {
			return nil, false, fmt.Errorf("git ls-files: unexpected line %q", line)
		}
		list = append(list, indexEntry{
			name: string(name), mode: uint32(mode), id: f[2],
			stage: int(f[3][0] - '0'), absent: f[0] == "S",
		})
		empty = empty || f[2] == emptySHA1 || f[2] == emptySHA256
		out = rest
	}
	return list, empty, nil
}

func (p *plumbing) close() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.stop()
	return nil
}
