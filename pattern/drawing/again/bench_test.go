package again

import (
	"fmt"
	"math"
	"testing"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// round is a piece of n curved edges, each of which has its own length.
func round(n int) *pattern.Piece {
	p := &pattern.Piece{Name: "round"}
	angle := func(i int) float64 { return 2 * math.Pi * (float64(i) + 0.3*math.Sin(float64(i*i))) / float64(n) }
	for i := range n {
		s, c := math.Sincos(angle(i))
		r := 300 + 20*math.Cos(float64(5*i))
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("k%d", i), At: pattern.Round(curve.Pt(r*c, r*s))})
		p.Edges = append(p.Edges, pattern.Edge{Name: fmt.Sprintf("edge-%d", i)})
	}
	for i := range p.Edges {
		a, b := p.Corners[i].At, p.Corners[p.After(i)].At
		bow := b.Sub(a).Left().Mul(-0.1)
		p.Edges[i].Segs = []pattern.Seg{{Curve: true, H1: pattern.Round(a.Lerp(b, 0.3).Add(bow)), H2: pattern.Round(a.Lerp(b, 0.7).Add(bow)), ToCorner: true}}
	}
	return measured(p)
}

func BenchmarkLay(b *testing.B) {
	turned := curve.Rigid{Angle: 1, Shift: curve.Pt(300, 200)}
	for _, p := range []*pattern.Piece{sideBack(), sleeve(), round(40), round(400)} {
		for name, c := range map[string]struct {
			d Drawn
			o Options
		}{
			"in place": {onSheet(drawing(p), curve.Rigid{Shift: curve.Pt(300, 200)}), Options{At: at(300, 200)}},
			"turned":   {onSheet(drawing(p), turned), Options{}},
			"changed":  {onSheet(drawing(changed(p, changesOf(p)[0])), turned), Options{}},
		} {
			b.Run(fmt.Sprintf("%s-%d/%s", p.Name, len(p.Edges), name), func(b *testing.B) {
				for b.Loop() {
					Lay(p, c.d, c.o)
				}
			})
		}
	}
}
