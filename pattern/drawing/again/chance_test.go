package again

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// polygon has straight edges of some segments each, its joints at radii round the origin
// at equal angles.
func polygon(segments []int, radii ...float64) *pattern.Piece {
	p := &pattern.Piece{Name: "any"}
	joint := func(k int) curve.Point {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(len(radii)))
		r := radii[k%len(radii)]
		return pattern.Round(curve.Pt(r*cos, r*sin))
	}
	k := 0
	for i, n := range segments {
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("k%d", i), At: joint(k)})
		e := pattern.Edge{Name: fmt.Sprintf("edge-%d", i)}
		for j := 1; j <= n; j++ {
			s := pattern.Seg{To: joint(k + j)}
			if j == n {
				s = pattern.Seg{ToCorner: true}
			}
			e.Segs = append(e.Segs, s)
		}
		k += n
		p.Edges = append(p.Edges, e)
	}
	return measured(p)
}

func pulledOut(p *pattern.Piece, by float64, corners ...int) *pattern.Piece {
	q := pattern.Clone(p)
	for _, i := range corners {
		q.Corners[i].At = pattern.Round(q.Corners[i].At.Mul(1 + by))
	}
	return measured(q)
}

// An edge of three segments fits, turned, on three edges that are as long: what stays near the
// old line counts for more.
func TestOneLongEdgeThatFitsElsewhereDoesNotTurnThePiece(t *testing.T) {
	p := polygon([]int{3, 3, 3, 1, 1, 1, 1, 3, 1}, 100, 92, 75, 100, 99, 100, 100, 100, 100, 100, 100, 89, 94, 75, 89, 76, 100)
	want := pulledOut(p, 0.05, 0, 2, 7)
	got, report, problems := Lay(p, Drawn{Ring: want.Outline().Transform(curve.Rotate(2.8))}, Options{})
	noErrors(t, problems)
	assert.Equal(t, ByEdges, report.By)
	assert.Subset(t, report.Kept, []string{"edge-3", "edge-4", "edge-5"})
	assert.LessOrEqual(t, curve.Hausdorff(got.Outline(), want.Outline(), 1e-3).Dist, Noise(p)+0.001)
}

// A piece that is its own mirror image, but for a corner that was pulled, is not refused
// as drawn the wrong way round; one that is not, is.
func TestAPieceThatIsItsOwnMirrorImageIsNotCalledMirrored(t *testing.T) {
	alike := polygon([]int{1, 2, 2}, 40, 40, 30, 40, 40)
	_, _, problems := Lay(alike, Drawn{Ring: pulledOut(alike, 0.06, 0).Outline()}, Options{})
	noErrors(t, problems)

	unlike := polygon([]int{1, 2, 2}, 40, 44, 30, 37, 40)
	_, _, problems = Lay(unlike, Drawn{Ring: pulledOut(unlike, 0.06, 0).Outline()}, Options{})
	noErrors(t, problems)
	flipped := unlike.Outline().Transform(curve.Scale(-1, 1)).Reverse()
	_, _, problems = Lay(unlike, Drawn{Ring: flipped}, Options{})
	assert.Equal(t, "drawing.mirrored", problems[0].ID)
}
