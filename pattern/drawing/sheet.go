package drawing

import (
	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

// Options are the answers to what a drawing leaves open.
type Options struct {
	// WaistY is how far below the page's top edge the waist line lies, in mm, for
	// pieces without a line called waist. Unset: such pieces have no levels.
	WaistY pattern.Opt
	// Snap closes gaps between lines that make an outline, up to this many mm. 0:
	// gaps of more than 0.05 mm are reported only.
	Snap float64
	// Outline says which of two lines that run beside each other all round is the
	// outline.
	Outline Which
}

// Which picks one of two rings.
type Which string

// The answers to which of two rings is the outline.
const (
	Ask   Which = ""
	Inner Which = "inner"
	Outer Which = "outer"
)

// Sheet is what the lines of a drawing are. Each item of the drawing is the line
// of a piece (in its Lines), a level, or left.
type Sheet struct {
	Pieces []Drawn     // in the order of the drawing
	Levels []LevelLine // in the order of the drawing
	// Heights are the levels of the garment, as most pieces that show them have
	// them, in the order of the drawing; none where no waist is known.
	Heights []pattern.Level
	Left    []Left // decoration and what could not be taken, in the order of the drawing
}

// Drawn is one piece as it is drawn.
type Drawn struct {
	Name, Title string
	How         How    // where the name comes from
	ID          string // of the element of the outline, as written; of the first one where several were joined
	Label       string // of the same element
	Layer       string // label, else id, of the layer or group that holds the piece alone
	Base        string // our own attribute: git's id of the piece file that was exported
	// At is our own attribute: where the piece's 0 0 lay on the page when it was
	// exported, mm from the top left, y down. Moving a layer does not change it.
	At *curve.Point
	// Ring is the outline: closed, y up, anticlockwise from the corner nearest the
	// top left, rounded to 0.001 mm, in the piece's provisional frame. That frame
	// has its 0 0 at At, where At is given and no waist line contradicts it; else
	// x = 0 at the left of the outline, and y = 0 at its waist line, or at its
	// lowest point where it has none.
	Ring curve.Path
	// Piece is the ring with corners c1, c2 ... and edges e1, e2 ..., the lengths
	// recorded, and with its marks, notches, grain and own levels.
	Piece *pattern.Piece
	// ToPage leads from the provisional frame to page mm, y down. It is upright.
	ToPage curve.Affine
	// Width and Height of the box round the ring, in mm, to be held against a tape
	// measure; Perimeter in mm to 1e-6; Area in square mm.
	Width, Height, Perimeter, Area float64
	Place                          diag.Place
	Joined                         int    // number of lines that were joined; 0 where it is drawn as one
	Lines                          []Line // the outline's own, then the others in the order of the drawing
}

// How says by what something got its name.
type How string

// The ways to a name.
const (
	ByOwn    How = "own attribute"
	ByLabel  How = "label"
	ByLayer  How = "layer"
	ByID     How = "id"
	ByShape  How = "shape"  // not by name: by what it looks like
	ByNumber How = "number" // by what the drawing program or we made up
)

// Line is a drawn line that belongs to a piece.
type Line struct {
	Item  int // number of the item in the drawing
	Place diag.Place
	ID    string
	What  What
	Kind  pattern.MarkKind // of a mark
	Edge  string           // of a notch: the edge that our own attribute names; empty for others
	Name  string           // of the notch or mark
	How   How              // by what it was known
}

// What a line is.
type What string

// What lines may be.
const (
	OutlineLine What = "outline"
	MarkLine    What = "mark"
	NotchLine   What = "notch"
	GrainLine   What = "grain"
)

// LevelLine is a drawn line that gives a level.
type LevelLine struct {
	Item   int // number of the item in the drawing
	Place  diag.Place
	ID     string
	Name   string
	How    How
	PageY  float64  // mm below the page's top
	Y      float64  // mm above the waist, rounded to 0.001, where Known
	Known  bool     // a piece that it crosses has a waist
	Pieces []string // that it crosses
}

// Left is an item of the drawing that became no part of a piece.
type Left struct {
	Item  int // number of the item in the drawing
	Place diag.Place
	ID    string
	Label string
	Why   string // finishes the sentence "the line ..."
}

// Recognise tells what the lines of a drawing are: by our own attributes, by
// labels and layers, by their shape. The Sheet is never nil. A caller that finds
// an Error in the list should write nothing: something must be decided first, and
// the hint says how.
func Recognise(d *vector.Drawing, o Options) (*Sheet, diag.List) {
	if !(o.Snap > 0) {
		o.Snap = 0
	}
	return recogniseWithin(d, o, maxWork)
}

// recogniseWithin looks at so many segments for what lies in what, and gives up
// with an Error then.
func recogniseWithin(d *vector.Drawing, o Options, work int) (*Sheet, diag.List) {
	r := &recogniser{d: d, opt: o, sheet: &Sheet{}, work: work, told: map[string]int{}}
	r.gather()
	r.join()
	r.sortRings()
	r.name()
	r.claims()
	r.levels()
	r.build()
	r.place()
	r.finish()
	r.tellMore()
	r.probs.Sort()
	return r.sheet, r.probs
}
