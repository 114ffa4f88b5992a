package overlay

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// poly is a piece with straight edges through points, its corners named by
// letters.
func poly(xy ...float64) *pattern.Piece {
	p := &pattern.Piece{Name: "block"}
	for i := 0; i+1 < len(xy); i += 2 {
		letter := string(rune('a' + i/2))
		p.Corners = append(p.Corners, pattern.Corner{Name: letter, At: curve.Pt(xy[i], xy[i+1])})
		p.Edges = append(p.Edges, pattern.Edge{Name: "e" + letter})
	}
	return p
}

// bent gives an edge of a piece one cubic.
func bent(p *pattern.Piece, edge int, h1, h2 curve.Point) *pattern.Piece {
	p.Edges[edge].Segs = []pattern.Seg{{Curve: true, H1: h1, H2: h2, ToCorner: true}}
	return p
}

func square() *pattern.Piece { return poly(0, 100, 0, 0, 100, 0, 100, 100) }

// Areas by hand. A cubic (0,0) (0,h) (w,h) (w,0) over its chord holds 3/5 w h
// (integrate the Bernstein form).
func TestAreasByHand(t *testing.T) {
	pt := curve.Pt
	tests := map[string]struct {
		before, after *pattern.Piece
		gained, lost  float64
		loops         int
	}{
		"nothing":             {square(), square(), 0, 0, 0},
		"one corner out":      {square(), poly(0, 100, 0, 0, 100, 0, 110, 100), 500, 0, 1},
		"one corner in":       {square(), poly(0, 100, 0, 0, 100, 0, 90, 100), 0, 500, 1},
		"a side moved":        {square(), poly(0, 100, 0, 0, 110, 0, 110, 100), 1000, 0, 1},
		"a side turned":       {square(), poly(0, 100, 0, 0, 110, 0, 90, 100), 250, 250, 2},
		"an edge bent out":    {square(), bent(square(), 2, pt(110, 0), pt(110, 100)), 600, 0, 1},
		"an edge bent in":     {square(), bent(square(), 2, pt(90, 0), pt(90, 100)), 0, 600, 1},
		"an edge bent both":   {square(), bent(square(), 2, pt(120, 0), pt(80, 100)), 187.5, 187.5, 2}, // x - 100 = 60 u (1-2t), dy = 600 u dt with u = t(1-t), du = (1-2t) dt: 36000/3/4^3
		"larger all round":    {square(), poly(-10, 110, -10, -10, 110, -10, 110, 110), 4400, 0, 2},
		"smaller all round":   {square(), poly(10, 90, 10, 10, 90, 10, 90, 90), 0, 3600, 2},
		"put aside":           {square(), poly(200, 100, 200, 0, 300, 0, 300, 100), 10000, 10000, 2},
		"moved askew":         {square(), poly(30, 120, 30, 20, 130, 20, 130, 120), 4400, 4400, 2},
		"an edge cut in two":  {square(), poly(0, 100, 0, 0, 100, 0, 100, 50, 100, 100), 0, 0, 0},
		"a notch cut out":     {square(), poly(0, 100, 0, 0, 100, 0, 100, 40, 90, 50, 100, 60, 100, 100), 0, 100, 1},
		"a corner cut off":    {square(), poly(0, 100, 0, 0, 100, 0, 100, 80, 80, 100), 0, 200, 1},
		"two sides, two ways": {square(), poly(-10, 100, -10, 0, 90, 0, 90, 100), 1000, 1000, 2},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			got := changedAreas(tt.before, tt.after)
			assert.False(t, got.unsure)
			gained, lost := got.sum()
			assert.InDelta(t, tt.gained, gained, 1e-6)
			assert.InDelta(t, tt.lost, lost, 1e-6)
			assert.Len(t, bigLoops(got), tt.loops)
		})
	}
}

func bigLoops(a areas) []curve.Path {
	var out []curve.Path
	for _, l := range append(append([]curve.Path{}, a.gained...), a.lost...) {
		if math.Abs(l.Area()) > 1e-3 {
			out = append(out, l)
		}
	}
	return out
}

func TestTangledAreasAreLeftOut(t *testing.T) {
	w := wave(true).Pieces[0]
	require.Empty(t, w.Outline().SelfCrossings(), "the outline itself is sound")
	tests := map[string]struct{ before, after *pattern.Piece }{
		"the lines meet in another order":      {wave(false).Pieces[0], w},
		"an outline crosses itself":            {square(), poly(0, 100, 0, 0, 100, 100, 100, 0)},
		"an outline turned inside out":         {square(), poly(0, 100, 100, 100, 100, 0, 0, 0)},
		"one stretch moved across the other's": {poly(0, 100, 0, 50, 0, 0, 20, 0, 20, 50, 20, 100), poly(0, 100, 30, 50, 0, 0, 20, 0, 50, 50, 20, 100)},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			got := changedAreas(tt.before, tt.after)
			assert.True(t, got.unsure)
			for _, l := range append(append([]curve.Path{}, got.gained...), got.lost...) {
				assert.True(t, rightSide(tt.before.Outline(), tt.after.Outline(), l))
			}
		})
	}
}

// Green's theorem (G. Green, 1828): the signed areas of the loops add up to the
// difference of the two outlines' areas, exactly.
func TestPaintedAreasAddUp(t *testing.T) {
	eachSample(t, func(t *testing.T, s sample, root *node, c *compare.Change) {
		for _, g := range root.with("data-piece") {
			for _, p := range c.Pieces {
				if p.Name != g.attrs["data-piece"] || p.Before == nil || p.After == nil {
					continue
				}
				sum := 0.0
				for _, area := range g.with("data-area") {
					for _, loop := range pathPoints(t, area.named("path")[0].attrs["d"]) {
						sum -= loop.Area() // y down turns the sign
					}
				}
				if s.name == "knot" {
					assert.Empty(t, g.with("data-area"))
					continue
				}
				// the picture's three decimals: 0.0005 mm along both outlines
				slack := 0.01 + 0.0005*2*(p.Before.Outline().Length(0.1)+p.After.Outline().Length(0.1))
				assert.InDelta(t, p.After.Outline().Area()-p.Before.Outline().Area(), sum, slack)
				a := changedAreas(p.Before, p.After)
				gained, lost := a.sum()
				require.False(t, a.unsure)
				assert.InDelta(t, p.After.Outline().Area()-p.Before.Outline().Area(), gained-lost, 0.01)
			}
		}
	})
}

// drawnPiece draws a random piece: a ring about an ellipse, some edges bent.
func drawnPiece(t *rapid.T) *pattern.Piece {
	n := rapid.IntRange(3, 7).Draw(t, "corners")
	var xy []float64
	for i := range n {
		a := 2 * math.Pi * (float64(i) + rapid.Float64Range(-0.2, 0.2).Draw(t, "turn")) / float64(n)
		r := rapid.Float64Range(0.7, 1.2).Draw(t, "reach")
		xy = append(xy, -60*r*math.Sin(a), 150*r*math.Cos(a))
	}
	p := poly(xy...)
	for i := range p.Edges {
		if rapid.Bool().Draw(t, "bent") {
			a, b := p.Corners[i].At, p.Corners[p.After(i)].At
			bow := b.Sub(a).Left().Mul(rapid.Float64Range(-0.15, 0.15).Draw(t, "bow"))
			bent(p, i, a.Lerp(b, 0.33).Add(bow), a.Lerp(b, 0.67).Add(bow))
		}
	}
	return round3(p)
}

// changedPiece moves some corners and handles of a piece.
func changedPiece(t *rapid.T, p *pattern.Piece) *pattern.Piece {
	q := clone(&pattern.Garment{Pieces: []*pattern.Piece{p}}).Pieces[0]
	size := rapid.SampledFrom([]float64{0.002, 0.5, 2, 8, 20, 40}).Draw(t, "size")
	off := func() curve.Point {
		return curve.Pt(rapid.Float64Range(-size, size).Draw(t, "dx"), rapid.Float64Range(-size, size).Draw(t, "dy"))
	}
	for i := range q.Corners {
		if rapid.Bool().Draw(t, "corner") {
			q.Corners[i].At = q.Corners[i].At.Add(off())
		}
		for j := range q.Edges[i].Segs {
			if rapid.Bool().Draw(t, "handles") {
				s := &q.Edges[i].Segs[j]
				s.H1, s.H2 = s.H1.Add(off()), s.H2.Add(off())
			}
		}
	}
	return round3(q)
}

// The reference is the polygon overlay of simplefeatures on flattened outlines:
// what is in one outline and not in the other.
func TestAreasAgainstPolygonOverlay(t *testing.T) {
	unsure := 0
	rapid.Check(t, func(t *rapid.T) {
		before := drawnPiece(t)
		after := changedPiece(t, before)
		got := changedAreas(before, after)
		if got.unsure {
			unsure++
			return
		}
		gained, lost := got.sum()
		require.InDelta(t, after.Outline().Area()-before.Outline().Area(), gained-lost, 0.01)
		was, is := polygonOf(t, before), polygonOf(t, after)
		tol := 0.002 * 4 * 500 // flattening at 0.002 along two outlines of at most 1000 mm
		require.InDelta(t, areaOf(t, is, was), gained, tol)
		require.InDelta(t, areaOf(t, was, is), lost, tol)
	})
	assert.Less(t, unsure, 60, "most of a hundred random changes are painted")
}

func polygonOf(t *rapid.T, p *pattern.Piece) geom.Geometry {
	var xy []float64
	points := p.Outline().Flatten(0.002)
	points[len(points)-1] = points[0]
	for _, q := range points {
		xy = append(xy, q.X, q.Y)
	}
	ring := geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
	return geom.NewPolygon([]geom.LineString{ring}).AsGeometry()
}

func areaOf(t *rapid.T, a, b geom.Geometry) float64 {
	d, err := geom.Difference(a, b)
	require.NoError(t, err)
	return d.Area()
}

func TestAnyChangeIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawnPiece(t)
		q := changedPiece(t, p)
		g := func(p *pattern.Piece) *pattern.Garment {
			return &pattern.Garment{Name: "block", Half: pattern.Whole, Levels: []pattern.Level{{Name: "waist"}, {Name: "bust", Y: 60}}, Pieces: []*pattern.Piece{p}}
		}
		c := compare.Garments(g(p), g(q), compare.Options{})
		var b bytes.Buffer
		require.NoError(t, Sheet(&b, c, Options{Title: "Block"}))
		root := readPicture(t, b.Bytes())
		texts := root.named("text")
		width, height := root.number(t, "width"), root.number(t, "height")
		for i, e := range texts {
			box := boxOf(t, e)
			require.True(t, box.x0 >= 0 && box.y0 >= 0 && box.x1 <= width && box.y1 <= height, "%q leaves the sheet", e.text)
			for j := range i {
				require.False(t, box.overlaps(boxOf(t, texts[j])), fmt.Sprintf("%q on %q", e.text, texts[j].text))
			}
		}
	})
}
