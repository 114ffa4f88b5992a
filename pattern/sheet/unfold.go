package sheet

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// guise is how a piece is drawn.
type guise struct {
	half     pattern.Half // which half it is drawn for; empty: both alike
	mirrored bool         // turned over
	opened   string       // the edge on the fold at which it is opened out to the whole; empty: as it stands
}

// foldOf is the straight edge at which a piece can be opened out: the one on the fold
// of all its cloths. What is cut in other ways too has no one whole shape.
func foldOf(p *pattern.Piece) string {
	name := ""
	for _, c := range p.Cloths {
		if c.Cut != pattern.OnFold || name != "" && c.Fold.Name != name {
			return ""
		}
		name = c.Fold.Name
	}
	i := p.EdgeIndex(name)
	if i < 0 || len(p.Edges) < 2 {
		return ""
	}
	path := p.EdgePath(i)
	axis := curve.Line(path.Start(), path.End())
	if curve.Directed(path, curve.Path{axis}, sameSpot).Dist > 0.01 { // mm: bent
		return ""
	}
	return name
}

// axis is where an opened piece is mirrored, in its own plane: a place and a direction.
func (f *figure) axis() (at, way curve.Point) {
	path := f.piece.EdgePath(f.piece.EdgeIndex(f.opened))
	way, ok := path.End().Sub(path.Start()).Unit()
	if !ok {
		way = curve.Pt(0, 1)
	}
	return path.Start(), way
}

// other is the view of the half that an opened piece has beyond its fold.
func (f *figure) other() curve.Affine { return mirror(f.axis()).Then(f.view) }

// eachHalf draws something as it stands and, of an opened piece, beyond the fold too.
func (f *figure) eachHalf(draw func()) {
	if f.opened == "" {
		draw()
		return
	}
	view, half := f.view, f.half
	f.half = pattern.LeftHalf // pieces are drawn as for the left
	draw()
	f.view, f.half = f.other(), pattern.RightHalf
	draw()
	f.view, f.half = view, half
}

// whole joins what stands on each edge of the piece to one ring; of an opened piece
// without the fold, and with its mirror image.
func (f *figure) whole(edges []curve.Path) curve.Path {
	var ring curve.Path
	first := f.piece.EdgeIndex(f.opened) + 1 // 0 where it is not opened
	for k := range edges {
		ring = append(ring, edges[(first+k)%len(edges)]...)
	}
	if first == 0 {
		return ring.Transform(f.view)
	}
	ring = f.offFold(ring)
	if len(ring) == 0 {
		return nil
	}
	half, image := ring.Transform(f.view), ring.Transform(f.other()).Reverse()
	half = appendLine(half, image.Start())
	return append(half, appendLine(image, half.Start())...)
}

// offFold leaves out what lies in the line of the fold: the edge itself, and the ends of
// its neighbours' allowances.
func (f *figure) offFold(ring curve.Path) curve.Path {
	const near = 0.02 // mm: cut lines are as exact
	at, way := f.axis()
	var out curve.Path
	for _, s := range ring {
		off := 0.0
		for _, p := range [...]curve.Point{s.P0, s.P1, s.P2, s.P3} {
			off = max(off, math.Abs(way.Cross(p.Sub(at))))
		}
		if off > near {
			out = append(out, s)
		}
	}
	return out
}

// sewingLine is the whole sewing line as it is drawn.
func (f *figure) sewingLine() curve.Path {
	edges := make([]curve.Path, len(f.piece.Edges))
	for i := range edges {
		edges[i] = f.piece.EdgePath(i)
	}
	return f.whole(edges)
}

// centre draws the line at which a piece was opened out.
func (f *figure) centre() {
	if f.opened == "" {
		return
	}
	path := f.piece.EdgePath(f.piece.EdgeIndex(f.opened)).Transform(f.view)
	before := len(f.drawing.Strokes)
	f.drawing.Line(ink.Marks, markWidth, 0, path.Start(), path.End(), levelDash()...)
	f.keep(before, 0.8)
}
