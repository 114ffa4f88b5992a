package measure_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// told gives the segments of a walk in a line: "a.hb to waist 100 - 98 = 2".
func told(w *measure.Walk) string {
	var parts []string
	for _, s := range w.Segments {
		a, b := s.Lengths()
		ease := ""
		if s.Ease != 0 {
			ease = fmt.Sprintf(" - %.4g ease", s.Ease)
		}
		parts = append(parts, fmt.Sprintf("%s to %s: %.5g - %.5g%s = %.4g", s.From, s.To, a, b, ease, s.Difference+0))
	}
	return strings.Join(parts, "; ")
}

// Two upright edges, 205 mm long from -100 to 105 and 202 from -101 to 101,
// waist at 0, and what is recorded besides. Lengths by hand.
func TestWalkOfTwoUprightEdges(t *testing.T) {
	a, b := box("0", "-100", "80", "105"), box("0", "-101", "80", "101")
	const waist = "level waist 0\n"
	for _, c := range []struct {
		name, garment, onA, onB, want string
		difference                    float64
	}{
		{"the second side is walked against its outline", waist + "seam s a.back b.front", "", "",
			"a.hb to waist: 100 - 101 = -1; waist to a.tb: 105 - 101 = 4", 3},
		{"the other side first: opposite signs, from its own start", waist + "seam s b.front a.back", "", "",
			"b.tf to waist: 101 - 105 = -4; waist to b.hf: 101 - 100 = 1", -3},
		{"same-way: both in the direction of their outlines", waist + "seam s a.back b.back same-way", "", "",
			"a.hb to waist: 100 - 101 = -1; waist to a.tb: 105 - 101 = 4", 3},
		{"same-way on edges that run opposite ways", waist + "seam s a.back b.front same-way", "", "",
			"a.hb to waist: 100 - 101 = -1; waist to a.tb: 105 - 101 = 4", 3},
		{"without a waist there is one segment", "seam s a.back b.front", "", "",
			"a.hb to a.tb: 205 - 202 = 3", 3},
		{"a piece without levels has no waist", waist + "seam s a.back b.front", "", "levels none\n",
			"a.hb to a.tb: 205 - 202 = 3", 3},
		{"the waist where each piece has it", waist + "seam s a.back b.front", "", "level waist 4\n",
			"a.hb to waist: 100 - 105 = -5; waist to a.tb: 105 - 97 = 8", 3},
		{"a pair of notches goes before the waist", waist + "seam s a.back b.front", "notch n on back 30 from hb\n", "notch n on front 33 from hf\n",
			"a.hb to n: 30 - 33 = -3; n to a.tb: 175 - 169 = 6", 3},
		{"several pairs, in the order of the first side", waist + "seam s a.back b.front",
			"notch up on back 60 above waist\nnotch waist on back at waist\n", "notch waist on front at waist\nnotch up on front 60 above waist\n",
			"a.hb to waist: 100 - 101 = -1; waist to up: 60 - 60 = 0; up to a.tb: 45 - 41 = 4", 3},
		{"a notch on one side only pairs with nothing", "seam s a.back b.front", "notch n on back 30 from hb\n", "notch m on front 33 from hf\n",
			"a.hb to a.tb: 205 - 202 = 3", 3},
		{"equal names on other edges are no pair", "seam s a.back b.front", "notch n on back 30 from hb\n", "notch n on back 30 from hb\n",
			"a.hb to a.tb: 205 - 202 = 3", 3},
		{"notches that have changed places show as such", "seam s a.back b.front",
			"notch lo on back 50 from hb\nnotch hi on back 150 from hb\n", "notch hi on front 50 from hf\nnotch lo on front 150 from hf\n",
			"a.hb to lo: 50 - 150 = -100; lo to hi: 100 - -100 = 200; hi to a.tb: 55 - 152 = -97", 3},
		{"a pair at the very end is the end", "seam s a.back b.front", "notch n on back 0 from tb\n", "notch n on front 0 from tf\n",
			"a.hb to n: 205 - 202 = 3", 3},
		{"a pair at the very start is the start", "seam s a.back b.front", "notch n on back 0 from hb\n", "notch n on front 0 from hf\n",
			"n to a.tb: 205 - 202 = 3", 3},
		{"at the end of one side only, nothing is left of it", "seam s a.back b.front", "notch n on back 0 from tb\n", "notch n on front 10 from tf\n",
			"a.hb to n: 205 - 192 = 13; n to a.tb: 0 - 10 = -10", 3},
		{"a span between notches", "seam s a.back from x to y b.front", "notch x on back 2 from hb\nnotch y on back 1 from tb\n", "",
			"x to y: 202 - 202 = 0", 0},
		{"a span named against the outline is the same span", "seam s a.back from y to x b.front", "notch x on back 2 from hb\nnotch y on back 1 from tb\n", "",
			"x to y: 202 - 202 = 0", 0},
		{"notches outside the span do not count", "seam s a.back from x to y b.front", "notch x on back 20 from hb\nnotch y on back 1 from tb\nnotch z on back 10 from hb\n", "notch z on front 10 from hf\n",
			"x to y: 184 - 202 = -18", -18},
		{"ease is spread in proportion to the second side", waist + "seam s a.back b.front ease 4", "", "level waist -50.5\n",
			"a.hb to waist: 100 - 50.5 - 1 ease = 48.5; waist to a.tb: 105 - 151.5 - 3 ease = -49.5", -1},
		{"ease in one zone, none outside", waist + "seam s a.back b.front ease 4 from waist to up",
			"notch waist on back at waist\nnotch up on back 64 above waist\n", "notch waist on front at waist\nnotch up on front 60 above waist\n",
			"a.hb to waist: 100 - 101 = -1; waist to up: 64 - 60 - 4 ease = 0; up to a.tb: 41 - 41 = 0", -1},
		{"the zone's notches may be named in either order", waist + "seam s a.back b.front ease 4 from up to waist",
			"notch waist on back at waist\nnotch up on back 64 above waist\n", "notch waist on front at waist\nnotch up on front 60 above waist\n",
			"a.hb to waist: 100 - 101 = -1; waist to up: 64 - 60 - 4 ease = 0; up to a.tb: 41 - 41 = 0", -1},
		{"several zones, one over two segments", waist + "seam s a.back b.front ease 3 from low to up ease -1 from up to top",
			"notch low on back 50 below waist\nnotch waist on back at waist\nnotch up on back 100 above waist\nnotch top on back 0 from tb\n",
			"notch low on front 50 below waist\nnotch waist on front at waist\nnotch up on front 100 above waist\nnotch top on front 0 from tf\n",
			"a.hb to low: 50 - 51 = -1; low to waist: 50 - 50 - 1 ease = -1; waist to up: 100 - 100 - 2 ease = -2; up to top: 5 - 1 - -1 ease = 5", 1},
		{"sewn to its own mirror image, nothing can differ", waist + "seam s a.back mirrored", "", "",
			"a.hb to a.tb: 205 - 205 = 0", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := read(t, "-- garment --\nhalf left\n"+c.garment+"\n-- a --\n"+a+c.onA+"-- b --\n"+b+c.onB)
			w := walkOf(t, g, "s")
			assert.Equal(t, c.want, told(w))
			assert.InDelta(t, c.difference, w.Difference, 1e-9)
			assert.InDelta(t, c.difference, ask(t, g, nil, "walk s"), 1e-9)
		})
	}
}

// A yoke sewn to two pieces, whose edges are 60 and 41 mm and meet at a seam.
func TestASideOfSeveralEdges(t *testing.T) {
	pieces := "-- a --\n" + box("0", "-100", "60", "100") + "notch m on top 10 from tf\n" +
		"-- b --\n" + box("0", "-100", "41", "100") +
		"-- yoke --\n" + box("0", "0", "100", "50") + "notch m on hem 91 from hb\n"
	g := read(t, "-- garment --\nhalf left\nseam j a.back b.front\nseam s b.top + a.top yoke.hem\n"+pieces)
	w := walkOf(t, g, "s")
	// b.top is walked from its outer corner, then a.top, the hem from its back
	// corner: the notch lies 41 + 50 mm along the one and 91 along the other
	assert.Equal(t, "b.tb to m: 91 - 91 = 0; m to a.tf: 10 - 9 = 1", told(w))
	assert.InDelta(t, 1, w.Difference, 1e-9)
	assert.Equal(t, "b.top + a.top", measure.SideName(w.First.Refs))
	part, at := w.First.EdgeAt(50)
	assert.Equal(t, "a", part.Piece.Name)
	assert.InDelta(t, 9, at, 1e-9, "50 mm along the side is 9 mm along a.top")
	sides := values(t, g, nil, "seam s")
	require.Len(t, sides, 2)
	assert.Equal(t, []string{"b.top + a.top", "yoke.hem"}, []string{sides[0].Of, sides[1].Of})
	assert.InDelta(t, 101, sides[0].Value, 1e-9)
	assert.InDelta(t, 100, sides[1].Value, 1e-9)
}

// Walked against the outline, the edges of a side come in the opposite order.
func TestASideOfSeveralEdgesAsTheSecond(t *testing.T) {
	pieces := "-- a --\n" + box("0", "-100", "60", "100") + "notch m on top 10 from tf\n" +
		"-- b --\n" + box("0", "-100", "41", "100") +
		"-- yoke --\n" + box("0", "0", "100", "50") + "notch m on hem 11 from hf\n"
	w := walkOf(t, read(t, "-- garment --\nhalf left\nseam j a.back b.front\nseam s yoke.hem b.top + a.top\n"+pieces), "s")
	assert.Equal(t, "yoke.hf to m: 11 - 10 = 1; m to yoke.hb: 89 - 91 = -2", told(w))
}

// L. I. Baldt, Clothing for Women (1916), tailored waist: the back shoulder is
// 1/4 in longer than the front one and eased in.
func TestBackShoulderLongerByItsEase(t *testing.T) {
	g := read(t, "-- garment --\nhalf left\nseam shoulder back.top front.top ease 6.35\n-- back --\n"+box("0", "0", "126.35", "50")+"-- front --\n"+box("0", "0", "120", "50"))
	w := walkOf(t, g, "shoulder")
	assert.InDelta(t, inch/4, w.Ease, 1e-9)
	assert.InDelta(t, 0, w.Difference, 1e-9)
}

// A. McDowell, Instruction Book (1885): the lining is fulled 1/4 in from the
// bust point to the waist. Spread over the whole seam, the same amount hides
// nothing: the lower part would be short.
func TestLiningFulledBetweenBustPointAndWaist(t *testing.T) {
	pieces := "-- cloth --\n" + box("0", "-100", "80", "200") + "notch waist on front at waist\nnotch bust-point on front at bust\n" +
		"-- lining --\n" + box("0", "-100", "80", "206.35") + "notch waist on front at waist\nnotch bust-point on front 166.35 above waist\n"
	const garment = "-- garment --\nhalf left\nlevel waist 0\nlevel bust 160\nseam s lining.front cloth.front same-way ease 6.35"
	zone := walkOf(t, read(t, garment+" from bust-point to waist\n"+pieces), "s")
	for _, s := range zone.Segments {
		assert.InDelta(t, 0, s.Difference, 1e-9, "%s to %s", s.From, s.To)
	}
	whole := walkOf(t, read(t, garment+"\n"+pieces), "s")
	assert.InDelta(t, 0, whole.Difference, 1e-9)
	assert.Equal(t, "waist", whole.Worst().To)
	assert.InDelta(t, inch/4*(1-160.0/300), whole.Worst().Difference, 1e-9)
}

func TestTheWaistMustBeCrossedOnce(t *testing.T) {
	wave := "corner tf 0 100\nedge front\n  line to 0 -10\n  line to 10 10\n  line to 0 -100\n  line to corner\ncorner hf 0 -120\nedge hem\ncorner hb 80 -120\nedge back\ncorner tb 80 100\nedge top\n"
	w := walkOf(t, read(t, "-- garment --\nhalf left\nlevel waist 0\nseam s a.back b.front\n-- a --\n"+box("0", "-100", "80", "105")+"-- b --\n"+wave), "s")
	assert.Len(t, w.Segments, 1)
}

// A waist at the joint of two edges of a side counts once, found from both.
func TestTheWaistAtAJointOfASide(t *testing.T) {
	g := read(t, "-- garment --\nhalf left\nlevel waist 0\nseam s a.up b.low + b.up\n-- a --\n"+
		"corner p 0 100\nedge front\ncorner q 0 -100\nedge hem\ncorner r 80 -100\nedge up\ncorner s 80 100\nedge top\n-- b --\n"+
		"corner p 0 90\nedge low\ncorner m 0 0\nedge up\ncorner q 0 -110\nedge hem\ncorner r 80 -110\nedge back\ncorner s 80 90\nedge top\n")
	assert.Equal(t, "a.r to waist: 100 - 110 = -10; waist to a.s: 100 - 90 = 10", told(walkOf(t, g, "s")))
}

// A notch that stands twice on a side, once on each of its edges, pairs with
// nothing.
func TestANameTwiceOnASidePairsWithNothing(t *testing.T) {
	g := read(t, "-- garment --\nhalf left\nseam j a.back b.front\nseam s b.top + a.top yoke.hem\n"+
		"-- a --\n"+box("0", "-100", "60", "100")+"notch m on top 10 from tf\n-- b --\n"+box("0", "-100", "41", "100")+"notch m on top 10 from tf\n"+
		"-- yoke --\n"+box("0", "0", "100", "50")+"notch m on hem 50 from hf\n")
	assert.Len(t, walkOf(t, g, "s").Segments, 1)
}

// The shared waistcoat, worked by hand from its points: square roots of sums of
// squares, to the two decimals that stand here.
func TestTheWaistcoatWalks(t *testing.T) {
	for _, c := range []struct {
		garment, seam       string
		whole, below, above float64
	}{
		{"waistcoat--01-base", "underarm-side-back", 0, 0, 0},
		{"waistcoat--03a-gusset-untrued", "side-front-underarm", -1.77, -1.45, -0.33},
		{"waistcoat--04-half-move", "side-back-back", 1.03, 0.53, 0.50},
		{"waistcoat--06a-seam-move-untrued", "side-back-back", 2.55, 1.20, 1.35},
		{"waistcoat--06-seam-move", "side-back-back", 0, 0, 0},
	} {
		g, _ := sample(t, c.garment)
		w := walkOf(t, g, c.seam)
		require.Len(t, w.Segments, 2)
		assert.InDelta(t, c.whole, w.Difference, 0.006, c.garment)
		assert.InDelta(t, c.below, w.Segments[0].Difference, 0.006, c.garment)
		assert.InDelta(t, c.above, w.Segments[1].Difference, 0.006, c.garment)
	}
}

func TestASeamThatNamesWhatIsNotThere(t *testing.T) {
	g := read(t, "-- garment --\nhalf left\nlevel waist 0\nseam s a.back b.front\n-- a --\n"+box("0", "-100", "80", "100")+"notch n on back 20 from hb\n-- b --\n"+box("0", "-100", "80", "100"))
	for _, c := range []struct {
		name       string
		change     func()
		id, found  string
		wantOnEdge string
	}{
		{"no such piece", func() { g.Seams[0].Second[0].Piece = "c" }, "name.unknown", "there is no edge c.front", "c.front"},
		{"no such edge", func() { g.Seams[0].Second[0].Piece = "b"; g.Seams[0].Second[0].Edge = "frnt" }, "name.unknown", "there is no edge b.frnt", "b.frnt"},
		{"no such notch", func() {
			g.Seams[0].Second[0].Edge = "front"
			g.Seams[0].First[0].From, g.Seams[0].First[0].To = "n", "m"
		}, "name.unknown", "edge a.back has no notch m", "a.back"},
	} {
		c.change()
		w, problem := measure.WalkSeam(g, &g.Seams[0], measure.Accuracy)
		assert.Nil(t, w, c.name)
		require.NotNil(t, problem, c.name)
		assert.Equal(t, c.id, problem.ID, c.name)
		assert.Equal(t, c.found, problem.Found, c.name)
		assert.Equal(t, c.wantOnEdge, problem.Subject, c.name)
	}
}

// A mirrored seam is one edge sewn to its own mirror image.
func TestAMirroredSeamHasNoEase(t *testing.T) {
	g := read(t, "-- garment --\nhalf left\nseam s a.back mirrored\n-- a --\n"+box("0", "-100", "80", "100"))
	g.Seams[0].Eases = []pattern.Ease{{Amount: 4}}
	w, problem := measure.WalkSeam(g, &g.Seams[0], measure.Accuracy)
	assert.Nil(t, w)
	require.NotNil(t, problem)
	assert.Equal(t, "seam.ease-mirrored s", problem.Address())
	assert.Equal(t, diag.Error, problem.Severity)
	assert.Contains(t, problem.Found, "a mirrored seam has one side only, so it has no ease")
}

// Where a station lies at the end of both sides they agree there, and the other
// end is off by all of it; by hand from 300 and 302.
func TestWhatASeamIsOffByAtItsEnds(t *testing.T) {
	const notchA, notchB = "notch n on back 0 from hb\n", "notch n on front 0 from hf\n"
	for _, c := range []struct {
		name, levels, bottom, onA, onB string
		agreed                         [2]bool
		start, end, remains            float64
	}{
		{"no station", "", "10", "", "", [2]bool{}, 1, 1, 0},
		{"the waist at the start", "level waist 10\n", "10", "", "", [2]bool{true, false}, 0, 2, 0},
		{"a pair at the start", "", "10", notchA, notchB, [2]bool{true, false}, 0, 2, 0},
		{"a pair at the end", "", "10", "notch n on back 0 from tb\n", "notch n on front 0 from tf\n", [2]bool{false, true}, 2, 0, 0},
		{"pairs at both ends", "", "10", notchA + "notch m on back 0 from tb\n", notchB + "notch m on front 0 from tf\n", [2]bool{true, true}, 0, 0, 2},
		{"a pair at the start and one inside", "", "10", notchA + "notch m on back 101 from hb\n", notchB + "notch m on front 100 from hf\n", [2]bool{true, false}, 0, 1, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := walkOf(t, read(t, "-- garment --\nhalf left\n"+c.levels+"seam s a.back b.front\n-- a --\n"+box("0", c.bottom, "80", "312")+c.onA+"-- b --\n"+box("0", c.bottom, "80", "310")+c.onB), "s")
			start, end := w.Ends()
			assert.Equal(t, c.agreed, w.Agreed)
			assert.InDelta(t, c.start, start, 1e-9)
			assert.InDelta(t, c.end, end, 1e-9)
			assert.InDelta(t, c.remains, w.Remains(), 1e-9)
		})
	}
}

func TestASeamWithoutAnEdgeOnASideIsToldAndNotWalked(t *testing.T) {
	g := &pattern.Garment{}
	for name, s := range map[string]*pattern.Seam{
		"no side":   {Name: "side"},
		"one side":  {Name: "side", First: []pattern.Ref{{Piece: "front", Edge: "back"}}},
		"its image": {Name: "side", Mirrored: true},
	} {
		w, problem := measure.WalkSeam(g, s, measure.Accuracy)
		assert.Nil(t, w, name)
		if assert.NotNil(t, problem, name) {
			assert.Equal(t, "seam.broken-side", problem.ID, name)
		}
	}
}
