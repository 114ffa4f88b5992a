package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/again"
	"seamkeep/pattern/drawing/dxf"
	"seamkeep/pattern/drawing/handoff"
)

// exporting is what the command line of export says.
type exporting struct {
	format, out, into string
	tolerance         float64
	importing         // how the drawing of --into is read
}

func exportCommand(a *app) *cobra.Command {
	var e exporting
	c := &cobra.Command{
		Use:   "export [PIECE...]",
		Short: "Give the pieces to a drawing program (SVG, DXF)",
		Long: `Export draws the pieces at true size, one unit a mm, for a drawing program: edit
the lines there, save, and bring them back with import. Names, seams and notes
stay in the pattern. Each drawing holds a check square of 100 mm.

--into FILE.svg writes the sewing lines into your own drawing instead, where the
outlines of these pieces lie; in a drawing that export wrote also its marks and
the version. Every other byte of it stays as it is.

DXF is for other programs and machines, and is not read back: plain release 12,
one unit a mm, curves as lines within --tolerance.`,
		Example:           "  seamkeep export -o pieces.svg\n  seamkeep export front back -o two.svg\n  seamkeep export --into my-drawing.svg\n  seamkeep export -o pieces.dxf",
		ValidArgsFunction: a.completePieces,
		RunE:              func(c *cobra.Command, args []string) error { return a.export(c, args, &e) },
	}
	f := c.Flags()
	f.StringVarP(&e.out, "output", "o", "", "file to write; - for standard output")
	f.StringVar(&e.format, "format", "", "svg or dxf (default: as the file's ending says)")
	f.StringVar(&e.into, "into", "", "rewrite the outlines in this drawing")
	f.Float64Var(&e.tolerance, "tolerance", dxf.DefaultTolerance, "how far the lines of DXF may stray from a curve, in mm")
	f.StringArrayVar(&e.known, "known", nil, "with --into: true length of an element, ID=100mm")
	f.Float64Var(&e.dpi, "dpi", 0, "with --into: units of the drawing to the inch")
	f.Float64Var(&e.snap, "snap", 0, "with --into: gaps between lines that are closed, in mm")
	f.Float64Var(&e.waist, "waist", 0, "with --into: height of the waist on the page, in mm from its top")
	f.StringVar(&e.outline, "outline", "", "with --into: of two lines beside each other the sewing line, inner or outer")
	f.StringVar(&e.take, "take", "", "with --into: pattern writes over what was drawn since")
	_ = c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions([]string{"svg", "dxf"}, cobra.ShellCompDirectiveNoFileComp))
	_ = c.MarkFlagFilename("output", "svg", "dxf")
	_ = c.MarkFlagFilename("into", "svg")
	return c
}

func (a *app) export(c *cobra.Command, names []string, e *exporting) error {
	if e.format == "" {
		e.format = "svg"
		if strings.EqualFold(filepath.Ext(e.out), ".dxf") {
			e.format = "dxf"
		}
	}
	switch {
	case e.format != "svg" && e.format != "dxf":
		return usage("--format %q: say svg or dxf", report.Clean(e.format))
	case e.into == "" && e.out == "":
		return usage("say where to write: -o FILE.svg, -o FILE.dxf, or --into FILE.svg for the outlines in your own drawing")
	case e.into != "" && e.format == "dxf":
		return usage("--into rewrites an SVG drawing; DXF is written anew with -o FILE.dxf")
	case e.take == string(again.TakeDrawing):
		return usage("--take drawing: bring what was drawn in with seamkeep import")
	}
	e.hasWaist = c.Flags().Changed("waist")
	if err := e.parse(c); err != nil {
		return err
	}
	p, l, err := a.open("")
	if err != nil {
		return err
	}
	pieces, err := pickPieces(l.folder.Garment, names)
	if err != nil {
		return err
	}
	if e.into != "" {
		return a.exportInto(p, l, pieces, e)
	}
	return a.exportAnew(p, l, pieces, e)
}

func pickPieces(g *pattern.Garment, names []string) ([]*pattern.Piece, error) {
	if len(names) == 0 {
		if len(g.Pieces) == 0 {
			return nil, refused("there is no piece yet: seamkeep import FILE.svg")
		}
		return g.Pieces, nil
	}
	var known []string
	for _, p := range g.Pieces {
		known = append(known, p.Name)
	}
	var out []*pattern.Piece
	for _, n := range names {
		p := g.Piece(n)
		if p == nil {
			return nil, usage("there is no piece %q%s", report.Clean(n), didYouMean(n, known))
		}
		out = append(out, p)
	}
	return out, nil
}

// exportAnew writes a drawing of its own.
func (a *app) exportAnew(p *place, l *loaded, pieces []*pattern.Piece, e *exporting) error {
	var buf bytes.Buffer
	var err error
	if e.format == "dxf" {
		err = dxf.Write(&buf, l.folder.Garment, pieces, dxf.Options{Tolerance: e.tolerance})
	} else if err = mayReplace(e.out); err == nil {
		err = p.handOver(&buf, l, pieces, e.out)
	}
	if err != nil {
		return asRefusal(err)
	}
	return a.writePicture(buf.Bytes(), e.out, report.Plural(len(pieces), "piece")+" at true size; measure the check square of 100 mm")
}

func (p *place) handOver(w io.Writer, l *loaded, pieces []*pattern.Piece, out string) error {
	base, err := p.baseIDs(l, pieces)
	if err != nil {
		return err
	}
	return handoff.Write(w, l.folder.Garment, pieces, handoff.Options{Base: base, File: fileName(out)})
}

// asRefusal is a refusal, unless the error says already what it is.
func asRefusal(err error) error {
	var known *exitError
	if errors.As(err, &known) {
		return err
	}
	return refused("%v", err)
}

func fileName(out string) string {
	if out == "-" {
		return ""
	}
	return filepath.Base(out)
}

// mayReplace refuses to write over a drawing, which may hold what was drawn since.
func mayReplace(out string) error {
	if out == "-" {
		return nil
	}
	if _, err := os.Lstat(out); errors.Is(err, os.ErrNotExist) {
		return nil
	}
	return refused("%s is there already, and may hold what was drawn since; nothing was written\nwrite the outlines into it: seamkeep export --into %s; or choose another name", report.Clean(out), report.Clean(out))
}

// baseIDs gives git's id of each piece file, and sees to it that git holds what
// it names, so that a later import finds what the drawing was made from.
func (p *place) baseIDs(l *loaded, pieces []*pattern.Piece) (func(string) string, error) {
	ids := map[string]string{}
	for _, piece := range pieces {
		if p.repo == nil {
			break
		}
		src := l.folder.Sources[p.pieceFile(piece.Name)]
		id, ok := l.snap.ID(p.pieceFile(piece.Name))
		if !ok {
			continue
		}
		if _, err := p.repo.Blob(id); err != nil && !p.repo.Bare() {
			if id, err = p.repo.KeepBlob(src); err != nil {
				return nil, fmt.Errorf("let git hold %s: %w", p.pieceFile(piece.Name), err)
			}
		}
		ids[piece.Name] = id
	}
	return func(piece string) string { return ids[piece] }, nil
}

// exportInto rewrites outlines in a drawing of the maker's own. A link is
// followed: the drawing that it names is rewritten.
func (a *app) exportInto(p *place, l *loaded, pieces []*pattern.Piece, e *exporting) error {
	src, err := readDrawing(e.into)
	if err != nil {
		return err
	}
	b, err := newBringing(p, l, &e.importing)
	if err != nil {
		return err
	}
	b.read(e.into, src)
	b.identify()
	frames, ids := b.frames(pieces)
	base, err := p.baseIDs(l, pieces)
	if err != nil {
		return err
	}
	o := handoff.IntoOptions{File: filepath.ToSlash(e.into), Read: e.read, Base: base, IDs: ids}
	o.Frame = func(piece string) (curve.Affine, bool) {
		m, ok := frames[piece]
		return m, ok
	}
	var out []byte
	if !b.problems.HasErrors() {
		var more diag.List
		out, more = handoff.Into(src, l.folder.Garment, pieces, o)
		b.problems = append(b.problems, more...)
	}
	var shows *bringing
	if !b.problems.HasErrors() {
		if shows, err = b.readBack(e.into, out, pieces); err != nil {
			return err
		}
	}
	b.problems.Sort()
	a.talk().Problems(b.problems)
	if b.problems.HasErrors() {
		a.say("nothing was written")
		return found(codeOf(b.problems))
	}
	return a.writeInto(e, src, out, shows, len(pieces))
}

// writeInto writes the drawing, and remembers what it shows now.
func (a *app) writeInto(e *exporting, src, out []byte, shows *bringing, pieces int) error {
	what := "the outlines of " + report.Plural(pieces, "piece")
	if e.out != "" && e.out != e.into {
		if err := mayReplace(e.out); err != nil {
			return err
		}
		return a.writePicture(out, e.out, what)
	}
	target, err := filepath.EvalSymlinks(e.into)
	if err != nil {
		return err
	}
	if now, err := os.ReadFile(target); err != nil || !bytes.Equal(now, src) {
		return refused("%s was changed while it was read; nothing was written\nrun this again", report.Clean(e.into))
	}
	if err := writeFile(target, out); err != nil {
		return err
	}
	a.say(fmt.Sprintf("wrote %s: %s", report.Clean(e.into), what))
	return shows.remember()
}

// readBack reads the drawing as it will be, as an import would. A drawing that
// we exported says that it shows a whole version; where a mark, or the grain,
// could not be brought up to date it would say so wrongly, and an import would
// take the old one for a change.
func (b *bringing) readBack(file string, out []byte, pieces []*pattern.Piece) (*bringing, error) {
	after, err := newBringing(b.p, b.l, b.o)
	if err != nil {
		return nil, err
	}
	after.read(file, out)
	after.identify()
	wanted := map[string]bool{}
	for _, p := range pieces {
		wanted[p.Name] = true
	}
	after.arrivals = slices.DeleteFunc(after.arrivals, func(x *arrival) bool { return x.now == nil || !wanted[x.name] })
	for _, x := range after.arrivals {
		x.at = x.inRing(x.drawn.At)
		for _, before := range b.arrivals {
			if x.at == nil && before.name == x.name {
				x.at = before.at
			}
		}
		x.piece = x.now
		if x.drawn.Base == "" {
			continue
		}
		_, report, problems := again.Lay(x.now, x.asDrawn(true), again.Options{At: x.at})
		stale := slices.Concat(report.Redrawn, report.New.Marks, report.Gone.Marks)
		if len(stale) > 0 && !problems.HasErrors() {
			b.problems = append(b.problems, diag.Problem{
				ID: "drawing.stale", Severity: diag.Error, Place: x.drawn.Place, Subject: x.name,
				Found:    fmt.Sprintf("the drawing of %s cannot be brought up to date here: %s", x.name, strings.Join(stale, ", ")),
				Expected: "outlines, and marks that the drawing has already",
				Hint:     "export it anew: seamkeep export -o NEW.svg",
			})
		}
	}
	return after, nil
}

// frames gives, for each piece that the drawing shows, the map from its own
// plane to the page, and the ids of the outlines that bear no attribute of ours.
// What was drawn since is an Error: it would be lost.
func (b *bringing) frames(pieces []*pattern.Piece) (map[string]curve.Affine, map[string]string) {
	frames, ids := map[string]curve.Affine{}, map[string]string{}
	wanted := map[string]bool{}
	for _, p := range pieces {
		wanted[p.Name] = true
	}
	for _, x := range b.arrivals {
		if x.now == nil || !wanted[x.name] {
			continue
		}
		if x.drawn.Joined > 0 {
			b.problems = append(b.problems, diag.Problem{
				ID: "drawing.shape", Severity: diag.Error, Place: x.drawn.Place, Subject: x.name,
				Found:    fmt.Sprintf("the outline of %s is drawn as %d lines, which cannot be rewritten one by one", x.name, x.drawn.Joined),
				Expected: "an outline drawn as one path",
				Hint:     "join its lines to one path in the drawing program and import that; or take the pieces from a drawing of our own: seamkeep export -o NEW.svg",
			})
			continue
		}
		ids[x.name] = x.drawn.ID
		if err := b.findBase(x); err != nil {
			b.problems = append(b.problems, historyFault(x, err))
			continue
		}
		on := x.base
		if on == nil {
			on = x.now
		}
		_, report, problems := again.Lay(on, again.Drawn{Ring: x.drawn.Ring}, again.Options{At: x.at})
		if !report.Same() && b.o.take != string(again.TakePattern) {
			b.problems = append(b.problems, diag.Problem{
				ID: "drawing.not-imported", Severity: diag.Error, Place: x.drawn.Place, Subject: x.name,
				Found:    fmt.Sprintf("the drawing of %s was changed since: %s", x.name, strings.Join(report.Changed, ", ")),
				Expected: "a drawing whose changes are in the pattern",
				Hint:     "bring them in first: seamkeep import; or write over them with --take pattern",
			})
			continue
		}
		back, ok := report.Fit.Affine().Inverse()
		if ok && !problems.HasErrors() {
			frames[x.name] = back.Then(x.drawn.ToPage)
		}
	}
	return frames, ids
}
