package handoff

import (
	"io"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/drawing/page"
)

// Options says what a drawing is written with.
type Options struct {
	// Base gives git's id of the file of a piece, or "" where it has none. It is
	// what an import compares the drawing with. Nil: no piece has one.
	Base func(piece string) string
	// File is the name that the drawing is saved under, without folders. The
	// drawing program writes it into the file; with it, saving changes one line
	// less. It may be empty.
	File string
}

func (o Options) base(piece string) string {
	if o.Base == nil {
		return ""
	}
	return o.Base(piece)
}

// Write draws the pieces for editing: one page in mm, one unit a mm, the pieces
// side by side with their waists on one line, and a check square of 100 mm. A
// piece is a layer that holds its sewing line, marks, levels and names. All
// numbers have at most three decimals, and a number of a piece file is its
// number on the page less the piece's "at" exactly (y is turned over).
//
// The same input gives the same bytes. Nothing is written where a number of a
// piece is not finite or over 100 000, or the page would be over 1 000 000 mm;
// that, and what w answers, are the errors.
func Write(w io.Writer, g *pattern.Garment, pieces []*pattern.Piece, o Options) error {
	return page.Write(w, g, pieces, func(sheet *page.Page) ([]byte, error) {
		d := &drawing{page: sheet, options: o, ids: make(ids)}
		d.name()
		d.write()
		return d.buf.Bytes(), d.err
	})
}

// drawing is a page on its way to text.
type drawing struct {
	writer
	page    *page.Page
	options Options
	ids     ids
	layers  []string // id of each piece's layer
	rings   []string // id of each piece's outline
}

// name gives out the ids that importing goes by before all others.
func (d *drawing) name() {
	for _, p := range d.page.Pieces {
		d.layers = append(d.layers, d.ids.of(p.Piece.Name))
	}
	for _, p := range d.page.Pieces {
		d.rings = append(d.rings, d.ids.of(p.Piece.Name, "outline"))
	}
}

func (d *drawing) write() {
	d.buf.WriteString(`<?xml version="1.0" encoding="UTF-8" standalone="no"?>` + "\n")
	width, height := d.number(d.page.Width), d.number(d.page.Height)
	root := []attr{
		{"width", width + "mm"}, {"height", height + "mm"}, {"viewBox", "0 0 " + width + " " + height},
		{"version", "1.1"}, {"id", d.ids.of("drawing")},
	}
	if d.options.File != "" {
		root = append(root, attr{"sodipodi:docname", d.options.File})
	}
	root = append(root, attr{"xmlns:inkscape", nsInkscape}, attr{"xmlns:sodipodi", nsSodipodi},
		attr{"xmlns", nsSVG}, attr{"xmlns:svg", nsSVG}, attr{"xmlns:seamkeep", nsOwn})
	d.open("svg", root...)
	d.words("title", d.page.Title, attr{"id", d.ids.of("title")})
	d.view()
	d.defs()
	d.base()
	for i, p := range d.page.Pieces {
		d.piece(i, p)
	}
	d.shut("svg")
}

// view is what the drawing program would add.
func (d *drawing) view() {
	d.empty("sodipodi:namedview", attr{"id", d.ids.of("view")},
		attr{"pagecolor", "#ffffff"}, attr{"bordercolor", "#666666"}, attr{"borderopacity", "0.25"},
		attr{"inkscape:showpageshadow", "2"}, attr{"inkscape:pageopacity", "0.0"},
		attr{"inkscape:pagecheckerboard", "0"}, attr{"inkscape:deskcolor", "#d1d1d1"},
		attr{"inkscape:document-units", "mm"}, attr{"showgrid", "false"})
}

// arrowID has a character that no name of a pattern has, so it is always free.
const arrowID = "arrow_head"

// defs holds the arrow head of grain lines, which follows its line when that is
// edited.
func (d *drawing) defs() {
	d.open("defs", attr{"id", d.ids.of("defs")})
	d.open("marker", attr{"id", d.ids.of(arrowID)}, attr{"viewBox", "-5 -2 5 4"},
		attr{"markerWidth", "5"}, attr{"markerHeight", "4"}, attr{"markerUnits", "userSpaceOnUse"},
		attr{"orient", "auto-start-reverse"})
	d.empty("path", attr{"d", "M 0,0 -5,2 V -2 Z"}, attr{"fill", "#555555"}, attr{"id", d.ids.of("arrow_shape")})
	d.shut("marker")
	d.shut("defs")
}

// layer begins a layer of the drawing program.
func (d *drawing) layer(label, id string, attrs ...attr) {
	d.open("g", append([]attr{{"inkscape:groupmode", "layer"}, {"inkscape:label", label}, {"id", id}}, attrs...)...)
}

// base is the locked layer below all pieces: opaque paper, the check square and
// the words of the page.
func (d *drawing) base() {
	d.layer("page", d.ids.of("page"), attr{"sodipodi:insensitive", "true"})
	d.empty("rect", d.num("width", d.page.Width), d.num("height", d.page.Height), attr{"x", "0"}, attr{"y", "0"},
		attr{"fill", "#ffffff"}, attr{"id", d.ids.of("paper")}, attr{"seamkeep:line", "check"})
	d.empty("rect", d.num("width", page.SquareSide), d.num("height", page.SquareSide),
		d.num("x", d.page.Square.X), d.num("y", d.page.Square.Y),
		attr{"fill", "none"}, attr{"stroke", "#000000"}, attr{"stroke-width", "0.3"},
		attr{"id", d.ids.of("check-square")}, attr{"seamkeep:line", "check"})
	d.texts("page-text", d.page.Texts, "#333333")
	d.shut("g")
}

func (d *drawing) piece(i int, p page.Piece) {
	name := p.Piece.Name
	attrs := []attr{{"seamkeep:piece", name}}
	if id := d.options.base(name); id != "" {
		attrs = append(attrs, attr{"seamkeep:base", id})
	}
	attrs = append(attrs, attr{"seamkeep:at", d.number(p.At.X) + " " + d.number(p.At.Y)})
	d.layer(name, d.layers[i], attrs...)
	d.lines(p, "levels", page.Level)
	d.layer("names", d.ids.of(name, "names"))
	d.texts(name+"-text", p.Texts, "#444444")
	d.shut("g")
	d.lines(p, "marks", page.Mark, page.Notch, page.Grain)
	if len(p.Outline) > 0 {
		d.layer("sewing line", d.ids.of(name, "sewing-line"))
		d.empty("path", append(d.ink(outlineInk()), attr{"d", data(p.Outline, d.number)}, attr{"id", d.rings[i]},
			attr{"inkscape:label", "outline"}, attr{"seamkeep:line", "outline"})...)
		d.shut("g")
	}
	d.shut("g")
}

// lines writes the lines of some kinds as a layer of their own, if there are
// any.
func (d *drawing) lines(p page.Piece, label string, kinds ...page.Kind) {
	open := false
	for _, kind := range kinds {
		for _, l := range p.Lines {
			if l.Kind != kind {
				continue
			}
			if !open {
				d.layer(label, d.ids.of(p.Piece.Name, label))
				open = true
			}
			d.line(p.Piece.Name, l)
		}
	}
	if open {
		d.shut("g")
	}
}

// line writes one line or sign with its names.
func (d *drawing) line(piece string, l page.Line) {
	var words []string
	for _, s := range []string{string(l.Kind), l.Of, l.Name} {
		if s != "" {
			words = append(words, s)
		}
	}
	parts := append([]string{piece}, words...)
	if l.Kind == page.Mark {
		parts = append([]string{piece}, words[1:]...) // side-back-bone-b1
	}
	named := []attr{{"id", d.ids.of(parts...)}, {"inkscape:label", strings.Join(words, " ")}, {"seamkeep:line", strings.Join(words, " ")}}
	attrs := d.ink(inkFor(l))
	if c := l.Circle; c.Radius > 0 {
		d.empty("circle", append(append(attrs, d.num("cx", c.Centre.X), d.num("cy", c.Centre.Y), d.num("r", c.Radius)), named...)...)
		return
	}
	attrs = append(attrs, attr{"d", data(l.Path, d.number)})
	d.empty("path", append(attrs, named...)...)
}
