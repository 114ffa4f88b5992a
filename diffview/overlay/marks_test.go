package overlay

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg/browser"
)

func sampleNamed(t require.TestingT, name string) (sample, waistcoat) {
	for _, s := range samples(t) {
		if s.name == name {
			return s, readWaistcoat(t)
		}
	}
	require.Fail(t, "no such sample", name)
	return sample{}, waistcoat{}
}

// drawnMarks gives the groups of marks by "piece.kind name when".
func drawnMarks(root *node) map[string]*node {
	out := map[string]*node{}
	for _, n := range root.with("data-mark") {
		out[n.attrs["data-mark"]+" "+n.attrs["data-when"]] = n
	}
	return out
}

// What became of each mark is known from how the sample was made: it shifts them
// by these amounts.
func TestMarksAreDrawnAsTheyWereAndAsTheyAre(t *testing.T) {
	s, w := sampleNamed(t, "marks")
	root, _ := s.draw(t, w)
	marks := drawnMarks(root)
	tests := map[string]string{ // drawn, not drawn
		"back.bone b1": "before after, same", "back.bone b2": "same, before after", "back.cord c1": "before after, same",
		"back.cutout pocket": "before after, same", "back.drill d1": "after, before same",
		"button-stand.button n1": "same, before after", "button-stand.button n2": "before after, same",
		"button-stand.buttonhole h1": "same, before after", "button-stand.buttonhole h2": "before after, same",
		"button-stand.stitch dart":   "before, after same",
		"gusset.notch half on front": "before after, same", "gusset.notch waist on back": "same, before after",
	}
	for name, want := range tests {
		drawn, not, _ := strings.Cut(want, ", ")
		for _, when := range strings.Fields(drawn) {
			n := marks[name+" "+when]
			require.NotNil(t, n, "%s %s", name, when)
			line := n.named("path")[len(n.named("path"))-1]
			switch when {
			case "before":
				assert.Equal(t, oldColour, line.attrs["stroke"], name)
				assert.NotEmpty(t, line.attrs["stroke-dasharray"], name)
				assert.Equal(t, paperColour, n.named("path")[0].attrs["stroke"], "%s: the halo", name)
			case "after":
				assert.Equal(t, newColour, line.attrs["stroke"], name)
				assert.Empty(t, line.attrs["stroke-dasharray"], name)
				assert.GreaterOrEqual(t, line.number(t, "stroke-width"), 0.7, "%s: heavy enough to be told apart in grey", name)
			case "same":
				assert.LessOrEqual(t, line.number(t, "stroke-width"), stillWidth, name)
			}
		}
		for _, when := range strings.Fields(not) {
			assert.Nil(t, marks[name+" "+when], "%s %s", name, when)
		}
	}
	words := flatWords(root)
	for _, row := range []string{
		"bone b1 moved 6.0 cord c1 moved 6.0 cutout pocket moved 3.0 drill d1 added bone b2 changed: width 7.0 \u2192 9.0",
		"button n2 moved 5.0 buttonhole h2 moved 5.0 stitch dart lost", "notch half on front moved 7.0",
	} {
		assert.Contains(t, words, row)
	}
	var calls []string
	for _, n := range root.with("data-callout") {
		calls = append(calls, n.attrs["data-callout"])
	}
	assert.Equal(t, []string{"notch half on front 7.0", "bone b1 6.0", "button n2 5.0"}, calls, "the largest movement of each piece")
	assert.NotContains(t, words, "Also changed: ", "what has a row is not told again")
}

// Every record of a mark or a notch in the Change has its row, or is counted in
// one; package compare measured them by itself.
func TestRowsOfMarksSayWhatTheChangeSays(t *testing.T) {
	for _, name := range []string{"marks", "marks-and-edges", "records", "seam-move"} {
		s, w := sampleNamed(t, name)
		root, c := s.draw(t, w)
		rows := ""
		for _, n := range root.with("data-mark-row") {
			rows += n.attrs["data-mark-row"] + ": " + strings.ReplaceAll(strings.TrimSpace(n.words()), "\n", " ") + "\n"
		}
		count := 0
		for _, p := range c.ChangedPieces() {
			for _, r := range p.Records {
				kind, _, _ := strings.Cut(r, " ")
				if kind == "notch" || pattern.MarkKind(kind).IsLine() || kind == "drill" || strings.HasPrefix(kind, "button") || kind == "eyelet" {
					assert.Contains(t, rows, p.Name+": "+r, name)
					count++
				}
			}
		}
		assert.Equal(t, count, strings.Count(rows, "\n"), name)
	}
}

func TestThirtyEyeletsTakeOneRowAndOneCallout(t *testing.T) {
	s, w := sampleNamed(t, "thirty-eyelets")
	root, c := s.draw(t, w)
	assert.Contains(t, flatWords(root), "30 eyelets moved 4.0")
	assert.Len(t, root.with("data-mark-row"), 1)
	assert.Len(t, root.with("data-callout"), 1)
	assert.Len(t, root.with("data-mark"), 60+2, "before and after, and the two notches")
	// each by another amount: eight rows, the largest first
	for i := range c.After.Piece("front").Marks {
		c.After.Piece("front").Marks[i].At.Y -= float64(i)
	}
	c = compare.Garments(c.Before, c.After, compare.Options{})
	var b bytes.Buffer
	require.NoError(t, Sheet(&b, c, Options{}))
	root = readPicture(t, b.Bytes())
	textsAreCalm(t, root)
	assert.Len(t, root.with("data-mark-row"), maxMarkRows)
	assert.Contains(t, flatWords(root), "eyelet e30 moved 33.0 eyelet e29 moved 32.0")
	assert.Contains(t, flatWords(root), "and 22 marks more, drawn but not listed")
	assert.Less(t, len(root.named("desc")[0].text), 2000)
}

// A mark with a slip of the point does not stretch the sheet; it is in the table.
func TestAMarkFarOutsideIsListedAlone(t *testing.T) {
	s, w := sampleNamed(t, "thirty-eyelets")
	s.after.Piece("front").Marks[3].At.X = 90000
	root, _ := s.draw(t, w)
	assert.Less(t, root.number(t, "width"), 400.0)
	assert.Contains(t, root.words(), "eyelet e4")
	assert.Nil(t, drawnMarks(root)["front.eyelet e4 after"])
}

func TestMarksGoWithAPieceThatMovedAsAWhole(t *testing.T) {
	build := func(angle float64) *pattern.Garment {
		p := strap("strap")
		p.Marks = []pattern.Mark{
			{Kind: pattern.Bone, Name: "b", At: curve.Pt(16, 20), Segs: []pattern.Seg{{To: curve.Pt(16, 400)}}},
			{Kind: pattern.Buttonhole, Name: "h", At: curve.Pt(10, 440), Angle: pattern.Some(5)},
		}
		fit := curve.Rigid{Angle: angle}
		for i := range p.Corners {
			p.Corners[i].At = pattern.Round(fit.Affine().Apply(p.Corners[i].At))
		}
		for i := range p.Marks {
			p.Marks[i] = laidMark(p.Marks[i], fit)
		}
		return &pattern.Garment{Half: pattern.LeftHalf, Pieces: []*pattern.Piece{p}}
	}
	c := compare.Garments(build(0), build(0.14), compare.Options{})
	for _, m := range pieceMarks(c.Pieces[0], [2]*pattern.Garment{c.Before, c.After}) {
		assert.Equal(t, markSame, m.fate, "%s %s", m.kind, m.name)
	}
}

func TestARenamedMarkThatLiesWhereItLayIsNeitherLostNorMoved(t *testing.T) {
	s, w := sampleNamed(t, "marks")
	after := pattern.Clone(s.before)
	after.Piece("back").Marks[0].Name = "outer"
	c := compare.Garments(s.before, after, compare.Options{Body: w.body()})
	var b bytes.Buffer
	require.NoError(t, Piece(&b, c, "back", Options{}))
	marks := drawnMarks(readPicture(t, b.Bytes()))
	assert.NotNil(t, marks["back.bone outer same"])
	assert.Nil(t, marks["back.bone b1 before"])
	root := readPicture(t, b.Bytes())
	assert.Empty(t, root.with("data-mark-row"))
	assert.Contains(t, flatWords(root), "Also changed: bone b1 is called outer now")
}

func TestAMarkThatMovedAndIsOfAnotherSizeSaysBoth(t *testing.T) {
	s, w := sampleNamed(t, "marks")
	after := pattern.Clone(s.before)
	m := &after.Piece("back").Marks[0]
	m.At.X, m.Segs[0].To.X, m.Width = m.At.X+6, m.Segs[0].To.X+6, pattern.Some(9)
	c := compare.Garments(s.before, after, compare.Options{Body: w.body()})
	var b bytes.Buffer
	require.NoError(t, Piece(&b, c, "back", Options{}))
	root := readPicture(t, b.Bytes())
	assert.Contains(t, flatWords(root), "bone b1 moved 6.0 and changed: width 7.0 \u2192 9.0")
	assert.NotContains(t, flatWords(root), "Also changed")
	marks := drawnMarks(root)
	assert.NotNil(t, marks["back.bone b1 before"])
	assert.NotNil(t, marks["back.bone b1 after"])
}

// A point drawn into a foot 5 mm lower: both halves of the old line are dashed.
func TestAnEdgeThatWasSplitAndMovedShowsTheOldLine(t *testing.T) {
	p := strap("strap")
	i := p.EdgeIndex("foot")
	q := pattern.Clone(p)
	ends := p.EdgePath(i)
	middle := ends.Start().Lerp(ends.End(), 0.5).Sub(curve.Pt(0, 5))
	q.Corners = append(q.Corners[:i+1:i+1], append([]pattern.Corner{{Name: "mid", At: middle}}, q.Corners[i+1:]...)...)
	q.Edges = append(q.Edges[:i+1:i+1], append([]pattern.Edge{{Name: "e1", Was: "foot"}}, q.Edges[i+1:]...)...)
	g := func(p *pattern.Piece) *pattern.Garment {
		return &pattern.Garment{Half: pattern.LeftHalf, Pieces: []*pattern.Piece{p}}
	}
	var b bytes.Buffer
	require.NoError(t, Sheet(&b, compare.Garments(g(p), g(q), compare.Options{}), Options{}))
	root := readPicture(t, b.Bytes())
	lines := map[string]int{}
	for _, n := range root.with("data-edge") {
		lines[n.attrs["data-edge"]+" "+n.attrs["data-when"]]++
	}
	for _, name := range []string{"strap.foot", "strap.e1"} {
		assert.Positive(t, lines[name+" before"], name)
		assert.Positive(t, lines[name+" after"], name)
		assert.Zero(t, lines[name+" same"], name)
	}
	assert.Contains(t, flatWords(root), "out 5.0 at mid")
	assert.Len(t, root.with("data-callout"), 1, "one for both parts, where they meet")
}

func TestNamesOfMarksStayTexts(t *testing.T) {
	s, w := sampleNamed(t, "hostile-marks")
	for _, picture := range []func() (*node, *compare.Change){func() (*node, *compare.Change) { return s.draw(t, w) }, func() (*node, *compare.Change) { return s.strip(t, w) }} {
		root, _ := picture()
		assert.Empty(t, root.named("script"))
		assert.NotContains(t, root.words(), "\u202e")
		assert.NotContains(t, root.words(), "\x1b")
	}
	root, _ := s.draw(t, w)
	assert.Contains(t, root.words(), `"><script>alert(1)</script>&`)
}

// markInMM is inMM for a mark.
const markInMM = `(() => {
	const e = document.querySelector('[data-mark="%s"][data-when="%s"] path:last-of-type');
	const m = e.getScreenCTM(), n = e.getTotalLength();
	return [0, 0.25, 0.5, 0.75, 1].flatMap(f => {
		const p = e.getPointAtLength(f * n).matrixTransform(m);
		return [(p.x + scrollX) * 25.4 / 96, (p.y + scrollY) * 25.4 / 96];
	});
})()`

// The places come from the sample's own coordinates: lines from end to end, a
// circle from its rightmost point round.
func TestChromiumShowsMarksInTheirPlaces(t *testing.T) {
	s, w := sampleNamed(t, "marks")
	var b bytes.Buffer
	require.NoError(t, Sheet(&b, s.change(w), s.options))
	root := readPicture(t, b.Bytes())
	at := map[string]curve.Point{}
	for _, g := range root.with("data-piece") {
		at[g.attrs["data-piece"]] = curve.Pt(g.number(t, "data-x"), g.number(t, "data-y"))
	}
	ctx := browser.Picture(t, b.Bytes(), browser.Strict)
	line := func(x0, y0, x1, y1 float64) []curve.Point {
		var out []curve.Point
		for i := range 5 {
			out = append(out, curve.Pt(x0, y0).Lerp(curve.Pt(x1, y1), float64(i)/4))
		}
		return out
	}
	round := func(x, y, r float64) []curve.Point {
		return []curve.Point{{X: x + r, Y: y}, {X: x, Y: y + r}, {X: x - r, Y: y}, {X: x, Y: y - r}, {X: x + r, Y: y}}
	}
	for _, tt := range []struct {
		piece, mark, when string
		want              []curve.Point
	}{
		{"back", "bone b1", "before", line(-16, -90, -16, 140)}, {"back", "bone b1", "after", line(-10, -90, -10, 140)},
		{"back", "bone b2", "same", line(10, -90, 10, 140)},
		{"button-stand", "button n2", "before", round(4, 80, 9)}, {"button-stand", "button n2", "after", round(4, 85, 9)},
		{"button-stand", "buttonhole h1", "same", line(-26, 120, -6, 120)},
		// 20 mm at 10 degrees: 19.696 along and 3.473 up
		{"button-stand", "buttonhole h2", "after", line(-26, 85, -6.304, 88.473)},
		{"button-stand", "stitch dart", "before", line(-10, -20, -10, 40)},
	} {
		got, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](fmt.Sprintf(markInMM, tt.piece+"."+tt.mark, tt.when)))
		require.NoError(t, err)
		require.Len(t, got, 10)
		for i, p := range tt.want {
			assert.InDelta(t, at[tt.piece].X+p.X, got[2*i], 0.01, "%s %s", tt.mark, tt.when)
			assert.InDelta(t, at[tt.piece].Y-p.Y, got[2*i+1], 0.01, "%s %s", tt.mark, tt.when)
		}
	}
}

// A notch that has no place on an edge that is broken was not lost.
func TestANotchWithoutAPlaceIsNotLost(t *testing.T) {
	w := readWaistcoat(t)
	a, b := w.garment(t, "gusset"), pattern.Clone(w.garment(t, "gusset"))
	b.Piece("side-back").Corners[3].At = curve.Pt(100000, -100000) // the back now crosses its waist several times
	c := compare.Garments(a, b, compare.Options{})
	for _, m := range notchesOf(c.ChangedPieces()[0], [2]*pattern.Garment{a, b}) {
		assert.NotEqual(t, markLost, m.fate, m.name)
	}
	b.Piece("side-back").Notches = nil
	c = compare.Garments(a, b, compare.Options{})
	for _, m := range notchesOf(c.ChangedPieces()[0], [2]*pattern.Garment{a, b}) {
		assert.Equal(t, markLost, m.fate, m.name)
	}
}

func TestMarksOfAPieceThatCameOrWentHaveNoRows(t *testing.T) {
	s, w := sampleNamed(t, "marks")
	for _, c := range []*compare.Change{
		compare.Garments(nil, s.before, compare.Options{}), compare.Garments(s.before, nil, compare.Options{Body: w.body()}),
	} {
		var b bytes.Buffer
		require.NoError(t, Sheet(&b, c, Options{}))
		root := readPicture(t, b.Bytes())
		textsAreCalm(t, root)
		assert.Empty(t, root.with("data-mark-row"))
		assert.NotEmpty(t, root.with("data-mark"), "they are drawn")
	}
}
