package overlay

import (
	"math"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// laid is a panel and where the origin of its own frame falls in the strip, in
// mm, y up, the waist of the strip at 0.
type laid struct {
	piece *pattern.Piece
	at    curve.Point
	hung  bool // its waist lies on the strip's waist
}

// MostPanels is how many panels a strip draws; further ones are listed by name.
const MostPanels = 60

// besides lays the panels that go round the body side by side, front to back.
// Each touches the one before it where the seam between them crosses the waist,
// or the nearest level that both sides cross; where there is none their boxes
// touch. Origins lie on the grid of the files, so that no touch is off by more
// than half of its step.
func besides(g *pattern.Garment) []laid {
	var out []laid
	for _, m := range g.Around {
		p := g.Piece(m.Name)
		if p == nil || cannotDraw(p) != "" {
			continue
		}
		l := laid{piece: p}
		l.at.Y, l.hung = hangs(g, p)
		if n := len(out); n > 0 {
			last := out[n-1]
			if left, right, ok := touch(g, last.piece, p); ok {
				l.at.X = last.at.X + left - right
			} else {
				l.at.X = last.at.X + last.piece.Outline().Bounds().Max.X - p.Outline().Bounds().Min.X
			}
		}
		l.at = pattern.Round(l.at)
		out = append(out, l)
	}
	return out
}

// hangs gives how far a panel goes up for its waist to lie at 0. A panel without
// levels, or far away from them, is hung by its middle.
func hangs(g *pattern.Garment, p *pattern.Piece) (up float64, ok bool) {
	box := p.Outline().Bounds()
	waist, known := waistOn(g, p)
	if !known || box.Min.Y > waist+farOff || box.Max.Y < waist-farOff {
		return -(box.Min.Y + box.Max.Y) / 2, false
	}
	return -waist, true
}

// waistOn gives the height of the waist on a piece: that of the level named
// waist, or y = 0 where there is none, as pieces are drawn.
func waistOn(g *pattern.Garment, p *pattern.Piece) (float64, bool) {
	if y, ok := levelOn(g, p, "waist"); ok {
		return y, true
	}
	return 0, !p.NoLevels
}

// touch gives the places along x, each in its own frame, at which the back of
// one panel and the front of the next lie together.
func touch(g *pattern.Garment, p, q *pattern.Piece) (left, right float64, ok bool) {
	joining := seamsBetween(g, p, q)
	for _, h := range heights(g, p, q) {
		for _, s := range joining {
			left, okL := farthest(s.edges(p), h[0], 1)
			right, okR := farthest(s.edges(q), h[1], -1)
			if okL && okR {
				return left, right, true
			}
		}
	}
	if len(joining) > 0 {
		return 0, 0, false
	}
	for _, h := range heights(g, p, q) {
		left, okL := farthest([]curve.Path{p.Outline()}, h[0], 1)
		right, okR := farthest([]curve.Path{q.Outline()}, h[1], -1)
		if okL && okR {
			return left, right, true
		}
	}
	return 0, 0, false
}

// heights gives the waist and then the other levels that both pieces have, the
// nearest to the waist first: for each how high it lies on either.
func heights(g *pattern.Garment, p, q *pattern.Piece) [][2]float64 {
	var out [][2]float64
	for _, name := range levelsOfBoth(p, g) {
		a, okA := levelOn(g, p, name)
		b, okB := levelOn(g, q, name)
		if okA && okB && name != "waist" {
			out = append(out, [2]float64{a, b})
		}
	}
	a, okA := waistOn(g, p)
	b, okB := waistOn(g, q)
	sort.SliceStable(out, func(i, j int) bool { return math.Abs(out[i][0]-a) < math.Abs(out[j][0]-a) })
	if okA && okB {
		out = append([][2]float64{{a, b}}, out...)
	}
	return out
}

// levelsOfBoth names the levels of a garment and those that only a piece has.
func levelsOfBoth(p *pattern.Piece, g *pattern.Garment) []string {
	var out []string
	named := map[string]bool{}
	for _, l := range append(append([]pattern.Level(nil), g.Levels...), p.Levels...) {
		if !named[l.Name] {
			named[l.Name] = true
			out = append(out, l.Name)
		}
	}
	return out
}

// farthest gives the crossing of paths with a height that lies farthest back
// (way 1) or farthest to the front (way -1).
func farthest(paths []curve.Path, y, way float64) (x float64, ok bool) {
	for _, path := range paths {
		for _, hit := range path.CrossingsY(y) {
			if !ok || way*hit.Point.X > way*x {
				x, ok = hit.Point.X, true
			}
		}
	}
	return x, ok
}
