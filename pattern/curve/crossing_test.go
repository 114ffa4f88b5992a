package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// polygon is a ring of lines.
func polygon(pts ...Point) Path {
	ring := make(Path, len(pts))
	for i, p := range pts {
		ring[i] = Line(p, pts[(i+1)%len(pts)])
	}
	return ring
}

// chain is an open path of lines.
func chain(pts ...Point) Path { return polygon(pts...)[:len(pts)-1] }

func points(list []Crossing) []Point {
	out := []Point{}
	for _, c := range list {
		out = append(out, c.Point)
	}
	return out
}

func assertPoints(t *testing.T, want, got []Point, within float64) {
	t.Helper()
	require.Len(t, got, len(want), "got %v", got)
	for i := range want {
		assert.InDelta(t, 0, want[i].Dist(got[i]), within, "want %v, got %v", want[i], got[i])
	}
}

// Figures by hand.
func TestCrossingsOfLines(t *testing.T) {
	square := polygon(Pt(0, 0), Pt(100, 0), Pt(100, 50), Pt(0, 50))
	for _, c := range []struct {
		name string
		p    Path
		y    float64
		want []Point
	}{
		{"through the sides", square, 20, []Point{{100, 20}, {0, 20}}},
		{"along the bottom, with the ring's joint", square, 0, []Point{{50, 0}}},
		{"along the top", square, 50, []Point{{50, 50}}},
		{"above", square, 51, []Point{}},
		{"through a joint", chain(Pt(0, -10), Pt(5, 0), Pt(0, 10)), 0, []Point{{5, 0}}},
		{"touch by a corner", chain(Pt(0, 10), Pt(5, 0), Pt(10, 10)), 0, []Point{{5, 0}}},
		{"begins and ends on the line", chain(Pt(0, 0), Pt(5, 10), Pt(9, 0)), 0, []Point{{0, 0}, {9, 0}}},
		{"within the tolerance of the line", chain(Pt(0, 5e-7), Pt(5, 10), Pt(9, 2e-6)), 0, []Point{{0, 5e-7}}},
		{"two segments along the line", chain(Pt(0, 10), Pt(10, 0), Pt(20, 0), Pt(50, 0), Pt(50, 10)), 0, []Point{{30, 0}}},
		{"a ring that starts on the line", polygon(Pt(10, 0), Pt(20, 10), Pt(10, 20), Pt(0, 10)), 0, []Point{{10, 0}}},
		{"a ring that starts where it crosses the line", polygon(Pt(20, 10), Pt(10, 20), Pt(0, 10), Pt(10, 0)), 10, []Point{{20, 10}, {0, 10}}},
		{"a ring that starts amid a stretch", polygon(Pt(40, 0), Pt(100, 0), Pt(100, 50), Pt(0, 50), Pt(0, 0)), 0, []Point{{50, 0}}},
		{"a segment without length at the crossing", chain(Pt(0, -10), Pt(5, 0), Pt(5, 0), Pt(0, 10)), 0, []Point{{5, 0}}},
		{"the same place passed twice", chain(Pt(-10, -10), Pt(10, 10), Pt(-10, 10), Pt(10, -10)), 0, []Point{{0, 0}, {0, 0}}},
		{"all of it on the line", chain(Pt(0, 0), Pt(10, 0)), 0, []Point{{5, 0}}},
		{"empty", nil, 0, []Point{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			assertPoints(t, c.want, points(c.p.CrossingsY(c.y)), 1e-6)
			// The same turned and moved, by the line through two points.
			m := Rotate(0.7).Then(Translate(300, -200))
			turned := []Point{}
			for _, q := range c.want {
				turned = append(turned, m.Apply(q))
			}
			got := c.p.Transform(m).CrossLine(m.Apply(Pt(-7, c.y)), m.Apply(Pt(11, c.y)))
			assertPoints(t, turned, points(got), 2e-6)
		})
	}
	assert.Nil(t, square.CrossLine(Pt(1, 1), Pt(1, 1)))
}

func TestCrossingsOfCurves(t *testing.T) {
	arch := quadBezier(Pt(0, 0), Pt(50, 100), Pt(100, 0)) // y = x (100-x) / 50, top 50 at x = 50
	at := func(y float64) float64 { return 50 - math.Sqrt(2500-50*y) }
	assertPoints(t, []Point{{at(30), 30}, {100 - at(30), 30}}, points(Path{arch}.CrossingsY(30)), 1e-9)
	assertPoints(t, []Point{{50, 50}}, points(Path{arch}.CrossingsY(50)), 1e-6)
	assertPoints(t, []Point{{50, 50}}, points(Path{arch}.CrossingsY(50-5e-7)), 1e-6)
	assertPoints(t, []Point{}, points(Path{arch}.CrossingsY(50.1)), 1e-6)
	assertPoints(t, []Point{{0, 0}, {100, 0}}, points(Path{arch}.CrossingsY(0)), 1e-9)
	// y = x^3 crosses flat at the origin.
	cube := Cubic(Pt(-1, -1), Pt(-1.0/3, 1), Pt(1.0/3, -1), Pt(1, 1))
	assertPoints(t, []Point{{0, 0}}, points(Path{cube}.CrossingsY(0)), 2e-2)
	// A wave with three crossings, y = (2x+1)(x)(2x-1) at -1/2, 0, 1/2.
	wave := Cubic(Pt(-1, -3), Pt(-1.0/3, 16.0/3-0.0), Pt(1.0/3, -16.0/3), Pt(1, 3))
	assert.Len(t, Path{wave}.CrossingsY(0), 3)
	// The crossing tells its segment and parameter.
	c := Path{Line(Pt(-5, 1), Pt(0, 0)), arch}.CrossingsY(50)[0]
	assert.Equal(t, 1, c.Seg)
	assert.InDelta(t, 0.5, c.T, 1e-3)
}

// Reference: changes of sign along 40 000 points of a fine polyline.
func TestCrossingsOfRandomOutlines(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	for range 200 {
		ring, y := randomOutline(r, 0.6), 600*r.Float64()-300
		count := 0
		for _, s := range ring {
			before := s.P0.Y > y
			for i := 1; i <= 2000; i++ {
				if now := s.At(float64(i)/2000).Y > y; now != before {
					count, before = count+1, now
				}
			}
		}
		list := ring.CrossingsY(y)
		assert.Len(t, list, count)
		for _, c := range list {
			assert.InDelta(t, y, c.Point.Y, 1e-9)
			assert.InDelta(t, 0, ring[c.Seg].At(c.T).Dist(c.Point), 1e-12)
		}
	}
}

func TestWidthAtLevels(t *testing.T) {
	// A step: 100 wide below y = 20, 40 wide above; figures by hand.
	step := polygon(Pt(0, 0), Pt(100, 0), Pt(100, 20), Pt(40, 20), Pt(40, 60), Pt(0, 60))
	for _, c := range []struct{ y, want float64 }{
		{-1, 0}, {0, 100}, {10, 100}, {20, 40}, {59.999, 40}, {60, 0}, {70, 0}, {math.NaN(), 0},
	} {
		assert.InDelta(t, c.want, step.WidthAt(c.y), 1e-9, "at %g", c.y)
		assert.InDelta(t, c.want, step.Reverse().WidthAt(c.y), 1e-9, "reversed, at %g", c.y)
	}
	// Two legs: both count.
	legs := polygon(Pt(0, 0), Pt(10, 0), Pt(10, 50), Pt(30, 50), Pt(30, 0), Pt(45, 0), Pt(45, 90), Pt(0, 90))
	assert.InDelta(t, 25, legs.WidthAt(20), 1e-9)
	assert.InDelta(t, 45, legs.WidthAt(50), 1e-9)
	assert.Zero(t, Path(nil).WidthAt(0))
	// Through a corner at either side the pieces count once.
	diamond := polygon(Pt(10, 0), Pt(20, 10), Pt(10, 20), Pt(0, 10))
	assert.InDelta(t, 20, diamond.WidthAt(10), 1e-9)
	assert.InDelta(t, 0, diamond.WidthAt(0), 1e-9)
}

// Closed form of the ellipse: 2 a sqrt(1 - y^2/b^2).
func TestWidthOfEllipse(t *testing.T) {
	ring := ellipse(300, 120, 256)
	for y := -119.0; y < 119; y += 3.7 {
		assert.InDelta(t, 600*math.Sqrt(1-y*y/14400), ring.WidthAt(y), 1e-7)
	}
	// A parabola's chord, exactly: y = x^2/240 and its lid at 375.
	bowl := Path{parabola(), Line(Pt(300, 375), Pt(0, 375)), Line(Pt(0, 375), Pt(0, 0))}
	for _, y := range []float64{1e-6, 1, 60, 240, 374.9} {
		assert.InDelta(t, math.Sqrt(240*y), bowl.WidthAt(y), 1e-9)
	}
}

func TestContains(t *testing.T) {
	ring := ellipse(300, 120, 64)
	r := rand.New(rand.NewPCG(51, 52))
	for range 2000 {
		q := Pt(800*r.Float64()-400, 300*r.Float64()-150)
		f := q.X*q.X/90000 + q.Y*q.Y/14400
		if math.Abs(f-1) > 1e-6 {
			assert.Equal(t, f < 1, ring.Contains(q), "%v", q)
			assert.Equal(t, f < 1, ring.Reverse().Contains(q), "%v", q)
		}
	}
	assert.False(t, Path(nil).Contains(Pt(0, 0)))
}
