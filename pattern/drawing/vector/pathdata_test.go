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

// tight keeps arcs of the tests far within their tolerances.
const tight = 1e-5

func parsePath(d string, arcTol float64, limit int) ([]subpath, *fault) {
	p := pathPen{scanner: scanner{text: d}, arcTol: arcTol, limit: limit}
	bad := p.run()
	return p.end(), bad
}

// ends writes the end points of the segments, one subpath after the other, with
// m before the start of each and z after a closed one.
func ends(subs []subpath) string {
	var b strings.Builder
	for _, s := range subs {
		fmt.Fprintf(&b, "m %g %g ", s.path.Start().X, s.path.Start().Y)
		for _, g := range s.path {
			fmt.Fprintf(&b, "%g %g ", g.P3.X, g.P3.Y)
		}
		if s.closed {
			b.WriteString("z ")
		}
	}
	return strings.TrimSpace(b.String())
}

// Accepted strings of Chromium's svg_path_parser_test.cc (BSD-3); what each
// draws, as end points, follows from the commands listed there.
func TestPathDataAccepted(t *testing.T) {
	for d, want := range map[string]string{
		"":                                 "",
		" ":                                "",
		"M1,2":                             "",
		"M100,200 L3,4":                    "m 100 200 3 4",
		"M100,200 l3,4":                    "m 100 200 103 204",
		"M100,200 H3":                      "m 100 200 3 200",
		"M100,200 h3":                      "m 100 200 103 200",
		"M100,200 V3":                      "m 100 200 100 3",
		"M100,200 v3":                      "m 100 200 100 203",
		"M100,200 C3,4,5,6,7,8":            "m 100 200 7 8",
		"M100,200 c3,4,5,6,7,8":            "m 100 200 107 208",
		"M100,200 S3,4,5,6":                "m 100 200 5 6",
		"M100,200 s3,4,5,6":                "m 100 200 105 206",
		"M100,200 Q3,4,5,6":                "m 100 200 5 6",
		"M100,200 q3,4,5,6":                "m 100 200 105 206",
		"M100,200 T3,4":                    "m 100 200 3 4",
		"M100,200 t3,4":                    "m 100 200 103 204",
		"M1,2,3,4":                         "m 1 2 3 4",
		"m100,200,3,4":                     "m 100 200 103 204",
		"M 100-200L0 0":                    "m 100 -200 0 0",
		"M 0.6.5L0 0":                      "m 0.6 0.5 0 0",
		"\n\r\t M1,2L3 4":                  "m 1 2 3 4",
		"M1,2L3 4\r\n":                     "m 1 2 3 4",
		"M.1 .2 L.3 .4 .5 .6":              "m 0.1 0.2 0.3 0.4 0.5 0.6",
		"M1,1h2,3":                         "m 1 1 3 1 6 1",
		"M1,1H2,3":                         "m 1 1 2 1 3 1",
		"M1,1v2,3":                         "m 1 1 1 3 1 6",
		"M1,1V2,3":                         "m 1 1 1 2 1 3",
		"M1,1c2,3 4,5 6,7 8,9 10,11 12,13": "m 1 1 7 8 19 21",
		"M1,1S2,3 4,5 6,7 8,9":             "m 1 1 4 5 8 9",
		"M1,1q2,3 4,5 6,7 8,9":             "m 1 1 5 6 13 15",
		"M1,1t2,3 4,5":                     "m 1 1 3 4 7 9",
		"M1e2,10e1L0 0":                    "m 100 100 0 0",
		"M100e0,100L0 0":                   "m 100 100 0 0",
		"M1e+2,1000e-1L0 0":                "m 100 100 0 0",
		"M1e2.5L0 0":                       "m 100 0.5 0 0",
		"M0.00000001e10 100L0 0":           "m 100 100 0 0",
		"M0,50 h1e-123456789123456789123":  "m 0 50 0 50",
		"M100,200 a0,4,5,0,0,10,0 a4,0,5,0,0,0,1": "m 100 200 110 200 110 201",
		// Not from there: a moveto may be missing after Z, and starts at the
		// subpath's start (SVG 2, section 9.3.4).
		"M10,10 h5 v5 z l-3,0":    "m 10 10 15 10 15 15 10 10 z m 10 10 7 10",
		"M10,10 h5 z m1,1 2,2":    "m 10 10 15 10 10 10 z m 11 11 13 13",
		"M10,10 h5 v5 L10,10 z":   "m 10 10 15 10 15 15 10 10 z",
		"M-.5-.5.5.5-1-1e0":       "m -0.5 -0.5 0.5 0.5 -1 -1",
		"M 1 2 , 3 4\tl\n5,6 7,8": "m 1 2 3 4 8 10 15 18",
	} {
		subs, bad := parsePath(d, tight, 1000)
		if assert.Nil(t, bad, d) {
			assert.Equal(t, want, ends(subs), d)
		}
	}
}

// The packed flags of arcs, from the same table: each pair of spellings is the
// same arc.
func TestArcFlagsNeedNoSpace(t *testing.T) {
	for packed, plain := range map[string]string{
		"M100,200 a3,4,5,006,7":              "M100,200 a3 4 5 0 0 6 7",
		"M100,200 a3,4,5,016,7":              "M100,200 a3 4 5 0 1 6 7",
		"M100,200 a3,4,5,106,7":              "M100,200 a3 4 5 1 0 6 7",
		"M100,200 a3,4,5,116,7":              "M100,200 a3 4 5 1 1 6 7",
		"M1,1a2,3,4,0,0,5,6 7,8,9,0,0,10,11": "M1,1 a2 3 4 0 0 5 6 a7 8 9 0 0 10 11",
	} {
		a, bad := parsePath(packed, tight, 1000)
		require.Nil(t, bad, packed)
		b, bad := parsePath(plain, tight, 1000)
		require.Nil(t, bad, plain)
		assert.Equal(t, b, a, packed)
	}
}

// Refused strings of the same table. "h1e38" is allowed there and refused here,
// since no pattern reaches so far.
func TestPathDataRefused(t *testing.T) {
	for _, d := range []string{
		"M100,200 a3,4,5,2,1,6,7", "M100,200 a3,4,5,1,2,6,7",
		"\vM1,2", "xM1,2", "M1,2\v", "M1,2x", "M1,2 L40,0#90", "x", "L1,2", "M", "M\x00", "M1,1Z0", "M1,1z0",
		"M1,1c2,3 4,5 6,7 8", "M1,1C2,3 4,5 6,7 8", "M1,1s2,3 4,5 6", "M1,1S2,3 4,5 6",
		"M1,1q2,3 4,5 6", "M1,1Q2,3 4,5 6", "M1,1t2,3 4", "M1,1T2,3 4",
		"M1,1a2,3,4,0,0,5,6 7", "M1,1A2,3,4,0,0,5,6 7",
		"M0,50 h1e39", "M0,50 h1e123456789123456789123", "M0,50 h1e-.5", "M0,50 h1e+.5", "M0,50 h1e38",
		// B (bearing) is refused in the web platform tests (svg/path/bearing).
		"M0,0 B 45 L 10,10",
		// Not numbers of any edition.
		"M0,0 L NaN,1", "M0,0 L Inf,1", "M0,0 L 0x10,1", "M0,0 L 1_0,1", "M0,0 L --1,1", "M0,0 L .,1", "M0,0,L1,1", "M0,0 L1,,1", "M0,0 L1,1,",
	} {
		_, bad := parsePath(d, tight, 1000)
		assert.NotNil(t, bad, "%q", d)
	}
}

// Where the fault stands: byte offsets of the same file, test ErrorReporting.
func TestPathDataFaultPlace(t *testing.T) {
	for d, want := range map[string]int{
		" 10 10":                  1,
		"L 10 10":                 0,
		"M 10 10 #":               8,
		"M 10 10 E 100 100":       8,
		"M 10 10 L100 ":           13,
		"M 10 10 L100 #":          13,
		"M 10 10 L100#100":        12,
		"M0,0 A#,10 0 0,0 20,20":  6,
		"M0,0 A10,# 0 0,0 20,20":  9,
		"M0,0 A10,10 # 0,0 20,20": 12,
		"M0,0 A10,10 0 #,0 20,20": 14,
		"M0,0 A10,10 0 0,# 20,20": 16,
		"M0,0 A10,10 0 0,2 20,20": 16,
		"M0,0 A10,10 0 0,0 #,20":  18,
		"M0,0 A10,10 0 0,0 20,#":  21,
	} {
		_, bad := parsePath(d, tight, 1000)
		if assert.NotNil(t, bad, d) {
			assert.Equal(t, want, bad.at, d)
		}
	}
}

// The line before the fault is drawn (SVG implementation notes, error handling:
// "M 10,10 L 20,20,30" gives the line to 20,20 and then an error).
func TestPathDataKeepsWhatStandsBeforeTheFault(t *testing.T) {
	subs, bad := parsePath("M 10,10 L 20,20,30", tight, 1000)
	assert.NotNil(t, bad)
	assert.Equal(t, "m 10 10 20 20", ends(subs))
}

// Points that svg.path's tests mark as calculated (MIT, tests/test_paths.py).
func TestPointsOfCurves(t *testing.T) {
	for d, points := range map[string]map[float64]curve.Point{
		"M100,200 C100,100 250,100 250,200": {0.3: {X: 132.4, Y: 137}, 0.5: {X: 175, Y: 125}, 0.9: {X: 245.8, Y: 173}},
		"M200,300 Q400,50 600,300":          {0.3: {X: 320, Y: 195}, 0.5: {X: 400, Y: 175}},
	} {
		subs, bad := parsePath(d, tight, 1000)
		require.Nil(t, bad)
		for at, want := range points {
			got := subs[0].path[0].At(at)
			assert.InDelta(t, want.X, got.X, 1e-9, d)
			assert.InDelta(t, want.Y, got.Y, 1e-9, d)
		}
	}
}

// S and T mirror the handle before them only after a curve of their own kind
// (SVG implementation notes: 2cx-ox, 2cy-oy).
func TestSmoothCurvesMirrorTheHandle(t *testing.T) {
	for smooth, plain := range map[string]string{
		"M0,0 C1,2 3,5 4,4 S7,8 9,9":         "M0,0 C1,2 3,5 4,4 C5,3 7,8 9,9",
		"M0,0 C1,2 3,5 4,4 s3,4 5,5":         "M0,0 C1,2 3,5 4,4 C5,3 7,8 9,9",
		"M4,4 S7,8 9,9":                      "M4,4 C4,4 7,8 9,9",
		"M0,0 Q3,5 4,4 S7,8 9,9":             "M0,0 Q3,5 4,4 C4,4 7,8 9,9",
		"M0,0 Q3,5 4,4 T9,9":                 "M0,0 Q3,5 4,4 Q5,3 9,9",
		"M0,0 Q3,5 4,4 T9,9 T8,1":            "M0,0 Q3,5 4,4 Q5,3 9,9 Q13,15 8,1",
		"M0,0 C1,2 3,5 4,4 T9,9":             "M0,0 C1,2 3,5 4,4 Q4,4 9,9",
		"M0,0 C1,2 3,5 4,4 z S7,8 9,9":       "M0,0 C1,2 3,5 4,4 z M0,0 C0,0 7,8 9,9",
		"M0,0 Q3,5 4,4 L4,4 T9,9":            "M0,0 Q3,5 4,4 L4,4 Q4,4 9,9",
		"M0,0 C1,2 3,5 4,4 S7,8 9,9 6,6 1,3": "M0,0 C1,2 3,5 4,4 C5,3 7,8 9,9 C11,10 6,6 1,3",
	} {
		a, bad := parsePath(smooth, tight, 1000)
		require.Nil(t, bad)
		b, bad := parsePath(plain, tight, 1000)
		require.Nil(t, bad)
		assert.Equal(t, b, a, smooth)
	}
}

func TestLengths(t *testing.T) {
	for _, c := range []struct {
		d    string
		want float64
		tol  float64
	}{
		// Web platform tests, SVGGeometryElement.getTotalLength-02 to -04 (BSD-3).
		{"M0,20 L400,20 L640,20", 640, 1e-9},
		{"M0,0 L100,0 L100,100", 200, 1e-9},
		{"M0,0 h200 v300 h-200 z", 1000, 1e-9}, // their rect of 200 x 300
		// svg.path tests (MIT), marked as calculated: two half circles, the two
		// pies of the SVG specification, radii out of range.
		{"M0,0 A100,100 0 0,0 200,0", math.Pi * 100, 1e-3},
		{"M0,0 A100,100 0 0,0 200,0 A100,100 0 0,0 0,0", math.Pi * 200, 1e-3},
		{"M300,200 h-150 a150,150 0 1,0 150,-150 z", 1006.8583470577, 1e-3},
		{"M275,175 v-150 a150,150 0 0,0 -150,150 z", 535.61944901923, 1e-3},
		{"M0,0 A0,50 0 0,0 200,0", 200, 1e-9},
		{"M0,0 A1,1 0 0,0 200,0", math.Pi * 100, 1e-3},
		{"M0,0 A100,100 0 0,0 0,0", 0, 0},
		{"M0,0 A-100,-100 720 0,0 200,0", math.Pi * 100, 1e-3},
		// Quarter of an ellipse 100 x 60: 4 a E(k) / 4, mpmath at 25 digits.
		{"M100,0 A100,60 0 0,1 0,60", 127.63499431699, 1e-3},
		// svg.path tests (MIT), marked as calculated.
		{"M200,300 Q400,50 600,300", 487.7710938955, 1e-6},
		{"M200,300 Q400,50 500,200", 379.9045819351, 1e-6},
		{"M1,3 Q2,5 -9,-17", 22.73335777124786, 1e-6},
		// SVG-Estimate, t/Path/05_cubic.t; beziers.py tests.
		{"M120,160 C35,200 220,260 220,40", 272.8700297821, 1e-6},
		{"M150,40 Q80,30 105,150", 144.79561403359532, 1e-6},
		{"M707,596 Q645,596 592,623", 119.25113694489233, 1e-6},
		// A parabola (PlanetMath, arc length of parabola), Neile's parabola, y = x^3
		// (OEIS A333203), and a cubic of length 2 (bezier.js tests, MIT).
		{"M0,0 Q.5,0 1,1", 1.4789428575445974, 1e-9},
		{"M0,0 C0,0 .33333333333333333,0 1,1", 1.4397098733715504, 1e-9},
		{"M0,0 C.33333333333333333,0 .66666666666666667,0 1,1", 1.54786565468361, 1e-9},
		{"M0,0 C0,1 1,1 1,0", 2, 1e-9},
		// The fold of a cubic on one line: fontTools comment (MIT).
		{"M0,0 C50,0 100,0 -50,0", 150, 1e-6},
		// Closed forms of quadratics: fontTools doctests (MIT).
		{"M0,0 Q0,50 100,0", 120.21581243984076, 1e-6},
		{"M0,0 Q50,20 100,40", 107.70329614269008, 1e-6},
		{"M0,0 Q40,0 -40,0", 66.66666666666667, 1e-6},
		{"M0,0 Q40,0 0,0", 40, 1e-6},
		{"M0,0 Q0,100 100,0", 154.02976155645263, 1e-6},
		{"M0,0 Q50,-10 80,50", 102.53273816445826, 1e-6},
	} {
		subs, bad := parsePath(c.d, tight, 10000)
		require.Nil(t, bad, c.d)
		sum := 0.0
		for _, s := range subs {
			sum += s.path.Length(1e-9)
		}
		assert.InDelta(t, c.want, sum, c.tol, c.d)
	}
}

// The four flag cases of svg.path (MIT): an arc 100,50 from 0,0 to 100,50 lies
// on the ellipse round the centre that the flags choose.
func TestArcStaysOnItsEllipse(t *testing.T) {
	for flags, centre := range map[string]curve.Point{
		"0,0": {X: 100, Y: 0}, "0,1": {X: 0, Y: 50}, "1,0": {X: 0, Y: 50}, "1,1": {X: 100, Y: 0},
	} {
		for _, tol := range []float64{0.1, 0.001, 1e-6} {
			subs, bad := parsePath("M0,0 A100,50 0 "+flags+" 100,50", tol, 10000)
			require.Nil(t, bad)
			worst := 0.0
			for _, s := range subs[0].path {
				for k := range 41 {
					p := s.At(float64(k) / 40).Sub(centre)
					// across the shorter axis a stray of the unit circle is at most 100 times as long
					worst = max(worst, 100*math.Abs(math.Hypot(p.X/100, p.Y/50)-1))
				}
			}
			assert.LessOrEqual(t, worst, tol, "%s within %g", flags, tol)
			assert.Equal(t, flags[0] == '1', len(subs[0].path) > 0 && subs[0].path.Length(1e-3) > 200, flags)
		}
	}
}

func TestTooManySegmentsAreRefused(t *testing.T) {
	_, bad := parsePath("M0,0"+strings.Repeat(" 1,1", 50), tight, 20)
	require.NotNil(t, bad)
	assert.Contains(t, bad.found, "too many")
}
