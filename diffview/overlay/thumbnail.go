package overlay

import (
	"fmt"
	"io"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// Measures of the overview, mm.
const (
	overviewWidth  = 200.0
	overviewFew    = 110.0 // the width for one or two pieces that were asked for
	overviewMargin = 8.0
	overviewTall   = 130.0 // the pieces are drawn as large as this allows
	overviewMore   = 11.0  // or this for each of many pieces
	overviewGap    = 7.0
)

// notToScale stands on the overview.
const notToScale = "overview, not to scale"

// Thumbnail draws all pieces of a garment small on a picture 200 mm wide, for a
// page that shows what the folder holds: those that go round the body first,
// their waists level, then the others by name, all made smaller alike, with
// their names. It is no measure and says so. What cannot be written is the error.
func Thumbnail(w io.Writer, g *pattern.Garment, o Options) error {
	return thumbnail(w, g, o, overviewWidth)
}

// ThumbnailOf draws the named pieces alone, as Thumbnail draws all; one or two of them
// on a narrower picture. A name that the garment lacks is left out.
func ThumbnailOf(w io.Writer, g *pattern.Garment, names []string, o Options) error {
	few := only(g, names)
	width := overviewWidth
	if len(few.Pieces) < 3 {
		width = overviewFew
	}
	return thumbnail(w, few, o, width)
}

// only gives a garment with the named pieces alone.
func only(g *pattern.Garment, names []string) *pattern.Garment {
	few := *g
	few.Pieces = slices.DeleteFunc(slices.Clone(g.Pieces), func(p *pattern.Piece) bool { return !slices.Contains(names, p.Name) })
	return &few
}

func thumbnail(w io.Writer, g *pattern.Garment, o Options, width float64) error {
	if o.Title == "" {
		o.Title = g.Title
	}
	s := &stack{width: width - 2*overviewMargin}
	s.para(title(o, ""), style{Size: 8, Bold: true}, 2)
	figs, more := overviewFigures(g)
	words := notToScale
	if o.To != "" {
		words += ", " + o.To
	}
	if slices.ContainsFunc(figs, func(f overviewFigure) bool { return f.grain != nil }) {
		words += "; arrows: grain"
	}
	s.para(words, style{Size: 4.6, Mute: true}, 3)
	faults := faultsOf(g)
	s.faulty(faults, 1)
	s.space(5)
	s.overview(figs, max(overviewTall, overviewMore*float64(len(figs))))
	if more > 0 {
		s.line("and "+plural(more, "piece", "pieces")+" more", style{Size: 4.6, Mute: true})
	}
	switch {
	case len(figs) > 0:
	case len(g.Pieces) > 0:
		s.line("no piece can be drawn", style{Size: 5})
	default:
		s.line("no pieces yet", style{Size: 5})
	}
	pen := svg.New(w, svg.Picture{
		Width: width, Height: tenth(s.height + 2*overviewMargin), Title: title(o, ""),
		Desc: overviewWords(figs, more, faults), Prefix: o.Prefix,
	})
	s.draw(newPage(pen), overviewMargin, overviewMargin)
	if err := pen.Close(); err != nil {
		return fmt.Errorf("drawing the overview: %w", err)
	}
	return nil
}

// MostInOverview is how many pieces an overview draws.
const MostInOverview = 60

// overviewFigure is a piece of the overview, in true mm.
type overviewFigure struct {
	name      string
	ring      curve.Path
	box       curve.Box // of the ring
	up        float64   // how far it goes up for its waist to lie at 0
	hung      bool      // else it stands on the line of the lowest hem
	nameLines []string
	grain     *pattern.Grain
}

func nameStyle() style { return style{Size: 4.6} }

// overviewFigures gives the pieces in order, and how many are left out.
func overviewFigures(g *pattern.Garment) (out []overviewFigure, more int) {
	placed := map[string]bool{}
	add := func(p *pattern.Piece) {
		if p == nil || placed[p.Name] {
			return
		}
		placed[p.Name] = true
		if cannotDraw(p) != "" {
			return
		}
		if len(out) == MostInOverview {
			more++
			return
		}
		f := overviewFigure{name: p.Name, ring: p.Outline()}
		if p.Grain != nil && p.Grain.From != p.Grain.To {
			f.grain = p.Grain
		}
		f.box = f.ring.Bounds()
		f.up, f.hung = hangs(g, p)
		out = append(out, f)
	}
	for _, m := range g.Around {
		add(g.Piece(m.Name))
	}
	for _, p := range g.Pieces {
		add(p)
	}
	return out, more
}

// bank is one row of the overview at a scale.
type bank struct {
	figs        []overviewFigure
	widths      []float64
	top, bottom float64 // above and below the waist, mm of the picture
	nameLines   int
}

// banks sets the pieces in rows of the sheet's width at a scale.
func banks(figs []overviewFigure, scale, width float64) (rows []bank, tall float64) {
	used := width
	for _, f := range figs {
		w := scale * f.box.Width()
		f.nameLines = wrap(f.name, nameStyle(), max(w, nameRoom(f.name)), 3)
		for _, line := range f.nameLines {
			w = max(w, nameStyle().Width(line))
		}
		if len(rows) == 0 || used+overviewGap+w > width {
			rows, used = append(rows, bank{}), -overviewGap
		}
		r := &rows[len(rows)-1]
		used += overviewGap + w
		r.figs, r.widths = append(r.figs, f), append(r.widths, w)
		if f.hung {
			r.top = max(r.top, scale*(f.box.Max.Y+f.up))
			r.bottom = max(r.bottom, -scale*(f.box.Min.Y+f.up))
		}
		r.nameLines = max(r.nameLines, len(f.nameLines))
	}
	for i := range rows {
		rows[i].stand(scale)
		tall += rows[i].height()
	}
	return rows, tall
}

// stand sets the pieces that are not hung by their waist on the line of the
// lowest hem.
func (r *bank) stand(scale float64) {
	for i := range r.figs {
		f := &r.figs[i]
		if !f.hung {
			f.up = -r.bottom/scale - f.box.Min.Y
			r.top = max(r.top, scale*(f.box.Max.Y+f.up))
		}
	}
}

// nameRoom is what a name takes where it is broken after its hyphens.
func nameRoom(name string) float64 {
	room := 0.0
	for _, part := range parts(name) {
		room = max(room, nameStyle().Width(part))
	}
	return min(room, 45)
}

func (r bank) height() float64 {
	return r.top + r.bottom + 3 + lead(nameStyle())*float64(r.nameLines) + 5
}

// overview adds the rows at the largest scale that fits in most mm of height, at most
// half.
func (s *stack) overview(figs []overviewFigure, most float64) {
	scale := 0.5
	rows, tall := banks(figs, scale, s.width)
	for (tall > most || widest(rows) > s.width) && scale > 0.01 {
		scale *= 0.97
		rows, tall = banks(figs, scale, s.width)
	}
	for _, r := range rows {
		s.add(r.height(), func(pg *page, x, y float64) { r.draw(pg, x, y, scale, s.width) })
	}
}

func widest(rows []bank) float64 {
	most := 0.0
	for _, r := range rows {
		for _, w := range r.widths {
			most = max(most, w)
		}
	}
	return most
}

func (r bank) draw(pg *page, x, y, scale, width float64) {
	total := -overviewGap
	for _, w := range r.widths {
		total += w + overviewGap
	}
	x += (width - total) / 2
	for i, f := range r.figs {
		middle := x + r.widths[i]/2
		v := svg.View{
			Origin: curve.Pt(middle-scale*(f.box.Min.X+f.box.Max.X)/2, y+r.top-scale*f.up), Scale: scale,
		}
		pg.pen.Titled(f.name, svg.A("data-piece", f.name))
		d := v.Data(f.ring)
		pg.pen.Path(d, svg.A("class", "word"), svg.A("fill", inkColour), svg.N("fill-opacity", 0.06))
		pg.pen.Path(d, stroke("line", inkColour, 0.5)...)
		if f.grain != nil {
			pg.grain(v.At(f.grain.From), v.At(f.grain.To))
		}
		for k, line := range f.nameLines {
			st := nameStyle()
			pg.text(middle, y+r.top+r.bottom+3+st.Size+lead(st)*float64(k), line, st.Middle())
		}
		pg.pen.End()
		x += r.widths[i] + overviewGap
	}
}

// grain draws the direction of the warp, with a head at both ends.
func (pg *page) grain(a, b curve.Point) {
	way, ok := b.Sub(a).Unit()
	if !ok {
		return
	}
	pg.pen.Line(a, b, stroke("line", inkColour, 0.3)...)
	head := min(2.4, 0.3*a.Dist(b))
	for _, end := range []struct{ at, back curve.Point }{{a, way}, {b, way.Mul(-1)}} {
		base := end.at.Add(end.back.Mul(head))
		side := end.back.Left().Mul(0.3 * head)
		pg.pen.Polygon([]curve.Point{end.at, base.Add(side), base.Sub(side)}, dotInk()...)
	}
}

// overviewWords says which pieces there are.
func overviewWords(figs []overviewFigure, more int, faults []string) string {
	text := notToScale + ": " + plural(len(figs)+more, "piece", "pieces")
	for i, f := range figs {
		if i == 0 {
			text += ": "
		} else {
			text += ", "
		}
		text += f.name
	}
	if more > 0 {
		text += fmt.Sprintf(", and %d more", more)
	}
	for _, f := range faults {
		text += ". " + f
	}
	return text + "."
}
