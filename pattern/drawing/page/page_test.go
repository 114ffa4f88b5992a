package page

import (
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/text"
)

const (
	waistcoat = "../../../testdata/patterns/waistcoat--03-gusset"
	marked    = "testdata/marked"
)

func load(t testing.TB, dir string) *pattern.Garment {
	folder, problems := text.Load(os.DirFS(dir), ".")
	require.False(t, problems.HasErrors(), problems)
	return folder.Garment
}

func laid(t testing.TB, g *pattern.Garment) *Page {
	pg, err := New(g, g.Pieces)
	require.NoError(t, err)
	return pg
}

// room is all that a piece takes on the page.
func (p Piece) room() curve.Box {
	box := p.Outline.Bounds()
	for _, l := range p.Lines {
		box = box.Union(l.box())
	}
	for _, t := range p.Texts {
		box = box.Union(t.box())
	}
	return box
}

func TestPiecesLieSideBySideWithTheirWaistsOnALine(t *testing.T) {
	for _, dir := range []string{waistcoat, marked} {
		pg := laid(t, load(t, dir))
		right := pg.Square.X + SquareSide
		for _, p := range pg.Pieces {
			room := p.room()
			assert.GreaterOrEqual(t, room.Min.X, right+gap, p.Piece.Name)
			right = room.Max.X
			assert.Equal(t, pg.Pieces[0].At.Y, p.At.Y, "the waist is y = 0 of every piece")
			assert.Equal(t, math.Round(p.At.X), p.At.X, "whole mm keep a number's decimals")
			assert.GreaterOrEqual(t, room.Min.Y, float64(margin))
			assert.LessOrEqual(t, room.Max.Y, pg.Height-margin)
		}
		assert.LessOrEqual(t, right, pg.Width-margin)
	}
}

func TestPiecesStandInTheOrderInWhichTheyGoRound(t *testing.T) {
	var names []string
	for _, p := range laid(t, load(t, waistcoat)).Pieces {
		names = append(names, p.Piece.Name)
	}
	assert.Equal(t, []string{"front", "side-front", "underarm", "gusset", "side-back", "back", "button-stand"}, names)
}

// The outline on the page is the piece's own with y turned over, so that it is
// seen as it was drawn, not mirrored.
func TestOutlineIsThePieceTurnedToYDown(t *testing.T) {
	for _, p := range laid(t, load(t, marked)).Pieces {
		own := p.Piece.Outline()
		require.Len(t, p.Outline, len(own))
		for i, s := range own {
			assert.InDelta(t, p.At.X+s.P1.X, p.Outline[i].P1.X, 1e-9)
			assert.InDelta(t, p.At.Y-s.P1.Y, p.Outline[i].P1.Y, 1e-9)
		}
	}
}

func TestNamesLieOnNothing(t *testing.T) {
	for _, dir := range []string{waistcoat, marked} {
		for _, p := range laid(t, load(t, dir)).Pieces {
			lines := []curve.Path{p.Outline}
			for _, l := range p.Lines {
				lines = append(lines, l.Path)
			}
			for i, a := range p.Texts {
				for _, b := range p.Texts[i+1:] {
					assert.False(t, a.box().Overlaps(b.box()), "%s: %q on %q", p.Piece.Name, a.Text, b.Text)
				}
				for _, l := range lines {
					for _, q := range walk(l) {
						box := a.box()
						assert.False(t, box.Min.X < q.X && q.X < box.Max.X && box.Min.Y < q.Y && q.Y < box.Max.Y, "%s: a line runs through %q", p.Piece.Name, a.Text)
					}
				}
			}
		}
	}
}

// walk gives places along a line, every half mm.
func walk(l curve.Path) []curve.Point {
	var out []curve.Point
	length := l.Length(0.01)
	for d := 0.0; d < length; d += 0.5 {
		out = append(out, l.PointAt(d, 0.01))
	}
	return out
}

func TestEveryEdgeAndLevelIsNamed(t *testing.T) {
	g := load(t, waistcoat)
	for _, p := range laid(t, g).Pieces {
		count := map[string]int{}
		for _, text := range p.Texts {
			count[text.Text]++
		}
		for _, e := range p.Piece.Edges {
			assert.Positive(t, count[e.Name], e.Name)
		}
		for _, l := range g.Levels {
			assert.Positive(t, count[l.Name], l.Name)
		}
	}
}

func TestNotchesBeginOnTheSewingLineAndPointInwards(t *testing.T) {
	n := 0
	for _, p := range laid(t, load(t, marked)).Pieces {
		for _, l := range p.Lines {
			if l.Kind != Notch {
				continue
			}
			n++
			assert.LessOrEqual(t, p.Outline.Nearest(l.Path.Start()).Dist, 0.0008, "rounded to 0.001 mm both ways")
			assert.True(t, p.Outline.Contains(l.Path.End()))
			assert.InDelta(t, tickSize, l.Path.Length(1e-6), 0.002)
		}
	}
	assert.Equal(t, 3, n)
}

func TestLevelLinesFollowThePiecesOwnLevels(t *testing.T) {
	for _, p := range laid(t, load(t, marked)).Pieces {
		want := map[string]float64{"front": 120, "back": 118}[p.Piece.Name] // level bust
		for _, l := range p.Lines {
			if l.Kind == Level && l.Name == "bust" {
				assert.Equal(t, p.At.Y-want, l.Path.Start().Y)
				assert.Equal(t, p.At.Y-want, l.Path.End().Y)
			}
		}
	}
}

func TestButtonholeBeginsAtItsPoint(t *testing.T) {
	l, ok := MarkLine(pattern.Mark{Kind: pattern.Buttonhole, Name: "h", At: curve.Pt(8, 150), Length: pattern.Some(17), Angle: pattern.Some(90)})
	require.True(t, ok)
	assert.Equal(t, curve.Path{curve.Line(curve.Pt(8, 150), curve.Pt(8, 167))}, l.Path)
}

func TestRefusesWhatNoFileHolds(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 100_001} {
		for name, spoil := range map[string]func(p *pattern.Piece){
			"corner": func(p *pattern.Piece) { p.Corners[0].At.Y = bad },
			"handle": func(p *pattern.Piece) { p.Edges[2].Segs[0].H1.X = bad },
			"mark":   func(p *pattern.Piece) { p.Marks[5].At.X = bad },
			"width":  func(p *pattern.Piece) { p.Marks[0].Width = pattern.Some(bad) },
			"level":  func(p *pattern.Piece) { p.Levels = []pattern.Level{{Name: "x", Y: bad}} },
			"grain":  func(p *pattern.Piece) { p.Grain.To.X = bad },
		} {
			g := load(t, marked)
			spoil(g.Piece("front"))
			_, err := New(g, g.Pieces)
			assert.Error(t, err, "%s %v", name, bad)
		}
	}
}

// Whatever stands in a piece, laying it out ends, and everything has a finite
// place on the page.
func TestAnyPieceIsLaidOut(t *testing.T) {
	coordinate := rapid.OneOf(rapid.Float64Range(-300, 300), rapid.Float64Range(-farthest, farthest))
	rapid.Check(t, func(t *rapid.T) {
		point := func() curve.Point { return curve.Pt(coordinate.Draw(t, "x"), coordinate.Draw(t, "y")) }
		p := &pattern.Piece{Name: "p", Title: rapid.String().Draw(t, "title")}
		for i := range rapid.IntRange(0, 6).Draw(t, "corners") {
			p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", i), At: point()})
			p.Edges = append(p.Edges, pattern.Edge{Name: fmt.Sprintf("e%d", i), Segs: []pattern.Seg{{Curve: true, H1: point(), H2: point(), ToCorner: true}}})
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "marks") {
			kind := rapid.SampledFrom([]pattern.MarkKind{pattern.Bone, pattern.Cutout, pattern.Eyelet, pattern.Buttonhole}).Draw(t, "kind")
			m := pattern.Mark{Kind: kind, Name: fmt.Sprintf("m%d", i), At: point(), Width: pattern.Some(coordinate.Draw(t, "w")), Diameter: pattern.Some(coordinate.Draw(t, "d"))}
			if kind.IsLine() {
				m.Segs = []pattern.Seg{{To: point()}, {Curve: true, H1: point(), H2: point(), To: point()}}
			}
			p.Marks = append(p.Marks, m)
		}
		g := &pattern.Garment{Levels: []pattern.Level{{Name: "waist"}, {Name: "bust", Y: coordinate.Draw(t, "level")}}}
		pg, err := New(g, []*pattern.Piece{p})
		require.NoError(t, err)
		for _, v := range []float64{pg.Width, pg.Height, pg.Pieces[0].At.X, pg.Pieces[0].At.Y} {
			assert.False(t, math.IsNaN(v) || math.IsInf(v, 0))
		}
		room := pg.Pieces[0].room()
		assert.GreaterOrEqual(t, room.Min.X, float64(margin))
		assert.LessOrEqual(t, room.Max.Y, pg.Height)
	})
}

// A piece made from a table of widths may end at a level: the level's line goes
// along its top and beyond both ends, and its name stands there, off the piece's.
func TestLevelAlongTheTopOfAPiece(t *testing.T) {
	p := &pattern.Piece{Name: "back"}
	for _, at := range []curve.Point{{X: -35, Y: 140}, {X: -36, Y: -110}, {X: 36, Y: -110}, {X: 35, Y: 140}} {
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprint(at), At: at})
	}
	for _, name := range []string{"front", "hem", "back", "top"} {
		p.Edges = append(p.Edges, pattern.Edge{Name: name})
	}
	g := &pattern.Garment{Levels: []pattern.Level{{Name: "bust", Y: 140}, {Name: "waist"}}, Pieces: []*pattern.Piece{p}}
	laidOut := laid(t, g).Pieces[0]
	for _, l := range laidOut.Lines {
		if l.Name == "bust" {
			assert.Equal(t, laidOut.At.X-35-overhang, l.Path.Start().X)
			assert.Equal(t, laidOut.At.X+35+overhang, l.Path.End().X)
		}
	}
	for i, a := range laidOut.Texts {
		for _, b := range laidOut.Texts[i+1:] {
			assert.False(t, a.box().Overlaps(b.box()), "%q on %q", a.Text, b.Text)
		}
		if a.Text == "bust" {
			assert.Greater(t, a.At.X, laidOut.At.X+35+overhang)
		}
	}
}

// The name by which the tool speaks of a piece stands out; a title that says the
// same is not repeated.
func TestCaptionsPutTheNameFirst(t *testing.T) {
	tests := map[string]struct {
		name, title string
		small       []string
	}{
		"no title":          {"side-back", "", nil},
		"the name again":    {"side-back", "side-back", nil},
		"the name in words": {"side-back", "Side back", nil},
		"only blanks":       {"side-back", "  ", nil},
		"from before":       {"princess-back", "Side back", []string{"Side back"}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			p := &pattern.Piece{Name: tt.name, Title: tt.title, Cloths: []pattern.Cloth{{Name: "coutil", Count: 1, Cut: "pair"}}}
			var bold, small []string
			for _, text := range laid(t, &pattern.Garment{Pieces: []*pattern.Piece{p}}).Pieces[0].Texts {
				if text.Bold {
					bold = append(bold, text.Text)
					assert.Equal(t, 6.0, text.Size)
				} else {
					small = append([]string{text.Text}, small...)
				}
			}
			assert.Equal(t, []string{tt.name}, bold)
			assert.Equal(t, append(tt.small, "coutil, 1 pair"), small)
		})
	}
}
