package drawing

import (
	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// arrows finds unlabelled arrows: an element that draws one straight line and
// small heads at its ends. The line is a grain line, the heads go with it.
func (r *recogniser) arrows() {
	parts := map[diag.Place][]*line{}
	var order []diag.Place
	for _, l := range r.lines {
		if l.done || l.joined > 0 || l.word.role != unsaid && l.word.role != grainRole {
			continue
		}
		if parts[l.place] == nil {
			order = append(order, l.place)
		}
		parts[l.place] = append(parts[l.place], l)
	}
	for _, p := range order {
		if len(parts[p]) > 1 && len(parts[p]) <= 5 {
			r.arrow(parts[p])
		}
	}
}

// arrow takes the parts of one element for a shaft and its heads, if they are.
func (r *recogniser) arrow(parts []*line) {
	shaft := parts[0]
	for _, l := range parts {
		if l.path.Start().Dist(l.path.End()) > shaft.path.Start().Dist(shaft.path.End()) {
			shaft = l
		}
	}
	if shaft.closed || !straight(shaft.path) || shaft.path.Start().Dist(shaft.path.End()) < shortTick {
		return
	}
	for _, l := range parts {
		if l != shaft && !isHead(l, shaft) {
			return
		}
	}
	for _, l := range parts {
		if l != shaft {
			r.leave(l, "is the head of an arrow")
		}
	}
	if shaft.word.role == unsaid {
		shaft.word.role = grainRole
	}
}

// isHead tells whether a small line touches an end of a shaft.
func isHead(l, shaft *line) bool {
	if max(l.box.Width(), l.box.Height()) > arrowHead {
		return false
	}
	return min(l.path.Nearest(shaft.path.Start()).Dist, l.path.Nearest(shaft.path.End()).Dist) <= sameSpot
}

// straight tells whether a path runs straight, to within 0.05 mm.
func straight(p curve.Path) bool {
	chord := curve.Path{curve.Line(p.Start(), p.End())}
	if chord[0].P0 == chord[0].P3 {
		return false
	}
	for _, s := range p {
		for _, q := range []curve.Point{s.P1, s.P2, s.P3} {
			if chord.Nearest(q).Dist > meets {
				return false
			}
		}
	}
	return true
}

// grain takes the grain of a piece, from its lower to its upper end.
func (r *recogniser) grain(o *outline, l *line) {
	p := o.drawn.Piece
	a, b := l.path.Start(), l.path.End()
	switch {
	case l.closed || a.Dist(b) < nearlyShut:
		r.leave(l, "is called the grain, but is no line from one place to another")
		r.warn(l.place, "drawing.grain", o.drawn.Name, r.kind(l)+" is called the grain, but has no direction", "a straight line along the grain", "")
		return
	case p.Grain != nil:
		r.warn(l.place, "drawing.grain", o.drawn.Name, "piece "+o.drawn.Name+" has a second grain line", "one grain line on a piece", "the first one was taken",
			diag.Related{Place: p.Grain.Place, Text: "the first one"})
		r.leave(l, "is a second grain line of piece "+o.drawn.Name)
		return
	case !straight(l.path):
		r.warn(l.place, "drawing.grain", o.drawn.Name, r.kind(l)+" is called the grain, but is not straight", "a straight line along the grain", "its ends were taken")
	}
	from, to := pattern.Round(o.toPiece().Apply(a)), pattern.Round(o.toPiece().Apply(b))
	if from.Y > to.Y || from.Y == to.Y && from.X > to.X {
		from, to = to, from
	}
	p.Grain = &pattern.Grain{Place: l.place, From: from, To: to}
	p.Grain.Place.Piece = o.drawn.Name
	r.take(o, l, GrainLine, "", "")
}
