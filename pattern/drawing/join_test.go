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
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

// The polygon of TestFigures, as separate lines drawn anyhow.
func TestJoinedLines(t *testing.T) {
	s, probs := recognised(t, `<g id="front"><path d="M120,80 L90,50"/><path d="M50,110 L30,40"/><path d="M50,60 L90,50"/><path d="M50,110 L120,80"/><path d="M50,60 L30,40"/></g>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	p := s.Pieces[0]
	assert.Equal(t, "front", p.Name)
	assert.Equal(t, 5, p.Joined)
	assert.Len(t, p.Lines, 5)
	assert.InDelta(t, 3000, p.Area, 1e-6)
	assert.InDelta(t, 260.901, p.Perimeter, 0.0005)
	assert.Len(t, p.Piece.Corners, 5)
}

// item is a line of a drawing made by hand.
func item(path curve.Path, n int) vector.Item {
	return vector.Item{Place: diag.Place{File: "a.svg", Line: n + 1, Column: 1}, Element: "path", Path: path}
}

// An outline that is cut into lines, drawn in any order and direction, gives the
// ring of the whole.
func TestAnOutlineInPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := outlines(t).Transform(curve.Affine{A: 1, D: -1, E: 700, F: 700})
		whole, _ := Recognise(&vector.Drawing{Items: []vector.Item{{Element: "path", Path: ring, Closed: true}}}, Options{})
		require.Len(t, whole.Pieces, 1)
		exact := rapid.Bool().Draw(t, "cut at joints")
		parts := cutUp(t, ring, exact)
		noise := rapid.SampledFrom([]float64{0, 1e-5, 0.01}).Draw(t, "noise")
		d := &vector.Drawing{}
		for i, k := range rapid.Permutation(parts).Draw(t, "order") {
			if rapid.Bool().Draw(t, "backwards") {
				k = k.Reverse()
			}
			k = append(curve.Path(nil), k...)
			if k[0].Straight && len(k) == 1 && noise > 0 {
				k[0] = curve.Line(k[0].P0.Add(curve.Pt(noise, 0)), k[0].P3.Sub(curve.Pt(0, noise)))
			}
			d.Items = append(d.Items, item(k, i))
		}
		got, probs := Recognise(d, Options{})
		checkSheet(t, d, got, probs)
		require.Empty(t, probs.Only(diag.Error))
		require.Len(t, got.Pieces, 1)
		assert.Equal(t, len(parts), got.Pieces[0].Joined)
		a, b := whole.Pieces[0], got.Pieces[0]
		if exact && noise == 0 {
			assert.True(t, pattern.EqualPieces(named(a.Piece), named(b.Piece)))
			return
		}
		// points on the page move to the grid of two frames that lie apart
		far := curve.Hausdorff(a.Ring.Transform(a.ToPage), b.Ring.Transform(b.ToPage), 1e-4)
		assert.LessOrEqual(t, far.Dist, 4*noise+0.003)
	})
}

// named gives a copy under a name that does not matter.
func named(p *pattern.Piece) *pattern.Piece {
	c := pattern.Clone(p)
	c.Name = "x"
	return c
}

// cutUp cuts a ring into 2 to 8 lines, at its joints or anywhere.
func cutUp(t *rapid.T, ring curve.Path, atJoints bool) []curve.Path {
	if !atJoints {
		var fine curve.Path
		for _, s := range ring {
			u := rapid.Float64Range(0.2, 0.8).Draw(t, "at")
			a, b := s.Split(u)
			fine = append(fine, a, b)
		}
		ring = fine
	}
	ring = turnedTo(ring, rapid.IntRange(0, len(ring)-1).Draw(t, "first"))
	n := rapid.IntRange(2, min(8, len(ring))).Draw(t, "lines")
	cuts := rapid.Permutation(numbers(len(ring)-1)).Draw(t, "cuts")[:n-1]
	is := map[int]bool{}
	for _, c := range cuts {
		is[c] = true
	}
	var out []curve.Path
	for i, s := range ring {
		if i == 0 || is[i] {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], s)
	}
	return out
}

func numbers(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i + 1
	}
	return out
}

// Sides of a rectangle of 100 x 200: the first is short or long by the gap.
func sides(gap float64) string {
	return fmt.Sprintf(`<g id="front"><path id="top" d="M%.4f,100 H200"/>
<path id="back" d="M200,100 V300"/>
<path id="hem" d="M200,300 H100"/>
<path id="side" d="M100,300 V100"/></g>`, 100+gap)
}

func TestGaps(t *testing.T) {
	for _, c := range []struct {
		gap, snap float64
		closed    bool
	}{
		{0.04, 0, true}, {0.06, 0, false}, {0.4, 0, false}, {0.4, 0.3, false}, {0.4, 0.4, true}, {0.9, 0, false}, {0.9, 2, true}, {4, 5, true},
		{-0.04, 0, true}, {-0.5, 0, true}, // too long: the lines cross
	} {
		s, probs := recognised(t, sides(c.gap), Options{Snap: c.snap})
		name := fmt.Sprintf("gap %g, snap %g", c.gap, c.snap)
		if !c.closed {
			errs := probs.Only(diag.Error)
			require.Len(t, errs, 1, name)
			assert.Equal(t, "drawing.gap", errs[0].ID)
			assert.Contains(t, errs[0].Found, fmt.Sprintf("miss each other by %.3f mm", c.gap))
			assert.Contains(t, errs[0].Hint, fmt.Sprintf("--snap %g;", math.Ceil(c.gap*10-1e-6)/10))
			text := errs[0].Found + errs[0].Related[0].Text
			assert.Contains(t, text, fmt.Sprintf("%.3f mm from the left and 100.000 from the top", 100+c.gap))
			assert.Contains(t, text, "100.000 mm from the left and 100.000 from the top")
			assert.ElementsMatch(t, []int{2, 5}, []int{errs[0].Place.Line, errs[0].Related[0].Place.Line})
			assert.Len(t, s.Left, 4)
			continue
		}
		require.Empty(t, probs, name)
		require.Len(t, s.Pieces, 1, name)
		// the sides keep their direction: the corner is where they would meet
		assert.Equal(t, []string{"corner c1 0 200", "corner c2 0 0", "corner c3 100 0", "corner c4 100 200"}, records(s.Pieces[0].Piece, "corner"), name)
	}
}

// One line whose ends do not quite meet, and two that miss each other at both
// ends by different gaps.
func TestGapsOfFewLines(t *testing.T) {
	_, probs := recognised(t, `<path id="front" d="M100,100 h50 v80 h-50 V100.4"/>`, Options{})
	require.Equal(t, []string{"drawing.gap"}, ids(probs))
	assert.Contains(t, probs[0].Found, `path "front" is open by 0.400 mm`)
	s, probs := recognised(t, `<path id="front" d="M100,100 h50 v80 h-50 V100.4"/>`, Options{Snap: 0.5})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	assert.Equal(t, 0, s.Pieces[0].Joined)
	assert.Equal(t, 4000.0, s.Pieces[0].Area)

	const two = `<path id="a" d="M100,100 H200 V300"/><path id="b" d="M199.4,300 H100 V105"/>`
	_, probs = recognised(t, two, Options{})
	require.Equal(t, []string{"drawing.gap", "drawing.gap"}, ids(probs), "0.6 and, of 600 mm, 5")
	s, probs = recognised(t, two, Options{Snap: 5})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	assert.InDelta(t, 20000, s.Pieces[0].Area, 1e-6)
}

// The hem in two lines that run 20 mm along each other.
func TestLinesThatOverlap(t *testing.T) {
	s, probs := recognised(t, `<path d="M100,300 V100 H200 V300"/><path d="M200,300 H140"/><path d="M100,300 H160"/>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	assert.InDelta(t, 20000, s.Pieces[0].Area, 1e-9)
	assert.InDelta(t, 600, s.Pieces[0].Perimeter, 1e-9)
	assert.Equal(t, 3, s.Pieces[0].Joined)
}

// Ticks, darts and bones that touch an outline of several lines stay what they
// are.
func TestLinesThatTouchAJoinedOutline(t *testing.T) {
	s, probs := recognised(t, sides(0)+`<path id="path1" d="M100,150 h6"/><path id="path2" d="M150,100 v6"/><path id="path3" d="M200,300 L150,250 L120,260"/><path id="bone1" d="M150,100 V300"/>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	assert.Equal(t, 4, s.Pieces[0].Joined)
	assert.Equal(t, []string{"notch n1 on e1 50 from c1", "notch n1 on e4 50 from c4", "bone b1 from 50 200 to 50 0"}, records(s.Pieces[0].Piece, "notch", "bone"))
	assert.Len(t, s.Left, 1)
	// and where a gap is closed
	s, probs = recognised(t, sides(0.4)+`<path id="path1" d="M100,102 h6"/>`, Options{Snap: 3})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	assert.Equal(t, []string{"notch n1 on e1 2 from c1"}, records(s.Pieces[0].Piece, "notch"))
}

// A line that could belong to two outlines is asked about.
func TestTwoWaysToJoin(t *testing.T) {
	// two panels that share the line between them
	const shared = `<path id="a" d="M200,100 H100 V300 H200"/><path id="b" d="M200,100 H300 V300 H200"/><path id="c" d="M200,100 V300"/>`
	s, probs := recognised(t, shared, Options{})
	errs := probs.Only(diag.Error)
	require.Len(t, errs, 1)
	assert.Equal(t, "drawing.join", errs[0].ID)
	assert.Contains(t, errs[0].Found, "3 ends of lines meet at 200.000 mm from the left and ")
	assert.Len(t, errs[0].Related, 3)
	assert.Len(t, s.Left, 3)
	// not so where each piece has its own group, and the line is drawn twice
	s, probs = recognised(t, `<g id="front"><path d="M200,100 H100 V300 H200"/><path d="M200,100 V300"/></g><g id="back"><path d="M200,100 H300 V300 H200"/><path d="M200,100 V300"/></g>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 2)
	assert.Equal(t, 20000.0, s.Pieces[0].Area)
	assert.Equal(t, 20000.0, s.Pieces[1].Area)

	// a gap that two ends could close
	_, probs = recognised(t, sides(0.8)+`<path id="other" d="M101,99.5 V20"/>`, Options{Snap: 2})
	require.NotEmpty(t, probs.Only(diag.Error))
	assert.Equal(t, "drawing.join", probs.Only(diag.Error)[0].ID)
}

// A title in open strokes is no outline with gaps.
func TestLettersOfStrokes(t *testing.T) {
	s, probs := recognised(t, panel+`<path d="M20,20 h7"/><path d="M20,20 v8"/><path d="M27.5,20 v8"/><path d="M20.3,28 h7"/><path d="M40,20 v30 M40.5,20 h12 M40.5,35 h9"/>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	assert.Len(t, s.Left, 7)
}

// Many lines cost little more each.
func TestManyLines(t *testing.T) {
	var b strings.Builder
	for i := range 20_000 {
		fmt.Fprintf(&b, `<path d="M%d,%d h.8"/>`, 10+i%370, 10+i/370)
	}
	s, _ := recognised(t, panel+b.String(), Options{})
	assert.Len(t, s.Pieces, 1)
}
