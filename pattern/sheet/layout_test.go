package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// setUp does the work of New and keeps what it used.
func setUp(t require.TestingT, g *pattern.Garment, o Options) (*setter, *Sheet) {
	o.Face = ink.DejaVu()
	if len(o.Pieces) == 0 {
		o.Pieces = g.Pieces
	}
	s := &setter{garment: g, o: o, stretch: curve.Pt(1, 1)}
	if s.o.Margin == 0 {
		s.o.Margin = DefaultMargin
	}
	require.NoError(t, s.setFrame())
	s.drawFigures()
	require.NoError(t, s.layOut())
	return s, s.finish("full-size sheets")
}

// oblong is a garment of rectangular pieces.
func oblong(sizes ...size) *pattern.Garment {
	g := &pattern.Garment{Name: "bag", Half: pattern.LeftHalf}
	for i, z := range sizes {
		p := &pattern.Piece{Name: fmt.Sprintf("p%d", i)}
		for k, at := range []curve.Point{{}, {X: z.w}, {X: z.w, Y: z.h}, {Y: z.h}} {
			p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", k), At: at})
			p.Edges = append(p.Edges, pattern.Edge{Name: fmt.Sprintf("e%d", k)})
		}
		g.Pieces = append(g.Pieces, p)
	}
	g.SortPieces()
	return g
}

// Pieces of any size: on some page each place of each outline can be seen, what
// fits lies whole on one page, and no two pieces of a page or an area overlap.
func TestEveryPieceIsSeenWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var sizes []size
		for range rapid.IntRange(1, 5).Draw(t, "pieces") {
			sizes = append(sizes, size{rapid.Float64Range(20, 500).Draw(t, "w"), rapid.Float64Range(20, 600).Draw(t, "h")})
		}
		paper := papers[rapid.IntRange(0, 3).Draw(t, "paper")]
		s, made := setUp(t, oblong(sizes...), Options{Paper: paper})
		for _, f := range s.figures {
			var whole []int
			for _, p := range made.Pages {
				if slices.Contains(p.Pieces, f.piece.Name) && p.Tile == "" {
					whole = append(whole, p.Number)
				}
			}
			if z := f.size(); z.w <= s.content.Width() && z.h <= s.content.Height() {
				assert.Len(t, whole, 1, "a piece that fits lies on one page")
			} else {
				assert.Empty(t, whole)
			}
		}
		for _, a := range s.areas {
			assertArea(t, a)
		}
		for _, p := range s.pages {
			var boxes []curve.Box
			for i, f := range p.on {
				if p.tile == nil {
					b := moved(f.box, p.parts[i].Move)
					assert.True(t, within(b, p.box), "%s inside its page", f.piece.Name)
					boxes = append(boxes, b)
				}
			}
			assertApart(t, boxes)
			if p.Tile != mapTile {
				assert.NotEmpty(t, p.Pieces, "no page is empty")
			}
		}
	})
}

func within(a, b curve.Box) bool {
	return a.Min.X >= b.Min.X-1e-6 && a.Min.Y >= b.Min.Y-1e-6 && a.Max.X <= b.Max.X+1e-6 && a.Max.Y <= b.Max.Y+1e-6
}

func assertApart(t assert.TestingT, boxes []curve.Box) {
	for i, a := range boxes {
		for _, b := range boxes[:i] {
			assert.False(t, a.Grow(-1e-6).Overlaps(b.Grow(-1e-6)), "%v over %v", a, b)
		}
	}
}

func assertArea(t assert.TestingT, a *tiling) {
	var boxes []curve.Box
	for i, f := range a.figures {
		boxes = append(boxes, moved(f.box, a.moves[i]))
		for _, o := range f.outer {
			for _, p := range o.Flatten(0.1) {
				p = p.Add(a.moves[i])
				seen := slices.ContainsFunc(a.cells(p), func(c cellAt) bool { return a.tiles[c] != nil })
				assert.True(t, seen, "a place of %s on no tile", f.piece.Name)
			}
		}
	}
	assertApart(t, boxes)
}

// The neighbours that a tile tells are those that tell it, and lie there: A1 is
// the upper left one, letters run to the right, numbers down.
func TestTilesTellTheirNeighbours(t *testing.T) {
	s, _ := setUp(t, oblong(size{500, 700}), Options{Paper: papers[0]})
	told := map[string]map[string]string{}
	for _, p := range s.pages {
		if p.tile == nil {
			continue
		}
		told[p.Tile] = map[string]string{}
		for _, part := range strings.Split(s.neighbours(p), ", ") {
			way, name, _ := strings.Cut(part, " ")
			told[p.Tile][way] = name
		}
	}
	assert.Equal(t, map[string]string{"right": "B1", "below": "A2"}, told["A1"])
	assert.Equal(t, map[string]string{"left": "A2", "right": "C2", "above": "B1", "below": "B3"}, told["B2"])
	back := map[string]string{"left": "right", "right": "left", "above": "below", "below": "above"}
	for name, others := range told {
		for way, other := range others {
			assert.Equal(t, name, told[other][back[way]], "%s is %s of %s", other, way, name)
		}
	}
	a := s.areas[0]
	right, below := a.window(cellAt{1, 0}), a.window(cellAt{0, 1})
	first := a.window(cellAt{0, 0})
	assert.InDelta(t, Overlap, first.Max.X-right.Min.X, 1e-9)
	assert.InDelta(t, Overlap, below.Max.Y-first.Min.Y, 1e-9)
}

func TestTilesOfManyColumnsKeepTheirNamesApart(t *testing.T) {
	assert.Equal(t, "A1", cellAt{0, 0}.name())
	assert.Equal(t, "Z3", cellAt{25, 2}.name())
	assert.Equal(t, "AA1", cellAt{26, 0}.name())
	assert.Equal(t, "AZ1", cellAt{51, 0}.name())
	assert.Equal(t, "BA1", cellAt{52, 0}.name())
	seen := map[string]bool{}
	for col := range 2000 {
		name := cellAt{col, 0}.name()
		assert.False(t, seen[name], name)
		seen[name] = true
	}
}

// A join mark and its number stand on both neighbours; the mark lies in what both
// show, the number outside it.
func TestJoinMarksStandOnBothNeighbours(t *testing.T) {
	s, _ := setUp(t, oblong(size{340, 480}), Options{Paper: papers[0]})
	a := s.areas[0]
	places := map[string][]curve.Point{}
	for _, x := range a.joined.Texts {
		if x.Layer == ink.Frame {
			places[x.Words] = append(places[x.Words], x.At)
		}
	}
	require.Len(t, places, 8, "two marks at each of four seams of 2 x 2 tiles")
	for number, at := range places {
		require.Len(t, at, 2, number)
		assert.Len(t, a.cells(at[0]), 1, "the number %s lies on one tile", number)
		assert.Len(t, a.cells(at[1]), 1, "and once on the other")
		assert.NotEqual(t, a.cells(at[0]), a.cells(at[1]))
		assert.Len(t, a.cells(at[0].Lerp(at[1], 0.5)), 2, "the mark between them on both")
	}
}

// Both squares lie inside the printable frame and not over each other, on every
// page where a piece is.
func TestEveryPageWithAPieceHasTwoSquaresApart(t *testing.T) {
	g := load(t, waistcoat)
	for _, paper := range append(slices.Clone(papers[:]), Paper{Name: "roll:400", Width: 400, Height: 5000, Roll: true}) {
		s := made(t, g, Options{Paper: paper})
		for _, p := range s.Pages {
			if len(p.Pieces) == 0 {
				continue
			}
			require.Len(t, p.Squares, 2, "%s page %d", paper.Name, p.Number)
			a, b := p.Squares[0], p.Squares[1]
			assert.Equal(t, 100.0, a.Size)
			assert.Equal(t, 4*25.4, b.Size)
			assert.True(t, apartBy(curve.Pt(a.X, a.Y), a.Size, curve.Pt(b.X, b.Y), b.Size), "%s page %d", paper.Name, p.Number)
			for _, q := range p.Squares {
				assert.GreaterOrEqual(t, min(q.X, q.Y), float64(DefaultMargin))
				assert.LessOrEqual(t, q.X+q.Size, p.Width-DefaultMargin)
				assert.LessOrEqual(t, q.Y+q.Size, p.Height-DefaultMargin)
			}
		}
	}
}

func TestBothDrawsWhatIsCutInPairsLeftAndRight(t *testing.T) {
	g := load(t, waistcoat)
	one, _ := setUp(t, g, Options{Paper: papers[0]})
	both, _ := setUp(t, g, Options{Paper: papers[0], Both: true})
	assert.Len(t, both.figures, 2*len(one.figures))
	for i := 0; i < len(both.figures); i += 2 {
		left, right := both.figures[i], both.figures[i+1]
		assert.Equal(t, pattern.LeftHalf, left.half)
		assert.Equal(t, pattern.RightHalf, right.half)
		assert.False(t, left.mirrored)
		assert.True(t, right.mirrored)
		m := left.outer[0].Transform(curve.Scale(-1, 1))
		assert.InDelta(t, 0, curve.Hausdorff(m, right.outer[0], 1e-6).Dist, 1e-6, "the mirror image of the other")
	}
}

// What is cut on the fold is opened out: twice the cloth, its own mirror image in the
// fold, no edge there any more, and what stands on the right half alone there alone.
func TestBothOpensOutWhatIsCutOnTheFold(t *testing.T) {
	p := bent(square(100), 0, curve.Pt(30, -20), curve.Pt(70, 0))
	p.Cloths = []pattern.Cloth{{Name: "linen", Count: 1, Cut: pattern.OnFold, Fold: pattern.Mention{Name: "e2"}}}
	p.Marks = []pattern.Mark{
		{Kind: pattern.Drill, Name: "l", At: curve.Pt(20, 50), Only: "left"},
		{Kind: pattern.Drill, Name: "r", At: curve.Pt(30, 50), Only: "right"},
	}
	g := garment(p, 10)
	g.Half = pattern.LeftHalf
	both, _ := setUp(t, g, Options{Paper: papers[3], Both: true, Version: good})
	require.Len(t, both.figures, 1)
	f := both.figures[0]
	half, problems := Cut(g, p, 0.01)
	require.Empty(t, problems)
	assert.InDelta(t, 2*half.Path.Area(), f.outer[0].Area(), 1e-6)
	for _, s := range f.outer[0] {
		assert.Greater(t, math.Abs(s.P0.X-100)+math.Abs(s.P3.X-100), 0.1, "nothing is cut along the fold: %v to %v", s.P0, s.P3)
	}
	assert.InDelta(t, 2*p.Outline().Area(), f.sewingLine().Area(), 1e-6)
	image := f.outer[0].Transform(curve.Scale(-1, 1).Then(curve.Translate(200, 0)))
	assert.InDelta(t, 0, curve.Hausdorff(f.outer[0], image, 1e-6).Dist, 1e-6)
	assert.Empty(t, f.outer[0].SelfCrossings())
	var words, circles []string
	for _, x := range f.drawing.Texts {
		words = append(words, x.Words)
	}
	for _, s := range f.drawing.Strokes {
		if b := s.Path.Bounds(); s.Layer == ink.Marks && math.Abs(b.Width()-drillSize) < 1e-9 && math.Abs(b.Height()-drillSize) < 1e-9 {
			circles = append(circles, fmt.Sprintf("%.0f", b.Min.Lerp(b.Max, 0.5).X))
		}
	}
	assert.Contains(t, words, "linen: cut 1, opened out: not on the fold")
	assert.ElementsMatch(t, []string{"20", "170"}, circles)
	// cut from a second cloth in pairs, it has no one whole shape
	p.Cloths = append(p.Cloths, pattern.Cloth{Name: "lining", Count: 1, Cut: pattern.Pair})
	assert.Empty(t, foldOf(p))
}

// The list on the map cuts a long name short, never the pages where the piece lies.
func TestTheMapTellsWhereAPieceWithALongNameLies(t *testing.T) {
	g := oblong(size{340, 480}, size{100, 100})
	g.Pieces[0].Title = "Front of the long and splendid waistcoat for a midsummer evening"
	s, _ := setUp(t, g, Options{Paper: papers[0]})
	found := false
	for _, x := range s.pages[0].frame.Texts {
		found = found || x.Words == ": "+strings.Join(s.pagesOf(g.Pieces[0]), " ")
	}
	assert.True(t, found)
}
