package overlay

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// The visual code. The pair before and after is taken from the palette of
// M. Okabe and K. Ito, "Color Universal Design" (2008), which holds for
// colour-blind readers; in grey the dashes and the width tell them apart.
const (
	paperColour = svg.Paper
	inkColour   = svg.Ink
	ruleColour  = "#c4c4c4"
	levelColour = svg.Faint
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
	const before, after = "#F28C38", "#56B4E9"
	return svg.Shades(
		svg.Shade{Class: "rule", Stroke: "#4a4f54"},
		svg.Shade{Class: "old", Stroke: before}, svg.Shade{Class: "oldf", Fill: before},
		svg.Shade{Class: "new", Stroke: after}, svg.Shade{Class: "newf", Fill: after},
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
		dots:    pen.Dots(svg.Texture{ID: "gained", Colour: newColour, Class: "newf"}),
		stripes: pen.Stripes(svg.Texture{ID: "lost", Colour: oldColour, Class: "oldf"}),
	}
}

// style is how a text is set.
type style = svg.Style

func plain() style   { return style{Size: 3.6} }
func strong() style  { return style{Size: 3.6, Bold: true} }
func small() style   { return style{Size: 3.2, Mute: true} }
func heading() style { return style{Size: 4.6, Bold: true} }

// haloOfWords is the paper round words that lines may run behind, mm.
const haloOfWords = 1.2

// text writes one line with its baseline at y.
func (pg *page) text(x, y float64, text string, s style) { pg.pen.Words(x, y, text, s) }

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
func tagWidth(number string) float64 { return max(tagSize, strong().Width(number)+1.8) }

// tag draws the square with an edge's number round a place.
func (pg *page) tag(at curve.Point, number string, changed bool) {
	w := tagWidth(number)
	s, class, colour, line := plain(), "line", inkColour, 0.3
	if changed {
		s, class, colour, line = strong(), "new", newColour, 0.6
	}
	pg.pen.Rect(at.X-w/2, at.Y-tagSize/2, w, tagSize, svg.A("class", "paper "+class), svg.A("fill", paperColour),
		svg.A("stroke", colour), svg.N("stroke-width", line), svg.N("rx", 0.7))
	pg.text(at.X, at.Y+0.36*s.Size, number, s.Middle())
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
