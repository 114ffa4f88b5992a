package ink

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// apart is the room between two pages of a picture, in mm.
const apart = 10

// WriteSVG writes the book as one picture, its pages below each other, each at
// full size.
func (b *Book) WriteSVG(w io.Writer) error {
	pic := svg.Picture{Title: b.title(), Desc: b.Subject, Prefix: "sheet-"}
	for i, page := range b.Pages {
		pic.Width = max(pic.Width, page.Width)
		pic.Height += page.Height
		if i > 0 {
			pic.Height += apart
		}
	}
	pen := svg.New(w, pic)
	top := 0.0
	for i, page := range b.Pages {
		pen.Rect(0, top, page.Width, page.Height, svg.A("fill", "none"), svg.A("stroke", svg.Faint), svg.N("stroke-width", 0.1))
		for j, part := range page.Parts {
			b.part(pen, part, fmt.Sprintf("window-%d-%d", i+1, j+1), top+page.Height)
		}
		top += page.Height + apart
	}
	return pen.Close()
}

// title is what a picture is called: it must not be nothing.
func (b *Book) title() string {
	if b.Title == "" {
		return "full-size sheets"
	}
	return b.Title
}

// part draws one part of a page whose lower edge lies bottom mm below the top of
// the picture.
func (b *Book) part(pen *svg.Pen, part Part, id string, bottom float64) {
	if c := part.Clip; c.Empty() {
		pen.Group()
	} else {
		pen.Group(pen.Window(id, c.Min.X, bottom-c.Max.Y, c.Width(), c.Height(), 0))
	}
	seen := part.seen(b.Face)
	for _, l := range layers {
		pen.Group(svg.A("class", strings.ReplaceAll(strings.ToLower(l.Name()), " ", "-")))
		for _, s := range seen.Strokes {
			if s.Layer == l {
				s.draw(pen, bottom)
			}
		}
		for _, t := range seen.Texts {
			if t.Layer == l {
				t.draw(pen, bottom)
			}
		}
		pen.End()
	}
	pen.End()
}

func shade(grey float64) string {
	v := int(math.Round(grey * 255))
	return fmt.Sprintf("#%02x%02x%02x", v, v, v)
}

func (s Stroke) draw(pen *svg.Pen, bottom float64) {
	data := svg.View{Origin: curve.Pt(0, bottom)}.Data(s.Path)
	if s.Fill {
		pen.Path(data, svg.A("fill", shade(s.Grey)))
		return
	}
	attrs := []svg.Attr{svg.A("fill", "none"), svg.A("stroke", shade(s.Grey)), svg.N("stroke-width", s.Width)}
	if len(s.Dash) > 0 {
		attrs = append(attrs, svg.Dash(s.Dash...))
	}
	pen.Path(data, attrs...)
}

func (t Text) draw(pen *svg.Pen, bottom float64) {
	x, y := t.At.X, bottom-t.At.Y
	attrs := []svg.Attr{svg.N("font-size", t.Size), svg.A("fill", shade(t.Grey))}
	if t.Anchor != Start {
		attrs = append(attrs, svg.A("text-anchor", [...]string{Middle: "middle", End: "end"}[t.Anchor]))
	}
	if t.Turn != 0 {
		attrs = append(attrs, svg.Rotate(-t.Turn, x, y))
	}
	pen.Text(x, y, t.Words, attrs...)
}
