package sheet

import (
	"fmt"
	"time"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/sheet/ink"
)

// DefaultMargin is left free at each side of the paper, mm: printers leave 4 to
// 6 mm white, some 10 at one side (printer manuals; the larger figure is from
// memory).
const DefaultMargin = 10

// Overlap is how far neighbouring tiles show the same, mm.
const Overlap = 10

// Options say what is printed, and on what.
type Options struct {
	Paper    Paper
	Margin   float64          // mm; 0: DefaultMargin
	Pieces   []*pattern.Piece // which; none: all
	Both     bool             // left and right of what is cut in mirrored pairs, and the whole of what is cut on the fold
	Version  Version
	Face     *ink.Face   // none: the one that comes with the program
	Date     time.Time   // that the file bears
	Lists    []List      // put behind the pieces
	Measured curve.Point // what a square of 100 mm measured on an earlier print, across and along; zero: printed true
}

// Sheet is a pattern ready to be printed.
type Sheet struct {
	Book  *ink.Book
	Pages []Page
}

// Page says what one page holds.
type Page struct {
	Number        int // from 1
	Kind          Kind
	Width, Height float64 // mm
	Tile          string  // A1, B1 ... in one area; map; empty for a page of its own
	Squares       []CheckSquare
	Pieces        []string // names, in the order of their numbers
}

// Kind says what a page is for.
type Kind string

// The kinds of pages.
const (
	MapPage     Kind = "map"     // which page goes where
	TilePage    Kind = "tile"    // a part of an area to tape together
	PiecesPage  Kind = "pieces"  // pieces that lie whole on it
	ListPage    Kind = "list"    // of what is cut or needed
	FittingPage Kind = "fitting" // to be filled in at a fitting
)

// CheckSquare is a square to measure on the print: its lower left corner in mm from that of the page in
// the file, and its side as it must measure on the print, mm.
type CheckSquare struct{ X, Y, Size float64 }

// TooLarge says that a piece does not fit on a roll.
type TooLarge struct {
	Piece         string
	Width, Height float64 // of the piece with its words, mm
	Room          float64 // across the roll, mm
	Length        float64 // that a page may have, mm
}

// Error says it with the numbers.
func (e *TooLarge) Error() string {
	return fmt.Sprintf("piece %s needs %.0f x %.0f mm, and the roll has room for %.0f x %.0f; take a wider roll, or tiles with --paper a4 or a0", e.Piece, e.Width, e.Height, e.Room, e.Length)
}

// New lays the pieces out on pages and draws them. A paper without room inside its
// margins, a margin below 0, a piece larger than a roll (*TooLarge) and allowances that
// give no line to cut along (*NoCutLine) are errors.
func New(g *pattern.Garment, o Options) (*Sheet, error) {
	s := newSetter(g, o)
	if err := s.setFrame(); err != nil {
		return nil, err
	}
	s.drawFigures()
	if err := s.faults(); err != nil {
		return nil, err
	}
	if err := s.layOut(); err != nil {
		return nil, err
	}
	s.listPages()
	return s.finish("full-size sheets"), nil
}

// newSetter takes what is not said for what it is as a rule.
func newSetter(g *pattern.Garment, o Options) *setter {
	if o.Margin == 0 {
		o.Margin = DefaultMargin
	}
	if o.Face == nil {
		o.Face = ink.DejaVu()
	}
	if o.Measured == (curve.Point{}) {
		o.Measured = curve.Pt(100, 100)
	}
	if len(o.Pieces) == 0 {
		o.Pieces = g.Pieces
	}
	return &setter{garment: g, o: o, stretch: curve.Pt(100/o.Measured.X, 100/o.Measured.Y)}
}

// faults tells of all pieces that have no cut line, each once.
func (s *setter) faults() error {
	var problems diag.List
	for _, f := range s.figures {
		if !f.mirrored {
			problems = append(problems, f.faults...)
		}
	}
	if len(problems) > 0 {
		return &NoCutLine{problems}
	}
	return nil
}

// setter makes a Sheet.
type setter struct {
	garment *pattern.Garment
	o       Options
	stretch curve.Point // what is drawn is stretched so much, to print true
	paper   Paper       // what prints on it, in true mm: smaller than the paper where it is stretched
	margin  curve.Point
	content curve.Box // of a page: room for pieces, true mm

	besideSquares bool // forms leave the check squares their place

	figures []*figure
	numbers map[string]int
	areas   []*tiling
	pages   []*page
}

// page is one page while it is made, in true mm.
type page struct {
	Page
	called string     // at its head, where it has a name of its own
	paper  string     // what it is printed on; empty: what the others are
	parts  []ink.Part // pieces
	frame  *ink.Drawing
	tile   *tile
	box    curve.Box // of its content
	on     []*figure
}

// finish gives the pages their numbers and stretches them where asked for; what says what
// is on them.
func (s *setter) finish(what string) *Sheet {
	v := s.o.Version
	book := &ink.Book{
		Title:   s.o.Face.Words(titleOf(s.garment)),
		Subject: s.o.Face.Words(fmt.Sprintf("%s, %s; %s; %s", what, v.String(), v.keptWords(), v.Walk)),
		Face:    s.o.Face, Date: s.o.Date,
	}
	out := &Sheet{Book: book}
	for i, p := range s.pages {
		p.Number = i + 1
	}
	for _, p := range s.pages {
		s.furnish(p)
		book.Pages = append(book.Pages, s.stretched(p))
		out.Pages = append(out.Pages, p.Page)
	}
	return out
}

// stretched gives a page as it is drawn.
func (s *setter) stretched(p *page) ink.Page {
	parts := append(p.parts, ink.Part{Drawing: p.frame, Clip: curve.EmptyBox()})
	if k := s.stretch; k != curve.Pt(1, 1) {
		for i, part := range parts {
			parts[i].Drawing = part.Drawing.Moved(part.Move).Scaled(k.X, k.Y)
			parts[i].Move = curve.Point{}
			parts[i].Clip = stretchBox(part.Clip, k)
		}
		p.Width, p.Height = p.Width*k.X, p.Height*k.Y
		for i := range p.Squares {
			p.Squares[i].X, p.Squares[i].Y = p.Squares[i].X*k.X, p.Squares[i].Y*k.Y
		}
	}
	return ink.Page{Width: p.Width, Height: p.Height, Parts: parts}
}

func stretchBox(b curve.Box, k curve.Point) curve.Box {
	if b.Empty() {
		return b
	}
	m := curve.Scale(k.X, k.Y)
	return curve.Box{Min: m.Apply(b.Min), Max: m.Apply(b.Max)}
}
