package sheet

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

func drawn(g *pattern.Garment, name string) *figure {
	face := ink.DejaVu()
	p := g.Piece(name)
	return newFigure(g, p, guise{}, labelOf(g, p, guise{}, good, 3, face), face)
}

// Without colour: the one solid and bold, the other thin and dashed.
func TestCutAndSewingLineAreToldApartInGrey(t *testing.T) {
	f := drawn(demo(t), "side-front")
	var cut, sewing *ink.Stroke
	for i, s := range f.drawing.Strokes {
		switch {
		case s.Layer == ink.Cut && len(s.Path) > 3:
			cut = &f.drawing.Strokes[i]
		case s.Layer == ink.Sewing && len(s.Path) > 3:
			sewing = &f.drawing.Strokes[i]
		}
	}
	require.NotNil(t, cut)
	require.NotNil(t, sewing)
	assert.Empty(t, cut.Dash)
	assert.NotEmpty(t, sewing.Dash)
	assert.GreaterOrEqual(t, cut.Width, 2*sewing.Width)
	// the demo's allowance is 12 mm but for neckline and hem, which have none
	far := curve.Directed(cut.Path, sewing.Path, 0.01).Dist
	assert.Greater(t, far, 11.9)
}

// Each notch is drawn from the sewing line to the cut line.
func TestNotchesAreCarriedToTheCutLine(t *testing.T) {
	g := demo(t)
	for _, name := range []string{"front", "side-front", "back", "gusset"} {
		f := drawn(g, name)
		carried := 0
		for _, s := range f.drawing.Strokes {
			if s.Layer != ink.Sewing || len(s.Path) != 1 {
				continue
			}
			carried++
			sewing := f.piece.Outline().Transform(f.view)
			assert.InDelta(t, 0, sewing.Nearest(s.Path.Start()).Dist, 1e-3, name)
			assert.InDelta(t, 0, f.outer[0].Nearest(s.Path.End()).Dist, 0.02, name)
		}
		assert.Equal(t, len(f.piece.Notches), carried, name)
	}
}

// The label stands inside the sewing line, and off the bones, also where little room
// is left; where none is, beside the piece with a line to it.
func TestLabelsStandInsideThePieceAndOffItsMarks(t *testing.T) {
	g := demo(t)
	for _, p := range g.Pieces {
		f := drawn(g, p.Name)
		sewing := &figure{outer: []curve.Path{p.Outline().Transform(f.view)}, face: f.face}
		lines := f.drawing.Texts[:0:0]
		for _, x := range f.drawing.Texts {
			if x.Layer == ink.Labels {
				lines = append(lines, x)
			}
		}
		require.NotEmpty(t, lines)
		for _, x := range lines {
			for _, c := range x.Corners(f.face, 0) {
				assert.True(t, sewing.holds(c), "%s: %q leaves the piece", p.Name, x.Words)
			}
			for _, m := range p.Marks {
				if m.Kind == pattern.Bone {
					bone := m.Path().Transform(f.view)
					assertOff(t, x.Corners(f.face, 0), bone, m.Width.Or(0)/2, p.Name+": "+x.Words)
				}
			}
		}
	}
}

// assertOff wants a text off the channel of an upright bone.
func assertOff(t *testing.T, c [4]curve.Point, line curve.Path, half float64, words string) {
	channel := line.Bounds()
	channel.Min.X, channel.Max.X = channel.Min.X-half, channel.Max.X+half
	for i := range c {
		side := curve.Line(c[i], c[(i+1)%4])
		for k := range 21 {
			p := side.At(float64(k) / 20)
			assert.False(t, within(curve.EmptyBox().Add(p), channel), words)
		}
	}
}

func TestAPieceTooNarrowForItsLabelBearsItBesideWithALine(t *testing.T) {
	f := drawn(oblong(size{8, 200}), "p0")
	right := f.outerBox().Max.X
	beside, leader := false, false
	for _, x := range f.drawing.Texts {
		beside = beside || x.Layer == ink.Labels && x.At.X > right && x.Words == "M2-3/1"
	}
	for _, s := range f.drawing.Strokes {
		leader = leader || s.Layer == ink.Labels && s.Path.Bounds().Min.X < right && s.Path.Bounds().Max.X > right
	}
	assert.True(t, beside)
	assert.True(t, leader)
	assert.Greater(t, f.box.Max.X, right+20, "which asks for room on the page")
}

// The demo's card: 12 buttons at pitch 25, half the overlap of 30 inside the edge; 15
// eyelets on 300 mm with margins of 10, so 20 apart ((L - 2 m)/(n - 1)).
func TestButtonsAndEyeletsStandWhereTheGarmentPutsThem(t *testing.T) {
	g := demo(t)
	for _, p := range g.Pieces { // else its own marks are drawn
		p.Marks = slices.DeleteFunc(p.Marks, func(m pattern.Mark) bool { return !m.Kind.IsLine() })
	}
	f := drawn(g, "button-stand")
	edge := f.piece.EdgePath(f.piece.EdgeIndex("back"))
	var heights []float64
	for _, s := range f.drawing.Strokes {
		if b := s.Path.Bounds(); len(s.Path) == 4 && math.Abs(b.Width()-18) < 0.01 {
			middle := b.Min.Lerp(b.Max, 0.5)
			heights = append(heights, middle.Y)
			assert.InDelta(t, 15, edge.Nearest(middle).Dist, 0.01)
		}
	}
	require.Len(t, heights, 12)
	for i := 1; i < len(heights); i++ {
		assert.InDelta(t, 25, math.Abs(heights[i]-heights[i-1]), 0.01)
	}
	ticks := []float64{}
	front := drawn(g, "front")
	for _, s := range front.drawing.Strokes {
		if b := s.Path.Bounds(); s.Layer == ink.Marks && len(s.Path) == 1 && math.Abs(b.Min.X) < 1e-9 && math.Abs(b.Width()-3) < 1e-9 {
			ticks = append(ticks, b.Min.Y)
		}
	}
	require.Len(t, ticks, 15)
	for i := 1; i < len(ticks); i++ {
		assert.InDelta(t, 20, math.Abs(ticks[i]-ticks[i-1]), 1e-6)
	}
}

// Buttons on one half, holes on the other, as the marks say.
func TestMarksOfOneHalfStandOnThatHalfAlone(t *testing.T) {
	g := oblong(size{200, 300})
	g.Pieces[0].Marks = []pattern.Mark{
		{Kind: pattern.Button, Name: "b", At: curve.Pt(20, 50), Diameter: pattern.Some(18), Only: "left"},
		{Kind: pattern.Buttonhole, Name: "h", At: curve.Pt(20, 50), Length: pattern.Some(21), Only: "right"},
	}
	s, _ := setUp(t, g, Options{Paper: papers[2], Both: true})
	require.Len(t, s.figures, 2)
	for i, want := range []string{"button b, 18", "buttonhole h, 21"} {
		var words []string
		for _, x := range s.figures[i].drawing.Texts {
			words = append(words, x.Words)
		}
		assert.Contains(t, words, want)
		assert.NotContains(t, words, []string{"buttonhole h, 21", "button b, 18"}[i])
	}
	one, _ := setUp(t, g, Options{Paper: papers[2]})
	var words []string
	for _, x := range one.figures[0].drawing.Texts {
		words = append(words, x.Words)
	}
	assert.Contains(t, words, "button b, 18 (left only)")
}

// The strap of the demo was turned by 8 degrees; on paper its grain stands upright,
// and no length of it changes.
func TestGrainStandsUpright(t *testing.T) {
	g := demo(t)
	for _, p := range g.Pieces {
		f := drawn(g, p.Name)
		from, to := f.at(p.Grain.From), f.at(p.Grain.To)
		assert.InDelta(t, from.X, to.X, 1e-6, p.Name)
		assert.InDelta(t, p.Grain.From.Dist(p.Grain.To), from.Dist(to), 1e-9, p.Name)
		assert.InDelta(t, p.Outline().Length(1e-6), p.Outline().Transform(f.view).Length(1e-6), 1e-5, p.Name)
	}
}

func TestFoldEdgesBearABracketAndNoAllowance(t *testing.T) {
	g := oblong(size{120, 200})
	g.Allowances = []pattern.Allowance{{Value: 10}}
	g.Pieces[0].Cloths = []pattern.Cloth{{Name: "canvas", Count: 1, Cut: pattern.OnFold, Fold: pattern.Mention{Name: "e3"}}}
	f := drawn(g, "p0")
	assert.InDelta(t, 0, f.outerBox().Min.X, 1e-6, "cut on the fold itself")
	assert.InDelta(t, 130, f.outerBox().Max.X, 1e-6)
	heads, words := 0, []string{}
	for _, s := range f.drawing.Strokes {
		if s.Fill && s.Path.Bounds().Max.X < 8 {
			heads++
		}
	}
	for _, x := range f.drawing.Texts {
		words = append(words, x.Words)
	}
	assert.Equal(t, 2, heads, "two arrows point at the fold")
	assert.Contains(t, words, "e3, place on fold")
	assert.Contains(t, words, "e1, allowance 10")
	assert.Contains(t, words, "canvas: cut 1 on the fold e3")
}

func TestWhatIsChalkedOnThePieces(t *testing.T) {
	for _, c := range []struct {
		v    Version
		want string
	}{
		{Version{Commit: "1a2b3c4", Tag: "mock-up-1", Kept: true}, "M1-3/7"},
		{Version{Commit: "1a2b3c4", Tag: "waistcoat/toile-12", Kept: true}, "T12-3/7"},
		{Version{Commit: "1a2b3c4", Tag: "final", Kept: true}, "final-3/7"},
		{Version{Commit: "1a2b3c4", Tag: "2026", Kept: true}, "2026-3/7"},
		{Version{Commit: "1a2b3c4", Kept: true}, "1a2b3c4-3/7"},
		{Version{Commit: "1a2b3c4", Tag: "mock-up-1"}, "1a2b3c4+-3/7"},
		{Version{}, "?-3/7"},
	} {
		assert.Equal(t, c.want, c.v.code(3, 7))
	}
}

func TestPiecesAreNumberedAsTheGarmentSays(t *testing.T) {
	g := oblong(size{10, 10}, size{10, 10}, size{10, 10})
	assert.Equal(t, map[string]int{"p0": 1, "p1": 2, "p2": 3}, numbering(g), "by name")
	g.Around = []pattern.Mention{{Name: "p2"}, {Name: "p1"}}
	assert.Equal(t, map[string]int{"p2": 1, "p1": 2, "p0": 3}, numbering(g), "those that go round come first")
	g.Options = []pattern.PieceOption{{Piece: "p0", Number: 2}, {Piece: "p1", Number: 3}, {Piece: "p2", Number: 1}}
	assert.Equal(t, map[string]int{"p0": 2, "p1": 3, "p2": 1}, numbering(g))
	g.Options[2].Number = 2
	assert.Equal(t, map[string]int{"p2": 1, "p0": 2, "p1": 3}, numbering(g), "a number given twice: in their order, then around")
}

// Nothing is printed of a piece that has no line to be cut along; one of a garment
// without allowances says that it shows the sewing line alone.
func TestAPieceWithoutACutLineIsNotPrinted(t *testing.T) {
	g := oblong(size{100, 150})
	p := g.Pieces[0]
	says := func(s *Sheet) bool {
		for _, x := range s.Book.Pages[0].Parts[0].Drawing.Texts {
			if x.Words == "NO ALLOWANCE: only the sewing line" {
				return true
			}
		}
		return false
	}
	assert.True(t, says(made(t, g, Options{})))
	g.Allowances = []pattern.Allowance{{Value: 10}}
	assert.False(t, says(made(t, g, Options{})))
	p.Corners[2].At = curve.Pt(-50, 75) // the outline crosses itself
	s, err := New(g, Options{Paper: papers[0]})
	assert.Nil(t, s)
	var none *NoCutLine
	require.ErrorAs(t, err, &none)
	assert.Equal(t, IDOutline, none.Problems[0].ID)
}

// Buttons stand on one half and their holes on the other: a piece that is drawn once for
// both says so in its label, which is never left out for want of room.
func TestAPieceDrawnOnceSaysWhichHalfHasWhichMarks(t *testing.T) {
	g := oblong(size{100, 150})
	for i, y := range []float64{40, 80} {
		at := curve.Pt(10, y)
		g.Pieces[0].Marks = append(g.Pieces[0].Marks,
			pattern.Mark{Kind: pattern.Button, Name: fmt.Sprint("b", i), At: at, Only: "left"},
			pattern.Mark{Kind: pattern.Buttonhole, Name: fmt.Sprint("h", i), At: at, Only: "right"})
	}
	const want = "left only: 2 buttons; right only: 2 buttonholes"
	says := func(o Options) []bool {
		s, _ := setUp(t, g, o)
		var out []bool
		for _, f := range s.figures {
			out = append(out, slices.ContainsFunc(f.words, func(w words) bool { return w.text == want }))
		}
		return out
	}
	assert.Equal(t, []bool{true}, says(Options{Paper: papers[0]}))
	assert.Equal(t, []bool{false, false}, says(Options{Paper: papers[0], Both: true}), "each half shows its own")
}
