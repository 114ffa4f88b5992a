package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/describe"
	"seamkeep/pattern/drawing"
	"seamkeep/pattern/drawing/again"
	"seamkeep/pattern/drawing/vector"
)

// importing is what the command line of import says.
type importing struct {
	known         []string
	dpi           float64
	snap          float64
	waist         float64
	hasWaist      bool
	outline, take string
	only          []string // pieces
	picture       string
	dry, json     bool

	read vector.Options // of known and dpi
}

func importCommand(a *app) *cobra.Command {
	var i importing
	c := &cobra.Command{
		Use:   "import FILE...",
		Short: "Bring pieces in from drawings (SVG) or a table of widths (CSV)",
		Long: `Import reads drawings and writes a piece file for each outline, in true mm. The
outline is the sewing line, as seen on the right side of the cloth. Pieces are
named after the label of their layer or path; lines called bust, waist and so on
that cross an outline are levels; lines inside it are marks, by their labels.

The true size comes from the drawing: a page in mm, cm, in or pt is taken as it
stands, px is taken as 96 to the inch, and said. --known checks or sets it by a
line that was measured.

A piece that is there already is changed only where the drawing changed since it
was last imported or exported; what was altered in the pattern since stays. If
both changed the same edge, --take says which side wins. Moving or turning a
piece on its sheet changes nothing.

A table (CSV) with the columns piece, level, height, width gives straight-sided
pieces to start from, for a pattern that is on paper only.`,
		Example: "  seamkeep import front.svg --dry-run\n  seamkeep import all.svg --known square=100mm --picture seen.svg\n  seamkeep import widths.csv",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			i.hasWaist = c.Flags().Changed("waist")
			if err := i.parse(c); err != nil {
				return err
			}
			return a.importFiles(args, &i)
		},
	}
	f := c.Flags()
	f.StringArrayVar(&i.known, "known", nil, "true length of an element, by id or label: ID=100mm")
	f.Float64Var(&i.dpi, "dpi", 0, "units of the drawing to the inch, where it does not say")
	f.Float64Var(&i.snap, "snap", 0, "close gaps between lines up to this many mm")
	f.Float64Var(&i.waist, "waist", 0, "height of the waist on the page, in mm from its top")
	f.StringVar(&i.outline, "outline", "", "of two lines beside each other the sewing line: inner or outer")
	f.StringVar(&i.take, "take", "", "where both changed: drawing or pattern")
	f.StringArrayVar(&i.only, "only", nil, "bring in this piece alone; with --take drawing also where the drawing did not change since")
	f.BoolVar(&i.dry, "dry-run", false, "show what would be written, write no pattern file")
	f.StringVar(&i.picture, "picture", "", "draw what was understood to this SVG file")
	f.BoolVar(&i.json, "json", false, "write seamkeep.import/1")
	_ = c.RegisterFlagCompletionFunc("take", cobra.FixedCompletions([]string{"drawing", "pattern"}, cobra.ShellCompDirectiveNoFileComp))
	_ = c.RegisterFlagCompletionFunc("outline", cobra.FixedCompletions([]string{"inner", "outer"}, cobra.ShellCompDirectiveNoFileComp))
	_ = c.MarkFlagFilename("picture", "svg")
	return c
}

// parse reads what the flags say in words.
func (i *importing) parse(c *cobra.Command) error {
	for _, k := range i.known {
		one, err := knownLength(k)
		if err != nil {
			return err
		}
		i.read.Known = append(i.read.Known, one)
	}
	i.read.DPI = i.dpi
	switch {
	case i.take != "" && i.take != string(again.TakeDrawing) && i.take != string(again.TakePattern):
		return usage("--take %q: say drawing or pattern", report.Clean(i.take))
	case i.outline != "" && i.outline != string(drawing.Inner) && i.outline != string(drawing.Outer):
		return usage("--outline %q: say inner or outer", report.Clean(i.outline))
	case !(i.snap >= 0) || i.snap > 50:
		return usage("--snap %g: say a gap from 0 to 50 mm", i.snap)
	case c.Flags().Changed("dpi") && !(i.dpi > 0 && i.dpi < 1e6):
		return usage("--dpi %g: say how many units of the drawing make an inch, such as 72", i.dpi)
	case i.hasWaist && !(math.Abs(i.waist) <= 1e5):
		return usage("--waist %g: say a height in mm from the top of the page", i.waist)
	}
	return nil
}

// knownLength reads ID=100mm; the unit is mm, cm or in.
func knownLength(text string) (vector.KnownLength, error) {
	wrong := usage("--known %q: write the id or label of an element and its true length, such as square=100mm", report.Clean(text))
	at := strings.LastIndex(text, "=")
	if at < 1 {
		return vector.KnownLength{}, wrong
	}
	number, unit := text[at+1:], 1.0
	for name, mm := range map[string]float64{"mm": 1, "cm": 10, "in": 25.4} {
		if rest, ok := strings.CutSuffix(number, name); ok {
			number, unit = rest, mm
			break
		}
	}
	mm, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil || !(mm > 0 && mm <= 1e5) {
		return vector.KnownLength{}, wrong
	}
	return vector.KnownLength{ID: text[:at], Length: mm * unit}, nil
}

func (a *app) importFiles(files []string, i *importing) error {
	p, l, err := a.open("")
	if err == nil {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	b, err := newBringing(p, l, i)
	if err != nil {
		return err
	}
	for _, f := range files {
		src, err := readDrawing(f)
		if err != nil {
			return err
		}
		b.read(f, src)
	}
	b.bring()
	b.problems.Sort()
	if err := a.showImport(b); err != nil {
		return err
	}
	if b.problems.HasErrors() {
		a.say("nothing was written")
		return found(codeOf(b.problems))
	}
	if len(b.arrivals) == 0 {
		return refused("no outline of a piece in %s: nothing to import", strings.Join(files, ", "))
	}
	return a.writeImport(b, files)
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

func (a *app) pictureOfImport(b *bringing, file string) error {
	var buf bytes.Buffer
	hints := describe.Hints{SheetX: b.sheetX()}
	if err := describe.Picture(&buf, b.after, describe.Propose(b.after, hints), hints); err != nil {
		return err
	}
	return a.writePicture(buf.Bytes(), file, "the pieces as they were understood, with what describe would propose")
}

// writeImport writes the pieces, then the garment, then what this clone
// remembers of the drawings. A run that was cut short is completed by the next.
func (a *app) writeImport(b *bringing, drawings []string) error {
	files, err := b.p.rewritten(b.l, b.after, nil)
	if err == nil {
		err = b.inTheWay(files)
	}
	if err == nil && b.o.picture != "" {
		if err = mayOverwrite(b.o.picture, drawings...); err == nil {
			err = a.pictureOfImport(b, b.o.picture)
		}
	}
	if err != nil {
		return err
	}
	if b.o.dry {
		for _, n := range sortedNames(files) {
			a.say("would write " + n)
		}
		a.say("no pattern file was written")
		return nil
	}
	if err := writeFiles(b.p.root, files); err != nil {
		return err
	}
	a.wrote(files)
	if err := b.remember(); err != nil {
		return fmt.Errorf("the pieces are written, but not what the drawing showed: %w", err)
	}
	switch {
	case len(files) == 0:
		a.say("no piece takes anything from the drawing: nothing to write")
	case len(b.after.Seams) == 0:
		a.say("next: seamkeep describe, which proposes names and seams")
	default:
		a.say("next: seamkeep compare, to see what the drawing changed")
	}
	return nil
}

// inTheWay refuses where a new piece would overwrite what is no pattern file.
func (b *bringing) inTheWay(files map[string][]byte) error {
	for _, n := range sortedNames(files) {
		_, read := b.l.folder.Sources[n]
		if _, err := os.Lstat(filepath.Join(b.p.root, filepath.FromSlash(n))); err == nil && !read {
			return refused("%s is there already and is no piece of this pattern; nothing was written", n)
		}
	}
	return nil
}

// waistOf gives where the waist lies on the page, if the command line says so.
func (i *importing) waistOf() pattern.Opt {
	if !i.hasWaist {
		return pattern.Opt{}
	}
	return pattern.Some(i.waist)
}
