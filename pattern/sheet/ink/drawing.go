package ink

import (
	"time"

	"seamkeep/pattern/curve"
)

// Layer tells what a stroke or a text is for. A reader of the PDF can switch each
// off but Frame.
type Layer int

// The layers, in the order in which they are drawn.
const (
	Frame  Layer = iota // check squares, bars, join marks, tile names
	Levels              // level lines and their names
	Sewing              // the sewing line
	Marks               // bones, buttons, grain ...
	Cut                 // the cut line and its notches
	Labels              // words on the pieces
)

// Name is what a reader shows.
func (l Layer) Name() string {
	return [...]string{"Frame", "Levels", "Sewing line", "Marks", "Cut line", "Labels"}[l]
}

var layers = [...]Layer{Frame, Levels, Sewing, Marks, Cut, Labels}

// Stroke is one line, or one area where Fill is set.
type Stroke struct {
	Layer Layer
	Path  curve.Path
	Width float64   // mm
	Dash  []float64 // lengths of line and space by turns, mm; none: solid
	Grey  float64   // 0 is black, 1 is paper
	Fill  bool      // the area inside, with no line
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
	Layer  Layer
	At     curve.Point
	Size   float64 // of the font, mm
	Turn   float64 // degrees, anticlockwise about At
	Anchor Anchor
	Grey   float64
	Words  string
}

// Drawing is strokes and texts about one origin.
type Drawing struct {
	Strokes []Stroke
	Texts   []Text
}

// Line adds a straight stroke.
func (d *Drawing) Line(l Layer, width, grey float64, a, b curve.Point, dash ...float64) {
	d.Strokes = append(d.Strokes, Stroke{Layer: l, Path: curve.Path{curve.Line(a, b)}, Width: width, Grey: grey, Dash: dash})
}

// Poly adds a chain of straight strokes through the points.
func (d *Drawing) Poly(l Layer, width, grey float64, points ...curve.Point) {
	d.Strokes = append(d.Strokes, Stroke{Layer: l, Path: chain(points), Width: width, Grey: grey})
}

// Area fills the figure with these corners.
func (d *Drawing) Area(l Layer, grey float64, points ...curve.Point) {
	d.Strokes = append(d.Strokes, Stroke{Layer: l, Path: chain(append(points, points[0])), Grey: grey, Fill: true})
}

// Rect adds the outline of a box.
func (d *Drawing) Rect(l Layer, width, grey float64, b curve.Box) {
	d.Poly(l, width, grey, b.Min, curve.Pt(b.Max.X, b.Min.Y), b.Max, curve.Pt(b.Min.X, b.Max.Y), b.Min)
}

// Circle adds a circle of four cubics, within 0.03 % of its radius.
func (d *Drawing) Circle(l Layer, width, grey float64, c curve.Point, r float64) {
	d.Strokes = append(d.Strokes, Stroke{Layer: l, Path: Circle(c, r), Width: width, Grey: grey})
}

// Circle is a circle of four cubics, anticlockwise: the radius of each is within
// 0.03 % (handles of 4/3 (sqrt 2 - 1), common practice).
func Circle(c curve.Point, r float64) curve.Path {
	const k = 0.5522847498307936
	var out curve.Path
	x, y := curve.Pt(r, 0), curve.Pt(0, r)
	for range 4 {
		a, b := c.Add(x), c.Add(y)
		out = append(out, curve.Cubic(a, a.Add(y.Mul(k)), b.Add(x.Mul(k)), b))
		x, y = y, curve.Pt(-x.X, -x.Y)
	}
	return out
}

// Write adds a text.
func (d *Drawing) Write(t Text) { d.Texts = append(d.Texts, t) }

func chain(points []curve.Point) curve.Path {
	var out curve.Path
	for i := 1; i < len(points); i++ {
		out = append(out, curve.Line(points[i-1], points[i]))
	}
	return out
}

// Moved is the drawing shifted by d.
func (d *Drawing) Moved(by curve.Point) *Drawing {
	return d.mapped(curve.Translate(by.X, by.Y))
}

// Scaled is the drawing stretched about the origin by x and y. Lines keep their widths;
// words follow the lesser, so that they still fit where they fitted.
func (d *Drawing) Scaled(x, y float64) *Drawing {
	out := d.mapped(curve.Scale(x, y))
	for i := range out.Texts {
		out.Texts[i].Size *= min(x, y)
	}
	return out
}

func (d *Drawing) mapped(m curve.Affine) *Drawing {
	out := &Drawing{Strokes: make([]Stroke, len(d.Strokes)), Texts: make([]Text, len(d.Texts))}
	for i, s := range d.Strokes {
		s.Path = s.Path.Transform(m)
		out.Strokes[i] = s
	}
	for i, t := range d.Texts {
		t.At = m.Apply(t.At)
		out.Texts[i] = t
	}
	return out
}

// Part is a drawing on a page: moved, and cut off outside Clip.
type Part struct {
	Drawing *Drawing
	Move    curve.Point
	Clip    curve.Box // in mm of the page; empty: nothing is cut off
}

// seen is what of a part can be seen on the page, in mm of the page.
func (p Part) seen(f *Face) *Drawing {
	all := p.Drawing.Moved(p.Move)
	if p.Clip.Empty() {
		return all
	}
	out := &Drawing{}
	for _, s := range all.Strokes {
		if s.Path.Bounds().Grow(s.Width).Overlaps(p.Clip) {
			out.Strokes = append(out.Strokes, s)
		}
	}
	for _, t := range all.Texts {
		if t.Box(f).Overlaps(p.Clip) {
			out.Texts = append(out.Texts, t)
		}
	}
	return out
}

// Page is one sheet of paper.
type Page struct {
	Width, Height float64 // mm
	Parts         []Part
}

// Book is all pages of one file.
type Book struct {
	Title, Subject string
	Face           *Face
	Date           time.Time // that the PDF bears
	Pages          []Page
}
