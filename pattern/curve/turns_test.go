package curve

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The outer angles of a closed polygon that turns one way sum to 360 degrees
// (Euclid, Elements I.32, corollary): 60-60-60 and a square's four times 90.
func TestTurnsOfPolygonsAreTheirOuterAngles(t *testing.T) {
	const side = 100.0
	triangle := Path{Line(Pt(0, 0), Pt(side, 0)), Line(Pt(side, 0), Pt(side/2, 86.602540378)), Line(Pt(side/2, 86.602540378), Pt(0, 0))}
	square := Path{Line(Pt(0, 0), Pt(9, 0)), Line(Pt(9, 0), Pt(9, 9)), Line(Pt(9, 9), Pt(0, 9)), Line(Pt(0, 9), Pt(0, 0))}
	for name, c := range map[string]struct {
		path Path
		turn float64
	}{"triangle": {triangle, 120}, "square": {square, 90}} {
		t.Run(name, func(t *testing.T) {
			for _, turn := range c.path.Turns(0.1, 0.05) {
				assert.InDelta(t, c.turn, turn, 1e-6)
			}
		})
	}
}

func TestTurnsPassOverCrumbs(t *testing.T) {
	crumb := Line(Pt(10, 0), Pt(10.03, -0.03)) // points away from both neighbours
	path := Path{Line(Pt(0, 0), Pt(10, 0)), crumb, Line(Pt(10.03, -0.03), Pt(10, 10)), Line(Pt(10, 10), Pt(0, 0))}
	turns := path.Turns(0.1, 0.05)
	assert.InDelta(t, 90, turns[1], 1, "the turn stands where the crumb begins")
	assert.Zero(t, turns[2], "and not behind it as well")

	tiny := Cubic(Pt(0, 0), Pt(0.01, 0.01), Pt(5, 0), Pt(10, 0)) // its first handle is rounding
	loop := Path{tiny, Line(Pt(10, 0), Pt(10, 10)), Line(Pt(10, 10), Pt(0, 0))}
	assert.InDelta(t, 135, loop.Turns(0.1, 0.05)[0], 1e-9, "by the second handle")
}
