package material_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/material"
	"seamkeep/pattern/measure"
)

const inch = 25.4

func TestBonesAreShorterThanTheirChannels(t *testing.T) {
	for _, c := range []struct {
		name, record string
		want         float64
	}{
		// the waistcoat's own figures: channel 300, 9 at each end
		{"a channel of 300", "clearance bone 9", 282},
		// L. I. Baldt, Clothing for Women, waist linings: a bone stops 1/2 in short of its
		// casing; half of it at each end
		{"half an inch in all", "clearance bone 6.35", 300 - inch/2},
		// a maker's corset page (patterns.bplaced.net): 3 cm in all where a binding is sewn
		// on afterwards
		{"three centimetres in all", "clearance bone 15", 270},
		{"nothing recorded", "", 300},
		{"more than the channel", "clearance bone 200", 0},
	} {
		l := material.ListOf(laced(t, c.record), material.Version{}, material.Options{})
		require.Len(t, l.Bones, 1, c.name)
		assert.InDelta(t, c.want, l.Bones[0].Length, 1e-9, c.name)
		assert.Equal(t, 4, l.Bones[0].Count, "two on each half: %s", c.name)
		assert.Equal(t, 300.0, l.Bones[0].Channel)
		assert.Equal(t, pattern.Some(7), l.Bones[0].Width)
		assert.Contains(t, l.Cautions, check.BoneCaution)
	}
}

// A line that stops short is the bone as it is drawn; its channel runs on.
func TestABoneIsNoLongerThanItIsDrawn(t *testing.T) {
	g := laced(t, "clearance bone 9")
	m := &g.Piece("front").Marks[0]
	m.At, m.Segs[0].To = curve.Pt(5, 50), curve.Pt(5, 250)
	l := material.ListOf(g, material.Version{}, material.Options{})
	require.Len(t, l.Bones, 2)
	assert.Equal(t, []float64{282, 300}, []float64{l.Bones[0].Length, l.Bones[0].Channel})
	assert.Equal(t, []float64{200, 300}, []float64{l.Bones[1].Length, l.Bones[1].Channel})
}

func TestABoneThatSaysItsLengthIsNotReckoned(t *testing.T) {
	g := laced(t, "clearance bone 9")
	g.Piece("front").Marks[0].Length = pattern.Some(250)
	g.Piece("front").Marks[0].Only = "left"
	l := material.ListOf(g, material.Version{}, material.Options{})
	require.Len(t, l.Bones, 2)
	assert.Equal(t, []any{282.0, 2, false}, []any{l.Bones[0].Length, l.Bones[0].Count, l.Bones[0].Record})
	assert.Equal(t, []any{250.0, 1, true}, []any{l.Bones[1].Length, l.Bones[1].Count, l.Bones[1].Record})
}

// By hand: a cord along a quarter circle of 100, drawn as the usual cubic, which is
// longer than the arc by 0.014 % (see the tests of package curve).
func TestCordsFollowTheirCurve(t *testing.T) {
	g := garment(t, "half left\nclearance cord 2\n", map[string]string{
		"p": oblong(200, 200, `cloth "x" 1 pair`) + "cord c from 50 150\n  curve 105.228 150 150 105.228 to 150 50\n"})
	l := material.ListOf(g, material.Version{}, material.Options{})
	require.Len(t, l.Cords, 1)
	assert.InDelta(t, 157.1017, l.Cords[0].Length, 0.001)
	assert.InDelta(t, 50+157.1017+50, l.Cords[0].Channel, 0.001, "straight on to the sewing lines")
	assert.Equal(t, 2, l.Cords[0].Count)
}

func TestButtonsAndTheirHoles(t *testing.T) {
	g := laced(t, "buttons back from bust pitch 25 diameter 18 up 1 down 10")
	b := material.ListOf(g, material.Version{}, material.Options{}).Buttons
	require.Len(t, b, 1)
	assert.Equal(t, 12, b[0].Count, "one at the bust, 1 above, 10 below")
	assert.InDelta(t, 18+inch/8, b[0].Hole.Value, 1e-9, "or + 1/8 in (a sewing page of about.com)")

	// the same page: a button of 1 1/8 in that is 1/8 in thick takes a hole of 1 1/4 in
	g.Buttons[0].Diameter, g.Buttons[0].Thickness = pattern.Some(1.125*inch), pattern.Some(inch/8)
	b = material.ListOf(g, material.Version{}, material.Options{}).Buttons
	assert.InDelta(t, 1.25*inch, b[0].Hole.Value, 1e-9)
	assert.True(t, b[0].Thick)

	// marks alone, on a piece that no recorded closure touches
	p := g.Piece("front")
	p.Marks = []pattern.Mark{{Kind: pattern.Button, Name: "a", Diameter: pattern.Some(10)}, {Kind: pattern.Button, Name: "b", Diameter: pattern.Some(10), Only: "right"}}
	g.Piece("back").Marks = []pattern.Mark{{Kind: pattern.Button, Name: "again", Diameter: pattern.Some(18)}}
	b = material.ListOf(g, material.Version{}, material.Options{}).Buttons
	require.Len(t, b, 2)
	assert.Equal(t, []any{"front", 3, false}, []any{b[1].Of, b[1].Count, b[1].Closure})
}

// Eyelets: pitch = (L - 2 m)/(n - 1), 15 on 300 with margins of 10: exactly 20, which is
// within the 3 cm that a book of tailoring allows.
func TestEyeletsStandOnBothEdges(t *testing.T) {
	e := material.ListOf(laced(t, "eyelets front count 15 margin 10", "wanted gap front at waist 28 to 36", "wanted gap front at bust 30 to 50"), material.Version{}, material.Options{}).Eyelets
	require.Len(t, e, 1)
	assert.Equal(t, 30, e[0].Count)
	assert.InDelta(t, 20, e[0].Pitch.Value, 1e-9)
	assert.Equal(t, 1, e[0].Laces)
	assert.True(t, e[0].Lace.Wanted)
	assert.InDelta(t, 36, e[0].Lace.Gap, 1e-9)
	assert.InDelta(t, measure.EyeletInset, e[0].Lace.Inset, 1e-9, "none is marked")
	g := laced(t, "eyelets front count 15 margin 10", "wanted gap front at waist 28 to 36")
	g.Piece("front").Marks = []pattern.Mark{{Kind: pattern.Eyelet, Name: "e1", At: curve.Pt(14, 100)}, {Kind: pattern.Eyelet, Name: "e2", At: curve.Pt(12, 120)}, {Kind: pattern.Eyelet, Name: "else", At: curve.Pt(80, 120)}}
	assert.InDelta(t, 13, material.ListOf(g, material.Version{}, material.Options{}).Eyelets[0].Lace.Inset, 1e-9)
	none := material.ListOf(laced(t, "eyelets front count 15 margin 10"), material.Version{}, material.Options{}).Eyelets
	assert.False(t, none[0].Lace.Length.Set)
	assert.NotEmpty(t, none[0].Lace.Why)
}

// By hand: 2 x (100 + 120) less an overlap of 30 go round 410, so a body of 450 leaves 40 at
// the waist and one of 380 at the bust has the edges overlap by 30, which is laced shut: the
// lace is reckoned at (40 + 0)/2.
func TestEdgesThatOverlapAreLacedShut(t *testing.T) {
	g := laced(t, "body b", "eyelets front count 15 margin 10")
	b := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "waist", Value: 450}, {Level: "bust", Value: 380}}}
	lace := material.ListOf(g, material.Version{}, material.Options{Body: b}).Eyelets[0].Lace
	assert.InDelta(t, 20, lace.Gap, 1e-9)
	assert.Equal(t, 1, lace.Over)
}

// The level of a lacing may have its eyelets counted from it, as buttons are: 7 above the
// waist and 7 below it at 20 are the 15 of above.
func TestEyeletsCountedFromALevel(t *testing.T) {
	e := material.ListOf(laced(t, "eyelets front from waist pitch 20 up 7 down 7", "wanted gap front at waist 28 to 36"), material.Version{}, material.Options{}).Eyelets
	require.Len(t, e, 1)
	assert.Equal(t, []int{15, 30}, []int{e[0].Side, e[0].Count})
	assert.InDelta(t, 20, e[0].Pitch.Value, 1e-9)
	assert.InDelta(t, material.LaceLength(15, 20, 32, measure.EyeletInset), e[0].Lace.Length.Value, 1e-9)
}

// Hooks 1 1/4 in apart from the waist up and down (Text-Book on Domestic Art, 1911), 3 and
// 3 of them; a closure with both edges on each half is there twice, as a side lacing is.
func TestHooksAndSlides(t *testing.T) {
	g := laced(t, "closure side hooks front.back back.front", "hooks side from waist pitch 31.75 up 3 down 3",
		"closure slit slide front.top length 80", "closure bare slide back.top")
	l := material.ListOf(g, material.Version{}, material.Options{})
	assert.Equal(t, []material.Hooks{{Closure: "side", Count: 14, Pitch: pattern.Some(31.75)}}, l.Hooks)
	require.Len(t, l.Slides, 2)
	assert.Equal(t, []any{"slit", 1, pattern.Some(80)}, []any{l.Slides[0].Closure, l.Slides[0].Count, l.Slides[0].Length})
	assert.InDelta(t, 100, l.Slides[0].Edge.Value, 1e-9)
	assert.False(t, l.Slides[1].Length.Set)
}

// A closure without a record, or with one that says no number, is told: it would be
// forgotten at the shop.
func TestClosuresThatAreNotCountedAreTold(t *testing.T) {
	l := material.ListOf(laced(t, "buttons back pitch 25"), material.Version{}, material.Options{})
	require.Len(t, l.Cautions, 3)
	assert.Contains(t, l.Cautions[0], "Closure front: the garment file does not say how many eyelets")
	assert.Contains(t, l.Cautions[1], "Closure back: the garment file does not say how many buttons")
	counted := material.ListOf(laced(t, "buttons back count 9", "eyelets front count 12"), material.Version{}, material.Options{})
	assert.Equal(t, l.Cautions[2:], counted.Cautions)
}

func TestASideLacingIsThereTwice(t *testing.T) {
	g := laced(t, "closure sides lacing front.back back.front", "eyelets sides count 9 margin 12")
	e := material.ListOf(g, material.Version{}, material.Options{}).Eyelets
	require.Len(t, e, 1)
	assert.Equal(t, []int{36, 2}, []int{e[0].Count, e[0].Laces})
}

// The lace is followed from eyelet to eyelet, at the gap of the stays of Godey's Lady's
// Book, August 1857: the edges stand 1 1/2 in from the middle on each side, 3 in apart.
func TestTheLaceGoesThroughEveryEyelet(t *testing.T) {
	const n, pitch, gap = 12, inch, 3 * inch
	eyelet := func(side, row int) (x, y float64) {
		x = gap/2 + measure.EyeletInset
		if side == 0 {
			x = -x
		}
		return x, float64(row) * pitch
	}
	length := 2 * material.LaceEnd
	passed := map[[2]int]bool{}
	through := func(fromSide, fromRow, toSide, toRow int) {
		x0, y0 := eyelet(fromSide, fromRow)
		x1, y1 := eyelet(toSide, toRow)
		length += math.Hypot(x1-x0, y1-y0)
		passed[[2]int{fromSide, fromRow}], passed[[2]int{toSide, toRow}] = true, true
	}
	through(0, 0, 1, 0) // the bar
	for row := range n - 1 {
		through(0, row, 1, row+1)
		through(1, row, 0, row+1)
	}
	assert.Len(t, passed, 2*n)
	assert.InDelta(t, length, material.LaceLength(n, pitch, gap, measure.EyeletInset), 1e-9)
	assert.InDelta(t, 2*(n-1)*pitch+2*material.LaceEnd, material.LaceLength(n, pitch, -500, 15), 1e-9, "nothing is negative")
}

// Binding is the top and bottom run and 10 %: common practice, no source.
func TestBoundRunsNeedBinding(t *testing.T) {
	l := material.ListOf(laced(t, "allowance 12", "allowance neckline 0", "allowance hem 25"), material.Version{}, material.Options{})
	require.Len(t, l.Bindings, 1)
	assert.Equal(t, "neckline", l.Bindings[0].Run)
	assert.InDelta(t, 2*(100+120), l.Bindings[0].Length, 1e-9)
	assert.InDelta(t, 484, l.Bindings[0].Buy, 1e-9)
	assert.Empty(t, material.ListOf(laced(t), material.Version{}, material.Options{}).Bindings, "nothing is recorded as bound")
}

func TestElasticSaysWhatItWasTestedTo(t *testing.T) {
	g := laced(t, "allowance 12")
	g.Options = append(g.Options, pattern.PieceOption{Piece: "front", Stretch: pattern.Some(15), Of: pattern.Some(60), Tested: "2026-04-30"})
	g.Options = g.Options[1:]
	g.Piece("front").Corners[3].At.X = 130 // wider at the top
	l := material.ListOf(g, material.Version{}, material.Options{Width: 1500})
	require.Len(t, l.Elastics, 1)
	e := l.Elastics[0]
	assert.Equal(t, []any{"front", 15.0, pattern.Some(60), "2026-04-30", 2}, []any{e.Piece, e.InUse, e.Of, e.Tested, e.Count})
	assert.InDelta(t, 100, e.Narrowest, 1e-9)
	assert.InDelta(t, 100+30*160/300.0, e.Widest, 1e-9)
	assert.InDelta(t, 116*1.15, e.Worn(), 1e-9, "15 per cent more than it is cut")
	assert.InDelta(t, 300, e.Length, 1e-9)
	assert.Contains(t, l.Cautions, check.ElasticCaution)
	assert.False(t, l.Cloths[0].Elastic, "canvas is cut for the back too")
	assert.Equal(t, 1500.0, l.Cloths[0].Lay.Width)
}

// A strip of 60 at 15 % covers 69: by hand.
func TestElasticIsCutNarrowerThanItIsWorn(t *testing.T) {
	g := garment(t, "half left\nlevel waist 0\npiece strip stretch 15 of 60 tested 2026-04-30\n", map[string]string{
		"strip": oblong(60, 280, `cloth "elastic" 1 pair`)})
	e := material.ListOf(g, material.Version{}, material.Options{}).Elastics
	require.Len(t, e, 1)
	assert.InDelta(t, 69, e[0].Worn(), 1e-9)
}

// Front and back of 100 and 120, twice, less an overlap of 30: 410 round the waist laced shut.
func TestAGarmentThatPressesBringsItsCaution(t *testing.T) {
	for waist, presses := range map[float64]bool{411: true, 409: false} {
		b := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "waist", Value: waist}}}
		l := material.ListOf(laced(t), material.Version{}, material.Options{Body: b})
		assert.Equal(t, presses, slices.Contains(l.Cautions, check.Caution), "%g", waist)
	}
	assert.NotContains(t, material.ListOf(laced(t), material.Version{}, material.Options{}).Cautions, check.Caution, "nothing is known of a body")
}

func TestNothingIsNeededForNothing(t *testing.T) {
	l := material.ListOf(garment(t, "whole\n", nil), material.Version{}, material.Options{})
	assert.Equal(t, "g", l.Garment)
	assert.Empty(t, l.Cloths)
	assert.Empty(t, l.Cautions)
}
