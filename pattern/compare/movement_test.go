package compare_test

import (
	"flag"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

var update = flag.Bool("update", false, "write the sentences that stand in testdata; look at them")

// one is a garment of one piece with a curved front and a slanting back.
func one() *pattern.Garment {
	return &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "bust", Y: 160}, {Name: "waist", Y: 0}}, Around: []pattern.Mention{{Name: "p"}},
		Pieces: []*pattern.Piece{{Name: "p",
			Corners: []pattern.Corner{{Name: "tf", At: curve.Pt(0, 200)}, {Name: "hf", At: curve.Pt(0, -100)}, {Name: "hb", At: curve.Pt(80, -100)}, {Name: "tb", At: curve.Pt(170, 200)}},
			Edges: []pattern.Edge{
				{Name: "front", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(30, 120), H2: curve.Pt(30, -20), ToCorner: true}}},
				{Name: "hem"}, {Name: "back"}, {Name: "top"},
			}}}}
}

// A corner is moved along its own edge, or beyond a curve on its tangent: what
// is beside that edge moved, the edge itself only became longer or shorter.
func TestARaisedNeighbourInventsNoMovement(t *testing.T) {
	back := curve.Pt(170, 200).Sub(curve.Pt(80, -100))
	unit := back.Mul(1 / back.Len())
	front, ok := one().Pieces[0].EdgePath(0).StartTangent()
	require.True(t, ok)
	for _, c := range []struct {
		name, edge string
		change     func(*pattern.Piece)
		longer     float64
	}{
		{"a straight edge grows", "back", func(p *pattern.Piece) { p.Corners[3].At = p.Corners[3].At.Add(unit.Mul(20)) }, 20},
		{"a straight edge is cut", "back", func(p *pattern.Piece) { p.Corners[3].At = p.Corners[3].At.Sub(unit.Mul(20)) }, -20},
		{"a straight edge grows by next to nothing", "back", func(p *pattern.Piece) { p.Corners[3].At = p.Corners[3].At.Add(unit.Mul(0.01)) }, 0.01},
		{"the same at its beginning", "back", func(p *pattern.Piece) { p.Corners[2].At = p.Corners[2].At.Sub(unit.Mul(0.01)) }, 0.01},
		{"a curve grows along its tangent", "front", func(p *pattern.Piece) {
			old := p.Corners[0].At
			p.Corners[0].At = old.Sub(front.Mul(12))
			p.Edges[0].Segs = append([]pattern.Seg{{To: old}}, p.Edges[0].Segs...)
		}, 12},
	} {
		a, b := one(), one()
		c.change(b.Pieces[0])
		change := compare.Garments(a, b, compare.Options{})
		e := edgeOf(t, change, "p", c.edge)
		assert.Equal(t, compare.Changed, e.Status, c.name)
		assert.False(t, e.Movement.Moved, c.name)
		assert.Zero(t, e.Largest.Distance, c.name)
		assert.Empty(t, e.Largest.Direction, c.name)
		assert.Empty(t, e.AtLevels, c.name)
		d, _ := e.Length.Delta()
		assert.InDelta(t, c.longer, d, 1e-5, c.name)
		for _, w := range pieceOf(t, change, "p").Widths {
			assert.False(t, w.Differs(1e-6), "%s: width at %s", c.name, w.Level)
		}
	}
}

// A straight edge pushed out by d square to itself has moved d everywhere, and
// along a level line d over the cosine of its slant: 90 across on 300 up.
func TestAnEdgePushedOut(t *testing.T) {
	for _, d := range []float64{5, -5} {
		a, b := one(), one()
		square := curve.Pt(300, -90).Mul(d / math.Hypot(300, 90))
		b.Pieces[0].Corners[2].At = b.Pieces[0].Corners[2].At.Add(square)
		b.Pieces[0].Corners[3].At = b.Pieces[0].Corners[3].At.Add(square)
		c := compare.Garments(a, b, compare.Options{})
		e := edgeOf(t, c, "p", "back")
		assert.InDelta(t, math.Abs(d), e.Largest.Distance, 1e-3)
		assert.Equal(t, map[bool]string{true: "out", false: "in"}[d > 0], e.Largest.Direction)
		for i, want := range []string{"bust", "waist"} {
			assert.Equal(t, want, e.AtLevels[i].Level)
			assert.InDelta(t, d*math.Hypot(300, 90)/300, e.AtLevels[i].Distance, 1e-9)
		}
		assert.InDelta(t, math.Abs(d), e.Largest.Old.Dist(e.Largest.New), 1e-3)
	}
}

func TestTheLargestMovementIsNamedByWhatIsNextToIt(t *testing.T) {
	for want, push := range map[string]struct{ at, to curve.Point }{
		"bust":  {curve.Pt(158, 160), curve.Pt(170, 160)},
		"waist": {curve.Pt(110, 0), curve.Pt(104, 0)},
		"n":     {curve.Pt(125, 50), curve.Pt(140, 50)},
	} {
		a := one()
		a.Pieces[0].Edges[2].Segs = []pattern.Seg{{To: push.at}, {ToCorner: true}}
		a.Pieces[0].Notches = []pattern.Notch{{Name: "n", Edge: pattern.Mention{Name: "back"}, On: pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: 52, Above: true}}}
		b := pattern.Clone(a)
		b.Pieces[0].Edges[2].Segs[0].To = push.to
		e := edgeOf(t, compare.Garments(a, b, compare.Options{}), "p", "back")
		assert.Equal(t, want, e.Largest.At)
	}
	a, b := one(), one()
	b.Pieces[0].Corners[3].At.X += 9
	e := edgeOf(t, compare.Garments(a, b, compare.Options{}), "p", "back")
	assert.Equal(t, "tb", e.Largest.At)
	e = edgeOf(t, compare.Garments(a, b, compare.Options{}), "p", "front")
	assert.Equal(t, compare.Unchanged, e.Status)
}

// panel draws a piece between two sides given by their x at the five heights.
func panel(front, back [5]float64) *pattern.Piece {
	heights := [5]float64{-112, -75, 0, 85, 190}
	p := &pattern.Piece{Name: "p", Corners: []pattern.Corner{
		{Name: "tf", At: curve.Pt(front[4], heights[4])}, {Name: "hf", At: curve.Pt(front[0], heights[0])},
		{Name: "hb", At: curve.Pt(back[0], heights[0])}, {Name: "tb", At: curve.Pt(back[4], heights[4])}}}
	var down, up []pattern.Seg
	for i := 1; i < 4; i++ {
		down = append(down, pattern.Seg{To: curve.Pt(front[4-i], heights[4-i])})
		up = append(up, pattern.Seg{To: curve.Pt(back[i], heights[i])})
	}
	p.Edges = []pattern.Edge{{Name: "front", Segs: append(down, pattern.Seg{ToCorner: true})}, {Name: "hem"}, {Name: "back", Segs: append(up, pattern.Seg{ToCorner: true})}, {Name: "top"}}
	return p
}

func drawSide(t *rapid.T, at float64, label string) (side [5]float64) {
	for i := range side {
		side[i] = at + rapid.Float64Range(-15, 15).Draw(t, label)
	}
	return side
}

// What the sides moved along a level line is what the width there gained.
func TestMovementAtALevelIsTheChangeOfTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.Float64Range(-100, 180).Draw(t, "y")
		garment := func(label string) *pattern.Garment {
			return &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "l", Y: y}},
				Pieces: []*pattern.Piece{panel(drawSide(t, 0, label+" front"), drawSide(t, 80, label+" back"))}}
		}
		c := compare.Garments(garment("before"), garment("after"), compare.Options{})
		sum, told := 0.0, 0
		for _, e := range c.Pieces[0].Edges {
			for _, l := range e.AtLevels {
				sum += l.Distance
				told++
			}
		}
		if told < 2 {
			t.Skip("a side did not move at all")
		}
		if d, ok := c.Pieces[0].Widths[0].Delta(); !ok || math.Abs(d-sum) > 1e-6 {
			t.Fatalf("the width gained %v, the sides %v", d, sum)
		}
	})
}

func TestAGarmentIsUnchangedAgainstItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := one()
		g.Pieces = []*pattern.Piece{panel(drawSide(t, 0, "front"), drawSide(t, 80, "back"))}
		if rapid.Bool().Draw(t, "curved") {
			e := &g.Pieces[0].Edges[rapid.IntRange(0, 3).Draw(t, "edge")]
			point := func(l string) curve.Point {
				return curve.Pt(rapid.Float64Range(-300, 300).Draw(t, l), rapid.Float64Range(-300, 300).Draw(t, l))
			}
			e.Segs = []pattern.Seg{{Curve: true, H1: point("h"), H2: point("k"), ToCorner: true}}
		}
		c := compare.Garments(g, pattern.Clone(g), compare.Options{})
		if c.Any() || c.Sentences()[0] != "nothing changed" {
			t.Fatal(c.Sentences())
		}
		for _, p := range c.Pieces {
			if d, ok := p.Area.Delta(); !ok || d != 0 || p.Moved {
				t.Fatal(p.Name)
			}
			for _, e := range p.Edges {
				if e.Status != compare.Unchanged || e.Movement.Moved || e.Length.Differs(0) {
					t.Fatal(e.Name)
				}
			}
		}
	})
}

// There and back: what was let out is taken in, and every figure is exchanged.
func TestTheOtherWayRoundTheFiguresAreExchanged(t *testing.T) {
	for _, pair := range [][2]string{{"waistcoat--03-gusset", "waistcoat--04-half-move"}, {"waistcoat--01-base", "waistcoat--03-gusset"}, {"waistcoat--03-gusset", "waistcoat--06-seam-move"}} {
		there, back := between(t, pair[0], pair[1]), between(t, pair[1], pair[0])
		for _, p := range there.Pieces {
			q := pieceOf(t, back, p.Name)
			assert.Equal(t, p.Area, compare.Pair{Before: q.Area.After, After: q.Area.Before})
			for _, e := range p.Edges {
				f := edgeOf(t, back, p.Name, e.Name)
				assert.Equal(t, e.Length, compare.Pair{Before: f.Length.After, After: f.Length.Before})
				for i, l := range e.AtLevels {
					assert.InDelta(t, -l.Distance, f.AtLevels[i].Distance, 1e-9)
				}
			}
		}
		for i, l := range there.Girths {
			assert.Equal(t, l.Before, back.Girths[i].After)
			assert.Equal(t, l.After, back.Girths[i].Before)
		}
	}
}

// The sentences of the shared versions; each figure stands in a test above or
// is a difference of two of the coordinates.
func TestSentences(t *testing.T) {
	var b strings.Builder
	for _, pair := range [][2]string{
		{"01-base", "03a-gusset-untrued"}, {"03a-gusset-untrued", "03-gusset"}, {"03-gusset", "04-half-move"},
		{"04-half-move", "03-gusset"}, {"03-gusset", "06a-seam-move-untrued"}, {"06a-seam-move-untrued", "06-seam-move"}, {"06-seam-move", "06-seam-move"},
	} {
		b.WriteString("# " + pair[0] + " to " + pair[1] + "\n")
		for _, s := range between(t, "waistcoat--"+pair[0], "waistcoat--"+pair[1]).Sentences() {
			b.WriteString(s + "\n")
		}
	}
	const file = "testdata/sentences.txt"
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), b.String())
}
