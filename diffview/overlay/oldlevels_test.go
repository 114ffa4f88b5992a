package overlay

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// levelLine reads a level's line of one version in the piece's own frame.
func levelLine(t *testing.T, g *node, level, when string) (a, b curve.Point) {
	origin := curve.Pt(g.number(t, "data-x"), g.number(t, "data-y"))
	for _, n := range g.with("data-level") {
		if n.attrs["data-level"] == level && n.attrs["data-when"] == when {
			lines := n.named("line")
			l := lines[len(lines)-1]
			assert.Equal(t, when == "before", l.attrs["stroke-dasharray"] != "", "before is dashed, after is not")
			return curve.Pt(l.number(t, "x1")-origin.X, origin.Y-l.number(t, "y1")), curve.Pt(l.number(t, "x2")-origin.X, origin.Y-l.number(t, "y2"))
		}
	}
	require.Fail(t, "no line", "%s %s", level, when)
	return
}

// A piece with levels that was turned by 5 degrees about its origin: the level
// that lay at y = 160 now crosses the cloth on the line through all points whose
// height, turned back, is 160. All figures by the rotation alone.
func TestATurnedPieceShowsItsLevelsOfBothVersions(t *testing.T) {
	s, w := sampleNamed(t, "turned")
	root, c := s.draw(t, w)
	require.Equal(t, compare.Changed, c.ChangedPieces()[0].Status)
	g := root.with("data-piece")[0]
	sin, cos := math.Sincos(5 * math.Pi / 180)
	for _, l := range c.Before.Levels {
		a, b := levelLine(t, g, l.Name, "before")
		for _, p := range []curve.Point{a, b} {
			assert.InDelta(t, l.Y, -sin*p.X+cos*p.Y, 0.005, l.Name)
		}
		a, b = levelLine(t, g, l.Name, "after")
		assert.InDelta(t, l.Y, a.Y, 0.001, l.Name)
		assert.InDelta(t, l.Y, b.Y, 0.001, l.Name)
	}
	assert.Contains(t, flatWords(root), "Turned by 5.0 degrees against its levels.")
}

func TestLevelsThatWereSetElsewhereAreDrawnTwice(t *testing.T) {
	s, w := sampleNamed(t, "raised-levels")
	root, c := s.draw(t, w)
	g := root.with("data-piece")[0]
	for name, y := range map[string][2]float64{"bust": {160, 152}, "high-hip": {-75, -70}} {
		a, _ := levelLine(t, g, name, "before")
		assert.InDelta(t, y[0], a.Y, 0.001)
		a, _ = levelLine(t, g, name, "after")
		assert.InDelta(t, y[1], a.Y, 0.001)
	}
	assert.Contains(t, flatWords(root), "bust 8.0 lower, high-hip 5.0 higher")
	for _, n := range g.with("data-level") {
		assert.NotEqual(t, "waist", n.attrs["data-level"], "what did not move is drawn once, for the whole row")
	}
	assert.Len(t, oldLevels(c, c.ChangedPieces()[0]), 2)
}

// A piece that was only raised keeps its lines level; they lie as much lower in
// the cloth. One without levels has none to show.
func TestARaisedPieceShowsWhereItsLevelsLay(t *testing.T) {
	w := readWaistcoat(t)
	for _, noLevels := range []bool{false, true} {
		a := pattern.Clone(w.garment(t, "gusset"))
		a.Piece("gusset").NoLevels = noLevels
		b := pattern.Clone(a)
		p := b.Piece("gusset")
		for i := range p.Corners {
			p.Corners[i].At.Y += 6
		}
		for i := range p.Edges {
			for j := range p.Edges[i].Segs {
				s := &p.Edges[i].Segs[j]
				s.H1.Y, s.H2.Y, s.To.Y = s.H1.Y+6, s.H2.Y+6, s.To.Y+6
			}
		}
		var out bytes.Buffer
		require.NoError(t, Piece(&out, compare.Garments(a, b, compare.Options{}), "gusset", Options{}))
		root := readPicture(t, out.Bytes())
		if noLevels {
			assert.NotContains(t, flatWords(root), "Levels in the cloth")
			continue
		}
		q, _ := levelLine(t, root.with("data-piece")[0], "waist", "before")
		assert.InDelta(t, 6, q.Y, 0.001)
		assert.Contains(t, flatWords(root), "waist 6.0 lower")
	}
}

// Along the top of a piece that ends at a level, the level is as wide as the top.
func TestALevelAlongAnEdgeIsAsWideAsTheEdge(t *testing.T) {
	x0, x1, ok := chord(poly(-35, 140, -36, -110, 36, -110, 35, 140), 140)
	assert.True(t, ok)
	assert.Equal(t, []float64{-35, 35}, []float64{x0, x1})
	_, _, ok = chord(poly(-35, 140, -36, -110, 36, -110, 35, 140), 141)
	assert.False(t, ok)
}
