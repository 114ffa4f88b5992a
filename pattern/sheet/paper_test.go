package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
)

// ISO 216: A4 210 x 297, A3 297 x 420, A2 420 x 594, A1 594 x 841, A0 841 x 1189 mm
// (M. Kuhn, International standard paper sizes). Letter: 8.5 x 11 in.
func TestPapersHaveTheSizesOfTheStandards(t *testing.T) {
	for name, want := range map[string][2]float64{
		"a4": {210, 297}, "A3": {297, 420}, "a2": {420, 594}, "a1": {594, 841}, "a0": {841, 1189},
		"letter": {8.5 * 25.4, 11 * 25.4},
	} {
		p, err := ParsePaper(name)
		require.NoError(t, err)
		assert.InDelta(t, want[0], p.Width, 1e-9, name)
		assert.InDelta(t, want[1], p.Height, 1e-9, name)
		assert.False(t, p.Roll)
	}
	p, err := ParsePaper("roll:914")
	require.NoError(t, err)
	assert.Equal(t, 914.0, p.Width)
	assert.True(t, p.Roll)
}

func TestPapersThatCannotBe(t *testing.T) {
	for _, name := range []string{"", "a5x", "roll:", "roll:-3", "roll:0", "roll:nan", "roll:inf", "roll:1e9", "roll:ten"} {
		_, err := ParsePaper(name)
		assert.Error(t, err, name)
	}
}

func TestAPageSmallerThanItsMarginsIsAnError(t *testing.T) {
	g := load(t, waistcoat)
	for _, o := range []Options{
		{Paper: papers[0], Margin: 110}, {Paper: papers[0], Margin: 45}, {Paper: papers[0], Margin: -1},
		{Paper: Paper{Name: "roll:120", Width: 120, Height: 5000, Roll: true}},
	} {
		_, err := New(g, o)
		assert.Error(t, err, "%+v", o)
	}
	_, err := New(g, Options{Paper: papers[0], Margin: 25})
	assert.NoError(t, err)
}

func TestAPieceLargerThanTheRollIsAnErrorThatNamesIt(t *testing.T) {
	g := load(t, waistcoat)
	p := g.Piece("back")
	for i := range p.Corners {
		p.Corners[i].At.X *= 9
	}
	for i := range p.Edges {
		for k := range p.Edges[i].Segs {
			s := &p.Edges[i].Segs[k]
			s.H1.X, s.H2.X, s.To.X = s.H1.X*9, s.H2.X*9, s.To.X*9
		}
	}
	_, err := New(g, Options{Paper: Paper{Name: "roll:400", Width: 400, Height: 5000, Roll: true}})
	var large *TooLarge
	require.ErrorAs(t, err, &large)
	assert.Equal(t, "back", large.Piece)
	assert.Contains(t, err.Error(), "back")
}

func TestMeasuredIsReadAcrossAndUpwards(t *testing.T) {
	for s, want := range map[string]curve.Point{
		"98.6x99.2": curve.Pt(98.6, 99.2), "98.6": curve.Pt(98.6, 98.6), "101mm x 99mm": curve.Pt(101, 99), "97X98": curve.Pt(97, 98),
	} {
		got, err := ParseMeasured(s)
		require.NoError(t, err, s)
		assert.Equal(t, want, got, s)
	}
	for _, s := range []string{"", "x", "0x0", "98.6x", "9.86x9.92", "nanxnan", "1e3x100", "98x99x97"} {
		_, err := ParseMeasured(s)
		assert.Error(t, err, s)
	}
}
