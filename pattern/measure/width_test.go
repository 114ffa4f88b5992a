package measure_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// Widths by subtraction of coordinates. The rule for a level along a horizontal
// edge is that of scan lines: an edge counts where ymin <= y < ymax.
func TestWidthAtALevel(t *testing.T) {
	const step = "corner a 0 50\nedge e1\ncorner b 0 0\nedge e2\ncorner c -20 0\nedge e3\ncorner d -20 -50\nedge e4\n" +
		"corner e 80 -50\nedge e5\ncorner f 80 0\nedge e6\ncorner g 60 0\nedge e7\ncorner h 60 50\nedge e8\n"
	for _, c := range []struct{ name, piece, level string }{
		{"a rectangle has its width", box("0", "-50", "100", "50"), "100"},
		{"the lower edge on the level: the piece is above it", box("0", "0", "100", "50"), "100"},
		{"the upper edge on the level: the piece is below it", box("0", "-50", "100", "0"), "0"},
		{"the level is out of reach above", box("0", "-50", "100", "-1"), "0"},
		{"the level is out of reach below", box("0", "1", "100", "50"), "0"},
		{"at a step the part above counts", step, "60"},
		{"a triangle at half its height", "corner a 50 100\nedge e1\ncorner b 0 -100\nedge e2\ncorner c 100 -100\nedge e3\n", "50"},
		{"the tip of a triangle on the level", "corner a 50 0\nedge e1\ncorner b 0 -100\nedge e2\ncorner c 100 -100\nedge e3\n", "0"},
		{"two legs are added", "corner a 0 50\nedge e1\ncorner b 0 -50\nedge e2\ncorner c 30 -50\nedge e3\ncorner d 30 20\nedge e4\n" +
			"corner e 60 20\nedge e5\ncorner f 60 -50\nedge e6\ncorner g 100 -50\nedge e7\ncorner h 100 50\nedge e8\n", "70"},
		{"the crotch of two legs on the level: the cloth above", "corner a 0 50\nedge e1\ncorner b 0 -50\nedge e2\ncorner c 30 -50\nedge e3\ncorner d 30 0\nedge e4\n" +
			"corner e 60 0\nedge e5\ncorner f 60 -50\nedge e6\ncorner g 100 -50\nedge e7\ncorner h 100 50\nedge e8\n", "100"},
		{"a clockwise outline has the same width", "corner a 0 50\nedge e1\ncorner b 100 50\nedge e2\ncorner c 100 -50\nedge e3\ncorner d 0 -50\nedge e4\n", "100"},
		{"the piece's own level goes before the garment's", "corner a 50 100\nedge e1\ncorner b 0 -100\nedge e2\ncorner c 100 -100\nedge e3\nlevel waist -50\n", "75"},
		{"levels none, but one of its own", "corner a 50 100\nedge e1\ncorner b 0 -100\nedge e2\ncorner c 100 -100\nedge e3\nlevels none\nlevel waist -100\n", "100"},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := read(t, "-- garment --\nwhole\nlevel waist 0\n-- a --\n"+c.piece)
			assert.InDelta(t, number(t, c.level), ask(t, g, nil, "width a at waist"), 1e-9)
		})
	}
}

func TestWidthOfAPieceWithoutLevelsIsUnknown(t *testing.T) {
	g := read(t, "-- garment --\nwhole\nlevel waist 0\nlevel bust 40\naround a\n-- a --\n"+box("0", "-50", "100", "50")+"levels none\n")
	for _, v := range values(t, g, nil, "width a") {
		assert.False(t, v.Known)
		assert.Contains(t, v.Why, "piece a has no level "+v.Measure[len("width a at "):])
	}
	assert.Equal(t, "piece a goes round but has no level waist", values(t, g, nil, "girth waist")[0].Why)
}

// A dart is width that is not there. S. T. Taylor, A Guide to Dressmaking
// (1876), the dart sum: the waist of 24 gives 6 in for the quarter, the bust
// half of 20 gives 10 in; 10 - 6 = 4 in are to be taken up in the darts.
func TestDartsAreTakenOffTheWidth(t *testing.T) {
	for name, darts := range map[string]string{
		"one dart":  "corner d 76.2 0\nedge e4\ncorner e 127 100\nedge e5\ncorner f 177.8 0\nedge e6\n",
		"two darts": "corner d 50.8 0\nedge e4\ncorner e 76.2 100\nedge e5\ncorner f 101.6 0\nedge e6\ncorner i 152.4 0\nedge e7\ncorner j 177.8 90\nedge e8\ncorner k 203.2 0\nedge e9\n",
	} {
		t.Run(name, func(t *testing.T) {
			g := read(t, "-- garment --\nhalf left\nlevel waist 0\nlevel bust 160\n-- a --\n"+
				"corner a 0 200\nedge e1\ncorner b 0 0\nedge e2\n"+darts+"corner g 254 0\nedge e20\ncorner h 254 200\nedge e21\n")
			assert.InDelta(t, 6*inch, ask(t, g, nil, "width a at waist"), 1e-9)
			assert.InDelta(t, 10*inch, ask(t, g, nil, "width a at bust"), 1e-9)
		})
	}
}

// The shoelace task of Rosetta Code: (3,4)(5,11)(12,8)(9,5)(5,6) has the area 30.
func TestAreaOfTheShoelaceExample(t *testing.T) {
	g := read(t, "-- garment --\nwhole\n-- a --\ncorner a 5 6\nedge e1\ncorner b 9 5\nedge e2\ncorner c 12 8\nedge e3\ncorner d 5 11\nedge e4\ncorner e 3 4\nedge e5\n")
	assert.InDelta(t, 30, ask(t, g, nil, "area a"), 1e-12)
	assert.Equal(t, "mm2", values(t, g, nil, "area a")[0].Unit)
}

// A circle of four cubics with the handles 4(sqrt2-1)/3 lies at most 0.0273 %
// outside the true one and never inside it (S. Mortensen, Bezier circle), so
// its chords and its area are known from below and from above.
func TestWidthAndAreaOfACircle(t *testing.T) {
	const r, k = 150.0, 150 * 0.5522847498307934
	p := ring("disc", curve.Path{
		curve.Cubic(curve.Pt(r, 0), curve.Pt(r, k), curve.Pt(k, r), curve.Pt(0, r)),
		curve.Cubic(curve.Pt(0, r), curve.Pt(-k, r), curve.Pt(-r, k), curve.Pt(-r, 0)),
		curve.Cubic(curve.Pt(-r, 0), curve.Pt(-r, -k), curve.Pt(-k, -r), curve.Pt(0, -r)),
		curve.Cubic(curve.Pt(0, -r), curve.Pt(k, -r), curve.Pt(r, -k), curve.Pt(r, 0)),
	})
	const over = 1.000273
	for _, y := range []float64{-149, -100, -1, 0, 1, 60, 100, 149} {
		w := p.Outline().WidthAt(y)
		assert.GreaterOrEqual(t, w, 2*math.Sqrt(r*r-y*y)-1e-9, "y = %g", y)
		assert.LessOrEqual(t, w, 2*math.Sqrt(over*over*r*r-y*y)+1e-9, "y = %g", y)
	}
	area := measure.Area(p)
	assert.Greater(t, area, math.Pi*r*r)
	assert.Less(t, area, math.Pi*over*over*r*r)
}
