package describe_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/describe"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

// waistcoat is the garment of the shared scenario, six panels that fit.
func waistcoat(t testing.TB) *pattern.Garment {
	t.Helper()
	folder, problems := text.Load(os.DirFS("testdata/waistcoat--01-base"), ".")
	require.Empty(t, problems)
	return folder.Garment
}

// loosened takes a garment apart: what is left is what an import gives.
func loosened(g *pattern.Garment) *pattern.Garment {
	c := &pattern.Garment{Name: g.Name, Levels: g.Levels, Pieces: g.Pieces}
	c = pattern.Clone(c)
	for _, p := range c.Pieces {
		for i := range p.Edges {
			p.Edges[i].Name, p.Edges[i].Was = fmt.Sprintf("e%d", i+1), ""
			p.Corners[i].Name = fmt.Sprintf("c%d", i+1)
		}
		p.Notches = nil
	}
	return c
}

func acceptAll(t testing.TB, g *pattern.Garment, h describe.Hints) *pattern.Garment {
	t.Helper()
	out, err := describe.Accept(g, describe.Propose(g, h), nil, nil)
	require.NoError(t, err)
	require.Empty(t, text.CheckNames(out))
	return out
}

func sentences(list []describe.Proposal, kind describe.Kind) []string {
	var out []string
	for _, p := range list {
		if p.Kind == kind {
			out = append(out, p.Sentence)
		}
	}
	return out
}

func questions(list []describe.Proposal) (open, settled []string) {
	for _, p := range list {
		if p.Choice != 0 {
			open = append(open, p.Sentence)
		} else {
			settled = append(settled, p.Sentence)
		}
	}
	return open, settled
}

func around(g *pattern.Garment) []string {
	var out []string
	for _, m := range g.Around {
		out = append(out, m.Name)
	}
	return out
}

func refs(list []pattern.Ref) string {
	var out []string
	for _, r := range list {
		out = append(out, r.String())
	}
	return strings.Join(out, " ")
}

// The lengths of the seams, front to back, that the scenario of the waistcoat
// publishes: 298, 284, 282, 321, 328, both sides equal. The pieces are given
// without anything but their names and their levels.
func TestLoosePiecesBecomeTheWaistcoat(t *testing.T) {
	want := waistcoat(t)
	sheet := map[string]float64{"front": 30, "side-front": 150, "underarm": 270, "side-back": 400, "back": 520, "button-stand": 700}
	for name, hints := range map[string]describe.Hints{"by the lengths alone": {}, "by the sheet": {SheetX: sheet}} {
		t.Run(name, func(t *testing.T) {
			g := acceptAll(t, loosened(want), hints)
			assert.Equal(t, pattern.LeftHalf, g.Half)
			assert.Equal(t, around(want), around(g))
			require.Len(t, g.Seams, 5)
			for i, mm := range []float64{298, 284, 282, 321, 328} {
				s := g.Seam(want.Seams[i].Name)
				require.NotNil(t, s, want.Seams[i].Name)
				assert.Equal(t, refs(want.Seams[i].First)+" "+refs(want.Seams[i].Second), refs(s.First)+" "+refs(s.Second))
				w, problem := measure.WalkSeam(g, s, measure.Accuracy)
				require.Nil(t, problem)
				assert.InDelta(t, mm, w.First.Length, 0.5, "the scenario rounds to 1 mm")
				assert.InDelta(t, 0, w.Difference, 0.01)
				require.Len(t, w.Segments, 2, "the waist notches cut it")
				assert.Equal(t, "waist", w.Segments[0].To)
			}
			assert.Equal(t, refs(want.Run("hem").Refs), refs(g.Run("hem").Refs))
			assert.Equal(t, refs(want.Run("neckline").Refs), refs(g.Run("top").Refs))
			assert.Empty(t, g.Closures, "how it opens is asked")
			for _, p := range g.Pieces {
				assert.Equal(t, want.Piece(p.Name).Edges, p.Edges, "names and lines")
				assert.Equal(t, want.Piece(p.Name).Corners[0].Name, p.Corners[0].Name)
			}
			for _, f := range check.Run(check.Input{Garment: g}) {
				assert.NotEqual(t, diag.Error, f.Severity, f.Message())
			}
		})
	}
}

func TestTheSentencesAreTheTradesWords(t *testing.T) {
	list := describe.Propose(loosened(waistcoat(t)), describe.Hints{})
	for i, p := range list {
		assert.Equal(t, i+1, p.Number)
	}
	assert.Equal(t, []string{"half left: the pieces draw one half of the garment"}, sentences(list, describe.OfHalf))
	assert.Equal(t, "names in back: e1 front, e2 hem, e3 back, e4 top, and the corners between them",
		sentences(list, describe.OfNames)[0])
	assert.Equal(t, []string{"around, front to back: front, side-front, underarm, side-back, back, button-stand"}, sentences(list, describe.OfAround))
	assert.Equal(t, "seam front-side-front: front.back 298.0 with side-front.front 298.0, equal; below the waist 112.0 with 112.0, above 186.0 with 186.0",
		sentences(list, describe.OfSeam)[0])
	assert.Equal(t, []string{
		"run hem, front to back: front.hem, side-front.hem, underarm.hem, side-back.hem, back.hem, button-stand.hem",
		"run top (neckline, or whatever ends it above), front to back: front.top, side-front.top, underarm.top, side-back.top, back.top, button-stand.top",
	}, sentences(list, describe.OfRun))
	assert.Equal(t, []string{
		"closure front lacing at front.front, 300.0 long, which nothing is sewn to",
		"closure front buttons at front.front, 300.0 long, which nothing is sewn to",
		"closure back lacing at button-stand.back, 315.0 long, which nothing is sewn to",
		"closure back buttons at button-stand.back, 315.0 long, which nothing is sewn to",
	}, sentences(list, describe.OfClosure))
	assert.Equal(t, "notches of seam front-side-front: waist where both sides cross it", sentences(list, describe.OfNotches)[0])
}

// Accepting all leaves nothing but the questions; answering them, nothing.
func TestASecondRunProposesNothing(t *testing.T) {
	g := loosened(waistcoat(t))
	first := describe.Propose(g, describe.Hints{})
	open, _ := questions(first)
	require.Len(t, open, 4)
	g = acceptAll(t, g, describe.Hints{})
	second := describe.Propose(g, describe.Hints{})
	again, settled := questions(second)
	assert.Equal(t, open, again)
	assert.Empty(t, settled)
	assert.True(t, pattern.Equal(g, acceptAll(t, g, describe.Hints{})))

	_, err := describe.Accept(g, second, []int{1, 2}, nil)
	assert.EqualError(t, err, "proposals 1 and 2 answer the same question; accept one")
	_, err = describe.Accept(g, second, []int{9}, nil)
	assert.EqualError(t, err, "there is no proposal 9; they are numbered 1 to 4")
	g, err = describe.Accept(g, second, []int{4, 1}, nil)
	require.NoError(t, err)
	assert.Equal(t, "lacing front.front", g.Closure("front").Kind+" "+refs(g.Closure("front").Edges))
	assert.Equal(t, "buttons button-stand.back", g.Closure("back").Kind+" "+refs(g.Closure("back").Edges))
	assert.Empty(t, describe.Propose(g, describe.Hints{}))
}

// The whole garment is described: there is nothing to propose but the notches.
func TestWhatTheMakerWroteStays(t *testing.T) {
	g := waistcoat(t)
	before := pattern.Clone(g)
	list := describe.Propose(g, describe.Hints{})
	assert.Len(t, sentences(list, describe.OfNotches), len(list))
	out := acceptAll(t, g, describe.Hints{})
	assert.Equal(t, before, g, "the garment that was given is not changed")
	for _, p := range out.Pieces {
		p.Notches = nil
	}
	assert.True(t, pattern.Equal(before, out))
}

func TestMakersNamesAreKept(t *testing.T) {
	g := loosened(waistcoat(t))
	p := g.Piece("front")
	p.Edges[0].Name, p.Corners[2].Name = "lacing-edge", "point"
	g.Piece("back").Edges[2].Name = "front" // not where we would put it
	g.Seams = []pattern.Seam{{Name: "mine", First: []pattern.Ref{{Piece: "front", Edge: "e3"}}, Second: []pattern.Ref{{Piece: "side-front", Edge: "e1"}}}}
	g = acceptAll(t, g, describe.Hints{})
	assert.Equal(t, []string{"lacing-edge", "hem", "back", "top"}, edgesOf(g, "front"))
	assert.Equal(t, "point", g.Piece("front").Corners[2].Name)
	assert.Equal(t, []string{"e1", "hem", "front", "top"}, edgesOf(g, "back"))
	assert.Equal(t, "front.back side-front.front", refs(g.Seam("mine").First)+" "+refs(g.Seam("mine").Second), "references follow")
	assert.Equal(t, "side-back.back back.e1", refs(g.Seam("side-back-back").First)+" "+refs(g.Seam("side-back-back").Second))
	assert.Len(t, g.Seams, 5)
}

func edgesOf(g *pattern.Garment, piece string) []string {
	var out []string
	for _, e := range g.Piece(piece).Edges {
		out = append(out, e.Name)
	}
	return out
}

// A seam may be accepted without the names: it then holds the old ones.
func TestASeamWithoutTheNames(t *testing.T) {
	g := loosened(waistcoat(t))
	list := describe.Propose(g, describe.Hints{})
	for _, p := range list {
		if p.Kind != describe.OfSeam {
			continue
		}
		out, err := describe.Accept(g, list, []int{p.Number}, nil)
		require.NoError(t, err)
		assert.Empty(t, text.CheckNames(out))
		assert.Equal(t, "front.e3 side-front.e1", refs(out.Seams[0].First)+" "+refs(out.Seams[0].Second))
		_, err = describe.Accept(out, list, []int{p.Number}, nil)
		assert.ErrorContains(t, err, "there is a seam front-side-front")
		break
	}
}

// ring draws a piece with straight edges; heights and depths in mm.
func ring(name string, xy ...float64) *pattern.Piece {
	p := &pattern.Piece{Name: name}
	for i := 0; i+1 < len(xy); i += 2 {
		n := i/2 + 1
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", n), At: curve.Pt(xy[i], xy[i+1])})
		p.Edges = append(p.Edges, pattern.Edge{Name: fmt.Sprintf("e%d", n)})
	}
	return p
}

// bodice is the half of one: centre front, hem, side, armhole, shoulder, neck.
func bodice() *pattern.Piece {
	p := ring("p", 0, 130, 0, -100, 150, -100, 150, 100, 100, 200, 40, 215)
	p.Edges[3].Segs = []pattern.Seg{{Curve: true, H1: curve.Pt(115, 100), H2: curve.Pt(105, 140), ToCorner: true}}
	p.Edges[5].Segs = []pattern.Seg{{Curve: true, H1: curve.Pt(38, 170), H2: curve.Pt(30, 130), ToCorner: true}}
	return p
}

func garment(pieces ...*pattern.Piece) *pattern.Garment {
	g := &pattern.Garment{Name: "g", Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}, Pieces: pieces}
	g.SortPieces()
	return g
}

func TestEdgesAreNamedByTheirPlace(t *testing.T) {
	for _, c := range []struct {
		what    string
		piece   *pattern.Piece
		edges   string
		corners string
	}{
		{"a panel, begun anywhere", ring("p", 0, -100, 80, -100, 80, 100, 0, 100), "hem back top front", "hem-front hem-back top-back top-front"},
		{"a steep hem and a steep top", ring("p", 0, 100, 0, -180, 60, -100, 60, 180), "front hem back top", "top-front hem-front hem-back top-back"},
		{"a wide low piece", ring("p", 0, 40, 0, 0, 700, 0, 700, 40), "front hem back top", "top-front hem-front hem-back top-back"},
		{"a side that bends at the waist", ring("p", 0, 100, 10, 0, 0, -100, 80, -100, 70, 0, 80, 100), "front-1 front-2 hem back-2 back-1 top", "top-front c2 hem-front hem-back c5 top-back"},
		{"a pointed hem", ring("p", 0, 100, 0, -100, 40, -135, 80, -100, 80, 100), "front hem-1 hem-2 back top", "top-front hem-front c3 hem-back top-back"},
		{"a point above", ring("p", 0, 200, -50, 0, 50, 0), "front hem back", "c1 hem-front hem-back"},
		{"half a bodice: what is above is not one line", bodice(), "front hem back e4 e5 e6", "c1 hem-front hem-back c4 c5 c6"},
		{"a square on its point", ring("p", 0, 100, -100, 0, 0, -100, 100, 0), "e1 e2 e3 e4", "c1 c2 c3 c4"},
	} {
		t.Run(c.what, func(t *testing.T) {
			g := acceptAll(t, garment(c.piece), describe.Hints{})
			assert.Equal(t, c.edges, strings.Join(edgesOf(g, "p"), " "))
			var corners []string
			for _, k := range g.Piece("p").Corners {
				corners = append(corners, k.Name)
			}
			assert.Equal(t, c.corners, strings.Join(corners, " "))
		})
	}
}

// Sides that were cut at the waist by the drawing are sewn as wholes.
func TestASideOfSeveralEdges(t *testing.T) {
	a := ring("a", 0, 100, 0, -100, 80, -100, 70, 0, 80, 100)
	b := ring("b", 0, 100, 10, 0, 0, -100, 90, -100, 90, 100)
	g := acceptAll(t, garment(a, b), describe.Hints{})
	require.Len(t, g.Seams, 1)
	assert.Equal(t, "a.back-2 a.back-1", refs(g.Seams[0].First), "in outline order, as it is sewn")
	assert.Equal(t, "b.front-1 b.front-2", refs(g.Seams[0].Second))
	w, problem := measure.WalkSeam(g, &g.Seams[0], measure.Accuracy)
	require.Nil(t, problem)
	assert.InDelta(t, 2*math.Hypot(10, 100), w.First.Length, 1e-9) // Pythagoras
	assert.InDelta(t, 0, w.Difference, 1e-9)
	assert.Empty(t, g.Pieces[0].Notches, "no notch stands at a corner")
}

// Three panels alike: every edge fits every other. The sheet decides it, or the
// maker.
func TestPanelsThatAreAllAlike(t *testing.T) {
	panels := func() *pattern.Garment {
		return garment(ring("a", 0, 0, 0, -300, 100, -300, 100, 0), ring("b", 0, 0, 0, -300, 100, -300, 100, 0), ring("c", 0, 0, 0, -300, 100, -300, 100, 0))
	}
	list := describe.Propose(panels(), describe.Hints{})
	assert.Empty(t, sentences(list, describe.OfAround))
	assert.Len(t, sentences(list, describe.OfSeam), 6, "each of three backs with two fronts")
	out := acceptAll(t, panels(), describe.Hints{})
	assert.Empty(t, out.Seams, "questions are not accepted")

	out, err := describe.Accept(panels(), list, pick(t, list, "seam a-c:", "seam c-b:"), nil)
	require.NoError(t, err)
	out = acceptAll(t, out, describe.Hints{})
	assert.Equal(t, []string{"a", "c", "b"}, around(out), "the next run goes on from there")

	out = acceptAll(t, panels(), describe.Hints{SheetX: map[string]float64{"b": 0, "a": 200, "c": 400}})
	assert.Equal(t, []string{"b", "a", "c"}, around(out))
	assert.Len(t, out.Seams, 2)
}

// pick gives the numbers of the proposals that begin so, and of all names.
func pick(t *testing.T, list []describe.Proposal, begins ...string) []int {
	var out []int
	for _, p := range list {
		if p.Kind == describe.OfNames {
			out = append(out, p.Number)
		}
	}
	for _, b := range begins {
		n := len(out)
		for _, p := range list {
			if strings.HasPrefix(p.Sentence, b) {
				out = append(out, p.Number)
			}
		}
		require.Len(t, out, n+1, b)
	}
	return out
}

// Two panels of which the wrong one lies first on the sheet: the edges know
// better.
func TestASheetThatIsNoOrder(t *testing.T) {
	g := loosened(waistcoat(t))
	sheet := map[string]float64{"front": 700, "side-front": 10, "underarm": 400, "side-back": 80, "back": 520, "button-stand": 300}
	assert.Equal(t, around(waistcoat(t)), around(acceptAll(t, g, describe.Hints{SheetX: sheet})))
}

func TestWhatDoesNotGoRound(t *testing.T) {
	g := loosened(waistcoat(t))
	strap := ring("shoulder-strap", 0, 100, 0, -198, 32, -198, 32, 100) // as long as a seam
	low := ring("frill", 0, -400, 0, -698, 90, -698, 90, -400)
	low.NoLevels = true
	g.Pieces = append(g.Pieces, strap, low)
	g.SortPieces()
	g = acceptAll(t, g, describe.Hints{})
	assert.Equal(t, around(waistcoat(t)), around(g))
	assert.Len(t, g.Seams, 5)
	assert.Equal(t, []string{"front", "hem", "back", "top"}, edgesOf(g, "shoulder-strap"), "it gets names all the same")
}

func TestEdgesThatDifferByMoreAreNoSeam(t *testing.T) {
	for _, c := range []struct {
		what  string
		b     *pattern.Piece
		seams int
	}{
		{"4.9 longer", ring("b", 0, 104.9, 0, -100, 90, -100, 90, 150), 1},
		{"5.1 longer", ring("b", 0, 105.1, 0, -100, 90, -100, 90, 150), 0},
		{"equal in the whole, but not from the waist", ring("b", 0, 106, 0, -94, 90, -94, 90, 150), 0},
	} {
		t.Run(c.what, func(t *testing.T) {
			g := acceptAll(t, garment(ring("a", 0, 60, 0, -100, 80, -100, 80, 100), c.b), describe.Hints{})
			assert.Len(t, g.Seams, c.seams)
		})
	}
}

func TestTheWholeGarment(t *testing.T) {
	g := garment(ring("front-left", 0, 100, 0, -100, 90, -100, 90, 110), ring("front-right", 0, 110, 0, -100, 90, -100, 90, 100))
	g.Half = ""
	list := describe.Propose(g, describe.Hints{})
	assert.Equal(t, []string{"whole: pieces front-right and front-left draw both halves"}, sentences(list, describe.OfHalf))
	assert.Equal(t, []string{
		"closure front lacing at front-left.front to front-right.back, 200.0 long, which nothing is sewn to",
		"closure front buttons at front-left.front to front-right.back, 200.0 long, which nothing is sewn to",
	}, sentences(list, describe.OfClosure))
}

func TestAFoldIsNoOpening(t *testing.T) {
	p := ring("a", 0, 100, 0, -100, 80, -100, 80, 90)
	p.Cloths = []pattern.Cloth{{Name: "wool", Count: 1, Cut: pattern.OnFold, Fold: pattern.Mention{Name: "e1"}}}
	list := describe.Propose(garment(p), describe.Hints{})
	assert.Len(t, sentences(list, describe.OfClosure), 2, "only the back opens")
	assert.Contains(t, sentences(list, describe.OfClosure)[0], "a.back")
}

func TestNothingToDescribe(t *testing.T) {
	assert.Empty(t, describe.Propose(nil, describe.Hints{}))
	assert.Empty(t, describe.Propose(&pattern.Garment{}, describe.Hints{}))
	broken := &pattern.Garment{Half: pattern.Whole, Levels: []pattern.Level{{Name: "waist"}}, Pieces: []*pattern.Piece{
		{Name: "none"}, {Name: "one", Edges: make([]pattern.Edge, 1)}, {Name: "short", Edges: make([]pattern.Edge, 3), Corners: make([]pattern.Corner, 2)},
		{Name: "zero", Edges: make([]pattern.Edge, 4), Corners: make([]pattern.Corner, 4)},
	}}
	assert.NotPanics(t, func() { describe.Propose(broken, describe.Hints{SheetX: map[string]float64{"none": math.NaN()}}) })
	out, err := describe.Accept(nil, nil, nil, nil)
	require.NoError(t, err)
	assert.True(t, pattern.Equal(&pattern.Garment{}, out))
}
