package measure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// The corner angles of both sides of a seam make 180 degrees where a hem or a
// neckline runs on smoothly (Conover 1921: one true curve across the seam).
// Angles by arctangent: a slope of 20 on 100 is 11.3099 degrees.
func TestTurnOfARunAtASeam(t *testing.T) {
	level := "corner tf 0 100\nedge front\ncorner hf 0 0\nedge hem\ncorner hb 100 0\nedge back\ncorner tb 100 100\nedge top\n"
	high := "corner tf 0 100\nedge front\ncorner hf 0 0\nedge hem\ncorner hb 100 0\nedge back\ncorner tb 100 120\nedge top\n"
	low := "corner tf 0 100\nedge front\ncorner hf 0 0\nedge hem\ncorner hb 100 0\nedge back\ncorner tb 100 80\nedge top\n"
	bent := "corner tf 0 100\nedge front\ncorner hf 0 0\nedge hem\ncorner hb 100 0\nedge back\ncorner tb 100 100\nedge top\n  curve 70 100 20 80 to corner\n"
	for _, c := range []struct {
		name, a, b, seam string
		want             float64
	}{
		{"two square corners", level, level, "a.back b.front", 0},
		{"the seam written the other way round", level, level, "b.front a.back", 0},
		{"a point upwards", high, level, "a.back b.front", 11.309932},
		{"a point downwards", low, level, "a.back b.front", -11.309932},
		{"both rise to the seam", high, strings.Replace(level, "tf 0 100", "tf 0 120", 1), "a.back b.front", 2 * 11.309932},
		{"one goes on where the other came", high, strings.Replace(level, "tb 100 100", "tb 100 120", 1), "a.back b.front", 0},
		{"a curve counts by its tangent", bent, level, "a.back b.front", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := read(t, "-- garment --\nhalf left\nrun neck a.top b.top\nseam s "+c.seam+"\n-- a --\n"+c.a+"-- b --\n"+c.b)
			assert.InDelta(t, c.want, ask(t, g, nil, "turn neck at s"), 1e-5)
		})
	}
}

func TestTurnAtTheHemToo(t *testing.T) {
	a, b := box("0", "-100", "80", "100"), box("0", "-100", "80", "100")
	g := read(t, "-- garment --\nhalf left\nrun hem a.hem b.hem\nrun neck b.top a.top\nseam s a.back b.front\nseam t a.front b.back\n-- a --\n"+a+"-- b --\n"+b)
	assert.InDelta(t, 0, ask(t, g, nil, "turn hem at s"), 1e-9)
	assert.InDelta(t, 0, ask(t, g, nil, "turn neck at s"), 1e-9, "the direction of a run is free")
	list := values(t, read(t, "-- garment --\nhalf left\nrun hem a.hem b.hem\nseam s a.back b.back\n-- a --\n"+a+"-- b --\n"+b), nil, "turn hem at s")
	assert.InDelta(t, 0, list[0].Value, 1e-9, "two backs meet square at the hem as well")
}

func TestASeamThatDoesNotCrossTheRun(t *testing.T) {
	a, b := box("0", "-100", "80", "100"), box("0", "-100", "80", "100")
	g := read(t, "-- garment --\nhalf left\nrun hem a.hem b.hem\nseam s a.top b.top\nseam m a.front mirrored\n-- a --\n"+a+"-- b --\n"+b)
	for _, seam := range []string{"s", "m"} {
		list := values(t, g, nil, "turn hem at "+seam)
		require.Len(t, list, 1)
		assert.False(t, list[0].Known)
		assert.Equal(t, "degrees", list[0].Unit)
		assert.Contains(t, list[0].Why, "does not join")
	}
}

// Angles of polygons that are known from school: 108 in the regular pentagon,
// 120 in the hexagon, 270 at a reentrant square corner.
func TestInteriorAngles(t *testing.T) {
	regular := func(n int) curve.Path {
		var path curve.Path
		at := curve.Pt(100, 0)
		turn := curve.Rotate(2 * 3.141592653589793 / float64(n))
		for range n {
			next := turn.Apply(at)
			path = append(path, curve.Line(at, next))
			at = next
		}
		return path
	}
	for n, want := range map[int]float64{3: 60, 4: 90, 5: 108, 6: 120} {
		for i := range n {
			got, ok := measure.InteriorAngle(ring("p", regular(n)), i)
			require.True(t, ok)
			assert.InDelta(t, want, got, 1e-9)
		}
	}
	ell := read(t, "-- garment --\nwhole\n-- l --\ncorner a 0 0\nedge e1\ncorner b 100 0\nedge e2\ncorner c 100 50\nedge e3\ncorner d 50 50\nedge e4\ncorner e 50 100\nedge e5\ncorner f 0 100\nedge e6\n").Piece("l")
	for i, want := range []float64{90, 90, 90, 270, 90, 90} {
		got, ok := measure.InteriorAngle(ell, i)
		require.True(t, ok)
		assert.InDelta(t, want, got, 1e-9, "corner %d", i)
	}
	point := ring("p", curve.Path{curve.Line(curve.Pt(1, 1), curve.Pt(1, 1)), curve.Line(curve.Pt(1, 1), curve.Pt(5, 1)), curve.Line(curve.Pt(5, 1), curve.Pt(1, 1))})
	_, ok := measure.InteriorAngle(point, 0)
	assert.False(t, ok, "an edge without length has no direction")
}

// A hem that is level on the body lies equally far from the waist along every seam,
// measured on the cloth: the slanted seam of 30 on 40 is 50 long below the waist (the
// triangle of 3, 4 and 5), the upright one 40, though both end at one height.
func TestHowFarARunReachesAlongSeams(t *testing.T) {
	flared := "corner tf 0 80\nedge front\ncorner hf 0 -40\nedge hem\ncorner hb 130 -40\nedge back\n  line to 100 0\n  line to corner\ncorner tb 100 80\nedge top\n"
	beside := "corner tf 0 80\nedge front\n  line to 0 0\n  line to corner\ncorner hf -30 -40\nedge hem\ncorner hb 60 -40\nedge back\ncorner tb 60 80\nedge top\n"
	last := box("0", "-40", "60", "80")
	g := read(t, "-- garment --\nhalf left\nlevel waist 0\nrun hem a.hem b.hem c.hem\nrun top a.top b.top c.top\nseam s a.back b.front\nseam u b.back c.front\n-- a --\n"+flared+"-- b --\n"+beside+"-- c --\n"+last)
	list := values(t, g, nil, "reach hem")
	require.Len(t, list, 4)
	got := map[string]float64{}
	for _, v := range list {
		require.True(t, v.Known)
		assert.Equal(t, "mm", v.Unit)
		got[v.Of] = v.Value
	}
	for of, want := range map[string]float64{"s, a.back": 50, "s, b.front": 50, "u, b.back": 40, "u, c.front": 40} {
		assert.InDelta(t, want, got[of], 1e-6, of)
	}
	assert.InDelta(t, 10, ask(t, g, nil, "spread hem"), 1e-6, "50 at s, 40 at u")
	assert.InDelta(t, 0, ask(t, g, nil, "spread top"), 1e-6)
	for _, v := range values(t, g, nil, "reach top at s") {
		assert.InDelta(t, 80, v.Value, 1e-6, "%s: above the waist as well", v.Of)
	}
	turns := values(t, g, nil, "turn top")
	require.Len(t, turns, 2)
	assert.Equal(t, []string{"s", "u"}, []string{turns[0].Of, turns[1].Of})
	list = values(t, read(t, "-- garment --\nhalf left\nrun hem a.hem\n-- a --\n"+flared), nil, "reach hem")
	require.Len(t, list, 1)
	assert.Equal(t, "run hem crosses no seam", list[0].Why)
	apart := read(t, "-- garment --\nhalf left\nrun hem a.hem b.hem\nseam s a.back b.front\n-- a --\n"+flared+"-- b --\n"+beside)
	list = values(t, apart, nil, "spread hem")
	require.Len(t, list, 1)
	assert.Equal(t, "s, a.back: it has no notch waist and does not cross the waist once", list[0].Why)
}

// A run that closes round the body crosses the seam that closes it too.
func TestARunThatIsARing(t *testing.T) {
	a, b := box("0", "-100", "80", "100"), box("0", "-100", "80", "100")
	g := read(t, "-- garment --\nwhole\nlevel waist 0\nrun hem a.hem b.hem\nseam left a.back b.front\nseam right b.back a.front\n-- a --\n"+a+"-- b --\n"+b)
	turns := values(t, g, nil, "turn hem")
	require.Len(t, turns, 2)
	assert.ElementsMatch(t, []string{"left", "right"}, []string{turns[0].Of, turns[1].Of})
}

// The hem of a sleeve is one edge that closes round in the sleeve's own seam. Cut
// straight across a sleeve that tapers by 20 on 100 at each side, it turns in there by
// twice the arctangent, 11.3099 degrees, and its wider end turns out by as much.
func TestARunOfOneEdgeThatClosesRound(t *testing.T) {
	sleeve := "corner tf 0 100\nedge front\ncorner hf 20 0\nedge hem\ncorner hb 100 0\nedge back\ncorner tb 120 100\nedge top\n"
	for _, seam := range []string{"a.back a.front", "a.front a.back"} {
		g := read(t, "-- garment --\nwhole\nlevel waist 50\nrun hem a.hem\nrun cap a.top\nseam s "+seam+"\n-- a --\n"+sleeve)
		assert.InDelta(t, -2*11.309932, ask(t, g, nil, "turn hem at s"), 1e-5, seam)
		assert.InDelta(t, 2*11.309932, ask(t, g, nil, "turn cap at s"), 1e-5, seam)
		assert.InDelta(t, 0, ask(t, g, nil, "spread hem"), 1e-9, seam)
	}
}

// Where a seam takes a span of an edge it ends at a notch and not at the corner, so that
// no run crosses it there.
func TestARunDoesNotCrossASeamThatEndsAtANotch(t *testing.T) {
	a, b := box("0", "-100", "80", "100"), box("0", "-100", "80", "100")
	notches := "notch low on EDGE 50 below waist\nnotch high on EDGE 50 above waist\n"
	g := read(t, "-- garment --\nhalf left\nlevel waist 0\nrun hem a.hem b.hem\nrun neck a.top b.top\nseam s a.back from low to high b.front from high to low\n-- a --\n"+
		a+strings.ReplaceAll(notches, "EDGE", "back")+"-- b --\n"+b+strings.ReplaceAll(notches, "EDGE", "front"))
	for _, run := range []string{"hem", "neck"} {
		list := values(t, g, nil, "turn "+run+" at s")
		require.Len(t, list, 1)
		assert.False(t, list[0].Known, run)
	}
}

// Sides of several edges end where the last of them ends: a yoke sewn to two pieces.
func TestARunAcrossASeamOfSeveralEdges(t *testing.T) {
	upper := "corner tf 0 100\nedge front\ncorner m 0 40\nedge low\ncorner hf 0 0\nedge hem\ncorner hb 80 0\nedge back\ncorner tb 80 100\nedge top\n"
	g := read(t, "-- garment --\nhalf left\nrun hem b.hem a.hem\nrun neck b.top a.top\nseam s b.back a.front + a.low\n-- a --\n"+upper+"-- b --\n"+box("0", "0", "80", "100"))
	assert.InDelta(t, 0, ask(t, g, nil, "turn hem at s"), 1e-9)
	assert.InDelta(t, 0, ask(t, g, nil, "turn neck at s"), 1e-9)
	same := read(t, "-- garment --\nhalf left\nrun line b.hem a.top\nseam s b.back a.back same-way\n-- a --\n"+box("0", "0", "80", "100")+"-- b --\n"+box("0", "0", "80", "100"))
	list := values(t, same, nil, "turn line at s")
	require.Len(t, list, 1)
	assert.False(t, list[0].Known, "same way, the hem meets the hem")
}
