package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/cmd/seamkeep/demo"
	"seamkeep/diffview/overlay"
	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/repo"
)

func demoCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "demo [DIR]",
		Short: "Build an example pattern with ten versions to look at",
		Long: `Demo builds a repository with the pattern of an invented waistcoat: ten versions
by two makers on two branches, one of them wrong, and an overlay for each. The
refusals that it shows are the judge's own. It needs no git and no network.
DIR (default ./seamkeep-demo) must be empty or absent.`,
		Example: "  seamkeep demo\n  seamkeep demo ../waistcoat",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			dir := "seamkeep-demo"
			if len(args) > 0 {
				dir = args[0]
			}
			if !filepath.IsAbs(dir) {
				dir = filepath.Join(a.dir, dir)
			}
			return a.demo(dir)
		},
	}
}

// showing is a demo under way.
type showing struct {
	a       *app
	text    *report.Text
	dir     string
	builder *repo.Builder
	ids     map[string]string // commit id of each version
	files   map[string]map[string][]byte
}

func (a *app) demo(dir string) error {
	versions, err := demo.Versions()
	if err != nil {
		return err
	}
	builder, err := repo.Create(dir, "main")
	if errors.Is(err, repo.ErrNotEmpty) {
		return refused("%s is not empty; nothing was changed\ngive another folder: seamkeep demo DIR", dir)
	}
	if err != nil {
		return err
	}
	s := &showing{a: a, text: a.text(), dir: dir, builder: builder, ids: map[string]string{}, files: map[string]map[string][]byte{}}
	name, body := demo.Body()
	if err := writeFiles(dir, map[string][]byte{name: body}); err != nil {
		return err
	}
	for i, v := range versions {
		if err := s.version(i+1, v); err != nil {
			return fmt.Errorf("version %s: %w", v.Name, err)
		}
	}
	if err := builder.Checkout("main"); err != nil {
		return err
	}
	s.goodbye()
	return s.text.Err
}

// version shows what was tried first, if anything, then keeps the version.
func (s *showing) version(number int, v demo.Version) error {
	t := s.text
	t.Para(fmt.Sprintf("%2d  %s, by %s, on %s", number, v.Name, v.Author, v.Branch), "    ")
	if v.Refused != nil {
		t.Para("    "+v.Refused.Told, "    ")
		verdict, err := s.judge(v, v.Refused.Files)
		if err != nil {
			return err
		}
		if !verdict.Refused() {
			return errors.New("the judge passed what it should refuse")
		}
		t.Problems(verdict.Problems().Only(diag.Error))
		t.Para("    That is refused. Mended, it goes through:", "    ")
	}
	t.Para("    "+v.Told, "    ")
	verdict, err := s.judge(v, v.Files)
	if err != nil {
		return err
	}
	s.findings(verdict.Problems())
	if verdict.Refused() {
		return errors.New("the judge refuses it")
	}
	return s.keep(number, v, verdict)
}

// findings shows what the story is about, the seams, in full, and names what else is
// worth a look.
func (s *showing) findings(list diag.List) {
	var seams, others diag.List
	for _, p := range shown(list) {
		if p.Severity == diag.Error || strings.HasPrefix(p.ID, "seam.") {
			seams = append(seams, p)
		} else {
			others = append(others, p)
		}
	}
	s.text.Problems(seams)
	for _, p := range others {
		s.text.Para(fmt.Sprintf("    %s: %s  [%s]", p.Severity, p.Found, p.ID), "      ")
	}
}

// judge holds files against the parent of a version, as the hook would: they
// lie in the working tree while it looks.
func (s *showing) judge(v demo.Version, files map[string][]byte) (*judge.Verdict, error) {
	r, err := repo.OpenWith(s.dir, repo.Options{IgnoreEnvironment: true})
	if err != nil {
		return nil, err
	}
	defer r.Close()
	before := r.EmptySnapshot()
	if v.Parent != "" {
		if before, err = r.Snapshot(s.ids[v.Parent]); err != nil {
			return nil, err
		}
	}
	if err := s.layOut(files); err != nil {
		return nil, err
	}
	work, err := r.Snapshot("work")
	if err != nil {
		return nil, err
	}
	return judge.Commit(judge.Request{Before: before, After: work, Bodies: work, SetWarningsApart: true})
}

// layOut makes the working tree hold just these files.
func (s *showing) layOut(files map[string][]byte) error {
	var gone []string
	for _, tree := range s.files {
		for n := range tree {
			if _, ok := files[n]; !ok {
				gone = append(gone, n)
			}
		}
	}
	for _, n := range gone {
		if err := os.Remove(filepath.Join(s.dir, filepath.FromSlash(n))); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return writeFiles(s.dir, files)
}

func (s *showing) keep(number int, v demo.Version, verdict *judge.Verdict) error {
	c := repo.NewCommit{
		Branch: v.Branch, Author: repo.Person{Name: v.Author, Email: v.Email, When: v.When},
		Message: v.Message, Files: v.Files,
	}
	if v.Parent != "" {
		c.Parents = []string{s.ids[v.Parent]}
	}
	id, err := s.builder.Commit(c)
	if err != nil {
		return err
	}
	s.ids[v.Name], s.files[v.Name] = id, v.Files
	kept := fmt.Sprintf("    kept as %.7s", id)
	if v.Tag != "" {
		if err := s.builder.Tag(v.Tag, id); err != nil {
			return err
		}
		kept += ", tagged " + v.Tag
	}
	for _, f := range verdict.Folders {
		change := compare.Garments(f.Before, f.After, compare.Options{Body: f.Body})
		for _, line := range brief(change) {
			s.text.Para("    "+line, "      ")
		}
		file := fmt.Sprintf("overlays/%02d-%s.svg", number, v.Name)
		var buf bytes.Buffer
		o := overlay.Options{Title: f.After.Title, From: "before", To: fmt.Sprintf("%s (%.7s)", v.Name, id)}
		if v.Parent != "" {
			o.From = fmt.Sprintf("%s (%.7s)", v.Parent, s.ids[v.Parent])
		}
		n := noteOf(&repo.Commit{Message: v.Message})
		o.Note = []string{(&repo.Commit{Message: v.Message}).Subject(), "because: " + n.because}
		if err := overlay.Sheet(&buf, change, o); err != nil {
			return err
		}
		if err := writeFiles(s.dir, map[string][]byte{file: buf.Bytes()}); err != nil {
			return err
		}
		kept += ", drawn in " + file
	}
	s.text.Para(kept, "    ")
	s.text.Para("", "")
	return nil
}

func (s *showing) goodbye() {
	show := report.Clean(s.dir)
	s.text.Para("The pattern is in "+show+", its overlays in "+filepath.Join(show, "overlays")+": open one in a browser.", "  ")
	s.text.Para("To try:", "")
	for _, line := range []string{
		"seamkeep -C %s",
		"seamkeep -C %s walk",
		"seamkeep -C %s compare HEAD~2 HEAD~1",
		"seamkeep -C %s overlay half-move~2 half-move~1 -o wrong.svg",
		"seamkeep -C %s measure \"gap front\" \"girth waist\"",
		"seamkeep -C %s fitted mock-up-1 -o page.pdf",
		"seamkeep -C %s notes",
		"git -C %s log --graph --oneline --all",
	} {
		fmt.Fprintf(s.text.W, "  "+line+"\n", show)
	}
	s.text.Para("Then change a number in one of its pieces and ask again: seamkeep -C "+show+" check", "  ")
}
