package describe

import (
	"cmp"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// strayMost is how far outside a piece's own room a mark is still drawn, mm of the
// picture.
const strayMost = 4.0

// Sizes of marks that do not say theirs, mm of the cloth: common practice, no source.
const (
	eyeletWidth = 4.0
	buttonWidth = 15.0
	slitLength  = 15.0
)

// drawMarks draws what lies on a piece, faint: its own levels, its marks, and the
// grain as an arrow.
func (s *sheet) drawMarks(ink ink, c *cell, view svg.View) {
	c.drawOwnLevels(ink, view.Origin)
	for _, m := range c.piece.Marks {
		path, centre, radius := s.markShape(m)
		room := about(s.onPicture(centre), 2*radius, 2*radius)
		if len(path) > 0 {
			b := path.Bounds()
			p, q := s.onPicture(b.Min), s.onPicture(b.Max)
			room = box{p.X, q.Y, q.X, p.Y}
		}
		if !c.reaches(room) {
			continue
		}
		ink.pen.Titled(string(m.Kind)+" "+m.Name, svg.A("data-mark", m.Name))
		if len(path) > 0 {
			ink.pen.Path(view.Data(path), s.markInk(m)...)
		} else {
			ink.pen.Circle(view.At(centre), radius, faintInk(0.3)...)
		}
		ink.pen.End()
	}
	if g := c.piece.Grain; g != nil {
		a, b := s.onPicture(g.From), s.onPicture(g.To)
		if c.reaches(about(a, 0, 0).union(about(b, 0, 0))) {
			ink.arrow(view.At(g.From), view.At(g.To))
		}
	}
}

// reaches tells whether something lies on a piece or close to it: a slip of the
// point elsewhere would be drawn over other pieces.
func (c *cell) reaches(b box) bool {
	r := c.room.grown(strayMost)
	return b.x0 >= r.x0 && b.y0 >= r.y0 && b.x1 <= r.x1 && b.y1 <= r.y1
}

// markShape gives a mark's line, or the centre of its circle on the cloth and the
// circle's radius on the picture.
func (s *sheet) markShape(m pattern.Mark) (path curve.Path, centre curve.Point, radius float64) {
	switch m.Kind {
	case pattern.Buttonhole:
		sin, cos := math.Sincos(m.Angle.Or(0) * math.Pi / 180)
		return curve.Path{curve.Line(m.At, m.At.Add(curve.Pt(cos, sin).Mul(m.Length.Or(slitLength))))}, m.At, 0
	case pattern.Button:
		radius = m.Diameter.Or(buttonWidth) / 2 / s.scale
	default:
		radius = m.Diameter.Or(eyeletWidth) / 2 / s.scale
	}
	return m.Path(), m.At, max(radius, 0.5)
}

// markInk is as wide as what is sewn in along the line, and paler then.
func (s *sheet) markInk(m pattern.Mark) []svg.Attr {
	wide := m.Width.Or(0) / s.scale
	if (m.Kind != pattern.Bone && m.Kind != pattern.Cord) || wide < 0.45 {
		return faintInk(0.3)
	}
	return append(faintInk(min(wide, 8)), svg.N("stroke-opacity", 0.5))
}

func faintInk(width float64) []svg.Attr {
	return []svg.Attr{svg.A("class", "level"), svg.A("fill", "none"), svg.A("stroke", levelColour), svg.N("stroke-width", width)}
}

// arrow draws the grain: a faint line with a head at either end.
func (k ink) arrow(a, b curve.Point) {
	way, ok := b.Sub(a).Unit()
	if !ok {
		return
	}
	k.pen.Titled("grain", svg.A("data-grain", "yes"))
	k.pen.Line(a, b, faintInk(0.3)...)
	for _, end := range [2]struct{ at, way curve.Point }{{a, way}, {b, way.Mul(-1)}} {
		for _, side := range []float64{1, -1} {
			k.pen.Line(end.at, end.at.Add(end.way.Mul(2.2)).Add(end.way.Left().Mul(0.9*side)), faintInk(0.3)...)
		}
	}
	k.pen.End()
}

// ownLevel is a level that lies elsewhere on a piece than on the others, on the
// picture.
type ownLevel struct {
	name      string
	y, x0, x1 float64
}

// sameLine is how near to the garment's line a piece's own level is not told apart
// from it, mm of the picture.
const sameLine = 0.8

// putOwnLevels finds a piece's own levels and room for their names: on the piece
// where it is wide enough, else beside it.
func (s *sheet) putOwnLevels(c *cell) {
	for _, l := range c.piece.Levels {
		if y, ok := s.g.Level(l.Name); ok && math.Abs(y-l.Y) < sameLine*s.scale && !c.piece.NoLevels {
			continue
		}
		own := ownLevel{name: l.Name, y: -l.Y / s.scale}
		var ok bool
		if own.x0, own.x1, ok = c.across(own.y); !ok {
			continue
		}
		c.levels = append(c.levels, own)
		words := svg.Shorten(l.Name, levelSize, 40)
		w, h := min(svg.TextWidth(l.Name, levelSize), 40), 1.15*levelSize
		for _, x := range []float64{(own.x0 + own.x1) / 2, own.x1 + 1.5 + w/2, own.x0 - 1.5 - w/2} {
			b := about(curve.Pt(x, own.y-0.3-h/2), w, h)
			if c.onLines(b) == 0 && c.onLabels(b) == 0 {
				c.labels = append(c.labels, label{text: words, at: b, mute: true})
				c.room = c.room.union(b)
				break
			}
		}
	}
}

// drawOwnLevels draws them; their names stand among the labels.
func (c *cell) drawOwnLevels(ink ink, at curve.Point) {
	for _, l := range c.levels {
		ink.pen.Titled("level "+l.name, svg.A("data-level", l.name))
		ink.pen.Line(at.Add(curve.Pt(l.x0-1, l.y)), at.Add(curve.Pt(l.x1+1, l.y)), levelInk()...)
		ink.pen.End()
	}
}

// across gives the outermost places where the outline meets a height of the picture.
func (c *cell) across(y float64) (x0, x1 float64, ok bool) {
	for i, p := range c.line {
		q := c.line[(i+1)%len(c.line)]
		if (p.Y < y) == (q.Y < y) {
			continue
		}
		x := p.Lerp(q, (y-p.Y)/(q.Y-p.Y)).X
		if !ok {
			x0, x1, ok = x, x, true
		}
		x0, x1 = min(x0, x), max(x1, x)
	}
	return x0, x1, ok
}

// drawLevels draws the garment's levels across a row with their names at the left:
// of levels close together each name stands below the one before it.
func (s *sheet) drawLevels(ink ink, r sheetRow, y float64) {
	levels := slices.Clone(s.g.Levels)
	slices.SortStableFunc(levels, func(a, b pattern.Level) int { return cmp.Compare(b.Y, a.Y) })
	last := math.Inf(-1)
	for _, l := range levels {
		at := y - l.Y/s.scale
		if -(at-y) > r.up-headHeight || at-y > r.down {
			continue
		}
		ink.pen.Line(curve.Pt(edgeRoom, at), curve.Pt(sheetWidth-edgeRoom, at), levelInk()...)
		if name := max(at-0.7, last+levelSize+0.4); name <= y+r.down+rowGap {
			ink.text(edgeRoom, name, svg.Shorten(l.Name, levelSize, s.lane), svg.Style{Size: levelSize, Mute: true, Halo: haloWidth})
			last = name
		}
	}
}
