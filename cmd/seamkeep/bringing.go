package main

import (
	"fmt"
	"math"
	"path"
	"path/filepath"
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
	p        *place
	l        *loaded
	o        *importing
	memory   imported
	drawings []readDrawings
	arrivals []*arrival
	levels   []pattern.Level
	problems diag.List
	after    *pattern.Garment // the pattern with what arrived
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
	name      string // of the piece that it is
	by        string // how that was known, in words; empty where its name says so
	now       *pattern.Piece
	base      *pattern.Piece
	complete  bool         // the drawing shows all marks: it was exported, or they came from it
	at        *curve.Point // where the piece's own 0 0 lies in the frame of the ring; nil: unknown
	piece     *pattern.Piece
	outcome   again.Outcome
	undecided bool // the problems say what must be decided first
}

func newBringing(p *place, l *loaded, o *importing) *bringing {
	return &bringing{p: p, l: l, o: o, memory: p.remembered(), after: pattern.Clone(l.folder.Garment)}
}

// read takes one file in.
func (b *bringing) read(file string, src []byte) {
	name := filepath.ToSlash(file)
	if strings.EqualFold(filepath.Ext(file), ".csv") {
		b.readTable(name, src)
		return
	}
	d, problems := vector.Read(name, src, b.o.read)
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
		b.arrivals = append(b.arrivals, &arrival{file: file, drawn: one})
	}
	b.levels = append(b.levels, sheet.Heights...)
}

// readTable takes a table of widths as if it had been drawn.
func (b *bringing) readTable(file string, src []byte) {
	t, problems := table.Read(file, src)
	b.problems = append(b.problems, problems...)
	if t == nil || problems.HasErrors() {
		return
	}
	for _, p := range t.Pieces {
		ring := p.Outline()
		box := ring.Bounds()
		b.arrivals = append(b.arrivals, &arrival{file: file, drawn: drawing.Drawn{
			Name: p.Name, Title: p.Title, How: drawing.ByLabel, ID: p.Name, Ring: ring, Piece: p, Place: p.Place,
			ToPage: curve.Affine{A: 1, D: -1}, Width: box.Width(), Height: box.Height(),
			Perimeter: ring.Length(1e-6), Area: math.Abs(ring.Area()),
		}})
	}
	b.levels = append(b.levels, t.Levels...)
}

// bring finds out which piece each arrival is and what it changes.
func (b *bringing) bring() {
	b.identify()
	for _, x := range b.arrivals {
		b.merge(x)
	}
	b.addLevels()
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
		b.after.Pieces = append(b.after.Pieces, x.piece)
		return
	}
	x.at = b.at(x)
	if err := b.findBase(x); err != nil {
		b.problems = append(b.problems, historyFault(x, err))
		return
	}
	d := again.Drawn{Ring: x.drawn.Ring, Marks: x.drawn.Piece.Marks, HasMarks: x.complete, Grain: x.drawn.Piece.Grain}
	piece, outcome, problems := again.Merge(x.base, x.now, d, again.Options{Take: again.Take(b.o.take), At: x.at})
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

func historyFault(x *arrival, err error) diag.Problem {
	return diag.Problem{
		ID: "drawing.history", Severity: diag.Error, Place: x.drawn.Place, Subject: x.name,
		Found: fmt.Sprintf("the earlier versions of %s cannot be read: %v", x.name, err), Expected: "a history that git can read",
	}
}

// at gives where the piece's own 0 0 lies in the frame of the drawn ring, as
// the drawing says it or as this clone remembers it.
func (b *bringing) at(x *arrival) *curve.Point {
	page := x.drawn.At
	if page == nil {
		m, ok := b.remembered(x)
		if !ok || m.At == nil {
			return nil
		}
		page = &curve.Point{X: m.At[0], Y: m.At[1]}
	}
	back, ok := x.drawn.ToPage.Inverse()
	if !ok {
		return nil
	}
	at := back.Apply(*page)
	return &at
}

// findBase finds the state of the piece that the drawing was made from: what
// this clone remembers of it, unless it was exported anew since; what it says
// itself; an earlier version that it shows.
func (b *bringing) findBase(x *arrival) error {
	file := b.p.pieceFile(x.name)
	m, ok := b.remembered(x)
	if ok && m.Base == x.drawn.Base {
		if x.base = soundPiece(file, []byte(m.Text)); x.base != nil {
			x.complete = x.drawn.Base != "" || len(x.base.Marks) > 0
			return nil
		}
	}
	if x.base = b.p.blobPiece(x.name, x.drawn.Base); x.base != nil {
		x.complete = true
		return nil
	}
	const most = 200
	past, err := b.p.pastPieces(x.name, most)
	if err != nil {
		return err
	}
	for _, was := range past {
		_, outcome, problems := again.Merge(nil, was, again.Drawn{Ring: x.drawn.Ring}, again.Options{At: x.at})
		if !problems.HasErrors() && outcome.Report.Same() {
			x.base = was
			return nil
		}
	}
	return nil
}

// remembered gives what this clone remembers of an arrival.
func (b *bringing) remembered(x *arrival) (importedPiece, bool) {
	m, ok := b.memory.Drawings[b.p.drawingKey(x.file)][path.Join(b.p.dir, x.name)]
	return m, ok
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

// remember writes down what each drawing shows: not what the pattern became of
// it, which may hold what was altered there.
func (b *bringing) remember() error {
	for _, x := range b.arrivals {
		shows, fit := x.shows()
		if shows == nil {
			continue
		}
		key := b.p.drawingKey(x.file)
		if b.memory.Drawings[key] == nil {
			b.memory.Drawings[key] = map[string]importedPiece{}
		}
		m := importedPiece{ID: x.drawn.ID, Base: x.drawn.Base, Text: string(text.PrintPiece(shows)), X: x.middle()}
		if back, ok := fit.Affine().Inverse(); ok {
			origin := x.drawn.ToPage.Apply(back.Apply(curve.Point{}))
			m.At = &[2]float64{origin.X, origin.Y}
		}
		b.memory.Drawings[key][path.Join(b.p.dir, x.name)] = m
	}
	return b.p.remember(b.memory)
}

// shows gives the piece as the drawing has it, in the piece's own frame and with
// the names that it has now, and what lays the drawing on that frame.
func (x *arrival) shows() (*pattern.Piece, curve.Rigid) {
	if x.now == nil {
		return x.piece, curve.Rigid{}
	}
	d := again.Drawn{Ring: x.drawn.Ring, Marks: x.drawn.Piece.Marks, HasMarks: x.complete, Grain: x.drawn.Piece.Grain}
	for _, on := range []*pattern.Piece{x.piece, x.base, x.now} {
		if on == nil {
			continue
		}
		piece, report, problems := again.Lay(on, d, again.Options{At: x.at})
		if !problems.HasErrors() && report.By != again.ByCorners {
			return piece, report.Fit
		}
	}
	return nil, curve.Rigid{}
}
