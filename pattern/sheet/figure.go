package sheet

import (
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/sheet/ink"
)

// Widths of lines and sizes of letters on a piece, mm. Cut and sewing line are
// told apart by their weight and the dashes, so that grey print will do.
const (
	cutWidth    = 0.5
	sewingWidth = 0.25
	markWidth   = 0.25
	levelWidth  = 0.15
	levelGrey   = 0.45

	smallSize = 2.6  // names of levels, marks, edges
	flat      = 0.05 // of lines that tell where words may stand
	placeTol  = 1e-6 // of places along an edge
)

func sewingDash() []float64 { return []float64{3, 1.6} }
func levelDash() []float64  { return []float64{7, 1.5, 1, 1.5} }

// figure is one piece as it is drawn, left or right, in its own frame turned so
// that the grain stands upright.
type figure struct {
	garment *pattern.Garment
	piece   *pattern.Piece
	guise
	view  curve.Affine // from the plane of the piece
	face  *ink.Face
	words []words // of the label, the first ones the greatest

	drawing ink.Drawing
	allowed bool            // it has a cut line
	faults  diag.List       // why it has none
	outer   []curve.Path    // what is cut, or sewn where there is no cut line
	room    *room           // where small words may stand
	outside []bool          // its cells outside the outline
	later   [][]ink.Text    // words, each with its places, that wait for the label
	box     curve.Box       // of all that is drawn
	traces  [][]curve.Point // all that a tile must show
}

// newFigure draws a piece. A piece whose files are faulty is drawn as far as it
// goes.
func newFigure(g *pattern.Garment, p *pattern.Piece, as guise, label []words, face *ink.Face) *figure {
	f := &figure{garment: g, piece: p, guise: as, face: face, words: label, view: upright(p)}
	if as.mirrored {
		f.view = f.view.Then(curve.Scale(-1, 1))
	}
	f.lines()
	if !f.allowed {
		f.words = append(f.words, words{"NO ALLOWANCE: only the sewing line", 3.4})
	}
	f.makeRoom()
	f.eachHalf(f.levels)
	f.eachHalf(f.marks)
	f.grain()
	f.folds()
	f.centre()
	f.label()
	f.stretch()
	f.names()
	f.measure()
	return f
}

// upright turns a piece so that its grain stands upright, its waist end down. A
// grain that stands already leaves every number as it is.
func upright(p *pattern.Piece) curve.Affine {
	if p.Grain == nil || p.Grain.From.X == p.Grain.To.X || p.Grain.From == p.Grain.To {
		return curve.Identity()
	}
	way := p.Grain.To.Sub(p.Grain.From)
	if way.Y < 0 {
		way = way.Mul(-1)
	}
	return curve.Rotate(math.Pi/2 - math.Atan2(way.Y, way.X))
}

func (f *figure) at(p curve.Point) curve.Point { return f.view.Apply(p) }

// way turns a direction of the piece.
func (f *figure) way(v curve.Point) curve.Point {
	return f.view.Apply(v).Sub(f.view.Apply(curve.Point{}))
}

// lines draws the sewing line, the cut line and the notches on both.
func (f *figure) lines() {
	const tol = 0.01
	outline := f.sewingLine()
	f.outer = []curve.Path{outline}
	f.stroke(ink.Stroke{Layer: ink.Sewing, Path: outline, Width: sewingWidth, Dash: sewingDash()})
	var cut Outline
	if len(f.garment.Allowances) > 0 {
		cut, f.faults = Cut(f.garment, f.piece, tol)
	}
	if len(cut.Path) == 0 {
		f.eachHalf(func() {
			for _, n := range f.piece.Notches {
				f.notch(n)
			}
		})
		return
	}
	f.allowed = true
	edges := make([]curve.Path, len(cut.Edges))
	for i, e := range cut.Edges {
		edges[i] = e.Path
	}
	f.outer[0] = f.whole(edges)
	f.stroke(ink.Stroke{Layer: ink.Cut, Path: f.outer[0], Width: cutWidth})
	f.eachHalf(func() {
		for _, n := range cut.Notches {
			f.cutNotch(n)
		}
	})
}

func (f *figure) stroke(s ink.Stroke) {
	if len(s.Path) > 0 {
		f.drawing.Strokes = append(f.drawing.Strokes, s)
	}
}

// notchSize is how far a notch reaches out of the sewing line where nothing else
// says so, mm.
const notchSize = 5

// cutNotch draws a notch from the sewing line to the cut line, bold as far as it is
// snipped; on an edge without allowance it is a tick that leaves the piece.
func (f *figure) cutNotch(n CutNotch) {
	at, in, sewing := f.at(n.At), f.at(n.In), f.at(n.Sewing)
	if n.Depth == 0 {
		p := f.piece.Notches[f.piece.NotchIndex(n.Edge, n.Name)]
		f.notch(p)
		return
	}
	f.drawing.Line(ink.Sewing, sewingWidth, 0, sewing, at)
	f.drawing.Line(ink.Cut, cutWidth, 0, in, at)
}

// notch draws a notch from the sewing line outwards; one that has no place on its
// edge is left out: the checks speak of it.
func (f *figure) notch(n pattern.Notch) {
	i := f.piece.EdgeIndex(n.Edge.Name)
	if i < 0 {
		return
	}
	d, fault := f.garment.SpotAt(f.piece, i, n.On, placeTol)
	if fault != nil {
		return
	}
	from, ok := f.insideEdge(i, d, 0)
	to, _ := f.insideEdge(i, d, -notchSize)
	if ok {
		f.drawing.Line(ink.Sewing, cutWidth, 0, from, to)
	}
}

// makeRoom begins the map of what is free inside the outline.
func (f *figure) makeRoom() {
	f.room = newRoom(f.outerBox().Grow(2), 1)
	outline := f.sewingLine()
	f.room.outside(outline.Flatten(flat))
	f.outside = slices.Clone(f.room.taken)
	f.room.line(outline, 1.5)
}

// measure takes the box of all that was drawn.
func (f *figure) measure() {
	f.box = curve.EmptyBox()
	for _, s := range f.drawing.Strokes {
		f.box = f.box.Union(s.Path.Bounds().Grow(s.Width / 2))
	}
	for _, t := range f.drawing.Texts {
		f.box = f.box.Union(t.Box(f.face))
	}
	if f.box.Empty() {
		f.box = f.box.Add(curve.Point{})
	}
}

// write adds a text and takes its room.
func (f *figure) write(t ink.Text) {
	f.drawing.Write(t)
	f.room.quad(t.Corners(f.face, 0.5))
}

// put writes a text at the first of the places that is free.
func (f *figure) put(texts ...ink.Text) bool {
	for _, t := range texts {
		if t.Words != "" && f.room.freeQuad(t.Corners(f.face, 0)) {
			f.write(t)
			return true
		}
	}
	return false
}
