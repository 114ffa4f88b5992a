package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/drawing"
	"seamkeep/pattern/text"
)

// importing is what the command line of import says.
type importing struct {
	waist   float64
	hasY    bool
	dry     bool
	replace bool
}

func importCommand(a *app) *cobra.Command {
	var i importing
	c := &cobra.Command{
		Use:   "import FILE.svg",
		Short: "Bring pieces in from a drawing: one piece a closed path",
		Long: `Import reads an SVG drawing that is sized in mm and writes one piece file for
each closed path, named after its layer, label or id. The path must be the
sewing line, as seen on the right side of the cloth. Corners stand where it
turns by more than 10 degrees; edges are e1, e2 and so on, and can be renamed in
the file.

--waist says how far below the page's top the waist lies; without it the lower
left of each piece is 0 0 and the piece has no levels.`,
		Example: "  seamkeep import front.svg --waist 210 --dry-run\n  seamkeep import front.svg --waist 210",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			i.hasY = c.Flags().Changed("waist")
			return a.importDrawing(args[0], &i)
		},
	}
	f := c.Flags()
	f.Float64Var(&i.waist, "waist", 0, "height of the waist on the page, in mm from its top")
	f.BoolVar(&i.dry, "dry-run", false, "show what would be written, write nothing")
	f.BoolVar(&i.replace, "replace", false, "overwrite pieces of the same name, where nothing unkept is lost")
	return c
}

func (a *app) importDrawing(name string, i *importing) error {
	p, err := a.locate()
	if err == nil {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	src, err := readDrawing(name)
	if err != nil {
		return err
	}
	var o drawing.Options
	if i.hasY {
		o.WaistY = pattern.Some(i.waist)
	}
	result, problems := drawing.Read(filepath.ToSlash(name), src, o)
	problems.Sort()
	a.talk().Problems(problems)
	if err := a.showImport(result); err != nil {
		return err
	}
	if problems.HasErrors() {
		return refused("%s: nothing was written", report.Count(problems))
	}
	if len(result.Pieces) == 0 {
		return refused("no closed path in %s: nothing to import", name)
	}
	files := map[string][]byte{}
	for _, piece := range result.Pieces {
		files[path.Join(p.dir, "pieces", piece.Name+".piece")] = text.PrintPiece(piece)
	}
	if err := p.mayWrite(files, i.replace); err != nil {
		return err
	}
	if i.dry {
		a.say("nothing was written")
		return nil
	}
	if err := writeFiles(p.root, files); err != nil {
		return err
	}
	for _, n := range sortedNames(files) {
		a.say("wrote " + n)
	}
	a.say("next: name edges and corners in the files, say how they are sewn in the garment file, then: seamkeep walk")
	return nil
}

// readDrawing reads a file after asking its size.
func readDrawing(name string) ([]byte, error) {
	const limit = 64 << 20
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, unreadable(fmt.Errorf("there is no file %s", name))
	case !info.Mode().IsRegular():
		return nil, unreadable(fmt.Errorf("%s is not a plain file", name))
	case info.Size() > limit:
		return nil, unreadable(fmt.Errorf("%s has %d bytes; at most %d are read", name, info.Size(), limit))
	}
	src, err := os.ReadFile(name)
	if err != nil {
		return nil, unreadable(err)
	}
	return src, nil
}

func (a *app) showImport(r *drawing.Result) error {
	t := a.text()
	for i, piece := range r.Pieces {
		s := r.Sources[i]
		t.Para(fmt.Sprintf("piece %s: %.1f mm wide, %.1f high, %d edges, from %s; lay a tape measure on the drawing",
			piece.Name, s.Width, s.Height, len(piece.Edges), sourceName(s)), "  ")
	}
	for _, s := range r.Skipped {
		name := s.ID
		if s.Label != "" {
			name = s.Label
		}
		t.Para(fmt.Sprintf("skipped %q: it %s", name, s.Why), "  ")
	}
	return t.Err
}

func sourceName(s drawing.Source) string {
	for _, n := range []string{s.Label, s.Layer, s.ID} {
		if n != "" {
			return fmt.Sprintf("%q", n)
		}
	}
	return "a path without a name"
}

// mayWrite refuses to write over pieces that are there, except with what they
// hold already: so a second run completes one that was cut short.
func (p *place) mayWrite(files map[string][]byte, replace bool) error {
	work, err := p.snapshot("work")
	if err != nil {
		return unreadable(err)
	}
	var over []string
	for _, n := range sortedNames(files) {
		now, err := fs.ReadFile(work, n)
		if _, there := os.Lstat(filepath.Join(p.root, filepath.FromSlash(n))); os.IsNotExist(there) || err == nil && bytes.Equal(now, files[n]) {
			continue
		}
		if !replace {
			return refused("%s is there already; nothing was written\nrename the layer or path in the drawing, or overwrite it with --replace", n)
		}
		over = append(over, n)
	}
	if p.repo == nil {
		return nil
	}
	return p.unkept(over)
}
