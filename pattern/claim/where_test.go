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

// laced is two panels with an elastic one, laced at the front, and a body that
// fits them.
func laced() (*pattern.Garment, *pattern.Body) {
	g := bodice(panel("front", 100, 80, 90), panel("gusset", 20, 20, 20), panel("back", 100, 80, 90))
	g.Around = []pattern.Mention{{Name: "front"}, {Name: "gusset"}, {Name: "back"}}
	g.Closures = []pattern.Closure{
		{Name: "front", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "front", Edge: "front"}}},
		{Name: "back", Kind: pattern.ButtonClosure, Edges: []pattern.Ref{{Piece: "back", Edge: "back"}}, Overlap: pattern.Some(20)},
	}
	g.Options = []pattern.PieceOption{{Piece: "gusset", Stretch: pattern.Some(10)}}
	g.Seams = []pattern.Seam{
		{Name: "side", First: []pattern.Ref{{Piece: "front", Edge: "back"}}, Second: []pattern.Ref{{Piece: "gusset", Edge: "front"}}},
		{Name: "rear", First: []pattern.Ref{{Piece: "gusset", Edge: "back"}}, Second: []pattern.Ref{{Piece: "back", Edge: "front"}}},
	}
	g.Runs = []pattern.Run{{Name: "hem", Refs: []pattern.Ref{{Piece: "front", Edge: "hem"}, {Piece: "gusset", Edge: "hem"}, {Piece: "back", Edge: "hem"}}}}
	return g, &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "bust", Value: 500}, {Level: "waist", Value: 400}}}
}

// Girths and gaps move by settings too, though no piece changed. The figures are
// summed by hand: worn = 2 * (180 * (1 + give) + 20 * (1 + stretch)) - overlap - cords
// at a bust of 100 + 20 + 100 less the elastic, and so on.
func TestWhatTheSettingsMoved(t *testing.T) {
	for name, x := range map[string]struct {
		change   func(g *pattern.Garment)
		line     string
		measured string
		where    []string
	}{
		"stretch of elastic": {func(g *pattern.Garment) { g.Options[0].Stretch.Value = 25 }, "Keeps: worn waist",
			"worn at waist 344.0 -> 350.0, +6.0", []string{"stretch of gusset 10 -> 25"}},
		"give of cloth": {func(g *pattern.Garment) { g.Give = pattern.Some(1) }, "Keeps: worn waist",
			"worn at waist 344.0 -> 347.2, +3.2", []string{"give 0 -> 1"}},
		"cords": {func(g *pattern.Garment) {
			g.Cords = []pattern.LevelNum{{Level: "waist", Value: 6}, {Level: "bust", Value: 1}}
		}, "Keeps: worn waist",
			"worn at waist 344.0 -> 338.0, -6.0", []string{"cords at waist 0 -> 6"}},
		"cords and the gap": {func(g *pattern.Garment) { g.Cords = []pattern.LevelNum{{Level: "waist", Value: 6}} }, "Keeps: gap front at waist",
			"gap front at waist 56.0 -> 62.0, +6.0", []string{"cords at waist 0 -> 6"}},
		"thickness": {func(g *pattern.Garment) { g.Thickness = pattern.Some(13) }, "Keeps: gap front at bust",
			"gap front at bust 76.0 -> 89.0, +13.0", []string{"thickness 0 -> 13"}},
		"a piece cut whole": {func(g *pattern.Garment) {
			g.Options = append(g.Options, pattern.PieceOption{Piece: "back", Whole: true})
		}, "Keeps: girth waist", "girth at waist 340.0 -> 260.0, -80.0", []string{"back is cut whole now"}},
		"overlap before thickness": {func(g *pattern.Garment) { g.Thickness = pattern.Some(2); g.Closures[1].Overlap.Value = 50 }, "Keeps: gap front at bust",
			"gap front at bust 76.0 -> 108.0, +32.0", []string{"overlap of back 20 -> 50", "thickness 0 -> 2"}},
	} {
		g, body := laced()
		after := pattern.Clone(g)
		x.change(after)
		c := compare.Garments(g, after, compare.Options{Body: body})
		r := judgeOne(t, c, x.line)
		assert.False(t, r.OK, name)
		assert.Equal(t, x.measured, r.Measured, name)
		assert.Equal(t, x.where, r.Where, name)
		allTrue(t, claim.Judge(c, claim.Suggest(c)), name)
	}
}

func TestWhatMovedOtherMeasures(t *testing.T) {
	for name, x := range map[string]struct {
		change func(g *pattern.Garment)
		line   string
		where  string // begins the first sentence
	}{
		"an edge": {func(g *pattern.Garment) { g.Piece("back").Corners[0].At.Y += 9 }, "Keeps: length back.front", "back.front "},
		"a seam":  {func(g *pattern.Garment) { g.Piece("back").Corners[0].At.Y += 9 }, "Keeps: seam rear", "back.front "},
		"a walk":  {func(g *pattern.Garment) { g.Piece("gusset").Corners[3].At.Y += 9 }, "Keeps: walk rear", "gusset.back "},
		"an area": {func(g *pattern.Garment) { g.Piece("back").Corners[0].At.Y += 9 }, "Keeps: area back", "back: "},
		"a turn":  {func(g *pattern.Garment) { g.Piece("back").Corners[2].At.Y += 9 }, "Keeps: turn hem at rear", "back.hem raised 9.0"},
		"buttons": {func(g *pattern.Garment) { g.Closures[1].Overlap.Value = 24 }, "Keeps: overlap back", "overlap of back 20 -> 24"},
		"a width that a level line meets in one edge only": {func(g *pattern.Garment) { g.Piece("back").Edges[2].Segs[2].To.X -= 7 }, "Keeps: width back", "back.back taken in 7.0 at bust"},
	} {
		g, body := laced()
		after := pattern.Clone(g)
		x.change(after)
		r := judgeOne(t, compare.Garments(g, after, compare.Options{Body: body}), x.line)
		assert.False(t, r.OK, name)
		assert.Empty(t, r.Unknown, name)
		require.NotEmpty(t, r.Where, name)
		assert.True(t, len(r.Where[0]) >= len(x.where) && r.Where[0][:len(x.where)] == x.where, "%s: %v", name, r.Where)
	}
}

// A hem that rises over a level takes the cloth there away, and no side edge moved.
func TestAHemThatRoseOverALevel(t *testing.T) {
	g, _ := laced()
	after := pattern.Clone(g)
	p := after.Piece("gusset")
	p.Corners[1].At.Y, p.Corners[2].At.Y = -60, -60
	p.Edges[2].Segs = p.Edges[2].Segs[1:]
	r := judgeOne(t, compare.Garments(g, after, compare.Options{}), "Keeps: girth hem")
	assert.Equal(t, "girth at hem 380.0 -> 340.0, -40.0", r.Measured)
	require.NotEmpty(t, r.Where)
	assert.Contains(t, r.Where[0], "gusset")
	assert.Contains(t, r.Where[0], "nothing was given to another piece")
}

// What a faulty file left behind is answered, not stumbled over.
func TestBrokenGarments(t *testing.T) {
	lines := []string{"Keeps: girth, worn, gap front, width back, area back, length back.back, length back.front above waist, seam side, walk side",
		"Keeps: turn hem at side, overlap front, pitch front, count front", "Changes: width back to 3", "Only: front"}
	for name, breakIt := range map[string]func(g *pattern.Garment){
		"no corner":       func(g *pattern.Garment) { g.Piece("back").Corners = g.Piece("back").Corners[:3] },
		"no outline":      func(g *pattern.Garment) { g.Piece("back").Corners, g.Piece("back").Edges = nil, nil },
		"no such piece":   func(g *pattern.Garment) { g.Pieces = g.Pieces[1:] },
		"seam to no edge": func(g *pattern.Garment) { g.Seams[0].First[0].Edge = "x" },
		"closure no edge": func(g *pattern.Garment) {
			g.Closures[0].Edges = nil
			g.Eyelets = []pattern.Fastening{{Closure: "front", Count: pattern.Some(9)}}
		},
		"run to nothing":   func(g *pattern.Garment) { g.Runs[0].Refs = nil },
		"no pieces":        func(g *pattern.Garment) { g.Pieces = nil },
		"empty":            func(g *pattern.Garment) { *g = pattern.Garment{} },
		"around a phantom": func(g *pattern.Garment) { g.Around[0].Name = "phantom" },
		"at one point": func(g *pattern.Garment) {
			for i := range g.Piece("back").Corners {
				g.Piece("back").Corners[i].At = curve.Pt(0, 0)
			}
			g.Piece("back").Edges[2].Segs = nil
		},
	} {
		g, body := laced()
		broken := pattern.Clone(g)
		breakIt(broken)
		for _, c := range []*compare.Change{
			compare.Garments(g, broken, compare.Options{Body: body}), compare.Garments(broken, g, compare.Options{Body: body}), compare.Garments(broken, broken, compare.Options{}),
		} {
			claims := parse(t, lines...)
			for _, r := range claim.Judge(c, claims) {
				assert.NotEmpty(t, r.Measured, name)
				assert.NotContains(t, r.Measured, "NaN", name)
				_, wrong := r.Problem()
				assert.Equal(t, !r.OK, wrong)
			}
			claim.Check(c, claims)
			claim.Unclaimed(c, claims)
			allTrue(t, claim.Judge(c, claim.Suggest(c)), name)
		}
	}
}
