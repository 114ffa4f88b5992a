package pattern_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

// full gives the sample with every kind of record that has an order.
func full(t *testing.T) *pattern.Garment {
	t.Helper()
	folder, problems := text.Load(os.DirFS(filepath.Join("..", "testdata", "patterns", "waistcoat--03-gusset")), ".")
	require.Empty(t, problems)
	g := folder.Garment
	g.Tolerances = append(g.Tolerances, pattern.Tolerance{Kind: "turn", Value: 3})
	g.Cords = []pattern.LevelNum{{Level: "waist", Value: 5}, {Level: "bust", Value: 2}}
	g.Seams[0].Eases = []pattern.Ease{{Amount: 1, From: "a", To: "b"}, {Amount: 2, From: "c", To: "d"}}
	g.Wanted = []pattern.Wanted{{Closure: "front", Level: "bust", Min: 28, Max: 36}, {Closure: "front", Level: "waist", Min: 28, Max: 36}}
	g.Allowances = []pattern.Allowance{{Value: 12}, {Target: pattern.Target{Name: "hem"}, Value: 0}}
	p := g.Piece("side-back")
	p.Notches = []pattern.Notch{{Name: "n", Edge: pattern.Mention{Name: "back"}}, {Name: "m", Edge: pattern.Mention{Name: "back"}}}
	p.Marks = []pattern.Mark{{Kind: pattern.Drill, Name: "x"}, {Kind: pattern.Bone, Name: "x", Segs: []pattern.Seg{{To: curve.Pt(1, 2)}}}}
	p.Cloths = append(p.Cloths, pattern.Cloth{Name: "lining", Count: 1, Cut: pattern.Alike})
	p.Levels = []pattern.Level{{Name: "waist", Y: 1}, {Name: "bust", Y: 150}}
	return g
}

func reverse[T any](list []T) {
	for i, j := 0, len(list)-1; i < j; i, j = i+1, j-1 {
		list[i], list[j] = list[j], list[i]
	}
}

func TestOrderAndPlacesDoNotMatter(t *testing.T) {
	for name, change := range map[string]func(*pattern.Garment){
		"tolerances":   func(g *pattern.Garment) { reverse(g.Tolerances) },
		"levels":       func(g *pattern.Garment) { reverse(g.Levels) },
		"cords":        func(g *pattern.Garment) { reverse(g.Cords) },
		"reductions":   func(g *pattern.Garment) { reverse(g.Reduce) },
		"seams":        func(g *pattern.Garment) { reverse(g.Seams) },
		"ease zones":   func(g *pattern.Garment) { reverse(g.Seams[0].Eases) },
		"runs":         func(g *pattern.Garment) { reverse(g.Runs) },
		"closures":     func(g *pattern.Garment) { reverse(g.Closures) },
		"wanted gaps":  func(g *pattern.Garment) { reverse(g.Wanted) },
		"allowances":   func(g *pattern.Garment) { reverse(g.Allowances) },
		"pieces":       func(g *pattern.Garment) { reverse(g.Pieces); g.SortPieces() },
		"notches":      func(g *pattern.Garment) { reverse(g.Piece("side-back").Notches) },
		"marks":        func(g *pattern.Garment) { reverse(g.Piece("side-back").Marks) },
		"cloths":       func(g *pattern.Garment) { reverse(g.Piece("side-back").Cloths) },
		"piece levels": func(g *pattern.Garment) { reverse(g.Piece("side-back").Levels) },
		"places": func(g *pattern.Garment) {
			g.Seams[0].Place = diag.Place{File: "x", Line: 9}
			g.Pieces[0].Corners[0].Place.Line = 77
		},
		"an empty list": func(g *pattern.Garment) { g.Buttons = []pattern.Fastening{} },
		"start corner": func(g *pattern.Garment) {
			p := g.Piece("back")
			p.Corners = append(p.Corners[1:len(p.Corners):len(p.Corners)], p.Corners[0])
			p.Edges = append(p.Edges[1:len(p.Edges):len(p.Edges)], p.Edges[0])
		},
		"a straight edge spelled out": func(g *pattern.Garment) {
			p := g.Piece("back")
			p.Edges[p.EdgeIndex("hem")].Segs = []pattern.Seg{{ToCorner: true}}
		},
	} {
		a, b := full(t), full(t)
		change(b)
		assert.True(t, pattern.Equal(a, b), name)
	}
}

func TestWhatMatters(t *testing.T) {
	for name, change := range map[string]func(*pattern.Garment){
		"title":             func(g *pattern.Garment) { g.Title = "Other" },
		"half":              func(g *pattern.Garment) { g.Half = pattern.RightHalf },
		"a level":           func(g *pattern.Garment) { g.Levels[0].Y++ },
		"order of around":   func(g *pattern.Garment) { reverse(g.Around) },
		"order of a run":    func(g *pattern.Garment) { reverse(g.Runs[0].Refs) },
		"side of a seam":    func(g *pattern.Garment) { s := &g.Seams[0]; s.First, s.Second = s.Second, s.First },
		"an ease":           func(g *pattern.Garment) { g.Seams[0].Eases[1].Amount = 3 },
		"an overlap":        func(g *pattern.Garment) { g.Closures[1].Overlap = pattern.Some(30) },
		"overlap 0 or none": func(g *pattern.Garment) { g.Closures[0].Overlap = pattern.Some(0) },
		"a corner":          func(g *pattern.Garment) { g.Pieces[0].Corners[0].At.X += 0.001 },
		"a corner's name":   func(g *pattern.Garment) { g.Pieces[0].Corners[0].Name = "other" },
		"direction": func(g *pattern.Garment) {
			p := g.Piece("gusset")
			reverse(p.Corners)
		},
		"a recorded length":  func(g *pattern.Garment) { g.Pieces[0].Edges[0].Length = pattern.Some(3) },
		"a notch":            func(g *pattern.Garment) { g.Piece("side-back").Notches[0].On.Distance = 3 },
		"a mark":             func(g *pattern.Garment) { g.Piece("side-back").Marks[1].Segs[0].To.Y = 3 },
		"a piece lost":       func(g *pattern.Garment) { g.Pieces = g.Pieces[1:] },
		"levels none":        func(g *pattern.Garment) { g.Pieces[0].NoLevels = true },
		"a handle of a line": func(g *pattern.Garment) { e := &g.Piece("back").Edges[0]; e.Segs[0].Curve = true },
	} {
		a, b := full(t), full(t)
		change(b)
		assert.False(t, pattern.Equal(a, b), name)
	}
}

func TestEqualOfNothing(t *testing.T) {
	assert.True(t, pattern.Equal(nil, nil))
	assert.False(t, pattern.Equal(nil, &pattern.Garment{}))
	assert.False(t, pattern.Equal(&pattern.Garment{}, nil))
	assert.True(t, pattern.EqualPieces(nil, nil))
	assert.False(t, pattern.EqualPieces(&pattern.Piece{}, nil))
	assert.True(t, pattern.EqualBodies(nil, nil))
	a := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "bust", Value: 9}, {Level: "hip", Value: 8}}}
	b := pattern.Clone(a)
	reverse(b.Girths)
	assert.True(t, pattern.EqualBodies(a, b))
	b.Girths[0].Value++
	assert.False(t, pattern.EqualBodies(a, b))
}

func TestEqualLeavesWhatItComparesAlone(t *testing.T) {
	a := full(t)
	reverse(a.Levels)
	before := pattern.Clone(a)
	pattern.Equal(a, full(t))
	assert.Equal(t, before, a)
}

func TestACloneIsIndependent(t *testing.T) {
	a := full(t)
	want := pattern.Clone(a)
	require.Equal(t, a, want)
	c := pattern.Clone(a)
	c.Title = "x"
	c.Levels[0].Y = -1
	c.Seams[0].Eases[0].Amount = -1
	c.Seams[0].First[0].Piece = "x"
	c.Runs[0].Refs[0].Edge = "x"
	p := c.Piece("side-back")
	p.Corners[0].At.X = -1
	p.Edges[0].Segs = nil
	p.Marks[1].Segs[0].To.X = -1
	p.Notches[0].Name = "x"
	c.Pieces[0].Grain = &pattern.Grain{}
	c.Pieces = c.Pieces[1:]
	assert.Equal(t, want, a)
	assert.Nil(t, pattern.Clone[pattern.Garment](nil))
}

func TestLooking(t *testing.T) {
	g := full(t)
	require.NotNil(t, g.Piece("gusset"))
	assert.Nil(t, g.Piece("gussets"))
	assert.Nil(t, g.Piece(""))
	assert.Nil(t, g.Seam("x"))
	assert.Nil(t, g.Run("x"))
	assert.Nil(t, g.Closure("x"))
	assert.Equal(t, 15.0, g.Option("gusset").Stretch.Value)
	assert.Equal(t, pattern.PieceOption{Piece: "back"}, g.Option("back"))
	for _, r := range []pattern.Ref{{Piece: "x", Edge: "front"}, {Piece: "back", Edge: "x"}, {}} {
		_, _, ok := g.Edge(r)
		assert.False(t, ok, r.String())
	}
	p, i, ok := g.Edge(pattern.Ref{Piece: "back", Edge: "hem"})
	require.True(t, ok)
	assert.Equal(t, "hem", p.Edges[i].Name)
	y, ok := g.LevelOn(g.Piece("side-back"), "bust")
	assert.True(t, ok)
	assert.Equal(t, 150.0, y, "the piece's own")
	g.Piece("back").NoLevels = true
	_, ok = g.LevelOn(g.Piece("back"), "bust")
	assert.False(t, ok)
	var nobody *pattern.Body
	_, ok = nobody.Girth("bust")
	assert.False(t, ok)
}

// A piece that a faulty file left without its corners has no edge to follow.
func TestAnEdgeWithoutItsCornersIsNotFollowed(t *testing.T) {
	g := &pattern.Garment{Pieces: []*pattern.Piece{{Name: "a", Edges: []pattern.Edge{{Name: "e"}}}}}
	_, _, ok := g.Edge(pattern.Ref{Piece: "a", Edge: "e"})
	assert.False(t, ok)
}

func TestSeamTolerance(t *testing.T) {
	for _, c := range []struct {
		name        string
		g           pattern.Garment
		limit, warn float64
	}{
		{"nothing recorded", pattern.Garment{}, 1.5, 1},
		{"a limit of its own", pattern.Garment{Tolerances: []pattern.Tolerance{{Kind: "seam", Value: 2}}}, 2, 1},
		{"both of its own", pattern.Garment{Tolerances: []pattern.Tolerance{{Kind: "seam", Value: 2, Warn: pattern.Some(0.5)}}}, 2, 0.5},
		{"a limit under the usual warning", pattern.Garment{Tolerances: []pattern.Tolerance{{Kind: "seam", Value: 0.8}}}, 0.8, 0.8},
		{"a warning over the limit", pattern.Garment{Tolerances: []pattern.Tolerance{{Kind: "seam", Value: 1, Warn: pattern.Some(4)}}}, 1, 1},
		{"rough", pattern.Garment{Rough: true}, 3, 1},
		{"rough, whatever stands", pattern.Garment{Rough: true, Tolerances: []pattern.Tolerance{{Kind: "seam", Value: 5, Warn: pattern.Some(2)}}}, 3, 2},
		{"other kinds do not count", pattern.Garment{Tolerances: []pattern.Tolerance{{Kind: "turn", Value: 9}}}, 1.5, 1},
	} {
		limit, warn := c.g.SeamTolerance(nil)
		assert.Equal(t, []float64{c.limit, c.warn}, []float64{limit, warn}, c.name)
		limit, warn = c.g.SeamTolerance(&pattern.Seam{Warn: pattern.Some(0.1)})
		assert.Equal(t, []float64{c.limit, c.warn}, []float64{limit, warn}, "%s: a seam that says nothing of its own", c.name)
	}
	g := pattern.Garment{Tolerances: []pattern.Tolerance{{Kind: "turn", Value: 9}}}
	assert.Equal(t, []float64{9, 2, 1}, []float64{g.ToleranceOf("turn"), g.ToleranceOf("notch"), g.ToleranceOf("step")})
}

// Careful makers keep 1/16 in (1.6 mm), many 1/8 in (3.2 mm): Threads no. 200,
// 2018/19. A garment may ask for the one and let a bulky seam have the other.
func TestToleranceOfOneSeam(t *testing.T) {
	garment := []pattern.Tolerance{{Kind: "seam", Value: 1.6, Warn: pattern.Some(1.2)}}
	for _, c := range []struct {
		name         string
		rough        bool
		within, warn pattern.Opt
		limit, from  float64
	}{
		{"wider", false, pattern.Some(3.2), pattern.Opt{}, 3.2, 1.2},
		{"wider, with its own warning", false, pattern.Some(3.2), pattern.Some(2.5), 3.2, 2.5},
		{"narrower", false, pattern.Some(0.8), pattern.Opt{}, 0.8, 0.8},
		{"a warning over the limit", false, pattern.Some(0.8), pattern.Some(2), 0.8, 0.8},
		{"nothing may be off", false, pattern.Some(0), pattern.Opt{}, 0, 0},
		{"rough loosens a narrower one", true, pattern.Some(0.8), pattern.Some(0.5), 3, 0.5},
		{"rough leaves a wider one", true, pattern.Some(3.2), pattern.Opt{}, 3.2, 1.2},
	} {
		g := pattern.Garment{Rough: c.rough, Tolerances: garment}
		limit, warn := g.SeamTolerance(&pattern.Seam{Within: c.within, Warn: c.warn})
		assert.Equal(t, []float64{c.limit, c.from}, []float64{limit, warn}, c.name)
	}
}

func TestRounding(t *testing.T) {
	for in, want := range map[float64]float64{0: 0, 1.23449: 1.234, 1.2345: 1.235, -1.2345: -1.235, -0.0004: 0, 99999.9996: 100000} {
		got := pattern.RoundLength(in)
		assert.Equal(t, want, got)
	}
	assert.False(t, 1/pattern.RoundLength(-0.0001) < 0, "never -0")
	segs := pattern.SegsOf(curve.Path{curve.Line(curve.Pt(0, 0), curve.Pt(1.00049, 2)), curve.Cubic(curve.Pt(1, 2), curve.Pt(1.11111, 3), curve.Pt(2, 4), curve.Pt(5, 5))})
	assert.Equal(t, []pattern.Seg{{To: curve.Pt(1, 2)}, {Curve: true, H1: curve.Pt(1.111, 3), H2: curve.Pt(2, 4), ToCorner: true}}, segs)
	assert.Nil(t, pattern.SegsOf(curve.Path{curve.Line(curve.Pt(0, 0), curve.Pt(1, 1))}))
}

func TestHowReferencesAreWritten(t *testing.T) {
	assert.Equal(t, "back.front", pattern.Ref{Piece: "back", Edge: "front"}.String())
	assert.Equal(t, "back.front from a to b", pattern.Ref{Piece: "back", Edge: "front", From: "a", To: "b"}.String())
	assert.Equal(t, "hem", pattern.Target{Name: "hem"}.String())
	assert.Equal(t, "back.hem", pattern.Target{Name: "back", Edge: "hem"}.String())
	assert.Empty(t, pattern.Target{}.String())
}
