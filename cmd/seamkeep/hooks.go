package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

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

// hooksDir finds the folder where git looks for hooks.
func (a *app) hooksDir() (string, error) {
	r, err := repo.Open(a.dir)
	if errors.Is(err, repo.ErrNoRepository) {
		return "", unreadable(fmt.Errorf("no git repository here: hooks belong to one\nstart one with: seamkeep new NAME, or git init"))
	}
	if err != nil {
		return "", unreadable(err)
	}
	defer r.Close()
	dir, err := r.HooksDir()
	if err != nil {
		return "", err
	}
	return filepath.Abs(dir)
}

func (a *app) hooksInstall(chain, push bool) error {
	dir, err := a.hooksDir()
	if err != nil {
		return err
	}
	names := hooks.Default()
	if push {
		names = append(names, "pre-push")
	}
	if r, err := repo.Open(a.dir); err == nil {
		if r.Bare() {
			names = []string{"pre-receive"}
		}
		r.Close()
	}
	exe, err := os.Executable()
	if err != nil {
		return err
	}
	if hooks.FromGoRun(exe) {
		return refused("%s", installFirst)
	}
	results, err := hooks.Install(hooks.Options{Dir: dir, Binary: exe, Chain: chain, Names: names})
	if err != nil {
		return err
	}
	a.showHooks(results)
	for _, r := range results {
		if !r.State.Protects() {
			return found(exitFindings)
		}
	}
	return nil
}

func (a *app) hooksRemove() error {
	dir, err := a.hooksDir()
	if err != nil {
		return err
	}
	results, err := hooks.Remove(dir)
	if err != nil {
		return err
	}
	a.showHooks(results)
	return nil
}

func (a *app) hooksStatus() error {
	dir, err := a.hooksDir()
	if err != nil {
		return err
	}
	results, err := hooks.Status(dir)
	if err != nil {
		return err
	}
	a.showHooks(results)
	for _, r := range results {
		if r.State != hooks.Absent && !r.State.Protects() {
			return found(exitFindings)
		}
	}
	return nil
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
