package material_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/material"
	"seamkeep/pattern/measure"
)

func TestPiecesStandInTheOrderOfTheirLabelsClothByCloth(t *testing.T) {
	c := material.CuttingOf(laced(t), material.Version{Label: "v"})
	require.Len(t, c.Cloths, 2)
	assert.Equal(t, "canvas", c.Cloths[0].Name)
	assert.Equal(t, "lining", c.Cloths[1].Name)
	assert.Equal(t, 4, c.Cloths[0].Pieces, "two mirrored pairs")
	assert.Equal(t, 2, c.Cloths[1].Pieces)
	back, front := c.Cloths[0].Cuts[0], c.Cloths[0].Cuts[1]
	assert.Equal(t, []any{"back", 1, 2, 1, 2}, []any{back.Piece, back.Label, back.Of, back.Count, back.Pieces})
	assert.Equal(t, []any{"front", 2, 2}, []any{front.Piece, front.Label, front.Of})
	assert.Equal(t, pattern.Some(0), front.Grain)
	assert.False(t, back.Grain.Set)
	assert.True(t, c.Walked.Walked())
	assert.Equal(t, 1.5, c.Walked.Limit)
}

func TestTheNarrowerRecordDecidesTheAllowance(t *testing.T) {
	g := laced(t, "allowance 12", "allowance back 15", "allowance hem 25", "allowance back.hem 40", "allowance neckline 0")
	for _, c := range []struct {
		piece, edge string
		mm          float64
		from        material.Source
	}{
		{"front", "front", 12, material.FromAll},
		{"front", "hem", 25, material.FromRun},
		{"front", "top", 0, material.FromRun},
		{"back", "front", 15, material.FromPiece},
		{"back", "top", 0, material.FromRun},
		{"back", "hem", 40, material.FromEdge},
	} {
		mm, from := material.AllowanceOn(g, c.piece, c.edge)
		assert.Equal(t, c.mm, mm, "%s.%s", c.piece, c.edge)
		assert.Equal(t, c.from, from, "%s.%s", c.piece, c.edge)
	}
	twice := laced(t, "run waist front.hem", "allowance waist 7", "allowance hem 25")
	mm, from := material.AllowanceOn(twice, "front", "hem")
	assert.Equal(t, 25.0, mm, "of two runs the later record")
	assert.Equal(t, material.FromRun, from)
	mm, from = material.AllowanceOn(laced(t), "front", "front")
	assert.Zero(t, mm)
	assert.Equal(t, material.FromNone, from)
}

func TestTheListSaysWhetherTheSeamsMatch(t *testing.T) {
	g := laced(t)
	g.Piece("front").Corners[2].At.X += 40
	assert.False(t, material.CuttingOf(g, material.Version{}).Walked.Walked())
	g.Seams[0].Within = pattern.Some(30)
	w := material.CuttingOf(g, material.Version{}).Walked
	assert.Equal(t, 30.0, w.Limit, "no less is promised")
}

func TestHowOftenAPieceIsCut(t *testing.T) {
	g := garment(t, "half right\npiece yoke whole\n", map[string]string{
		"yoke":  oblong(80, 40),
		"belt":  oblong(40, 600, `cloth "webbing" 2 alike`),
		"back":  oblong(100, 200, `cloth "linen" 1 on fold front`),
		"front": oblong(100, 200),
		"strap": oblong(30, 400, `cloth "linen" 2 pair`),
	})
	got := map[string][2]int{}
	for _, cloth := range material.CuttingOf(g, material.Version{}).Cloths {
		for _, c := range cloth.Cuts {
			got[c.Piece] = [2]int{c.Count, c.Pieces}
			assert.Equal(t, c.Piece == "yoke" || c.Piece == "front", c.Assumed, c.Piece)
		}
	}
	assert.Equal(t, map[string][2]int{"yoke": {1, 1}, "belt": {2, 2}, "back": {1, 1}, "front": {1, 2}, "strap": {2, 4}}, got)
}

// Area by hand: a piece on the fold is twice what is drawn, and needs no allowance there.
func TestAPieceOnTheFoldCountsWhole(t *testing.T) {
	g := garment(t, "half left\nallowance 10\n", map[string]string{"back": oblong(100, 200, `cloth "linen" 1 on fold front`)})
	cloth := material.CuttingOf(g, material.Version{}).Cloths[0]
	c := cloth.Cuts[0]
	assert.InDelta(t, 2*100*200, c.Area, 1e-9)
	assert.InDelta(t, 2*10*(100+200+100), c.Allowance, 1e-9)
	assert.Equal(t, material.FromFold, c.Edges[0].Source)
	lay := material.LayOf(cloth, 1000)
	require.Len(t, lay.Placed, 1)
	assert.InDelta(t, 220, lay.Placed[0].Width-material.Between, 1e-9, "100 unfolded to both sides, and 10 at each back")
	assert.InDelta(t, 220, lay.Placed[0].Height-material.Between, 1e-9)
}

func TestTheGrainLinesUpWithTheCloth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.Float64Range(20, 400).Draw(t, "width"), rapid.Float64Range(20, 800).Draw(t, "height")
		turn := curve.Rotate(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn"))
		g := garment(t, "half left\nallowance 12\n", map[string]string{"p": oblong(50, 50, `cloth "x" 1 alike`, "grain 0 1 to 0 50")})
		p := g.Piece("p")
		for i, at := range []curve.Point{{X: 0, Y: h}, {X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}} {
			p.Corners[i].At = turn.Apply(at)
		}
		p.Grain.From, p.Grain.To = turn.Apply(curve.Pt(3, 0)), turn.Apply(curve.Pt(3, h))
		cloth := material.CuttingOf(g, material.Version{}).Cloths[0]
		lay := material.LayOf(cloth, 5000)
		require.Empty(t, lay.Why)
		assert.InDelta(t, w+24+material.Between, lay.Placed[0].Width, 1e-6)
		assert.InDelta(t, h+24, lay.Length, 1e-6)
		assert.True(t, cloth.Cuts[0].Grain.Value > -90-1e-9 && cloth.Cuts[0].Grain.Value <= 90)
	})
}

// The cut areas of a cloth are the pieces' areas times their counts.
func TestAreasAddUp(t *testing.T) {
	g := laced(t, "allowance 12")
	list := material.ListOf(g, material.Version{}, material.Options{})
	front, back := measure.Area(g.Piece("front")), measure.Area(g.Piece("back"))
	assert.InDelta(t, 2*front+2*back, list.Cloths[0].Area, 1e-6)
	assert.InDelta(t, 2*back, list.Cloths[1].Area, 1e-6)
	assert.InDelta(t, 12*2*(2*(100+300)+2*(120+300)), list.Cloths[0].Allowance, 1e-6)
}
