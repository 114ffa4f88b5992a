package waterfall

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// The two colours are of the palette of M. Okabe and K. Ito, "Color Universal
// Design" (2008); dots, stripes, signs and arrowheads say the same without colour.
const (
	paperColour    = "#ffffff"
	inkColour      = "#111111"
	muteColour     = "#555555"
	ruleColour     = "#d4d4d4"
	bandColour     = "#ececec"
	bandEdgeColour = "#777777"
	widerColour    = "#0072B2"
	narrowColour   = "#D55E00"
)

func shades() []svg.Shade {
	const paper, ink, wider, narrower = "#15181b", "#e6e6e6", "#56B4E9", "#F28C38"
	return []svg.Shade{
		{Class: "paper", Fill: paper}, {Class: "halo", Stroke: paper}, {Class: "word", Fill: ink}, {Class: "mute", Fill: "#a9a9a9"},
		{Class: "line", Stroke: ink}, {Class: "rule", Stroke: "#3a3f44"},
		{Class: "band", Fill: "#262b30"}, {Class: "bandedge", Stroke: "#9a9fa4"},
		{Class: "wider", Stroke: wider}, {Class: "widerf", Fill: wider},
		{Class: "narrow", Stroke: narrower}, {Class: "narrowf", Fill: narrower},
	}
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

// style is how a text is set.
type style struct {
	size   float64
	bold   bool
	mute   bool
	anchor string // middle or end; empty: start
}

func plain() style   { return style{size: 3.7} }
func strong() style  { return style{size: 3.7, bold: true} }
func small() style   { return style{size: 3.4, mute: true} }
func heading() style { return style{size: 4.8, bold: true} }

func (s style) end() style    { s.anchor = "end"; return s }
func (s style) middle() style { s.anchor = "middle"; return s }

func (s style) width(text string) float64 {
	if s.bold {
		return svg.BoldWidth(text, s.size)
	}
	return svg.TextWidth(text, s.size)
}

func (s style) shorten(text string, room float64) string {
	if s.bold {
		room /= 1.1 // what BoldWidth adds
	}
	return svg.Shorten(text, s.size, room)
}

// text writes one line with its baseline at y, cut to the room that there is; lines
// behind it stop short.
func (pg *page) text(x, y float64, text string, room float64, s style) {
	class, colour := "word", inkColour
	if s.mute {
		class, colour = "mute", muteColour
	}
	attrs := []svg.Attr{svg.N("font-size", s.size), svg.A("fill", colour), svg.A("class", class+" halo")}
	if s.bold {
		attrs = append(attrs, svg.A("font-weight", "bold"))
	}
	if s.anchor != "" {
		attrs = append(attrs, svg.A("text-anchor", s.anchor))
	}
	attrs = append(attrs, svg.A("stroke", paperColour), svg.N("stroke-width", 1), svg.A("stroke-linejoin", "round"), svg.A("paint-order", "stroke"))
	pg.pen.Text(x, y, s.shorten(text, room), attrs...)
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
