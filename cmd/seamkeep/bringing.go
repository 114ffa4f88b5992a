package main

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing"
	"seamkeep/pattern/drawing/again"
	"seamkeep/pattern/drawing/table"
	"seamkeep/pattern/drawing/vector"
	"seamkeep/pattern/text"
)

// bringing is one run of import: drawings in, pieces and findings out.
type bringing struct {
	p         *place
	l         *loaded
	o         *importing
	memory    imported
	drawings  []readDrawings
	arrivals  []*arrival
	levels    []pattern.Level
	problems  diag.List
	after     *pattern.Garment // the pattern with what arrived
	sizes     map[string]toldSize
	said      []string // what else the maker should know
	waistless bool
}

// readDrawings is a file as it was understood.
type readDrawings struct {
	file  string
	scale vector.Scale
	sheet *drawing.Sheet
	skips []vector.Skipped
}

// arrival is one drawn piece on its way into the pattern.
type arrival struct {
	file      string // the drawing
	drawn     drawing.Drawn
	name      string              // of the piece that it is
	by        string              // how that was known, in words; empty where its name says so
	levels    []drawing.LevelLine // that cross it
	now       *pattern.Piece
	base      *pattern.Piece
	at        *curve.Point // where the piece's own 0 0 lies in the frame of the ring; nil: unknown
	piece     *pattern.Piece
	outcome   again.Outcome
	undecided bool // the problems say what must be decided first
}

func newBringing(p *place, l *loaded, o *importing) (*bringing, error) {
	memory, err := p.remembered()
	if err != nil {
		return nil, unreadable(err)
	}
	return &bringing{p: p, l: l, o: o, memory: memory, after: pattern.Clone(l.folder.Garment), sizes: map[string]toldSize{}}, nil
}

// read takes one file in.
func (b *bringing) read(file string, src []byte) {
	name := filepath.ToSlash(file)
	if strings.EqualFold(filepath.Ext(file), ".csv") {
		b.readTable(name, src)
		return
	}
	options := b.o.read
	if size, ok := b.memory.Sizes[b.p.drawingKey(file)]; ok && options.DPI == 0 && len(options.Known) == 0 {
		options.DPI, options.Known = size.DPI, size.Known
		b.said = append(b.said, fmt.Sprintf("%s is read at the size that was told when it was last imported; say it anew with --known or --dpi", name))
	}
	d, problems := vector.Read(name, src, options)
	leaveKnown(d, options.Known)
	b.sizes[b.p.drawingKey(file)] = toldSize{options.DPI, options.Known}
	sheet, more := drawing.Recognise(d, drawing.Options{WaistY: b.o.waistOf(), Snap: b.o.snap, Outline: drawing.Which(b.o.outline)})
	if problems.HasErrors() {
		// a drawing that was not read truly holds nothing: say that alone
		more = more.Only(diag.Error)
		if len(d.Items) == 0 {
			more = nil
		}
	}
	b.problems = append(append(b.problems, problems...), more...)
	b.drawings = append(b.drawings, readDrawings{file, d.Scale, sheet, d.Skipped})
	for _, one := range sheet.Pieces {
		x := &arrival{file: file, drawn: one}
		for _, l := range sheet.Levels {
			if slices.Contains(l.Pieces, one.Name) {
				x.levels = append(x.levels, l)
			}
		}
		b.arrivals = append(b.arrivals, x)
	}
	b.levels = append(b.levels, sheet.Heights...)
}

// leaveKnown takes out lines and squares of a known length: they are there to be
// measured.
func leaveKnown(d *vector.Drawing, known []vector.KnownLength) {
	const slack = 0.01
	d.Items = slices.DeleteFunc(d.Items, func(i vector.Item) bool {
		for _, k := range known {
			if i.ID != k.ID && i.Label != k.ID {
				continue
			}
			box := i.Path.Bounds()
			square := math.Abs(box.Width()-box.Height()) <= slack*box.Width()
			if !i.Closed || square && math.Abs(i.Path.Area()) >= (1-slack)*box.Width()*box.Height() {
				d.Skipped = append(d.Skipped, vector.Skipped{Place: i.Place, ID: i.ID, Label: i.Label, Why: "is the length that is known"})
				return true
			}
		}
		return false
	})
}

// readTable takes a table of widths as if it had been drawn.
func (b *bringing) readTable(file string, src []byte) {
	t, problems := table.Read(file, src)
	b.problems = append(b.problems, problems...)
	if t == nil || problems.HasErrors() {
		return
	}
	for i, p := range t.Pieces {
		ring := p.Outline()
		box := ring.Bounds()
		b.arrivals = append(b.arrivals, &arrival{file: file, drawn: drawing.Drawn{
			Name: p.Name, Title: p.Title, How: drawing.ByLabel, ID: p.Name, Ring: ring, Piece: p, Place: p.Place,
			// the rows stand for the order on a sheet, a meter apart
			ToPage: curve.Affine{A: 1, D: -1, E: float64(i) * 1000}, Width: box.Width(), Height: box.Height(),
			Perimeter: ring.Length(1e-6), Area: math.Abs(ring.Area()),
		}})
	}
	b.levels = append(b.levels, t.Levels...)
}

// bring finds out which piece each arrival is and what it changes.
func (b *bringing) bring() {
	b.identify()
	if len(b.o.only) > 0 {
		b.arrivals = slices.DeleteFunc(b.arrivals, func(x *arrival) bool { return !slices.Contains(b.o.only, x.name) })
	}
	for _, x := range b.arrivals {
		b.merge(x)
	}
	b.addLevels()
	b.levelsMoved()
	b.after.SortPieces()
	if !b.problems.HasErrors() {
		b.checkNames()
	}
}

// merge brings one drawn piece into the pattern.
func (b *bringing) merge(x *arrival) {
	if x.now == nil {
		x.piece = pattern.Clone(x.drawn.Piece)
		x.piece.Name = x.name
		x.outcome.Status = again.New
		b.look(x)
		b.after.Pieces = append(b.after.Pieces, x.piece)
		return
	}
	if err := b.findBase(x); err != nil {
		b.problems = append(b.problems, historyFault(x, err))
		return
	}
	if len(b.o.only) > 0 && b.o.take == string(again.TakeDrawing) {
		x.base = nil // asked for by name: whatever came in between
	}
	piece, outcome, problems := again.Merge(x.base, x.now, x.asDrawn(x.base != nil), again.Options{Take: again.Take(b.o.take), At: x.at})
	for i := range problems {
		if problems[i].Place.File == "" {
			problems[i].Place = x.drawn.Place
		}
		problems[i].Place.Piece = x.name
	}
	b.problems = append(b.problems, problems...)
	x.piece, x.outcome = piece, outcome
	if x.undecided = piece == nil || problems.HasErrors(); x.undecided {
		return
	}
	for i, p := range b.after.Pieces {
		if p.Name == x.name {
			b.after.Pieces[i] = piece
		}
	}
}

// look warns of what a new piece will be judged by ever after: its frame.
func (b *bringing) look(x *arrival) {
	warn := func(id, found, expected, hint string) {
		b.problems = append(b.problems, diag.Problem{
			ID: id, Severity: diag.Warning, Place: x.drawn.Place, Subject: x.name, Found: found, Expected: expected, Hint: hint,
		})
	}
	if g := x.piece.Grain; g != nil {
		const slack = 1.0 // degree
		way := g.To.Sub(g.From)
		if lean := math.Atan2(math.Abs(way.X), math.Abs(way.Y)) * 180 / math.Pi; lean > slack {
			warn("drawing.lean", fmt.Sprintf("%s lies turned: its grain leans by %.1f degrees, and its levels and widths are those of the turned piece", x.name, lean),
				"a new piece with its grain upright, unless the cloth is cut on the cross", "turn it upright in the drawing and import again, before it is kept")
		}
	}
	if x.piece.NoLevels && len(b.l.folder.Garment.Levels) > 0 && !b.waistless {
		b.waistless = true // once: the answer is the same for all
		warn("drawing.waist", fmt.Sprintf("no line called waist crosses %s: its 0 0 is at its lowest point, and no level, girth or seam can be told of it", x.name),
			"one line called waist through all pieces that go round the body", "draw it and import again before the pieces are kept, or say how far below the page's top it lies: --waist MM; a strap needs none")
	}
}

func historyFault(x *arrival, err error) diag.Problem {
	return diag.Problem{
		ID: "drawing.history", Severity: diag.Error, Place: x.drawn.Place, Subject: x.name,
		Found: fmt.Sprintf("the earlier versions of %s cannot be read: %v", x.name, err), Expected: "a history that git can read",
	}
}

// asDrawn gives the arrival as it is laid. Where it is complete, a mark that it
// does not show is one that it shows no longer, as against its base.
func (x *arrival) asDrawn(complete bool) again.Drawn {
	return again.Drawn{Ring: x.drawn.Ring, Marks: x.drawn.Piece.Marks, HasMarks: complete, Grain: x.drawn.Piece.Grain}
}

// inRing gives a place of the page in the frame of the drawn ring.
func (x *arrival) inRing(page *curve.Point) *curve.Point {
	back, ok := x.drawn.ToPage.Inverse()
	if !ok || page == nil {
		return nil
	}
	at := back.Apply(*page)
	return &at
}

// addLevels gives the garment the levels of the drawing that it lacks.
func (b *bringing) addLevels() {
	for _, level := range b.levels {
		y, there := b.after.Level(level.Name)
		switch {
		case !there:
			level.Place = diag.Place{}
			b.after.Levels = append(b.after.Levels, level)
		case math.Abs(y-level.Y) > pattern.Grid:
			b.problems = append(b.problems, diag.Problem{
				ID: "drawing.level", Severity: diag.Warning, Place: level.Place, Subject: level.Name,
				Found:    fmt.Sprintf("level %s lies at %.1f in the drawing, at %.1f in the garment; the garment's stays", level.Name, level.Y, y),
				Expected: "the same height", Hint: "if the drawing is right, write its height into the garment file",
			})
		}
	}
}

// levelsMoved tells where a line that gives a level lies elsewhere in the drawing
// than on the piece. The pieces keep their levels; but a new piece, which takes
// its height from such a line, would come in too high or too low.
func (b *bringing) levelsMoved() {
	severity := diag.Warning
	for _, x := range b.arrivals {
		if x.now == nil && len(x.levels) > 0 {
			severity = diag.Error
		}
	}
	told := map[string]bool{}
	for _, x := range b.arrivals {
		fit := x.outcome.Report.Fit
		back, ok := x.drawn.ToPage.Inverse()
		if x.now == nil || x.undecided || !ok || math.Abs(fit.Angle) > 1e-6 {
			continue
		}
		for _, l := range x.levels {
			y, there := b.l.folder.Garment.LevelOn(x.now, l.Name)
			off := fit.Affine().Apply(back.Apply(curve.Pt(x.middle(), l.PageY))).Y - y
			if !there || math.Abs(off) <= levelSlack || told[l.Name] {
				continue
			}
			told[l.Name] = true
			b.problems = append(b.problems, diag.Problem{
				ID: "drawing.level", Severity: severity, Place: l.Place, Subject: l.Name, Amount: math.Abs(off),
				Found:    fmt.Sprintf("the line %s lies %.1f mm %s in the drawing than on the piece %s, which keeps its level", l.Name, math.Abs(off), higher(off), x.name),
				Expected: "the line where the pieces have the level",
				Hint:     "move the line back; a level of the pattern is moved in the garment file",
			})
		}
	}
}

// levelSlack is how far, in mm, a drawn level may lie from where the piece has it.
const levelSlack = 0.5

func higher(off float64) string {
	if off > 0 {
		return "higher"
	}
	return "lower"
}

// checkNames refuses what would leave a seam, a run or a notch without its edge.
func (b *bringing) checkNames() {
	before := map[string]bool{}
	for _, x := range text.CheckNames(b.l.folder.Garment) {
		before[x.Address()+x.Found] = true
	}
	for _, x := range text.CheckNames(b.after) {
		if x.Severity == diag.Error && !before[x.Address()+x.Found] {
			x.Hint = "the drawing has this part no longer: write into the garment file what takes its place, or leave the pattern as it is with --take pattern"
			b.problems = append(b.problems, x)
		}
	}
}

// sheetX gives where the middles of the pieces lie, of this run and of earlier
// ones.
func (b *bringing) sheetX() map[string]float64 {
	out := b.p.sheetOrder()
	for _, x := range b.arrivals {
		out[x.name] = x.middle()
	}
	return out
}

func (x *arrival) middle() float64 {
	box := x.drawn.Ring.Bounds()
	return x.drawn.ToPage.Apply(box.Min.Lerp(box.Max, 0.5)).X
}
