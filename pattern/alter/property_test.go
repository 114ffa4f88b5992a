package alter_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// side draws the joints of an upright side, from hem to top, near an x.
func side(t *rapid.T, x, bottom, top float64) []curve.Point {
	n := rapid.IntRange(2, 5).Draw(t, "points")
	out := make([]curve.Point, n)
	for i := range out {
		y := bottom + (top-bottom)*float64(i)/float64(n-1)
		out[i] = pattern.Round(curve.Pt(x+rapid.Float64Range(-15, 15).Draw(t, "x"), y))
	}
	return out
}

// edge draws a line, or curves, through joints; backwards from the last one.
func edge(t *rapid.T, name string, joints []curve.Point, backwards bool) pattern.Edge {
	pts := append([]curve.Point{}, joints...)
	if backwards {
		for i, j := 0, len(pts)-1; i < j; i, j = i+1, j-1 {
			pts[i], pts[j] = pts[j], pts[i]
		}
	}
	e := pattern.Edge{Name: name}
	for i := 1; i < len(pts); i++ {
		s := pattern.Seg{To: pts[i], ToCorner: i == len(pts)-1, Curve: rapid.Bool().Draw(t, "curve")}
		if s.Curve {
			up := pts[i].Sub(pts[i-1]).Mul(1.0 / 3)
			bend := curve.Pt(rapid.Float64Range(-8, 8).Draw(t, "bend"), 0)
			s.H1, s.H2 = pattern.Round(pts[i-1].Add(up).Add(bend)), pattern.Round(pts[i].Sub(up).Add(bend))
		}
		if s.ToCorner {
			s.To = curve.Point{}
		}
		e.Segs = append(e.Segs, s)
	}
	return e
}

func drawPanel(t *rapid.T, name string) *pattern.Piece {
	height := func(l string, at float64) float64 {
		return pattern.RoundLength(at + rapid.Float64Range(-3, 3).Draw(t, l))
	}
	front := side(t, 0, height("hem front", -110), height("top front", 190))
	back := side(t, 90, height("hem back", -110), height("top back", 190))
	return &pattern.Piece{Name: name,
		Corners: []pattern.Corner{{Name: "tf", At: front[len(front)-1]}, {Name: "hf", At: front[0]}, {Name: "hb", At: back[0]}, {Name: "tb", At: back[len(back)-1]}},
		Edges:   []pattern.Edge{edge(t, "front", front, true), {Name: "hem"}, edge(t, "back", back, false), {Name: "top"}}}
}

// Trued, every outermost segment agrees to 0.002 mm; done again, no corner has
// to go further than the rounding of a file.
func TestATruedSeamAgreesAndStaysSo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := pair(drawPanel(t, "a"), drawPanel(t, "b"))
		if rapid.Bool().Draw(t, "no waist") {
			g.Levels = nil
		}
		if rapid.Bool().Draw(t, "ease") {
			g.Seams[0].Eases = []pattern.Ease{{Amount: rapid.Float64Range(-3, 3).Draw(t, "amount")}}
		}
		g.Seams[0].SameWay = rapid.Bool().Draw(t, "same way") // the differences are other ones, no less to be mended
		move := rapid.SampledFrom([]string{"a", "b", alter.Both}).Draw(t, "move")
		before := pattern.Clone(g)
		tr, err := alter.True(g, "s", move, measure.Accuracy)
		var refusal *alter.Refusal
		if errors.As(err, &refusal) {
			t.Skip(refusal.Why)
		}
		if err != nil {
			t.Fatal(err)
		}
		if !pattern.Equal(before, g) {
			t.Fatal("the garment that was given has changed")
		}
		if v := check.Judge(g, tr.Before); v.OK && !v.Near {
			if !pattern.Equal(g, tr.Garment) {
				t.Fatal("a seam that matches was altered")
			}
			return
		}
		start, end := tr.After.Ends()
		if math.Abs(start) > 0.002 || math.Abs(end) > 0.002 || math.Abs(tr.After.Difference) > 0.004 {
			t.Fatalf("%v and %v are left, %v in all", start, end, tr.After.Difference)
		}
		again, err := alter.True(tr.Garment, "s", move, measure.Accuracy)
		if err != nil {
			t.Fatal(err)
		}
		if len(again.Slid) > 0 {
			t.Fatalf("again %v", again.Slid)
		}
		for _, p := range g.Pieces {
			q := tr.Garment.Piece(p.Name)
			if move != alter.Both && move != p.Name && !pattern.EqualPieces(p, q) {
				t.Fatalf("%s was not to move", p.Name)
			}
			for i := range p.Edges {
				if name := p.Edges[i].Name; (name == "hem" || name == "top") && !pattern.Same(p.Edges[i], q.Edges[i]) {
					t.Fatalf("%s.%s has changed", p.Name, name)
				}
			}
		}
	})
}
