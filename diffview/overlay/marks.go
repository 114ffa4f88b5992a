package overlay

import (
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// Sizes of marks whose file names none, mm: only for the picture. Common
// practice, no source.
const (
	eyeletAcross     = 5.0
	buttonAcross     = 15.0
	buttonholeLength = 18.0
	drillReach       = 2.0
	notchLength      = 3.2
)

// markFate is what became of a mark or a notch on its piece.
type markFate string

const (
	markSame    markFate = "same"
	markCarried markFate = "carried" // its record is the same; its edge or its piece moved
	markMoved   markFate = "moved"
	markAdded   markFate = "added"
	markLost    markFate = "lost"
	markChanged markFate = "changed" // its width, its length, or the number of its points
)

// pieceMark is a mark or a notch before and after, in the frame of the later
// version, y up. A path is empty where that version lacks it.
type pieceMark struct {
	kind, name    string // a notch is called "waist on back"
	fate          markFate
	settings      string       // sizes that changed
	stays         bool         // it changed, but lies where it lay
	far           float64      // mm that it moved on the cloth; a notch: along its edge
	from, to      curve.Point  // its places of that movement
	before, after []curve.Path // what is drawn
	record        pattern.Mark // of the version drawn last; empty for a notch
	spot          curve.Point  // of a notch
	along         float64      // of a notch: mm from its edge's first corner
	on            pattern.Spot // of a notch
	edge          string       // of a notch
}

// pieceMarks gives the marks, then the notches, of a piece.
func pieceMarks(p compare.PieceChange, garments [2]*pattern.Garment) []pieceMark {
	return append(marksOf(p), notchesOf(p, garments)...)
}

// marksOf pairs the marks of both versions: by kind and name, then by shape.
func marksOf(p compare.PieceChange) []pieceMark {
	before, after := ownMarks(p.Before, p.Fit), ownMarks(p.After, curve.Rigid{})
	return paired(before, after, markBecame)
}

// ownMarks gives the marks of one version, laid where fit puts them.
func ownMarks(p *pattern.Piece, fit curve.Rigid) []pieceMark {
	if p == nil {
		return nil
	}
	var out []pieceMark
	for _, m := range p.Marks {
		if fit != (curve.Rigid{}) {
			m = laidMark(m, fit)
		}
		out = append(out, pieceMark{kind: string(m.Kind), name: m.Name, record: m, after: markShape(m)})
	}
	return out
}

func laidMark(m pattern.Mark, fit curve.Rigid) pattern.Mark {
	move := fit.Affine()
	m.At = move.Apply(m.At)
	segs := make([]pattern.Seg, len(m.Segs))
	for i, s := range m.Segs {
		s.H1, s.H2, s.To = move.Apply(s.H1), move.Apply(s.H2), move.Apply(s.To)
		segs[i] = s
	}
	m.Segs = segs
	if m.Angle.Set {
		m.Angle.Value += fit.Angle * 180 / math.Pi
	}
	return m
}

// paired pairs the marks of both versions by name, then those at one place, and
// judges them; what is over was added or lost.
func paired(before, after []pieceMark, became func(b, a pieceMark) pieceMark) []pieceMark {
	used := make([]bool, len(before))
	find := func(fits func(b pieceMark) bool) *pieceMark {
		for i := range before {
			if !used[i] && fits(before[i]) {
				used[i] = true
				return &before[i]
			}
		}
		return nil
	}
	old := make([]*pieceMark, len(after))
	for i, a := range after {
		old[i] = find(func(b pieceMark) bool { return b.kind == a.kind && b.name == a.name })
	}
	var out []pieceMark
	for i, a := range after {
		renamed := false
		if old[i] == nil {
			old[i] = find(func(b pieceMark) bool { return b.kind == a.kind && samePlaces(b.after, a.after) })
			renamed = old[i] != nil
		}
		switch {
		case old[i] == nil:
			a.fate = markAdded
		default:
			a = became(*old[i], a)
			if renamed && a.fate == markMoved {
				a.fate = markSame
			}
		}
		out = append(out, a)
	}
	for i, b := range before {
		if !used[i] {
			b.fate, b.before, b.after = markLost, b.after, nil
			out = append(out, b)
		}
	}
	return out
}

// markBecame judges a mark that both versions have.
func markBecame(b, a pieceMark) pieceMark {
	x, y := b.record, a.record
	a.before = b.after
	if len(x.Segs) != len(y.Segs) {
		a.fate = markChanged
		return a
	}
	a.farther(x.At, y.At)
	for i := range x.Segs {
		a.farther(x.Segs[i].To, y.Segs[i].To)
		if x.Segs[i].Curve || y.Segs[i].Curve {
			a.bent(x, y, i)
		}
	}
	x.At, x.Segs, x.Name = y.At, y.Segs, y.Name
	if math.Abs(x.Angle.Value-y.Angle.Value) < 0.01 && x.Angle.Set == y.Angle.Set {
		x.Angle = y.Angle // it turned with its piece
	}
	switch {
	case !pattern.Same(x, y):
		a.fate, a.settings = markChanged, settingsOf(b.record, a.record)
		if samePlaces(a.before, a.after) {
			a.before, a.stays = nil, true
		}
	case a.far > 2*compare.Still:
		a.fate = markMoved
	default:
		a.fate, a.before = markSame, nil
	}
	return a
}

// farther takes a point's movement where it is the largest so far.
func (m *pieceMark) farther(from, to curve.Point) {
	if d := from.Dist(to); d > m.far || m.from == m.to {
		m.far, m.from, m.to = d, from, to
	}
}

// bent takes the movement of a curve's handles, shown at the places of the line
// that they pull most: a third and two thirds along.
func (m *pieceMark) bent(x, y pattern.Mark, seg int) {
	was, is := x.Path()[seg], y.Path()[seg]
	for k, d := range []float64{x.Segs[seg].H1.Dist(y.Segs[seg].H1), x.Segs[seg].H2.Dist(y.Segs[seg].H2)} {
		if t := float64(k+1) / 3; d > m.far {
			m.far, m.from, m.to = d, was.At(t), is.At(t)
		}
	}
}

// settingsOf says which sizes of a mark changed: "width 7 to 9".
func settingsOf(x, y pattern.Mark) string {
	var out []string
	for _, o := range []struct {
		name   string
		before pattern.Opt
		after  pattern.Opt
	}{{"width", x.Width, y.Width}, {"length", x.Length, y.Length}, {"diameter", x.Diameter, y.Diameter}, {"angle", x.Angle, y.Angle}} {
		if o.before != o.after {
			out = append(out, o.name+" "+optional(o.before)+" \u2192 "+optional(o.after))
		}
	}
	return strings.Join(out, ", ")
}

// markShape gives the lines that stand for a mark on the picture.
func markShape(m pattern.Mark) []curve.Path {
	or := func(o pattern.Opt, size float64) float64 {
		if o.Set && o.Value > 0 {
			return o.Value
		}
		return size
	}
	switch m.Kind {
	case pattern.Eyelet:
		return []curve.Path{circle(m.At, or(m.Diameter, eyeletAcross)/2)}
	case pattern.Button:
		return []curve.Path{circle(m.At, or(m.Diameter, buttonAcross)/2)}
	case pattern.Buttonhole:
		way := curve.Rotate(m.Angle.Value * math.Pi / 180).Apply(curve.Pt(1, 0))
		return []curve.Path{{curve.Line(m.At, m.At.Add(way.Mul(or(m.Length, buttonholeLength))))}}
	case pattern.Drill:
		d := curve.Pt(drillReach, drillReach)
		e := curve.Pt(drillReach, -drillReach)
		return []curve.Path{{curve.Line(m.At.Sub(d), m.At.Add(d))}, {curve.Line(m.At.Sub(e), m.At.Add(e))}}
	}
	if path := m.Path(); len(path) > 0 {
		return []curve.Path{path}
	}
	return nil
}

// circle gives a circle as four cubics; no place of it is off by more than
// 0.03 % of its radius (the usual handles of 0.5523 of it).
func circle(c curve.Point, r float64) curve.Path {
	const k = 0.5522847498
	var out curve.Path
	at := func(x, y float64) curve.Point { return curve.Pt(c.X+r*x, c.Y+r*y) }
	x, y := 1.0, 0.0
	for range 4 {
		u, v := -y, x // a quarter turn on
		out = append(out, curve.Cubic(at(x, y), at(x+k*u, y+k*v), at(u+k*x, v+k*y), at(u, v)))
		x, y = u, v
	}
	return out
}

// samePlaces tells whether two marks are drawn alike, to what a file can hold.
func samePlaces(a, b []curve.Path) bool {
	if len(a) != len(b) || len(a) == 0 {
		return false
	}
	for i := range a {
		if len(a[i]) != len(b[i]) {
			return false
		}
		for j, s := range a[i] {
			t := b[i][j]
			if max(s.P0.Dist(t.P0), s.P1.Dist(t.P1), s.P2.Dist(t.P2), s.P3.Dist(t.P3)) > 2*compare.Still {
				return false
			}
		}
	}
	return true
}

// notchesOf pairs the notches of both versions; each is a short stroke into the
// piece.
func notchesOf(p compare.PieceChange, garments [2]*pattern.Garment) []pieceMark {
	return paired(ownNotches(garments[0], p.Laid()), ownNotches(garments[1], p.After), notchBecame)
}

func ownNotches(g *pattern.Garment, p *pattern.Piece) []pieceMark {
	if g == nil || p == nil {
		return nil
	}
	var out []pieceMark
	for _, n := range p.Notches {
		m := pieceMark{kind: "notch", name: n.Name + " on " + n.Edge.Name, on: n.On, edge: n.Edge.Name}
		m.put(g, p)
		out = append(out, m)
	}
	return out
}

// put finds the place of a notch; it has no line where there is none.
func (m *pieceMark) put(g *pattern.Garment, p *pattern.Piece) {
	i := p.EdgeIndex(m.edge)
	if i < 0 || len(p.Corners) != len(p.Edges) {
		return
	}
	d, problem := g.SpotAt(p, i, m.on, 1e-4)
	if problem != nil {
		return
	}
	path := p.EdgePath(i)
	if way, ok := path.TangentAt(d, 1e-4); ok {
		m.spot, m.along = path.PointAt(d, 1e-4), d
		m.after = []curve.Path{{curve.Line(m.spot, m.spot.Add(way.Left().Mul(notchLength)))}}
	}
}

// notchBecame judges a notch that both versions have.
func notchBecame(b, a pieceMark) pieceMark {
	a.before, a.from, a.to = b.after, b.spot, a.spot
	switch {
	case len(a.before) == 0 || len(a.after) == 0: // one of them has no place on its edge
		a.fate = markCarried
		if !pattern.Same(b.on, a.on) {
			a.fate = markChanged
		}
	case b.edge == a.edge && !pattern.Same(b.on, a.on) && math.Abs(a.along-b.along) > 2*compare.Still:
		a.fate, a.far = markMoved, math.Abs(a.along-b.along)
	case b.spot.Dist(a.spot) > 0.01:
		a.fate = markCarried
	default:
		a.fate, a.before = markSame, nil
	}
	return a
}

// words say what became of the mark: "bone b1 moved 6.0".
func (m pieceMark) words() string { return m.kind + " " + m.name + " " + m.became() }

// draw puts the mark down; before lies under after, so all of those come first.
func (m pieceMark) draw(pg *page, v svg.View, piece, when string) {
	list := m.after
	if when == "before" {
		list = m.before
	}
	if len(list) == 0 {
		return
	}
	title := piece + ": " + m.kind + " " + m.name
	switch {
	case m.fate == markSame || m.fate == markChanged && m.stays:
		when = "same"
	case when == "before":
		title += " (as it was)"
	default:
		title += " " + string(m.fate)
		if m.fate == markMoved {
			title += " " + amount(m.far)
		}
	}
	pg.pen.Titled(title, svg.A("data-mark", piece+"."+m.kind+" "+m.name), svg.A("data-when", when))
	d := v.Data(list...)
	switch {
	case when == "before":
		pg.pen.Path(d, haloInk()...)
		pg.pen.Path(d, m.dashes()...)
	case when == "after":
		pg.pen.Path(d, stroke("new", newColour, m.weight())...)
	case m.kind == "notch" || m.fate == markChanged:
		pg.pen.Path(d, stillInk()...)
	default:
		pg.pen.Path(d, faintInk()...)
	}
	pg.pen.End()
}

// faintInk is for marks that did not change.
func faintInk() []svg.Attr { return stroke("level", levelColour, 0.3) }

// small tells whether the whole mark is no longer than a few dashes.
func (m pieceMark) small() bool {
	switch m.kind {
	case "notch", string(pattern.Eyelet), string(pattern.Drill):
		return true
	}
	return false
}

func (m pieceMark) dashes() []svg.Attr {
	if m.small() {
		return stroke("old", oldColour, oldWidth, svg.Dash(1.2, 0.8))
	}
	return oldInk()
}

func (m pieceMark) weight() float64 {
	if m.small() && m.kind != "notch" {
		return 0.7
	}
	return newWidth
}
