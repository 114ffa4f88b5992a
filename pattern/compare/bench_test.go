package compare

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// The figures stand in DEVELOPERS.md.

// panels is a garment of n panels sewn in a row, all edges but the top curved;
// the first so many have their back edge let out.
func panels(n, changed int) *pattern.Garment {
	g := &pattern.Garment{Name: "large", Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "bust", Y: 160}, {Name: "waist"}}}
	for i := range n {
		out := 0.0
		if i < changed {
			out = 3
		}
		p := &pattern.Piece{
			Name: fmt.Sprintf("panel-%03d", i),
			Corners: []pattern.Corner{
				{Name: "top-front", At: curve.Pt(-40, 200)}, {Name: "hem-front", At: curve.Pt(-45, -110)},
				{Name: "hem-back", At: curve.Pt(45, -110)}, {Name: "top-back", At: curve.Pt(40, 200)},
			},
			Edges: []pattern.Edge{
				{Name: "front", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(-30, 60), H2: curve.Pt(-30, 0), ToCorner: true}}},
				{Name: "hem", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(-20, -115), H2: curve.Pt(20, -115), ToCorner: true}}},
				{Name: "back", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(30+out, 0), H2: curve.Pt(30+out, 60), ToCorner: true}}},
				{Name: "top"},
			},
		}
		g.Pieces = append(g.Pieces, p)
		g.Around = append(g.Around, pattern.Mention{Name: p.Name})
		if i > 0 {
			g.Seams = append(g.Seams, pattern.Seam{
				Name:  fmt.Sprintf("seam-%d", i),
				First: []pattern.Ref{{Piece: g.Pieces[i-1].Name, Edge: "back"}}, Second: []pattern.Ref{{Piece: p.Name, Edge: "front"}},
			})
		}
	}
	return g
}

// BenchmarkGarments compares two versions of a garment of 60 pieces that share,
// as a loader gives them, the pieces that did not change.
func BenchmarkGarments(b *testing.B) {
	before := panels(60, 0)
	for _, changed := range []int{1, 10, 60} {
		after := panels(60, changed)
		copy(after.Pieces[changed:], before.Pieces[changed:])
		b.Run(fmt.Sprintf("changed=%d", changed), func(b *testing.B) {
			for b.Loop() {
				c := Garments(before, after, Options{})
				require.Len(b, c.ChangedPieces(), changed)
			}
		})
	}
}
