package pattern_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// Edge "up" runs 300 mm upwards from hem to top, "down" the same way down, and
// "wave" crosses the waist three times; places by hand.
func spots() (*pattern.Garment, *pattern.Piece) {
	p := &pattern.Piece{Name: "p",
		Corners: []pattern.Corner{{Name: "hem", At: curve.Pt(100, -100)}, {Name: "top", At: curve.Pt(100, 200)}, {Name: "peak", At: curve.Pt(0, 200)}, {Name: "foot", At: curve.Pt(0, -100)}, {Name: "low", At: curve.Pt(40, -100)}, {Name: "end", At: curve.Pt(80, 100)}},
		Edges: []pattern.Edge{{Name: "up"}, {Name: "level"}, {Name: "down"}, {Name: "hem"},
			{Name: "wave", Segs: []pattern.Seg{{To: curve.Pt(40, 100)}, {To: curve.Pt(60, 100)}, {To: curve.Pt(60, -50)}, {To: curve.Pt(80, -50)}, {ToCorner: true}}}, {Name: "close"}},
	}
	g := &pattern.Garment{Levels: []pattern.Level{{Name: "waist", Y: 0}, {Name: "bust", Y: 160}, {Name: "nape", Y: 200}, {Name: "crown", Y: 900}}, Pieces: []*pattern.Piece{p}}
	return g, p
}

func TestWhereASpotIs(t *testing.T) {
	at := func(level string) pattern.Spot { return pattern.Spot{Kind: pattern.AtLevel, Level: level} }
	from := func(d float64, above bool, level string) pattern.Spot {
		return pattern.Spot{Kind: pattern.FromLevel, Level: level, Distance: d, Above: above}
	}
	corner := func(d float64, c string) pattern.Spot {
		return pattern.Spot{Kind: pattern.FromCorner, Corner: c, Distance: d}
	}
	nearest := func(c string) pattern.Spot { return pattern.Spot{Kind: pattern.AtLevel, Level: "waist", Nearest: c} }
	for _, c := range []struct {
		name, edge string
		spot       pattern.Spot
		want       float64
	}{
		{"at a level, going up", "up", at("waist"), 100},
		{"at a level, going down", "down", at("waist"), 200},
		{"an edge that ends on the level crosses it there", "up", at("nape"), 300},
		{"an edge that begins on the level crosses it there", "down", at("nape"), 0},
		{"above the level, going up", "up", from(20, true, "waist"), 120},
		{"below the level, going up", "up", from(20, false, "waist"), 80},
		{"above the level, going down", "down", from(20, true, "waist"), 180},
		{"below the level, going down", "down", from(20, false, "waist"), 220},
		{"from the first corner", "up", corner(12, "hem"), 12},
		{"from the last corner", "up", corner(12, "top"), 288},
		{"at the very corner", "up", corner(0, "top"), 300},
		{"the whole way", "up", corner(300, "top"), 0},
		{"a hair past the end, by the rounding of a file", "up", corner(300.001, "top"), 0},
		{"the first of several crossings", "wave", nearest("low"), 100},
		{"the last of several crossings", "wave", nearest("end"), 390 + 50},
		{"nearest to a corner of another edge", "wave", nearest("foot"), 100},
	} {
		g, p := spots()
		got, err := g.SpotAt(p, p.EdgeIndex(c.edge), c.spot, 1e-6)
		require.Nil(t, err, c.name)
		assert.InDelta(t, c.want, got, 1e-5, c.name)
	}
}

func TestSpotsThatHaveNoPlace(t *testing.T) {
	for _, c := range []struct {
		name, edge      string
		spot            pattern.Spot
		found, expected string
	}{
		{"no such level", "up", pattern.Spot{Level: "hip"}, "piece p has no level hip", "a level of the garment or of the piece"},
		{"the edge does not reach it", "up", pattern.Spot{Level: "crown"}, "edge up does not reach level crown (y = 900)", "crosses the level"},
		{"several crossings", "wave", pattern.Spot{Level: "waist"}, "edge wave crosses level waist 3 times", "nearest CORNER"},
		{"several crossings, at a distance", "wave", pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: 3}, "edge wave crosses level waist 3 times", "one crossing"},
		{"nearest to no corner", "wave", pattern.Spot{Level: "waist", Nearest: "x"}, "piece p has no corner x", "a corner of the piece"},
		{"a corner that is not an end", "up", pattern.Spot{Kind: pattern.FromCorner, Corner: "foot"}, "corner foot is not an end of edge up", "hem or top"},
		{"past the far end", "up", pattern.Spot{Kind: pattern.FromCorner, Corner: "top", Distance: 300.1}, "the place is -0.1 mm from the start of edge up, which is 300.0 mm long", "a place on the edge"},
		{"too far above", "up", pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Above: true, Distance: 201}, "the place is 301.0 mm from the start", "a place on the edge"},
		{"too far below", "down", pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: 101}, "the place is 301.0 mm from the start", "a place on the edge"},
	} {
		g, p := spots()
		_, err := g.SpotAt(p, p.EdgeIndex(c.edge), c.spot, 1e-6)
		require.NotNil(t, err, c.name)
		assert.Contains(t, err.Found, c.found, c.name)
		assert.Contains(t, err.Expected, c.expected, c.name)
		assert.Equal(t, err.Found+"; "+err.Expected, err.Error())
	}
	g, p := spots()
	p.NoLevels = true
	_, err := g.SpotAt(p, 0, pattern.Spot{Level: "waist"}, 1e-6)
	require.NotNil(t, err)
	assert.Equal(t, "piece p has no level waist", err.Found)
}

// A small wave at the level does not turn above and below round: the edge's
// higher end is what "above" means.
func TestAboveIsTowardsTheHigherEnd(t *testing.T) {
	p := &pattern.Piece{Name: "p", Corners: []pattern.Corner{{Name: "a", At: curve.Pt(0, 100)}, {Name: "b", At: curve.Pt(0, -100)}},
		Edges: []pattern.Edge{{Name: "down", Segs: []pattern.Seg{{To: curve.Pt(0, 5)}, {To: curve.Pt(10, 5)}, {ToCorner: true}}}, {Name: "up"}}}
	g := &pattern.Garment{Levels: []pattern.Level{{Name: "l", Y: 0}}}
	got, err := g.SpotAt(p, 0, pattern.Spot{Kind: pattern.FromLevel, Level: "l", Distance: 10, Above: true}, 1e-6)
	require.Nil(t, err)
	cross := 95 + 10 + math.Hypot(10, 105)*5/105
	assert.InDelta(t, cross-10, got, 1e-5)
}
