package overlay

import (
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// figure is one piece as it is drawn, laid out about the origin of its own
// frame: x to the right, y down, in mm.
type figure struct {
	change   compare.PieceChange // without a version that cannot be drawn
	whole    compare.PieceChange
	garments [2]*pattern.Garment // before, after
	areas    areas
	rows     []edgeRow
	caption  []string
	box      rect // of the outlines alone
	room     rect // with everything that belongs to it
	tags     []tag
	callouts []callout
	levels   []pattern.Level
	lane     float64 // room at its left for the names of its own levels
	detail   *detail
	marks    []pieceMark
	old      []oldLevel
	pins     *pins // findings on it, where the picture is of those
}

// edgeRow is an edge with its number on the sheet.
type edgeRow struct {
	edge   compare.EdgeChange
	number string
}

// newFigure lays out one piece; numbers go on from first.
func newFigure(c *compare.Change, p compare.PieceChange, first int) *figure {
	f := bareFigure(c, p)
	p = f.change
	if p.Before != nil && p.After != nil && p.Status != compare.Moved {
		f.areas = changedAreas(p.Laid(), p.After)
	}
	f.number(first)
	f.old = oldLevels(c, p)
	f.detail = newDetail(f)
	f.label()
	f.captioned()
	return f
}

// bareFigure is a piece with its marks and levels, before anything is labelled.
func bareFigure(c *compare.Change, p compare.PieceChange) *figure {
	f := &figure{whole: p, garments: [2]*pattern.Garment{c.Before, c.After}}
	f.change, _ = shown(p)
	box := curve.EmptyBox()
	for _, e := range f.change.Edges {
		box = box.Union(e.Before.Bounds()).Union(e.After.Bounds())
	}
	f.box = rect{0, 0, 60, 1} // nothing but its name
	if !box.Empty() {
		f.box = rect{box.Min.X, -box.Max.Y, box.Max.X, -box.Min.Y}
		f.levels = levelsOf(c, f.change)
	}
	f.marks = f.nearMarks(pieceMarks(f.whole, f.garments))
	return f
}

// piece gives the version that is drawn: the later one where there is one, and
// a piece without an outline where neither can be drawn.
func (f *figure) piece() *pattern.Piece {
	switch {
	case f.change.After != nil:
		return f.change.After
	case f.change.Before != nil:
		return f.change.Before
	}
	return &pattern.Piece{Name: f.change.Name}
}

// hides tells whether the earlier (0) or the later version (1) cannot be drawn.
func (f *figure) hides(version int) bool {
	if version == 0 {
		return f.change.Before == nil && f.whole.Before != nil
	}
	return f.change.After == nil && f.whole.After != nil
}

// markReach is how far outside its piece a mark is still drawn, mm.
const markReach = 60

// nearMarks leaves out the lines of marks that lie far outside the piece: a slip
// of the point there would make a sheet that nothing can show.
func (f *figure) nearMarks(marks []pieceMark) []pieceMark {
	near := func(list []curve.Path) []curve.Path {
		var out []curve.Path
		for _, p := range list {
			b := p.Bounds()
			if f.box.grow(markReach).holds(flip(b.Min)) && f.box.grow(markReach).holds(flip(b.Max)) {
				out = append(out, p)
			}
		}
		return out
	}
	for i := range marks {
		m := &marks[i]
		m.before, m.after = near(m.before), near(m.after)
		if f.hides(0) {
			m.before = nil
		}
		if f.hides(1) {
			m.after = nil
		}
	}
	return marks
}

// captioned puts the piece's name above it.
func (f *figure) captioned() {
	words := f.change.Name
	switch {
	case f.change.Before == nil && f.change.After == nil:
		words += " \u2013 not drawn"
	case f.hides(0):
		words += " \u2013 only as it is now"
	case f.hides(1):
		words += " \u2013 only as it was"
	case f.change.Before == nil || f.change.After == nil:
		words += " \u2013 " + string(f.change.Status) + from(f.change.Was)
	case f.change.Status == compare.Moved:
		words += " \u2013 moved as a whole"
	case f.change.Status == compare.Renamed:
		words += " \u2013 was " + strings.Join(f.change.Was, ", ")
	case f.change.Status == compare.Unchanged:
		words += " \u2013 did not change"
	case !f.change.Moved:
		words += " \u2013 outline as before"
	}
	f.captionedAs(words)
}

// captionedAs puts words above the piece.
func (f *figure) captionedAs(words string) {
	f.caption = wrap(words, heading(), max(90, f.room.width()), 4)
	wide := 0.0
	for _, line := range f.caption {
		wide = max(wide, heading().Width(line))
	}
	x := f.captionAt()
	f.room = f.room.union(rect{x - wide/2, f.room.y0 - captionLead*float64(len(f.caption)) - 2, x + wide/2, f.room.y1})
}

// captionAt gives the middle of the name above a piece: over all that belongs to
// it, or, where tags may stand far aside, over the piece.
func (f *figure) captionAt() float64 {
	if f.pins != nil {
		return f.box.centre().X
	}
	return f.room.centre().X
}

// from says what a piece was split off or joined from.
func from(was []string) string {
	if len(was) == 0 {
		return ""
	}
	return " from " + strings.Join(was, " and ")
}

const captionLead = 6

// levelsOf gives the levels that lie on the piece, from the top down.
func levelsOf(c *compare.Change, p compare.PieceChange) []pattern.Level {
	g, piece := c.After, p.After
	if piece == nil {
		g, piece = c.Before, p.Before
	}
	var out []pattern.Level
	for _, name := range levelNames(c, piece) {
		if y, ok := levelOn(g, piece, name); ok {
			out = append(out, pattern.Level{Name: name, Y: y})
		}
	}
	return out
}

// levelNames are the garment's levels and those that only the piece has.
func levelNames(c *compare.Change, p *pattern.Piece) []string {
	seen := map[string]bool{}
	var out []string
	add := func(name string) {
		if !seen[name] {
			seen[name] = true
			out = append(out, name)
		}
	}
	for _, name := range c.Levels {
		add(name)
	}
	for _, l := range p.Levels {
		add(l.Name)
	}
	return out
}

// draw puts the figure down with the origin of the piece's frame at a place of
// the sheet.
func (f *figure) draw(pg *page, at curve.Point) {
	v := svg.View{Origin: at}
	pen := pg.pen
	pen.Titled(f.summary(), svg.A("data-piece", f.change.Name), svg.N("data-x", at.X), svg.N("data-y", at.Y))
	f.drawAreas(pg, v)
	f.drawStill(pg, v)
	f.drawGrain(pg, v)
	for _, l := range f.old {
		l.draw(pg, at)
	}
	f.drawMoved(pg, v)
	for _, when := range []string{"before", "after"} {
		for _, m := range f.marks {
			m.draw(pg, v, f.change.Name, when)
		}
	}
	if f.detail != nil {
		f.detail.ring(pg, v)
	}
	for _, c := range f.callouts {
		c.draw(pg, at)
	}
	for _, t := range f.tags {
		t.draw(pg, at)
	}
	if f.pins != nil {
		f.pins.draw(pg, at)
	}
	y := at.Y + f.room.y0 + 4.4
	for _, line := range f.caption {
		pg.text(at.X+f.captionAt(), y, line, heading().Middle())
		y += captionLead
	}
	pen.End()
}

func (f *figure) summary() string {
	if f.pins != nil {
		return f.change.Name + ": " + f.pins.summary()
	}
	s := f.change.Name + ": " + string(f.change.Status)
	if f.change.Status == compare.Changed {
		gained, lost := f.areas.sum()
		s += ", gained " + squares(gained) + ", lost " + squares(lost)
	}
	return s
}

func (f *figure) drawAreas(pg *page, v svg.View) {
	if len(f.areas.lost) > 0 {
		pg.pen.Titled("lost", svg.A("data-area", "lost"))
		pg.lost(v.Data(f.areas.lost...))
		pg.pen.End()
	}
	if len(f.areas.gained) > 0 {
		pg.pen.Titled("gained", svg.A("data-area", "gained"))
		pg.gained(v.Data(f.areas.gained...))
		pg.pen.End()
	}
}

func (f *figure) drawStill(pg *page, v svg.View) {
	for _, e := range f.change.Edges {
		if path := lying(e); e.Lies() && len(path) > 0 {
			f.edge(pg, e, "same", func() { pg.pen.Path(v.Data(path), stillInk()...) })
		}
	}
}

// drawMoved draws all lines before, then all lines after, so that no halo cuts
// a line after.
func (f *figure) drawMoved(pg *page, v svg.View) {
	for _, e := range f.change.Edges {
		if !e.Lies() && len(e.Before) > 0 {
			f.edge(pg, e, "before", func() { pg.before(v.Data(e.Before)) })
		}
	}
	for _, e := range f.change.Edges {
		if !e.Lies() && len(e.After) > 0 {
			f.edge(pg, e, "after", func() { pg.lineAfter(v.Data(e.After), e) })
		}
	}
}

// lying gives the line of an edge that did not move, of the version that can be
// drawn.
func lying(e compare.EdgeChange) curve.Path {
	if len(e.After) > 0 {
		return e.After
	}
	return e.Before
}

// endsOnly tells whether an edge became only longer or shorter: it lies where it
// lay.
func endsOnly(e compare.EdgeChange) bool {
	return e.Redrawn() && !e.Movement.Moved && len(e.Before) > 0 && len(e.After) > 0
}

// lineAfter draws an edge as it is: heavy, or thin over the dashes where only its
// ends moved, so that nothing looks moved that was not.
func (pg *page) lineAfter(d svg.PathData, e compare.EdgeChange) {
	if endsOnly(e) {
		pg.pen.Path(d, haloInk()...)
		pg.pen.Path(d, stillInk()...)
		return
	}
	pg.after(d)
}

// edge draws in a group that has the edge's own title.
func (f *figure) edge(pg *page, e compare.EdgeChange, when string, draw func()) {
	title := sentence(f.change.Name, e)
	if when == "before" {
		title += " (as it was)"
	}
	pg.pen.Titled(title, svg.A("data-edge", f.change.Name+"."+e.Name), svg.A("data-when", when))
	draw()
	pg.pen.End()
}

// drawGrain draws the grain as a thin line with two heads.
func (f *figure) drawGrain(pg *page, v svg.View) {
	g := f.piece().Grain
	if g == nil {
		return
	}
	a, b := v.At(g.From), v.At(g.To)
	way, ok := b.Sub(a).Unit()
	if !ok || !f.box.grow(5).holds(flip(g.From)) || !f.box.grow(5).holds(flip(g.To)) {
		return
	}
	ink := stroke("level", levelColour, 0.3)
	pg.pen.Line(a, b, ink...)
	for _, end := range [2]struct{ at, way curve.Point }{{a, way}, {b, way.Mul(-1)}} {
		for _, side := range []float64{1, -1} {
			pg.pen.Line(end.at, end.at.Add(end.way.Mul(3.2)).Add(end.way.Left().Mul(1.3*side)), ink...)
		}
	}
}
