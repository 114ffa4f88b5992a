package waterfall

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// The two colours are of the palette of M. Okabe and K. Ito, "Color Universal
// Design" (2008); dots, stripes, signs and arrowheads say the same without colour.
const (
	paperColour    = svg.Paper
	inkColour      = svg.Ink
	ruleColour     = "#d4d4d4"
	bandColour     = "#ececec"
	bandEdgeColour = "#777777"
	widerColour    = "#0072B2"
	narrowColour   = "#D55E00"
)

func shades() []svg.Shade {
	const wider, narrower = "#56B4E9", "#F28C38"
	return svg.Shades(
		svg.Shade{Class: "rule", Stroke: "#3a3f44"},
		svg.Shade{Class: "band", Fill: "#262b30"}, svg.Shade{Class: "bandedge", Stroke: "#9a9fa4"},
		svg.Shade{Class: "wider", Stroke: wider}, svg.Shade{Class: "widerf", Fill: wider},
		svg.Shade{Class: "narrow", Stroke: narrower}, svg.Shade{Class: "narrowf", Fill: narrower},
	)
}

// page is a picture being drawn, with its textures.
type page struct {
	pen           *svg.Pen
	dots, stripes svg.Attr
}

func newPage(pen *svg.Pen) *page {
	pen.Dark(shades()...)
	return &page{
		pen:     pen,
		dots:    pen.Dots(svg.Texture{ID: "wider-gap", Colour: widerColour, Class: "widerf", Pitch: 1.7, Size: 0.6}),
		stripes: pen.Stripes(svg.Texture{ID: "narrower-gap", Colour: narrowColour, Class: "narrowf", Pitch: 1.7, Size: 0.6}),
	}
}

// style is how a text is set; lines behind it stop short.
type style = svg.Style

func plain() style   { return style{Size: 3.7, Halo: 1} }
func strong() style  { return style{Size: 3.7, Halo: 1, Bold: true} }
func small() style   { return style{Size: 3.4, Halo: 1, Mute: true} }
func heading() style { return style{Size: 4.8, Halo: 1, Bold: true} }

// text writes one line with its baseline at y, cut to the room that there is.
func (pg *page) text(x, y float64, text string, room float64, s style) {
	pg.pen.Words(x, y, s.Shorten(text, room), s)
}

// line draws a line of a class.
func (pg *page) line(a, b curve.Point, class, colour string, width float64, more ...svg.Attr) {
	pg.pen.Line(a, b, append([]svg.Attr{svg.A("class", class), svg.A("stroke", colour), svg.N("stroke-width", width)}, more...)...)
}

// bar fills a box that says wider or narrower by texture, tint and outline, with an
// arrowhead at the end that it reaches.
func (pg *page) bar(from, to, y, height float64) {
	class, colour, texture := "wider", widerColour, pg.dots
	if to < from {
		class, colour, texture = "narrow", narrowColour, pg.stripes
	}
	x, w := min(from, to), max(from-to, to-from)
	if w < thinnest {
		x, w = (from+to-thinnest)/2, thinnest
	}
	pg.pen.Rect(x, y, w, height, svg.A("class", "paper"), svg.A("fill", paperColour))
	pg.pen.Rect(x, y, w, height, svg.A("class", class+"f"), svg.A("fill", colour), svg.N("fill-opacity", 0.16))
	pg.pen.Rect(x, y, w, height, texture)
	pg.pen.Rect(x, y, w, height, svg.A("class", class), svg.A("fill", "none"), svg.A("stroke", colour), svg.N("stroke-width", 0.5))
	head := min(2.2, w)
	if to < from {
		head = -head
	}
	pg.pen.Polygon([]curve.Point{curve.Pt(to, y+height/2), curve.Pt(to-head, y), curve.Pt(to-head, y+height)},
		svg.A("class", class+"f"), svg.A("fill", colour))
}

// thinnest is the width of a bar that would be too thin to see, mm.
const thinnest = 0.8
