package overlay

import (
	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// notchMark is a notch as a short stroke into the piece.
type notchMark struct {
	at, to curve.Point
	when   string // before: lost or moved away; after: new or moved here; same
}

const notchLength = 3.2

// notchMarks places the notches of both versions; those that stand at the same
// spot in both are drawn thin.
func notchMarks(f *figure) []notchMark {
	before := notchesOf(f.garments[0], f.change.Laid())
	after := notchesOf(f.garments[1], f.change.After)
	var out []notchMark
	for _, n := range after {
		when := "after"
		for i, old := range before {
			if old.at.Dist(n.at) < 0.01 {
				when = "same"
				before = append(before[:i:i], before[i+1:]...)
				break
			}
		}
		out = append(out, notchMark{n.at, n.to, when})
	}
	for _, n := range before {
		out = append(out, notchMark{n.at, n.to, "before"})
	}
	return out
}

func notchesOf(g *pattern.Garment, p *pattern.Piece) []notchMark {
	if g == nil || p == nil {
		return nil
	}
	var out []notchMark
	for _, n := range p.Notches {
		i := p.EdgeIndex(n.Edge.Name)
		if i < 0 {
			continue
		}
		d, problem := g.SpotAt(p, i, n.On, 0.01)
		if problem != nil {
			continue
		}
		path := p.EdgePath(i)
		at := path.PointAt(d, 0.01)
		if way, ok := path.TangentAt(d, 0.01); ok {
			out = append(out, notchMark{at: flip(at), to: flip(at.Add(way.Left().Mul(notchLength)))})
		}
	}
	return out
}

func (n notchMark) draw(pg *page, at curve.Point) {
	ink := stillInk()
	switch n.when {
	case "before":
		ink = stroke("old", oldColour, oldWidth)
	case "after":
		ink = stroke("new", newColour, newWidth)
	}
	pg.pen.Line(at.Add(n.at), at.Add(n.to), ink...)
}
