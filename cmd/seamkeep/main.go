// Command seamkeep keeps flat sewing patterns in git: it walks their seams,
// shows what each version changed and refuses a commit whose seams do not
// match.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
)

// Exit codes, the same for every command.
const (
	exitFine       = 0 // fine, or warnings only
	exitFindings   = 1 // at least one error
	exitUsage      = 2
	exitUnreadable = 3
)

func main() {
	// a command lives for some milliseconds: collecting seldom saves one in ten
	debug.SetGCPercent(400)
	os.Exit(run(os.Args[1:], newApp(os.Stdin, os.Stdout, os.Stderr)))
}

// run carries out one command line and gives its exit code.
func run(args []string, a *app) int {
	root := rootCommand(a)
	root.SetArgs(args)
	root.SetIn(a.in)
	root.SetOut(a.out)
	root.SetErr(a.err)
	return a.finish(root.Execute())
}

func rootCommand(a *app) *cobra.Command {
	root := &cobra.Command{
		Use:   "seamkeep",
		Short: "Keep flat sewing patterns in git",
		Long: `seamkeep keeps flat sewing patterns as plain text in a git repository. It walks
every seam, predicts girths and gaps, shows what two versions changed as a
picture at full size, keeps a named note with each commit, and refuses a commit
whose seams no longer match.

Without a command it tells where you stand.`,
		Example: `  seamkeep new waistcoat          start a pattern folder
  seamkeep import front.svg       bring a drawing in
  seamkeep walk                   measure every seam, both sides
  seamkeep keep release-hip --because "fitting 2 pulled at the hip"
  seamkeep overlay -o change.svg  see what changed since
  seamkeep demo                   build an example to look at`,
		Args:          knownCommand,
		SilenceErrors: true,
		SilenceUsage:  true,
		Version:       version(),
		RunE:          func(*cobra.Command, []string) error { return a.status() },
	}
	root.SetVersionTemplate("seamkeep {{.Version}}\n")
	root.PersistentFlags().StringVarP(&a.dir, "directory", "C", ".", "pattern folder, or a folder above or below it")
	root.PersistentFlags().StringVar(&a.colourMode, "color", "auto", "colour on the terminal: auto, always or never")
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), ".FlagUsages ", ".FlagUsagesWrapped 80 "))
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return usage("%v\nsee: %s --help", err, c.CommandPath()) })
	root.AddGroup(
		&cobra.Group{ID: "start", Title: "Begin:"},
		&cobra.Group{ID: "look", Title: "Measure and look:"},
		&cobra.Group{ID: "alter", Title: "Alter:"},
		&cobra.Group{ID: "cut", Title: "Print, cut and fit:"},
		&cobra.Group{ID: "keep", Title: "Keep and go back:"},
	)
	for _, group := range []struct {
		id       string
		commands []*cobra.Command
	}{
		{"start", []*cobra.Command{newCommand(a), importCommand(a), describeCommand(a), exportCommand(a), demoCommand(a), hooksCommand(a)}},
		{"look", []*cobra.Command{walkCommand(a), checkCommand(a), explainCommand(a), measureCommand(a), widthsCommand(a), waterfallCommand(a), compareCommand(a), overlayCommand(a), historyCommand(a), overviewCommand(a)}},
		{"alter", []*cobra.Command{shareCommand(a), trueCommand(a), placeCommand(a), renameCommand(a), notchesCommand(a), bonesCommand(a), acceptCommand(a), tidyCommand(a)}},
		{"cut", []*cobra.Command{sheetCommand(a), cuttingCommand(a), materialsCommand(a), fittedCommand(a)}},
		{"keep", []*cobra.Command{keepCommand(a), notesCommand(a), restoreCommand(a), verifyCommand(a), doctorCommand(a)}},
	} {
		for _, c := range group.commands {
			c.GroupID = group.id
			root.AddCommand(c)
			for _, x := range append(c.Commands(), c) {
				x.Args = explained(x.Args)
			}
		}
	}
	root.AddCommand(hookCommand(a))
	return root
}

// knownCommand refuses a word that is no command, with the nearest that is.
func knownCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	known := []string{}
	for _, sub := range c.Commands() {
		known = append(known, sub.Name())
	}
	return usage("there is no command %q%s\nsee: %s --help", args[0], didYouMean(args[0], known), c.CommandPath())
}

// explained makes a wrong number of words tell how the command is written.
func explained(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if check == nil || check(c, args) == nil {
			return nil
		}
		if len(c.Commands()) > 0 && len(args) > 0 {
			return knownCommand(c, args)
		}
		return usage("the command is written: %s\nsee: %s --help", c.UseLine(), c.CommandPath())
	}
}

// version is the module's version and the commit that it was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	if v == "" || v == "(devel)" {
		v = "devel"
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && !strings.Contains(v, s.Value[:min(len(s.Value), 12)]) {
			v += " " + s.Value[:min(len(s.Value), 12)]
		}
	}
	return v
}

// exitError ends a command with a code; with nothing to say where err is nil.
type exitError struct {
	code int
	err  error
}

func (e *exitError) Error() string {
	if e.err == nil {
		return fmt.Sprintf("exit %d", e.code)
	}
	return e.err.Error()
}

func (e *exitError) Unwrap() error { return e.err }

// usage is a command line that cannot be carried out.
func usage(format string, args ...any) error {
	return &exitError{exitUsage, fmt.Errorf(format, args...)}
}

// refused is a command that found an error and will not go on.
func refused(format string, args ...any) error {
	return &exitError{exitFindings, fmt.Errorf(format, args...)}
}

// unreadable is input that cannot be read.
func unreadable(err error) error { return &exitError{exitUnreadable, err} }

// found ends a command that has shown what it found.
func found(code int) error {
	if code == exitFine {
		return nil
	}
	return &exitError{code: code}
}

// finish prints what an error has to say and gives the exit code.
func (a *app) finish(err error) int {
	if err == nil {
		return exitFine
	}
	var e *exitError
	if errors.As(err, &e) {
		if e.err != nil {
			a.complain(e.err)
		}
		return e.code
	}
	if flags, ok := tooMany(err); ok {
		a.complain(fmt.Errorf("%s do not go together; give one of them", flags))
		return exitUsage
	}
	a.complain(err)
	return exitUnreadable
}

// tooMany reads which flags exclude each other from cobra's own words, which carry no
// type: "... none of the others can be; [json sarif] were all set".
func tooMany(err error) (flags string, ok bool) {
	_, rest, ok := strings.Cut(err.Error(), "none of the others can be; [")
	if !ok {
		return "", false
	}
	list, _, _ := strings.Cut(rest, "]")
	return "--" + strings.Join(strings.Fields(list), " and --"), true
}

func newApp(in io.Reader, out, errs io.Writer) *app {
	return &app{in: in, out: out, err: errs, env: os.Getenv}
}
