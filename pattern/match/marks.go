package match

import (
	"strconv"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// Notches matches the notches of two versions of a piece, given its edges: by
// name on edges that are matched, then by place after Register's movement,
// matched edges first. An edge that was split may bear two notches of one name;
// then the one at the place is meant. The garments give the levels; one that is
// nil has none, and a notch without a place is matched by name alone.
func Notches(ga, gb *pattern.Garment, a, b *pattern.Piece, edges []EdgeMatch, o Options) []PartMatch {
	return notchesIn(ga, gb, frameOf(a, b, o.filled()), edges)
}

func notchesIn(ga, gb *pattern.Garment, f *frame, edges []EdgeMatch) []PartMatch {
	a, b := f.old.piece, f.new.piece
	x := notchesOn(ga, a, edges, func(m EdgeMatch) []int { return m.Before })
	y := notchesOn(gb, b, edges, func(m EdgeMatch) []int { return m.After })
	p := newPairing(len(x), len(y))
	named := func(i, j int) bool { return x[i].key == y[j].key }
	p.pairNear(f, ByName, spotsOf(x), spotsOf(y), named)
	p.pairWhere(ByName, func(i int) string { return x[i].key }, func(j int) string { return y[j].key })
	p.pairNear(f, ByShape, spotsOf(x), spotsOf(y), func(i, j int) bool { return x[i].match == y[j].match })
	p.pairNear(f, ByShape, spotsOf(x), spotsOf(y), func(int, int) bool { return true })
	return p.matches(func(i, j int) bool { return a.Notches[i].Name == b.Notches[j].Name })
}

// notchOn is where a notch is.
type notchOn struct {
	match int    // of its edge, from 1; 0 where the edge is not there
	key   string // that match, or the edge's name where it is not there, and the notch's name
	at    spot
}

// spot is a point, if it is known.
type spot struct {
	at    curve.Point
	known bool
}

func notchesOn(g *pattern.Garment, p *pattern.Piece, edges []EdgeMatch, side func(EdgeMatch) []int) []notchOn {
	if g == nil {
		g = &pattern.Garment{}
	}
	matches := map[int]int{}
	for k, m := range edges {
		for _, i := range side(m) {
			matches[i] = k + 1
		}
	}
	out := make([]notchOn, len(p.Notches))
	for k, n := range p.Notches {
		i := p.EdgeIndex(n.Edge.Name)
		out[k].key = "edge " + n.Edge.Name + " " + n.Name
		if m := matches[i]; i >= 0 && m > 0 {
			out[k].match, out[k].key = m, strconv.Itoa(m)+" "+n.Name
		}
		if i < 0 || !whole(p) {
			continue
		}
		if d, err := g.SpotAt(p, i, n.On, lengthTol); err == nil {
			out[k].at = spot{p.EdgePath(i).PointAt(d, lengthTol), true}
		}
	}
	return out
}

func spotsOf(list []notchOn) []spot {
	out := make([]spot, len(list))
	for k, n := range list {
		out[k] = n.at
	}
	return out
}

// pairNear pairs the open parts at one place, after the movement, that may be
// paired.
func (p *pairing) pairNear(f *frame, how How, before, after []spot, may func(i, j int) bool) {
	var at []curve.Point
	var index []int
	for j, s := range after {
		if s.known && p.after[j] < 0 {
			at, index = append(at, s.at), append(index, j)
		}
	}
	there, m := newPlaces(at), f.fit.Affine()
	for i, s := range before {
		if !s.known || p.before[i] >= 0 {
			continue
		}
		for _, k := range there.near(m.Apply(s.at), f.near) {
			if j := index[k]; p.free(i, j) && may(i, j) {
				p.pair(i, j, how)
			}
		}
	}
}

// Marks matches the marks of two versions of a piece, each kind by itself: by
// name, then by place after Register's movement.
func Marks(a, b *pattern.Piece, o Options) []PartMatch {
	return marksIn(frameOf(a, b, o.filled()))
}

func marksIn(f *frame) []PartMatch {
	a, b := f.old.piece, f.new.piece
	p := newPairing(len(a.Marks), len(b.Marks))
	key := func(m pattern.Mark) string { return string(m.Kind) + " " + m.Name }
	p.pairWhere(ByName, func(i int) string { return key(a.Marks[i]) }, func(j int) string { return key(b.Marks[j]) })
	m := f.fit.Affine()
	p.pairNear(f, ByShape, markSpots(a), markSpots(b), func(i, j int) bool {
		x, y := a.Marks[i], b.Marks[j]
		return x.Kind == y.Kind && agree(x.Path().Transform(m), y.Path(), f.near)
	})
	return p.matches(func(i, j int) bool { return a.Marks[i].Name == b.Marks[j].Name })
}

func markSpots(p *pattern.Piece) []spot {
	out := make([]spot, len(p.Marks))
	for k, m := range p.Marks {
		out[k] = spot{m.At, true}
	}
	return out
}
