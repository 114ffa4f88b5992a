package pattern

import (
	"sort"

	"seamkeep/pattern/diag"
)

// Half says how much of the garment the pieces draw.
type Half string

// A garment is drawn as one half that is mirrored, or whole.
const (
	LeftHalf  Half = "left"
	RightHalf Half = "right"
	Whole     Half = "whole"
)

// Garment is a pattern folder: its garment file and all its pieces.
type Garment struct {
	Place         diag.Place
	Name          string // base name of the garment file
	Title         string
	Half          Half
	Body          string // name of the body it is made for, or empty
	Rough         bool   // a rough mock-up: seams are judged at RoughSeam
	RequireClaims bool
	Tolerances    []Tolerance
	Levels        []Level
	Around        []Mention // the pieces that go round the body, front to back
	Options       []PieceOption
	Thickness     Opt // mm that the cloth adds to the girth
	Give          Opt // percent
	Cords         []LevelNum
	Reduce        []LevelNum
	Calibrate     []LevelNum
	Seams         []Seam
	Runs          []Run
	Closures      []Closure
	Buttons       []Fastening
	Eyelets       []Fastening
	Hooks         []Fastening
	Wanted        []Wanted
	Allowances    []Allowance
	Joins         []Join
	Clearances    []Clearance
	Accepted      []Accepted
	Pieces        []*Piece // by name
}

// Tolerance sets how far a thing may be off.
type Tolerance struct {
	Place diag.Place
	Kind  string // seam, notch, turn or step
	Value float64
	Warn  Opt
}

// PieceOption says what the garment knows of a piece.
type PieceOption struct {
	Place   diag.Place
	Piece   string
	Stretch Opt    // percent in use
	Of      Opt    // percent tested
	Tested  string // date, YYYY-MM-DD
	Whole   bool   // it is cut once for both halves
	Apart   bool   // never counts in a girth: a lining, a facing
	Number  int    // order on labels; 0 where none is given
}

// LevelNum is an amount at a level, in mm.
type LevelNum struct {
	Place diag.Place
	Level string
	Value float64
}

// Seam is two sides that are sewn together. The sides run opposite ways,
// since both outlines are anticlockwise, unless SameWay.
type Seam struct {
	Place    diag.Place
	Name     string
	First    []Ref
	Second   []Ref // empty where Mirrored
	Mirrored bool  // sewn to its own mirror image
	SameWay  bool
	Eases    []Ease
	Within   Opt // a tolerance of its own, mm
	Warn     Opt // from where on a difference is said, mm; only where Within is set
}

// Ease is how much longer the first side is meant to be, in mm: over the whole
// seam, or between two notches.
type Ease struct {
	Place    diag.Place
	Amount   float64
	From, To string
}

// Run is a style line that crosses seams: a neckline, a hem.
type Run struct {
	Place diag.Place
	Name  string
	Refs  []Ref
}

// The kinds of closures.
const (
	ButtonClosure = "buttons"
	Lacing        = "lacing"
	HookClosure   = "hooks"
	Slide         = "slide"
)

// Closure is where the garment opens.
type Closure struct {
	Place   diag.Place
	Name    string
	Kind    string
	Edges   []Ref // one, or one of each half
	Overlap Opt   // the whole overlap, mm
	Length  Opt   // of a slide fastener, mm
}

// Fastening says where buttons, eyelets or hooks of a closure stand; hooks have no
// diameter and no thickness.
type Fastening struct {
	Place     diag.Place
	Closure   string
	From      string // level of the anchor
	Pitch     Opt
	Diameter  Opt
	Thickness Opt
	Up, Down  Opt // counts from the anchor
	Count     Opt
	Margin    Opt
}

// Wanted is the gap that the maker aims at, mm.
type Wanted struct {
	Place    diag.Place
	Closure  string
	Level    string
	Min, Max float64
}

// Allowance is cloth outside the sewing line, mm.
type Allowance struct {
	Place  diag.Place
	Target Target
	Value  float64
}

// Join is how two allowances meet at a corner.
type Join struct {
	Place  diag.Place
	Target Target
	Kind   string // mitre, square, fold or clip
}

// Clearance is how much shorter than its channel a bone or cord is at each end, mm.
type Clearance struct {
	Place diag.Place
	Kind  string // bone or cord
	Value float64
}

// Accepted is a finding that the maker lets stand on purpose: the one with this ID
// about this subject, while it is no worse than Amount, in the finding's own unit; where
// there are Parts, while it is at no other places and at none worse than there. Then
// Amount is 0.
type Accepted struct {
	Place   diag.Place
	ID      string
	Subject string
	Amount  float64
	Parts   []diag.Part
	Reason  string
}

// Address is how the finding is named: "ID SUBJECT".
func (a Accepted) Address() string { return a.ID + " " + a.Subject }

// Clearance gives how much shorter than its channel a bone or a cord is, at each end, mm;
// 0 where nothing is recorded.
func (g *Garment) Clearance(kind MarkKind) float64 {
	for _, c := range g.Clearances {
		if c.Kind == string(kind) {
			return c.Value
		}
	}
	return 0
}

// Body is the measures of a person. It is private and lies outside the
// versions of a pattern.
type Body struct {
	Place    diag.Place
	Name     string
	Girths   []LevelNum
	Moves    []LevelNum // by how much its girth grows when it moves, mm
	Measured string     // date, YYYY-MM-DD
	Note     string
}

// Girth gives the body's girth at a level, mm.
func (b *Body) Girth(level string) (float64, bool) {
	if b == nil {
		return 0, false
	}
	return numAt(b.Girths, level)
}

// Move gives by how much the girth of the body grows at a level when it moves, mm, and
// whether that is recorded.
func (b *Body) Move(level string) (float64, bool) {
	if b == nil {
		return 0, false
	}
	return numAt(b.Moves, level)
}

// Fastened gives the record of the buttons, eyelets or hooks of a closure; nil where
// there is none.
func (g *Garment) Fastened(closure string) *Fastening {
	for _, list := range [][]Fastening{g.Buttons, g.Eyelets, g.Hooks} {
		for i := range list {
			if list[i].Closure == closure {
				return &list[i]
			}
		}
	}
	return nil
}

// Piece finds a piece by name; nil where there is none.
func (g *Garment) Piece(name string) *Piece {
	i := sort.Search(len(g.Pieces), func(i int) bool { return g.Pieces[i].Name >= name })
	if i < len(g.Pieces) && g.Pieces[i].Name == name {
		return g.Pieces[i]
	}
	return nil
}

// SortPieces puts the pieces in the order that Piece needs.
func (g *Garment) SortPieces() {
	sort.Slice(g.Pieces, func(i, j int) bool { return g.Pieces[i].Name < g.Pieces[j].Name })
}

// Edge follows a reference; ok is false where the piece or the edge is missing,
// and where a faulty file left the outline without one of its corners.
func (g *Garment) Edge(r Ref) (p *Piece, i int, ok bool) {
	p = g.Piece(r.Piece)
	if p == nil {
		return nil, 0, false
	}
	i = p.EdgeIndex(r.Edge)
	return p, i, i >= 0 && len(p.Corners) == len(p.Edges)
}

// Seam finds a seam by name; nil where there is none.
func (g *Garment) Seam(name string) *Seam {
	for i := range g.Seams {
		if g.Seams[i].Name == name {
			return &g.Seams[i]
		}
	}
	return nil
}

// Closure finds a closure by name; nil where there is none.
func (g *Garment) Closure(name string) *Closure {
	for i := range g.Closures {
		if g.Closures[i].Name == name {
			return &g.Closures[i]
		}
	}
	return nil
}

// Run finds a run by name; nil where there is none.
func (g *Garment) Run(name string) *Run {
	for i := range g.Runs {
		if g.Runs[i].Name == name {
			return &g.Runs[i]
		}
	}
	return nil
}

// Option gives what the garment says of a piece; the zero value where it says
// nothing.
func (g *Garment) Option(piece string) PieceOption {
	for i := range g.Options {
		if g.Options[i].Piece == piece {
			return g.Options[i]
		}
	}
	return PieceOption{Piece: piece}
}

// Level gives a level's height above the waist on the body, mm.
func (g *Garment) Level(name string) (float64, bool) { return levelIn(g.Levels, name) }

// LevelOn gives the height at which a level lies on a piece, mm: the piece's
// own where it has one, else the garment's, unless the piece has none.
func (g *Garment) LevelOn(p *Piece, name string) (float64, bool) {
	if y, ok := levelIn(p.Levels, name); ok {
		return y, true
	}
	if p.NoLevels {
		return 0, false
	}
	return g.Level(name)
}

// ReduceAt gives the intended reduction at a level, mm; 0 where none is given.
func (g *Garment) ReduceAt(level string) float64 { return orZero(g.Reduce, level) }

// CordsAt gives what cords take from the girth at a level, mm.
func (g *Garment) CordsAt(level string) float64 { return orZero(g.Cords, level) }

// CalibrateAt gives what fittings showed beside the prediction, mm.
func (g *Garment) CalibrateAt(level string) float64 { return orZero(g.Calibrate, level) }

func orZero(list []LevelNum, level string) float64 {
	v, _ := numAt(list, level)
	return v
}

func numAt(list []LevelNum, level string) (float64, bool) {
	for _, n := range list {
		if n.Level == level {
			return n.Value, true
		}
	}
	return 0, false
}

func levelIn(list []Level, name string) (float64, bool) {
	for _, l := range list {
		if l.Name == name {
			return l.Y, true
		}
	}
	return 0, false
}
