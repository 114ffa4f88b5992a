package overlay

import (
	"math"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// assembled is the picture of panels side by side, laid out in its own frame: x
// to the right, y down, the waist at 0, in mm.
type assembled struct {
	g      *pattern.Garment
	list   []laid
	joints []joint
	lines  []stretch
	alone  bool // one version: nothing to compare with
	names  []panelName
	calls  []jointCall
	levels []heldLevel
	lane   float64 // room at the left for the names of the levels
	room   rect
}

// stretch is an edge of a panel as the strip draws it.
type stretch struct {
	piece, edge string
	kind        string // seam, side, or run: a line that goes on across seams
	when        string // before, after, same
	path        curve.Path
	at          curve.Point // origin of its panel's frame, y down
	title       string
	change      compare.EdgeChange
}

// panelName is the name of a panel, at a place where it crosses no line if it can.
type panelName struct {
	at    curve.Point // middle of the first line's baseline
	lines []string
}

// heldLevel is a level's height over neighbouring panels.
type heldLevel struct {
	name   string
	y      float64 // y down
	x0, x1 float64
	named  bool
}

// newAssembled lays out the panels of one version, with the tops and hems of the
// other one where they were.
func newAssembled(c *compare.Change, g *pattern.Garment, alone bool) *assembled {
	a := sideBySide(c, g, alone)
	a.call()
	a.name()
	a.room.x0 -= a.lane
	return a
}

// sideBySide lays out the panels alone: their lines and levels.
func sideBySide(c *compare.Change, g *pattern.Garment, alone bool) *assembled {
	a := &assembled{g: g, list: besides(g), alone: alone}
	if len(a.list) > MostPanels {
		a.list = a.list[:MostPanels]
	}
	a.joints = jointsOf(g, a.list)
	for _, l := range a.list {
		a.outline(c, l)
	}
	a.room = rect{0, 0, 0, 0}
	for i, s := range a.lines {
		box := s.path.Bounds()
		r := rect{s.at.X + box.Min.X, s.at.Y - box.Max.Y, s.at.X + box.Max.X, s.at.Y - box.Min.Y}
		if i == 0 {
			a.room = r
		}
		a.room = a.room.union(r)
	}
	a.level()
	return a
}

// outline adds the edges of a panel.
func (a *assembled) outline(c *compare.Change, l laid) {
	kinds := a.kinds(l.piece)
	var edges []compare.EdgeChange
	for _, p := range c.Pieces {
		if p.Name == l.piece.Name && (p.After == l.piece || p.Before == l.piece) {
			s, _ := shown(p)
			edges = s.Edges
		}
	}
	add := func(e compare.EdgeChange, path curve.Path, when string) {
		if len(path) == 0 {
			return
		}
		kind := kinds[e.Name]
		if kind == "" {
			kind = "side"
			if when == "before" {
				kind = "run" // an edge that is gone: it may have been part of a top
			}
		}
		title := l.piece.Name + "." + e.Name
		if when != "same" {
			title = sentence(l.piece.Name, e)
		}
		a.lines = append(a.lines, stretch{
			piece: l.piece.Name, edge: e.Name, kind: kind, when: when,
			path: path, at: flip(l.at), title: title, change: e,
		})
	}
	for _, e := range edges {
		switch {
		case a.alone || e.Lies():
			add(e, lying(e), "same")
		default:
			if kind := kinds[e.Name]; kind == "run" || kind == "" {
				add(e, e.Before, "before")
			}
			add(e, e.After, "after")
		}
	}
}

// kinds tells of each edge of a panel whether it is sewn to a neighbour, goes on
// across a seam, or neither.
func (a *assembled) kinds(p *pattern.Piece) map[string]string {
	out := map[string]string{}
	for _, e := range p.Edges {
		out[e.Name] = "side"
	}
	for _, r := range a.g.Runs {
		for _, ref := range r.Refs {
			if ref.Piece == p.Name && p.EdgeIndex(ref.Edge) >= 0 {
				out[ref.Edge] = "run"
			}
		}
	}
	for _, j := range a.joints {
		for _, c := range j.ends {
			if c.piece == p {
				out[p.Edges[c.other()].Name] = "run"
			}
		}
	}
	for _, j := range a.joints {
		for _, c := range j.ends {
			if c.piece == p {
				out[p.Edges[c.edge].Name] = "seam"
			}
		}
	}
	return out
}

// level lays the levels over all panels that have them at one height; a panel
// with a height of its own breaks the line.
func (a *assembled) level() {
	named := map[string]bool{}
	for _, name := range a.levelNames() {
		open := false
		for i, l := range a.list {
			y, ok := levelOn(a.g, l.piece, name)
			if !ok || !l.hung {
				open = false
				continue
			}
			y = -(y + l.at.Y)
			box := l.piece.Outline().Bounds()
			x0, x1 := l.at.X+box.Min.X, l.at.X+box.Max.X
			if y < a.room.y0-8 || y > a.room.y1+8 {
				continue
			}
			if last := len(a.levels) - 1; open && math.Abs(a.levels[last].y-y) < 1e-9 {
				a.levels[last].x1 = max(a.levels[last].x1, x1)
				continue
			}
			held := heldLevel{name: name, y: y, x0: x0, x1: x1, named: !named[name]}
			if i == 0 {
				held.x0 = a.room.x0 - 2
			}
			a.levels = append(a.levels, held)
			named[name], open = true, true
		}
	}
	for _, l := range a.levels {
		a.lane = max(a.lane, laneFor(l.name))
	}
}

// levelNames names all levels that some panel may have.
func (a *assembled) levelNames() []string {
	var out []string
	seen := map[string]bool{}
	for _, l := range a.list {
		for _, name := range levelsOfBoth(l.piece, a.g) {
			if !seen[name] {
				seen[name] = true
				out = append(out, name)
			}
		}
	}
	return out
}

// name puts the panels' names above the waist, or in the middle of a panel that
// is not hung by it.
func (a *assembled) name() {
	st := strong()
	var taken []rect
	for _, l := range a.list {
		box := l.piece.Outline().Bounds()
		y := -quietHeight(a.g, l.piece) - l.at.Y
		x0, x1 := l.at.X+box.Min.X, l.at.X+box.Max.X
		ring := l.piece.Outline()
		left, okL := farthest([]curve.Path{ring}, -y-l.at.Y, -1)
		right, okR := farthest([]curve.Path{ring}, -y-l.at.Y, 1)
		if okL && okR {
			x0, x1 = l.at.X+left, l.at.X+right
		}
		n := panelName{lines: wrap(l.piece.Name, st, max(x1-x0-3, 16), 3)}
		wide := 0.0
		for _, line := range n.lines {
			wide = max(wide, st.Width(line))
		}
		tall := lead(st) * float64(len(n.lines))
		r := rect{(x0+x1)/2 - wide/2, y - tall/2, (x0+x1)/2 + wide/2, y + tall/2}
		for overlapsAny(r, taken) {
			r.y0, r.y1 = r.y0+1, r.y1+1
		}
		taken = append(taken, r)
		n.at = curve.Pt((x0+x1)/2, r.y0+st.Size)
		a.names = append(a.names, n)
		a.room = a.room.union(r.grow(0.5))
	}
}

func overlapsAny(r rect, taken []rect) bool {
	for _, t := range taken {
		if r.overlaps(t) {
			return true
		}
	}
	return false
}

// quietHeight gives a height on a piece, y up, at which no level lies near: the
// middle between the waist and the next level above; without levels the middle
// of the piece.
func quietHeight(g *pattern.Garment, p *pattern.Piece) float64 {
	box := p.Outline().Bounds()
	middle := (box.Min.Y + box.Max.Y) / 2
	waist, ok := waistOn(g, p)
	if _, hung := hangs(g, p); !ok || !hung {
		return middle
	}
	next := box.Max.Y
	for _, name := range levelsOfBoth(p, g) {
		if y, ok := levelOn(g, p, name); ok && y > waist+12 {
			next = min(next, y)
		}
	}
	if at := (waist + next) / 2; at > box.Min.Y && at < box.Max.Y {
		return at
	}
	return middle
}

// draw puts the picture down with its upper left corner at x, y.
func (a *assembled) draw(pg *page, x, y float64) {
	at := curve.Pt(tenth(x-a.room.x0), tenth(y-a.room.y0))
	a.drawLevels(pg, at)
	for _, kind := range []string{"seam", "side"} {
		a.drawLines(pg, at, func(s stretch) bool { return s.kind == kind })
	}
	for _, when := range []string{"before", "same", "after"} {
		a.drawLines(pg, at, func(s stretch) bool { return s.kind == "run" && s.when == when })
	}
	for _, j := range a.calls {
		j.draw(pg, at)
	}
	for i, n := range a.names {
		pg.pen.Group(svg.A("data-panel", a.list[i].piece.Name), svg.N("data-x", at.X+a.list[i].at.X), svg.N("data-y", at.Y-a.list[i].at.Y))
		for k, line := range n.lines {
			s := strong().Middle()
			s.Halo = haloOfWords
			pg.text(at.X+n.at.X, at.Y+n.at.Y+lead(s)*float64(k), line, s)
		}
		pg.pen.End()
	}
}

// drawLines draws the edges that are chosen.
func (a *assembled) drawLines(pg *page, at curve.Point, chosen func(stretch) bool) {
	for _, s := range a.lines {
		if !chosen(s) {
			continue
		}
		pg.pen.Titled(s.title, svg.A("data-edge", s.piece+"."+s.edge), svg.A("data-when", s.when), svg.A("data-kind", s.kind))
		d := svg.View{Origin: at.Add(s.at)}.Data(s.path)
		switch {
		case s.when == "before":
			pg.before(d)
		case s.kind == "seam":
			pg.pen.Path(d, seamInk()...)
		case s.kind == "side":
			pg.pen.Path(d, stillInk()...)
		case s.when == "after":
			pg.lineAfter(d, s.change)
		default:
			pg.pen.Path(d, runInk()...)
		}
		pg.pen.End()
	}
}

// seamInk is for the edges between panels, which are to recede; runInk for lines
// that go on across seams.
func seamInk() []svg.Attr { return stroke("level", levelColour, 0.3) }
func runInk() []svg.Attr  { return stroke("line", inkColour, 0.7) }

func (a *assembled) drawLevels(pg *page, at curve.Point) {
	x := at.X + a.room.x0
	pg.heldLevels(a.levels, x, at, a.lane, at.Y+a.room.y1+2)
}

// downwards sorts levels from the highest down.
func downwards(levels []heldLevel) []heldLevel {
	out := append([]heldLevel(nil), levels...)
	sort.SliceStable(out, func(i, j int) bool { return out[i].y < out[j].y })
	return out
}

// heldLevels draws levels and, in the lane at the left, their names: from the top
// down, each below the one before it.
func (pg *page) heldLevels(levels []heldLevel, x float64, at curve.Point, lane, lowest float64) {
	last := math.Inf(-1)
	for _, l := range downwards(levels) {
		pg.pen.Titled("level "+l.name, svg.A("data-level", l.name))
		pg.pen.Line(curve.Pt(at.X+l.x0, at.Y+l.y), curve.Pt(at.X+l.x1, at.Y+l.y), levelInk()...)
		if l.named {
			if y := max(at.Y+l.y+1.1, last+4.6); y < lowest {
				last = y
				pg.levelName(x, y, lane, l.name)
			}
		}
		pg.pen.End()
	}
}
