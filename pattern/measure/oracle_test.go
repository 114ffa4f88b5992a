package measure_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// star is a random ring round a centre with 4 to 9 edges, a third of them
// curves.
func star(r *rand.Rand) curve.Path {
	n := 4 + r.IntN(6)
	pts := make([]curve.Point, n)
	for i := range pts {
		a := 2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n)
		d := 150 + 150*r.Float64()
		pts[i] = curve.Pt(d*math.Cos(a), d*math.Sin(a))
	}
	path := make(curve.Path, n)
	for i, a := range pts {
		b := pts[(i+1)%n]
		if r.IntN(3) > 0 {
			path[i] = curve.Line(a, b)
			continue
		}
		out := b.Sub(a).Left().Mul(-0.2 * r.Float64())
		path[i] = curve.Cubic(a, a.Lerp(b, 0.3).Add(out), a.Lerp(b, 0.7).Add(out), b)
	}
	return path
}

// polygon is the flattened ring as the geometry library has it.
func polygon(t *testing.T, path curve.Path, fineness float64) geom.Polygon {
	t.Helper()
	var coords []float64
	for _, p := range path.Flatten(fineness) {
		coords = append(coords, p.X, p.Y)
	}
	end := len(coords) - 2
	coords[end], coords[end+1] = coords[0], coords[1]
	poly := geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(coords, geom.DimXY))})
	return poly
}

func level(t *testing.T, y float64) geom.Geometry {
	t.Helper()
	return geom.NewLineString(geom.NewSequence([]float64{-1000, y, 1000, y}, geom.DimXY)).AsGeometry()
}

// github.com/peterstace/simplefeatures cuts the outline, flattened to 1e-4 mm,
// with the level line and measures what is inside.
func TestGirthAgainstAGeometryLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 1))
	for range 40 {
		g := &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "l", Y: 200*r.Float64() - 100}}}
		want := 0.0
		for _, name := range []string{"a", "b", "c"} {
			path := star(r)
			g.Pieces = append(g.Pieces, ring(name, path))
			g.Around = append(g.Around, pattern.Mention{Name: name})
			cut, err := geom.Intersection(polygon(t, path, 1e-4).AsGeometry(), level(t, g.Levels[0].Y))
			require.NoError(t, err)
			want += 2 * cut.Length()
		}
		require.Greater(t, want, 600.0)
		assert.InDelta(t, want, measure.GirthAt(g, "l").Rest(), 0.05)
	}
}

// The area of the outline flattened to 1e-4 mm, of straight outlines exactly.
func TestAreaAgainstAGeometryLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 2))
	for range 40 {
		path := star(r)
		assert.InDelta(t, polygon(t, path, 1e-4).Area(), measure.Area(ring("a", path)), 0.2)
		for i := range path {
			path[i] = curve.Line(path[i].P0, path[i].P3)
		}
		assert.InDelta(t, polygon(t, path, 1).Area(), measure.Area(ring("a", path)), 1e-7)
	}
}

// cubic draws a quadratic curve, or a cubic one, times 100.
func cubic(p ...float64) curve.Segment {
	pt := func(i int) curve.Point { return curve.Pt(p[2*i]*100, p[2*i+1]*100) }
	if len(p) == 6 {
		a, q, b := pt(0), pt(1), pt(2)
		return curve.Cubic(a, a.Lerp(q, 2.0/3), b.Lerp(q, 2.0/3), b)
	}
	return curve.Cubic(pt(0), pt(1), pt(2), pt(3))
}

// Closed forms of curves that a Bezier curve can follow, as the edge of a piece.
func TestEdgeLengthsAgainstClosedForms(t *testing.T) {
	for _, c := range []struct {
		name string
		edge curve.Segment
		want float64 // of the curve times 100
		of   string
	}{
		{"parabola y = x^2", cubic(0, 0, 0.5, 0, 1, 1), 100 * (math.Sqrt(5)/2 + math.Log(2+math.Sqrt(5))/4), "PlanetMath, arc length of parabola"},
		{"the same parabola from its other side", cubic(0, 0, 0.5, 1, 1, 0), 147.89428575445974, "the same, turned"},
		{"Neile's parabola, a handle without length", cubic(0, 0, 0, 0, 1.0/3, 0, 1, 1), 100 * (math.Pow(13, 1.5) - 8) / 27, "the first algebraic curve whose length was found"},
		{"y = x^3", cubic(0, 0, 1.0/3, 0, 2.0/3, 0, 1, 1), 154.786565468361014477533, "OEIS A333203"},
		{"a hodograph of Pythagoras", cubic(0, 0, 0, 1, 1, 1, 1, 0), 200, "Farouki and Sakkalis 1990: s = 3t - 3t^2 + 2t^3"},
		{"handles on the chord, past its end", cubic(0, 0, 50, 0, 100, 0, -50, 0), 15000, "fontTools, exact 150"},
		{"quarter of a circle of 100 by one curve", cubic(1, 0, 1, 0.5522847498307934, 0.5522847498307934, 1, 0, 1), 157.101669807385, "mpmath, 30 digits"},
		{"a straight edge", curve.Line(curve.Pt(0, 0), curve.Pt(30, 40)), 50, "Pythagoras"},
	} {
		t.Run(c.name, func(t *testing.T) {
			back := curve.Line(c.edge.P3, c.edge.P0)
			g := &pattern.Garment{Half: pattern.Whole, Pieces: []*pattern.Piece{ring("p", curve.Path{c.edge, back})}}
			assert.InDelta(t, c.want, ask(t, g, nil, "length p.ea"), 2*measure.Accuracy, c.of)
		})
	}
}
