package measure_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// sewn is two random pieces with a seam of their first edges and two pairs of
// notches on it, none of them at a level.
func sewn(seed uint64) *pattern.Garment {
	r := rand.New(rand.NewPCG(seed, 3))
	g := &pattern.Garment{Half: pattern.LeftHalf}
	for _, name := range []string{"a", "b"} {
		p := ring(name, star(r))
		length := p.EdgePath(0).Length(measure.Accuracy)
		for i, n := range []string{"lo", "hi"} {
			at := length * (0.2 + 0.4*float64(i) + 0.2*r.Float64())
			if name == "b" {
				at = length - at
			}
			p.Notches = append(p.Notches, pattern.Notch{Name: n, Edge: pattern.Mention{Name: "ea"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "ca", Distance: at}})
		}
		g.Pieces = append(g.Pieces, p)
	}
	g.Seams = []pattern.Seam{{Name: "s", First: []pattern.Ref{{Piece: "a", Edge: "ea"}}, Second: []pattern.Ref{{Piece: "b", Edge: "ea"}},
		Eases: []pattern.Ease{{Amount: 20*r.Float64() - 10}}}}
	if r.IntN(2) == 0 {
		g.Seams[0].Eases[0].From, g.Seams[0].Eases[0].To = "lo", "hi"
	}
	return g
}

// differences gives what the walk says, whole and by segment.
func differences(t *rapid.T, g *pattern.Garment) []float64 {
	w, problem := measure.WalkSeam(g, &g.Seams[0], measure.Accuracy)
	if problem != nil {
		t.Fatal(problem.Message())
	}
	if len(w.Segments) != 3 {
		t.Fatalf("%d segments", len(w.Segments))
	}
	out := []float64{w.Difference}
	for _, s := range w.Segments {
		out = append(out, s.Difference)
	}
	return out
}

func near(t *rapid.T, a, b []float64, what string) {
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-5 {
			t.Fatalf("%s: %v became %v", what, a, b)
		}
	}
}

// transformed gives the piece moved: corners and handles.
func transformed(p *pattern.Piece, m curve.Affine) *pattern.Piece {
	c := pattern.Clone(p)
	for i := range c.Corners {
		c.Corners[i].At = m.Apply(c.Corners[i].At)
	}
	for i := range c.Edges {
		for j := range c.Edges[i].Segs {
			s := &c.Edges[i].Segs[j]
			s.H1, s.H2, s.To = m.Apply(s.H1), m.Apply(s.H2), m.Apply(s.To)
		}
	}
	return c
}

func TestMovingAPieceChangesNoLengthAndNoWalk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := sewn(rapid.Uint64().Draw(t, "seed"))
		before, area := differences(t, g), measure.Area(g.Pieces[1])
		turn := rapid.Float64Range(-7, 7).Draw(t, "turn")
		m := curve.Rotate(turn).Then(curve.Translate(rapid.Float64Range(-900, 900).Draw(t, "x"), rapid.Float64Range(-900, 900).Draw(t, "y")))
		g.Pieces[1] = transformed(g.Pieces[1], m)
		near(t, before, differences(t, g), "moved")
		if math.Abs(measure.Area(g.Pieces[1])-area) > 1e-5 {
			t.Fatalf("area %v became %v", area, measure.Area(g.Pieces[1]))
		}
	})
}

func TestAnotherStartCornerChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := sewn(rapid.Uint64().Draw(t, "seed"))
		before, p := differences(t, g), g.Pieces[0]
		width := p.Outline().WidthAt(3)
		n := rapid.IntRange(1, len(p.Edges)-1).Draw(t, "start")
		p.Corners = append(p.Corners[n:len(p.Corners):len(p.Corners)], p.Corners[:n]...)
		p.Edges = append(p.Edges[n:len(p.Edges):len(p.Edges)], p.Edges[:n]...)
		near(t, before, differences(t, g), "from another corner")
		if math.Abs(p.Outline().WidthAt(3)-width) > 1e-6 {
			t.Fatalf("width %v became %v", width, p.Outline().WidthAt(3))
		}
	})
}

// With the sides exchanged every difference changes its sign; the segments come
// from the other end.
func TestExchangingTheSidesTurnsTheSign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := sewn(rapid.Uint64().Draw(t, "seed"))
		if g.Seams[0].Eases[0].From == "" {
			g.Seams[0].Eases = nil // it is spread by the second side, so that it would not come out the same
		}
		before := differences(t, g)
		s := &g.Seams[0]
		s.First, s.Second = s.Second, s.First
		if len(s.Eases) > 0 {
			s.Eases[0].Amount *= -1
		}
		after := differences(t, g)
		near(t, before, []float64{-after[0], -after[3], -after[2], -after[1]}, "exchanged")
	})
}

// Cut at its notches, a seam's parts make the whole.
func TestSegmentsMakeTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := differences(t, sewn(rapid.Uint64().Draw(t, "seed")))
		near(t, []float64{d[0]}, []float64{d[1] + d[2] + d[3]}, "sum")
	})
}

// Sliding a corner by any amount changes the side by that amount, and there
// and back again leaves its length.
func TestSlidingACornerChangesTheSideByTheAmount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := sewn(rapid.Uint64().Draw(t, "seed"))
		w, problem := measure.WalkSeam(g, &g.Seams[0], measure.Accuracy)
		if problem != nil {
			t.Fatal(problem.Message())
		}
		side := rapid.SampledFrom([]measure.Side{w.First, w.Second}).Draw(t, "side")
		atEnd, amount := rapid.Bool().Draw(t, "at end"), rapid.Float64Range(-50, 50).Draw(t, "amount")
		p, edge, corner, path, err := side.Slide(atEnd, amount, measure.Accuracy)
		if err != nil {
			if amount < side.Length {
				t.Fatal(err)
			}
			return
		}
		if got := path.Length(measure.Accuracy); math.Abs(got-(side.Length-amount)) > 1e-5 {
			t.Fatalf("%v less %v gave %v", side.Length, amount, got)
		}
		old := p.EdgePath(edge)
		if corner == edge && path.End() != old.End() || corner != edge && path.Start() != old.Start() {
			t.Fatal("the other end moved")
		}
	})
}

// A corner can go no further than the edge is long, and any way outwards.
func TestASideCannotLoseMoreThanItHas(t *testing.T) {
	g := read(t, "-- garment --\nhalf left\nseam s a.back b.front\n-- a --\n"+box("0", "-50", "80", "50")+"-- b --\n"+box("0", "-50", "80", "50"))
	side := walkOf(t, g, "s").First
	for amount, want := range map[float64]float64{99: 1, -300: 400, 0: 100} {
		_, _, _, path, err := side.Slide(true, amount, measure.Accuracy)
		require.NoError(t, err)
		assert.InDelta(t, want, path.Length(measure.Accuracy), 1e-6)
	}
	for _, amount := range []float64{100, 101, 150, 1000} {
		_, _, _, _, err := side.Slide(true, amount, measure.Accuracy)
		assert.EqualError(t, err, fmt.Sprintf("a.back is 100.0 mm long there, and %.1f would have to go", amount))
	}
}
