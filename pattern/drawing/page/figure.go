package page

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

const (
	overhang = 6    // of a level line beyond the outline
	tickSize = 5    // of a notch, from the sewing line inwards
	placeTol = 1e-6 // of a notch along its edge
	sampled  = 4    // mm between the places where a line keeps words away

	sameHeight = 0.0005 // mm: half of the step of a file's numbers
)

// figure is a piece about its own 0 0, in mm, y down.
type figure struct {
	garment *pattern.Garment
	piece   *pattern.Piece
	at      curve.Point // on the page
	outline curve.Path
	lines   []Line
	texts   []Text
	room    curve.Box // of everything
	taken   room      // where names must not lie
}

func newFigure(g *pattern.Garment, p *pattern.Piece) *figure {
	f := &figure{garment: g, piece: p, outline: p.Outline().Transform(down)}
	f.room = f.outline.Bounds()
	if f.room.Empty() {
		f.room = f.room.Add(curve.Point{})
	}
	f.levels()
	f.marks()
	f.notches()
	f.grain()
	f.keepFree()
	f.caption()
	f.name()
	for _, t := range f.texts {
		f.room = f.room.Union(t.box())
	}
	return f
}

// down turns the piece's plane, y up, into the page's, y down.
var down = curve.Scale(1, -1)

func flip(p curve.Point) curve.Point { return curve.Pt(p.X, -p.Y) }

// placed lays the figure on the page.
func (f *figure) placed() Piece {
	m := curve.Translate(f.at.X, f.at.Y)
	out := Piece{Piece: f.piece, At: f.at, Outline: f.outline.Transform(m)}
	for _, l := range f.lines {
		l.Path = l.Path.Transform(m)
		l.Circle.Centre = l.Circle.Centre.Add(f.at)
		out.Lines = append(out.Lines, l)
	}
	for _, t := range f.texts {
		out.Texts = append(out.Texts, t.moved(f.at))
	}
	return out
}

// levels draws each level that the piece reaches, a little beyond its outline.
func (f *figure) levels() {
	for _, name := range levelNames(f.garment, f.piece) {
		y, ok := f.garment.LevelOn(f.piece, name)
		if !ok {
			continue
		}
		box := f.across(-y)
		if box.Empty() {
			continue
		}
		a, b := curve.Pt(box.Min.X-overhang, -y), curve.Pt(box.Max.X+overhang, -y)
		f.add(Line{Kind: Level, Name: name, Path: curve.Path{curve.Line(rounded(a), rounded(b))}})
	}
}

// across holds the places where the outline meets a height. Where it runs along
// that height, as the top of a piece that ends at a level, those are the ends of
// the run.
func (f *figure) across(y float64) curve.Box {
	box := curve.EmptyBox()
	for _, c := range f.outline.CrossingsY(y) {
		box = box.Add(c.Point)
	}
	for _, s := range f.outline {
		if math.Abs(s.P0.Y-y) <= sameHeight {
			box = box.Add(s.P0)
		}
	}
	return box
}

// levelNames lists the garment's levels and then those that only the piece has.
func levelNames(g *pattern.Garment, p *pattern.Piece) []string {
	var names []string
	seen := make(map[string]bool)
	for _, list := range [][]pattern.Level{g.Levels, p.Levels} {
		for _, l := range list {
			if !seen[l.Name] {
				names, seen[l.Name] = append(names, l.Name), true
			}
		}
	}
	return names
}

// marks draws lines as they run and points as signs of their size.
func (f *figure) marks() {
	for _, m := range f.piece.Marks {
		if l, ok := MarkLine(m); ok {
			l.Path, l.Circle.Centre = l.Path.Transform(down), flip(l.Circle.Centre)
			f.add(l)
		}
	}
}

// MarkLine gives a mark as it is drawn, in the plane of its piece (y up): a line
// as it runs, a point as a circle of its diameter, a buttonhole as its slit,
// whose far end is rounded. Sizes that the mark does not give are common
// practice, no source. False for a mark without a line.
func MarkLine(m pattern.Mark) (Line, bool) {
	l := Line{Kind: Mark, Of: string(m.Kind), Name: m.Name, Path: m.Path()}
	switch m.Kind {
	case pattern.Bone, pattern.Cord:
		l.Width = m.Width.Or(0)
	case pattern.Eyelet, pattern.Drill:
		l.Circle = Circle{m.At, m.Diameter.Or(4) / 2}
	case pattern.Button:
		l.Circle = Circle{m.At, m.Diameter.Or(15) / 2}
	case pattern.Buttonhole:
		sin, cos := math.Sincos(m.Angle.Or(0) * math.Pi / 180)
		end := m.At.Add(curve.Pt(cos, sin).Mul(m.Length.Or(15)))
		l.Path = curve.Path{curve.Line(m.At, rounded(end))}
	}
	return l, len(l.Path) > 0 || l.Circle.Radius > 0
}

// notches draws each notch as a tick from the sewing line inwards. One that has
// no place on its edge is left out: the checks speak of it.
func (f *figure) notches() {
	for _, n := range f.piece.Notches {
		i := f.piece.EdgeIndex(n.Edge.Name)
		if i < 0 {
			continue
		}
		d, problem := f.garment.SpotAt(f.piece, i, n.On, placeTol)
		if problem != nil {
			continue
		}
		edge := f.piece.EdgePath(i)
		way, ok := edge.TangentAt(d, placeTol)
		if !ok {
			continue
		}
		at := edge.PointAt(d, placeTol)
		to := at.Add(way.Left().Mul(tickSize))
		f.add(Line{Kind: Notch, Of: n.Edge.Name, Name: n.Name, Path: curve.Path{curve.Line(rounded(flip(at)), rounded(flip(to)))}})
	}
}

func (f *figure) grain() {
	if g := f.piece.Grain; g != nil && g.From != g.To {
		f.add(Line{Kind: Grain, Path: curve.Path{curve.Line(flip(g.From), flip(g.To))}})
	}
}

func rounded(p curve.Point) curve.Point { return pattern.Round(p) }

func (f *figure) add(l Line) {
	f.lines = append(f.lines, l)
	f.room = f.room.Union(l.box())
}

// box is the room that a line takes.
func (l Line) box() curve.Box {
	if r := l.Circle.Radius; r > 0 {
		return curve.EmptyBox().Add(l.Circle.Centre).Grow(r)
	}
	return l.Path.Bounds()
}

// caption writes above its outline what the piece is called and cut from. The
// name stands out, by which the piece is spoken of everywhere else; a title that
// says the same is not repeated.
func (f *figure) caption() {
	box := f.outline.Bounds()
	if box.Empty() {
		box = f.room
	}
	x := math.Round((box.Min.X + box.Max.X) / 2)
	y := f.room.Min.Y - 4
	name, title := svg.CleanText(f.piece.Name), svg.CleanText(f.piece.Title)
	var small []string
	if strings.TrimSpace(title) != "" && !sameWords(name, title) {
		small = append(small, title)
	}
	for _, c := range f.piece.Cloths {
		small = append(small, clothWords(c))
	}
	for i := len(small) - 1; i >= 0; i-- {
		f.write(Text{At: curve.Pt(x, y), Size: 4, Anchor: Middle, Text: shorten(small[i], 4, 120)})
		y -= 6
	}
	f.write(Text{At: curve.Pt(x, y), Size: 6, Anchor: Middle, Bold: true, Text: shorten(name, 6, 120)})
}

// sameWords tells whether a title says what the name says: "Side back" is what
// side-back is called in words.
func sameWords(name, title string) bool {
	plain := func(s string) string {
		return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), " ")
	}
	return strings.EqualFold(plain(name), plain(title))
}

// clothWords says how often a piece is cut from a cloth: "canvas, 1 pair".
func clothWords(c pattern.Cloth) string {
	how := string(c.Cut)
	if c.Cut == pattern.OnFold {
		how += " " + c.Fold.Name
	}
	return svg.CleanText(strings.TrimSpace(fmt.Sprintf("%s, %d %s", c.Name, c.Count, how)))
}
