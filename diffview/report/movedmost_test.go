package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// A square of 100 mm whose upper right corner is moved, or whose right side is
// drawn in two.
func TestWhatTheTableTellsOfAMovement(t *testing.T) {
	square := func() *pattern.Garment {
		p := &pattern.Piece{Name: "p"}
		for _, c := range []struct {
			corner, edge string
			x, y         float64
		}{{"tl", "left", 0, 100}, {"bl", "foot", 0, 0}, {"br", "right", 100, 0}, {"tr", "top", 100, 100}} {
			p.Corners = append(p.Corners, pattern.Corner{Name: c.corner, At: curve.Pt(c.x, c.y)})
			p.Edges = append(p.Edges, pattern.Edge{Name: c.edge})
		}
		return &pattern.Garment{Half: pattern.LeftHalf, Pieces: []*pattern.Piece{p}}
	}
	corner := func(x, y float64) func(*pattern.Piece) {
		return func(p *pattern.Piece) { p.Corners[3].At = p.Corners[3].At.Add(curve.Pt(x, y)) }
	}
	split := func(x float64) func(*pattern.Piece) {
		return func(p *pattern.Piece) {
			p.Corners = append(p.Corners[:3:3], append([]pattern.Corner{{Name: "mid", At: curve.Pt(100+x, 40)}}, p.Corners[3:]...)...)
			p.Edges = append(p.Edges[:3:3], append([]pattern.Edge{{Name: "upper"}}, p.Edges[3:]...)...)
		}
	}
	for name, c := range map[string]struct {
		change func(*pattern.Piece)
		want   string
	}{
		"moved":                    {corner(4, 0), "out 4.0 at tr"},
		"moved by next to nothing": {corner(0.04, 0), "less than 0.05"},
		"grown":                    {corner(0, 6), "only at its ends"},
		"grown and hardly moved":   {corner(0.03, 6), "only at its ends"},
		"split":                    {split(0), "split"},
		"split and moved":          {split(7), "out 7.0 at mid"},
	} {
		a, b := square(), square()
		c.change(b.Pieces[0])
		changed := compare.Garments(a, b, compare.Options{}).Pieces
		require.Len(t, changed, 1, name)
		for _, e := range changed[0].Edges {
			if e.Name == "right" {
				assert.Equal(t, c.want, movedMost(e), name)
			}
		}
	}
}
