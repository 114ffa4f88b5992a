package svg

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	svgo "github.com/ajstarks/svgo/float"

	"seamkeep/pattern/curve"
)

// fonts are tried in order; none is fetched.
const fonts = "DejaVu Sans, Verdana, Arial, sans-serif"

// Picture says what a Pen draws on: a sheet of Width by Height mm, shown at its
// true size, one unit a mm. Title and Desc are read out in its place where it
// cannot be seen; an empty Desc is left out. Prefix, empty or a letter followed
// by letters, digits, hyphens and underscores, goes before every id and class:
// pictures with different prefixes can stand in one page.
type Picture struct {
	Width, Height float64
	Title, Desc   string
	Prefix        string
}

// Pen draws one picture. It keeps the first error and then draws no more.
type Pen struct {
	out    io.Writer
	buf    bytes.Buffer // the document: nothing reaches out before Close
	el     *svgo.SVG
	prefix string
	ids    map[string]bool
	groups int
	closed bool
	err    error
}

// New begins a picture that Close will write to w, and covers it with opaque
// white paper of the class "paper". A size that is not over 0 or an empty title
// is an error.
func New(w io.Writer, pic Picture) *Pen {
	p := &Pen{out: w, prefix: pic.Prefix, ids: make(map[string]bool)}
	p.el = svgo.New(&p.buf)
	width, err := Number(pic.Width)
	p.fail(err)
	height, err := Number(pic.Height)
	p.fail(err)
	switch {
	case width == "0" || height == "0" || pic.Width < 0 || pic.Height < 0:
		p.fail(fmt.Errorf("svg: a picture of %v by %v mm cannot be drawn", pic.Width, pic.Height))
	case pic.Prefix != "" && !isWord(pic.Prefix):
		p.fail(fmt.Errorf("svg: %.60q cannot begin an id", pic.Prefix))
	case CleanText(pic.Title) == "":
		p.fail(errors.New("svg: a picture needs a title"))
	}
	if p.err != nil {
		return p
	}
	p.begin(width, height, pic)
	p.Rect(0, 0, pic.Width, pic.Height, A("class", "paper"), A("fill", "#ffffff"))
	return p
}

// begin writes the root element and its words.
func (p *Pen) begin(width, height string, pic Picture) {
	title, desc := p.newID("title"), p.newID("desc")
	labels := title
	if pic.Desc != "" {
		labels += " " + desc
	}
	p.el.Startraw(
		written("width", width+"mm"), written("height", height+"mm"),
		written("viewBox", "0 0 "+width+" "+height),
		written("role", "img"), written("aria-labelledby", labels),
		written("font-family", fonts))
	// svgo has no title with an id.
	fmt.Fprintf(&p.buf, "<title id=%q>%s</title>\n", title, escape(pic.Title))
	if pic.Desc != "" {
		fmt.Fprintf(&p.buf, "<desc id=%q>%s</desc>\n", desc, escape(pic.Desc))
	}
}

// fail keeps the first error.
func (p *Pen) fail(err error) {
	if p.err == nil {
		p.err = err
	}
}

// ready tells whether the pen may draw.
func (p *Pen) ready() bool {
	if p.closed {
		p.fail(errors.New("svg: drawn after the picture was closed"))
	}
	return p.err == nil
}

// Err gives the first error so far.
func (p *Pen) Err() error { return p.err }

// Path draws the outline; without points it draws nothing.
func (p *Pen) Path(d PathData, attrs ...Attr) {
	list := p.attrs("d", attrs)
	p.fail(d.err)
	if p.ready() && d.text != "" {
		p.el.Path(d.text, list...)
	}
}

// Line draws a straight line from a to b.
func (p *Pen) Line(a, b curve.Point, attrs ...Attr) {
	list, n := p.attrs("x1 y1 x2 y2", attrs), p.exact(a.X, a.Y, b.X, b.Y)
	if p.ready() {
		p.el.Line(n[0], n[1], n[2], n[3], list...)
	}
}

// Rect draws a rectangle from its upper left corner, width to the right and
// height down. A size below 0 is an error; a size of 0 shows nothing.
func (p *Pen) Rect(x, y, width, height float64, attrs ...Attr) {
	list, n := p.attrs("x y width height", attrs), p.exact(x, y, width, height)
	if width < 0 || height < 0 {
		p.fail(fmt.Errorf("svg: a rectangle of %v by %v mm cannot be drawn", width, height))
	}
	if p.ready() {
		p.el.Rect(n[0], n[1], n[2], n[3], list...)
	}
}

// Circle draws a circle. A radius below 0 is an error; one of 0 shows nothing.
func (p *Pen) Circle(centre curve.Point, radius float64, attrs ...Attr) {
	list, n := p.attrs("cx cy r", attrs), p.exact(centre.X, centre.Y, radius)
	if radius < 0 {
		p.fail(fmt.Errorf("svg: a circle of radius %v mm cannot be drawn", radius))
	}
	if p.ready() {
		p.el.Circle(n[0], n[1], n[2], list...)
	}
}

// Polygon draws a closed figure through the corners; fewer than two corners
// show nothing.
func (p *Pen) Polygon(corners []curve.Point, attrs ...Attr) {
	list := p.attrs("points", attrs)
	xy := make([]float64, 0, 2*len(corners))
	for _, c := range corners {
		xy = append(xy, c.X)
	}
	for _, c := range corners {
		xy = append(xy, c.Y)
	}
	n := p.exact(xy...)
	if p.ready() && len(corners) > 1 {
		p.el.Polygon(n[:len(corners)], n[len(corners):], list...)
	}
}

// Text writes one line; y is its baseline. The text may come from anybody.
func (p *Pen) Text(x, y float64, text string, attrs ...Attr) {
	list, n := p.attrs("x y", attrs), p.exact(x, y)
	if p.ready() {
		p.el.Text(n[0], n[1], CleanText(text), list...)
	}
}

// Group begins a group, which End ends: what is drawn in it inherits the
// attributes.
func (p *Pen) Group(attrs ...Attr) {
	list := p.attrs("", attrs)
	if p.ready() {
		p.el.Group(list...)
		p.groups++
	}
}

// Titled begins a group with a title of its own, which a viewer shows where the
// pointer rests. End ends it. The title may come from anybody.
func (p *Pen) Titled(title string, attrs ...Attr) {
	p.Group(attrs...)
	if p.ready() {
		p.el.Title(CleanText(title))
	}
}

// End ends the group begun last; without one it is an error.
func (p *Pen) End() {
	if p.groups == 0 {
		p.fail(errors.New("svg: a group ended that was not begun"))
	}
	if p.ready() {
		p.el.Gend()
		p.groups--
	}
}

// Close ends the picture and writes it, unless there was an error: then nothing
// is written and the first error comes back. A group left open is an error. A
// second Close writes nothing and gives the same answer.
func (p *Pen) Close() error {
	if p.closed {
		return p.err
	}
	if p.groups > 0 {
		p.fail(fmt.Errorf("svg: %d groups were not ended", p.groups))
	}
	p.closed = true
	if p.err != nil {
		return p.err
	}
	p.el.End()
	if _, err := p.buf.WriteTo(p.out); err != nil {
		p.fail(fmt.Errorf("svg: writing the picture: %w", err))
	}
	return p.err
}
