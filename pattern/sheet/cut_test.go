package sheet

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

func cut(t testing.TB, g *pattern.Garment, p *pattern.Piece) Outline {
	t.Helper()
	out, found := Cut(g, p, 0.01)
	require.Empty(t, found)
	assertSound(t, p, out)
	return out
}

func assertSound(t testing.TB, p *pattern.Piece, out Outline) {
	t.Helper()
	assert.Empty(t, out.Path.SelfCrossings())
	assert.Equal(t, out.Path.Start(), out.Path.End())
	assert.GreaterOrEqual(t, out.Path.Area(), p.Outline().Area()-1e-6)
	n := 0
	for i, e := range out.Edges {
		assert.Equal(t, p.Edges[i].Name, e.Edge)
		for _, s := range e.Path {
			require.Equal(t, out.Path[n], s)
			n++
		}
	}
	assert.Len(t, out.Path, n, "the edges together are the path")
}

// Arithmetic: a square of 100 with 10 all round is a square of 120.
func TestMitredSquare(t *testing.T) {
	p := square(100)
	out := cut(t, garment(p, 10), p)
	assert.InDelta(t, 14400, out.Path.Area(), 1e-9)
	assert.InDelta(t, 480, out.Path.Length(1e-9), 1e-9)
}

// Areas and lengths by hand.
func TestCorners(t *testing.T) {
	trapeze := piece(curve.Pt(0, 0), curve.Pt(100, 0), curve.Pt(60, 40), curve.Pt(40, 40)) // sides at 45 degrees
	tests := []struct {
		name  string
		piece *pattern.Piece
		all   float64
		more  []pattern.Allowance
		joins []pattern.Join
		area  float64
	}{
		{"two allowances", square(100), 10, []pattern.Allowance{on("e1", 30)}, nil, 120 * 140},
		{"none on one edge", square(100), 10, []pattern.Allowance{on("e1", 0)}, nil, 120 * 110},
		{"none on a fold", folded(square(100)), 10, []pattern.Allowance{on("e1", 50)}, nil, 120 * 110},
		// Each tip loses a triangle with the height 10 (sqrt 2 - 1) and twice that as base.
		{"clipped", square(100), 10, nil, []pattern.Join{join("", Clip)}, 14400 - 4*math.Pow(10*(math.Sqrt2-1), 2)},
		{"square ends at right angles", square(100), 10, nil, []pattern.Join{join("", Square)}, 14400},
		// The hem of 20 below sides that go in by 45 degrees: its ends slope in likewise,
		// from the width on the sewing line, 100 + 2 * 10 sqrt 2, to 40 less.
		{"folded hem", trapeze, 10, []pattern.Allowance{on("e1", 20)}, []pattern.Join{join("e1", Fold)},
			above(trapeze) + 20*(100+20*math.Sqrt2-20)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := garment(tt.piece, tt.all, tt.more...)
			g.Joins = tt.joins
			for i := range g.Joins {
				if g.Joins[i].Target.Edge == "" {
					g.Joins[i].Target = pattern.Target{}
				}
			}
			assert.InDelta(t, tt.area, cut(t, g, tt.piece).Path.Area(), 1e-6)
		})
	}
}

// above is the trapeze with 10 on its sides and top, down to its sewing line at
// the bottom: the height 50, the bottom 100 + 20 sqrt 2, the sides at 45 degrees.
func above(*pattern.Piece) float64 { return 50 * (100 + 20*math.Sqrt2 - 50) }

func folded(p *pattern.Piece) *pattern.Piece {
	p.Cloths = []pattern.Cloth{{Name: "canvas", Count: 1, Cut: pattern.OnFold, Fold: pattern.Mention{Name: "e1"}}}
	return p
}

// Turned up, the allowance of a hem lies on the cloth above it: the mirror image of
// each end of the allowance lies on the cut line.
func TestFoldedHemLiesOnTheClothAboveIt(t *testing.T) {
	p := bent(piece(curve.Pt(0, 0), curve.Pt(80, 0), curve.Pt(110, 200), curve.Pt(10, 220)), 1, curve.Pt(60, 60), curve.Pt(110, 120))
	bent(p, 3, curve.Pt(40, 150), curve.Pt(-20, 40))
	g := garment(p, 12, on("e1", 40))
	g.Joins = []pattern.Join{join("e1", Fold)}
	out := cut(t, g, p)
	low := 0
	for _, s := range out.Path {
		for k := range 10 {
			if q := s.At(float64(k) / 10); q.Y < -0.01 && q.Y > -39.9 {
				low++
				assert.InDelta(t, 0, out.Path.Nearest(curve.Pt(q.X, -q.Y)).Dist, 0.001, "%v", q)
			}
		}
	}
	assert.Greater(t, low, 10)
}

// A corner whose sides leave it in the same direction has no mitre: it is cut off
// square, as far out as the limit lets.
func TestNeedleCorner(t *testing.T) {
	p := bent(piece(curve.Pt(0, 0), curve.Pt(200, 50), curve.Pt(0, 100)), 0, curve.Pt(60, 20), curve.Pt(140, 50))
	bent(p, 1, curve.Pt(140, 50), curve.Pt(60, 80))
	out := cut(t, garment(p, 10), p)
	assert.InDelta(t, 200+10*MitreLimit, out.Path.Bounds().Max.X, 1e-6)
	assert.InDelta(t, 10, out.Path.Nearest(curve.Pt(200, 50)).Dist, 0.01)
}

// Corners that would be smooth but for the rounding of their numbers to 0.001 turn a
// hair inwards: the cut line passes them without a loop.
func TestCornersThatAreSmoothButForRounding(t *testing.T) {
	for _, turn := range []float64{0, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2} {
		// a bean of four bent edges; at (60,0) the walk turns right by turn
		p := piece(curve.Pt(60, 0), curve.Pt(0, 60), curve.Pt(-60, 0), curve.Pt(0, -60))
		bent(p, 0, curve.Pt(60+36*math.Sin(turn), 36*math.Cos(turn)), curve.Pt(36, 60))
		bent(p, 1, curve.Pt(-36, 60), curve.Pt(-60, 36))
		bent(p, 2, curve.Pt(-60, -36), curve.Pt(-36, -60))
		bent(p, 3, curve.Pt(36, -60), curve.Pt(60, -36))
		out := cut(t, garment(p, 12), p)
		sew := p.Outline()
		// Steiner, as for any outward offset; tol times the length, and the little corner
		assert.InDelta(t, sew.Area()+12*sew.Length(1e-6)+math.Pi*144, out.Path.Area(), 4+150*turn, "%v", turn)
	}
}

// The end of a square allowance stands at a right angle on its own sewing line.
func TestSquareEnd(t *testing.T) {
	p := piece(curve.Pt(0, 0), curve.Pt(100, 0), curve.Pt(140, 100), curve.Pt(0, 100))
	g := garment(p, 10)
	g.Joins = []pattern.Join{join("e2", Square)}
	out := cut(t, g, p)
	u, _ := curve.Pt(40, 100).Unit()
	right := 0
	for _, s := range out.Edges[1].Path {
		if w, ok := s.StartTangent(); ok && math.Abs(w.Dot(u)) < 1e-9 {
			right++
			assert.InDelta(t, 10, s.Length(1e-9), 1e-6)
		}
	}
	assert.Equal(t, 2, right)
}

func TestMostSpecificAllowanceWins(t *testing.T) {
	p := square(100)
	g := garment(p, 12)
	set := func(name, edge string, mm float64) {
		g.Allowances = append(g.Allowances, pattern.Allowance{Target: pattern.Target{Name: name, Edge: edge}, Value: mm})
	}
	want := func(e1, e2 float64) {
		t.Helper()
		assert.Equal(t, []float64{e1, e2}, []float64{AllowanceOf(g, p, 0), AllowanceOf(g, p, 1)})
	}
	want(12, 12)
	set("panel", "e1", 1)
	want(1, 12)
	set("panel", "", 3)
	want(1, 3)
	g.Runs = []pattern.Run{{Name: "hem", Refs: []pattern.Ref{{Piece: "panel", Edge: "e1"}, {Piece: "panel", Edge: "e2"}}}}
	set("hem", "", 2)
	set("panel", "", 4)
	want(1, 2)
	g.Allowances = nil
	want(0, 0)
}

// The allowances that the last version of the waistcoat has: 12, none at the
// neckline and the hem, 6 on the button stand's back edge.
func TestDemoPieces(t *testing.T) {
	g := demo(t)
	for _, p := range g.Pieces {
		t.Run(p.Name, func(t *testing.T) {
			out := cut(t, g, p)
			for i, e := range out.Edges {
				want := 12.0
				switch {
				case e.Edge == "top" || e.Edge == "hem":
					want = 0
				case p.Name == "button-stand" && e.Edge == "back":
					want = 6
				}
				assert.Equal(t, want, e.Allowance, e.Edge)
				// in the middle of the edge, far from corners, that is what there is
				sew := p.EdgePath(i)
				q := sew.PointAt(sew.Length(1e-6)/2, 1e-6)
				assert.InDelta(t, want, out.Path.Nearest(q).Dist, 0.011, e.Edge)
			}
			assert.Len(t, out.Notches, len(p.Notches))
			for _, n := range out.Notches {
				// at an inward kink of up to 18 degrees the bisector is 1/cos(9 degrees) longer
				assert.GreaterOrEqual(t, n.Sewing.Dist(n.At), 11.99, n.Name)
				assert.LessOrEqual(t, n.Sewing.Dist(n.At), 12/math.Cos(9*math.Pi/180), n.Name)
				assert.InDelta(t, 0, out.Path.Nearest(n.At).Dist, 1e-6)
				assert.InDelta(t, NotchDepth, n.At.Dist(n.In), 1e-9)
				assert.InDelta(t, n.Sewing.Dist(n.At), n.Sewing.Dist(n.In)+NotchDepth, 1e-9, "snipped towards the sewing line")
			}
		})
	}
}

func TestWhatHasNoCutLine(t *testing.T) {
	slot := piece(curve.Pt(0, 0), curve.Pt(100, 0), curve.Pt(100, 45), curve.Pt(30, 45), curve.Pt(30, 60), curve.Pt(100, 60), curve.Pt(100, 120), curve.Pt(0, 120))
	clockwise := piece(curve.Pt(0, 0), curve.Pt(0, 100), curve.Pt(100, 100), curve.Pt(100, 0))
	bow := piece(curve.Pt(0, 0), curve.Pt(100, 100), curve.Pt(100, 0), curve.Pt(0, 90))
	lost := square(100)
	lost.Notches = []pattern.Notch{{Name: "n", Edge: pattern.Mention{Name: "e1"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "c1", Distance: 400}}}
	tests := []struct {
		name, id, subject string
		piece             *pattern.Piece
	}{
		{"a slot narrower than two allowances", IDRoom, "panel.e3", slot},
		{"clockwise", IDOutline, "panel", clockwise},
		{"crosses itself", IDOutline, "panel", bow},
		{"no length", IDOutline, "panel.e1", piece(curve.Pt(0, 0), curve.Pt(0, 0), curve.Pt(9, 9), curve.Pt(0, 9))},
		{"one corner", IDOutline, "panel", piece(curve.Pt(0, 0))},
		{"a notch off its edge", IDNotch, "panel.e1", lost},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, found := Cut(garment(tt.piece, 10), tt.piece, 0.01)
			assert.Empty(t, out.Path)
			assert.Empty(t, out.Edges)
			require.Len(t, found, 1, "one finding for one cause")
			assert.Equal(t, tt.id, found[0].ID)
			assert.Equal(t, tt.subject, found[0].Subject)
			assert.Equal(t, diag.Error, found[0].Severity)
		})
	}
}

// Of a slot of 15 mm one side's allowance of 10 leaves the other less than 5
// (arithmetic): the finding says so, and with that there is a cut line.
func TestAllowancesWithoutRoomAreToldUpToWhichThereIs(t *testing.T) {
	slot := piece(curve.Pt(0, 0), curve.Pt(100, 0), curve.Pt(100, 45), curve.Pt(30, 45), curve.Pt(30, 60), curve.Pt(100, 60), curve.Pt(100, 120), curve.Pt(0, 120))
	_, found := Cut(garment(slot, 10), slot, 0.01)
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Hint, "up to 4.9 mm there has room")
	_, found = Cut(garment(slot, 10, on("e3", 4.9)), slot, 0.01)
	assert.Empty(t, found)
	_, found = Cut(garment(slot, 10, on("e3", 5)), slot, 0.01)
	assert.NotEmpty(t, found)
	// too wide for either side: only less all round helps
	_, found = Cut(garment(slot, 20), slot, 0.01)
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Hint, "up to 7.4 mm all round the piece has room")
	_, found = Cut(garment(slot, 7.4), slot, 0.01)
	assert.Empty(t, found)
}

// Without joins but mitres and with one allowance, no place of the cut line is nearer to
// the sewing line than the allowance, and none farther but at corners.
func TestCutLineKeepsItsDistance(t *testing.T) {
	made := 0
	rapid.Check(t, func(t *rapid.T) {
		p := randomPiece(t)
		d := float64(rapid.IntRange(1, 40).Draw(t, "allowance"))
		out, found := Cut(garment(p, d), p, 0.01)
		if len(found) > 0 {
			assert.Empty(t, out.Path)
			return
		}
		made++
		assert.Empty(t, out.Path.SelfCrossings())
		sew := p.Outline()
		for _, s := range out.Path {
			for k := range 5 {
				dist := sew.Nearest(s.At(float64(k) / 4)).Dist
				assert.GreaterOrEqual(t, dist, d-0.011)
				assert.LessOrEqual(t, dist, d*math.Hypot(MitreLimit, 1)+0.011) // the ends of a cut tip
			}
		}
	})
	assert.Greater(t, made, 30, "most pieces have a cut line")
}

// Any allowances and joins: a sound cut line or a finding.
func TestCutIsSoundOrSaysWhy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomPiece(t)
		g := garment(p, float64(rapid.IntRange(0, 60).Draw(t, "allowance")))
		kinds := []JoinKind{Mitre, Square, Fold, Clip}
		for i, e := range p.Edges {
			l := fmt.Sprint(i)
			if rapid.Bool().Draw(t, "own"+l) {
				g.Allowances = append(g.Allowances, on(e.Name, float64(rapid.IntRange(0, 60).Draw(t, "mm"+l))))
			}
			g.Joins = append(g.Joins, join(e.Name, rapid.SampledFrom(kinds).Draw(t, "join"+l)))
		}
		out, found := Cut(g, p, 0.01)
		if len(found) > 0 {
			assert.Empty(t, out.Path)
			return
		}
		assert.Empty(t, out.Path.SelfCrossings())
		for _, q := range p.Outline().Flatten(2) {
			if !out.Path.Contains(q) {
				assert.InDelta(t, 0, out.Path.Nearest(q).Dist, 0.021)
			}
		}
	})
}

// randomPiece has 3 to 7 edges round the origin, some of them bent.
func randomPiece(t *rapid.T) *pattern.Piece {
	n := rapid.IntRange(3, 7).Draw(t, "edges")
	jitter := rapid.Float64Range(0, 1)
	pts := make([]curve.Point, n)
	for i := range pts {
		l := fmt.Sprint(i)
		a := 2 * math.Pi * (float64(i) + 0.6*jitter.Draw(t, "angle"+l)) / float64(n)
		r := 60 + 240*jitter.Draw(t, "radius"+l)
		pts[i] = pattern.Round(curve.Pt(r*math.Cos(a), r*math.Sin(a)))
	}
	p := piece(pts...)
	for i := range pts {
		l := fmt.Sprint(i)
		if !rapid.Bool().Draw(t, "bent"+l) {
			continue
		}
		a, b := pts[i], pts[(i+1)%n]
		side := b.Sub(a).Left().Mul(0.6 * (jitter.Draw(t, "side"+l) - 0.5))
		bent(p, i, pattern.Round(a.Lerp(b, 0.3).Add(side)), pattern.Round(a.Lerp(b, 0.7).Add(side)))
	}
	return p
}

func BenchmarkCutDemo(b *testing.B) {
	g := demo(b)
	for b.Loop() {
		for _, p := range g.Pieces {
			Cut(g, p, 0.01)
		}
	}
}
