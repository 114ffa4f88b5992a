package dxf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/drawing/page"
)

// Layers, by what they hold. No name is a number, as it is where a standard says
// what lies on which layer: this drawing follows none.
const (
	SewingLine = "SEWING-LINE"
	Marks      = "MARKS"
	Notches    = "NOTCHES"
	Grain      = "GRAIN"
	Levels     = "LEVELS"
	Labels     = "LABELS"
	Check      = "CHECK"
)

// DefaultTolerance is how far the lines may stray from a curve, in mm, where
// Options say nothing: a tenth of a pencil line of 0.5 mm.
const DefaultTolerance = 0.05

// Options says how a drawing is written.
type Options struct {
	// Tolerance is how far the lines drawn for a curve, and the curve, may stray
	// from each other anywhere, in mm, from 0.0001 to 10. 0: DefaultTolerance.
	Tolerance float64
}

func (o Options) tolerance() (float64, error) {
	switch t := o.Tolerance; {
	case t == 0:
		return DefaultTolerance, nil
	case t >= 0.0001 && t <= 10:
		return t, nil
	}
	return 0, fmt.Errorf("a curve cannot be drawn within %v mm: 0.0001 to 10 are possible", o.Tolerance)
}

// Write draws the pieces side by side with their waists on one line, y up, one
// unit a mm, with a check square of 100 mm. Each outline is one closed polyline
// on the layer SEWING-LINE, from its first corner and anticlockwise; corners
// and ends are exact to 0.000001 mm.
//
// The same input gives the same bytes. Nothing is written on an error: a
// tolerance that cannot be kept, a number of a piece that is not finite or over
// 100 000, a page over 1 000 000 mm, and what w answers.
func Write(w io.Writer, g *pattern.Garment, pieces []*pattern.Piece, o Options) error {
	tol, err := o.tolerance()
	if err != nil {
		return err
	}
	return page.Write(w, g, pieces, func(sheet *page.Page) ([]byte, error) {
		d := &drawing{page: sheet, tol: tol}
		d.write()
		return d.buf.Bytes(), d.err
	})
}

// drawing is a page on its way to records.
type drawing struct {
	buf  bytes.Buffer
	page *page.Page
	tol  float64
	err  error
}

var errNumber = errors.New("a number is not finite or larger than 1 000 000 mm")

func (d *drawing) write() {
	d.head()
	d.section("ENTITIES", func() {
		d.square()
		for _, p := range d.page.Pieces {
			d.polyline(SewingLine, p.Outline, true)
			for _, l := range p.Lines {
				d.line(l)
			}
			d.texts(Labels, p.Texts)
		}
	})
	d.record(0, "EOF")
}

// square draws the check square and the words that belong to no piece.
func (d *drawing) square() {
	c := d.page.Square
	far := c.Add(curve.Pt(page.SquareSide, page.SquareSide))
	d.polyline(Check, curve.Path{
		curve.Line(curve.Pt(c.X, far.Y), far), curve.Line(far, curve.Pt(far.X, c.Y)),
		curve.Line(curve.Pt(far.X, c.Y), c), curve.Line(c, curve.Pt(c.X, far.Y)),
	}, true)
	d.texts(Check, d.page.Texts)
}

func (d *drawing) line(l page.Line) {
	layer := map[page.Kind]string{page.Mark: Marks, page.Notch: Notches, page.Level: Levels, page.Grain: Grain}[l.Kind]
	if c := l.Circle; c.Radius > 0 {
		d.record(0, "CIRCLE")
		d.record(8, layer)
		d.point(10, c.Centre)
		d.number(40, c.Radius)
		return
	}
	closed := l.Path.Start() == l.Path.End() && len(l.Path) > 1
	if len(l.Path) == 1 && l.Path[0].Straight {
		d.stroke(layer, l.Path.Start(), l.Path.End())
	} else {
		d.polyline(layer, l.Path, closed)
	}
	if l.Kind == page.Grain {
		d.arrowhead(layer, l.Path.End(), l.Path.Start())
		d.arrowhead(layer, l.Path.Start(), l.Path.End())
	}
}

func (d *drawing) stroke(layer string, a, b curve.Point) {
	d.record(0, "LINE")
	d.record(8, layer)
	d.point(10, a)
	d.point(11, b)
}

// arrowhead draws two short strokes back from the tip.
func (d *drawing) arrowhead(layer string, from, tip curve.Point) {
	back, ok := from.Sub(tip).Unit()
	if !ok {
		return
	}
	for _, side := range []float64{-2, 2} {
		d.stroke(layer, tip, tip.Add(back.Mul(5)).Add(back.Left().Mul(side)))
	}
}

// roundingError is what writing six decimals adds to a point, in mm.
const roundingError = 1e-6

// polyline draws a path as lines within the tolerance. Points that fall together
// are drawn once.
func (d *drawing) polyline(layer string, path curve.Path, closed bool) {
	if len(path) == 0 {
		return
	}
	pts := path.Flatten(d.tol - roundingError)
	if closed {
		pts = pts[:len(pts)-1]
	}
	d.record(0, "POLYLINE")
	d.record(8, layer)
	d.record(66, "1") // points follow
	for _, code := range []int{10, 20, 30} {
		d.number(code, 0)
	}
	flag := "0"
	if closed {
		flag = "1"
	}
	d.record(70, flag)
	for i, p := range pts {
		if i > 0 && p == pts[i-1] {
			continue
		}
		d.record(0, "VERTEX")
		d.record(8, layer)
		d.point(10, p)
	}
	d.record(0, "SEQEND")
	d.record(8, layer)
}

// capital is the height of a capital letter, by which DXF measures text, as a
// part of the font size (DejaVu Sans: 0.729).
const capital = 0.73

func (d *drawing) texts(layer string, list []page.Text) {
	for _, t := range list {
		words := ascii(t.Text)
		if words == "" {
			continue
		}
		d.record(0, "TEXT")
		d.record(8, layer)
		d.point(10, t.At)
		d.number(40, math.Round(t.Size*capital*100)/100)
		d.record(1, words)
		if t.Anchor != page.Start {
			d.record(72, [...]string{page.Middle: "1", page.End: "2"}[t.Anchor])
			d.point(11, t.At)
		}
	}
}
