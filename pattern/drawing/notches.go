package drawing

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// How a tick is known, and where notches stand. Common practice, no source.
const (
	touches   = 0.5  // mm; a tick this close to the outline touches it
	tickAngle = 70   // degrees between a tick and the outline, at least
	atLevel   = 0.05 // mm; a notch this close to a level stands at it
	nearNotch = 5.0  // mm; a labelled notch may lie this far from the outline
)

// touch is where a line meets the outline of a piece.
type touch struct {
	near curve.Near // on the ring
	at   float64    // mm along the ring
}

// mayTick tells whether an unlabelled line may be a notch: short and straight.
func mayTick(l *line) bool {
	return l.word.role == notchRole || l.word.role == unsaid && !l.closed && len(l.path) <= 2 && straight(l.path) &&
		l.path.Start().Dist(l.path.End()) < shortTick
}

// touch finds where a line meets an outline: where it crosses it, else its
// nearest end.
func (r *recogniser) touch(o *outline, l *line) (touch, bool) {
	limit := touches
	if l.word.role == notchRole {
		limit = nearNotch
	}
	if o.unfit || o.drawn.Piece == nil || !o.box.Grow(limit).Overlaps(l.box) {
		return touch{}, false
	}
	if r.work -= len(o.drawn.Ring) * (1 + len(l.path)); r.work < 0 {
		r.tooMuch(l)
		return touch{}, false
	}
	ring, path := o.drawn.Ring, l.path.Transform(o.toPiece())
	best := curve.Near{Dist: math.Inf(1)}
	for _, q := range spots(ring, path, l.closed) {
		if n := ring.Nearest(q); n.Dist < best.Dist {
			best = n
		}
	}
	if !(best.Dist <= limit) {
		return touch{}, false
	}
	return touch{near: best, at: ring.LengthTo(best.Seg, best.T, lengthError)}, true
}

// spots are the places of a line that may stand for it on the outline: of a V
// with both ends there the middle between them; of a line that crosses the
// outline once, that place; else its ends, or the middle of a closed shape.
func spots(ring, path curve.Path, closed bool) []curve.Point {
	if closed {
		box := path.Bounds()
		return []curve.Point{box.Min.Lerp(box.Max, 0.5)}
	}
	a, b := path.Start(), path.End()
	if len(path) > 1 && ring.Nearest(a).Dist <= touches && ring.Nearest(b).Dist <= touches {
		return []curve.Point{a.Lerp(b, 0.5)}
	}
	var hits []curve.Point
	for _, s := range path {
		for _, t := range ring {
			if !s.Bounds().Overlaps(t.Bounds()) {
				continue
			}
			for _, h := range curve.Intersections(s, t) {
				hits = append(hits, h.Point)
			}
		}
	}
	if len(hits) > 0 {
		return hits[:1]
	}
	return []curve.Point{a, b}
}

// tick takes an unlabelled short line for a notch if it touches the outline
// nearly square; false where it does not.
func (r *recogniser) tick(o *outline, l *line) bool {
	t, ok := r.touch(o, l)
	if !ok {
		return false
	}
	along, ok1 := o.drawn.Ring.TangentAt(t.at, lengthError)
	d := o.toPiece().Apply(l.path.End()).Sub(o.toPiece().Apply(l.path.Start()))
	dir, ok2 := d.Unit()
	if !ok1 || !ok2 || math.Abs(along.Cross(dir)) < math.Sin(tickAngle*math.Pi/180) {
		return false
	}
	l.word.role = notchRole
	r.setNotch(o, l, t)
	return true
}

// notch takes a line that is called a notch.
func (r *recogniser) notch(o *outline, l *line) {
	t, ok := r.touch(o, l)
	if !ok {
		r.warn(l.place, "drawing.notch", o.drawn.Name, r.kind(l)+" is called a notch, but does not touch the outline of piece "+o.drawn.Name,
			"a tick that touches the outline", "move it there, or give it another label")
		r.leave(l, "is called a notch, but does not touch the outline of piece "+o.drawn.Name)
		return
	}
	r.setNotch(o, l, t)
}

// setNotch puts a notch on the edge where it touches: at a level where it stands
// on one that the edge crosses once, else at its distance from the nearer corner.
func (r *recogniser) setNotch(o *outline, l *line, t touch) {
	p := o.drawn.Piece
	edge, at, length := edgeAt(p, t.at)
	if at < pattern.Grid || length-at < pattern.Grid {
		r.warn(l.place, "drawing.notch", o.drawn.Name, r.kind(l)+" stands on a corner of piece "+o.drawn.Name, "a notch between corners", "corners need no notch")
		r.leave(l, "is a notch that stands on a corner of piece "+o.drawn.Name)
		return
	}
	n := pattern.Notch{Place: l.place, Edge: pattern.Mention{Place: l.place, Name: p.Edges[edge].Name}}
	n.Place.Piece, n.Place.Edge = o.drawn.Name, n.Edge.Name
	level := r.levelAt(o, edge, t.near.Point)
	switch {
	case level != "":
		n.On = pattern.Spot{Kind: pattern.AtLevel, Level: level}
	case at <= length/2:
		n.On = pattern.Spot{Kind: pattern.FromCorner, Distance: pattern.RoundLength(at), Corner: p.Corners[edge].Name}
	default:
		n.On = pattern.Spot{Kind: pattern.FromCorner, Distance: pattern.RoundLength(length - at), Corner: p.Corners[p.After(edge)].Name}
	}
	n.Name = notchName(p, l.word.name, n.Edge.Name, level)
	for _, other := range p.Notches {
		if other.Edge.Name == n.Edge.Name && other.On == n.On {
			r.leave(l, "stands where notch "+other.Name+" stands")
			return
		}
	}
	r.take(o, l, NotchLine, "", n.Name)
	p.Notches = append(p.Notches, n)
}

// edgeAt finds the edge at a distance along the ring, and how far along the edge
// that is.
func edgeAt(p *pattern.Piece, at float64) (edge int, along, length float64) {
	for i := range p.Edges {
		length = p.EdgePath(i).Length(lengthError)
		if at <= length || i == len(p.Edges)-1 {
			return i, min(at, length), length
		}
		at -= length
	}
	return 0, 0, 0
}

// levelAt is the level at which a place of an edge lies, if the edge crosses it
// there only.
func (r *recogniser) levelAt(o *outline, edge int, q curve.Point) string {
	if !o.known {
		return ""
	}
	own := map[string]bool{}
	for _, l := range append(append([]pattern.Level(nil), o.drawn.Piece.Levels...), r.sheet.Heights...) {
		if own[l.Name] {
			continue
		}
		own[l.Name] = true
		if math.Abs(l.Y-q.Y) <= atLevel {
			if c := o.drawn.Piece.EdgePath(edge).CrossingsY(l.Y); len(c) == 1 && c[0].Point.Dist(q) <= 2*atLevel {
				return l.Name
			}
		}
	}
	return ""
}

// notchName is the name of a notch, once on its edge: its own, waist at the
// waist, else a number.
func notchName(p *pattern.Piece, name, edge, level string) string {
	if name == "" && level == "waist" && p.NotchIndex(edge, level) < 0 {
		return level
	}
	if name != "" && p.NotchIndex(edge, name) < 0 {
		return name
	}
	for i := 2; name != ""; i++ {
		if free := withNumber(name, i); p.NotchIndex(edge, free) < 0 {
			return free
		}
	}
	for i := 1; ; i++ {
		if free := fmt.Sprintf("n%d", i); p.NotchIndex(edge, free) < 0 {
			return free
		}
	}
}
