package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"sort"

	"github.com/spf13/cobra"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

func tidyCommand(a *app) *cobra.Command {
	var diff bool
	c := &cobra.Command{
		Use:   "tidy [PIECE...]",
		Short: "Write the files in their canonical form, with true edge lengths",
		Long: `Tidy puts the records of each file in their fixed order, trims numbers, writes
each edge's true length, and keeps every comment: the garment, its pieces and
fittings, and the bodies that are here. --diff shows what would change and
writes nothing.`,
		Example: "  seamkeep tidy --diff\n  seamkeep tidy",
		RunE:    func(_ *cobra.Command, args []string) error { return a.tidy(args, diff) },
	}
	c.Flags().BoolVar(&diff, "diff", false, "show what would change, write nothing")
	return c
}

func (a *app) tidy(pieces []string, diff bool) error {
	p, err := a.locate()
	if err == nil {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	names, err := p.files(pieces)
	if err != nil {
		return err
	}
	changed, before, problems, err := p.tidied(names)
	if err != nil {
		return err
	}
	if len(problems) > 0 {
		problems.Sort()
		a.talk().Problems(problems)
		if problems.HasErrors() {
			return found(exitUnreadable)
		}
	}
	if diff {
		for _, n := range sortedNames(changed) {
			fmt.Fprint(a.out, text.TidyDiff(n, before[n], changed[n]))
		}
		return nil
	}
	if err := writeFiles(p.root, changed); err != nil {
		return err
	}
	for _, n := range sortedNames(changed) {
		a.say("tidied " + n)
	}
	if len(changed) == 0 {
		a.say("all files are tidy")
	}
	return nil
}

// files lists the pattern files of the folder on disk: all, each kind in its own place, or
// those of the named pieces.
func (p *place) files(pieces []string) ([]string, error) {
	work, err := p.snapshot("work")
	if err != nil {
		return nil, unreadable(err)
	}
	if len(pieces) > 0 {
		var names []string
		for _, piece := range pieces {
			name := path.Join(p.dir, "pieces", piece+".piece")
			if pattern.NameFault(piece) != "" || !exists(work, name) {
				return nil, usage("there is no piece %q: no file %s", piece, name)
			}
			names = append(names, name)
		}
		return names, nil
	}
	var names []string
	for _, sub := range []struct {
		dir  string
		kind text.Kind
	}{{".", text.GarmentFile}, {"pieces", text.PieceFile}, {"fittings", text.FittingFile}, {"bodies", text.BodyFile}} {
		entries, err := fs.ReadDir(work, path.Join(p.dir, sub.dir))
		if err != nil {
			continue // a folder without pieces, fittings or bodies
		}
		for _, e := range entries {
			if !e.IsDir() && text.KindOf(e.Name()) == sub.kind {
				names = append(names, path.Join(p.dir, sub.dir, e.Name()))
			}
		}
	}
	return names, nil
}

// tidied gives the files whose canonical form differs from what is on disk.
func (p *place) tidied(names []string) (changed, before map[string][]byte, problems diag.List, err error) {
	work, err := p.snapshot("work")
	if err != nil {
		return nil, nil, nil, unreadable(err)
	}
	changed, before = map[string][]byte{}, map[string][]byte{}
	for _, n := range names {
		src, err := fs.ReadFile(work, n)
		if err != nil {
			return nil, nil, nil, unreadable(err)
		}
		out, found := text.Tidy(n, src)
		problems = append(problems, found...)
		if out != nil && !bytes.Equal(out, src) {
			changed[n], before[n] = out, src
		}
	}
	return changed, before, problems, nil
}

func sortedNames(m map[string][]byte) []string {
	names := make([]string, 0, len(m))
	for n := range m {
		names = append(names, n)
	}
	sort.Strings(names)
	return names
}
