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

// markFate is what became of a mark or a notch on its piece, as it is drawn.
type markFate string

const (
	markSame    markFate = "same"
	markCarried markFate = "carried" // its record is the same; its edge or its piece moved
	markMoved   markFate = "moved"
	markAdded   markFate = "added"
	markLost    markFate = "lost"
	markChanged markFate = "changed" // its width, its length, or the edge that it is on
)

// pieceMark is a mark or a notch before and after, in the frame of the later
// version, y up. A path is empty where that version lacks it.
type pieceMark struct {
	kind, name    string // a notch is called "waist on back"
	fate          markFate
	settings      string             // sizes that changed
	stays         bool               // it changed, but lies where it lay
	far           float64            // mm that it moved on the cloth; a notch: along its edge
	from, to      curve.Point        // its places of that movement
	before, after []curve.Path       // what is drawn
	record        pattern.Mark       // of the version drawn last; empty for a notch
	part          compare.PartChange // what the Change says of it
}

// pieceMarks gives the marks, then the notches, of a piece.
func pieceMarks(p compare.PieceChange, garments [2]*pattern.Garment) []pieceMark {
	return append(marksOf(p), notchesOf(p, garments)...)
}

// fates gives what became of a part as its picture tells it; what only has
// another name is drawn as the same.
var fates = map[compare.Status]markFate{
	compare.Unchanged: markSame, compare.Renamed: markSame, compare.Moved: markMoved,
	compare.Changed: markChanged, compare.Added: markAdded, compare.Removed: markLost,
}

// marksOf gives the marks of both versions, as they were paired for the Change.
func marksOf(p compare.PieceChange) []pieceMark {
	var out []pieceMark
	for _, c := range p.Parts {
		if c.Kind != compare.Corner && c.Kind != compare.Notch {
			out = append(out, markOf(p, c))
		}
	}
	return out
}

func markOf(p compare.PieceChange, c compare.PartChange) pieceMark {
	m := pieceMark{kind: c.Kind, name: c.Name, fate: fates[c.Status], part: c, far: c.Distance, from: c.From, to: c.To}
	var was pattern.Mark
	if c.Before >= 0 {
		was = p.Before.Marks[c.Before]
		if p.Fit != (curve.Rigid{}) {
			was = laidMark(was, p.Fit)
		}
		m.record, m.before = was, markShape(was)
	}
	if c.After >= 0 {
		m.record = p.After.Marks[c.After]
		m.after = markShape(m.record)
	}
	switch {
	case m.fate == markChanged:
		m.settings = settingsOf(was, m.record)
		if m.stays = samePlaces(m.before, m.after); m.stays {
			m.before = nil
		}
	case m.fate == markSame:
		m.before = nil
	}
	return m
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

// notchesOf gives the notches of both versions, as they were paired for the
// Change; each is a short stroke into the piece.
func notchesOf(p compare.PieceChange, garments [2]*pattern.Garment) []pieceMark {
	var out []pieceMark
	laid := p.Laid()
	for _, c := range p.Parts {
		if c.Kind == compare.Notch {
			out = append(out, notchOf(c, garments, laid, p.After))
		}
	}
	return out
}

// notchOf draws a notch as it was and as it is. One that did not move may have
// been carried along by its edge.
func notchOf(c compare.PartChange, garments [2]*pattern.Garment, before, after *pattern.Piece) pieceMark {
	m := pieceMark{kind: c.Kind, name: c.Name + " on " + c.Edge, fate: fates[c.Status], part: c, far: c.Distance}
	if c.Before >= 0 {
		m.from, m.before = notchStroke(garments[0], before, before.Notches[c.Before])
	}
	if c.After >= 0 {
		m.to, m.after = notchStroke(garments[1], after, after.Notches[c.After])
	}
	switch {
	case m.fate != markSame:
	case len(m.before) == 0 || len(m.after) == 0 || m.from.Dist(m.to) > 0.01: // or one has no place on its edge
		m.fate = markCarried
	default:
		m.before = nil
	}
	return m
}

// notchStroke gives the place of a notch and its line; none where it has no place.
func notchStroke(g *pattern.Garment, p *pattern.Piece, n pattern.Notch) (curve.Point, []curve.Path) {
	i := p.EdgeIndex(n.Edge.Name)
	if g == nil || i < 0 || len(p.Corners) != len(p.Edges) {
		return curve.Point{}, nil
	}
	d, problem := g.SpotAt(p, i, n.On, 1e-4)
	if problem != nil {
		return curve.Point{}, nil
	}
	path := p.EdgePath(i)
	way, ok := path.TangentAt(d, 1e-4)
	if !ok {
		return curve.Point{}, nil
	}
	at := path.PointAt(d, 1e-4)
	return at, []curve.Path{{curve.Line(at, at.Add(way.Left().Mul(notchLength)))}}
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
