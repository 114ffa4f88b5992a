package curve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tolerances that lengths are tried at, in mm.
var tolerances = []float64{1e-1, 1e-3, 1e-6, 1e-9}

// rounding is what doubles may add to an error bound at a length l.
func rounding(l float64) float64 { return 4e-14 * math.Max(1, l) }

// quadratic Bezier as a cubic: the handles at two thirds of the way.
func quadBezier(a, c, b Point) Segment {
	return Cubic(a, a.Lerp(c, 2.0/3), b.Lerp(c, 2.0/3), b)
}

// parabola is y = x^2/240 for x from 0 to 300.
func parabola() Segment { return quadBezier(Pt(0, 0), Pt(150, 0), Pt(300, 375)) }

var (
	neile = Cubic(Pt(0, 0), Pt(0, 0), Pt(1.0/3, 0), Pt(1, 1)) // x = t^2, y = t^3
	phCub = Cubic(Pt(0, 0), Pt(0, 1), Pt(1, 1), Pt(1, 0))     // speed a polynomial
	cusp  = Cubic(Pt(0, 0), Pt(300, 300), Pt(0, 300), Pt(300, 0))
)

const kappa = 4 * (math.Sqrt2 - 1) / 3

func TestLengthOfPublishedCurves(t *testing.T) {
	cases := []struct {
		name string
		s    Segment
		want float64
	}{
		// PlanetMath, arc length of the parabola: sqrt5/2 + ln(2+sqrt5)/4.
		{"y = x^2 on 0..1", quadBezier(Pt(0, 0), Pt(.5, 0), Pt(1, 1)), math.Sqrt(5)/2 + math.Log(2+math.Sqrt(5))/4},
		// The same figure; bezier.js (MIT) tests 1.4789428575453212.
		{"parabola as an arch", quadBezier(Pt(0, 0), Pt(.5, 1), Pt(1, 0)), 1.4789428575445974},
		// Closed form of the parabola, s = 120 (u sqrt(1+u^2) + arsinh u) / 2 with u = x/120, at 30 digits.
		{"y = x^2/240 on 0..300", parabola(), 502.721229317353545},
		// Neile's semicubical parabola, the first algebraic curve rectified: ((4+9t^2)^1.5 - 8)/27.
		{"Neile, no first handle", neile, 1.4397098733715504},
		// OEIS A333203.
		{"y = x^3", Cubic(Pt(0, 0), Pt(1.0/3, 0), Pt(2.0/3, 0), Pt(1, 1)), 1.54786565468361014477533},
		// Exactly 2: bezier.js (MIT) cubic test; Pythagorean hodographs, Farouki and Sakkalis 1990 (from memory).
		{"Pythagorean hodograph", phCub, 2},
		// fontTools (MIT) calcQuadraticArcLength doctests.
		{"quadratic 1", quadBezier(Pt(0, 0), Pt(0, 100), Pt(100, 0)), 154.02976155645263},
		{"quadratic 2", quadBezier(Pt(0, 0), Pt(0, 50), Pt(100, 0)), 120.21581243984076},
		{"quadratic 3", quadBezier(Pt(0, 0), Pt(50, -10), Pt(80, 50)), 102.53273816445826},
		{"quadratic on a line", quadBezier(Pt(0, 0), Pt(50, 20), Pt(100, 40)), 107.70329614269008},
		{"quadratic past its end", quadBezier(Pt(0, 0), Pt(40, 0), Pt(-40, 0)), 66.66666666666667},
		{"quadratic there and back", quadBezier(Pt(0, 0), Pt(40, 0), Pt(0, 0)), 40},
		// fontTools (MIT) comment "exact 150".
		{"cubic on a line with a turn", Cubic(Pt(0, 0), Pt(50, 0), Pt(100, 0), Pt(-50, 0)), 150},
		// svg.path (MIT) tests.
		{"quadratic 4", quadBezier(Pt(200, 300), Pt(400, 50), Pt(600, 300)), 487.7710938955},
		{"quadratic 5", quadBezier(Pt(200, 300), Pt(400, 50), Pt(500, 200)), 379.9045819351},
		{"quadratic folded on a line", quadBezier(Pt(1, 3), Pt(2, 5), Pt(-9, -17)), 610 / (12 * math.Sqrt(5))},
		// SVG-Estimate, t/Path/05_cubic.t publishes 272.870; digits computed at 25 places.
		{"cubic 1", Cubic(Pt(120, 160), Pt(35, 200), Pt(220, 260), Pt(220, 40)), 272.8700297821},
		// beziers.py tests; digits of the cubic computed at 25 places.
		{"cubic 2", Cubic(Pt(100, 25), Pt(10, 90), Pt(110, 100), Pt(132, 192)), 202.20118971984},
		{"quadratic 6", quadBezier(Pt(150, 40), Pt(80, 30), Pt(105, 150)), 144.79561403359532},
		{"quadratic 7", quadBezier(Pt(707, 596), Pt(645, 596), Pt(592, 623)), 119.25113694489233},
		// Quarter of a circle as one cubic, its own length computed at 30 digits
		// (svg.path tests 157.1016698); the true quarter has 157.0796.
		{"quarter circle by kappa", quarter(100, 100), 157.101669807385},
		// 600 sqrt2 - 300: closed form of the exact cusp.
		{"exact cusp", cusp, 600*math.Sqrt2 - 300},
		// The true value of a fontTools doctest, whose printed 190.0433 is an approximation; 25 places.
		{"symmetric arch", Cubic(Pt(0, 0), Pt(25, 100), Pt(75, 100), Pt(100, 0)), 190.8333},
		// The true value of a fontTools doctest's cusp, whose printed 154.808 is an approximation; 25 places.
		{"near cusp", Cubic(Pt(0, 0), Pt(50, 0), Pt(100, -50), Pt(-50, 0)), 159.8747},
	}
	digits := map[string]float64{"near cusp": 6e-5, "symmetric arch": 6e-5, "parabola as an arch": 1e-11}
	for _, c := range cases {
		for _, tol := range tolerances {
			printed := math.Max(digits[c.name], 6e-11) // the last printed digit
			delta := tol + printed + rounding(c.want)
			assert.InDelta(t, c.want, c.s.Length(tol), delta, "%s at %g", c.name, tol)
			assert.InDelta(t, c.want, Path{c.s}.Length(tol), delta, "%s at %g", c.name, tol)
		}
	}
}

// quarter is the quarter of an ellipse from (a,0) to (0,b) as one cubic.
func quarter(a, b float64) Segment {
	return Cubic(Pt(a, 0), Pt(a, kappa*b), Pt(kappa*a, b), Pt(0, b))
}

// ellipse is an ellipse as n cubics, each through its true points and tangents.
func ellipse(a, b float64, n int) Path {
	p := make(Path, n)
	step := 2 * math.Pi / float64(n)
	k := 4.0 / 3 * math.Tan(step/4)
	at := func(i int) (Point, Point) {
		sin, cos := math.Sincos(step * float64(i%n))
		return Pt(a*cos, b*sin), Pt(-a*sin*k, b*cos*k)
	}
	for i := range p {
		p0, d0 := at(i)
		p3, d3 := at(i + 1)
		p[i] = Cubic(p0, p0.Add(d0), p3.Sub(d3), p3)
	}
	return p
}

// The excess of the cubics over the ellipse shrinks with the sixth order; the
// perimeter 4 a E(m) of 300 x 120 and the excesses were computed at 30 digits.
func TestLengthOfEllipseAsCubics(t *testing.T) {
	const exact = 1380.78675573989057
	for _, c := range []struct {
		n            int
		excess, last float64
	}{{4, 0.1937, 6e-5}, {8, 3.061e-3, 6e-7}, {16, 4.714e-5, 6e-9}, {32, 7.36e-7, 6e-10}, {64, 1.15e-8, 6e-11}} {
		for _, tol := range tolerances {
			got := ellipse(300, 120, c.n).Length(tol) - exact
			assert.InDelta(t, c.excess, got, tol+c.last+rounding(exact), "%d cubics at %g", c.n, tol)
		}
	}
}

// Perimeters of true ellipses, met by 4096 cubics to 1e-9 of their size.
func TestLengthOfPublishedEllipses(t *testing.T) {
	for _, c := range []struct{ a, b, want, last float64 }{
		{3.5, 2.1, 17.868899204378693, 1e-10}, // SciPy 1.7.1, example of scipy.special.ellipe
		// "Circumference of an Ellipse", published table of ten figures.
		{1.2, 1, 6.925791195, 6e-10}, {1.5, 1, 7.932719795, 6e-10}, {2, 1, 9.688448220, 6e-10},
		{3, 1, 13.36489322, 6e-9}, {5, 1, 21.01004454, 6e-9}, {20, 10, 96.88448220, 6e-9}, {123, 45, 556.6359936, 6e-8},
		// 4 a E(k) at 25 digits.
		{50, 30, 255.2699886339813, 1e-9},
		{100, 60, 4 * 127.63499431699, 2e-9},
	} {
		got := ellipse(c.a, c.b, 256).Length(1e-10)
		assert.InDelta(t, c.want, got, c.last+1e-10*c.want, "%g x %g", c.a, c.b)
	}
}

// spencermortensen.com, bezier-circle: the largest radial error of kappa is
// +0.027253 %; the length error +0.014029 % was computed at 25 digits.
func TestQuarterCircleByKappa(t *testing.T) {
	s := quarter(100, 100)
	worst := 0.0
	for i := range 10001 {
		r := s.At(float64(i) / 10000).Len()
		assert.GreaterOrEqual(t, r, 100-1e-12)
		worst = math.Max(worst, r)
	}
	assert.InDelta(t, 100.027253, worst, 1e-6)
	assert.InDelta(t, 1.00014029, s.Length(1e-9)/(50*math.Pi), 1e-8)
}

func TestLengthOfRandomCubicsKeepsItsBound(t *testing.T) {
	// Reference: gonum's quad.Fixed, 32 nodes on many panels.
	kinds := []struct {
		name   string
		make   func(*rand.Rand) Segment
		count  int
		panels int
	}{{"gentle", gentleCubic, 300, 8}, {"wild", wildCubic, 200, 60}, {"cusp", cuspCubic, 100, 200}}
	for _, k := range kinds {
		r := rand.New(rand.NewPCG(11, 12))
		for i := range k.count {
			s := k.make(r)
			want := panelLength(s, k.panels)
			for _, tol := range tolerances {
				require.InDelta(t, want, s.Length(tol), tol+1e-11*math.Max(1, want/100), "%s %d at %g: %v", k.name, i, tol, s)
			}
		}
	}
}

func TestLengthOfLinesIsExact(t *testing.T) {
	assert.Equal(t, 5.0, Line(Pt(1, 1), Pt(4, 5)).Length(1))
	assert.Equal(t, 0.0, Line(Pt(1, 1), Pt(1, 1)).Length(0))
	// A cubic whose handles stand at the thirds is a line too.
	s := Line(Pt(0, 0), Pt(300, 400))
	s.Straight = false
	assert.InDelta(t, 500, s.Length(1e-12), 1e-12)
	assert.InDelta(t, 500, s.Length(10), 1e-9)
}

func TestLengthOfDegenerateSegments(t *testing.T) {
	p := Pt(-77.7, 1e5)
	assert.Zero(t, Cubic(p, p, p, p).Length(1e-6))
	assert.Zero(t, Cubic(p, p, p, p).ParamAt(1, 1e-6))
	// Both handles without length: still the straight way.
	assert.InDelta(t, 50, Cubic(Pt(0, 0), Pt(0, 0), Pt(30, 40), Pt(30, 40)).Length(1e-9), 1e-9)
	// Out and back: closed on a line, twice the farthest place, 3/4 of the handle.
	assert.InDelta(t, 150, Cubic(Pt(0, 0), Pt(100, 0), Pt(100, 0), Pt(0, 0)).Length(1e-9), 1e-9)
	// The smallest tolerances are taken as what doubles hold.
	for _, tol := range []float64{0, -1, 1e-300, math.NaN()} {
		assert.InDelta(t, 600*math.Sqrt2-300, cusp.Length(tol), 1e-11, "%g", tol)
		assert.InDelta(t, 502.721229317353545, parabola().Length(tol), 1e-11, "%g", tol)
	}
	assert.InDelta(t, 0, Cubic(Pt(0, 0), Pt(0, 1e-309), Pt(0, 0), Pt(0, 1e-308)).Length(1e-9), 1e-300)
	big := parabola().Transform(Scale(1e200, 1e200))
	assert.InEpsilon(t, 502.721229317353545e200, big.Length(0), 1e-12)
	small := parabola().Transform(Scale(1e-150, 1e-150))
	assert.InEpsilon(t, 502.721229317353545e-150, small.Length(0), 1e-12)
}

func TestParamAtClosedForms(t *testing.T) {
	for _, tol := range tolerances {
		// Neile's parabola: s(1/2) = 61/216 at (1/4, 1/8).
		at := neile.At(neile.ParamAt(61.0/216, tol))
		assert.LessOrEqual(t, at.Dist(Pt(0.25, 0.125)), tol+1e-14, "Neile at %g", tol)
		// The cubic with a Pythagorean hodograph has s = 3t - 3t^2 + 2t^3 (Farouki
		// and Sakkalis 1990, from memory): s(1/4) = 19/32, s(1/2) = 1.
		at = phCub.At(phCub.ParamAt(19.0/32, tol))
		assert.LessOrEqual(t, at.Dist(Pt(0.15625, 0.5625)), tol+1e-14, "quarter at %g", tol)
		at = phCub.At(phCub.ParamAt(1, tol))
		assert.LessOrEqual(t, at.Dist(Pt(0.5, 0.75)), tol+1e-14, "half at %g", tol)
		for i := range 101 {
			u := float64(i) / 100
			s := 3*u - 3*u*u + 2*u*u*u
			assert.LessOrEqual(t, phCub.At(phCub.ParamAt(s, tol)).Dist(phCub.At(u)), tol+1e-14)
			// Neile: s(t) = ((4+9t^2)^1.5 - 8)/27.
			s = (math.Pow(4+9*u*u, 1.5) - 8) / 27
			assert.LessOrEqual(t, neile.At(neile.ParamAt(s, tol)).Dist(neile.At(u)), tol+1e-14)
		}
	}
}

func TestLengthBetweenClosedForm(t *testing.T) {
	s := func(u float64) float64 { return 3*u - 3*u*u + 2*u*u*u } // as above
	for _, c := range [][2]float64{{0, 0.25}, {0.25, 0.5}, {0.1, 0.9}, {0.3, 0.3}, {-4, 0.5}, {0.5, 9}} {
		want := s(clamp01(c[1])) - s(clamp01(c[0]))
		assert.InDelta(t, want, phCub.LengthBetween(c[0], c[1], 1e-9), 1e-9)
		assert.InDelta(t, -want, phCub.LengthBetween(c[1], c[0], 1e-9), 1e-9)
	}
}

func TestParamAtOfRandomCubics(t *testing.T) {
	// Reference: gonum's quad.Fixed over the part before the place found.
	for name, kind := range map[string]func(*rand.Rand) Segment{"gentle": gentleCubic, "wild": wildCubic, "cusp": cuspCubic} {
		r := rand.New(rand.NewPCG(21, 22))
		for i := range 60 {
			s := kind(r)
			total := panelLength(s, 60)
			for _, tol := range []float64{1e-3, 1e-6} {
				dist := total * r.Float64()
				before, _ := s.Split(s.ParamAt(dist, tol))
				require.InDelta(t, dist, panelLength(before, 60), tol+1e-9, "%s %d", name, i)
			}
		}
	}
}

func TestPathLengthSharesItsTolerance(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	for range 50 {
		ring, want := randomOutline(r, 0.4), 0.0
		for _, s := range ring {
			want += panelLength(s, 30)
		}
		for _, tol := range tolerances {
			assert.InDelta(t, want, ring.Length(tol), tol+1e-10)
		}
	}
	assert.Zero(t, Path(nil).Length(1e-6))
}

func TestLocateOnPath(t *testing.T) {
	// Lengths by hand: 3-4-5 triangle.
	p := Path{Line(Pt(0, 0), Pt(3, 0)), Line(Pt(3, 0), Pt(3, 0)), Line(Pt(3, 0), Pt(3, 4)), Line(Pt(3, 4), Pt(0, 0))}
	for _, c := range []struct {
		dist float64
		seg  int
		t    float64
		at   Point
	}{
		{-1, 0, 0, Pt(0, 0)}, {0, 0, 0, Pt(0, 0)}, {1.5, 0, 0.5, Pt(1.5, 0)}, {3, 2, 0, Pt(3, 0)},
		{5, 2, 0.5, Pt(3, 2)}, {9.5, 3, 0.5, Pt(1.5, 2)}, {12, 3, 1, Pt(0, 0)}, {1e9, 3, 1, Pt(0, 0)}, {math.NaN(), 0, 0, Pt(0, 0)},
	} {
		i, u := p.Locate(c.dist, 1e-9)
		assert.Equal(t, c.seg, i, "%g", c.dist)
		assert.InDelta(t, c.t, u, 1e-12, "%g", c.dist)
		assert.InDelta(t, 0, p.PointAt(c.dist, 1e-9).Dist(c.at), 1e-9, "%g", c.dist)
	}
	assert.InDelta(t, 5, p.LengthTo(2, 0.5, 1e-9), 1e-12)
	assert.InDelta(t, 12, p.LengthTo(99, 0.5, 1e-9), 1e-12)
	u, ok := p.TangentAt(3, 1e-9)
	assert.True(t, ok)
	assert.Equal(t, Pt(0, 1), u)
	// Where a segment has no length the walk's next direction counts, at last the one before.
	o := Pt(3, 0)
	u, ok = Path{Line(o, o), Line(o, Pt(3, 4))}.TangentAt(0, 1e-9)
	assert.True(t, ok)
	assert.Equal(t, Pt(0, 1), u)
	u, ok = Path{Line(Pt(0, 0), o), Line(o, o)}.TangentAt(9, 1e-9)
	assert.True(t, ok)
	assert.Equal(t, Pt(1, 0), u)
	_, ok = Path(nil).TangentAt(0, 1e-9)
	assert.False(t, ok)
	assert.Zero(t, p.LengthTo(-1, 0.5, 1e-9))
	i, v := Path(nil).Locate(5, 1e-9)
	assert.Equal(t, "0 0", fmt.Sprint(i, v))
	assert.Equal(t, Point{}, Path(nil).PointAt(5, 1e-9))
}
