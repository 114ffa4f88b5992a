package material_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern/material"
)

// By hand: four boxes of 90 by 290 with 10 round them fill a cloth of 190 twice.
func TestALayThatFitsExactly(t *testing.T) {
	g := garment(t, "half left\n", map[string]string{"p": oblong(90, 290, `cloth "x" 2 pair`)})
	lay := material.LayOf(material.CuttingOf(g, material.Version{}).Cloths[0], 190)
	require.Len(t, lay.Placed, 4)
	assert.InDelta(t, 590, lay.Length, 1e-9)
	assert.InDelta(t, 4*90*290/(190*590.0), lay.Filled, 1e-9)
	assert.InDelta(t, lay.Filled, lay.Boxed, 1e-9, "the pieces are their boxes")
	mirrored := 0
	for _, b := range lay.Placed {
		if b.Mirrored {
			mirrored++
		}
	}
	assert.Equal(t, 2, mirrored)
}

// Pointed corners reach out further than their allowance: by hand, of a triangle 100 wide
// and 150 high with 20 all round, the foot ends in the mitre's limit of 3 x 20 (20 / sin of
// half its angle would be 63.2), and the upper corners reach out by 20 / tan 35.783 degrees.
func TestALayHoldsTheCornersOfTheCutLine(t *testing.T) {
	g := garment(t, "whole\nallowance 20\n", map[string]string{"flag": `cloth "linen" 1 alike
corner a 0 0
edge left
corner b 50 -150
edge right
corner c 100 0
edge top
`})
	lay := material.LayOf(material.CuttingOf(g, material.Version{}).Cloths[0], 1400)
	require.Empty(t, lay.Why)
	assert.InDelta(t, 20+150+60, lay.Length, 0.11)
	assert.InDelta(t, 100+2*20/math.Tan(math.Atan(3)/2), lay.Placed[0].Width-material.Between, 0.11)
}

func TestLaysThatCannotBe(t *testing.T) {
	g := garment(t, "half left\nallowance 12\n", map[string]string{"p": oblong(90, 290, `cloth "x" 2 pair`)})
	cloth := material.CuttingOf(g, material.Version{}).Cloths[0]
	assert.Contains(t, material.LayOf(cloth, 113).Why, "p is 114 mm wide")
	assert.Empty(t, material.LayOf(cloth, 114).Why)
	cloth.Cuts[0].Pieces = material.MostLaid + 1
	assert.Contains(t, material.LayOf(cloth, 1400).Why, "more than 2000 pieces")
	g.Piece("p").Corners = nil
	assert.Contains(t, material.LayOf(material.CuttingOf(g, material.Version{}).Cloths[0], 1400).Why, "the outline of p is faulty")
}

// No box lies on another one or off the cloth, each piece is there as often as it is
// cut, and the cloth is at least as large as what lies on it.
func TestNoLayOverlaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces := map[string]string{}
		want := map[string]int{}
		for i := range rapid.IntRange(1, 12).Draw(t, "pieces") {
			name := fmt.Sprintf("p%d", i)
			size := func(what string) float64 { return float64(rapid.IntRange(5, 300).Draw(t, what)) }
			count := rapid.IntRange(1, 4).Draw(t, "count")
			way := rapid.SampledFrom([]string{"pair", "alike"}).Draw(t, "way")
			want[name] = count
			if way == "pair" {
				want[name] = 2 * count
			}
			pieces[name] = oblong(size("width"), size("height"), fmt.Sprintf(`cloth "x" %d %s`, count, way))
		}
		g := garment(t, "half left\nallowance 7\n", pieces)
		width := float64(rapid.IntRange(320, 1500).Draw(t, "cloth"))
		lay := material.LayOf(material.CuttingOf(g, material.Version{}).Cloths[0], width)
		require.Empty(t, lay.Why)
		got := map[string]int{}
		for i, a := range lay.Placed {
			got[a.Piece]++
			assert.True(t, a.X >= 0 && a.Y >= 0 && a.X+a.Width <= width+material.Between+1e-6, "%+v", a)
			assert.LessOrEqual(t, a.Y+a.Height, lay.Length+material.Between+1e-6)
			for _, b := range lay.Placed[:i] {
				apart := a.X+a.Width <= b.X+1e-6 || b.X+b.Width <= a.X+1e-6 || a.Y+a.Height <= b.Y+1e-6 || b.Y+b.Height <= a.Y+1e-6
				assert.True(t, apart, "%+v on %+v", a, b)
			}
		}
		assert.Equal(t, want, got)
		assert.True(t, lay.Filled > 0 && lay.Filled <= lay.Boxed+1e-9 && lay.Boxed <= 1+1e-9, "%+v", lay)
		again := material.LayOf(material.CuttingOf(g, material.Version{}).Cloths[0], width)
		assert.Equal(t, lay, again)
	})
}
