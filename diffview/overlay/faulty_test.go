package overlay

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// spoilt is a way to break side-back, with what a picture must say of it and
// whether that version is drawn at all.
type spoilt struct {
	why   string
	drawn bool
	spoil func(g *pattern.Garment, p *pattern.Piece)
}

// spoils are the faults of a version. The corners of side-back are top-front,
// hem-front, hem-back and top-back.
func spoils() map[string]spoilt {
	return map[string]spoilt{
		"self-crossing": {"edge hem crosses edge top", true, func(_ *pattern.Garment, p *pattern.Piece) {
			p.Corners[2].At, p.Corners[3].At = p.Corners[3].At, p.Corners[2].At
			p.Edges[2].Segs, p.Edges[3].Segs = nil, nil
		}},
		"a loop in one edge": {"edge hem crosses itself", true, func(_ *pattern.Garment, p *pattern.Piece) {
			a, b := p.Corners[1].At, p.Corners[2].At
			p.Edges[1].Segs = []pattern.Seg{{Curve: true, ToCorner: true, H1: curve.Pt(b.X+200, a.Y-200), H2: curve.Pt(a.X-200, a.Y-200)}}
		}},
		"clockwise": {"its outline runs clockwise", true, func(_ *pattern.Garment, p *pattern.Piece) { mirrored(p) }},
		"huge":      {"it is 100.", false, func(_ *pattern.Garment, p *pattern.Piece) { p.Corners[3].At = curve.Pt(100000, -100000) }},
		"a handle far out": {"it is ", false, func(_ *pattern.Garment, p *pattern.Piece) {
			p.Edges[3].Segs[0].H1.Y = 100000
		}},
		"no measure":               {"a number of its outline is no measure", false, func(_ *pattern.Garment, p *pattern.Piece) { p.Corners[2].At.X = math.NaN() }},
		"endless":                  {"a number of its outline is no measure", false, func(_ *pattern.Garment, p *pattern.Piece) { p.Corners[0].At.Y = math.Inf(-1) }},
		"no outline":               {"0 corners and 0 edges make no outline", false, func(_ *pattern.Garment, p *pattern.Piece) { p.Corners, p.Edges, p.Notches = nil, nil, nil }},
		"an edge without corner":   {"3 corners and 4 edges make no outline", false, func(_ *pattern.Garment, p *pattern.Piece) { p.Corners = p.Corners[:3] }},
		"an edge without length":   {"has no length", true, func(_ *pattern.Garment, p *pattern.Piece) { p.Corners[2].At = p.Corners[1].At }},
		"all corners in one place": {"has no length", true, func(_ *pattern.Garment, p *pattern.Piece) { squash(p, 0) }},
		"no pieces":                {"it has no pieces", false, func(g *pattern.Garment, _ *pattern.Piece) { g.Pieces = nil }},
	}
}

func mirrored(p *pattern.Piece) {
	squash(p, -1)
}

// squash multiplies all x.
func squash(p *pattern.Piece, k float64) {
	for i := range p.Corners {
		p.Corners[i].At.X *= k
		if k == 0 {
			p.Corners[i].At.Y = 0
		}
	}
	for i := range p.Edges {
		if k == 0 {
			p.Edges[i].Segs = nil
		}
		for j := range p.Edges[i].Segs {
			s := &p.Edges[i].Segs[j]
			s.H1.X, s.H2.X, s.To.X = k*s.H1.X, k*s.H2.X, k*s.To.X
		}
	}
}

// picturesOf draws all five pictures of a change and its later version.
func picturesOf(t require.TestingT, c *compare.Change, piece string) map[string][]byte {
	out := map[string][]byte{}
	var sheet, one, strip, history, small bytes.Buffer
	require.NoError(t, Sheet(&sheet, c, Options{}))
	require.NoError(t, Piece(&one, c, piece, Options{}))
	require.NoError(t, Strip(&strip, c, Options{}))
	var versions []Version
	for i, g := range []*pattern.Garment{c.Before, c.After} {
		versions = append(versions, Version{Label: []string{"first", "second"}[i], Piece: g.Piece(piece), Garment: g})
	}
	require.NoError(t, History(&history, piece, versions, Options{}))
	out["sheet"], out["piece"], out["strip"], out["history"] = sheet.Bytes(), one.Bytes(), strip.Bytes(), history.Bytes()
	for i, g := range []*pattern.Garment{c.Before, c.After} {
		small.Reset()
		require.NoError(t, Thumbnail(&small, g, Options{}))
		out[[]string{"thumbnail before", "thumbnail after"}[i]] = bytes.Clone(small.Bytes())
	}
	return out
}

var noNumber = regexp.MustCompile(`\b(NaN|Inf)\b|[0-9]e\+[0-9]`)

// sound asserts that a picture is well-formed, of a size that a screen can show,
// and holds no number that is none.
func sound(t require.TestingT, name string, picture []byte) *node {
	root := readPicture(t, picture)
	for _, side := range []string{"width", "height"} {
		size := root.number(t, side)
		require.Greater(t, size, 0.0, name)
		require.LessOrEqual(t, size, float64(15*compare.Span), name)
	}
	require.False(t, noNumber.Match(picture), "%s: %s", name, noNumber.Find(picture))
	return root
}

func flatWords(root *node) string { return strings.ReplaceAll(root.words(), "\n", " ") }

// Every way to break a version, on either side, in every picture: it is drawn as
// far as that goes, and its head says what is wrong with which version.
func TestBrokenVersionsGiveAPictureThatSaysSo(t *testing.T) {
	w := readWaistcoat(t)
	for name, s := range spoils() {
		for i, side := range []string{"before", "after"} {
			t.Run(name+" "+side, func(t *testing.T) {
				versions := [2]*pattern.Garment{pattern.Clone(w.garment(t, "gusset")), pattern.Clone(w.garment(t, "half-move"))}
				s.spoil(versions[i], versions[i].Piece("side-back"))
				if i == 0 && s.why == compare.NoPieces {
					return // a garment that has no pieces yet is not faulty
				}
				c := compare.Garments(versions[0], versions[1], compare.Options{Body: w.body()})
				for picture, data := range picturesOf(t, c, "side-back") {
					root := sound(t, picture, data)
					textsAreCalm(t, root)
					words := flatWords(root)
					if strings.HasPrefix(picture, "thumbnail") {
						if strings.HasSuffix(picture, side) && s.why != "it has no pieces" {
							assert.Contains(t, words, "side-back: ")
							assert.Contains(t, words, s.why)
						}
						continue
					}
					if picture == "history" {
						if s.why != "it has no pieces" {
							assert.Contains(t, words, fmt.Sprintf("version %d (%s): ", i+1, []string{"first", "second"}[i]), picture)
							assert.Contains(t, words, s.why, picture)
						}
						continue
					}
					assert.Contains(t, words, s.why, picture)
					assert.Contains(t, words, side+": ", picture)
					assert.Contains(t, root.named("desc")[0].text, s.why, picture)
					if picture == "sheet" && s.why != "it has no pieces" {
						lines := 0
						for _, e := range root.with("data-edge") {
							if strings.HasPrefix(e.attrs["data-edge"], "side-back.") && e.attrs["data-when"] == side {
								lines++
							}
						}
						assert.Equal(t, s.drawn, lines > 0, "%s: the broken version is drawn", picture)
					}
				}
			})
		}
	}
}

// A slip of the point puts one version 100 m away: the later one is drawn.
func TestVersionsFarApart(t *testing.T) {
	w := readWaistcoat(t)
	far := pattern.Clone(w.garment(t, "half-move"))
	p := far.Piece("side-back")
	for i := range p.Corners {
		p.Corners[i].At.X += 100000
	}
	for i := range p.Edges {
		for j := range p.Edges[i].Segs {
			s := &p.Edges[i].Segs[j]
			s.H1.X, s.H2.X, s.To.X = s.H1.X+100000, s.H2.X+100000, s.To.X+100000
		}
	}
	c := compare.Garments(w.garment(t, "gusset"), far, compare.Options{})
	for picture, data := range picturesOf(t, c, "side-back") {
		root := sound(t, picture, data)
		if picture == "sheet" {
			assert.Contains(t, flatWords(root), "before: side-back: it lies 100.1 m away; it is not drawn")
			assert.Less(t, root.number(t, "width"), 400.0)
		}
	}
}

func TestManyFaultsDoNotFillTheHead(t *testing.T) {
	w := readWaistcoat(t)
	g := many(w.garment(t, "gusset"), 0)
	broken := pattern.Clone(g)
	for _, p := range broken.Pieces {
		mirrored(p)
	}
	c := compare.Garments(g, broken, compare.Options{})
	var b bytes.Buffer
	require.NoError(t, Sheet(&b, c, Options{}))
	root := sound(t, "sheet", b.Bytes())
	textsAreCalm(t, root)
	assert.Equal(t, mostFaults, strings.Count(flatWords(root), "runs clockwise"))
	assert.Contains(t, flatWords(root), "and 34 more faults")
}

// Pieces broken at random, on either side: whatever they are, each picture is
// well-formed, bounded and holds only numbers.
func TestNothingBreaksThePictures(t *testing.T) {
	w := readWaistcoat(t)
	base := [2]*pattern.Garment{w.garment(t, "gusset"), w.garment(t, "half-move")}
	for _, g := range base {
		g.Pieces = []*pattern.Piece{g.Piece("back"), g.Piece("gusset"), g.Piece("side-back")} // fewer are quicker
		p := g.Piece("side-back")
		p.Marks = []pattern.Mark{
			{Kind: pattern.Bone, Name: "b1", At: curve.Pt(10, -90), Segs: []pattern.Seg{{To: curve.Pt(10, 150)}}},
			{Kind: pattern.Eyelet, Name: "e1", At: curve.Pt(20, 40), Diameter: pattern.Some(5)},
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		versions := [2]*pattern.Garment{pattern.Clone(base[0]), pattern.Clone(base[1])}
		g := versions[rapid.IntRange(0, 1).Draw(t, "side")]
		p := g.Piece("side-back")
		number := rapid.OneOf(rapid.Float64Range(-300, 300), rapid.Float64Range(-100000, 100000),
			rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, 5e-324, 100000}))
		point := func(l string) curve.Point { return curve.Pt(number.Draw(t, l), number.Draw(t, l)) }
		for range rapid.IntRange(1, 4).Draw(t, "blows") {
			switch rapid.IntRange(0, 8).Draw(t, "blow") {
			case 0:
				p.Corners[rapid.IntRange(0, len(p.Corners)-1).Draw(t, "corner")].At = point("corner at")
			case 1:
				p.Edges[rapid.IntRange(0, len(p.Edges)-1).Draw(t, "edge")].Segs = []pattern.Seg{{Curve: true, ToCorner: true, H1: point("h"), H2: point("k")}}
			case 2:
				mirrored(p)
			case 3:
				if len(p.Corners) > 1 {
					p.Corners = p.Corners[:len(p.Corners)-1]
				}
			case 4:
				if len(p.Edges) > 1 && len(p.Corners) == len(p.Edges) {
					p.Corners, p.Edges = p.Corners[1:], p.Edges[1:]
				}
			case 5:
				p.Marks[0].At, p.Marks[0].Segs[0].To = point("mark"), point("mark to")
			case 6:
				p.Marks[1].At, p.Marks[1].Diameter = point("eyelet"), pattern.Some(number.Draw(t, "diameter"))
			case 7:
				p.Levels = append(p.Levels, pattern.Level{Name: "bust", Y: number.Draw(t, "level")})
			case 8:
				g.Levels[0].Y = number.Draw(t, "the garment's level")
			}
		}
		c := compare.Garments(versions[0], versions[1], compare.Options{Body: w.body()})
		for name, data := range picturesOf(t, c, "side-back") {
			sound(t, name, data)
		}
	})
}

// 24 pieces fill a sheet; of 60 the first 24 are drawn, and it says how many are
// not and how to see them. The words at the top stay legible when the sheet is
// shown 390 CSS pixels wide: 8 of them for a letter's size at least.
func TestSheetsOfManyPieces(t *testing.T) {
	w := readWaistcoat(t)
	for _, n := range []int{2, 7, 24, 60} {
		before, after := several(w.garment(t, "gusset"), n, 0), several(w.garment(t, "seam-move"), n, 3)
		c := compare.Garments(before, after, compare.Options{})
		require.Len(t, c.ChangedPieces(), n)
		var b bytes.Buffer
		require.NoError(t, Sheet(&b, c, Options{Title: "Sampler", From: "card-1", To: "card-2", Note: []string{"Lower all tops"}}))
		root := sound(t, "sheet", b.Bytes())
		textsAreCalm(t, root)
		linesAreOnTheSheet(t, root)
		assert.Len(t, root.with("data-piece"), min(n, MostPieces))
		said := strings.Contains(flatWords(root), "Only 24 are drawn here; the other 36 are named at the end.")
		assert.Equal(t, n > MostPieces, said)
		assert.Equal(t, n > MostPieces, strings.Contains(flatWords(root), "seamkeep overlay --piece"))
		width := root.number(t, "width")
		assert.LessOrEqual(t, width, 850.0)
		pixel := 390 / width
		for _, words := range []string{"Sampler", "Lower all tops"} {
			for _, e := range root.named("text") {
				if e.text == words {
					assert.GreaterOrEqual(t, e.number(t, "font-size")*pixel, 8.0, "%q on a sheet of %d", words, n)
				}
			}
		}
	}
}

// several gives n pieces, the tops lower by d.
func several(g *pattern.Garment, n int, d float64) *pattern.Garment {
	out := clone(shifted(g, d))
	from := out.Pieces
	out.Pieces, out.Seams, out.Around = nil, nil, nil
	for i := range n {
		p := pattern.Clone(from[i%len(from)])
		p.Name = fmt.Sprintf("%s-%02d", p.Name, i)
		out.Pieces = append(out.Pieces, p)
	}
	out.SortPieces()
	return out
}
