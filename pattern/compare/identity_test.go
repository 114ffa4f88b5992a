package compare_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

func compareOne(t *testing.T, change func(p *pattern.Piece)) compare.PieceChange {
	a, b := one(), one()
	change(b.Pieces[0])
	c := compare.Garments(a, b, compare.Options{})
	require.Len(t, c.Pieces, 1)
	return c.Pieces[0]
}

func TestARenamedEdgeIsTheSameEdge(t *testing.T) {
	p := compareOne(t, func(p *pattern.Piece) { p.Edges[1].Name = "lower" })
	require.Len(t, p.Edges, 4)
	assert.Equal(t, compare.Renamed, p.Edges[1].Status)
	assert.Equal(t, []string{"hem"}, p.Edges[1].Was)
	assert.Equal(t, "p: hem is called lower now", p.Sentence())
	assert.Equal(t, compare.Changed, p.Status)
	assert.False(t, p.Moved)
}

func TestTwoEdgesThatSwapNamesAreNotRedrawn(t *testing.T) {
	p := compareOne(t, func(p *pattern.Piece) {
		p.Edges[0].Name, p.Edges[2].Name = p.Edges[2].Name, p.Edges[0].Name
	})
	assert.False(t, p.Moved)
	assert.Equal(t, "p: front is called back now; back is called front now", p.Sentence())
}

func TestACornerOnAnEdgeSplitsIt(t *testing.T) {
	split := func(p *pattern.Piece) {
		middle := p.Corners[1].At.Lerp(p.Corners[2].At, 0.5)
		p.Corners = append(p.Corners[:2:2], append([]pattern.Corner{{Name: "middle", At: middle}}, p.Corners[2:]...)...)
		p.Edges = append(p.Edges[:2:2], append([]pattern.Edge{{Name: "hem-back"}}, p.Edges[2:]...)...)
	}
	p := compareOne(t, split)
	assert.False(t, p.Moved)
	assert.Equal(t, []compare.Status{"unchanged", "split", "split", "unchanged", "unchanged"}, statuses(p))
	a, b := one(), one()
	split(a.Pieces[0])
	p = compare.Garments(a, b, compare.Options{}).Pieces[0]
	assert.Equal(t, []compare.Status{"unchanged", "joined", "unchanged", "unchanged"}, statuses(p))
	assert.Equal(t, []string{"hem", "hem-back"}, p.Edges[1].Was)
}

func statuses(p compare.PieceChange) []compare.Status {
	var out []compare.Status
	for _, e := range p.Edges {
		out = append(out, e.Status)
	}
	return out
}

// turned moves a piece and all that stands on it by a rigid movement, rounded
// as a file rounds.
func turned(p *pattern.Piece, fit curve.Affine) {
	for i := range p.Corners {
		p.Corners[i].At = pattern.Round(fit.Apply(p.Corners[i].At))
	}
	for _, e := range p.Edges {
		for i := range e.Segs {
			e.Segs[i].H1, e.Segs[i].H2 = pattern.Round(fit.Apply(e.Segs[i].H1)), pattern.Round(fit.Apply(e.Segs[i].H2))
		}
	}
	for i := range p.Marks {
		p.Marks[i].At = pattern.Round(fit.Apply(p.Marks[i].At))
	}
	if p.Grain != nil {
		p.Grain = &pattern.Grain{From: pattern.Round(fit.Apply(p.Grain.From)), To: pattern.Round(fit.Apply(p.Grain.To))}
	}
}

func strapGarment() *pattern.Garment {
	g := one()
	p := g.Pieces[0]
	p.NoLevels = true
	p.Grain = &pattern.Grain{From: curve.Pt(10, 10), To: curve.Pt(10, 60)}
	p.Marks = []pattern.Mark{{Kind: pattern.Drill, Name: "d", At: curve.Pt(20, 30)}}
	return g
}

func TestAPieceMovedAsAWholeIsNotRedrawn(t *testing.T) {
	a, b := strapGarment(), strapGarment()
	angle := 8 * math.Pi / 180
	turned(b.Pieces[0], curve.Rotate(angle).Then(curve.Translate(5, -3)))
	p := compare.Garments(a, b, compare.Options{}).Pieces[0]
	assert.Equal(t, compare.Moved, p.Status)
	assert.InDelta(t, angle, p.Fit.Angle, 1e-4)
	assert.Contains(t, p.Sentence(), "turned 8.0 degrees")
	assert.Empty(t, p.Records, "grain and marks went with it")
	b.Pieces[0].Marks[0].At.X += 4
	p = compare.Garments(a, b, compare.Options{}).Pieces[0]
	assert.Equal(t, []string{"drill d moved 4.0"}, p.Records)
	assert.Equal(t, compare.Changed, p.Status)
}

func TestATurnedPieceWithLevelsIsChanged(t *testing.T) {
	a, b := strapGarment(), strapGarment()
	for _, g := range []*pattern.Garment{a, b} {
		g.Levels, g.Pieces[0].NoLevels = []pattern.Level{{Name: "waist"}}, false
	}
	turned(b.Pieces[0], curve.Rotate(0.1))
	p := compare.Garments(a, b, compare.Options{}).Pieces[0]
	assert.Equal(t, compare.Changed, p.Status)
	assert.Equal(t, curve.Rigid{}, p.Fit)
}

func TestARenamedPieceIsTheSamePiece(t *testing.T) {
	a, b := one(), one()
	b.Pieces[0].Name = "yoke"
	for name, was := range map[string]string{"with its former name": "p", "by its shape alone": ""} {
		t.Run(name, func(t *testing.T) {
			b.Pieces[0].Was = was
			c := compare.Garments(a, b, compare.Options{})
			require.Len(t, c.Pieces, 1)
			assert.Equal(t, compare.Renamed, c.Pieces[0].Status)
			assert.Equal(t, "yoke: was p", c.Pieces[0].Sentence())
			assert.True(t, pattern.Equal(b, compare.Apply(a, c.Edits)))
		})
	}
}

func TestAPieceThatWasSplitIsToldUnderItsLaterNames(t *testing.T) {
	a, b := one(), one()
	left := b.Pieces[0]
	right := pattern.Clone(left)
	left.Name, right.Name = "left", "right"
	left.Was, right.Was = "p", "p"
	for i := range left.Corners {
		if left.Corners[i].At.X > 50 {
			left.Corners[i].At.X = 50
		} else {
			right.Corners[i].At.X = 50
		}
	}
	b.SortPieces()
	b.Pieces = []*pattern.Piece{left, right}
	c := compare.Garments(a, b, compare.Options{})
	require.Len(t, c.Pieces, 2)
	assert.Equal(t, "left split off p", c.Pieces[0].Sentence())
	assert.Equal(t, compare.Split, c.Pieces[1].Status)
	c = compare.Garments(b, a, compare.Options{})
	require.Len(t, c.Pieces, 1)
	assert.Equal(t, "p joined from left and right", c.Pieces[0].Sentence())
}

// The cloth gained and lost is exact for straight edges: a side of 250 mm let
// out by 10 gains 2500 mm2, and the greatest distance is 10.
func TestClothGainedAndGreatestDistance(t *testing.T) {
	p := compareOne(t, func(p *pattern.Piece) {
		for i := range p.Corners {
			if p.Corners[i].At.X > 0 {
				p.Corners[i].At.X += 10
			}
		}
	})
	height := p.Before.Outline().Bounds().Height()
	assert.InDelta(t, 10*height, p.Gained.Value, 1e-2)
	assert.InDelta(t, 0, p.Lost.Value, 1e-2)
	assert.InDelta(t, 10, p.Deviation.Value, 1e-3)
	d, ok := p.Area.Delta()
	require.True(t, ok)
	assert.InDelta(t, d, p.Gained.Value-p.Lost.Value, 1e-2, "gained less lost is the difference of the areas")
}

func TestLaidIsTheEarlierVersionInThePlaceOfTheLater(t *testing.T) {
	a, b := strapGarment(), strapGarment()
	turned(b.Pieces[0], curve.Rotate(0.2).Then(curve.Translate(5, -3)))
	p := compare.Garments(a, b, compare.Options{}).Pieces[0]
	require.Equal(t, compare.Moved, p.Status)
	assert.Less(t, curve.Hausdorff(p.Laid().Outline(), p.After.Outline(), 1e-4).Dist, 0.003)
	assert.Equal(t, a.Pieces[0].Corners, p.Before.Corners, "the earlier version itself stays")
	assert.Nil(t, compare.Garments(nil, b, compare.Options{}).Pieces[0].Laid())
}
