package match_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
)

func TestWhichEdgeIsWhich(t *testing.T) {
	base := func(t *testing.T, _ *pattern.Piece) *pattern.Piece { return edited(t) }
	edit := func(fromTo ...string) func(*testing.T, *pattern.Piece) *pattern.Piece {
		return func(t *testing.T, _ *pattern.Piece) *pattern.Piece { return edited(t, fromTo...) }
	}
	for _, c := range []struct {
		name   string
		change func(*testing.T, *pattern.Piece) *pattern.Piece
		want   []string
	}{
		{"nothing changed", base, []string{"same front", "same hem", "same back", "same top"}},
		{"renamed, the former name recorded", edit("edge hem", "edge low was hem"), []string{"same front", "renamed hem > low", "same back", "same top"}},
		{"renamed, nothing recorded", edit("edge hem", "edge low"), []string{"same front", "renamed hem > low", "same back", "same top"}},
		{"the names of two edges swapped", edit("edge hem", "edge x", "edge top", "edge hem", "edge x", "edge top"),
			[]string{"same front", "renamed hem > top", "same back", "renamed top > hem"}},
		{"all names passed on by one edge", edit("edge top", "edge x", "edge back", "edge top", "edge hem", "edge back", "edge front", "edge hem", "edge x", "edge front"),
			[]string{"renamed front > hem", "renamed hem > back", "renamed back > top", "renamed top > front"}},
		{"redrawn", edit("31.7 204 12 168", "31.7 209 12 172"), []string{"same front", "same hem", "same back", "changed top"}},
		{"redrawn and renamed, the former name recorded", edit("edge top\n", "edge neck was top\n", "31.7 204 12 168", "31.7 209 12 172"),
			[]string{"same front", "same hem", "same back", "changed top > neck"}},
		{"redrawn and renamed, known by its corners", edit("edge top\n", "edge neck\n", "31.7 204 12 168", "31.7 209 12 172"),
			[]string{"same front", "same hem", "same back", "changed top > neck"}},
		{"a corner moved along an edge that was renamed, known by what is shared", edit("corner hem-front -13 -112", "corner low -13 -92", "edge front", "edge side", "edge hem\n", "edge hem\n"),
			[]string{"changed front > side", "changed hem", "same back", "same top"}},
		{"moved by half a step of the file", func(_ *testing.T, a *pattern.Piece) *pattern.Piece { return nudged(a, 0.0005) }, []string{"same front", "same hem", "same back", "same top"}},
		{"a corner rounded to the next step", edit("53.78 -111.12", "53.781 -111.12"), []string{"same front", "same hem", "same back", "same top"}},
		{"two steps are a change", edit("53.78 -111.12", "53.782 -111.12"), []string{"same front", "changed hem", "changed back", "same top"}},
		{"a handle moved by half a millimetre", edit("49 -80.7", "49.5 -80.7"), []string{"same front", "same hem", "changed back", "same top"}},
		{"the same curve in other segments", edit("  curve 40 73.4 61.7 138 to corner", "  curve 40 36.7 45.425 71.2 to 49.543 105.314\n  curve 53.66 139.428 56.47 173.155 to corner"), []string{"same front", "same hem", "same back", "same top"}},
		{"split at a new corner", edit("edge hem\n", "edge hem\ncorner mid 20.39 -111.56\nedge hem-back\n"),
			[]string{"same front", "split hem > hem+hem-back", "same back", "same top"}},
		{"split at a new corner, neither part keeps the name", edit("edge hem\n", "edge low\ncorner mid 20.39 -111.56\nedge lower\n"),
			[]string{"same front", "split hem > low+lower", "same back", "same top"}},
		{"split in three at the joint of its curves", edit("to 40 0\n", "to corner\ncorner waist 40 0\nedge back-up\n", "edge front\n", "edge front\ncorner f1 -13 100\nedge f2\ncorner f3 -13 0\nedge f4\n"),
			[]string{"split front > front+f2+f4", "same hem", "split back > back+back-up", "same top"}},
		{"split, and one part redrawn", edit("edge hem\n", "edge hem\ncorner mid 20.39 -111.56\nedge hem-back\n", "53.78 -111.12", "53.78 -121.12"),
			[]string{"same front", "split hem > hem+hem-back", "changed back", "same top"}},
		{"a point drawn into it and lower", edit("edge hem\n", "edge hem\ncorner mid 20.39 -126.56\nedge hem-back\n"),
			[]string{"same front", "split hem > hem+hem-back", "same back", "same top"}},
		{"two points drawn into it, no part keeps the name", edit("edge hem\n", "edge low\ncorner m1 10 -118\nedge mid\ncorner m2 30 -118\nedge lower\n"),
			[]string{"same front", "split hem > low+mid+lower", "same back", "same top"}},
		{"split, and the lesser part redrawn", edit("edge front\n", "edge front\ncorner mid -13 28\nedge front-low\n", "hem-front -13 -112", "hem-front -13 -92"),
			[]string{"split front > front+front-low", "changed hem", "same back", "same top"}},
		{"split and redrawn, the former name recorded", edit("edge front\n", "edge front\ncorner mid -10 28\nedge front-low was front\n"),
			[]string{"split front > front+front-low", "same hem", "same back", "same top"}},
		{"an edge put in", edit("hem-back 53.78 -111.12", "hem-mid 43.78 -111.12\nedge vent\ncorner hem-back 53.78 -101.12"),
			[]string{"same front", "changed hem", "added vent", "changed back", "same top"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := edited(t)
			b := c.change(t, a)
			assert.Equal(t, c.want, tellEdges(a, b, match.Edges(a, b, match.Options{})))
			assertOnce(t, a, b, match.Edges(a, b, match.Options{}))
		})
	}
}

// nudged moves every other corner, and every other handle, off the step of a file.
func nudged(p *pattern.Piece, by float64) *pattern.Piece {
	c := pattern.Clone(p)
	for i := range c.Corners {
		if i%2 == 1 {
			c.Corners[i].At = c.Corners[i].At.Add(curve.Pt(by, -by))
		}
		for k := range c.Edges[i].Segs {
			c.Edges[i].Segs[k].H1.X += by
		}
	}
	return c
}

func TestWhatIsOnlyTouchedIsNotMatched(t *testing.T) {
	// A joint that passed along a straight line past two names: no match may
	// hold several edges of both versions.
	a, b := polygon("p", 0, 0, 50, 0, 100, 0, 60, 200), polygon("p", 0, 0, 30, 0, 100, 0, 60, 200)
	a.Edges[1].Name, b.Edges[0].Name, b.Edges[1].Name = "k", "m", "e1"
	a.Corners[1].Name = "x"
	assert.Equal(t, []string{"added m", "changed e1", "same e3", "same e4", "removed k"}, tellEdges(a, b, match.Edges(a, b, match.Options{})))

	// A twentieth of an edge in common is not enough.
	a, b = polygon("p", 0, 0, 100, 0, 100, 300, 0, 300), polygon("p", 95, 0, 195, 0, 195, 290, 95, 290)
	for i := range b.Edges {
		b.Edges[i].Name, b.Corners[i].Name = "x"+b.Edges[i].Name, "x"+b.Corners[i].Name
	}
	for _, m := range match.Edges(a, b, match.Options{}) {
		assert.Contains(t, []match.Fate{match.Added, match.Removed}, m.Fate)
	}
}

func TestByWhatAnEdgeWasRecognised(t *testing.T) {
	a := edited(t)
	for _, c := range []struct {
		fromTo []string
		edge   string
		want   match.How
	}{
		{nil, "hem", match.ByShape},
		{[]string{"31.7 204", "31.7 209"}, "top", match.ByName},
		{[]string{"edge top\n", "edge neck was top\n", "31.7 204", "31.7 209"}, "neck", match.ByWas},
		{[]string{"edge top\n", "edge neck\n", "31.7 204", "31.7 209"}, "neck", match.ByCorners},
		{[]string{"corner hem-front -13 -112", "corner low -13 -92\nedge slit\ncorner low-front -3 -92", "edge front", "edge side"}, "side", match.ByOverlap},
	} {
		b := edited(t, c.fromTo...)
		seen := false
		for _, m := range match.Edges(a, b, match.Options{}) {
			if len(m.After) == 1 && b.Edges[m.After[0]].Name == c.edge {
				assert.Equal(t, c.want, m.How, "%v", c.fromTo)
				assert.Equal(t, m.How == match.ByShape, m.Lies)
				seen = true
			}
		}
		assert.True(t, seen, "%v", c.fromTo)
	}
}

func TestTwoEdgesMergedAreJoined(t *testing.T) {
	a := edited(t, "edge hem\n", "edge hem\ncorner mid 20.39 -111.56\nedge hem-back\n")
	b := edited(t)
	assert.Equal(t, []string{"same front", "joined hem+hem-back > hem", "same back", "same top"}, tellEdges(a, b, match.Edges(a, b, match.Options{})))
	assert.Equal(t, []string{"same top-front", "same hem-front", "same hem-back", "same top-back", "removed mid"},
		tellParts(a.Corners, b.Corners, cornerName, match.Corners(a, b, match.Edges(a, b, match.Options{}), match.Options{})))
}

// De Casteljau's construction gives the two halves of one curve.
func TestACurveSplitByDeCasteljauIsTheSameCurve(t *testing.T) {
	a := edited(t)
	for _, at := range []float64{0.1, 0.25, 0.5, 0.77} {
		b := cut(a, 3, at, "mid", "top-back-part", "top-front-part")
		assert.Equal(t, []string{"same front", "same hem", "same back", "split top > top-back-part+top-front-part"},
			tellEdges(a, b, match.Edges(a, b, match.Options{})), "at %g", at)
	}
}

func TestAnotherStartCornerChangesNothing(t *testing.T) {
	a := edited(t)
	for by := 1; by < 4; by++ {
		b := rotated(a, by)
		for _, m := range match.Edges(a, b, match.Options{}) {
			assert.Equal(t, match.Same, m.Fate)
			assert.Equal(t, a.Edges[m.Before[0]].Name, b.Edges[m.After[0]].Name)
		}
		// A chain that passes the start of the outline keeps its order.
		c := rotated(cut(a, 0, 0.5, "mid", "up", "down"), by)
		assert.Contains(t, tellEdges(a, c, match.Edges(a, c, match.Options{})), "split front > up+down")
	}
}

func TestEdgesOfAMovedPieceAreTheSame(t *testing.T) {
	for name, m := range map[string]curve.Affine{
		"moved":            curve.Translate(5, 0),
		"turned":           curve.Rotate(8 * math.Pi / 180),
		"turned and moved": curve.Rotate(-2).Then(curve.Translate(300.5, -41.25)),
	} {
		a := edited(t)
		b := mapped(a, m)
		assert.Equal(t, []string{"same front", "same hem", "same back", "same top"}, tellEdges(a, b, match.Edges(a, b, match.Options{})), name)
		b = mapped(cut(a, 3, 0.4, "mid", "top", "hem"), m)
		b.Edges[1].Name = "low"
		assert.Equal(t, []string{"same front", "renamed hem > low", "same back", "split top > top+hem"}, tellEdges(a, b, match.Edges(a, b, match.Options{})), name)
	}
}

func TestAMirroredPieceIsMatchedByNameAlone(t *testing.T) {
	a := edited(t)
	b := mirrored(a)
	_, ok := match.Register(a, b, match.Options{})
	assert.False(t, ok)
	for _, m := range match.Edges(a, b, match.Options{}) {
		assert.Equal(t, match.Changed, m.Fate)
		assert.Equal(t, match.ByName, m.How)
	}
}

// mirrored turns a piece over: the walk runs the other way, so that the outline
// stays anticlockwise.
func mirrored(p *pattern.Piece) *pattern.Piece {
	m := mapped(p, curve.Scale(-1, 1))
	n := len(m.Corners)
	c := pattern.Clone(m)
	for i := range n {
		c.Corners[i] = m.Corners[n-1-i]
		k := (2*n - 2 - i) % n
		c.Edges[i] = pattern.Edge{Name: m.Edges[k].Name, Segs: pattern.SegsOf(m.EdgePath(k).Reverse())}
	}
	return c
}

func assertOnce(t assert.TestingT, a, b *pattern.Piece, list []match.EdgeMatch) {
	before, after := make([]int, len(a.Edges)), make([]int, len(b.Edges))
	for _, m := range list {
		assert.True(t, len(m.Before) <= 1 || len(m.After) <= 1, "several edges on both sides")
		assert.NotZero(t, len(m.Before)+len(m.After))
		for _, i := range m.Before {
			before[i]++
		}
		for _, j := range m.After {
			after[j]++
		}
	}
	for _, n := range append(before, after...) {
		assert.Equal(t, 1, n, "each edge appears once")
	}
}
