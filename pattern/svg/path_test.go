package svg

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern/curve"
)

// readPath reads path data by the grammar of SVG 1.1 (second edition), 8.3: M
// begins a strand, L and C go on, Z draws the line home unless it is there. Each
// strand comes back as one path, and whether it was closed.
func readPath(t require.TestingT, d string) (paths []curve.Path, closed []bool) {
	var at, start curve.Point
	for d != "" {
		cmd := d[0]
		end := strings.IndexAny(d[1:], "MLCZ")
		args := d[1:]
		if end >= 0 {
			args = d[1 : end+1]
		}
		d = d[1+len(args):]
		var n []curve.Point
		f := strings.Fields(args)
		require.Zero(t, len(f)%2)
		for i := 0; i < len(f); i += 2 {
			x, err := strconv.ParseFloat(f[i], 64)
			require.NoError(t, err)
			y, err := strconv.ParseFloat(f[i+1], 64)
			require.NoError(t, err)
			n = append(n, curve.Pt(x, y))
		}
		last := len(paths) - 1
		switch cmd {
		case 'M':
			require.Len(t, n, 1)
			paths, closed = append(paths, nil), append(closed, false)
			start, at = n[0], n[0]
		case 'L':
			require.Len(t, n, 1)
			paths[last] = append(paths[last], curve.Line(at, n[0]))
			at = n[0]
		case 'C':
			require.Len(t, n, 3)
			paths[last] = append(paths[last], curve.Cubic(at, n[0], n[1], n[2]))
			at = n[2]
		case 'Z':
			require.Empty(t, n)
			if at != start {
				paths[last] = append(paths[last], curve.Line(at, start))
			}
			closed[last], at = true, start
		default:
			require.Fail(t, "unknown command", "%q", cmd)
		}
	}
	return paths, closed
}

// coordinates are places on a very large sheet.
func points() *rapid.Generator[curve.Point] {
	return rapid.Custom(func(t *rapid.T) curve.Point {
		n := rapid.OneOf(rapid.Float64Range(-1e5, 1e5), rapid.Float64Range(-0.002, 0.002))
		return curve.Pt(n.Draw(t, "x"), n.Draw(t, "y"))
	})
}

// chains are paths whose segments hang together and are at least 1 mm long.
func chains() *rapid.Generator[curve.Path] {
	return rapid.Custom(func(t *rapid.T) curve.Path {
		var path curve.Path
		at := points().Draw(t, "start")
		for range rapid.IntRange(1, 8).Draw(t, "segments") {
			to := points().Filter(func(q curve.Point) bool { return q.Dist(at) > 1 }).Draw(t, "to")
			if rapid.Bool().Draw(t, "straight") {
				path = append(path, curve.Line(at, to))
			} else {
				path = append(path, curve.Cubic(at, points().Draw(t, "h"), points().Draw(t, "k"), to))
			}
			at = to
		}
		if last := path[len(path)-1].P3; last.Dist(path[0].P0) > 1 && rapid.Bool().Draw(t, "ring") {
			path = append(path, curve.Line(last, path[0].P0))
		}
		return path
	})
}

func TestPathDataReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		path := chains().Draw(t, "path")
		v := View{Origin: points().Draw(t, "origin"), Scale: rapid.SampledFrom([]float64{0, 1, 5}).Draw(t, "scale")}
		k := max(v.Scale, 1)
		d := v.Data(path)
		require.NoError(t, d.err)
		back, _ := readPath(t, d.text)
		require.Len(t, back, 1)
		require.Len(t, back[0], len(path))
		for i, seg := range path {
			got := back[0][i]
			require.Equal(t, seg.Straight, got.Straight)
			for _, pair := range [][2]curve.Point{{seg.P0, got.P0}, {seg.P1, got.P1}, {seg.P2, got.P2}, {seg.P3, got.P3}} {
				// y up becomes y down, seen from the origin of the view
				require.InDelta(t, v.Origin.X+k*pair[0].X, pair[1].X, 0.0005+1e-8)
				require.InDelta(t, v.Origin.Y-k*pair[0].Y, pair[1].Y, 0.0005+1e-8)
			}
		}
	})
}

func TestPathDataIsClosedWhereItEndsAtItsStart(t *testing.T) {
	pt := curve.Pt
	a, b, c := pt(0, 0), pt(10, 0), pt(0, 10)
	tests := map[string]struct {
		data PathData
		want string
	}{
		"open":               {Data(curve.Path{curve.Line(a, b), curve.Line(b, c)}), "M0 0L10 0L0 10"},
		"straight last":      {Data(curve.Path{curve.Line(a, b), curve.Line(b, c), curve.Line(c, a)}), "M0 0L10 0L0 10Z"},
		"curve last":         {Data(curve.Path{curve.Line(a, b), curve.Cubic(b, c, c, a)}), "M0 0L10 0C0 10 0 10 0 0Z"},
		"loop of one":        {Data(curve.Path{curve.Cubic(a, b, c, a)}), "M0 0C10 0 0 10 0 0Z"},
		"a point":            {Data(curve.Path{curve.Line(a, a)}), "M0 0L0 0"},
		"ends within 0.0005": {Data(curve.Path{curve.Line(a, b), curve.Line(b, pt(-0.0004, 0))}), "M0 0L10 0Z"},
		"ends at 0.001":      {Data(curve.Path{curve.Line(a, b), curve.Line(b, pt(0.001, 0))}), "M0 0L10 0L0.001 0"},
		"two paths":          {Data(curve.Path{curve.Line(a, b)}, curve.Path{curve.Line(a, c)}), "M0 0L10 0M0 0L0 10"},
		"a gap":              {Data(curve.Path{curve.Line(a, b), curve.Line(c, a)}), "M0 0L10 0M0 10L0 0"},
		"nothing":            {Data(nil, curve.Path{}), ""},
		"y up":               {View{Origin: pt(5, 20)}.Data(curve.Path{curve.Line(a, c)}), "M5 20L5 10"},
		"five times":         {View{Origin: pt(5, 60), Scale: 5}.Data(curve.Path{curve.Line(b, c)}), "M55 60L5 10"},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			require.NoError(t, tt.data.err)
			assert.Equal(t, tt.want, tt.data.text)
		})
	}
}

func TestNumber(t *testing.T) {
	tests := []struct {
		v    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {-0.0001, "0"}, {-0.0006, "-0.001"}, {10, "10"}, {100, "100"},
		{0.5, "0.5"}, {-1.25, "-1.25"}, {1.0004, "1"}, {1.23456, "1.235"}, {1e6, "1000000"}, {1e-300, "0"},
	}
	for _, tt := range tests {
		got, err := Number(tt.v)
		require.NoError(t, err)
		assert.Equal(t, tt.want, got)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1000001, -1e300} {
		_, err := Number(v)
		assert.Error(t, err, "%v", v)
	}
}

func TestNumberReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "v")
		s, err := Number(v)
		require.NoError(t, err)
		require.Regexp(t, `^-?(0|[1-9][0-9]*)(\.[0-9]{0,2}[1-9])?$`, s)
		require.NotEqual(t, "-0", s)
		back, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		require.InDelta(t, v, back, 0.0005+1e-9)
		again, err := Number(back)
		require.NoError(t, err)
		require.Equal(t, s, again)
	})
}
