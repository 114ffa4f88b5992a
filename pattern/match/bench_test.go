package match_test

import (
	"fmt"
	"math"
	"testing"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
)

// wheel is a piece of n curved edges, unlike those of another size.
func wheel(name string, n int, size float64) *pattern.Piece {
	p := &pattern.Piece{Name: name}
	for i := range n {
		r := size + 3*float64(i)
		at := pattern.Round(curve.Rotate(2 * math.Pi * float64(i) / float64(n)).Apply(curve.Pt(r, 0)))
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", i), At: at})
	}
	for i := range n {
		a, b := p.Corners[i].At, p.Corners[(i+1)%n].At
		out := b.Sub(a).Left().Mul(-0.1)
		c := curve.Cubic(a, a.Lerp(b, 0.3).Add(out), a.Lerp(b, 0.7).Add(out), b)
		p.Edges = append(p.Edges, pattern.Edge{Name: fmt.Sprintf("e%d", i), Segs: pattern.SegsOf(curve.Path{c})})
	}
	return p
}

// twoHundred gives a garment of 200 pieces; alike tells whether all are one size.
func twoHundred(prefix string, alike bool, change func(*pattern.Piece) *pattern.Piece) *pattern.Garment {
	var list []*pattern.Piece
	for i := range 200 {
		size := 100 + 0.5*float64(i)
		if alike {
			size = 100
		}
		list = append(list, change(wheel(fmt.Sprintf("%s%d", prefix, i), 8, size)))
	}
	return garment(list...)
}

func same(p *pattern.Piece) *pattern.Piece { return p }

func BenchmarkPieces(b *testing.B) {
	old := twoHundred("p", false, same)
	turned := func(p *pattern.Piece) *pattern.Piece { return freely(mapped(p, curve.Rotate(0.14))) }
	for name, c := range map[string][2]*pattern.Garment{
		"same names":         {old, twoHundred("p", false, same)},
		"all renamed":        {old, twoHundred("q", false, same)},
		"renamed and turned": {twoHundred("p", false, freely), twoHundred("q", false, turned)},
		"alike and renamed":  {twoHundred("p", true, same), twoHundred("q", true, same)},
		"unlike and renamed": {old, twoHundred("q", false, func(p *pattern.Piece) *pattern.Piece { return mapped(p, curve.Scale(1, 1.1)) })},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				match.Pieces(c[0], c[1], match.Options{})
			}
		})
	}
}

func BenchmarkEdges(b *testing.B) {
	old := wheel("p", 20, 100)
	redrawn := pattern.Clone(old)
	redrawn.Corners[3].At = redrawn.Corners[3].At.Add(curve.Pt(5, 0))
	for name, p := range map[string]*pattern.Piece{
		"same":        pattern.Clone(old),
		"one corner":  redrawn,
		"turned":      mapped(old, curve.Rotate(0.14)),
		"all redrawn": mapped(old, curve.Scale(1.1, 1)),
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				match.Edges(old, p, match.Options{})
			}
		})
	}
}
