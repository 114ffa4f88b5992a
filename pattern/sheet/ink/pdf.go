package ink

import (
	"bytes"
	"fmt"
	"io"
	"math"

	"codeberg.org/go-pdf/fpdf"

	"seamkeep/pattern/curve"
)

// Producer is the word by which the program knows its own PDF again.
const Producer = "seamkeep sheet"

// fontName is what the font is called inside the PDF.
const fontName = "words"

// noScaling asks print dialogs for the true size (ISO 32000-1, 12.2, PrintScaling).
// The library has no call for it; the language is the one entry of the catalogue
// that takes free text, and the sign for a comment hides the bracket behind it.
const noScaling = "en) /ViewerPreferences << /PrintScaling /None >> %"

// embeds tells whether the font can be embedded, by doing it.
func (f *Face) embeds() error {
	b := Book{Face: f, Pages: []Page{{Width: 100, Height: 100, Parts: []Part{{
		Clip:    curve.EmptyBox(),
		Drawing: &Drawing{Texts: []Text{{Size: 10, Words: "n"}}},
	}}}}}
	return b.WritePDF(io.Discard)
}

// WritePDF writes the book as PDF. It writes nothing where there is an error.
func (b *Book) WritePDF(w io.Writer) (err error) {
	defer func() {
		// The library panics on some fonts and characters; what it is given here
		// is filtered, yet a font of the maker's may hold anything.
		if x := recover(); x != nil {
			err = fmt.Errorf("write PDF: the font cannot be embedded: %v", x)
		}
	}()
	d := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	d.SetCatalogSort(true)
	d.SetCreationDate(b.Date)
	d.SetModificationDate(b.Date)
	d.SetProducer(Producer, false)
	d.SetTitle(b.Title, true)
	d.SetSubject(b.Subject, true)
	d.SetLang(noScaling)
	d.SetAutoPageBreak(false, 0)
	d.SetMargins(0, 0, 0)
	d.SetLineJoinStyle("round")
	d.AddUTF8FontFromBytes(fontName, "", b.Face.data)
	p := &pdf{d: d, face: b.Face}
	for _, l := range layers[1:] {
		p.ids[l] = d.AddLayer(l.Name(), true)
	}
	for _, page := range b.Pages {
		p.page(page)
	}
	var buf bytes.Buffer
	if err := d.Output(&buf); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	_, err = w.Write(buf.Bytes())
	return err
}

// pdf draws pages with the library, whose y runs down.
type pdf struct {
	d      *fpdf.Fpdf
	face   *Face
	ids    [len(layers)]int
	height float64
}

func (p *pdf) page(page Page) {
	p.height = page.Height
	p.d.AddPageFormat("P", fpdf.SizeType{Wd: page.Width, Ht: page.Height})
	p.d.SetFont(fontName, "", 10)
	for _, part := range page.Parts {
		clipped := !part.Clip.Empty()
		if clipped {
			c := part.Clip
			p.d.ClipRect(c.Min.X, p.height-c.Max.Y, c.Width(), c.Height(), false)
		}
		seen := part.seen(p.face)
		for _, l := range layers {
			p.layer(seen, l)
		}
		if clipped {
			p.d.ClipEnd()
		}
	}
}

func (p *pdf) layer(d *Drawing, l Layer) {
	var begun bool
	begin := func() {
		if !begun && l != Frame {
			p.d.BeginLayer(p.ids[l])
		}
		begun = true
	}
	for _, s := range d.Strokes {
		if s.Layer == l && len(s.Path) > 0 {
			begin()
			p.stroke(s)
		}
	}
	for _, t := range d.Texts {
		if t.Layer == l && t.Words != "" {
			begin()
			p.text(t)
		}
	}
	if begun && l != Frame {
		p.d.EndLayer()
	}
}

func (p *pdf) stroke(s Stroke) {
	grey := int(math.Round(s.Grey * 255))
	how := "D"
	if s.Fill {
		p.d.SetFillColor(grey, grey, grey)
		how = "F"
	} else {
		p.d.SetDrawColor(grey, grey, grey)
		p.d.SetLineWidth(s.Width)
		p.d.SetDashPattern(s.Dash, 0)
	}
	at := curve.Point{}
	for i, seg := range s.Path {
		if i == 0 || seg.P0 != at {
			p.d.MoveTo(seg.P0.X, p.height-seg.P0.Y)
		}
		if seg.Straight {
			p.d.LineTo(seg.P3.X, p.height-seg.P3.Y)
		} else {
			p.d.CurveBezierCubicTo(seg.P1.X, p.height-seg.P1.Y, seg.P2.X, p.height-seg.P2.Y, seg.P3.X, p.height-seg.P3.Y)
		}
		at = seg.P3
	}
	if s.Path.Start() == s.Path.End() {
		p.d.ClosePath()
	}
	p.d.DrawPath(how)
}

func (p *pdf) text(t Text) {
	const pointsPerMM = 72 / 25.4
	grey := int(math.Round(t.Grey * 255))
	p.d.SetTextColor(grey, grey, grey)
	p.d.SetFontSize(t.Size * pointsPerMM)
	left := [...]float64{Start: 0, Middle: 0.5, End: 1}[t.Anchor] * p.face.Width(t.Words, t.Size)
	x, y := t.At.X, p.height-t.At.Y
	if t.Turn == 0 {
		p.d.Text(x-left, y, p.words(t.Words))
		return
	}
	p.d.TransformBegin()
	p.d.TransformRotate(t.Turn, x, y)
	p.d.Text(x-left, y, p.words(t.Words))
	p.d.TransformEnd()
}

// words are as the file needs them: letters joined, then in the order in which they are
// seen.
func (p *pdf) words(s string) string { return visual(p.face.joined(s)) }
