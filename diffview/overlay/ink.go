package overlay

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// The visual code. The pair before and after is taken from the palette of
// M. Okabe and K. Ito, "Color Universal Design" (2008), which holds for
// colour-blind readers; in grey the dashes and the width tell them apart.
const (
	paperColour = "#ffffff"
	inkColour   = "#111111"
	muteColour  = "#555555"
	ruleColour  = "#c4c4c4"
	levelColour = "#8a8a8a"
	oldColour   = "#D55E00"
	newColour   = "#0072B2"
)

// Widths of lines, mm.
const (
	stillWidth = 0.4
	oldWidth   = 0.55
	newWidth   = 0.95
	haloWidth  = 1.7
	oldDash    = 3.4
	oldSpace   = 1.8
)

// tint is how strongly an area is coloured under its texture, so that a strip
// narrower than the texture's pitch is seen at all.
const tint = 0.13

// shades are the same colours on a dark page.
func shades() []svg.Shade {
	const paper, ink, before, after = "#15181b", "#e6e6e6", "#F28C38", "#56B4E9"
	return []svg.Shade{
		{Class: "paper", Fill: paper}, {Class: "halo", Stroke: paper},
		{Class: "word", Fill: ink}, {Class: "mute", Fill: "#a9a9a9"},
		{Class: "line", Stroke: ink}, {Class: "rule", Stroke: "#4a4f54"}, {Class: "level", Stroke: "#8b9096"},
		{Class: "old", Stroke: before}, {Class: "oldf", Fill: before},
		{Class: "new", Stroke: after}, {Class: "newf", Fill: after},
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
		dots:    pen.Dots(svg.Texture{ID: "gained", Colour: newColour, Class: "newf"}),
		stripes: pen.Stripes(svg.Texture{ID: "lost", Colour: oldColour, Class: "oldf"}),
	}
}

// style is how a text is set.
type style struct {
	size   float64
	bold   bool
	mute   bool
	anchor string // middle or end; empty: start
	halo   bool   // lines behind it stop short
}

func plain() style   { return style{size: 3.6} }
func strong() style  { return style{size: 3.6, bold: true} }
func small() style   { return style{size: 3.2, mute: true} }
func heading() style { return style{size: 4.6, bold: true} }

func (s style) end() style    { s.anchor = "end"; return s }
func (s style) middle() style { s.anchor = "middle"; return s }

// width is what room a text takes, mm, on the large side.
func (s style) width(text string) float64 {
	if s.bold {
		return svg.BoldWidth(text, s.size)
	}
	return svg.TextWidth(text, s.size)
}

// shorten cuts a text to the room that there is.
func (s style) shorten(text string, room float64) string {
	if s.bold {
		room /= 1.1 // what BoldWidth adds
	}
	return svg.Shorten(text, s.size, room)
}

// text writes one line with its baseline at y.
func (pg *page) text(x, y float64, text string, s style) {
	class, colour := "word", inkColour
	if s.mute {
		class, colour = "mute", muteColour
	}
	attrs := []svg.Attr{svg.N("font-size", s.size)}
	if s.bold {
		attrs = append(attrs, svg.A("font-weight", "bold"))
	}
	if s.anchor != "" {
		attrs = append(attrs, svg.A("text-anchor", s.anchor))
	}
	if s.halo {
		class += " halo"
		attrs = append(attrs, svg.A("stroke", paperColour), svg.N("stroke-width", 1.2),
			svg.A("stroke-linejoin", "round"), svg.A("paint-order", "stroke"))
	}
	pg.pen.Text(x, y, text, append(attrs, svg.A("fill", colour), svg.A("class", class))...)
}

// stroke is the paint of a line of a class.
func stroke(class, colour string, width float64, more ...svg.Attr) []svg.Attr {
	return append([]svg.Attr{
		svg.A("class", class), svg.A("fill", "none"), svg.A("stroke", colour), svg.N("stroke-width", width),
		svg.A("stroke-linejoin", "round"),
	}, more...)
}

func stillInk() []svg.Attr { return stroke("line", inkColour, stillWidth) }
func ruleInk() []svg.Attr  { return stroke("rule", ruleColour, 0.25) }
func newInk() []svg.Attr   { return stroke("new", newColour, newWidth) }
func oldInk() []svg.Attr   { return stroke("old", oldColour, oldWidth, svg.Dash(oldDash, oldSpace)) }
func haloInk() []svg.Attr  { return stroke("halo", paperColour, haloWidth) }
func levelInk() []svg.Attr { return stroke("level", levelColour, 0.22, svg.Dash(0.9, 1.3)) }

// before draws a line as it was: dashes on a halo of paper.
func (pg *page) before(d svg.PathData) {
	pg.pen.Path(d, haloInk()...)
	pg.pen.Path(d, oldInk()...)
}

func (pg *page) after(d svg.PathData) { pg.pen.Path(d, newInk()...) }

// gained and lost fill areas: a tint, and the texture over it.
func (pg *page) gained(d svg.PathData) { pg.area(d, pg.dots, "newf", newColour) }
func (pg *page) lost(d svg.PathData)   { pg.area(d, pg.stripes, "oldf", oldColour) }

func (pg *page) area(d svg.PathData, texture svg.Attr, class, colour string) {
	rule := svg.A("fill-rule", "evenodd")
	pg.pen.Path(d, svg.A("class", class), svg.A("fill", colour), svg.N("fill-opacity", tint), rule)
	pg.pen.Path(d, texture, rule)
}

// tagSize is the height of a tag, mm.
const tagSize = 5.8

// tagWidth is how wide the tag of a number is.
func tagWidth(number string) float64 { return max(tagSize, strong().width(number)+1.8) }

// tag draws the square with an edge's number round a place.
func (pg *page) tag(at curve.Point, number string, changed bool) {
	w := tagWidth(number)
	s, class, colour, line := plain(), "line", inkColour, 0.3
	if changed {
		s, class, colour, line = strong(), "new", newColour, 0.6
	}
	pg.pen.Rect(at.X-w/2, at.Y-tagSize/2, w, tagSize, svg.A("class", "paper "+class), svg.A("fill", paperColour),
		svg.A("stroke", colour), svg.N("stroke-width", line), svg.N("rx", 0.7))
	pg.text(at.X, at.Y+0.36*s.size, number, s.middle())
}

// arrow draws a short arrow from a to b.
func (pg *page) arrow(a, b curve.Point) {
	way, ok := b.Sub(a).Unit()
	if !ok {
		return
	}
	head := min(2.6, 0.55*a.Dist(b))
	base := b.Sub(way.Mul(head))
	side := way.Left().Mul(0.36 * head)
	pg.pen.Line(a, base, stroke("line", inkColour, 0.4)...)
	pg.pen.Polygon([]curve.Point{b, base.Add(side), base.Sub(side)}, svg.A("class", "word"), svg.A("fill", inkColour))
}

// dotInk fills a small dot.
func dotInk() []svg.Attr { return []svg.Attr{svg.A("class", "word"), svg.A("fill", inkColour)} }
