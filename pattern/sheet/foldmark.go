package sheet

import (
	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// folds draws at each edge that lies on the fold a bracket whose arrows point at
// it, as patterns commonly do.
func (f *figure) folds() {
	const off, head = 7, 3.5
	for i, e := range f.piece.Edges {
		if !f.onFold(e.Name) || e.Name == f.opened {
			continue
		}
		path := f.piece.EdgePath(i)
		from, to := path.Start(), path.End()
		way, ok := to.Sub(from).Unit()
		if !ok {
			continue
		}
		inside := way.Left() // outlines run anticlockwise
		a, b := from.Lerp(to, 0.15), from.Lerp(to, 0.85)
		foot := [2]curve.Point{f.at(a.Add(inside.Mul(0.8))), f.at(b.Add(inside.Mul(0.8)))}
		arm := [2]curve.Point{f.at(a.Add(inside.Mul(off))), f.at(b.Add(inside.Mul(off)))}
		before := len(f.drawing.Strokes)
		f.drawing.Poly(ink.Marks, 0.35, 0, foot[0], arm[0], arm[1], foot[1])
		for k := range foot {
			f.arrowHead(foot[k], foot[k].Sub(arm[k]), head)
		}
		f.keep(before, 0.8)
	}
}

func (f *figure) onFold(edge string) bool {
	for _, c := range f.piece.Cloths {
		if c.Cut == pattern.OnFold && c.Fold.Name == edge {
			return true
		}
	}
	return false
}

// arrowHead fills a head at a place that points in a direction.
func (f *figure) arrowHead(at, way curve.Point, size float64) {
	way, ok := way.Unit()
	if !ok {
		return
	}
	back, side := at.Sub(way.Mul(size)), way.Left().Mul(size/4)
	f.drawing.Area(ink.Marks, 0, at, back.Add(side), back.Sub(side))
}

// keep takes the room of the strokes drawn since, and some mm more.
func (f *figure) keep(before int, more float64) {
	for _, s := range f.drawing.Strokes[before:] {
		f.room.line(s.Path, more+s.Width/2)
	}
}

// stretch draws on an elastic piece which way it stretches: across the grain.
func (f *figure) stretch() {
	if !f.garment.Option(f.piece.Name).Stretch.Set {
		return
	}
	const high = 6
	box := f.outerBox()
	middle := box.Min.Lerp(box.Max, 0.5)
	for _, wide := range [...]float64{30, 22, 15, 10} {
		at, ok := f.room.find(wide, high, middle)
		if !ok {
			continue
		}
		a, b := curve.Pt(at.Min.X+1, at.Min.Y+1.5), curve.Pt(at.Max.X-1, at.Min.Y+1.5)
		f.drawing.Line(ink.Marks, 0.35, 0, a, b)
		f.arrowHead(a, curve.Pt(-1, 0), 3)
		f.arrowHead(b, curve.Pt(1, 0), 3)
		f.drawing.Write(ink.Text{Layer: ink.Marks, At: a.Lerp(b, 0.5).Add(curve.Pt(0, 1.1)), Size: min(smallSize, wide/5), Anchor: ink.Middle, Words: "stretch"})
		f.room.box(at)
		return
	}
}

// outerBox is the box of what is cut.
func (f *figure) outerBox() curve.Box {
	box := curve.EmptyBox()
	for _, p := range f.outer {
		box = box.Union(p.Bounds())
	}
	if box.Empty() {
		box = box.Add(curve.Point{})
	}
	return box
}
