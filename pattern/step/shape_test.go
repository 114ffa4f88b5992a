package step_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/step"
)

// In these tests both versions are drawn from numbers, so that every width,
// length and area follows from school geometry; the sums are F1, F2 and F5 of the
// trade's arithmetic: a change at a seam counts on both halves.

func twoPanels(t *testing.T, back, front []float64) *pattern.Garment {
	return skirt(t, panel{"a", straight(0), back}, panel{"b", front, straight(120)})
}

func TestTakingInAtTheWaistAlone(t *testing.T) {
	before := twoPanels(t, straight(100), straight(0))
	after := twoPanels(t, []float64{100, 100, 95, 100, 100}, []float64{0, 0, 5, 0, 0})
	claims := lines(step.Claims(parse(t, "take-in a-b 10 at waist"), before))
	assert.Equal(t, []string{
		"Keeps: width a at high", "Changes: width a at waist -5", "Keeps: width a at low",
		"Keeps: width b at high", "Changes: width b at waist -5", "Keeps: width b at low",
		"Keeps: girth high", "Changes: girth waist -20", "Keeps: girth low", "Only: a, b",
	}, claims)
	assert.Empty(t, untrue(t, before, after, "take-in a-b 10 at waist"))
	assert.Equal(t, []string{"Changes: width b at waist -5", "Changes: girth waist -20"},
		untrue(t, before, twoPanels(t, []float64{100, 100, 95, 100, 100}, straight(0)), "take-in a-b 10 at waist"), "one side alone")
	assert.Equal(t, []string{"Keeps: width a at low", "Keeps: girth low"},
		untrue(t, before, twoPanels(t, []float64{100, 95, 95, 100, 100}, []float64{0, 0, 5, 0, 0}), "take-in a-b 10 at waist"), "the taper forgotten")
	assert.Empty(t, untrue(t, after, before, "let-out a-b 10 at waist"), "the other way")
}

func TestSharesOfATakenInSeam(t *testing.T) {
	before := twoPanels(t, straight(100), straight(0))
	for words, widths := range map[string][2]float64{
		"take-in a-b 9 share 1:2": {3, 6}, "take-in a-b 10 share 30": {3, 7}, "take-in a-b 9 only a": {9, 0},
		"take-in a-b 9 only b": {0, 9}, "take-in a-b 9": {4.5, 4.5}, "take-in a-b 8 share 0:1": {0, 8},
	} {
		after := twoPanels(t, straight(100-widths[0]), straight(widths[1]))
		assert.Empty(t, untrue(t, before, after, words), words)
		swapped := twoPanels(t, straight(100-widths[1]), straight(widths[0]))
		assert.Equal(t, widths[0] == widths[1], len(untrue(t, before, swapped, words)) == 0, "%s: the other way round", words)
	}
}

// 3 to 6 over the height from waist to high; in the hem, beyond the lowest level,
// the amount stays what it is at that level.
func TestAmountsBetweenAndBeyondLevels(t *testing.T) {
	y := heights()
	before := twoPanels(t, straight(100), straight(0))
	after := twoPanels(t, []float64{90, 90, 97, 94, 94}, straight(0))
	require.Len(t, y, 5)
	assert.Empty(t, untrue(t, before, after, "take-in a-b 6 at high, 3 at waist, 10 at low only a"))
	claims := lines(step.Claims(parse(t, "take-in a-b 6 at high, 12 at low only a"), before))
	assert.Contains(t, claims, "Changes: width a at waist -9")
}

// An edge that ends at a corner that moves, and is sewn itself, alters its partner.
func TestNeighboursAtMovedCorners(t *testing.T) {
	g := twoPanels(t, straight(100), straight(0))
	yoke := skirt(t, panel{"yoke", straight(0), straight(100)}).Pieces[0]
	g.Pieces = append(g.Pieces, yoke)
	g.Seams = append(g.Seams, pattern.Seam{Name: "yoke-seam", First: []pattern.Ref{{Piece: "a", Edge: "top"}}, Second: []pattern.Ref{{Piece: "yoke", Edge: "hem"}}})
	g.SortPieces()
	only := func(words string) string {
		claims := lines(step.Claims(parse(t, words), g))
		return claims[len(claims)-1]
	}
	assert.Equal(t, "Only: a, b", only("take-in a-b 10 at waist"), "the corners stay")
	assert.Contains(t, lines(step.Claims(parse(t, "take-in a-b 10 at waist"), g)), "Keeps: seam yoke-seam")
	assert.Equal(t, "Only: a, b, yoke", only("take-in a-b 10"))
	assert.NotContains(t, lines(step.Claims(parse(t, "take-in a-b 10"), g)), "Keeps: seam yoke-seam")
	assert.Contains(t, step.Unproven(parse(t, "take-in a-b 10"), g), "the lengths of yoke-seam, which end at corners that move")
	assert.Equal(t, "Only: a, b, yoke", only("raise top 5"), "the line itself is sewn")
}

// with draws a skirt of two rectangles 100 and 120 wide with the given heights of
// the top and hem corners, from front to back.
func with(t *testing.T, tops, hems [4]float64) *pattern.Garment {
	g := twoPanels(t, straight(100), straight(0))
	g.Pieces = []*pattern.Piece{pattern.Clone(g.Piece("a")), pattern.Clone(g.Piece("b"))}
	for i, p := range g.Pieces {
		for j, name := range []string{"front", "back"} {
			p.Corners[p.CornerIndex("top-"+name)].At.Y = tops[2*i+j]
			p.Corners[p.CornerIndex("hem-"+name)].At.Y = hems[2*i+j]
		}
	}
	return g
}

func TestLinesRaisedLoweredAndTrimmed(t *testing.T) {
	top, hem := [4]float64{200, 200, 200, 200}, [4]float64{-200, -200, -200, -200}
	before := with(t, top, hem)
	high, low := [4]float64{208, 208, 208, 208}, [4]float64{-212, -212, -212, -212}
	middle := [4]float64{200, 195, 195, 200}
	for _, c := range []struct {
		words     string
		tops, hem [4]float64
	}{
		{"raise top 8", high, hem}, {"lower hem 12", top, low}, {"trim top 5 at a-b", middle, hem}, {"lower top 5 at a-b", middle, hem},
		{"raise hem 4 at a.hem-front", top, [4]float64{-196, -200, -200, -200}},
		{"trim hem 4 at a.hem-front, 6 at a-b, 8 at b.hem-back", top, [4]float64{-196, -194, -194, -192}},
	} {
		after := with(t, c.tops, c.hem)
		assert.Empty(t, untrue(t, before, after, c.words), c.words)
		assert.NotEmpty(t, untrue(t, before, before, c.words), "%s: nothing was done", c.words)
		c.tops[1]--
		assert.NotEmpty(t, untrue(t, before, with(t, c.tops, c.hem), c.words), "%s: one side of the seam is off", c.words)
	}
	assert.Empty(t, untrue(t, before, with(t, middle, hem), "trim a.top 5 at top-back", "trim b.top 5 at a-b"))
	assert.Equal(t, []string{"Changes: length a.back -5", "Keeps: walk a-b"}, untrue(t, before, with(t, [4]float64{200, 200, 195, 200}, hem), "trim a.top 5 at top-back"))
}

// A level that the line comes near is not promised.
func TestALineNearALevel(t *testing.T) {
	before := with(t, [4]float64{200, 200, 200, 200}, [4]float64{-200, -200, -200, -200})
	s := parse(t, "trim top 100")
	assert.Contains(t, lines(step.Claims(s, before)), "Keeps: girth waist")
	assert.NotContains(t, lines(step.Claims(s, before)), "Keeps: girth high")
	assert.Contains(t, step.Unproven(s, before), "the girth at high, which the line comes near")
}

// F5: equal cloth distance from the waist along every seam: slanted sides of the
// legs 30 and 40 have the length 50.
func TestALevelHem(t *testing.T) {
	const legs = 120.0
	flared := func(drop float64) *pattern.Garment {
		g := with(t, [4]float64{200, 200, 200, 200}, [4]float64{-150, -drop, -drop, -150})
		for i, p := range g.Pieces { // the sides at the seam slope outwards below the waist: 90 across for 120 down
			edge, corner := "back", "hem-back"
			sign := 1.0
			if i == 1 {
				edge, corner, sign = "front", "hem-front", -1
			}
			x := []float64{100, 0}[i]
			p.Edges[p.EdgeIndex(edge)].Segs = []pattern.Seg{{To: curve.Pt(x, 0)}, {ToCorner: true}}
			p.Corners[p.CornerIndex(corner)].At = curve.Pt(x+sign*drop*0.75, -drop)
		}
		return g
	}
	before, after := flared(150), flared(legs)
	assert.InDelta(t, 150, math.Hypot(legs, 90), 1e-12)
	s := parse(t, "level hem 150 below waist")
	assert.Contains(t, lines(step.Claims(s, before)), "Changes: length a.back below waist to 150")
	assert.Contains(t, lines(step.Claims(s, before)), "Changes: turn hem at a-b to 0 within 4")
	for _, line := range untrue(t, before, after, "level hem 150 below waist") {
		assert.Contains(t, line, "turn hem", "the lengths are right; straight hems bend at the seam")
	}
	assert.Contains(t, untrue(t, before, before, "level hem 150 below waist"), "Changes: length b.front below waist to 150", "level in the flat is not level on the cloth")
}

func TestASmoothedLineKeepsItsSeams(t *testing.T) {
	top, hem := [4]float64{200, 200, 200, 200}, [4]float64{-200, -200, -200, -200}
	before := with(t, top, hem)
	after := with(t, top, hem)
	p := after.Pieces[0]
	p.Edges[p.EdgeIndex("top")].Segs = []pattern.Seg{{Curve: true, H1: curve.Pt(70, 200), H2: curve.Pt(30, 205), ToCorner: true}}
	assert.Empty(t, untrue(t, before, after, "smooth top"))
	assert.Empty(t, untrue(t, before, after, "smooth a.top within 3"))
	assert.Equal(t, []string{"Only: b"}, untrue(t, before, after, "smooth top from a-b"))
	assert.Equal(t, []string{"Keeps: seam a-b"}, untrue(t, before, with(t, [4]float64{200, 201, 201, 200}, hem), "smooth top"))
	assert.Contains(t, step.Unproven(parse(t, "smooth a.top within 3"), before), "that no point of the line moved by more than 3 mm")
}

// A rectangle 100 by 400 cut at the waist gives two of 100 by 200: 20 000 mm2 each.
func TestAPieceSplitAndJoinedAgain(t *testing.T) {
	one := skirt(t, panel{"a", straight(0), straight(100)})
	one.Runs = nil
	two := skirt(t, panel{"a", straight(0), straight(100)})
	two.Runs, two.Closures = nil, nil
	one.Closures = nil
	upper, lower := half("upper", 0, 200), half("lower", -200, 0)
	two.Pieces = []*pattern.Piece{upper, lower}
	two.SortPieces()
	two.Around = []pattern.Mention{{Name: "upper"}, {Name: "lower"}}
	two.Seams = []pattern.Seam{{Name: "cut", First: []pattern.Ref{{Piece: "upper", Edge: "hem"}}, Second: []pattern.Ref{{Piece: "lower", Edge: "top"}}}}
	const words = "split a by 0 0 to 100 0 into upper lower seam cut"
	assert.Equal(t, []string{"Changes: seam cut to 100", "Changes: area upper to 20000", "Changes: width upper at high to 100", "Changes: width upper at waist to 100",
		"Changes: area lower to 20000", "Changes: width lower at low to 100", "Keeps: girth", "Keeps: worn", "Only: a, upper, lower, garment"},
		lines(step.Claims(parse(t, words), one)))
	assert.Empty(t, untrue(t, one, two, words))
	assert.NotEmpty(t, untrue(t, one, two, "split a by 100 0 to 0 0 into upper lower seam cut"), "left and right")
	assert.NotEmpty(t, untrue(t, one, two, "split a by 0 20 to 100 20 into upper lower seam cut"), "elsewhere")
	assert.Empty(t, untrue(t, two, one, "join cut into a"))
	assert.Contains(t, lines(step.Claims(parse(t, "join cut into a"), two)), "Changes: area a to 40000")
}

// half is a rectangle 100 wide between two heights.
func half(name string, from, to float64) *pattern.Piece {
	corner := func(name string, x, y float64) pattern.Corner { return pattern.Corner{Name: name, At: curve.Pt(x, y)} }
	return &pattern.Piece{Name: name,
		Corners: []pattern.Corner{corner("top-front", 0, to), corner("hem-front", 0, from), corner("hem-back", 100, from), corner("top-back", 100, to)},
		Edges:   []pattern.Edge{{Name: "front"}, {Name: "hem"}, {Name: "back"}, {Name: "top"}}}
}

func TestAPieceTurned(t *testing.T) {
	before := skirt(t, panel{"a", straight(0), straight(100)})
	for _, angle := range []float64{8, -30, 90} {
		turn := curve.Rigid{Angle: angle * math.Pi / 180}.Affine()
		assert.Empty(t, untrue(t, before, mapped(before, turn), "pivot a 8 at hem-front"), "no claim says by how much")
	}
	larger := mapped(before, curve.Rigid{Angle: 0.1}.Affine())
	larger.Pieces[0].Corners[0].At.Y += 2
	assert.Contains(t, untrue(t, before, larger, "pivot a 8 at hem-front"), "Keeps: length a.front")
}

// mapped gives a garment whose first piece went through a map.
func mapped(g *pattern.Garment, m curve.Affine) *pattern.Garment {
	out := *g
	p := pattern.Clone(g.Pieces[0])
	put := func(at *curve.Point) {
		*at = pattern.Round(m.Apply(*at))
	}
	for i := range p.Corners {
		put(&p.Corners[i].At)
		for j := range p.Edges[i].Segs {
			put(&p.Edges[i].Segs[j].To)
		}
	}
	out.Pieces = append([]*pattern.Piece{p}, g.Pieces[1:]...)
	return &out
}

// A strip of 15 at the waist: what lies above goes up by 15.
func TestAllPiecesLengthened(t *testing.T) {
	before := twoPanels(t, straight(100), straight(0))
	after := twoPanels(t, straight(100), straight(0))
	lift := func(p *pattern.Piece) *pattern.Piece {
		p = pattern.Clone(p)
		for i := range p.Corners {
			if p.Corners[i].At.Y > 0 {
				p.Corners[i].At.Y += 15
			}
			for j := range p.Edges[i].Segs {
				if p.Edges[i].Segs[j].To.Y > 0 {
					p.Edges[i].Segs[j].To.Y += 15
				}
			}
		}
		return p
	}
	after.Pieces = []*pattern.Piece{lift(after.Piece("a")), lift(after.Piece("b"))}
	assert.ElementsMatch(t, []string{"Changes: length a.front +15", "Keeps: length a.hem", "Keeps: length a.top", "Keeps: length b.hem",
		"Changes: length b.back +15", "Keeps: length b.top", "Changes: seam a-b +15", "Only: a, b"}, lines(step.Claims(parse(t, "lengthen 15 at waist"), before)))
	assert.Empty(t, untrue(t, before, after, "lengthen 15 at waist"))
	assert.Empty(t, untrue(t, after, before, "shorten 15 at waist"))
	after.Pieces[1] = before.Piece("b")
	assert.ElementsMatch(t, []string{"Changes: seam a-b +15", "Changes: length b.back +15"}, untrue(t, before, after, "lengthen 15 at waist"), "one piece was left out")
}

func TestAMirroredCopy(t *testing.T) {
	before := skirt(t, panel{"a", straight(0), []float64{110, 105, 100, 105, 110}})
	after := *before
	b := skirt(t, panel{"b", []float64{-110, -105, -100, -105, -110}, straight(0)}).Pieces[0]
	after.Pieces = append([]*pattern.Piece{before.Pieces[0]}, b)
	assert.Empty(t, untrue(t, before, &after, "mirror a into b"))
	b.Corners[0].At.X -= 30
	assert.NotEmpty(t, untrue(t, before, &after, "mirror a into b"))
}

// A seam sewn between two notches ends at no corner of its edge: a line that is
// trimmed at that corner does not reach it.
func TestASeamBetweenNotchesIsNotReached(t *testing.T) {
	top, hem := [4]float64{200, 200, 200, 200}, [4]float64{-200, -200, -200, -200}
	g := with(t, top, hem)
	a := g.Piece("a")
	for i, name := range []string{"from", "to"} {
		a.Notches = append(a.Notches, pattern.Notch{Name: name, Edge: pattern.Mention{Name: "front"},
			On: pattern.Spot{Kind: pattern.FromCorner, Corner: "top-front", Distance: 100 + 100*float64(i)}})
	}
	tab := half("tab", 0, 100)
	g.Pieces = append(g.Pieces, tab)
	g.Seams = append(g.Seams, pattern.Seam{Name: "tab", First: []pattern.Ref{{Piece: "a", Edge: "front", From: "from", To: "to"}}, Second: []pattern.Ref{{Piece: "tab", Edge: "back"}}})
	claims := lines(step.Claims(parse(t, "trim top 4 at a.top-front"), g))
	assert.Contains(t, claims, "Changes: length a.front -4")
	assert.Contains(t, step.Unproven(parse(t, "lengthen 3 at waist"), g), "the length of tab, which is sewn between notches")
}
