package dxf

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
)

// laid is the outline of a piece where the drawing has it: it is known by the
// first corner, which is drawn exactly.
func laid(t testing.TB, own curve.Path, drawn entity) curve.Path {
	by := drawn.points[0].Sub(own.Start())
	assert.InDelta(t, math.Round(by.X), by.X, 1e-6, "a whole mm")
	assert.InDelta(t, math.Round(by.Y), by.Y, 1e-6, "a whole mm")
	return own.Transform(curve.Translate(by.X, by.Y))
}

func TestOutlinesStayWithinTheTolerance(t *testing.T) {
	for _, tol := range []float64{0, 0.0001, 0.001, 0.05, 0.5, 10} {
		t.Run(fmt.Sprint(tol), func(t *testing.T) {
			g := load(t, marked)
			rings := on(entities(t, written(t, g, Options{Tolerance: tol})), SewingLine, "POLYLINE")
			require.Len(t, rings, len(g.Pieces))
			limit := tol
			if tol == 0 {
				limit = 0.05
			}
			for i, e := range rings {
				assert.True(t, e.closed)
				own := g.Pieces[i].Outline()
				want := laid(t, own, e)
				far := curve.Hausdorff(want, e.polygon(), 1e-6)
				assert.LessOrEqual(t, far.Dist, limit, g.Pieces[i].Name)
				for k, c := range g.Pieces[i].Corners {
					at := c.At.Add(want.Start().Sub(own.Start()))
					near := math.Inf(1)
					for _, p := range e.points {
						near = min(near, p.Dist(at))
					}
					assert.LessOrEqual(t, near, 1.5e-6, "corner %d", k)
				}
				assert.Positive(t, e.polygon().Area(), "anticlockwise")
			}
		})
	}
}

// Fewer points are drawn where more may be lost, as the root of the tolerance
// (a chord's distance from its curve falls with the square of its length).
func TestPointsFollowTheTolerance(t *testing.T) {
	count := func(tol float64) int {
		return len(on(entities(t, written(t, load(t, marked), Options{Tolerance: tol})), SewingLine, "POLYLINE")[0].points)
	}
	assert.InDelta(t, 10, float64(count(0.001))/float64(count(0.1)), 1.5)
}

func TestStraightEdgesBecomeTheirCornersOnly(t *testing.T) {
	g := load(t, waistcoat)
	var want, got []int
	for _, p := range g.Pieces {
		want = append(want, len(p.Outline()))
	}
	for _, e := range on(entities(t, written(t, g, Options{})), SewingLine, "POLYLINE") {
		got = append(got, len(e.points))
	}
	assert.ElementsMatch(t, want, got)
}

func TestEverythingLiesOnItsLayer(t *testing.T) {
	all := entities(t, written(t, load(t, marked), Options{}))
	got := map[string]int{}
	for _, e := range all {
		got[e.layer+" "+e.kind]++
	}
	assert.Equal(t, map[string]int{
		"SEWING-LINE POLYLINE": 2,
		"MARKS LINE":           3, // bone, placement, buttonhole
		"MARKS POLYLINE":       3, // cord, dart, pocket
		"MARKS CIRCLE":         4, // two eyelets, a button, a drill mark
		"NOTCHES LINE":         3,
		"LEVELS LINE":          6,
		"GRAIN LINE":           5, // with two heads of two strokes
		"CHECK POLYLINE":       1,
		"CHECK TEXT":           4,
		"LABELS TEXT":          got["LABELS TEXT"],
	}, got)
	assert.GreaterOrEqual(t, got["LABELS TEXT"], 8+6, "an edge and a level each have a name")
	closed := 0
	for _, e := range on(all, Marks, "POLYLINE") {
		if e.closed {
			closed++
		}
	}
	assert.Equal(t, 1, closed, "the pocket's line comes back, those of cord and dart do not")
}

func TestCheckSquareMeasures100(t *testing.T) {
	squares := on(entities(t, written(t, load(t, marked), Options{})), Check, "POLYLINE")
	require.Len(t, squares, 1)
	assert.True(t, squares[0].closed)
	ring := squares[0].polygon()
	require.Len(t, ring, 4)
	for i, side := range ring {
		assert.Equal(t, 100.0, side.P0.Dist(side.P3))
		assert.Zero(t, side.P3.Sub(side.P0).Dot(ring[(i+1)%4].P3.Sub(ring[(i+1)%4].P0)), "square")
	}
	assert.Equal(t, 10_000.0, ring.Area())
}

func TestFileIsPlainASCIIOfRelease12(t *testing.T) {
	g := load(t, marked)
	g.Title = "Été \u202e%%d^I\r\n\x00日本"
	src := written(t, g, Options{})
	for i, c := range src {
		require.True(t, c >= ' ' && c <= '~' || c == '\r' || c == '\n', "byte %d is %#x", i, c)
	}
	list := groups(t, src)
	assert.Equal(t, group{999, "written by seamkeep; 1 unit is 1 mm; curves are drawn as lines within 0.05 mm"}, list[0])
	assert.Equal(t, group{0, "EOF"}, list[len(list)-1])
	assert.Contains(t, string(src), "$ACADVER\r\n  1\r\nAC1009\r\n")
	title := on(entities(t, src), Check, "TEXT")[0].values[1]
	assert.Equal(t, "?t? %?d?I  ??", title)
	for _, l := range list {
		assert.LessOrEqual(t, len(l.value), 255, "release 12 reads no longer line")
	}
}

func TestSameInputSameBytes(t *testing.T) {
	assert.Equal(t, written(t, load(t, marked), Options{}), written(t, load(t, marked), Options{}))
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteRefuses(t *testing.T) {
	g := load(t, marked)
	assert.EqualError(t, Write(broken{}, g, g.Pieces, Options{}), "write drawing: disk full")
	for _, tol := range []float64{-1, 1e-9, 11, math.NaN(), math.Inf(1)} {
		var b bytes.Buffer
		assert.ErrorContains(t, Write(&b, g, g.Pieces, Options{Tolerance: tol}), "0.0001 to 10")
		assert.Zero(t, b.Len())
	}
	for _, bad := range []float64{math.NaN(), math.Inf(-1), 3e7} {
		g := load(t, marked)
		g.Pieces[1].Edges[2].Segs[0].H1.Y = bad
		var b bytes.Buffer
		assert.Error(t, Write(&b, g, g.Pieces, Options{}))
		assert.Zero(t, b.Len(), "half a drawing was written")
	}
}

func FuzzHostileNames(f *testing.F) {
	for _, s := range []string{"front", "a\r\n  0\r\nEOF\r\n", "%%%%%", "^J^M", "\xff", "  ", "\u2028x", strings.Repeat("w", 3000)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, words string) {
		g := load(t, marked)
		g.Title, g.Levels[0].Name = words, words
		p := g.Pieces[1]
		p.Name, p.Title, p.Cloths[0].Name, p.Edges[0].Name, p.Marks[0].Name = words, words, words, words, words
		src := written(t, g, Options{})
		known := map[string]bool{"TEXT": true, "LINE": true, "POLYLINE": true, "CIRCLE": true}
		for _, e := range entities(t, src) {
			assert.True(t, known[e.kind], e.kind)
			assert.NotContains(t, e.values[1], "%%")
			assert.NotContains(t, e.values[1], "^")
		}
		for _, c := range src {
			require.True(t, c >= ' ' && c <= '~' || c == '\r' || c == '\n')
		}
	})
}
