package hooks

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// Options says what Install is to do.
type Options struct {
	// Dir is the hooks folder, absolute; it is made if it is missing.
	Dir string
	// Binary is the absolute path of the program that a script runs when
	// seamkeep is not on PATH; "" records none.
	Binary string
	// Chain moves a foreign hook aside and runs it first, instead of leaving
	// it and reporting the line to add.
	Chain bool
	// Names are the hooks to install; nil means Default, an empty list none.
	Names []string
}

// Install writes the scripts and reports on each hook asked for, in order. Ours
// are renewed where they differ from what would be written now; a second run
// with the same options changes nothing. Each file is written beside its place,
// synced and renamed, so that an interruption leaves the old file whole; a
// rerun completes the rest.
//
// Foreign hooks are no error: their Result says so. Errors are a relative Dir or
// Binary, a Binary that go run built (see FromGoRun), a name that is not in
// the table, and whatever the disk refuses; the results up to there are given
// with it.
func Install(o Options) ([]Result, error) {
	hooks, err := o.check()
	if err != nil || len(hooks) == 0 {
		return nil, err
	}
	present, err := survey(o.Dir, Default())
	if err != nil {
		return nil, err
	}
	made, err := makeFolder(o.Dir)
	if err != nil {
		return nil, err
	}
	folders := made
	for _, f := range present {
		if f.ours() {
			folders = max(folders, f.script.folders)
		}
	}
	var results []Result
	for _, h := range hooks {
		s := script{hook: h, version: scriptVersion, binary: shellPath(runtime.GOOS, o.Binary), folders: folders}
		r, err := o.install(s)
		if err != nil {
			removeFolders(o.Dir, made) // only where nothing was written into them
			return results, err
		}
		results = append(results, r)
	}
	return results, nil
}

// check finds the hooks asked for and refuses what must not be recorded.
func (o Options) check() ([]hook, error) {
	if o.Binary != "" && (!filepath.IsAbs(o.Binary) || strings.ContainsRune(o.Binary, 0)) {
		return nil, fmt.Errorf("program path %q is not absolute", o.Binary)
	}
	if FromGoRun(o.Binary) {
		return nil, fmt.Errorf("program path %q is a passing one of go run", o.Binary)
	}
	names := o.Names
	if names == nil {
		names = Default()
	}
	var hooks []hook
	for _, name := range names {
		h, err := lookUp(name)
		if err != nil {
			return nil, err
		}
		hooks = append(hooks, h)
	}
	return hooks, nil
}

// install sees to one hook.
func (o Options) install(s script) (Result, error) {
	f, err := inspect(o.Dir, s.hook.name)
	if err != nil {
		return f.Result, err
	}
	switch {
	case f.State == Absent || f.ours():
		// A kept hook beside no hook is a chaining that was interrupted.
		s.chained = f.kept
		err = renew(f, s.text())
	case f.State == Foreign && o.Chain && f.kept:
		f.Detail = s.hook.name + keptSuffix + " is there already; move it away before chaining"
		return f.Result, nil
	case f.State == Foreign && o.Chain && f.chain:
		s.chained = true
		err = moveAside(f.Path, s.text())
	default:
		if f.AddLine != "" {
			f.AddLine = addLine(s.hook.name, s.binary)
		}
		return f.Result, nil
	}
	if err != nil {
		return f.Result, fmt.Errorf("install %s hook: %w", s.hook.name, err)
	}
	after, err := inspect(o.Dir, s.hook.name)
	if f.State == Outdated {
		after.Detail = strings.TrimPrefix(after.Detail+"; was outdated: "+f.Detail, "; ")
	}
	return after.Result, err
}

// renew writes the script unless it stands there already, fit to run.
func renew(f found, text string) error {
	if f.text == text && f.State != NotExecutable {
		return nil
	}
	temp, err := stage(f.Path, text)
	if err != nil {
		return err
	}
	return settle(temp, f.Path)
}

// moveAside renames the hook that is there, byte for byte and with its mode,
// and puts the script in its place. If that fails the hook is put back.
func moveAside(path, text string) error {
	temp, err := stage(path, text)
	if err != nil {
		return err
	}
	if err := os.Rename(path, path+keptSuffix); err != nil {
		os.Remove(temp)
		return err
	}
	if err := settle(temp, path); err != nil {
		if back := os.Rename(path+keptSuffix, path); back != nil {
			return fmt.Errorf("%w; the hook that was there is now %q", err, path+keptSuffix)
		}
		return err
	}
	return nil
}

const (
	stagePrefix = ".seamkeep-"
	stageSuffix = ".new"
)

// stage writes an executable file beside its later place and syncs it.
func stage(path, text string) (temp string, err error) {
	file, err := os.CreateTemp(filepath.Dir(path), stagePrefix+filepath.Base(path)+"-*"+stageSuffix)
	if err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			file.Close()
			os.Remove(file.Name())
		}
	}()
	if _, err = file.WriteString(text); err != nil {
		return "", err
	}
	if err = file.Chmod(0o755); err != nil {
		return "", err
	}
	if err = file.Sync(); err != nil {
		return "", err
	}
	return file.Name(), file.Close()
}

// settle moves a staged file to its place. The folder is synced as far as the
// system allows; Windows does not.
func settle(temp, path string) error {
	if err := os.Rename(temp, path); err != nil {
		os.Remove(temp)
		return err
	}
	if folder, err := os.Open(filepath.Dir(path)); err == nil {
		_ = folder.Sync()
		folder.Close()
	}
	return nil
}

// makeFolder makes the folder and says how many levels were missing.
func makeFolder(dir string) (made int, err error) {
	for at := dir; ; at = filepath.Dir(at) {
		if _, err := os.Lstat(at); err == nil || at == filepath.Dir(at) {
			break
		}
		made++
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return 0, fmt.Errorf("make hooks folder: %w", err)
	}
	return made, nil
}

// shellPath writes a path the way the shell of git for Windows shows its own,
// C:/x; elsewhere a backslash is a letter like any other.
func shellPath(system, path string) string {
	if system == "windows" {
		return strings.ReplaceAll(path, `\`, "/")
	}
	return path
}

// FromGoRun says whether a program's path is one where go run or go test puts
// what it builds: a temporary folder go-build123/b001/exe, or from the second
// run on (Go 1.24 and later, release notes, "Go command") the build cache, as
// xx/<64 hex digits>-d/NAME. Both pass away. Slashes and backslashes count on
// any system.
func FromGoRun(exe string) bool {
	parts := strings.Split(strings.ReplaceAll(exe, `\`, "/"), "/")
	for _, p := range parts {
		digits, ok := strings.CutPrefix(p, "go-build")
		if ok && digits != "" && strings.Trim(digits, "0123456789") == "" {
			return true
		}
	}
	if len(parts) < 3 {
		return false
	}
	shelf, entry := parts[len(parts)-3], parts[len(parts)-2]
	id, ok := strings.CutSuffix(entry, "-d")
	return ok && len(id) == 64 && strings.Trim(id, "0123456789abcdef") == "" && strings.HasPrefix(id, shelf) && len(shelf) == 2
}
