package vector

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern/curve"
)

func affine(x, y float64) curve.Affine { return curve.Scale(x, y) }

// point on a grid of 0.001 within 500 units.
func point(t *rapid.T, name string) curve.Point {
	v := rapid.IntRange(-500_000, 500_000)
	return curve.Pt(float64(v.Draw(t, name+" x"))/1000, float64(v.Draw(t, name+" y"))/1000)
}

func chain(t *rapid.T) curve.Path {
	at := point(t, "start")
	var p curve.Path
	for range rapid.IntRange(1, 8).Draw(t, "segments") {
		to := point(t, "to")
		switch {
		case to == at:
			continue
		case rapid.Bool().Draw(t, "straight"):
			p = append(p, curve.Line(at, to))
		default:
			p = append(p, curve.Cubic(at, point(t, "h"), point(t, "k"), to))
		}
		at = to
	}
	return p
}

// written gives path data for a chain, absolute or relative, with long or short
// commands.
func written(t *rapid.T, p curve.Path) string {
	var b strings.Builder
	fmt.Fprintf(&b, "M%.3f,%.3f", p[0].P0.X, p[0].P0.Y)
	for _, s := range p {
		from, cmd := curve.Point{}, "LC"
		if rapid.Bool().Draw(t, "relative") {
			from, cmd = s.P0, "lc"
		}
		pts := []curve.Point{s.P3}
		if !s.Straight {
			pts = []curve.Point{s.P1, s.P2, s.P3}
		}
		b.WriteByte(cmd[len(pts)/2])
		for _, q := range pts {
			fmt.Fprintf(&b, " %.3f%+.3f", q.X-from.X, q.Y-from.Y)
		}
	}
	return b.String()
}

// step is one transform function and what it does, worked out without matrices.
func step(t *rapid.T) (text string, does func(curve.Point) curve.Point) {
	n := func(name string) float64 { return float64(rapid.IntRange(-300, 300).Draw(t, name)) / 10 }
	switch rapid.IntRange(0, 5).Draw(t, "kind") {
	case 0:
		x, y := n("x"), n("y")
		return fmt.Sprintf("translate(%g %g)", x, y), func(p curve.Point) curve.Point { return curve.Pt(p.X+x, p.Y+y) }
	case 1:
		k := rapid.SampledFrom([]float64{-1, 0.5, 2, 1.25}).Draw(t, "k")
		return fmt.Sprintf("scale(%g,1)", k), func(p curve.Point) curve.Point { return curve.Pt(k*p.X, p.Y) }
	case 2:
		a, x, y := n("angle"), n("x"), n("y")
		return fmt.Sprintf("rotate(%g,%g %g)", a, x, y), func(p curve.Point) curve.Point {
			r, phi := math.Hypot(p.X-x, p.Y-y), math.Atan2(p.Y-y, p.X-x)+a*math.Pi/180
			return curve.Pt(x+r*math.Cos(phi), y+r*math.Sin(phi))
		}
	case 3:
		a := n("angle")
		return fmt.Sprintf("skewX(%g)", a), func(p curve.Point) curve.Point { return curve.Pt(p.X+p.Y*math.Tan(a*math.Pi/180), p.Y) }
	case 4:
		a := n("angle")
		return fmt.Sprintf("skewY(%g)", a), func(p curve.Point) curve.Point { return curve.Pt(p.X, p.Y+p.X*math.Tan(a*math.Pi/180)) }
	}
	return "matrix(0,1,-1,0,3,4)", func(p curve.Point) curve.Point { return curve.Pt(3-p.Y, 4+p.X) }
}

// A line lies where its transforms put each of its points, one after the other
// from the innermost, whether they stand in one list or in groups.
func TestChainsOfTransforms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := chain(t)
		if len(p) == 0 {
			return
		}
		want := append(curve.Path(nil), p...)
		body := `<path id="a" d="` + written(t, p) + `" transform="`
		open := true
		for range rapid.IntRange(0, 6).Draw(t, "transforms") {
			text, does := step(t)
			if !open {
				body = `<g transform="` + text + `">` + body + `</g>`
			} else if i := strings.LastIndex(body, `transform="`) + len(`transform="`); rapid.Bool().Draw(t, "same list") {
				body = body[:i] + text + " " + body[i:]
			} else {
				body, open = `<g transform="`+text+`">`+body+`"/></g>`, false
			}
			for i, s := range want {
				want[i] = curve.Segment{P0: does(s.P0), P1: does(s.P1), P2: does(s.P2), P3: does(s.P3), Straight: s.Straight}
			}
		}
		if open {
			body += `"/>`
		}
		d, probs := Read("a.svg", onPage(body), Options{})
		require.Empty(t, probs, body)
		require.Len(t, d.Items, 1, body)
		require.Len(t, d.Items[0].Path, len(want))
		for i, s := range d.Items[0].Path {
			w := want[i]
			assert.Equal(t, w.Straight, s.Straight)
			// 1e-8 of coordinates up to 1e6 is the noise of doubles
			assert.InDelta(t, 0, max(s.P0.Dist(w.P0), s.P1.Dist(w.P1), s.P2.Dist(w.P2), s.P3.Dist(w.P3)), 1e-8, body)
		}
	})
}

// The scale that a known length gives is the same for every drawing of the same
// size, and the same as --dpi gives for it.
func TestKnownLengthAndDPIAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := chain(t)
		if len(p) == 0 || p.Length(1e-6) < 1 {
			return
		}
		dpi := rapid.Float64Range(10, 1000).Draw(t, "dpi")
		src := []byte(`<svg viewBox="-3 4 100 100"><path id="a" d="` + written(t, p) + `"/></svg>`)
		byDPI, probs := Read("a.svg", src, Options{DPI: dpi})
		require.Empty(t, probs)
		length := extent(byDPI.Items)
		byLength, probs := Read("a.svg", src, Options{Known: []KnownLength{{"a", length}}})
		require.False(t, probs.HasErrors(), "%v", probs)
		assert.InEpsilon(t, 25.4/dpi, byLength.Scale.X, 1e-6)
		for i, s := range byLength.Items[0].Path {
			assert.InDelta(t, 0, s.P3.Dist(byDPI.Items[0].Path[i].P3), 0.002)
		}
	})
}

// A number is read as the library reads it, bit for bit.
func TestNumbersAreTheNearestDoubles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[-+]?([0-9]{1,6}(\.[0-9]{0,20})?|\.[0-9]{1,20})(e-[0-9]{1,2})?`).Draw(t, "number")
		var want float64
		_, err := fmt.Sscanf(text, "%g", &want)
		require.NoError(t, err)
		s := scanner{text: text}
		got, bad := s.number()
		require.Nil(t, bad)
		assert.Equal(t, math.Float64bits(want), math.Float64bits(got), text)
		assert.True(t, s.done())
	})
}
