package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

func notesCommand(a *app) *cobra.Command {
	var limit int
	c := &cobra.Command{
		Use:   "notes [VERSION]",
		Short: "List the versions: date, name, why, what each changed",
		Long: `Notes lists the versions that changed this pattern folder, the newest first,
with the note of each, the pieces that it changed and what it did to the girth.`,
		Example:           "  seamkeep notes\n  seamkeep notes half-move --limit 5",
		Args:              cobra.MaximumNArgs(1),
		ValidArgsFunction: a.completeVersions,
		RunE: func(_ *cobra.Command, args []string) error {
			rev := "HEAD"
			if len(args) > 0 {
				rev = args[0]
			}
			return a.notes(rev, limit)
		},
	}
	c.Flags().IntVar(&limit, "limit", 0, "list at most so many (0: all)")
	c.AddCommand(notesAddCommand(a))
	return c
}

func (a *app) notes(rev string, limit int) error {
	p, err := a.locate()
	if err != nil {
		return err
	}
	if p.repo == nil {
		return unreadable(fmt.Errorf("no git repository holds this folder, so there are no versions yet"))
	}
	if head, err := p.repo.Head(); err == nil && head == nil && rev == "HEAD" {
		a.say("no version is kept yet: seamkeep keep NAME --because TEXT")
		return nil
	}
	paths := []string{p.dir}
	if p.dir == "." {
		paths = nil
	}
	commits, err := p.repo.Log(revision(p.repo, rev), paths, limit)
	if errors.Is(err, repo.ErrUnknownRevision) {
		return noVersion(rev)
	}
	if err != nil {
		return unreadable(err)
	}
	tags, err := p.repo.Tags()
	if err != nil {
		return unreadable(err)
	}
	later, err := p.repo.HindsightNotes()
	if err != nil && !errors.Is(err, repo.ErrNoGit) {
		return unreadable(err)
	}
	loader := text.NewLoader()
	t := a.text()
	for i, c := range commits {
		if i > 0 {
			t.Para("", "")
		}
		p.writeNote(t, loader, c, tags[c.ID])
		for _, line := range strings.Split(strings.TrimSpace(later[c.ID]), "\n") {
			if line != "" {
				t.Para("    in hindsight: "+line, "      ")
			}
		}
	}
	return t.Err
}

// writeNote lists one version in a few lines.
func (p *place) writeNote(t *report.Text, loader *text.Loader, c *repo.Commit, tags []string) {
	n := noteOf(c)
	name := n.name
	if name == "" {
		name = c.Subject()
	}
	head := fmt.Sprintf("%s  %s  %s  by %s", c.Author.When.Format("2006-01-02"), c.Short(), name, c.Author.Name)
	if len(tags) > 0 {
		head += "  [" + strings.Join(tags, ", ") + "]"
	}
	t.Para(head, "    ")
	if subject := c.Subject(); n.name != "" && subject != n.name {
		t.Para("    "+subject, "    ")
	}
	if n.because != "" {
		t.Para("    because "+n.because, "    ")
	}
	if len(c.Parents) > 1 {
		t.Para("    merge of two versions; against the first:", "    ")
	}
	for _, s := range p.did(loader, c) {
		t.Para("    "+s, "      ")
	}
	for _, x := range n.unfinished {
		t.Para("    unfinished: "+x, "      ")
	}
}

// did tells in two lines what a version changed against its first parent.
func (p *place) did(loader *text.Loader, c *repo.Commit) []string {
	before := p.repo.EmptySnapshot()
	if len(c.Parents) > 0 {
		parent, err := p.repo.Resolve(c.Parents[0])
		if err != nil {
			return []string{"what it changed cannot be told: its parent is not in this clone"}
		}
		before = p.repo.At(parent)
	}
	x := &text.Folder{}
	if dirs, err := text.Find(before); err == nil && slices.Contains(dirs, p.dir) {
		var problems diag.List
		if x, problems = loader.Load(before, p.dir); problems.HasErrors() {
			return []string{"what it changed cannot be told: its parent has faults (seamkeep check --rev " + c.Parents[0][:7] + ")"}
		}
	}
	y, problems := loader.Load(p.repo.At(c), p.dir)
	if y == nil || y.Garment == nil || problems.HasErrors() {
		return []string{"its files have faults: seamkeep check --rev " + c.Short()}
	}
	change := compare.Garments(x.Garment, y.Garment, compare.Options{})
	return brief(change)
}

// brief tells a change in two lines: the pieces and the girth.
func brief(c *compare.Change) []string {
	if c.Before == nil {
		return c.Sentences()
	}
	var names []string
	for _, piece := range c.ChangedPieces() {
		name := piece.Name
		if piece.Status != compare.Changed {
			name += " (" + string(piece.Status) + ")"
		}
		names = append(names, name)
	}
	pieces := "pieces: " + strings.Join(names, ", ")
	if len(names) == 0 {
		pieces = "no piece changed"
	}
	return []string{pieces, girthLine(c)}
}

// girthLine says how the girth changed, what it is where none was known before, and where
// none is known any more.
func girthLine(c *compare.Change) string {
	var changed, told, lost []string
	known := false
	for _, g := range c.Girths {
		d, both := g.Delta()
		known = known || both
		switch {
		case both && g.Differs(compare.Seen):
			changed = append(changed, fmt.Sprintf("%+.1f at %s", d, g.Level))
		case !g.Before.Set && g.After.Set:
			told = append(told, fmt.Sprintf("%.1f at %s", g.After.Value, g.Level))
		case g.Before.Set && !g.After.Set:
			lost = append(lost, g.Level)
		}
	}
	var parts []string
	if len(changed) > 0 {
		parts = append(parts, "girth "+strings.Join(changed, ", "))
	}
	if len(told) > 0 {
		parts = append(parts, "girth now known: "+strings.Join(told, ", "))
	}
	if len(lost) > 0 {
		parts = append(parts, "girth no longer known at "+strings.Join(lost, ", "))
	}
	switch {
	case len(parts) > 0:
		return strings.Join(parts, "; ")
	case known:
		return "girth unchanged"
	}
	return "girth not known"
}
