// Package page lays pieces side by side on one page at true size, with what is
// drawn on them, for every kind of drawing that goes out. It knows shapes and
// words, and no file format.
//
// All places are in page mm from the top left, y down. A piece's own 0 0 lies
// on its At, a whole mm both ways, so that a number of the piece file is found
// again on the page with the same decimals: page x = At.X + x, page y = At.Y - y.
package page

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// SquareSide is the side of the check square, in mm.
const SquareSide = 100

// Room on the page, in mm.
const (
	margin = 20 // round everything
	gap    = 24 // between pieces
	header = 30 // for the words at the top
)

// Page is what is drawn.
type Page struct {
	Title         string
	Width, Height float64
	Square        curve.Point // top left corner of the check square
	Texts         []Text      // that belong to no piece
	Pieces        []Piece
}

// Piece is one piece on the page.
type Piece struct {
	Piece   *pattern.Piece
	At      curve.Point // where its own 0 0 lies
	Outline curve.Path  // the sewing line from its first corner, anticlockwise as seen
	Lines   []Line
	Texts   []Text
}

// Kind tells what a line is for.
type Kind string

// The kinds of lines beside the outline.
const (
	Mark  Kind = "mark"
	Notch Kind = "notch"
	Level Kind = "level"
	Grain Kind = "grain"
)

// Line is a line, or a circle, on a piece.
type Line struct {
	Kind   Kind
	Of     string // kind of the mark, edge of the notch
	Name   string
	Path   curve.Path
	Circle Circle  // instead of Path, where its radius is over 0
	Width  float64 // of what is sewn in along the line, as a bone; 0 where that has no meaning
}

// Circle is the sign of a point on the cloth.
type Circle struct {
	Centre curve.Point
	Radius float64
}

// Anchor says which part of a text lies on its place.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of words; At lies on its baseline.
type Text struct {
	At     curve.Point
	Size   float64 // of the font
	Anchor Anchor
	Bold   bool
	Text   string
}

// width is how wide the text may be shown.
func (t Text) width() float64 {
	if t.Bold {
		return svg.BoldWidth(t.Text, t.Size)
	}
	return svg.TextWidth(t.Text, t.Size)
}

// box is the room that the text takes, generously.
func (t Text) box() curve.Box {
	w := t.width()
	left := t.At.X - w*[...]float64{Start: 0, Middle: 0.5, End: 1}[t.Anchor]
	return curve.Box{
		Min: curve.Pt(left, t.At.Y-0.8*t.Size),
		Max: curve.Pt(left+w, t.At.Y+0.25*t.Size),
	}
}

func (t Text) moved(by curve.Point) Text {
	t.At = t.At.Add(by)
	return t
}

// New lays out the pieces: those of the garment's around from front to back,
// then the others as given, with their waists on one line and the check square
// before them. A piece without an outline is drawn by its words alone. A number
// that no piece file may hold (not finite, or over 100 000) is an error.
func New(g *pattern.Garment, pieces []*pattern.Piece) (*Page, error) {
	for _, p := range pieces {
		if err := bounded(g, p); err != nil {
			return nil, err
		}
	}
	pg := &Page{Title: title(g), Square: curve.Pt(margin, margin+header)}
	x := float64(margin + SquareSide + gap)
	top, bottom := 0.0, 0.0
	figures := make([]*figure, 0, len(pieces))
	for _, p := range ordered(g, pieces) {
		f := newFigure(g, p)
		f.at.X = math.Ceil(x - f.room.Min.X)
		x = f.at.X + f.room.Max.X + gap
		top, bottom = min(top, f.room.Min.Y), max(bottom, f.room.Max.Y)
		figures = append(figures, f)
	}
	waist := math.Ceil(margin + header - top)
	for _, f := range figures {
		f.at.Y = waist
		pg.Pieces = append(pg.Pieces, f.placed())
	}
	pg.Width = math.Ceil(x - gap + margin)
	pg.Height = math.Ceil(max(waist+bottom, pg.Square.Y+SquareSide) + margin)
	pg.words()
	pg.Width = max(pg.Width, math.Ceil(pg.textRight()+margin))
	return pg, nil
}

func title(g *pattern.Garment) string {
	if t := svg.CleanText(g.Title); t != "" {
		return t
	}
	return svg.CleanText(g.Name)
}

// words writes the page's head and the name of the check square.
func (pg *Page) words() {
	pg.Texts = []Text{
		{At: curve.Pt(margin, margin+7), Size: 8, Bold: true, Text: shorten(pg.Title, 8, 600)},
		{At: curve.Pt(margin, margin+15), Size: 4, Text: "sewing lines without allowance, true size: 1 unit is 1 mm"},
		{At: pg.Square.Add(curve.Pt(SquareSide/2, SquareSide/2-1)), Size: 5, Anchor: Middle, Text: "check: 100 mm each way"},
		{At: pg.Square.Add(curve.Pt(SquareSide/2, SquareSide/2+6)), Size: 4, Anchor: Middle, Text: "not imported"},
	}
}

func (pg *Page) textRight() float64 {
	right := 0.0
	for _, t := range pg.Texts {
		right = max(right, t.box().Max.X)
	}
	return right
}

// ordered puts the pieces that go round the body first.
func ordered(g *pattern.Garment, pieces []*pattern.Piece) []*pattern.Piece {
	var out []*pattern.Piece
	done := make(map[*pattern.Piece]bool)
	for _, m := range g.Around {
		for _, p := range pieces {
			if p.Name == m.Name && !done[p] {
				out, done[p] = append(out, p), true
			}
		}
	}
	for _, p := range pieces {
		if !done[p] {
			out = append(out, p)
		}
	}
	return out
}
