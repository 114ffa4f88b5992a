package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/hooks"
	"seamkeep/repo"
)

// installFirst is said where the program runs from a place that goes away.
const installFirst = "this program was started by \"go run\", which leaves nothing that git could call; " +
	"install it first: go install ./cmd/seamkeep, then: seamkeep hooks install"

func hooksCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:     "hooks",
		Short:   "Install, remove or show the git hooks that refuse a wrong commit",
		Example: "  seamkeep hooks\n  seamkeep hooks install",
		Args:    knownCommand,
		RunE:    func(*cobra.Command, []string) error { return a.hooksStatus() },
	}
	var chain, push bool
	install := &cobra.Command{
		Use:   "install",
		Short: "Let git ask seamkeep before each commit and merge",
		Long: `Install writes a small script for each hook. A hook that is not ours is never
touched: the line to add to it is printed, or --chain runs it first.

--push adds a hook that judges what a push would send. In a bare repository, as
on a server, the hook that judges what it receives is installed instead.`,
		Example: "  seamkeep hooks install\n  seamkeep hooks install --chain\n  seamkeep hooks install --push",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.hooksInstall(chain, push) },
	}
	install.Flags().BoolVar(&chain, "chain", false, "keep a hook that is there and run it first")
	install.Flags().BoolVar(&push, "push", false, "judge what a push would send, too")
	c.AddCommand(install,
		&cobra.Command{Use: "remove", Short: "Take our hooks away and put back what was there", Example: "  seamkeep hooks remove", Args: cobra.NoArgs,
			RunE: func(*cobra.Command, []string) error { return a.hooksRemove() }},
		&cobra.Command{Use: "status", Short: "Show which hooks protect this clone", Example: "  seamkeep hooks status", Args: cobra.NoArgs,
			RunE: func(*cobra.Command, []string) error { return a.hooksStatus() }})
	return c
}

// hookFolder is where git looks for the hooks of a repository.
type hookFolder struct {
	dir     string   // absolute
	set     string   // core.hooksPath, where it is set
	names   []string // the hooks that matter there
	outside bool     // neither in the working tree nor in git's own folder
	missing bool
}

func hookFolderOf(r *repo.Repo) (hookFolder, error) {
	dir, err := r.HooksDir()
	if err == nil {
		dir, err = filepath.Abs(dir)
	}
	if err != nil {
		return hookFolder{}, err
	}
	at := hookFolder{dir: dir, names: hooks.Default(), outside: !within(r.CommonDir(), dir) && !within(r.Root(), dir)}
	if r.Bare() {
		at.names = hooks.Server()
	}
	if set, err := r.Git("config", "--get", "core.hooksPath"); err == nil {
		at.set = report.Clean(strings.TrimSpace(set))
	}
	_, err = os.Stat(dir)
	at.missing = err != nil
	return at, nil
}

// within tells whether a path lies in a folder.
func within(folder, path string) bool {
	if folder == "" {
		return false
	}
	if real, err := filepath.EvalSymlinks(folder); err == nil && real != folder && within(real, path) {
		return true
	}
	rel, err := filepath.Rel(folder, path)
	return err == nil && filepath.IsLocal(rel)
}

// refusal says why no hooks are put into the folder; nil where they may be.
func (at hookFolder) refusal() error {
	if !at.outside || !at.missing {
		return nil
	}
	return refused("core.hooksPath names %s, which is outside this repository and not there; nothing was changed\n"+
		"make the folder, if hooks of ours may run in every repository that names it; or: git config --unset core.hooksPath", at.set)
}

// hookFolder finds the folder of the repository here.
func (a *app) hookFolder() (hookFolder, error) {
	r, err := a.openRepo(": hooks belong to one\nstart one with: seamkeep new NAME, or git init")
	if err != nil {
		return hookFolder{}, err
	}
	defer r.Close()
	return hookFolderOf(r)
}

func (a *app) hooksInstall(chain, push bool) error {
	at, err := a.hookFolder()
	if err != nil {
		return err
	}
	names := at.names
	if push && slices.Contains(names, "pre-commit") {
		names = append(names, "pre-push")
	}
	exe, err := os.Executable()
	if err != nil {
		return err
	}
	if hooks.FromGoRun(exe) {
		return refused("%s", installFirst)
	}
	if err := at.refusal(); err != nil {
		return err
	}
	results, err := hooks.Install(hooks.Options{Dir: at.dir, Binary: exe, Chain: chain, Names: names})
	if err != nil {
		return err
	}
	a.showHookFolder(at)
	a.showHooks(results)
	for _, r := range results {
		if r.State == hooks.Foreign && !chain && r.AddLine != "" {
			a.text().Para("or run the hook that is there first, and then ours: seamkeep hooks install --chain", "  ")
			break
		}
	}
	for _, r := range results {
		if !r.State.Protects() {
			return found(exitFindings)
		}
	}
	return nil
}

func (a *app) hooksRemove() error {
	at, err := a.hookFolder()
	if err != nil {
		return err
	}
	results, err := hooks.Remove(at.dir)
	if err != nil {
		return err
	}
	a.showHooks(results)
	return nil
}

func (a *app) hooksStatus() error {
	at, err := a.hookFolder()
	if err != nil {
		return err
	}
	results, err := hooks.Status(at.dir, at.names...)
	if err != nil {
		return err
	}
	a.showHookFolder(at)
	for i := range results {
		if results[i].AddLine != "" { // the line to add depends on where the program stands
			results[i].AddLine, results[i].Detail = "", "seamkeep hooks install prints the line to add, or chains it"
		}
	}
	a.showHooks(results)
	for _, r := range results {
		if r.State != hooks.Absent && !r.State.Protects() {
			return found(exitFindings)
		}
	}
	return nil
}

// showHookFolder says where the hooks stand, where that is not git's own place.
func (a *app) showHookFolder(at hookFolder) {
	switch {
	case at.set == "":
	case at.outside:
		a.text().Para(fmt.Sprintf("in %s (core.hooksPath), for every repository that names it:", at.set), "  ")
	default:
		a.text().Para(fmt.Sprintf("in %s (core.hooksPath):", at.set), "  ")
	}
}

func (a *app) showHooks(results []hooks.Result) {
	t := a.text()
	for _, r := range results {
		line := fmt.Sprintf("%-18s %s", r.Name, r.State)
		if r.Detail != "" {
			line += ": " + r.Detail
		}
		t.Para(line, "  ")
		if r.AddLine != "" {
			t.Para("  add this line under the first line of "+r.Path+":", "    ")
			fmt.Fprintln(a.out, "    "+report.Clean(r.AddLine))
		}
	}
	if len(results) == 0 {
		t.Para("no hooks of ours here; install them with: seamkeep hooks install", "  ")
	}
}
