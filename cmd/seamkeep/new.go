package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/hooks"
	"seamkeep/pattern"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// beginning is what the command line of new says.
type beginning struct {
	folder string
	title  string
	half   string
	author string
	email  string
}

const attributes = `# pattern files have the same line ends on every machine
*.garment text eol=lf
*.piece text eol=lf
*.body text eol=lf
*.fitting text eol=lf
`

const ignores = `# measures of a person are private: they stay on this machine
bodies/
# what a run that was cut short may leave
.seamkeep-*.tmp
`

func newCommand(a *app) *cobra.Command {
	var b beginning
	c := &cobra.Command{
		Use:   "new FOLDER",
		Short: "Start a pattern folder with its repository and hooks",
		Long: `New makes a pattern folder with an empty garment file, a git repository unless
one holds the folder already, the settings that keep line ends the same and the
measures of a person private, the hooks, and a first version.`,
		Example: `  seamkeep new waistcoat --title "Midsummer waistcoat"
  seamkeep new shop/vest --title Vest --author Ines --email ines@example.org`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			b.folder = args[0]
			return a.begin(&b)
		},
	}
	f := c.Flags()
	f.StringVar(&b.title, "title", "", "the garment's title")
	f.StringVar(&b.half, "half", "left", "what the pieces draw: left, right or whole")
	f.StringVar(&b.author, "author", "", "your name, for the notes")
	f.StringVar(&b.email, "email", "", "your address, for the notes")
	return c
}

func (a *app) begin(b *beginning) error {
	if b.half != "left" && b.half != "right" && b.half != "whole" {
		return usage("--half %q: left, right or whole", b.half)
	}
	target := b.folder
	if !filepath.IsAbs(target) {
		target = filepath.Join(a.dir, target)
	}
	target, err := filepath.Abs(target)
	if err != nil {
		return err
	}
	name := filepath.Base(target)
	if why := pattern.NameFault(name); why != "" {
		return usage("the folder's name %q %s\nthe garment takes its name; an example: seamkeep new midsummer-waistcoat", report.Clean(name), why)
	}
	if info, err := os.Stat(target); err == nil && !info.IsDir() {
		return refused("%s is there and is no folder; nothing was changed\ngive another name", b.folder)
	}
	if entries, err := os.ReadDir(target); err == nil && len(entries) > 0 {
		return refused("%s is there and not empty; nothing was changed\ngive another name", b.folder)
	}
	if _, _, ok := repo.GitAvailable(); !ok {
		return unreadable(errors.New("git is not on PATH, and a pattern folder is kept with it\ninstall git, then run this again; the demo runs without it: seamkeep demo"))
	}
	if err := a.askBeginning(b); err != nil {
		return err
	}
	return a.makeFolder(b, target, name)
}

// askBeginning asks on a terminal for what the command line left open.
func (a *app) askBeginning(b *beginning) error {
	in := bufio.NewReader(a.in)
	for _, q := range []struct {
		value  *string
		prompt string
	}{{&b.title, "title of the garment: "}} {
		if *q.value == "" && isTerminal(a.in) {
			answer, err := a.question(in, q.prompt)
			if err != nil {
				return err
			}
			*q.value = answer
		}
		if *q.value != report.Clean(*q.value) {
			return usage("the title holds control characters; write plain text")
		}
	}
	return nil
}

// folderFiles gives what a new pattern folder holds.
func folderFiles(b *beginning, dir, name string) map[string][]byte {
	g := &pattern.Garment{
		Name: name, Title: b.title, Half: pattern.Half(b.half), RequireClaims: true,
		Levels: []pattern.Level{{Name: "waist"}},
	}
	return map[string][]byte{
		path.Join(dir, name+".garment"):  text.PrintGarment(g),
		path.Join(dir, ".gitattributes"): []byte(attributes),
		path.Join(dir, ".gitignore"):     []byte(ignores),
	}
}

func (a *app) makeFolder(b *beginning, target, name string) error {
	parent := filepath.Dir(target)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return err
	}
	r, err := repo.Open(parent)
	fresh := errors.Is(err, repo.ErrNoRepository)
	if err != nil && !fresh {
		return unreadable(err)
	}
	if fresh {
		if r, err = a.initRepository(target, b); err != nil {
			return err
		}
	}
	defer r.Close()
	dir, err := r.Rel(target)
	if err != nil {
		return err
	}
	files := folderFiles(b, dir, name)
	err = a.identity(r, b, fresh)
	if err == nil {
		err = writeFiles(r.Root(), files)
	}
	var paths []string
	for _, n := range sortedNames(files) {
		paths = append(paths, literal(n))
	}
	if err == nil {
		err = a.firstVersion(r, b, paths, name)
	}
	if err != nil {
		// the folder was not there, or empty: nobody's work goes with it
		if !fresh {
			_, _ = r.Git(append([]string{"rm", "-r", "-q", "--cached", "--ignore-unmatch", "--"}, paths...)...)
		}
		_ = os.RemoveAll(target)
		return err
	}
	a.say("made "+b.folder+" with its first version",
		"next: bring drawings in with seamkeep -C "+b.folder+" import FILE.svg, or write pieces/NAME.piece by hand")
	return a.hooksForNew(r)
}

func (a *app) initRepository(target string, b *beginning) (*repo.Repo, error) {
	if err := os.MkdirAll(target, 0o755); err != nil {
		return nil, err
	}
	if err := repo.Init(target, "main"); err != nil {
		return nil, refused("git could not start a repository: %v", err)
	}
	return repo.Open(target)
}

// identity makes sure that git knows who keeps versions here.
func (a *app) identity(r *repo.Repo, b *beginning, fresh bool) error {
	for _, q := range []struct {
		key, author, committer, flag, prompt string
		value                                *string
	}{
		{"user.name", "GIT_AUTHOR_NAME", "GIT_COMMITTER_NAME", "--author", "your name, for the notes: ", &b.author},
		{"user.email", "GIT_AUTHOR_EMAIL", "GIT_COMMITTER_EMAIL", "--email", "your address, for the notes: ", &b.email},
	} {
		if *q.value == "" {
			if a.env(q.author) != "" && a.env(q.committer) != "" {
				continue
			}
			if known, err := r.Git("config", "--get", q.key); err == nil && known != "" {
				continue
			}
			if !isTerminal(a.in) {
				return usage("git does not know who you are; say it once: seamkeep new NAME --author \"YOUR NAME\" --email YOU@EXAMPLE.ORG")
			}
			answer, err := a.question(bufio.NewReader(a.in), q.prompt)
			if err != nil {
				return err
			}
			*q.value = answer
		}
		if *q.value != report.Clean(*q.value) || *q.value == "" {
			return usage("%s: write plain text", q.flag)
		}
		if !fresh {
			continue // somebody else's settings stay; the first version alone bears the name
		}
		if _, err := r.Git("config", q.key, *q.value); err != nil {
			return err
		}
	}
	return nil
}

func (a *app) firstVersion(r *repo.Repo, b *beginning, paths []string, garment string) error {
	if _, err := r.Git(append([]string{"add", "--"}, paths...)...); err != nil {
		return err
	}
	message := repo.FormatTrailers("Start "+garment, "", []repo.Trailer{
		{Key: "Alteration", Value: "start"}, {Key: "Because", Value: "a new pattern begins"},
	})
	var args []string
	if b.author != "" {
		args = append(args, "-c", "user.name="+b.author)
	}
	if b.email != "" {
		args = append(args, "-c", "user.email="+b.email)
	}
	args = append(args, "commit", "--quiet", "--file=-", "--only", "--")
	_, err := r.GitInput(message, append(args, paths...)...)
	return err
}

// hooksForNew installs the hooks, or says how where it cannot.
func (a *app) hooksForNew(r *repo.Repo) error {
	exe, err := os.Executable()
	if err != nil || hooks.FromGoRun(exe) {
		a.say("no hooks are installed: " + installFirst)
		return nil
	}
	at, err := hookFolderOf(r)
	if err != nil {
		return err
	}
	if err := at.refusal(); err != nil {
		a.say("no hooks are installed: " + err.Error())
		return nil
	}
	results, err := hooks.Install(hooks.Options{Dir: at.dir, Binary: exe})
	if err != nil {
		a.say("no hooks are installed: "+err.Error(), "try again with: seamkeep hooks install")
		return nil
	}
	for _, x := range results {
		if !x.State.Protects() {
			a.say(fmt.Sprintf("hook %s: %s; see: seamkeep hooks install", x.Name, x.State))
		}
	}
	return nil
}
