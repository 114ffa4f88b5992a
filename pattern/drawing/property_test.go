package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// outlines draws an anticlockwise star-shaped ring on the 0.001 grid, y up, with
// its box's lower left at 0 0, of lines and of curves.
func outlines(t *rapid.T) curve.Path {
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	ring := make([]curve.Point, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + rapid.Float64Range(-0.2, 0.2).Draw(t, "turn")) / float64(n))
		r := rapid.Float64Range(40, 300).Draw(t, "radius")
		ring[i] = pattern.Round(curve.Pt(r*cos, r*sin))
	}
	var path curve.Path
	for i, a := range ring {
		b := ring[(i+1)%n]
		if rapid.Bool().Draw(t, "curved") {
			bow := func(at float64) curve.Point {
				k := rapid.Float64Range(-0.1, 0.1).Draw(t, "bow")
				return pattern.Round(a.Lerp(b, at).Add(b.Sub(a).Left().Mul(k)))
			}
			path = append(path, curve.Cubic(a, bow(0.3), bow(0.7), b))
		} else {
			path = append(path, curve.Line(a, b))
		}
	}
	low := path.Bounds().Min
	return rounded(path.Transform(curve.Translate(-low.X, -low.Y)))
}

// written gives path data for a ring, y down, moved by dx and dy, absolute or
// relative.
func written(p curve.Path, dx, dy float64, relative bool) string {
	var b strings.Builder
	var cur curve.Point
	pt := func(q curve.Point) {
		q = curve.Pt(q.X+dx, dy-q.Y)
		if relative {
			q = q.Sub(cur)
		}
		fmt.Fprintf(&b, " %.6f,%.6f", q.X, q.Y)
	}
	put := func(cmd string, pts ...curve.Point) {
		if relative {
			cmd = strings.ToLower(cmd)
		}
		b.WriteString(cmd)
		for _, q := range pts {
			pt(q)
		}
		last := pts[len(pts)-1]
		cur = curve.Pt(last.X+dx, dy-last.Y)
	}
	put("M", p[0].P0)
	for _, s := range p {
		if s.Straight {
			put("L", s.P3)
		} else {
			put("C", s.P1, s.P2, s.P3)
		}
	}
	return b.String() + "z"
}

// turnedTo gives the ring from segment i on.
func turnedTo(p curve.Path, i int) curve.Path {
	return append(append(curve.Path(nil), p[i:]...), p[:i]...)
}

// An outline written as a drawing and read back is the same outline, whichever
// way it was written.
func TestWrittenAndReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := outlines(t)
		ring := turnedTo(want, rapid.IntRange(0, len(want)-1).Draw(t, "start"))
		if rapid.Bool().Draw(t, "backwards") {
			ring = ring.Reverse()
		}
		d := written(ring, rapid.Float64Range(-500, 500).Draw(t, "dx"), rapid.Float64Range(-500, 500).Draw(t, "dy"), rapid.Bool().Draw(t, "relative"))
		r, probs := Read("a.svg", page(`<g transform="scale(2)"><path id="a" transform="scale(.5)" d="`+d+`"/></g>`), Options{})
		require.Len(t, r.Pieces, 1, "%v", probs)
		got := r.Pieces[0].Outline()
		if len(probs) == 0 {
			require.Len(t, got, len(want))
			assert.LessOrEqual(t, apart(want, got), 0.0011)
		}
		assert.InDelta(t, want.Length(1e-6), got.Length(1e-6), 0.02)
		sum := 0.0
		for _, e := range r.Pieces[0].Edges {
			sum += e.Length.Value
		}
		assert.InDelta(t, got.Length(1e-6), sum, 0.001*float64(len(r.Pieces[0].Edges)))
	})
}

// apart is how far two rings of as many segments are from each other at most,
// with the best choice of where the second one begins.
func apart(a, b curve.Path) float64 {
	best := math.Inf(1)
	for i := range b {
		worst := 0.0
		for k, s := range turnedTo(b, i) {
			worst = max(worst, s.P0.Dist(a[k].P0))
			if s.Straight != a[k].Straight {
				worst = math.Inf(1)
			} else if !s.Straight {
				worst = max(worst, s.P1.Dist(a[k].P1), s.P2.Dist(a[k].P2))
			}
		}
		best = min(best, worst)
	}
	return best
}
