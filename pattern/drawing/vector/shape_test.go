package vector

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
)

func one(t *testing.T, body string) Item {
	t.Helper()
	d, probs := Read("a.svg", onPage(body), Options{})
	require.Empty(t, probs, body)
	require.Len(t, d.Items, 1, body)
	return d.Items[0]
}

// Each shape is the path that SVG 2, chapter 10 gives for it.
func TestShapesAreTheirPaths(t *testing.T) {
	for shape, d := range map[string]string{
		`<rect x="10" y="20" width="30" height="40"/>`:                         "M10,20 H40 V60 H10 V20 z",
		`<rect width="30" height="40"/>`:                                       "M0,0 H30 V40 H0 V0 z",
		`<rect x="10" y="20" width="30" height="40" rx="5" ry="8"/>`:           "M15,20 H35 A5,8 0 0 1 40,28 V52 A5,8 0 0 1 35,60 H15 A5,8 0 0 1 10,52 V28 A5,8 0 0 1 15,20 z",
		`<rect x="10" y="20" width="30" height="40" rx="5"/>`:                  "M15,20 H35 A5,5 0 0 1 40,25 V55 A5,5 0 0 1 35,60 H15 A5,5 0 0 1 10,55 V25 A5,5 0 0 1 15,20 z",
		`<rect x="10" y="20" width="30" height="40" ry="5" rx="auto"/>`:        "M15,20 H35 A5,5 0 0 1 40,25 V55 A5,5 0 0 1 35,60 H15 A5,5 0 0 1 10,55 V25 A5,5 0 0 1 15,20 z",
		`<rect x="10" y="20" width="30" height="40" rx="50" ry="8"/>`:          "M25,20 A15,8 0 0 1 40,28 V52 A15,8 0 0 1 25,60 A15,8 0 0 1 10,52 V28 A15,8 0 0 1 25,20 z",
		`<rect x="10" y="20" width="30" height="40" rx="0" ry="8"/>`:           "M10,20 H40 V60 H10 V20 z",
		`<circle cx="50" cy="60" r="20"/>`:                                     "M70,60 A20,20 0 0 1 50,80 A20,20 0 0 1 30,60 A20,20 0 0 1 50,40 A20,20 0 0 1 70,60 z",
		`<ellipse cx="50" cy="60" rx="20" ry="10"/>`:                           "M70,60 A20,10 0 0 1 50,70 A20,10 0 0 1 30,60 A20,10 0 0 1 50,50 A20,10 0 0 1 70,60 z",
		`<ellipse rx="20"/>`:                                                   "M20,0 A20,20 0 0 1 0,20 A20,20 0 0 1 -20,0 A20,20 0 0 1 0,-20 A20,20 0 0 1 20,0 z",
		`<line x1="1" y1="2" x2="3" y2="4"/>`:                                  "M1,2 L3,4",
		`<polyline points="1,2 3 4,5-6"/>`:                                     "M1,2 L3,4 L5,-6",
		`<polygon points="1e0,2,3,4  5 6"/>`:                                   "M1,2 L3,4 L5,6 z",
		`<polygon points="1,2 3,4 5,6 1,2"/>`:                                  "M1,2 L3,4 L5,6 L1,2 z",
		`<rect x="10%" y="10%" width="5%" height="25.4mm"/>`:                   "M40,40 H60 V136 H40 V40 z",
		`<circle r="10%"/>`:                                                    "M40,0 A40,40 0 0 1 0,40 A40,40 0 0 1 -40,0 A40,40 0 0 1 0,-40 A40,40 0 0 1 40,0 z",
		`<line x2="1in" y2="72pt"/>`:                                           "M0,0 L96,96",
		`<line x2="2.54cm" y2="6pc"/>`:                                         "M0,0 L96,96",
		`<line x2="101.6Q" y2="96px"/>`:                                        "M0,0 L96,96",
		`<rect style="width:30px;height:0;height:40px" width="9" height="9"/>`: "M0,0 H30 V40 H0 V0 z",
	} {
		got, want := one(t, shape), one(t, `<path d="`+d+`"/>`)
		assert.Equal(t, want.Closed, got.Closed, shape)
		require.Len(t, got.Path, len(want.Path), shape)
		for i, s := range want.Path {
			g := got.Path[i]
			assert.Equal(t, s.Straight, g.Straight, shape)
			for _, d := range []float64{s.P0.Dist(g.P0), s.P1.Dist(g.P1), s.P2.Dist(g.P2), s.P3.Dist(g.P3)} {
				assert.InDelta(t, 0, d, 1e-9, "%s, segment %d", shape, i)
			}
		}
		if got.Closed {
			assert.Equal(t, got.Path.Start(), got.Path.End(), shape)
		}
	}
}

// worstOfCircle is how far a path strays from a circle.
func worstOfCircle(p curve.Path, cx, cy, r float64) float64 {
	worst := 0.0
	for _, s := range p {
		for k := range 65 {
			worst = max(worst, math.Abs(s.At(float64(k)/64).Dist(curve.Pt(cx, cy))-r))
		}
	}
	return worst
}

// Arcs, also enlarged by transforms, stray at most 0.0005 mm on the page, and
// their length is that of the true curve. Perimeters of ellipses: the table
// "Circumference of an ellipse" (10 figures) and SciPy's example of ellipe for
// 3.5 x 2.1; of a circle 2 pi r.
func TestRoundShapesAreTrueOnThePage(t *testing.T) {
	c := one(t, `<g transform="scale(50)"><circle cx="3" cy="3" r="2" transform="rotate(20)"/></g>`)
	centre := curve.Rotate(20 * math.Pi / 180).Apply(curve.Pt(3, 3)).Mul(50)
	assert.LessOrEqual(t, worstOfCircle(c.Path, centre.X, centre.Y, 100), 0.0005)
	assert.InDelta(t, 2*math.Pi*100, c.Path.Length(1e-9), 0.001)
	for _, e := range [][3]float64{
		{3.5, 2.1, 17.868899204378693}, {2, 1, 9.688448220}, {3, 1, 13.36489322}, {5, 1, 21.01004454}, {20, 10, 96.88448220}, {123, 45, 556.6359936},
	} {
		got := one(t, fmt.Sprintf(`<ellipse rx="%g" ry="%g"/>`, e[0], e[1]))
		assert.InDelta(t, e[2], got.Path.Length(1e-9), 0.001, "%v", e)
	}
	// the rectangle of the web platform tests (getTotalLength-03.svg): 200 x 300
	assert.InDelta(t, 1000, one(t, `<rect width="200" height="300"/>`).Path.Length(1e-9), 1e-9)
}

// A path drawn with too many segments is refused, however it comes about.
func TestTooManySegmentsOfADrawing(t *testing.T) {
	d := "M0,0" + strings.Repeat("h1h-1", 150_000)
	_, probs := Read("a.svg", onPage(`<path id="a" d="`+d+`"/>`+strings.Repeat(`<use href="#a"/>`, 8)), Options{})
	require.NotEmpty(t, probs)
	assert.Equal(t, "drawing.path", probs[0].ID)
	assert.Contains(t, probs[0].Found, "too many segments")
}
