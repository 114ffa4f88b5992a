package again

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// anyPiece draws a piece of 3 to 10 edges round the origin, straight or curved,
// each of one to three segments, on the step of a file. It never crosses itself:
// its joints go round in order, and curves stray little from their chords.
func anyPiece(t *rapid.T) *pattern.Piece {
	n := rapid.IntRange(3, 10).Draw(t, "edges")
	var joints []curve.Point
	var count []int
	total := 0
	for range n {
		c := rapid.IntRange(1, 3).Draw(t, "segments")
		count = append(count, c)
		total += c
	}
	size := rapid.Float64Range(40, 800).Draw(t, "size")
	for i := range total {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + rapid.Float64Range(-0.2, 0.2).Draw(t, "turn")) / float64(total))
		r := size * rapid.Float64Range(0.75, 1).Draw(t, "radius")
		joints = append(joints, pattern.Round(curve.Pt(r*c, r*s)))
	}
	p := &pattern.Piece{Name: "any"}
	k := 0
	for i, c := range count {
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("k%d", i), At: joints[k]})
		e := pattern.Edge{Name: fmt.Sprintf("edge-%d", i)}
		for j := range c {
			a, b := joints[k], joints[(k+1)%total]
			s := pattern.Seg{To: b}
			if rapid.Bool().Draw(t, "curved") {
				bow := b.Sub(a).Left().Mul(rapid.Float64Range(-0.08, 0.08).Draw(t, "bow"))
				s.Curve, s.H1, s.H2 = true, pattern.Round(a.Lerp(b, 0.3).Add(bow)), pattern.Round(a.Lerp(b, 0.7).Add(bow))
			}
			if j == c-1 {
				s.To, s.ToCorner = curve.Point{}, true
			}
			e.Segs = append(e.Segs, s)
			k++
		}
		if c == 1 && !e.Segs[0].Curve {
			e.Segs = nil
		}
		p.Edges = append(p.Edges, e)
	}
	return measured(p)
}

func TestAnyPieceComesBackAsItWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPiece(t)
		got, report, problems := Lay(p, edited(t, drawing(p)), Options{})
		require.Empty(t, problems)
		assert.True(t, report.Same())
		assert.Equal(t, p, got)
	})
}

// One to three corners of any piece are pulled: the edges between the others
// keep their bytes, and the whole outline is the drawn one. A drawing of which
// too little is left to know where it lay is not asked for names.
func TestAnyPieceTakesWhatWasPulled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPiece(t)
		want := pattern.Clone(p)
		touched := map[string]bool{}
		for range rapid.IntRange(1, 3).Draw(t, "pulled") {
			i := rapid.IntRange(0, len(p.Corners)-1).Draw(t, "corner")
			pull := rapid.Float64Range(0.02, 0.06).Draw(t, "by")
			want.Corners[i].At = pattern.Round(want.Corners[i].At.Mul(1 + pull))
			touched[p.Edges[i].Name], touched[p.Edges[(i+len(p.Edges)-1)%len(p.Edges)].Name] = true, true
		}
		want = measured(want)
		got, report, problems := Lay(p, edited(t, Drawn{Ring: want.Outline()}), Options{})
		noErrors(t, problems)
		if len(touched) > len(p.Edges)-2 {
			return
		}
		require.Equal(t, ByEdges, report.By)
		line, truth := got.Outline(), want.Outline()
		assert.LessOrEqual(t, curve.Hausdorff(line, truth, 1e-3).Dist, Noise(p)+0.001)
		for _, e := range p.Edges {
			if touched[e.Name] {
				continue
			}
			i := got.EdgeIndex(e.Name)
			require.GreaterOrEqual(t, i, 0, e.Name)
			assert.Equal(t, e, got.Edges[i])
		}
		require.Len(t, got.Corners, len(want.Corners), "%v", problems)
		k, _ := keptOf(p, 0)
		sharp, _ := keptOf(want, 0)
		for i := range want.Corners {
			assert.Equal(t, want.Corners[i].Name, got.Corners[i].Name)
			if !k.sharp[i] || !sharp.sharp[i] {
				continue // a smooth corner may slide to a joint that the editor added beside it
			}
			assert.LessOrEqual(t, want.Corners[i].At.Dist(got.Corners[i].At), Noise(p), want.Corners[i].Name)
		}
	})
}
