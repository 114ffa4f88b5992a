package alter_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/curve"
)

func TestWhatIsNotTrued(t *testing.T) {
	notch := func(edge, name string, d float64) pattern.Notch {
		return pattern.Notch{Name: name, Edge: pattern.Mention{Name: edge}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "hb", Distance: d}}
	}
	for _, c := range []struct {
		name, move string
		change     func(*pattern.Garment)
		why, hint  string
	}{
		{"a mirrored seam", "a", func(g *pattern.Garment) { g.Seams[0].Mirrored, g.Seams[0].Second = true, nil }, "mirrored", "the ends match"},
		{"a side of several edges", "a", func(g *pattern.Garment) {
			g.Seams[0].Second = append(g.Seams[0].Second, pattern.Ref{Piece: "b", Edge: "hem"})
		}, "several edges", "add to a.back: 38.50 at the hb end, 38.50 at the tb end\nmove the corners in the drawing"},
		{"a span", "a", func(g *pattern.Garment) {
			g.Piece("a").Notches = []pattern.Notch{notch("back", "n", 10), notch("back", "m", 190)}
			g.Seams[0].First[0].From, g.Seams[0].First[0].To = "n", "m"
		}, "span", "add to a.back from n to m: 10.00 at the n end, 10.00 at the m end"},
		{"a piece that is not on it", "c", func(*pattern.Garment) {}, "piece c is not on it", "take off a.back: 1.50 at the hb end, 1.50 at the tb end\nseamkeep true s --move a|b|both"},
		{"no piece at all", "", func(*pattern.Garment) {}, "piece  is not on it", "take off a.back: 1.50 at the hb end, 1.50 at the tb end\nseamkeep true s --move a|b|both"},
		{"an edge that is not there", "a", func(g *pattern.Garment) { g.Seams[0].Second[0].Edge = "x" }, "there is no edge b.x", ""},
		{"more to go than there is", "a", func(g *pattern.Garment) {
			g.Seams[0].Eases = []pattern.Ease{{Amount: -350}}
		}, "mm long there", "take off a.back: 176.50 at the hb end, 176.50 at the tb end\nseamkeep true s --move b|both"},
		{"more to go than there is, by both", "both", func(g *pattern.Garment) {
			g.Seams[0].Eases = []pattern.Ease{{Amount: -450}}
		}, "mm long there", "seamkeep true s --move a|b"},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := pair(quad("a", -100, 103), quad("b", -100, 100))
			g.Levels = nil
			c.change(g)
			r := refused(t, g, "s", c.move)
			assert.Contains(t, r.Why, c.why)
			assert.Contains(t, r.Hint, c.hint)
		})
	}
	r := refused(t, pair(quad("a", -1, 1), quad("b", -1, 1)), "shoulder", "both")
	assert.Equal(t, "there is no such seam", r.Why)
}

// The amounts of a refusal are those of the ends, so that they can be made by
// hand: 0.9 + 2.1 over the waist.
func TestARefusalGivesTheAmounts(t *testing.T) {
	g := pair(quad("a", -100.9, 102.1), quad("b", -100, 100))
	g.Piece("b").Notches = []pattern.Notch{
		{Name: "n", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "hf", Distance: 0}},
		{Name: "m", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "tf", Distance: 0}},
	}
	g.Seams[0].Second[0].From, g.Seams[0].Second[0].To = "n", "m"
	r := refused(t, g, "s", "a")
	assert.Equal(t, "take off a.back: 0.90 at the hb end, 2.10 at the tb end\nmove the corners in the drawing or in the file", r.Hint)
}

// A corner that would be pulled through another edge.
func TestAnOutlineThatWouldCross(t *testing.T) {
	a := quad("a", -100, 100)
	// the top dips to 20 in the middle of the back's end
	a.Corners[2].At, a.Corners[3].At = curve.Pt(80, -100), curve.Pt(80, 100)
	a.Edges[3].Segs = []pattern.Seg{{To: curve.Pt(90, 130)}, {To: curve.Pt(60, 130)}, {ToCorner: true}}
	g := pair(a, quad("b", -100, 140)) // 40 to add at the top, past the overhang
	r := refused(t, g, "s", "a")
	assert.Contains(t, r.Why, "the outline would not survive it")
	require.NotEmpty(t, r.Problems)
	assert.Equal(t, "outline.crosses", r.Problems[0].ID)
	_, err := alter.True(g, "s", "b", tol)
	assert.NoError(t, err, "the other piece can give it")
}

// Beside the seam's end the outline steps up by 2 mm; the corner slides past
// that step, and the edge of the step would run down again.
func TestAnEdgeThatWouldTurnOver(t *testing.T) {
	a := quad("a", -100, 100)
	a.Corners = append(a.Corners, pattern.Corner{Name: "tt", At: curve.Pt(79, 102)})
	a.Edges = append(a.Edges[:3:3], pattern.Edge{Name: "step"}, pattern.Edge{Name: "top"})
	a.Corners[0].At.Y = 102
	g := pair(a, quad("b", -100, 105))
	r := refused(t, g, "s", "a")
	assert.Equal(t, "edge a.step would turn over", r.Why)
	assert.Equal(t, "add to a.back: 5.00 at the tb end\nseamkeep true s --move b|both", r.Hint)
	trued(t, g, "s", "b")
}

// The cut reaches a notch that is measured from the other end.
func TestANotchThatWouldFallOff(t *testing.T) {
	g := pair(quad("a", -100, 130), quad("b", -100, 100))
	g.Piece("a").Notches = []pattern.Notch{{Name: "n", Edge: pattern.Mention{Name: "back"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "tb", Distance: 10}}}
	r := refused(t, g, "s", "a")
	require.NotEmpty(t, r.Problems)
	assert.Equal(t, "notch.no-place", r.Problems[0].ID)
}

// A dart: both sides end at its tip, so that no corner there can be moved along
// one side without moving the other.
func TestADartWhoseSidesMeet(t *testing.T) {
	p := &pattern.Piece{Name: "a",
		Corners: []pattern.Corner{{Name: "tf", At: curve.Pt(0, 100)}, {Name: "hf", At: curve.Pt(0, -100)}, {Name: "left", At: curve.Pt(80, -100)}, {Name: "tip", At: curve.Pt(100, 0)}, {Name: "right", At: curve.Pt(120, -104)}, {Name: "hb", At: curve.Pt(200, -100)}, {Name: "tb", At: curve.Pt(200, 100)}},
		Edges:   []pattern.Edge{{Name: "front"}, {Name: "hem"}, {Name: "up"}, {Name: "down"}, {Name: "hem2"}, {Name: "back"}, {Name: "top"}}}
	g := &pattern.Garment{Half: pattern.LeftHalf, Pieces: []*pattern.Piece{p},
		Seams: []pattern.Seam{{Name: "s", First: []pattern.Ref{{Piece: "a", Edge: "up"}}, Second: []pattern.Ref{{Piece: "a", Edge: "down"}}}}}
	for _, move := range []string{"a", "both"} {
		r := refused(t, g, "s", move)
		assert.Contains(t, r.Why, "dart")
		assert.Contains(t, r.Hint, "add to a.up: 1.96 at the left end, 1.96 at the tip end")
	}
}

// Marks that were inside stay inside, or the move is refused.
func TestABoneThatWouldStandOut(t *testing.T) {
	g := pair(quad("a", -100, 110), quad("b", -100, 100))
	g.Piece("a").Marks = []pattern.Mark{{Kind: pattern.Bone, Name: "b", At: curve.Pt(78, 0), Segs: []pattern.Seg{{To: curve.Pt(78, 109)}}}}
	r := refused(t, g, "s", "a")
	require.NotEmpty(t, r.Problems)
	assert.Equal(t, "mark.outside", r.Problems[0].ID)
}

// Between two pairs of notches the edges are 100 and 97 long: no corner mends that. With
// the notch moved by those 3 the top end matches (2, 0 and 0 from hem to top, by hand),
// so that only the hem end is to be mended besides.
func TestAnInnerSegmentIsRefused(t *testing.T) {
	g := pair(quad("a", -102, 100), quad("b", -100, 100))
	g.Piece("a").Notches = []pattern.Notch{onEdge("back", "n", "hb", 52), onEdge("back", "m", "tb", 50)}
	g.Piece("b").Notches = []pattern.Notch{onEdge("front", "n", "hf", 50), onEdge("front", "m", "tf", 53)}
	r := refused(t, g, "s", "b")
	assert.Equal(t, "sliding corners does not mend it: n to m would be off by +3.00", r.Why)
	assert.Equal(t, "move notch m on a.back by 3.00 towards hb, or its partner on b.front as much the other way\nbesides, take off a.back: 2.00 at the hb end", r.Hint)
	assert.NotContains(t, r.Hint, "seamkeep true")
}

// The whole seam agrees, the notch in the middle stands 2 mm off its partner: by
// hand 0.1, -1.9, 2.08 and -0.28 from hem to top.
func TestAMisplacedNotchIsNamed(t *testing.T) {
	g := pair(quad("a", -100, 100), quad("b", -100, 100))
	g.Piece("a").Notches = []pattern.Notch{onEdge("back", "n", "hb", 50), onEdge("back", "waist", "hb", 100), onEdge("back", "m", "hb", 150)}
	g.Piece("b").Notches = []pattern.Notch{onEdge("front", "n", "hf", 49.9), onEdge("front", "waist", "hf", 101.8), onEdge("front", "m", "hf", 149.72)}
	for _, move := range []string{"a", "b", "both"} {
		r := refused(t, g, "s", move)
		assert.Contains(t, r.Hint, "move notch waist on a.back by 1.99 towards tb, or its partner on b.front")
		assert.NotContains(t, r.Hint, "seamkeep true")
	}
}

// Both ends are matched by notches, so no corner may slide.
func TestBothEndsMatched(t *testing.T) {
	g := pair(quad("a", -100, 102), quad("b", -100, 100))
	g.Piece("a").Notches = []pattern.Notch{onEdge("back", "n", "hb", 0), onEdge("back", "m", "tb", 0)}
	g.Piece("b").Notches = []pattern.Notch{onEdge("front", "n", "hf", 0), onEdge("front", "m", "tf", 0)}
	r := refused(t, g, "s", "a")
	assert.Contains(t, r.Why, "n to m would be off by +2.00")
	assert.Equal(t, "both ends are matched, n and m, so no corner is to slide; move a notch, or redraw the edge between them", r.Hint)
}

func onEdge(edge, name, corner string, d float64) pattern.Notch {
	return pattern.Notch{Name: name, Edge: pattern.Mention{Name: edge}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: corner, Distance: d}}
}

// A mark that stood out by 5 mm before may not come to stand out by more.
func TestAFaultThatWouldGrow(t *testing.T) {
	g := pair(quad("a", -100, 110), quad("b", -100, 100))
	g.Levels = nil
	g.Piece("a").Marks = []pattern.Mark{{Kind: pattern.Bone, Name: "b", At: curve.Pt(78, 0), Segs: []pattern.Seg{{To: curve.Pt(78, 115)}}}}
	r := refused(t, g, "s", "a")
	require.NotEmpty(t, r.Problems)
	assert.Equal(t, "mark.outside", r.Problems[0].ID)
	trued(t, g, "s", "b")
}
