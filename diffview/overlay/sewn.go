package overlay

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// sewnLine is a neckline or a hem as it is sewn: each panel laid on the one
// before it, seam along seam. In its own frame, y up, its ends level; the room is
// y down.
type sewnLine struct {
	name   string
	parts  []sewnPart
	old    []curve.Path // as it was sewn before, where it lay elsewhere
	calls  []jointCall
	panels []sewnCaption
	words  []panelName
	room   rect
}

// sewnCaption is a panel's name and its longest edge in the line.
type sewnCaption struct {
	name string
	path curve.Path
}

// sewnPart is an edge of a panel in the line, or a stub of a seam.
type sewnPart struct {
	piece, edge, kind string
	changed           bool
	path              curve.Path
}

// chain is the panels of a line and the motion of each.
type chain struct {
	name    string
	joints  []joint
	motions []curve.Affine // of joints[i].ends[0], and at the end of the last panel
}

// stub is how much of a seam a sewn line shows, mm.
const stub = 12.0

// sewnLines gives each line that crosses seams between neighbours, with the line
// of the same name in the earlier version, where there is one and it lay
// elsewhere. A line that is broken, or that comes round to its first panel, is
// shown up to there.
func sewnLines(a *assembled, was *pattern.Garment) []*sewnLine {
	old := map[string]*chain{}
	b := &assembled{g: was}
	if was != nil {
		b.list = besides(was)
		b.joints = jointsOf(was, b.list)
		for _, c := range chainsOf(b) {
			if old[c.name] == nil {
				old[c.name] = c
			}
		}
	}
	var out []*sewnLine
	for _, c := range chainsOf(a) {
		c.level()
		l := newSewnLine(a, c)
		if was := old[c.name]; was != nil {
			l.before(was.like(b, c))
		}
		delete(old, c.name) // a second line of the name has none
		l.measure()
		out = append(out, l)
	}
	return out
}

// like gives the edges of an earlier chain laid so that its first panel lies on
// that of the later one: what did not change up to some seam lies on itself up
// to there. Where the first panels are not the same, its front end is laid on the
// later one's, and it lies level too.
func (c *chain) like(a *assembled, later *chain) []curve.Path {
	lay := later.motions[0]
	if c.panel(0).piece.Name != later.panel(0).piece.Name {
		c.level()
		first, now := c.joints[0].ends[0], later.joints[0].ends[0]
		from, to := c.motions[0].Apply(first.farEnd()), later.motions[0].Apply(now.farEnd())
		lay = curve.Translate(to.X-from.X, to.Y-from.Y)
	}
	for i := range c.motions {
		c.motions[i] = c.motions[i].Then(lay)
	}
	var out []curve.Path
	for i, m := range c.motions {
		for _, e := range c.edges(a, i) {
			out = append(out, c.panel(i).piece.EdgePath(e).Transform(m))
		}
	}
	return out
}

// before takes the line as it was; nothing where it is the same.
func (l *sewnLine) before(old []curve.Path) {
	var now []curve.Path
	for _, p := range l.parts {
		if p.kind == "run" {
			now = append(now, p.path)
		}
	}
	if !samePlaces(old, now) {
		l.old = old
	}
}

// chainsOf follows the lines over the joints of panels.
func chainsOf(a *assembled) []*chain {
	var chains []*chain
	open := map[string]*chain{}
	for _, j := range a.joints {
		lay, ok := j.together()
		if !ok {
			delete(open, j.line)
			continue
		}
		c := open[j.line]
		if c == nil || c.joints[len(c.joints)-1].ends[1].piece != j.ends[0].piece {
			c = &chain{name: j.line, motions: []curve.Affine{curve.Identity()}}
			chains, open[j.line] = append(chains, c), c
		}
		if len(c.joints) > 0 && c.joints[0].ends[0].piece == j.ends[1].piece {
			continue
		}
		c.joints = append(c.joints, j)
		c.motions = append(c.motions, lay.Then(c.motions[len(c.motions)-1]))
	}
	return chains
}

// newSewnLine lays a level chain out.
func newSewnLine(a *assembled, c *chain) *sewnLine {
	l := &sewnLine{name: c.name}
	changed := map[string]bool{}
	for _, s := range a.lines {
		if s.when == "after" {
			changed[s.piece+"."+s.edge] = true
		}
	}
	for i, m := range c.motions {
		p := c.panel(i)
		middle := curve.Path(nil)
		for _, e := range c.edges(a, i) {
			path := p.piece.EdgePath(e).Transform(m)
			name := p.piece.Edges[e].Name
			l.parts = append(l.parts, sewnPart{p.piece.Name, name, "run", changed[p.piece.Name+"."+name], path})
			if middle == nil || path.Length(0.1) > middle.Length(0.1) {
				middle = path
			}
		}
		l.panels = append(l.panels, sewnCaption{p.piece.Name, middle})
	}
	for i, j := range c.joints {
		l.joint(a, c, i, j)
	}
	return l
}

// panel gives panel i of a chain by a corner of it.
func (c *chain) panel(i int) place {
	if i < len(c.joints) {
		return c.joints[i].ends[0]
	}
	return c.joints[i-1].ends[1]
}

// edges gives the edges of panel i that lie in the line, each once.
func (c *chain) edges(a *assembled, i int) []int {
	p := c.panel(i).piece
	in := map[int]bool{}
	if i < len(c.joints) {
		in[c.joints[i].ends[0].other()] = true
	}
	if i > 0 {
		in[c.joints[i-1].ends[1].other()] = true
	}
	for _, r := range a.g.Runs {
		for _, ref := range r.Refs {
			if e := p.EdgeIndex(ref.Edge); r.Name == c.name && ref.Piece == p.Name && e >= 0 {
				in[e] = true
			}
		}
	}
	var out []int
	for e := range p.Edges {
		if in[e] {
			out = append(out, e)
		}
	}
	return out
}

// level turns the chain so that its two ends lie at one height.
func (c *chain) level() {
	first, last := c.joints[0].ends[0], c.joints[len(c.joints)-1].ends[1]
	a := c.motions[0].Apply(first.farEnd())
	b := c.motions[len(c.motions)-1].Apply(last.farEnd())
	d := b.Sub(a)
	if d.Len() == 0 {
		return
	}
	turn := curve.Rotate(-math.Atan2(d.Y, d.X))
	for i := range c.motions {
		c.motions[i] = c.motions[i].Then(turn)
	}
}

// farEnd gives the other end of the edge that goes on across the seam.
func (c place) farEnd() curve.Point {
	path := c.piece.EdgePath(c.other())
	if c.edge == c.corner {
		return path.Start()
	}
	return path.End()
}

// caption puts a panel's name inside it, near the middle of its part, where it
// touches nothing; without room it is left to the titles.
func (l *sewnLine) caption(p sewnCaption, taken []rect, lines [][]curve.Point) []rect {
	st := small()
	name := st.Shorten(p.name, 60)
	length := p.path.Length(0.1)
	for _, off := range []float64{5, 8, 12} {
		for _, f := range []float64{0.5, 0.4, 0.6, 0.3, 0.7} {
			way, ok := p.path.TangentAt(f*length, 0.1)
			if !ok {
				continue
			}
			at := flip(p.path.PointAt(f*length, 0.1).Add(way.Left().Mul(off)))
			at.Y += 0.36 * st.Size
			r := textBox(at.X, at.Y, name, st.Middle()).grow(0.6)
			if !overlapsAny(r, taken) && !crossedByAny(r, lines) {
				l.words = append(l.words, panelName{at, []string{name}})
				return append(taken, r)
			}
		}
	}
	return taken
}

// joint adds the seam and the words of a joint.
func (l *sewnLine) joint(a *assembled, c *chain, i int, j joint) {
	call := jointCall{joint: j, title: j.line + " at " + j.seam + ", sewn: " + orDash(j.words(a.g, false))}
	for k, e := range j.ends {
		m := c.motions[i+k]
		seam := e.piece.EdgePath(e.edge)
		if e.edge != e.corner {
			seam = seam.Reverse()
		}
		l.parts = append(l.parts, sewnPart{e.piece.Name, e.piece.Edges[e.edge].Name, "seam", false, seam.SubPath(0, stub, 0.01).Transform(m)})
		call.corners[k] = flip(m.Apply(e.at()))
		if way, ok := e.along(); ok {
			call.out[k] = flip(m.Apply(e.at()).Sub(m.Apply(e.at().Add(way))))
		}
	}
	if !j.fine {
		call.text = j.words(a.g, true)
	}
	l.calls = append(l.calls, call)
}

// measure finds the room of the line and places for its words.
func (l *sewnLine) measure() {
	box := curve.EmptyBox()
	var lines [][]curve.Point
	for _, p := range l.parts {
		box = box.Union(p.path.Bounds())
		lines = append(lines, flipped(p.path))
	}
	for _, p := range l.old {
		box = box.Union(p.Bounds())
		lines = append(lines, flipped(p))
	}
	l.room = rect{box.Min.X, -box.Max.Y, box.Max.X, -box.Min.Y}
	var taken []rect
	for i := range l.calls {
		if call := &l.calls[i]; call.text != "" {
			call.place(lines, taken, l.room)
			taken = append(taken, call.box.grow(0.8))
		}
	}
	for _, p := range l.panels {
		taken = l.caption(p, taken, lines)
	}
	for _, t := range taken {
		l.room = l.room.union(t)
	}
}

const asSewn = "As sewn, at full size: each panel laid on the one before it, seam along seam"

// sewn adds the lines as they are sewn.
func (s *stack) sewn(list []*sewnLine) {
	if len(list) == 0 {
		return
	}
	s.line(asSewn, heading())
	for _, l := range list {
		s.space(4)
		s.line(l.name, strong())
		s.space(1)
		s.add(tenth(l.room.y1-l.room.y0), l.draw)
	}
	s.space(blockGap)
}

func (l *sewnLine) draw(pg *page, x, y float64) {
	at := curve.Pt(x-l.room.x0, y-l.room.y0)
	v := svg.View{Origin: at}
	if len(l.old) > 0 {
		pg.pen.Titled(l.name+" as it was sewn before", svg.A("data-sewn-before", l.name))
		pg.before(v.Data(l.old...))
		pg.pen.End()
	}
	for _, kind := range []string{"seam", "run"} {
		for _, p := range l.parts {
			if p.kind != kind {
				continue
			}
			pg.pen.Titled(p.piece+"."+p.edge, svg.A("data-sewn", l.name), svg.A("data-of", p.piece+"."+p.edge), svg.A("data-kind", p.kind))
			switch {
			case p.kind == "seam":
				pg.pen.Path(v.Data(p.path), seamInk()...)
			case p.changed:
				pg.after(v.Data(p.path))
			default:
				pg.pen.Path(v.Data(p.path), runInk()...)
			}
			pg.pen.End()
		}
	}
	for _, c := range l.calls {
		pg.pen.Titled(c.title)
		c.sign(pg, at)
		pg.pen.End()
	}
	for _, w := range l.words {
		pg.text(at.X+w.at.X, at.Y+w.at.Y, w.lines[0], small().Middle())
	}
}
