package claim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// inch is exact by the agreement of 1959.
const inch = 25.4

// panel is a piece with an upright front and a back through the given widths at
// bust (150), waist (0) and hem (-100), straight between them.
func panel(name string, bust, waist, hem float64) *pattern.Piece {
	return &pattern.Piece{
		Name: name,
		Corners: []pattern.Corner{
			{Name: "top-front", At: curve.Pt(0, 200)}, {Name: "hem-front", At: curve.Pt(0, -150)},
			{Name: "hem-back", At: curve.Pt(hem, -150)}, {Name: "top-back", At: curve.Pt(bust, 200)},
		},
		Edges: []pattern.Edge{
			{Name: "front"}, {Name: "hem"},
			{Name: "back", Segs: []pattern.Seg{{To: curve.Pt(hem, -100)}, {To: curve.Pt(waist, 0)}, {To: curve.Pt(bust, 150)}, {ToCorner: true}}},
			{Name: "top"},
		},
	}
}

// bodice is a left half of panels that go round in the given order.
func bodice(panels ...*pattern.Piece) *pattern.Garment {
	g := &pattern.Garment{
		Name: "bodice", Half: pattern.LeftHalf, Pieces: panels,
		Levels: []pattern.Level{{Name: "bust", Y: 150}, {Name: "waist", Y: 0}, {Name: "hem", Y: -100}},
	}
	for _, p := range panels {
		g.Around = append(g.Around, pattern.Mention{Name: p.Name})
	}
	g.SortPieces()
	return g
}

func judged(t *testing.T, before, after *pattern.Garment, body *pattern.Body, lines ...string) []claim.Result {
	t.Helper()
	claims := parse(t, lines...)
	c := compare.Garments(before, after, compare.Options{Body: body})
	require.Empty(t, claim.Check(c, claims))
	return claim.Judge(c, claims)
}

// A bust of 20 in the half gives 10 a front quarter, a waist of 24 gives 6: "4
// inches to be taken up" in one or two darts. S. T. Taylor, A Guide to
// Dressmaking (1876), p. 38.
func TestTheDartsOfAFrontQuarter(t *testing.T) {
	before := bodice(panel("front", 10*inch, 10*inch, 10*inch), panel("back", 10*inch, 6*inch, 10*inch))
	after := bodice(panel("front", 10*inch, (10-4)*inch, 10*inch), panel("back", 10*inch, 6*inch, 10*inch))
	results := judged(t, before, after, nil,
		"Changes: width front at waist -101.6 within 0", // 4 in
		"Changes: girth waist to 609.6 within 0",        // 24 in
		"Changes: girth waist -203.2 within 0",
		"Keeps: girth bust, width front at bust within 0", "Only: front")
	allTrue(t, results, "one dart of 4 in")
	// in two darts of 2 in each, only one of which was drawn
	after = bodice(panel("front", 10*inch, (10-2)*inch, 10*inch), panel("back", 10*inch, 6*inch, 10*inch))
	r := judged(t, before, after, nil, "Changes: girth waist to 609.6")[0]
	assert.False(t, r.OK)
	assert.Equal(t, "girth at waist 812.8 -> 711.2, -101.6", r.Measured)
	assert.Equal(t, []string{"front.back taken in 50.8 at waist; nothing was given to another piece"}, r.Where)
}

// At the back waist 3/4 in are taken out each side; a front dart is 1 in where the
// waist fits tightly and 1/2 in where it half fits. The Practical Designer
// (Rosenfeld, c. 1918), p. 255.
func TestSuppressionAtBackAndFront(t *testing.T) {
	square := bodice(panel("front", 240, 240, 240), panel("back", 230, 230, 230))
	tight := bodice(panel("front", 240, 240-inch, 240), panel("back", 230, 230-0.75*inch, 230))
	half := bodice(panel("front", 240, 240-0.5*inch, 240), panel("back", 230, 230-0.75*inch, 230))
	allTrue(t, judged(t, square, tight, nil, "Changes: width back at waist -19.05 within 0", "Changes: width front at waist -25.4 within 0",
		"Changes: girth waist -88.9 within 0", "Keeps: girth bust, girth hem within 0"), "2 * (1 + 3/4) in")
	allTrue(t, judged(t, tight, half, nil, "Changes: girth waist +25.4 within 0", "Keeps: width back", "Only: front"), "2 * 1/2 in")
}

// The waist is measured tight and 2 in are deducted; the bust line stops 1 1/2 in
// short of the centre back on each side; the stays must not meet when laced.
// "Practical Instructions in Stay Making", Godey's Lady's Book, August 1857.
func TestTheLacingGapOfStays(t *testing.T) {
	body := &pattern.Body{Name: "sitter", Girths: []pattern.LevelNum{{Level: "bust", Value: 36 * inch}, {Level: "waist", Value: 24 * inch}}}
	laced := func(bust, waist float64) *pattern.Garment {
		g := bodice(panel("front", 9*inch, 6*inch, 9*inch), panel("back", bust, waist, 9*inch))
		g.Closures = []pattern.Closure{{Name: "back", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "back", Edge: "back"}}}}
		return g
	}
	met, stays := laced(9*inch, 6*inch), laced((9-1.5)*inch, (6-1)*inch)
	results := judged(t, met, stays, body,
		"Changes: gap back at bust to 76.2 within 0",  // 3 in
		"Changes: gap back at waist to 50.8 within 0", // 2 in
		"Changes: girth bust -76.2 within 0", "Changes: girth waist -50.8 within 0", "Changes: girth waist to 558.8 within 0")
	allTrue(t, results, "stays")
	r := judged(t, met, stays, body, "Changes: gap back +76.2")[0]
	assert.False(t, r.OK)
	assert.Equal(t, "gap back at bust 0.0 -> 76.2, +76.2; at waist 0.0 -> 50.8, +50.8", r.Measured)
	assert.Equal(t, []string{"not measured at hem: body sitter has no girth at hem"}, r.Notes)
	assert.Equal(t, []string{"back.back taken in 25.4 at waist; nothing was given to another piece"}, r.Where)
	// the intended reduction moves the gap as well, and no piece has changed
	reduced := laced((9-1.5)*inch, (6-1)*inch)
	reduced.Reduce = []pattern.LevelNum{{Level: "waist", Value: inch}}
	r = judged(t, stays, reduced, body, "Keeps: gap back")[0]
	assert.False(t, r.OK)
	assert.Equal(t, "gap back at bust 76.2, unchanged; at waist 50.8 -> 25.4, -25.4", r.Measured)
	assert.Equal(t, []string{"reduce at waist 0 -> 25.4"}, r.Where)
}

// The back shoulder is 1/4 in longer than the front one and eased in. L. I. Baldt,
// Clothing for Women (1916), tailored waist.
func TestAnEasedShoulder(t *testing.T) {
	shoulder := func(back, ease float64) *pattern.Garment {
		g := bodice(panel("front", 127, 127, 127), panel("back", back, back, back))
		g.Seams = []pattern.Seam{{Name: "shoulder", First: []pattern.Ref{{Piece: "back", Edge: "top"}}, Second: []pattern.Ref{{Piece: "front", Edge: "top"}}}}
		if ease > 0 {
			g.Seams[0].Eases = []pattern.Ease{{Amount: ease}}
		}
		return g
	}
	even, longer, eased := shoulder(127, 0), shoulder(127+inch/4, 0), shoulder(127+inch/4, inch/4)
	allTrue(t, judged(t, even, longer, nil, "Changes: walk shoulder +6.35 within 0", "Changes: length back.top +6.35 within 0"), "not declared")
	allTrue(t, judged(t, even, eased, nil, "Keeps: walk shoulder within 0", "Only: back, garment"), "declared")
	r := judged(t, even, eased, nil, "Keeps: seam shoulder")[0]
	assert.False(t, r.OK)
	assert.Equal(t, "seam shoulder: back.top 127.00 -> 133.35, +6.35; front.top 127.00, unchanged", r.Measured)
	require.Len(t, r.Where, 1)
	assert.Contains(t, r.Where[0], "back.top ")
	assert.Contains(t, r.Where[0], "6.3 longer")
}
