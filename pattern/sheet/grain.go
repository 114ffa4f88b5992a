package sheet

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// grain draws the grain arrow, its head at the top, and says which end is up.
func (f *figure) grain() {
	g := f.piece.Grain
	if g == nil || g.From == g.To {
		return
	}
	foot, head := f.at(g.From), f.at(g.To)
	if foot.Y > head.Y {
		foot, head = head, foot
	}
	way, ok := head.Sub(foot).Unit()
	if !ok {
		return
	}
	size := min(6, head.Dist(foot)/4)
	side := way.Left().Mul(size / 4)
	before := len(f.drawing.Strokes)
	f.drawing.Line(ink.Marks, 0.35, 0, foot, head.Sub(way.Mul(size)))
	f.arrowHead(head, way, size)
	f.drawing.Line(ink.Marks, 0.35, 0, foot.Add(side), foot.Sub(side))
	f.keep(before, 0.8)
}

// grainWords says along the arrow what it is, and at its head which way is up.
func (f *figure) grainWords() {
	g := f.piece.Grain
	if g == nil || g.From == g.To {
		return
	}
	foot, head := f.at(g.From), f.at(g.To)
	if foot.Y > head.Y {
		foot, head = head, foot
	}
	f.put(
		ink.Text{Layer: ink.Marks, At: head.Add(curve.Pt(0, 1.2)), Size: smallSize, Anchor: ink.Middle, Words: "up"},
		ink.Text{Layer: ink.Marks, At: head.Add(curve.Pt(2, -smallSize)), Size: smallSize, Words: "up"},
		ink.Text{Layer: ink.Marks, At: head.Add(curve.Pt(-2, -smallSize)), Size: smallSize, Anchor: ink.End, Words: "up"},
	)
	f.put(f.along(curve.Path{curve.Line(foot, head)}, "grain", smallSize, 1, ink.Marks)...)
}
