package hooks

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// State is where a hook stands, in the word that reports and JSON use.
type State string

const (
	// Absent: no file of that name.
	Absent State = "absent"
	// Installed: our script, of the present version.
	Installed State = "installed"
	// Chained: as Installed, and the hook that was there before runs first.
	Chained State = "chained"
	// Outdated: our script in another version, or with CRLF line ends, with
	// which a shell cannot run it. Install renews it.
	Outdated State = "outdated"
	// NotExecutable: our script, which git passes over as it may not be run.
	// Install mends it. Never reported on Windows.
	NotExecutable State = "not executable"
	// Edited: our script, changed by hand since. Never touched.
	Edited State = "edited"
	// Foreign: somebody else's file, link or folder. Never touched unless
	// Install is asked to chain it.
	Foreign State = "foreign"
	// Joined: somebody else's hook that already calls seamkeep. Never touched.
	Joined State = "joined"
	// Removed: Remove took our script out.
	Removed State = "removed"
	// Kept: Remove left a file alone that is not, or no longer, ours.
	Kept State = "kept"
)

// Protects says whether git runs seamkeep in this state.
func (s State) Protects() bool { return s == Installed || s == Chained || s == Joined }

// Result is what was found or done for one hook.
type Result struct {
	Name    string // git's name of the hook
	Path    string // its file, with the separators of the system
	State   State
	Detail  string // what else there is to know, a phrase in lower case, or ""
	AddLine string // for a foreign shell script: the line to put under its first line
}

// Status reports on the hooks of the names, in that order, those of Default where
// none are given; then on every other hook that seamkeep wrote into the folder. It
// changes nothing. A folder that is not
// there has absent hooks; a relative path, a file in place of the folder or one
// that cannot be read is an error.
func Status(dir string, names ...string) ([]Result, error) {
	if len(names) == 0 {
		names = Default()
	}
	found, err := survey(dir, names)
	results := make([]Result, len(found))
	for i, f := range found {
		results[i] = f.Result
	}
	return results, err
}

// found is a hook file as it lies there.
type found struct {
	Result
	script script // where the file is ours
	text   string // where it could be read
	kept   bool   // NAME.before-seamkeep lies beside it
	chain  bool   // foreign, and fit to be moved aside
}

// ours says whether seamkeep may write over the file or remove it.
func (f found) ours() bool {
	switch f.State {
	case Installed, Chained, Outdated, NotExecutable:
		return true
	}
	return false
}

// survey inspects the hooks of the names and every other one that concerns us.
func survey(dir string, asked []string) ([]found, error) {
	entries, err := readFolder(dir)
	if err != nil {
		return nil, err
	}
	names := slices.Clone(asked)
	for _, e := range entries {
		name := strings.TrimSuffix(e.Name(), keptSuffix)
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	var all []found
	for i, name := range names {
		f, err := inspect(dir, name)
		if err != nil {
			return all, err
		}
		concerns := f.ours() || f.State == Edited || f.State == Absent && f.kept
		if i < len(asked) || concerns {
			all = append(all, f)
		}
	}
	return all, nil
}

// readFolder lists a hooks folder; one that is not there is empty.
func readFolder(dir string) ([]fs.DirEntry, error) {
	if !filepath.IsAbs(dir) {
		return nil, fmt.Errorf("hooks folder %q is not an absolute path", dir)
	}
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("read hooks folder: %w", err)
	}
	return entries, nil
}

// inspect looks at one hook. Links are not followed: what they lead to is not
// ours.
func inspect(dir, name string) (found, error) {
	f := found{Result: Result{Name: name, Path: filepath.Join(dir, name)}}
	if k, err := os.Lstat(f.Path + keptSuffix); err == nil {
		f.kept = !k.IsDir()
	}
	info, err := os.Lstat(f.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		f.State = Absent
		if f.kept {
			f.Detail = name + keptSuffix + " lies there and does not run"
		}
		return f, nil
	case err != nil:
		return f, fmt.Errorf("look at hook: %w", err)
	case info.Mode()&fs.ModeSymlink != 0:
		f.State, f.chain = Foreign, true
		f.Detail = "a symbolic link; the line goes into the file it leads to"
		f.AddLine = addLine(name, "")
		return f, nil
	case !info.Mode().IsRegular():
		f.State, f.Detail = Foreign, "not a regular file"
		return f, nil
	}
	if f.text, err = readHead(f.Path); err != nil {
		return f, fmt.Errorf("read hook: %w", err)
	}
	f.judge(runtime.GOOS == "windows" || info.Mode()&0o100 != 0)
	return f, nil
}

// judge settles the state of a regular file from its text.
func (f *found) judge(executable bool) {
	s, owner := readScript(f.Name, f.text)
	switch {
	case owner == edited:
		f.State = Edited
		f.Detail = "edited since seamkeep wrote it; move your lines elsewhere and delete it to install anew"
	case owner == theirs:
		f.judgeForeign(executable)
	case s.version != scriptVersion:
		f.State, f.Detail = Outdated, fmt.Sprintf("script version %d, the present one is %d", s.version, scriptVersion)
	case strings.Contains(f.text, "\r\n"):
		f.State, f.Detail = Outdated, "CRLF line ends"
	case !executable:
		f.State, f.Detail = NotExecutable, "git passes over it"
	case s.chained:
		f.State, f.Detail = Chained, f.Name+keptSuffix+" runs first"
		if !f.kept {
			f.Detail = f.Name + keptSuffix + " is gone and does not run"
		}
	default:
		f.State = Installed
	}
	f.script = s
}

func (f *found) judgeForeign(executable bool) {
	f.State, f.chain = Foreign, true
	switch {
	case callsUs(f.Name, f.text) && executable:
		f.State, f.chain = Joined, false
	case callsUs(f.Name, f.text):
		f.Detail = "calls seamkeep, but is not executable, so that git passes over it"
	case !isShell(f.text):
		f.Detail = "not a shell script, so no line can be added; it can be chained"
	case !executable:
		f.Detail = "not executable, so that git passes over it"
		f.AddLine = addLine(f.Name, "")
	default:
		f.AddLine = addLine(f.Name, "")
	}
}

// readHead reads at most 1 MiB, far more than a script of ours has.
func readHead(path string) (string, error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, 1<<20))
	return string(text), err
}

// addLine is one line of shell that runs seamkeep and stops the hook with its
// exit code when it refuses. The second choice of program, if any, must not
// break the line.
func addLine(name, binary string) string {
	tool := "seamkeep"
	if binary != "" && !strings.ContainsAny(binary, "\r\n") {
		tool = `"$(command -v seamkeep || printf %s ` + quote(binary) + `)"`
	}
	return tool + " hook " + name + ` "$@" || exit $?`
}

// callsUs finds the line to add in a hook, also if it was written differently;
// comments do not count.
func callsUs(name, text string) bool {
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		at := strings.Index(line, "seamkeep")
		if at < 0 || strings.HasPrefix(line, "#") {
			continue
		}
		words := strings.Fields(line[at:])
		if i := slices.Index(words, "hook"); i >= 0 && i+1 < len(words) && words[i+1] == name {
			return true
		}
	}
	return false
}

// isShell says whether a POSIX shell line can be added. Without #! git lets sh
// run the file (execvp falls back to it, POSIX exec); a NUL means a program.
func isShell(text string) bool {
	first, _, _ := strings.Cut(text, "\n")
	if strings.ContainsRune(text, 0) {
		return false
	}
	words := strings.Fields(strings.TrimPrefix(first, "#!"))
	if !strings.HasPrefix(first, "#!") || len(words) == 0 {
		return true
	}
	program := words[0][strings.LastIndexByte(words[0], '/')+1:]
	if program == "env" || program == "busybox" {
		program = words[len(words)-1]
	}
	return slices.Contains([]string{"sh", "bash", "dash", "ash", "ksh", "mksh", "zsh"}, program)
}
