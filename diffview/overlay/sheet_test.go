package overlay

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// shown gives the pieces that a sample must draw.
func (s sample) shown(c *compare.Change) []compare.PieceChange {
	if s.piece == "" {
		list := inOrder(c, c.ChangedPieces())
		return list[:min(len(list), 24)]
	}
	for _, p := range c.Pieces {
		if p.Name == s.piece {
			return []compare.PieceChange{p}
		}
	}
	return nil
}

func TestSizeIsTrue(t *testing.T) {
	eachSample(t, func(t *testing.T, s sample, root *node, c *compare.Change) {
		assert.Equal(t, fmt.Sprintf("0 0 %s %s", strings.TrimSuffix(root.attrs["width"], "mm"), strings.TrimSuffix(root.attrs["height"], "mm")), root.attrs["viewBox"])
		assert.Contains(t, root.attrs["width"], "mm")
	})
}

func TestEachPieceIsDrawnOnceWithAllItsEdges(t *testing.T) {
	eachSample(t, func(t *testing.T, s sample, root *node, c *compare.Change) {
		groups := root.with("data-piece")
		pieces := s.shown(c)
		require.Len(t, groups, len(pieces))
		rows := root.with("data-row")
		n := 0
		for i, p := range pieces {
			assert.Equal(t, p.Name, groups[i].attrs["data-piece"])
			for _, e := range p.Edges {
				require.Less(t, n, len(rows))
				assert.Equal(t, p.Name+"."+e.Name, rows[n].attrs["data-row"])
				assert.Equal(t, fmt.Sprint(n+1), rows[n].named("text")[0].text, "no number twice")
				n++
			}
		}
		assert.Len(t, rows, n)
		for _, g := range groups {
			var tags []string
			for _, r := range g.children {
				if r.name == "text" && strings.Trim(r.text, "0123456789") == "" {
					tags = append(tags, r.text)
				}
			}
			assert.Len(t, tags, len(edgesOf(c, g.attrs["data-piece"])), "one tag an edge")
		}
	})
}

func edgesOf(c *compare.Change, piece string) []compare.EdgeChange {
	for _, p := range c.Pieces {
		if p.Name == piece {
			return p.Edges
		}
	}
	return nil
}

func TestLinesAreTheOutlines(t *testing.T) {
	eachSample(t, func(t *testing.T, s sample, root *node, c *compare.Change) {
		for _, g := range root.with("data-piece") {
			origin := curve.Pt(g.number(t, "data-x"), g.number(t, "data-y"))
			drawn := map[string]curve.Path{}
			for _, e := range g.with("data-edge") {
				paths := e.named("path")
				drawn[e.attrs["data-edge"]+" "+e.attrs["data-when"]] = onPattern(pathPoints(t, paths[len(paths)-1].attrs["d"])[0], origin)
			}
			name := g.attrs["data-piece"]
			for _, e := range edgesOf(c, name) {
				if e.Status == compare.Unchanged {
					samePoints(t, e.After, drawn[name+"."+e.Name+" same"])
					continue
				}
				samePoints(t, e.Before, drawn[name+"."+e.Name+" before"])
				samePoints(t, e.After, drawn[name+"."+e.Name+" after"])
			}
		}
	})
}

// samePoints compares all points, handles too, within the 0.0005 mm that three
// decimals leave.
func samePoints(t *testing.T, want, got curve.Path) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		a, b := want[i], got[i]
		for _, d := range []float64{a.P0.Dist(b.P0), a.P3.Dist(b.P3)} {
			assert.LessOrEqual(t, d, 0.0005*math.Sqrt2+1e-9)
		}
		if !a.Straight {
			assert.LessOrEqual(t, max(a.P1.Dist(b.P1), a.P2.Dist(b.P2)), 0.0005*math.Sqrt2+1e-9)
		}
	}
}

// assertShown wants a name as it is, or its beginning where the table has no
// room for the rest; never another name, and never nothing.
func assertShown(t *testing.T, name, cell string) {
	t.Helper()
	start, cut := strings.CutSuffix(cell, "\u2026")
	if !cut {
		assert.Equal(t, name, cell)
		return
	}
	assert.GreaterOrEqual(t, len(start), 3, cell)
	assert.True(t, strings.HasPrefix(name, start) && len(start) < len(name), "%s is shown as %s", name, cell)
}

// The figures of the table, written here by fmt alone.
func TestTableSaysWhatTheChangeSays(t *testing.T) {
	eachSample(t, func(t *testing.T, s sample, root *node, c *compare.Change) {
		real := func(text string) string { return strings.ReplaceAll(text, "-", "\u2212") }
		for _, r := range root.with("data-row") {
			piece, edge, _ := strings.Cut(r.attrs["data-row"], ".")
			for _, e := range edgesOf(c, piece) {
				if e.Name != edge {
					continue
				}
				var cells []string
				for _, text := range r.named("text")[1:] {
					cells = append(cells, text.text)
				}
				want := []string{edge}
				for _, o := range []pattern.Opt{e.Length.Before, e.Length.After} {
					if o.Set {
						want = append(want, fmt.Sprintf("%.1f", o.Value))
					} else {
						want = append(want, "\u2013")
					}
				}
				if d, ok := e.Length.Delta(); ok && math.Abs(d) < 0.05 {
					want = append(want, "=")
				} else if ok {
					want = append(want, real(fmt.Sprintf("%+.1f", d)))
				}
				require.Len(t, cells, len(want)+1)
				assertShown(t, edge, cells[0])
				assert.Equal(t, want[1:], cells[1:len(want)])
				last := cells[len(want)]
				switch {
				case e.Status == compare.Unchanged:
					assert.Equal(t, "=", last)
				case e.Status != compare.Changed:
					assert.Equal(t, string(e.Status), last)
				case e.Largest.Distance >= 0.05:
					moved := fmt.Sprintf("%s %.1f at ", e.Largest.Direction, e.Largest.Distance)
					require.True(t, strings.HasPrefix(last, moved), last)
					place, _, _ := strings.Cut(strings.TrimPrefix(last, moved), ",")
					assertShown(t, e.Largest.At, place)
				}
				bold := r.named("text")[1].attrs["font-weight"] == "bold"
				assert.Equal(t, e.Status != compare.Unchanged, bold)
			}
		}
	})
}

// Every text lies on the sheet and touches no other, by the pen's own generous
// widths.
func TestTextsDoNotTouch(t *testing.T) {
	eachSample(t, func(t *testing.T, s sample, root *node, c *compare.Change) {
		width, height := root.number(t, "width"), root.number(t, "height")
		texts := root.named("text")
		require.NotEmpty(t, texts)
		boxes := make([]rect, len(texts))
		for i, e := range texts {
			boxes[i] = boxOf(t, e)
			assert.GreaterOrEqual(t, e.number(t, "font-size"), 3.2)
			b := boxes[i]
			assert.True(t, b.x0 >= 0 && b.y0 >= 0 && b.x1 <= width && b.y1 <= height, "%q at %v leaves the sheet %v x %v", e.text, b, width, height)
			for j := range i {
				require.False(t, b.overlaps(boxes[j]), "%q %v lies on %q %v", e.text, b, texts[j].text, boxes[j])
			}
		}
	})
}

func boxOf(t require.TestingT, e *node) rect {
	size, w := e.number(t, "font-size"), 0.0
	if e.attrs["font-weight"] == "bold" {
		w = svg.BoldWidth(e.text, size)
	} else {
		w = svg.TextWidth(e.text, size)
	}
	x, y := e.number(t, "x"), e.number(t, "y")
	switch e.attrs["text-anchor"] {
	case "middle":
		x -= w / 2
	case "end":
		x -= w
	}
	return rect{x, y - 0.76*size, x + w, y + 0.24*size} // ascent and descent of DejaVu Sans 2.37: 0.76 and 0.24 em
}

func TestWordsOnTheSheet(t *testing.T) {
	wanted := map[string][]string{
		"half-move":       {"Midsummer waistcoat", "comparison, not for cutting", "Widen side-back", "claims not judged", "before: gusset (3f2a9c1)  \u2192  after: half-move (77d01aa)", "1 piece changed, 6 pieces not changed.", "front, side-front, underarm, gusset, back, button-stand", "50 mm at full size", "out 14.0", "before (dashed)", "cloth lost (stripes)", "24.4", "\u221228.0", "0.0 \u2192 1.0"},
		"added-removed":   {"collar \u2013 removed", "strap \u2013 added"},
		"nothing":         {"Nothing changed between these two versions."},
		"unchanged-piece": {"Midsummer waistcoat: gusset", "This piece did not change.", "gusset \u2013 did not change"},
		"records":         {"back \u2013 outline as before", "notch bust on front", "added", "overlap of back 24 \u2192 30"},
		"tiny":            {"Detail \u00d75", "2 mm"},
		"hair":            {"Detail \u00d750", "in under 0.1"},
		"knot":            {"where the lines tangle no area is painted"},
		"many":            {"Changed too, not drawn here"},
		"from-nothing":    {"7 pieces added."},
	}
	eachSample(t, func(t *testing.T, s sample, root *node, c *compare.Change) {
		for _, w := range wanted[s.name] {
			assert.Contains(t, root.words(), w)
		}
	})
}

// The gaps and percentages of the waistcoat, worked out by hand with the sums
// gap = body - reduction + thickness - worn girth and
// laced shut = (worn girth - thickness) / body - 1; at the waist 701 - 30 + 13 -
// 632.6 = 51.4 and (632.6 - 13) / 701 - 1 = -11.6 %.
func TestGapAndPercentAreShown(t *testing.T) {
	w := readWaistcoat(t)
	for _, s := range samples(t) {
		if s.name == "half-move" {
			root, _ := s.draw(t, w)
			for _, figure := range []string{"51.4", "39.4", "\u221211.6", "\u22124.3"} {
				assert.Contains(t, root.words(), figure+"\n")
			}
			assert.Contains(t, strings.ReplaceAll(root.words(), "\n", " "), "no medical advice")
			s.unknownBody = true
			root, _ = s.draw(t, w)
			assert.NotContains(t, root.words(), "%")
		}
	}
}

func TestDescriptionSaysTheSame(t *testing.T) {
	w := readWaistcoat(t)
	for _, s := range samples(t) {
		if s.name != "half-move" {
			continue
		}
		root, _ := s.draw(t, w)
		desc := root.named("desc")[0].text
		for _, words := range []string{"comparison, not for cutting", "side-back.back: moved out 14.0 at bust; length 321.0 to 322.0 mm", "side-back width at bust 53.0 to 67.0 mm", "girth at bust 847.0 to 875.0 mm", "gap front at bust 52.4 to 24.4 mm"} {
			assert.Contains(t, desc, words)
		}
		for _, e := range root.with("data-edge") {
			require.Equal(t, "title", e.children[0].name)
			assert.Contains(t, e.children[0].text, e.attrs["data-edge"])
		}
	}
}

func TestStrangersTextsStayTexts(t *testing.T) {
	w := readWaistcoat(t)
	for _, s := range samples(t) {
		if s.name != "hostile" {
			continue
		}
		root, _ := s.draw(t, w)
		assert.Empty(t, root.named("script"))
		assert.Empty(t, root.with("onload"))
		assert.Contains(t, root.named("title")[0].text, `<script>alert("x")</script>`)
		assert.NotContains(t, root.words(), "\u202e")
		assert.NotContains(t, root.words(), "\x1b")
	}
}

func TestPieceThatNobodyHas(t *testing.T) {
	var b bytes.Buffer
	err := Piece(&b, &compare.Change{}, "sleeve", Options{})
	assert.EqualError(t, err, `neither version has a piece "sleeve"`)
	assert.Empty(t, b.Bytes())
}

func TestEmptyChange(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Sheet(&b, &compare.Change{}, Options{}))
	assert.Contains(t, readPicture(t, b.Bytes()).words(), "Nothing changed")
}

func TestPrefixAndSameBytes(t *testing.T) {
	w := readWaistcoat(t)
	s := samples(t)[1]
	s.options.Prefix = "p7-"
	var a, b bytes.Buffer
	require.NoError(t, Sheet(&a, s.change(w), s.options))
	require.NoError(t, Sheet(&b, s.change(w), s.options))
	assert.Equal(t, a.String(), b.String())
	for _, e := range readPicture(t, a.Bytes()).with("id") {
		assert.True(t, strings.HasPrefix(e.attrs["id"], "p7-"), e.attrs["id"])
	}
}

// The order of the sheet: round the body first, whatever the names, then the
// rest by name.
func TestOrderIsRoundTheBody(t *testing.T) {
	c := &compare.Change{
		Before: &pattern.Garment{Around: []pattern.Mention{{Name: "z"}, {Name: "gone"}}},
		After:  &pattern.Garment{Around: []pattern.Mention{{Name: "z"}, {Name: "b"}}},
	}
	var got []string
	for _, p := range inOrder(c, []compare.PieceChange{{Name: "a"}, {Name: "b"}, {Name: "c"}, {Name: "gone"}, {Name: "z"}}) {
		got = append(got, p.Name)
	}
	assert.Equal(t, []string{"z", "b", "gone", "a", "c"}, got)
}

func BenchmarkSheetOfOneChangedPieceOfSixty(b *testing.B) {
	w := readWaistcoat(b)
	before, after := w.garment(b, "gusset"), w.garment(b, "gusset")
	for len(before.Pieces) < 60 {
		p := *before.Pieces[len(before.Pieces)%7]
		p.Name = fmt.Sprintf("%s-%d", p.Name, len(before.Pieces))
		before.Pieces, after.Pieces = append(before.Pieces, &p), append(after.Pieces, &p)
	}
	before.SortPieces()
	after.SortPieces()
	*after.Piece("side-back") = *w.garment(b, "half-move").Piece("side-back")
	c := compare.Garments(before, after, compare.Options{Body: w.body()})
	require.Len(b, c.ChangedPieces(), 1)
	for b.Loop() {
		var out bytes.Buffer
		require.NoError(b, Sheet(&out, c, Options{Title: "Midsummer waistcoat"}))
	}
}
