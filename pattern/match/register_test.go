package match_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
)

// strap is 300 long and tapers from 40 to 30.
func strap() *pattern.Piece { return polygon("strap", 0, 0, 40, 0, 35, 300, 5, 300) }

func TestAPieceThatStayedIsNotMoved(t *testing.T) {
	for name, b := range map[string]*pattern.Piece{
		"the same":             edited(t),
		"another start":        rotated(edited(t), 2),
		"one edge redrawn":     edited(t, "31.7 204 12 168", "31.7 209 12 172"),
		"let out at the back":  edited(t, "53.78", "67.78", "49 -80.7 40 -30.4 to 40 0", "63 -80.7 54 -30.4 to 54 0", "40 73.4 61.7 138", "54 73.4 75.7 138", "51.24", "65.24"),
		"only a split is left": cut(edited(t, "hem-back 53.78", "hem-back 60", "top-back 51.24", "top-back 60"), 0, 0.5, "m", "f1", "f2"),
	} {
		fit, ok := match.Register(edited(t), b, match.Options{})
		assert.True(t, ok, name)
		assert.Equal(t, curve.Rigid{}, fit, name)
	}
}

func TestAPieceMovedAsAWholeGivesThatMovement(t *testing.T) {
	a := edited(t)
	fit, ok := match.Register(a, mapped(a, curve.Translate(5, 0)), match.Options{})
	require.True(t, ok)
	assert.Equal(t, curve.Rigid{Shift: curve.Pt(5, 0)}, fit)

	// 3-4-5: the points of this triangle turned by atan(3/4) lie on the step of a
	// file exactly (Euclid, Elements I.47 and I.8).
	tri := polygon("gusset", 0, 0, 100, 0, 0, 50)
	fit, ok = match.Register(tri, polygon("gusset", 7, 3, 87, 63, -23, 43), match.Options{})
	require.True(t, ok)
	assert.InDelta(t, math.Atan2(3, 4), fit.Angle, 1e-9)
	assert.InDelta(t, 7, fit.Shift.X, 1e-9)
	assert.InDelta(t, 3, fit.Shift.Y, 1e-9)
}

// A strap turned 8 degrees, its end redrawn: the movement is that of the edges
// that kept their shape. A fit over all points would turn it by more than they
// turned.
func TestARedrawnEdgeDoesNotPullAtTheOthers(t *testing.T) {
	const turn = 8 * math.Pi / 180
	a := strap()
	b := mapped(a, curve.Rotate(turn).Then(curve.Translate(20, -10)))
	b.Edges[2].Segs = []pattern.Seg{{To: b.Corners[2].At.Add(curve.Pt(30, 80))}, {ToCorner: true}}
	fit, ok := match.Register(a, b, match.Options{})
	require.True(t, ok)
	assert.InDelta(t, turn, fit.Angle, 1e-5)
	assert.InDelta(t, 20, fit.Shift.X, 1e-3)
	assert.InDelta(t, -10, fit.Shift.Y, 1e-3)
	assert.Equal(t, []string{"same e1", "same e2", "changed e3", "same e4"}, tellEdges(a, b, match.Edges(a, b, match.Options{})))
}

// A rectangle laid on itself fits two ways; the names tell which.
func TestNamesTellAHalfTurnFromNone(t *testing.T) {
	a := polygon("p", 0, 0, 40, 0, 40, 300, 0, 300)
	b := mapped(a, curve.Rotate(3))
	fit, ok := match.Register(a, b, match.Options{})
	require.True(t, ok)
	assert.InDelta(t, 3, fit.Angle, 1e-4)
	for i := range b.Edges {
		b.Edges[i].Name = "x" + b.Edges[i].Name
	}
	fit, ok = match.Register(a, b, match.Options{})
	require.True(t, ok)
	assert.InDelta(t, 3-math.Pi, fit.Angle, 1e-4, "without names, the smaller turn")
}

// A loop whose ends lie close together: the ends are rounded by up to 0.0007 mm,
// which over 4 mm would be 0.08 mm at the far side; the curve tells the turn.
func TestAPieceWithCloseCornersIsLaidByItsCurves(t *testing.T) {
	a := &pattern.Piece{Name: "loop",
		Corners: []pattern.Corner{{Name: "c1", At: curve.Pt(0, 0)}, {Name: "c2", At: curve.Pt(4, 0)}},
		Edges:   []pattern.Edge{{Name: "cut"}, {Name: "round", Segs: pattern.SegsOf(curve.Path{curve.Cubic(curve.Pt(4, 0), curve.Pt(320, 410), curve.Pt(-270, 380), curve.Pt(0, 0))})}}}
	for turn := 0.1; turn < 3; turn += 0.1 {
		b := mapped(a, curve.Rotate(turn))
		fit, ok := match.Register(a, b, match.Options{})
		assert.True(t, ok)
		assert.InDelta(t, turn, fit.Angle, 1e-5)
		assert.Equal(t, []string{"same cut", "same round"}, tellEdges(a, b, match.Edges(a, b, match.Options{})))
	}
}

// What looks like a movement of one edge is none of the piece.
func TestEdgesLetOutParallelMoveNoPiece(t *testing.T) {
	plain := polygon("p", 0, 0, 100, 0, 90, 300, 10, 300)
	sides := polygon("p", 0, 0, 100, 0, 96, 150, 90, 300, 10, 300, 4, 150)
	lopsided := polygon("p", 0, 0, 100, 0, 80, 300, 10, 290)
	zigzag := func(x, top float64) *pattern.Piece {
		p := polygon("p", 0, 0, x, 0, x, 300, 0, top)
		p.Edges[1].Segs = []pattern.Seg{{To: curve.Pt(x-60, 75)}, {To: curve.Pt(x, 150)}, {To: curve.Pt(x-60, 225)}, {ToCorner: true}}
		for i := 0; i < 9; i++ {
			y := 10 + 30*float64(i)
			p.Edges[1].Segs = append([]pattern.Seg{{To: curve.Pt(x-80, 270-y)}, {To: curve.Pt(x-1, 265-y)}}, p.Edges[1].Segs...)
		}
		return p
	}
	for _, c := range []struct {
		name string
		a, b *pattern.Piece
	}{
		{"both sides let out", plain, polygon("p", -5, -5, 105, -5, 95, 295, 5, 295)},
		{"let out all round", plain, polygon("p", -5, -5, 105, -5, 95, 305, 5, 305)},
		{"both sides, of two edges each, let out", sides, polygon("p", -5, 0, 105, 0, 101, 150, 95, 300, 5, 300, -1, 150)},
		{"one edge that is longer than all others", zigzag(100, 300), zigzag(110, 310)},
		{"another piece", plain, polygon("p", 500, 0, 600, 10, 590, 310)},
		{"mirrored", lopsided, mirrored(lopsided)},
		{"one edge is congruent", plain, polygon("p", 500, 0, 600, 0, 700, 200, 500, 200)},
		{"nothing but a corner", plain, &pattern.Piece{Name: "p", Corners: []pattern.Corner{{Name: "c"}}, Edges: []pattern.Edge{{Name: "e"}}}},
		{"no outline", plain, &pattern.Piece{Name: "p"}},
	} {
		fit, ok := match.Register(c.a, c.b, match.Options{})
		assert.False(t, ok, c.name)
		assert.Equal(t, curve.Rigid{}, fit, c.name)
	}
}
