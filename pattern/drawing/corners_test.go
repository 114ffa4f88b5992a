package drawing

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

func corners(r *Result) []curve.Point {
	var out []curve.Point
	for _, c := range r.Pieces[0].Corners {
		out = append(out, c.At)
	}
	return out
}

// The joint at 50,0 of a hem turns by the angle whose tangent is rise/50.
func TestCornerWhereItTurnsByMoreThanTenDegrees(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		corners int
	}{{9.8, 4}, {10.2, 5}, {45, 5}} {
		rise := 50 * math.Tan(c.degrees*math.Pi/180)
		r, probs := Read("a.svg", page(fmt.Sprintf(`<path id="a" d="M100,200 H150 L200,%.4f V100 H100 z"/>`, 200-rise)), Options{})
		assert.Empty(t, probs)
		require.Len(t, r.Pieces, 1)
		assert.Len(t, r.Pieces[0].Corners, c.corners, "%g degrees", c.degrees)
	}
}

// Handles of no length, or of next to none, do not hide or make a corner.
func TestCornersWithNearlyNoHandles(t *testing.T) {
	// the top edge meets both sides square; the curve at 150,100 runs straight on
	for _, d := range []string{
		"M100,100 v80 h100 v-80 C200,100 160,100 150,100 C150,100 120,100 100,100 z",
		"M100,100 v80 h100 v-80 C200,100 160,100 150,100 C150.01,99.99 120,100 100,100 z",
		"M100,100 v80 h100 v-80 C200.01,100.01 160,100 149.99,100.01 C149.98,99.98 120,100 100,100 z",
		"M100,100 v80 h100 v-80 C200,100 160,100 150,100 l0.01,0.01 C140,100 120,100 100,100 z",
	} {
		r, probs := Read("a.svg", page(`<path id="a" d="`+d+`"/>`), Options{})
		assert.Empty(t, probs, d)
		require.Len(t, r.Pieces, 1)
		assert.Equal(t, []curve.Point{curve.Pt(0, 80), curve.Pt(0, 0), curve.Pt(100, 0), curve.Pt(100, 80)}, corners(r), d)
	}
}

// Wherever the path begins and whichever way it runs, the piece runs down the
// front, along the hem, up the back and along the top.
func TestStartsAtTheFrontTop(t *testing.T) {
	for _, d := range []string{
		"M100,100 V200 H160 V90 z", "M100,200 H160 V90 L100,100 z", "M160,200 V90 L100,100 V200 z", "M160,90 L100,100 V200 H160 z",
		"M100,100 L160,90 V200 H100 z", "M160,90 V200 H100 V100 z", "m160,90 v110 h-60 v-100 l60,-10",
	} {
		r, probs := Read("a.svg", page(`<path id="a" d="`+d+`"/>`), Options{})
		assert.Empty(t, probs, d)
		require.Len(t, r.Pieces, 1)
		assert.Equal(t, []curve.Point{curve.Pt(0, 100), curve.Pt(0, 0), curve.Pt(60, 0), curve.Pt(60, 110)}, corners(r), d)
	}
}

// A circle has no corner: its lowest and highest points are taken, each half
// pi r long.
func TestRoundPiece(t *testing.T) {
	for _, d := range []string{
		"M50,100 A50,50 0 0 1 150,100 A50,50 0 0 1 50,100 z",
		"M100,50 A50,50 0 0 0 100,150 A50,50 0 0 0 100,50 z",
		"M135.35534,135.35534 A50,50 0 1 0 64.64466,135.35534 A50,50 0 0 0 135.35534,135.35534 z",
	} {
		r, probs := Read("a.svg", page(`<path id="a" d="`+d+`"/>`), Options{})
		require.Equal(t, []string{"drawing.corner"}, ids(probs))
		assert.Equal(t, diag.Note, probs[0].Severity)
		require.Len(t, r.Pieces, 1)
		got := corners(r)
		require.Len(t, got, 2, d)
		for i, want := range []curve.Point{curve.Pt(50, 100), curve.Pt(50, 0)} {
			assert.InDelta(t, want.X, got[i].X, 0.05, d) // flat there: the height is what counts
			assert.InDelta(t, want.Y, got[i].Y, 0.001, d)
		}
		assert.InDelta(t, math.Pi*50, r.Pieces[0].Edges[0].Length.Value, 0.06, d)
		assert.InDelta(t, 100*math.Pi, r.Pieces[0].Edges[0].Length.Value+r.Pieces[0].Edges[1].Length.Value, 0.005, d)
	}
}

// A drop has one corner: the point farthest from it in height is the second.
func TestOneCorner(t *testing.T) {
	r, probs := Read("a.svg", page(`<path id="a" d="M100,100 C180,200 20,200 100,100 z"/>`), Options{})
	require.Equal(t, []string{"drawing.corner"}, ids(probs))
	assert.Contains(t, probs[0].Found, "one corner only")
	require.Len(t, r.Pieces, 1)
	got := corners(r)
	require.Len(t, got, 2)
	// y(t) = 100 + 300 t (1-t) in the drawing: 75 mm down at t = 1/2, by symmetry below the corner
	assert.InDelta(t, 75, got[0].Y-got[1].Y, 0.001)
	assert.InDelta(t, 0, got[0].X-got[1].X, 0.001)
}

// A gap left by a program's rounding makes no edge of its own.
func TestClosingGap(t *testing.T) {
	r, probs := Read("a.svg", page(`<path id="a" d="M100,100 V180 H150 V100 L100.0012,100.0004 z"/>`), Options{})
	assert.Empty(t, probs)
	require.Len(t, r.Pieces, 1)
	assert.Equal(t, []curve.Point{curve.Pt(0, 80), curve.Pt(0, 0), curve.Pt(50, 0), curve.Pt(50, 80)}, corners(r))
}

// Knots on a straight line stay, as the maker may have set them on purpose.
func TestStraightKnotsStay(t *testing.T) {
	r, _ := Read("a.svg", page(`<path id="a" d="M100,100 V140 V180 H150 V100 z"/>`), Options{})
	require.Len(t, r.Pieces, 1)
	require.Len(t, r.Pieces[0].Edges[0].Segs, 2)
	assert.Equal(t, curve.Pt(0, 40), r.Pieces[0].Edges[0].Segs[0].To)
	assert.True(t, r.Pieces[0].Edges[0].Segs[1].ToCorner)
	assert.Equal(t, 80.0, r.Pieces[0].Edges[0].Length.Value)
}
