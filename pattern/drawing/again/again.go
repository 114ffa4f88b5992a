package again

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Drawn is one piece as a drawing has it, in mm, y up, in a frame of its own:
// where it lies on the sheet and how it is turned has no meaning.
type Drawn struct {
	// Ring is the closed outline, as seen on the right side of the cloth. Its
	// direction, its start and how its line is cut into segments have no meaning.
	Ring curve.Path
	// Marks are the lines and points drawn on the piece, in the frame of the
	// ring. A mark without a name is known by its kind and place.
	Marks []pattern.Mark
	// HasMarks says that the drawing shows all marks, so that one that is not
	// among Marks was taken out.
	HasMarks bool
	// Grain is in the frame of the ring; nil: not drawn, the piece keeps its own.
	Grain *pattern.Grain
}

// Take says which side wins where the drawing and the pattern both changed.
type Take string

// The sides. The zero Take is neither: a conflict is an Error.
const (
	TakeDrawing Take = "drawing"
	TakePattern Take = "pattern"
)

// Options say how a drawing is to be laid on a piece.
type Options struct {
	Take Take
	// At is where the piece's own 0 0 lies in the frame of the drawing, as far
	// as the drawing says so; nil: unknown. It is believed only where an edge
	// lies in place by it, or where no edge kept its shape.
	At *curve.Point
	// Within is how far apart, in mm, two lines may lie and still be the same;
	// 0 means Noise of the piece.
	Within float64
}

// How says by what a drawing was laid on its piece.
type How string

// The ways to lay a drawing on a piece.
const (
	ByEdges   How = "edges"   // by the edges that kept their shape
	ByPage    How = "page"    // by its place on the sheet
	ByCorners How = "corners" // by its corners, in least squares: the frame is a guess
)

// Report says what was found when a drawing was laid on a piece. Names are those
// of the new version; of what is gone, those of the old one. Marks are given as
// KIND NAME.
type Report struct {
	Fit     curve.Rigid // lays the drawing on the piece
	By      How
	Kept    []string // edges that lie as they lay
	Changed []string // edges whose line changed
	Moved   []string // corners that stand elsewhere
	New     Parts
	Gone    Parts
	Redrawn []string // marks, or "grain", that lie elsewhere
}

// Parts are names of parts of a piece.
type Parts struct {
	Corners, Edges, Marks []string
}

// Same tells whether nothing was drawn anew.
func (r Report) Same() bool {
	return len(r.Changed)+len(r.Moved)+len(r.Redrawn)+r.New.count()+r.Gone.count() == 0
}

func (p Parts) count() int { return len(p.Corners) + len(p.Edges) + len(p.Marks) }

// Noise is how far, in mm, the line of a piece may stray on its way through a
// drawing program: rounding to the step of a file, and eight digits of numbers
// as large as the sheet, a few times over.
func Noise(p *pattern.Piece) float64 {
	const step, relative = 0.002, 1e-5
	b := p.Outline().Bounds()
	return step + relative*math.Max(b.Width(), b.Height())
}

// Lay turns a drawn ring into the next version of piece p: laid on p by the
// edges that kept their shape, cut at p's corners. An edge that lies as it lay
// within Options.Within keeps its record, a corner its number; where nothing
// changed the result says exactly what p says. Changed edges take the drawn
// segments, rounded to 0.001 mm, and their measured length.
//
// A corner keeps its name where it still stands, and else where a joint stands
// in its place between the same neighbours. New corners are named c1, c2 and so
// on, new edges e1, e2; the longest part of an edge that was cut keeps its name,
// the others say what they were. All else that p says stays.
//
// The piece is nil where the list has an Error that leaves nothing to show: an
// outline without an inside, a mirror image. With any other Error (a notch on an
// edge that is gone, a line that now crosses itself) the piece is what the
// drawing makes of p, and must not be written.
func Lay(p *pattern.Piece, d Drawn, o Options) (*pattern.Piece, Report, diag.List) {
	y := lay(p, d, o, nil)
	return y.piece, y.report, y.problems
}

// laying is a drawing laid on a piece.
type laying struct {
	piece    *pattern.Piece
	report   Report
	corners  []int               // the old corner that each corner of piece is, or -1
	edges    []int               // the old edge whose record each edge of piece continues, or -1
	parts    map[string][]string // of an old edge that was cut: the names of its other parts
	problems diag.List
}

// lay is Lay; taken are further names that new corners and edges must not bear.
func lay(p *pattern.Piece, d Drawn, o Options, taken *pattern.Piece) *laying {
	y := &laying{}
	k, ok := keptOf(p, o.Within)
	if !ok {
		y.add(p, "outline", diag.Error, "", "its outline lacks a corner or an edge", "a corner for each edge",
			"mend the file of the piece first")
		return y
	}
	ring, fault := sound(d.Ring, k.within)
	if fault != "" {
		y.add(p, "outline", diag.Error, "", fault, "one closed line round the piece", "draw the outline anew, or take it from an export")
		return y
	}
	f, ok := y.frame(k, newLoop(ring), d, o)
	if !ok {
		return y
	}
	y.report.Fit, y.report.By = f.fit, f.by
	laid := newLoop(ring.Transform(f.fit.Affine()))
	if f.lays.all() || k.covers(laid) {
		y.keepAll(k)
	} else {
		y.build(k, newPlan(k, laid, f.lays), taken)
	}
	y.marks(p, d, f.fit, k.within)
	return y
}

// keepAll makes the result p itself.
func (y *laying) keepAll(k *kept) {
	y.piece = pattern.Clone(k.piece)
	y.corners, y.edges = make([]int, len(k.paths)), make([]int, len(k.paths))
	for i, e := range k.piece.Edges {
		y.corners[i], y.edges[i] = i, i
		y.report.Kept = append(y.report.Kept, e.Name)
	}
}

// add notes a problem of piece p; edge may be empty.
func (y *laying) add(p *pattern.Piece, id string, s diag.Severity, edge, found, expected, hint string) {
	y.problems = append(y.problems, problem(p, id, s, edge, found, expected, hint))
}

func problem(p *pattern.Piece, id string, s diag.Severity, edge, found, expected, hint string) diag.Problem {
	x := diag.Problem{
		ID: "drawing." + id, Severity: s, Place: p.Place, Subject: p.Name,
		Found: p.Name + ": " + found, Expected: expected, Hint: hint,
	}
	x.Place.Piece = p.Name
	if edge != "" {
		x.Subject += "." + edge
		x.Place.Edge = edge
		if i := p.EdgeIndex(edge); i >= 0 {
			x.Place.File, x.Place.Line, x.Place.Column = p.Edges[i].Place.File, p.Edges[i].Place.Line, p.Edges[i].Place.Column
		}
	}
	return x
}
