package overlay

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// strip draws a sample as a strip and reads it back.
func (s sample) strip(t require.TestingT, w waistcoat) (*node, *compare.Change) {
	var b bytes.Buffer
	c := s.change(w)
	require.NoError(t, Strip(&b, c, s.options), s.name)
	return readPicture(t, b.Bytes()), c
}

func eachStrip(t *testing.T, test func(t *testing.T, s sample, root *node, c *compare.Change)) {
	w := readWaistcoat(t)
	for _, s := range samples(t) {
		t.Run(s.name, func(t *testing.T) {
			root, c := s.strip(t, w)
			test(t, s, root, c)
		})
	}
}

// textsAreCalm asserts that every text lies on the sheet, is large enough and
// touches no other, by the pen's own generous widths.
func textsAreCalm(t *testing.T, root *node) {
	t.Helper()
	width, height := root.number(t, "width"), root.number(t, "height")
	assert.Equal(t, fmt.Sprintf("0 0 %s %s", strings.TrimSuffix(root.attrs["width"], "mm"), strings.TrimSuffix(root.attrs["height"], "mm")), root.attrs["viewBox"])
	texts := root.named("text")
	require.NotEmpty(t, texts)
	boxes := make([]rect, len(texts))
	for i, e := range texts {
		boxes[i] = boxOf(t, e)
		b := boxes[i]
		assert.GreaterOrEqual(t, e.number(t, "font-size"), 3.2)
		assert.True(t, b.x0 >= 0 && b.y0 >= 0 && b.x1 <= width && b.y1 <= height, "%q at %v leaves the sheet %v x %v", e.text, b, width, height)
		for j := range i {
			require.False(t, b.overlaps(boxes[j]), "%q %v lies on %q %v", e.text, b, texts[j].text, boxes[j])
		}
	}
}

// linesAreOnTheSheet asserts that no drawn point leaves the sheet.
func linesAreOnTheSheet(t *testing.T, root *node) {
	t.Helper()
	width, height := root.number(t, "width"), root.number(t, "height")
	for _, p := range root.named("path") {
		for _, line := range pathPoints(t, p.attrs["d"]) {
			b := line.Bounds()
			assert.True(t, b.Min.X >= 0 && b.Min.Y >= 0 && b.Max.X <= width && b.Max.Y <= height, "%v", b)
		}
	}
}

func TestStripIsCalm(t *testing.T) {
	eachStrip(t, func(t *testing.T, s sample, root *node, c *compare.Change) {
		textsAreCalm(t, root)
		linesAreOnTheSheet(t, root)
		assert.Contains(t, root.words(), "comparison, not for cutting")
		assert.Contains(t, root.named("desc")[0].text, "comparison, not for cutting")
	})
}

// origins gives where each panel's own origin lies on the sheet.
func origins(t *testing.T, root *node) (names []string, at map[string]curve.Point) {
	at = map[string]curve.Point{}
	for _, n := range root.with("data-panel") {
		names = append(names, n.attrs["data-panel"])
		at[n.attrs["data-panel"]] = curve.Pt(n.number(t, "data-x"), n.number(t, "data-y"))
	}
	return names, at
}

// drawnEdges gives the lines of the strip in their panels' own frames, by
// "piece.edge when".
func drawnEdges(t *testing.T, root *node) map[string]curve.Path {
	_, at := origins(t, root)
	out := map[string]curve.Path{}
	for _, e := range root.with("data-edge") {
		piece, _, _ := strings.Cut(e.attrs["data-edge"], ".")
		paths := e.named("path")
		out[e.attrs["data-edge"]+" "+e.attrs["data-when"]] = onPattern(pathPoints(t, paths[len(paths)-1].attrs["d"])[0], at[piece])
	}
	return out
}

func TestStripDrawsTheOutlines(t *testing.T) {
	eachStrip(t, func(t *testing.T, s sample, root *node, c *compare.Change) {
		names, _ := origins(t, root)
		drawn := drawnEdges(t, root)
		g := c.After
		for _, name := range names {
			p := g.Piece(name)
			require.NotNil(t, p)
			for i, e := range p.Edges {
				got, ok := drawn[name+"."+e.Name+" same"]
				if !ok {
					got = drawn[name+"."+e.Name+" after"]
				}
				samePoints(t, p.EdgePath(i), got)
			}
		}
		var round []string
		for _, m := range g.Around {
			if g.Piece(m.Name) != nil {
				round = append(round, m.Name)
			}
		}
		assert.Equal(t, round, names, "front to back, each once")
	})
}

// What was a top or a hem before is dashed in the panel's own frame; seams are
// not drawn twice.
func TestStripShowsTopsAndHemsBefore(t *testing.T) {
	w := readWaistcoat(t)
	root, c := samples(t)[1].strip(t, w)
	drawn := drawnEdges(t, root)
	samePoints(t, c.Before.Piece("side-back").EdgePath(3), drawn["side-back.top before"])
	samePoints(t, c.After.Piece("side-back").EdgePath(3), drawn["side-back.top after"])
	assert.NotContains(t, drawn, "side-back.back before")
	assert.NotContains(t, drawn, "front.top before", "front did not change")
	for _, n := range root.with("data-when") {
		if n.attrs["data-when"] == "before" {
			assert.Equal(t, "run", n.attrs["data-kind"])
		}
	}
}

// Read back from the picture: where the two sides of each seam cross the line of
// the waist they are one place, within 0.001 mm.
func TestPanelsTouchAtTheWaist(t *testing.T) {
	w := readWaistcoat(t)
	for version := range w.Versions {
		g := w.garment(t, version)
		root := stripOf(t, g)
		names, at := origins(t, root)
		require.Len(t, names, len(g.Around))
		drawn := drawnEdges(t, root)
		for i := 1; i < len(names); i++ {
			back, front := drawn[names[i-1]+".back same"], drawn[names[i]+".front same"]
			a, b := back.CrossingsY(0), front.CrossingsY(0)
			require.Len(t, a, 1)
			require.Len(t, b, 1)
			assert.InDelta(t, a[0].Point.X+at[names[i-1]].X, b[0].Point.X+at[names[i]].X, 0.001+1e-9, "%s: %s and %s", version, names[i-1], names[i])
			assert.Equal(t, at[names[0]].Y, at[names[i]].Y)
		}
	}
}

func stripOf(t require.TestingT, g *pattern.Garment) *node {
	var b bytes.Buffer
	require.NoError(t, Strip(&b, compare.Garments(g, g, compare.Options{}), Options{}))
	return readPicture(t, b.Bytes())
}

// A pair without a waist touches at the level nearest to it that both sides
// cross, and without one by the boxes.
func TestPanelsThatDoNotReachTheWaist(t *testing.T) {
	g := &pattern.Garment{
		Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "bust", Y: 60}, {Name: "waist", Y: 0}, {Name: "chest", Y: 90}},
		Around: []pattern.Mention{{Name: "low"}, {Name: "high"}, {Name: "apart"}},
		Seams:  []pattern.Seam{{Name: "s", First: []pattern.Ref{{Piece: "low", Edge: "ec"}}, Second: []pattern.Ref{{Piece: "high", Edge: "ea"}}}},
	}
	low := poly(0, 100, 0, -50, 40, -50, 50, 100) // its back crosses the bust at x = 40 + 10*110/150
	high := poly(10, 100, 20, 20, 60, 20, 60, 100)
	apart := poly(0, 400, 0, 300, 30, 300, 30, 400)
	low.Name, high.Name, apart.Name = "low", "high", "apart"
	apart.NoLevels = true
	g.Pieces = []*pattern.Piece{apart, high, low}
	_, at := origins(t, stripOf(t, g))
	bust := 40 + 10.0*110/150
	assert.InDelta(t, at["low"].X+bust, at["high"].X+15, 0.001, "at the bust: the front of high crosses it at 15")
	assert.InDelta(t, at["high"].X+60, at["apart"].X, 0.001, "box to box")
	assert.InDelta(t, at["low"].Y, at["apart"].Y-350, 0.001, "hung by its middle")
	g.Seams = nil
	_, at = origins(t, stripOf(t, g))
	assert.InDelta(t, at["low"].X+bust, at["high"].X+15, 0.001, "by the outlines where no seam joins them")
}

func TestStripOfOneVersion(t *testing.T) {
	w := readWaistcoat(t)
	g := w.garment(t, "gusset")
	for name, c := range map[string]*compare.Change{
		"compared with itself": compare.Garments(g, g, compare.Options{}),
		"without a before":     compare.Garments(nil, g, compare.Options{}),
		"without an after":     compare.Garments(g, nil, compare.Options{}),
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			require.NoError(t, Strip(&b, c, Options{From: "one", To: "one"}))
			root := readPicture(t, b.Bytes())
			assert.Len(t, root.with("data-panel"), 7)
			for _, n := range root.with("data-when") {
				assert.Equal(t, "same", n.attrs["data-when"])
			}
			assert.Contains(t, root.words(), "version: one")
			assert.Contains(t, root.words(), "Midsummer waistcoat, panels side by side")
			assert.NotContains(t, root.words(), "before (dashed)")
		})
	}
}

func TestStripWithoutPanels(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Strip(&b, &compare.Change{}, Options{}))
	assert.Contains(t, readPicture(t, b.Bytes()).words(), "goes round the body")
}

// In a whole garment the last panel is sewn to the first: that seam has joints
// too, and a panel that is a ring by itself has none.
func TestWholeGarmentCloses(t *testing.T) {
	g := &pattern.Garment{Half: pattern.Whole, Around: []pattern.Mention{{Name: "a"}, {Name: "b"}, {Name: "c"}}}
	for i, name := range []string{"a", "b", "c"} {
		p := square()
		p.Name = name
		g.Pieces = append(g.Pieces, p)
		next := []string{"b", "c", "a"}[i]
		g.Seams = append(g.Seams, pattern.Seam{Name: name + "-" + next, First: []pattern.Ref{{Piece: name, Edge: "ec"}}, Second: []pattern.Ref{{Piece: next, Edge: "ea"}}})
	}
	root := stripOf(t, g)
	got := kinks(t, root)
	require.Len(t, got, 6)
	for _, k := range got {
		assert.InDelta(t, 0, k, 1e-9, "squares make a level strip")
	}
	assert.Contains(t, root.words(), "run on at all 6 places")
	textsAreCalm(t, root)
}

// The tolerances are the garment's own.
func TestStripKeepsToTheGarmentsTolerances(t *testing.T) {
	w := readWaistcoat(t)
	g := withRuns(w.garment(t, "gusset"))
	callouts := func() int {
		n := 0
		for _, j := range stripOf(t, g).with("data-joint") {
			n += len(j.named("text"))
		}
		return n
	}
	normal := callouts()
	require.Positive(t, normal)
	g.Tolerances = []pattern.Tolerance{{Kind: "turn", Value: 179}, {Kind: "step", Value: 50}}
	assert.Zero(t, callouts())
	g.Tolerances = []pattern.Tolerance{{Kind: "turn", Value: 0}, {Kind: "step", Value: 0}}
	assert.Greater(t, callouts(), normal-1)
}

func TestStripIsSafeAndSteady(t *testing.T) {
	w := readWaistcoat(t)
	for _, s := range samples(t) {
		if s.name != "hostile" {
			continue
		}
		s.options.Prefix = "p7-"
		var a, b bytes.Buffer
		require.NoError(t, Strip(&a, s.change(w), s.options))
		require.NoError(t, Strip(&b, s.change(w), s.options))
		assert.Equal(t, a.String(), b.String())
		root := readPicture(t, a.Bytes())
		assert.Empty(t, root.named("script"))
		assert.Empty(t, root.with("onload"))
		assert.NotContains(t, root.words(), "\u202e")
		for _, e := range root.with("id") {
			assert.True(t, strings.HasPrefix(e.attrs["id"], "p7-"), e.attrs["id"])
		}
		assert.Equal(t, svg.CleanText(root.named("desc")[0].text), root.named("desc")[0].text)
	}
}

// Long names and many narrow panels find their room.
func TestCrowdedStripsAreCalm(t *testing.T) {
	w := readWaistcoat(t)
	round := func(g *pattern.Garment) *pattern.Garment {
		g.Around = nil
		for _, p := range g.Pieces {
			g.Around = append(g.Around, pattern.Mention{Name: p.Name})
		}
		return g
	}
	narrow := func() *pattern.Garment {
		g := &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}}
		for i := range MostPanels + 4 {
			p := poly(0, 100+float64(i%5), 0, -50, 4, -50, 4, 100+float64((i+3)%5))
			p.Name = fmt.Sprintf("panel-%d", i)
			g.Pieces = append(g.Pieces, p)
			if i > 0 {
				g.Seams = append(g.Seams, pattern.Seam{Name: fmt.Sprintf("s%d", i), First: []pattern.Ref{{Piece: fmt.Sprintf("panel-%d", i-1), Edge: "ec"}}, Second: []pattern.Ref{{Piece: p.Name, Edge: "ea"}}})
			}
		}
		g = round(g)
		g.SortPieces()
		return g
	}
	tests := map[string]struct {
		g      *pattern.Garment
		panels int
		words  string
	}{
		"long names":    {round(longNames(w.garment(t, "gusset"))), 7, strings.Repeat("a", 31)[:5]},
		"narrow panels": {narrow(), MostPanels, fmt.Sprintf("panel-%d", MostPanels+3)},
		"forty panels":  {round(many(w.garment(t, "gusset"), 0)), 40, "No seam joins one panel to the next."},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			root := stripOf(t, tt.g)
			assert.Len(t, root.with("data-panel"), tt.panels)
			assert.Contains(t, root.words(), tt.words)
			textsAreCalm(t, root)
			linesAreOnTheSheet(t, root)
		})
	}
}

func BenchmarkStrip(b *testing.B) {
	w := readWaistcoat(b)
	c := compare.Garments(withRuns(w.garment(b, "gusset")), withRuns(w.garment(b, "seam-move")), compare.Options{})
	for b.Loop() {
		var out bytes.Buffer
		require.NoError(b, Strip(&out, c, Options{}))
	}
}
