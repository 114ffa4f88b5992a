package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/pattern/text"
	"seamkeep/repo"
)

func restoreCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "restore VERSION [PIECE...]",
		Short: "Write an old version's files into the working tree; history stays",
		Long: `Restore writes the files of an old version into the working tree: all of the
pattern folder, or only the named pieces. It never rewrites history: keep the
result as a new version. Work that is not kept yet is never overwritten.`,
		Example: "  seamkeep restore mock-up-1\n  seamkeep restore HEAD~1 side-back",
		Args:    cobra.MinimumNArgs(1),
		ValidArgsFunction: func(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return a.completeVersions(c, args, word)
			}
			return a.completePieces(c, args, word)
		},
		RunE: func(_ *cobra.Command, args []string) error { return a.restore(args[0], args[1:]) },
	}
	return c
}

func (a *app) restore(spec string, pieces []string) error {
	p, err := a.locate()
	if err != nil {
		return err
	}
	if p.repo == nil || p.repo.Bare() {
		return unreadable(fmt.Errorf("no git repository with a working tree holds this folder"))
	}
	old, err := p.at(spec)
	if err != nil {
		return err
	}
	want, err := p.patternFiles(old)
	if err != nil {
		return err
	}
	if len(want) == 0 {
		return usage("version %s has no pattern folder %s", spec, p.dir)
	}
	if len(pieces) > 0 {
		if want, err = onlyPieces(p, want, pieces, spec); err != nil {
			return err
		}
	}
	write, remove, err := p.plan(want, len(pieces) == 0)
	if err != nil {
		return err
	}
	if err := p.unkept(append(sortedNames(write), remove...)); err != nil {
		return err
	}
	if err := writeFiles(p.root, write); err != nil {
		return err
	}
	if err := removeFiles(p.root, remove); err != nil {
		return err
	}
	for _, n := range sortedNames(write) {
		a.say("restored " + n)
	}
	for _, n := range remove {
		a.say("removed " + n + ", which that version does not have")
	}
	if len(write)+len(remove) == 0 {
		a.say("the working tree is like that version already")
		return nil
	}
	a.say("keep it as a new version: seamkeep keep NAME --because TEXT")
	return nil
}

// patternFiles reads the garment and pieces of a version.
func (p *place) patternFiles(fsys fs.FS) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, sub := range []string{p.dir, path.Join(p.dir, "pieces")} {
		entries, err := fs.ReadDir(fsys, sub)
		if err != nil {
			continue // that version has no such folder
		}
		for _, e := range entries {
			kind := text.KindOf(e.Name())
			if e.IsDir() || kind != text.GarmentFile && kind != text.PieceFile {
				continue
			}
			name := path.Join(sub, e.Name())
			data, err := fs.ReadFile(fsys, name)
			if err != nil {
				return nil, unreadable(err)
			}
			files[name] = data
		}
	}
	return files, nil
}

func onlyPieces(p *place, files map[string][]byte, pieces []string, spec string) (map[string][]byte, error) {
	out := map[string][]byte{}
	for _, piece := range pieces {
		name := path.Join(p.dir, "pieces", piece+".piece")
		data, ok := files[name]
		if !ok {
			return nil, usage("version %s has no piece %q", spec, piece)
		}
		out[name] = data
	}
	return out, nil
}

// plan gives the files to write and, for a whole version, those to remove.
func (p *place) plan(want map[string][]byte, whole bool) (write map[string][]byte, remove []string, err error) {
	work, err := p.snapshot("work")
	if err != nil {
		return nil, nil, unreadable(err)
	}
	have, err := p.patternFiles(work)
	if err != nil {
		return nil, nil, err
	}
	write = map[string][]byte{}
	for n, data := range want {
		if now, ok := have[n]; !ok || !bytes.Equal(now, data) {
			write[n] = data
		}
	}
	if whole {
		for _, n := range sortedNames(have) {
			if _, ok := want[n]; !ok {
				remove = append(remove, n)
			}
		}
	}
	return write, remove, nil
}

// unkept refuses where one of the files differs from HEAD: that work would be
// lost.
func (p *place) unkept(names []string) error {
	head, err := p.repo.HeadSnapshot()
	if err != nil {
		return unreadable(err)
	}
	work, err := p.snapshot("work")
	if err != nil {
		return unreadable(err)
	}
	var lost []string
	for _, n := range names {
		if _, err := os.Lstat(filepath.Join(p.root, filepath.FromSlash(n))); os.IsNotExist(err) {
			continue // nothing there to lose
		}
		now, err := fs.ReadFile(work, n)
		kept, missing := fs.ReadFile(head, n)
		if err == nil && missing == nil && bytes.Equal(now, kept) || err == nil && p.keptBefore(work, n) {
			continue
		}
		lost = append(lost, n) // a link or a folder in the way counts too
	}
	if len(lost) == 0 {
		return nil
	}
	return refused("%s has work that is not kept; nothing was changed\nkeep it first: seamkeep keep NAME --because TEXT\nor throw that work away for good: git checkout HEAD -- FILE", strings.Join(lost, ", "))
}

// keptBefore tells whether some version, on any branch or tag, holds the file
// just as it lies on disk: then nothing is lost with it. So who went back can
// go forward again.
func (p *place) keptBefore(work *repo.Snapshot, name string) bool {
	id, ok := work.ID(name)
	if !ok {
		return false
	}
	out, err := p.repo.Git("--literal-pathspecs", "log", "--all", "-m", "--format=", "--raw", "--no-abbrev", "--no-renames", "--", name)
	return err == nil && strings.Contains(out, " "+id+" ")
}
