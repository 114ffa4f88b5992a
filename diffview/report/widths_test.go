package report_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/cmd/seamkeep/demo"
	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/text"
)

const inch = 25.4 // mm

var demoLevels = []string{"bust", "under-bust", "waist", "high-hip", "low-hip"}

// demoVersions gives the garments of the demo's story by name, and its body.
func demoVersions(t testing.TB) (map[string]*pattern.Garment, *pattern.Body) {
	list, err := demo.Versions()
	require.NoError(t, err)
	out := map[string]*pattern.Garment{}
	for _, v := range list {
		fsys := fstest.MapFS{}
		for name, src := range v.Files {
			fsys[name] = &fstest.MapFile{Data: src}
		}
		folder, problems := text.Load(fsys, ".")
		require.Empty(t, problems, v.Name)
		out[v.Name] = folder.Garment
	}
	name, src := demo.Body()
	b, problems := text.ReadBody(name, src)
	require.Empty(t, problems)
	return out, b
}

func widthsDocument(t testing.TB, before, after *pattern.Garment, b *pattern.Body, o report.WidthsOptions) map[string]any {
	doc, _ := document(t, report.WidthsJSON(compare.Garments(before, after, compare.Options{Body: b}), o))
	return doc
}

func widthsWritten(t testing.TB, before, after *pattern.Garment, b *pattern.Body, o report.WidthsOptions) string {
	var out bytes.Buffer
	w := report.Text{W: &out}
	w.Widths(compare.Garments(before, after, compare.Options{Body: b}), o)
	require.NoError(t, w.Err)
	return out.String()
}

// at follows fields of a document.
func at(v any, path ...any) any {
	for _, p := range path {
		switch p := p.(type) {
		case string:
			v = v.(map[string]any)[p]
		case int:
			v = v.([]any)[p]
		}
	}
	return v
}

// panel is a straight-sided piece with a width at each height, from the top down.
func panel(name string, ys, widths []float64) *pattern.Piece {
	n := len(ys)
	p := &pattern.Piece{Name: name, Corners: []pattern.Corner{
		{Name: "tf", At: curve.Pt(0, ys[0])}, {Name: "hf", At: curve.Pt(0, ys[n-1])},
		{Name: "hb", At: curve.Pt(widths[n-1], ys[n-1])}, {Name: "tb", At: curve.Pt(widths[0], ys[0])},
	}}
	back := pattern.Edge{Name: "back"}
	for i := n - 2; i >= 0; i-- {
		back.Segs = append(back.Segs, pattern.Seg{To: curve.Pt(widths[i], ys[i]), ToCorner: i == 0})
	}
	p.Edges = []pattern.Edge{{Name: "front"}, {Name: "hem"}, back, {Name: "top"}}
	return p
}

// halfGarment is a left half of panels with levels at these heights.
func halfGarment(levels []pattern.Level, pieces ...*pattern.Piece) *pattern.Garment {
	g := &pattern.Garment{Name: "g", Title: "G", Half: pattern.LeftHalf, Levels: levels, Pieces: pieces}
	for _, p := range pieces {
		g.Around = append(g.Around, pattern.Mention{Name: p.Name})
	}
	g.SortPieces()
	return g
}

// "Practical Instructions in Stay Making", Godey's Lady's Book, August 1857: the
// waist measured tight, less 2 in for clothes; the pattern's line stops 1 1/2 in
// short of the centre back on each side, so that 3 in stay open, and the stays must
// not meet when laced. The body of 26 in at the waist is ours.
func TestStaysOf1857LeaveThreeInches(t *testing.T) {
	const waist = 26.0
	half := ((waist-2)/2 - 1.5) * inch
	g := halfGarment([]pattern.Level{{Name: "waist", Y: 0}}, panel("stays", []float64{100, 50, -50}, []float64{half, half, half}))
	g.Reduce = []pattern.LevelNum{{Level: "waist", Value: 2 * inch}}
	g.Closures = []pattern.Closure{{Name: "back", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "stays", Edge: "back"}}}}
	b := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "waist", Value: waist * inch}}}
	doc := widthsDocument(t, nil, g, b, report.WidthsOptions{})
	assert.InDelta(t, 3*inch, at(doc, "gaps", "back", "waist", 1), 1e-6)
	assert.InDelta(t, (waist-2-3)*inch, at(doc, "girth", "waist", 1), 1e-6)
	assert.InDelta(t, -2/waist*100, at(doc, "percent", "waist", "worn"), 1e-6)
	assert.InDelta(t, -5/waist*100, at(doc, "percent", "waist", "shut"), 1e-6, "laced shut they would take in 2 in and 3 in")
	assert.Equal(t, []any{check.Caution}, at(doc, "cautions"))
	assert.Contains(t, widthsWritten(t, nil, g, b, report.WidthsOptions{}), "= gap                     76.2\n")
}

// S. T. Taylor, "A Guide to Dressmaking" (1876), about p. 38: a waist of 24 in gives
// 6 in for the quarter, the bust 10; "10 - 6" leaves 4 in to be taken up in one dart
// or two. As versions: the quarter before and after its darts.
func TestDartsOf1876TakeUpFourInches(t *testing.T) {
	levels := []pattern.Level{{Name: "bust", Y: 200}, {Name: "waist", Y: 0}}
	ys := []float64{250, 200, 0, -50}
	straight := halfGarment(levels, panel("quarter", ys, []float64{10 * inch, 10 * inch, 10 * inch, 10 * inch}))
	fitted := halfGarment(levels, panel("quarter", ys, []float64{10 * inch, 10 * inch, 6 * inch, 6 * inch}))
	doc := widthsDocument(t, straight, fitted, nil, report.WidthsOptions{})
	moved := at(doc, "moved").([]any)
	require.Len(t, moved, 1, "nothing at the bust")
	assert.Equal(t, "waist", at(moved[0], "level"))
	assert.InDelta(t, 4*inch, at(moved[0], "from", 0, "amount"), 1e-6)
	assert.InDelta(t, 2*6*inch, at(doc, "sums", "waist", 1), 1e-6, "two quarters of a half garment")
	assert.Contains(t, widthsWritten(t, straight, fitted, nil, report.WidthsOptions{}), "  101.6 at waist left quarter; nothing was given to another piece\n")
}

// The story's gaps and percents, worked by hand from the points of its pieces before
// anything was drawn: for instance at the waist, in the end, 701 - 30 + 13 - (2 * (36.5
// + 45 + 44 + 53 + 44 + 49) + 2 * 60 * 1.15 - 30) = 33.
func TestTheStoryInWidths(t *testing.T) {
	g, b := demoVersions(t)
	for name, want := range map[string][]float64{
		"base": {52, 49, 51, 48, 53}, "gusset": {52.4, 49.4, 51.4, 48.4, 53.4}, "half-move": {24.4, 29.4, 39.4, 32.4, 33.4},
		"seam-move": {52.4, 49.4, 51.4, 48.4, 53.4}, "wider-gusset": {34, 31, 33, 30, 35}, "button-stand": {34, 31, 33, 30, 35},
	} {
		require.NotNil(t, g[name], name)
		doc := widthsDocument(t, g["base"], g[name], b, report.WidthsOptions{})
		for i, level := range demoLevels {
			assert.InDelta(t, want[i], at(doc, "gaps", "front", level, 1), 1e-6, "%s %s", name, level)
			assert.InDelta(t, []float64{52, 49, 51, 48, 53}[i], at(doc, "gaps", "front", level, 0), 1e-6)
			assert.Equal(t, at(doc, "worn", level, 1), at(widthsDocument(t, nil, g[name], b, report.WidthsOptions{}), "worn", level, 1))
		}
	}
	doc := widthsDocument(t, nil, g["card-1"], b, report.WidthsOptions{})
	assert.InDelta(t, -4.3, at(doc, "percent", "waist", "worn"), 0.05)
	assert.InDelta(t, -9.0, at(doc, "percent", "waist", "shut"), 0.05)
	assert.Nil(t, at(doc, "percent", "waist", "before", "worn"))
	// F4 by hand: 10 mm more on 2 * 60 mm of elastic is 8.33 points; 45 points of 120 mm
	// are 54 mm.
	assert.InDelta(t, 10.0/120*100, at(doc, "stretch", "levels", "waist", "more", 1), 1e-6)
	assert.InDelta(t, 54, at(doc, "stretch", "levels", "waist", "room", 1), 1e-6)
	assert.Equal(t, []any{"", "2026-04-30"}, at(doc, "stretch", "pieces", 0, "tested"))
	assert.InDelta(t, 45, at(doc, "stretch", "pieces", 0, "reserve", 1), 1e-9)
	assert.Equal(t, []any{check.Caution, check.ElasticCaution}, at(doc, "cautions"))
}

// A stand 3 mm wider on each half with the overlap left at 24 would show a gap of 28.0
// at the bust instead of 34.
func TestAnOverlapLeftBehind(t *testing.T) {
	g, b := demoVersions(t)
	forgotten := pattern.Clone(g["button-stand"])
	require.Equal(t, "back", forgotten.Closures[1].Name)
	forgotten.Closures[1].Overlap = pattern.Some(24)
	doc := widthsDocument(t, g["lower-back-neck"], forgotten, b, report.WidthsOptions{})
	assert.InDelta(t, 28.0, at(doc, "gaps", "front", "bust", 1), 1e-6)
	assert.Contains(t, widthsWritten(t, g["lower-back-neck"], forgotten, b, report.WidthsOptions{}),
		"  3.0 at every level arrived at button-stand; nothing was taken from another\n    piece\n")
	assert.Contains(t, widthsWritten(t, g["lower-back-neck"], g["button-stand"], b, report.WidthsOptions{}),
		"  3.0 at every level arrived at button-stand; the overlap takes it up\n")
}

func TestWhereTheWidthWent(t *testing.T) {
	g, b := demoVersions(t)
	levels := []pattern.Level{{Name: "waist", Y: 0}}
	four := func(widths ...float64) *pattern.Garment {
		var pieces []*pattern.Piece
		for i, w := range widths {
			pieces = append(pieces, panel(string(rune('a'+i)), []float64{50, 0, -50}, []float64{w, w, w}))
		}
		return halfGarment(levels, pieces...)
	}
	once := four(50, 60)
	once.Options = []pattern.PieceOption{{Piece: "b", Whole: true}}
	wider := pattern.Clone(once)
	wider.Pieces[1] = panel("b", []float64{50, 0, -50}, []float64{64, 64, 64})
	for name, c := range map[string]struct {
		before, after *pattern.Garment
		want          []string
	}{
		"half of a change": {g["gusset"], g["half-move"], []string{
			"14.0 at bust, 10.0 at under-bust, 6.0 at waist, 8.0 at high-hip, 10.0 at low-hip arrived at side-back; nothing was taken from another piece"}},
		"both halves": {g["gusset"], g["seam-move"], []string{
			"14.0 at bust, 10.0 at under-bust, 6.0 at waist, 8.0 at high-hip, 10.0 at low-hip went from back to side-back"}},
		"another cloth": {g["straps"], g["gusset"], []string{
			"at waist: left underarm 25.0 and side-back 35.0; arrived at gusset 52.0 (stretched 59.8); 8.0 less than before"}},
		"a wider gusset":         {g["seam-move"], g["wider-gusset"], []string{"8.0 at every level arrived at gusset; nothing was taken from another piece"}},
		"nothing":                {g["base"], g["straps"], []string{"nowhere: no piece that goes round the body changed its width"}},
		"two neighbours each":    {four(50, 50, 50, 50), four(46, 54, 60, 40), []string{"4.0 at waist went from a to b", "10.0 at waist went from d to c"}},
		"one to two":             {four(50, 50, 50), four(53, 40, 57), []string{"3.0 at waist went from b to a", "7.0 at waist went from b to c"}},
		"taken in":               {four(50, 50), four(50, 45), []string{"5.0 at waist left b; nothing was given to another piece"}},
		"cut once counts half":   {once, wider, []string{"2.0 at waist arrived at b; nothing was taken from another piece"}},
		"under what can be seen": {four(50, 50), four(50.04, 50), []string{"nowhere: no piece that goes round the body changed its width"}},
	} {
		t.Run(name, func(t *testing.T) {
			words := strings.Join(strings.Fields(widthsWritten(t, c.before, c.after, b, report.WidthsOptions{})), " ")
			for _, want := range c.want {
				assert.Contains(t, words, want)
			}
		})
	}
}

// The sums are the pieces', the girth is the sums less the overlap, the terms add up
// to the gap, and what arrived less what left is what the sums gained on each half.
func TestWidthsAddUp(t *testing.T) {
	g, b := demoVersions(t)
	var list []*pattern.Garment
	for _, v := range []string{"base", "gusset", "half-move", "seam-move", "wider-gusset", "button-stand", "card-1"} {
		list = append(list, g[v])
	}
	list = append(list, withCalibration(t))
	rapid.Check(t, func(r *rapid.T) {
		before, after := rapid.SampledFrom(list).Draw(r, "before"), rapid.SampledFrom(list).Draw(r, "after")
		doc := widthsDocument(t, before, after, b, report.WidthsOptions{})
		for _, level := range demoLevels {
			for v := range 2 {
				sum := 0.0
				for _, p := range doc["pieces"].([]any) {
					if at(p, "round", v) == true {
						sum += at(p, "widths", level, v).(float64) * at(p, "times", v).(float64)
					}
				}
				require.InDelta(r, sum, at(doc, "sums", level, v), 1e-5)
				terms, room := at(doc, "terms", "front", level).(map[string]any), 0.0
				for _, name := range []string{"body", "reduction", "thickness", "rigid", "give", "elastic", "stretch", "overlap", "cords"} {
					room += at(terms, name, v).(float64)
				}
				require.InDelta(r, room, at(doc, "gaps", "front", level, v), 1e-5)
				require.InDelta(r, sum-at(terms, "overlap", v).(float64), at(doc, "girth", level, v), 1e-5)
			}
			gained := 0.0
			for _, f := range doc["moved"].([]any) {
				if at(f, "level") == level {
					gained = at(f, "balance").(float64)
				}
			}
			require.InDelta(r, (at(doc, "sums", level, 1).(float64)-at(doc, "sums", level, 0).(float64))/2, gained, 0.3)
		}
	})
}

func TestTheCalibrationIsOnlyShownWhenAskedFor(t *testing.T) {
	g := withCalibration(t)
	b := body(g)
	plain := widthsDocument(t, nil, g, b, report.WidthsOptions{})
	asked := widthsDocument(t, nil, g, b, report.WidthsOptions{Calibrated: true})
	assert.Equal(t, plain["gaps"], asked["gaps"], "the prediction never holds it")
	assert.Nil(t, at(plain, "terms", "front", "waist", "calibrated", 1))
	gap := at(asked, "gaps", "front", "waist", 1).(float64)
	assert.InDelta(t, gap-2, at(asked, "terms", "front", "waist", "calibrated", 1), 1e-6)
	assert.NotContains(t, widthsWritten(t, nil, g, b, report.WidthsOptions{}), "calibrat")
	assert.Contains(t, widthsWritten(t, nil, g, b, report.WidthsOptions{Calibrated: true}), fmt.Sprintf("%.1f", gap-2))
}

func TestWhatIsUnknownIsSaid(t *testing.T) {
	g, _ := demoVersions(t)
	doc := widthsDocument(t, nil, g["base"], nil, report.WidthsOptions{})
	assert.Nil(t, at(doc, "gaps", "front", "bust", 1))
	assert.Nil(t, at(doc, "percent", "bust", "worn"))
	assert.Contains(t, doc["unknown"], map[string]any{"measure": "gap front at bust", "version": "after", "why": "no body here: the body's measures are not in this folder"})
	words := widthsWritten(t, nil, g["base"], nil, report.WidthsOptions{})
	assert.Contains(t, words, "unknown: no body here: the body's measures are not in this folder\n")
	assert.NotContains(t, words, check.Caution[:20], "no figure of compression, no caution")
	half := &pattern.Body{Name: "ringer", Girths: []pattern.LevelNum{{Level: "waist", Value: 701}}}
	assert.Contains(t, widthsWritten(t, nil, g["base"], half, report.WidthsOptions{}), "unknown at bust: body ringer has no girth at bust\n")
	lacks := pattern.Clone(g["base"])
	lacks.Piece("front").NoLevels = true
	doc = widthsDocument(t, nil, lacks, half, report.WidthsOptions{})
	assert.Nil(t, at(doc, "sums", "waist", 1), "a sum that lacks a piece is none")
	assert.Contains(t, doc["unknown"], map[string]any{"measure": "girth waist", "version": "after", "why": "piece front goes round but has no level waist"})
}

// One version alone shows that version: nothing is before, nothing moved.
func TestOneVersionAlone(t *testing.T) {
	g, b := demoVersions(t)
	for name, words := range map[string]string{
		"only the later":   widthsWritten(t, nil, g["card-1"], b, report.WidthsOptions{To: "card-1"}),
		"only the earlier": widthsWritten(t, g["card-1"], nil, b, report.WidthsOptions{From: "card-1", To: "work"}),
	} {
		assert.Contains(t, words, "card-1", name)
		assert.Contains(t, words, "  = gap                     34.0        31.0     33.0      30.0     35.0\n", name)
		assert.Contains(t, words, "wanted: bust 28 to 36 (met)", name)
		for _, not := range []string{"was   ", "now   ", "change ", "where the width went", "NaN"} {
			assert.NotContains(t, words, not, name)
		}
	}
	assert.Equal(t, "no pattern in either version\n", widthsWritten(t, nil, nil, b, report.WidthsOptions{}))
}

func TestTheWholeTextOfWidths(t *testing.T) {
	levels := []pattern.Level{{Name: "bust", Y: 40}, {Name: "waist", Y: 0}}
	ys := []float64{50, 40, 0, -50}
	make := func(a, e []float64) *pattern.Garment {
		g := halfGarment(levels, panel("body", ys, a), panel("wedge", ys, e))
		g.Body, g.Thickness = "b", pattern.Some(3)
		g.Reduce = []pattern.LevelNum{{Level: "waist", Value: 20}}
		g.Options = []pattern.PieceOption{{Piece: "wedge", Stretch: pattern.Some(10), Of: pattern.Some(40), Tested: "2026-01-02"}}
		g.Closures = []pattern.Closure{{Name: "front", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "body", Edge: "front"}}}}
		g.Wanted = []pattern.Wanted{{Closure: "front", Level: "waist", Min: 20, Max: 30}}
		return g
	}
	b := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "bust", Value: 900}, {Level: "waist", Value: 700}}, Moves: []pattern.LevelNum{{Level: "waist", Value: 12}}}
	before := make([]float64{350, 350, 250, 250}, []float64{50, 50, 50, 50})
	after := make([]float64{345, 345, 250, 250}, []float64{55, 55, 50, 50})
	assert.Equal(t, `G: widths in mm, one -> two

the cloth of each piece along a level line, as drawn; both halves together below
                            bust    waist
  body           was       350.0    250.0
                 now       345.0    250.0
                 change     -5.0        =
  wedge          was        50.0     50.0
                 now        55.0     50.0
                 change     +5.0        =
  all round                800.0    600.0
  girth at rest            800.0    600.0
  girth as worn  was       810.0    610.0
                 now       811.0    610.0
                 change     +1.0        =

where the width went, on each half
  5.0 at bust went from body to wedge

predicted gap of the lacing front: what leaves room +, what fills it -
                                    bust    waist
  body                             900.0    700.0
  reduction                          0.0    -20.0
  thickness                         +3.0     +3.0
  cloth without stretch  was      -700.0   -500.0
                         now      -690.0   -500.0
                         change    +10.0        =
  elastic at rest        was      -100.0   -100.0
                         now      -110.0   -100.0
                         change    -10.0        =
  its stretch            was       -10.0    -10.0
                         now       -11.0    -10.0
                         change     -1.0        =
  = gap                  was        93.0     73.0
                         now        92.0     73.0
                         change     -1.0        =
  nothing recorded, or 0: its give, overlap, cords
  wanted: waist 20 to 30 (43.0 too wide)

percent of the body, negative: smaller than the body
                         bust    waist
  as worn                 0.0     -2.9
  laced shut  was       -10.3    -13.3
              now       -10.2    -13.3
              change     +0.1        =
  `+strings.Join(report.Wrap(check.Caution, 78, ""), "\n  ")+`

stretch: percent of the length at rest
  wedge: worn stretched by 10 % of the 40 % that it was tested to: 30 in
    reserve; tested on 2026-01-02
                                  bust    waist
  elastic, all round   was       100.0    100.0
                       now       110.0    100.0
                       change    +10.0        =
  body +10 mm adds, %  was       +10.0    +10.0
                       now        +9.1    +10.0
                       change     -0.9        =
  wedge then, %        was        20.0     20.0
                       now        19.1     20.0
                       change     -0.9        =
  moving adds, %                     -    +12.0
  body may gain, mm    was        30.0     30.0
                       now        33.0     30.0
                       change     +3.0        =
  body may gain: what is left before the first elastic is stretched as far as it
    was tested, all of it taken up by the elastic
  `+strings.Join(report.Wrap(check.ElasticCaution, 78, ""), "\n  ")+"\n",
		widthsWritten(t, before, after, b, report.WidthsOptions{From: "one", To: "two"}))
}

func TestWidthsFitTheScreen(t *testing.T) {
	long := func(s string) string { return s + strings.Repeat("-x", (pattern.MaxName-len(s))/2) }
	for name, f := range map[string]func(string) string{"as they are": func(s string) string { return s }, "long": long, "middling": func(s string) string { return s + "-yyyyyyyy" }, "hostile": hostile} {
		for _, width := range []int{80, 60, 120} {
			var b bytes.Buffer
			out := report.Text{W: &b, Width: width}
			before, after := renamed(sample(t, "waistcoat--03-gusset"), f), renamed(withCalibration(t), f)
			out.Widths(compare.Garments(before, after, compare.Options{Body: body(after)}), report.WidthsOptions{From: f("a"), To: f("b"), Calibrated: true})
			require.NoError(t, out.Err)
			for _, l := range strings.Split(b.String(), "\n") {
				if utf8.RuneCountInString(l) > width {
					assert.Len(t, strings.Fields(l), 1, "%s, %d: %s", name, width, l)
				}
				assert.Equal(t, strings.TrimRight(l, " "), l)
				assert.NotContains(t, l, "\x1b")
			}
			assert.Contains(t, b.String(), "calibrat")
		}
	}
}
