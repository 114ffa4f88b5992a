package alter_test

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

const tol = measure.Accuracy

// sample gives a garment that several packages share.
func sample(t testing.TB, name string) *pattern.Garment {
	t.Helper()
	folder, problems := text.Load(os.DirFS(filepath.Join("..", "..", "testdata", "patterns", name)), ".")
	require.Empty(t, problems)
	return folder.Garment
}

// trued makes a seam agree, which must work, and leaves the garment alone.
func trued(t testing.TB, g *pattern.Garment, seam, move string) *alter.Trued {
	t.Helper()
	before := pattern.Clone(g)
	tr, err := alter.True(g, seam, move, tol)
	require.NoError(t, err)
	require.Equal(t, before, g, "the garment that was given is not changed")
	return tr
}

func refused(t testing.TB, g *pattern.Garment, seam, move string) *alter.Refusal {
	t.Helper()
	before := pattern.Clone(g)
	_, err := alter.True(g, seam, move, tol)
	require.Equal(t, before, g)
	var r *alter.Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	assert.Equal(t, seam, r.Seam)
	assert.Equal(t, "seam "+seam+": "+r.Why, err.Error())
	return r
}

// The moved seam of the shared waistcoat is off by 1.20 below and 1.35 above the
// waist, 322.03 against 319.49: each piece takes its end's amount, or half.
func TestTheMovedSeam(t *testing.T) {
	for _, c := range []struct {
		move        string
		length      float64
		pieces      []string
		bottom, top float64
	}{
		{"both", 320.76, []string{"side-back", "side-back", "back", "back"}, 0.60, 0.68},
		{"side-back", 319.485, []string{"side-back", "side-back"}, 1.20, 1.35},
		{"back", 322.035, []string{"back", "back"}, -1.20, -1.35},
	} {
		t.Run(c.move, func(t *testing.T) {
			g := sample(t, "waistcoat--06a-seam-move-untrued")
			tr := trued(t, g, "side-back-back", c.move)
			assert.InDelta(t, 2.55, tr.Before.Difference, 0.006)
			assert.InDelta(t, c.length, tr.After.First.Length, 0.006)
			assert.InDelta(t, c.length, tr.After.Second.Length, 0.006)
			assert.Less(t, tr.Left, 0.002)
			for _, s := range tr.After.Segments {
				assert.InDelta(t, 0, s.Difference, 0.002, "%s to %s", s.From, s.To)
			}
			var pieces []string
			for _, s := range tr.Slid {
				pieces = append(pieces, s.Piece)
				assert.Equal(t, s.To, tr.Garment.Piece(s.Piece).Corners[tr.Garment.Piece(s.Piece).CornerIndex(s.Corner)].At)
				assert.Equal(t, s.From, g.Piece(s.Piece).Corners[g.Piece(s.Piece).CornerIndex(s.Corner)].At)
				assert.InDelta(t, math.Abs(s.Amount), s.From.Dist(s.To), 0.001, "straight there, so the corner goes as far as the amount")
			}
			assert.Equal(t, c.pieces, pieces)
			assert.InDelta(t, c.bottom, tr.Slid[0].Amount, 0.006)
			assert.InDelta(t, c.top, tr.Slid[1].Amount, 0.006)
			assert.Contains(t, tr.Slid[0].Corner, "hem")
			assert.Contains(t, tr.Slid[1].Corner, "top")
		})
	}
}

// What is not at the two ends of the seam stays as it was, record by record.
func TestNothingElseMoves(t *testing.T) {
	g := sample(t, "waistcoat--06a-seam-move-untrued")
	tr := trued(t, g, "side-back-back", "both")
	for _, p := range g.Pieces {
		q := tr.Garment.Piece(p.Name)
		if p.Name != "side-back" && p.Name != "back" {
			assert.Equal(t, p, q)
			continue
		}
		seam, far := "back", []string{"top-front", "hem-front"}
		if p.Name == "back" {
			seam, far = "front", []string{"top-back", "hem-back"}
		}
		for _, name := range far {
			assert.Equal(t, p.Corners[p.CornerIndex(name)], q.Corners[q.CornerIndex(name)])
		}
		for i, e := range p.Edges {
			if e.Name != seam {
				assert.Equal(t, e, q.Edges[i], "%s.%s keeps its handles", p.Name, e.Name)
			}
		}
		inner := p.Edges[p.EdgeIndex(seam)].Segs
		assert.Len(t, q.Edges[q.EdgeIndex(seam)].Segs, len(inner))
		for i, s := range inner {
			assert.Equal(t, s.To, q.Edges[q.EdgeIndex(seam)].Segs[i].To, "the joints stay")
		}
	}
	assert.Equal(t, g.Seams, tr.Garment.Seams)
}

// quad is a piece with the front and back edges that are given, in mm from hem
// to top, drawn upright; names as in all these tests.
func quad(name string, bottom, top float64) *pattern.Piece {
	return &pattern.Piece{Name: name,
		Corners: []pattern.Corner{{Name: "tf", At: curve.Pt(0, top)}, {Name: "hf", At: curve.Pt(0, bottom)}, {Name: "hb", At: curve.Pt(80, bottom)}, {Name: "tb", At: curve.Pt(80, top)}},
		Edges:   []pattern.Edge{{Name: "front"}, {Name: "hem"}, {Name: "back"}, {Name: "top"}}}
}

// pair is two such pieces and the seam s of a.back with b.front.
func pair(a, b *pattern.Piece) *pattern.Garment {
	return &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}, Pieces: []*pattern.Piece{a, b},
		Seams: []pattern.Seam{{Name: "s", First: []pattern.Ref{{Piece: "a", Edge: "back"}}, Second: []pattern.Ref{{Piece: "b", Edge: "front"}}}}}
}

func at(g *pattern.Garment, piece, corner string) curve.Point {
	p := g.Piece(piece)
	return p.Corners[p.CornerIndex(corner)].At
}

// Off by 2 below the waist and -1 above: each end gets the amount of its own
// segment, and the coordinates follow from subtraction.
func TestEachEndTakesItsOwnSegmentsAmount(t *testing.T) {
	g := pair(quad("a", -102, 99), quad("b", -100, 100))
	for _, c := range []struct {
		move               string
		ahb, atb, bhf, btf curve.Point
	}{
		{"a", curve.Pt(80, -100), curve.Pt(80, 100), curve.Pt(0, -100), curve.Pt(0, 100)},
		{"b", curve.Pt(80, -102), curve.Pt(80, 99), curve.Pt(0, -102), curve.Pt(0, 99)},
		{"both", curve.Pt(80, -101), curve.Pt(80, 99.5), curve.Pt(0, -101), curve.Pt(0, 99.5)},
	} {
		got := trued(t, g, "s", c.move).Garment
		assert.Equal(t, []curve.Point{c.ahb, c.atb, c.bhf, c.btf}, []curve.Point{at(got, "a", "hb"), at(got, "a", "tb"), at(got, "b", "hf"), at(got, "b", "tf")}, c.move)
	}
}

// Without stations half of the difference goes to each end.
func TestASeamOfOneSegmentIsSharedByItsEnds(t *testing.T) {
	g := pair(quad("a", -100, 103), quad("b", -100, 100))
	g.Levels = nil
	got := trued(t, g, "s", "a").Garment
	assert.Equal(t, curve.Pt(80, -98.5), at(got, "a", "hb"))
	assert.Equal(t, curve.Pt(80, 101.5), at(got, "a", "tb"))
}

func TestADeclaredEaseIsKept(t *testing.T) {
	g := pair(quad("a", -100, 110), quad("b", -100, 100))
	g.Seams[0].Eases = []pattern.Ease{{Amount: 6}}
	tr := trued(t, g, "s", "both")
	assert.InDelta(t, 6, tr.After.First.Length-tr.After.Second.Length, 0.002)
}

// A curve that has to grow goes on along its tangent with a straight piece; one
// that has to shrink is cut, and what stays lies on the old curve.
func TestCurvedEdges(t *testing.T) {
	bent := func() *pattern.Piece {
		a := quad("a", -100, 100)
		a.Edges[2].Segs = []pattern.Seg{{Curve: true, H1: curve.Pt(110, -40), H2: curve.Pt(110, 40), ToCorner: true}}
		return a
	}
	long := bent().EdgePath(2)
	length := long.Length(tol)
	t.Run("grows", func(t *testing.T) {
		b := quad("b", -length/2-3, length/2+5)
		tr := trued(t, pair(bent(), b), "s", "a")
		p := tr.Garment.Piece("a")
		require.Len(t, p.Edges[2].Segs, 3, "a straight piece at each end")
		path := p.EdgePath(2)
		tangent, _ := long.EndTangent()
		assert.InDelta(t, 0, at(tr.Garment, "a", "tb").Dist(curve.Pt(80, 100).Add(tangent.Mul(5))), 0.002)
		assert.InDelta(t, length+8, path.Length(tol), 0.003)
		assert.InDelta(t, 0, path.PointAt(3+length/2, tol).Dist(long.PointAt(length/2, tol)), 0.003, "the curve itself stays")
	})
	t.Run("is cut", func(t *testing.T) {
		b := quad("b", -length/2+3, length/2-5)
		tr := trued(t, pair(bent(), b), "s", "a")
		path := tr.Garment.Piece("a").EdgePath(2)
		require.Len(t, path, 1)
		assert.InDelta(t, length-8, path.Length(tol), 0.003)
		for i := range 21 {
			assert.Less(t, long.Nearest(path.PointAt(float64(i)/20*(length-8), tol)).Dist, 0.001)
		}
		assert.InDelta(t, 0, at(tr.Garment, "a", "tb").Dist(long.PointAt(length-5, tol)), 0.002)
	})
	t.Run("again and again", func(t *testing.T) {
		g := pair(bent(), quad("b", -length/2-3, length/2+5))
		once := trued(t, g, "s", "a").Garment
		once.Piece("b").Corners[0].At.Y += 4
		twice := trued(t, once, "s", "a").Garment
		assert.Len(t, twice.Piece("a").Edges[2].Segs, 3, "the straight piece grows, no second one is added")
	})
}

// Notches keep their place on the cloth, however they are recorded: on the seam
// and on the edges beside it.
func TestNotchesKeepTheirPlaceOnTheCloth(t *testing.T) {
	g := pair(quad("a", -102, 99), quad("b", -100, 100))
	from := func(edge, name, corner string, d float64) pattern.Notch {
		return pattern.Notch{Name: name, Edge: pattern.Mention{Name: edge}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: corner, Distance: d}}
	}
	a := g.Piece("a")
	a.Notches = []pattern.Notch{
		from("back", "low", "hb", 30), from("back", "high", "tb", 30), from("back", "far", "hb", 150),
		{Name: "level", Edge: pattern.Mention{Name: "back"}, On: pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: 20, Above: true}},
		from("hem", "hem-near", "hb", 20), from("hem", "hem-far", "hf", 20), from("top", "top-near", "tb", 20), from("front", "other", "tf", 20),
	}
	got := trued(t, g, "s", "a").Garment
	for _, n := range a.Notches {
		before, after := placeOf(t, g, "a", n.Name), placeOf(t, got, "a", n.Name)
		limit := 0.001
		if n.Edge.Name == "hem" || n.Edge.Name == "top" {
			limit = 2 // the edge turned about its other end by 2 mm at most
			assert.InDelta(t, before.X, after.X, 0.06, n.Name)
		}
		assert.Less(t, before.Dist(after), limit, n.Name)
	}
	assert.Equal(t, 28.0, got.Piece("a").Notches[0].On.Distance, "2 mm of the edge are gone")
	assert.Equal(t, 31.0, got.Piece("a").Notches[1].On.Distance, "1 mm has come")
}

func placeOf(t *testing.T, g *pattern.Garment, piece, notch string) curve.Point {
	t.Helper()
	p := g.Piece(piece)
	for _, n := range p.Notches {
		if n.Name == notch {
			i := p.EdgeIndex(n.Edge.Name)
			d, err := g.SpotAt(p, i, n.On, tol)
			require.Nil(t, err)
			return p.EdgePath(i).PointAt(d, tol)
		}
	}
	t.Fatalf("no notch %s", notch)
	return curve.Point{}
}

// An edge beside the seam turns about its far corner and grows by a fraction; a
// notch that is measured from the corner that moved stays within that.
func TestANotchBesideASlantingSeam(t *testing.T) {
	a := quad("a", -100, 100)
	a.Corners[2].At = curve.Pt(180, -100) // the back edge slants by 100 on 200
	a.Notches = []pattern.Notch{{Name: "n", Edge: pattern.Mention{Name: "hem"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "hb", Distance: 170}}}
	length := math.Hypot(100, 200)
	g := pair(a, quad("b", -length/2-10, length/2))
	g.Levels = nil
	g.Piece("b").Corners[1].At.Y = -length/2 - 10
	before := placeOf(t, g, "a", "n")
	got := trued(t, g, "s", "a").Garment
	after := placeOf(t, got, "a", "n")
	assert.InDelta(t, before.X, after.X, 0.3)
}

func TestRecordedLengthsFollow(t *testing.T) {
	g := pair(quad("a", -102, 99), quad("b", -100, 100))
	for _, p := range g.Pieces {
		for i := range p.Edges[:3] {
			p.Edges[i].Length = pattern.Some(pattern.RoundLength(p.EdgePath(i).Length(tol)))
		}
	}
	got := trued(t, g, "s", "both").Garment
	for _, x := range check.Run(check.Input{Garment: got}) {
		assert.NotEqual(t, "edge.length-stale", x.ID, x.Found)
	}
	assert.InDelta(t, 200.5, got.Piece("a").Edges[2].Length.Value, 1e-9)
	assert.False(t, got.Piece("a").Edges[3].Length.Set, "an edge that records none is given none")
}

// 1.2 between the notches is within the limit: it stays, and is said.
func TestInnerSegmentsAreLeftAndSaid(t *testing.T) {
	g := pair(quad("a", -102, 100), quad("b", -100, 100))
	g.Piece("a").Notches = []pattern.Notch{onEdge("back", "n", "hb", 52), onEdge("back", "m", "tb", 50)}
	g.Piece("b").Notches = []pattern.Notch{onEdge("front", "n", "hf", 50), onEdge("front", "m", "tf", 51.2)}
	tr := trued(t, g, "s", "b")
	assert.InDelta(t, 1.2, tr.Left, 0.002, "100 against 98.8 between the notches: no corner mends it")
	assert.InDelta(t, 0, tr.After.Segments[0].Difference, 0.002)
	assert.InDelta(t, 0, tr.After.Segments[2].Difference, 0.002)
}

// Both edges begin at the waist, 302 against 300: there they agree, so that the
// other end takes the whole difference.
func TestAnEndAtAStationStays(t *testing.T) {
	for _, c := range []struct {
		move     string
		atb, btf float64
	}{{"a", 300, 300}, {"b", 302, 302}, {"both", 301, 301}} {
		g := pair(quad("a", 0, 302), quad("b", 0, 300))
		tr := trued(t, g, "s", c.move)
		assert.Equal(t, curve.Pt(80, 0), at(tr.Garment, "a", "hb"), c.move)
		assert.Equal(t, curve.Pt(0, 0), at(tr.Garment, "b", "hf"), c.move)
		assert.InDelta(t, c.atb, at(tr.Garment, "a", "tb").Y, 0.001, c.move)
		assert.InDelta(t, c.btf, at(tr.Garment, "b", "tf").Y, 0.001, c.move)
		for _, s := range tr.Slid {
			assert.Contains(t, []string{"tb", "tf"}, s.Corner, c.move)
		}
	}
	g := pair(quad("a", -302, 0), quad("b", -300, 0))
	tr := trued(t, g, "s", "a")
	require.Len(t, tr.Slid, 1)
	assert.Equal(t, "hb", tr.Slid[0].Corner, "the other way up")
}

// One edge begins 0.5 above the waist, so the seam has no station and half of
// the 4 mm goes to each end. It then crosses the waist, as the other one does,
// and the second pass must not move the corners again.
func TestAWaistThatComesBetweenChangesNothing(t *testing.T) {
	g := pair(quad("a", 0.5, 297.5), quad("b", -1.5, 299.5))
	tr := trued(t, g, "s", "a")
	assert.Len(t, tr.After.Segments, 2, "the waist is a station now")
	assert.Equal(t, curve.Pt(80, -1.5), at(tr.Garment, "a", "hb"))
	assert.Equal(t, curve.Pt(80, 299.5), at(tr.Garment, "a", "tb"))
	tr = trued(t, pair(quad("a", 0.5, 297.5), quad("b", -1, 300)), "s", "a")
	assert.Equal(t, curve.Pt(80, -1.5), at(tr.Garment, "a", "hb"))
	assert.Equal(t, curve.Pt(80, 299.5), at(tr.Garment, "a", "tb"), "the half stays the half, 0.5 beside the waist")
}

// A seam within its tolerance, 0.9 mm off with a warning over 1, is let be.
func TestASeamWithinItsToleranceStays(t *testing.T) {
	for _, top := range []float64{100, 100.9, 99.1} {
		g := pair(quad("a", -100, top), quad("b", -100, 100))
		tr := trued(t, g, "s", "a")
		assert.Empty(t, tr.Slid)
		assert.True(t, pattern.Equal(g, tr.Garment))
	}
	assert.NotEmpty(t, trued(t, pair(quad("a", -100, 101.2), quad("b", -100, 100)), "s", "a").Slid, "one that is near its limit is mended")
}

// What truing does to the other seams of a piece: the hem of a slants by 20 on
// 100, 101.98 long, and is level afterwards.
func TestOtherSeamsAreWalked(t *testing.T) {
	g := pair(quad("a", -100, 100), quad("b", -100, 100))
	g.Piece("a").Corners[2].At = curve.Pt(100, -120)
	g.Piece("a").Corners[3].At = curve.Pt(100, 100)
	g.Pieces = append(g.Pieces, quad("c", -100, 100))
	hem := func(name string, ease float64) pattern.Seam {
		return pattern.Seam{Name: name, First: []pattern.Ref{{Piece: "a", Edge: "hem"}}, Second: []pattern.Ref{{Piece: "c", Edge: "hem"}}, SameWay: true, Eases: []pattern.Ease{{Amount: ease}}}
	}
	g.Seams = append(g.Seams, hem("fails", 21.98), hem("mends", 20), hem("failed", 40),
		pattern.Seam{Name: "front", First: []pattern.Ref{{Piece: "a", Edge: "front"}}, Second: []pattern.Ref{{Piece: "c", Edge: "back"}}})
	effects := trued(t, g, "s", "a").Effects(g, tol)
	require.Len(t, effects, 3, "the front is not touched")
	assert.Equal(t, "fails", effects[0].Seam)
	assert.InDelta(t, 0, effects[0].Before.Difference, 0.001)
	assert.InDelta(t, 20-21.98, effects[0].After.Difference, 0.001)
	assert.Equal(t, []bool{true, false, false}, []bool{effects[0].Fails, effects[1].Fails, effects[2].Fails})
	assert.Empty(t, trued(t, g, "s", "b").Effects(g, tol))
}

func TestOneThatAgreesAlreadyStays(t *testing.T) {
	g := pair(quad("a", -100, 100), quad("b", -100, 100))
	tr := trued(t, g, "s", "both")
	assert.Empty(t, tr.Slid)
	assert.Equal(t, g, tr.Garment)
}

// The hint of a finding names the corners that truing the first piece gives.
func TestTheHintIsWhatTruingDoes(t *testing.T) {
	for name, seam := range map[string]string{"waistcoat--03a-gusset-untrued": "side-front-underarm", "waistcoat--04-half-move": "side-back-back", "waistcoat--06a-seam-move-untrued": "side-back-back"} {
		g := sample(t, name)
		g.Body = ""
		list := aboutSeams(g)
		require.Len(t, list, 1)
		tr := trued(t, g, seam, g.Seam(seam).First[0].Piece)
		for _, s := range tr.Slid {
			assert.Contains(t, list[0].Hint, fmt.Sprintf("%s to %.3f %.3f", s.Corner, s.To.X, s.To.Y))
		}
		assert.Empty(t, aboutSeams(tr.Garment), "nothing is found any more")
	}
}

// aboutSeams finds what is wrong with seams.
func aboutSeams(g *pattern.Garment) diag.List {
	var out diag.List
	for _, x := range check.Run(check.Input{Garment: g}) {
		if strings.HasPrefix(x.ID, "seam.") {
			out = append(out, x)
		}
	}
	return out
}

// A tube: one piece whose back is sewn to its own front.
func TestAPieceSewnToItself(t *testing.T) {
	p := quad("a", -100, 100)
	p.Corners[2].At.Y, p.Corners[3].At.Y = -101, 102
	g := &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}, Pieces: []*pattern.Piece{p},
		Seams: []pattern.Seam{{Name: "s", First: []pattern.Ref{{Piece: "a", Edge: "back"}}, Second: []pattern.Ref{{Piece: "a", Edge: "front"}}}}}
	tr := trued(t, g, "s", "a")
	assert.InDelta(t, 0, tr.After.Difference, 0.002)
	assert.Len(t, tr.Slid, 4, "each of the four corners takes half")
	assert.Equal(t, []curve.Point{curve.Pt(0, 101), curve.Pt(0, -100.5), curve.Pt(80, -100.5), curve.Pt(80, 101)},
		[]curve.Point{at(tr.Garment, "a", "tf"), at(tr.Garment, "a", "hf"), at(tr.Garment, "a", "hb"), at(tr.Garment, "a", "tb")})
}
