package compare_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// A back that is let out above and taken in below: both movements are told with
// the place next to them. The old back is a straight line through (158, 160),
// (110, 0) and (80, -100), the points of the new one are pushed along x, so that
// an edge of slope 90 to 300 moves sideways by 300/313.2 of the push.
func TestBothWaysOfAnEdgeAreToldWithTheirPlaces(t *testing.T) {
	const square = 0.957826 // 300 / hypot(90, 300)
	for name, c := range map[string]struct {
		bust, waist, hem   float64
		largest, other     string
		atLargest, atOther string
		far, back          float64
	}{
		"let out more than taken in": {10, -6, 0, "out", "in", "bust", "waist", 10, 6},
		"taken in more than let out": {4, -9, 0, "in", "out", "waist", "bust", 9, 4},
		"the other way at a corner":  {10, 0, -5, "out", "in", "bust", "hb", 10, 5},
		"one way only":               {10, 6, 0, "out", "", "bust", "", 10, 0},
		"less than a file can hold":  {10, -0.0005, 0, "out", "", "bust", "", 10, 0},
	} {
		a, b := one(), one()
		a.Pieces[0].Edges[2].Segs = []pattern.Seg{{To: curve.Pt(110, 0)}, {To: curve.Pt(158, 160)}, {ToCorner: true}}
		b.Pieces[0].Corners[2].At.X += c.hem
		b.Pieces[0].Edges[2].Segs = []pattern.Seg{{To: curve.Pt(110+c.waist, 0)}, {To: curve.Pt(158+c.bust, 160)}, {ToCorner: true}}
		e := edgeOf(t, compare.Garments(a, b, compare.Options{}), "p", "back")
		assert.Equal(t, c.largest, e.Largest.Direction, name)
		assert.Equal(t, c.atLargest, e.Largest.At, name)
		assert.InDelta(t, c.far*square, e.Largest.Distance, 1e-3, name)
		assert.Equal(t, c.other, e.Other.Direction, name)
		assert.Equal(t, c.atOther, e.Other.At, name)
		assert.InDelta(t, c.back*square, e.Other.Distance, 1e-3, name)
		if c.other == "" {
			assert.Zero(t, e.Other, name)
		} else {
			assert.InDelta(t, e.Other.Distance, e.Other.Old.Dist(e.Other.New), 1e-3, name)
		}
	}
}

func TestTheOtherWayIsNamedByANotchToo(t *testing.T) {
	a := one()
	a.Pieces[0].Edges[2].Segs = []pattern.Seg{{To: curve.Pt(125, 50)}, {To: curve.Pt(158, 160)}, {ToCorner: true}}
	a.Pieces[0].Notches = []pattern.Notch{{Name: "n", Edge: pattern.Mention{Name: "back"}, On: pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: 52, Above: true}}}
	b := pattern.Clone(a)
	b.Pieces[0].Edges[2].Segs[0].To.X -= 3
	b.Pieces[0].Edges[2].Segs[1].To.X += 8
	e := edgeOf(t, compare.Garments(a, b, compare.Options{}), "p", "back")
	assert.Equal(t, "n", e.Other.At)
	assert.Equal(t, "bust", e.Largest.At)
}
