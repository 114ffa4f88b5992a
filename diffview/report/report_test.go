package report_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

func sample(t testing.TB, name string) *pattern.Garment {
	t.Helper()
	folder, problems := text.Load(os.DirFS(filepath.Join("..", "..", "testdata", "patterns", name)), ".")
	require.Empty(t, problems)
	return folder.Garment
}

// body is that of the shared waistcoat, in the garment's own level names.
func body(g *pattern.Garment) *pattern.Body {
	b := &pattern.Body{Name: "ringer"}
	for i, girth := range []float64{902, 779, 701, 828, 883} {
		b.Girths = append(b.Girths, pattern.LevelNum{Level: g.Levels[i].Name, Value: girth})
	}
	return b
}

// renamed gives the garment with every name through f: pieces, edges, corners,
// notches, levels, seams, runs and closures.
func renamed(g *pattern.Garment, f func(string) string) *pattern.Garment {
	g = pattern.Clone(g)
	name := func(s *string) {
		if *s != "" {
			*s = f(*s)
		}
	}
	refs := func(list []pattern.Ref) {
		for i := range list {
			name(&list[i].Piece)
			name(&list[i].Edge)
		}
	}
	name(&g.Name)
	name(&g.Title)
	for i := range g.Levels {
		name(&g.Levels[i].Name)
	}
	for i := range g.Reduce {
		name(&g.Reduce[i].Level)
	}
	for i := range g.Around {
		name(&g.Around[i].Name)
	}
	for i := range g.Options {
		name(&g.Options[i].Piece)
	}
	for i := range g.Seams {
		name(&g.Seams[i].Name)
		refs(g.Seams[i].First)
		refs(g.Seams[i].Second)
	}
	for i := range g.Runs {
		name(&g.Runs[i].Name)
		refs(g.Runs[i].Refs)
	}
	for i := range g.Closures {
		name(&g.Closures[i].Name)
		refs(g.Closures[i].Edges)
	}
	for _, p := range g.Pieces {
		name(&p.Name)
		for i := range p.Corners {
			name(&p.Corners[i].Name)
			name(&p.Edges[i].Name)
		}
		for _, e := range p.Edges {
			p.Notches = append(p.Notches, pattern.Notch{Name: f("mark"), Edge: pattern.Mention{Name: e.Name}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: p.Corners[p.EdgeIndex(e.Name)].Name, Distance: 1}})
		}
	}
	g.SortPieces()
	return g
}

// everything writes all that can be written of two versions.
func everything(t testing.TB, out *report.Text, before, after *pattern.Garment) {
	t.Helper()
	var walks []*measure.Walk
	for i := range after.Seams {
		w, problem := measure.WalkSeam(after, &after.Seams[i], measure.Accuracy)
		require.Nil(t, problem)
		walks = append(walks, w)
	}
	out.Walks(after, walks, true)
	out.Change(compare.Garments(before, after, compare.Options{Body: body(after)}), "main", "work")
	out.Change(compare.Garments(nil, after, compare.Options{}), "nothing", "work")
	out.Change(compare.Garments(after, nil, compare.Options{}), "work", "nothing")
	problems := check.Run(check.Input{Garment: after, Body: body(after)})
	require.True(t, problems.HasErrors())
	out.Problems(problems)
	out.Accepted(problems)
	for _, m := range []measure.Measure{{Kind: "girth"}, {Kind: "gap", Closure: after.Closures[0].Name}, {Kind: "width", Piece: after.Pieces[0].Name},
		{Kind: "seam", Seam: after.Seams[0].Name}, {Kind: "turn", Run: after.Runs[0].Name, Seam: after.Seams[0].Name}, {Kind: "count", Closure: after.Closures[0].Name}} {
		list, err := m.Eval(measure.Input{Garment: after, Body: body(after)})
		require.NoError(t, err)
		out.Values(list)
	}
	require.NoError(t, out.Err)
}

// Long names are as long as a name may be. A single word that is wider than the
// screen stands alone, so that it can be copied.
func TestTextFitsTheScreen(t *testing.T) {
	long := func(s string) string { return s + strings.Repeat("-x", (pattern.MaxName-len(s))/2) }
	middling := func(s string) string { return s + strings.Repeat("-y", 9) }
	for name, f := range map[string]func(string) string{"as they are": func(s string) string { return s }, "long": long, "middling": middling} {
		for _, width := range []int{0, 80, 60, 120} {
			var b bytes.Buffer
			everything(t, &report.Text{W: &b, Width: width}, renamed(sample(t, "waistcoat--03-gusset"), f), renamed(sample(t, "waistcoat--06a-seam-move-untrued"), f))
			limit := width
			if width == 0 {
				limit = 80
			}
			for _, l := range strings.Split(b.String(), "\n") {
				if utf8.RuneCountInString(l) > limit {
					assert.Len(t, strings.Fields(strings.ReplaceAll(l, "FAIL ", "")), 1, "%s, %d: %s", name, width, l)
				}
				assert.Equal(t, strings.TrimRight(l, " "), l)
			}
			assert.Contains(t, b.String(), "FAIL")
		}
	}
}

func TestFiguresStandInTheirColumns(t *testing.T) {
	var b bytes.Buffer
	out := report.Text{W: &b}
	g := sample(t, "waistcoat--06a-seam-move-untrued")
	g.Seams[0].Name = strings.Repeat("s", 64)
	g.Seams[4].Eases = []pattern.Ease{{Amount: 2}}
	var walks []*measure.Walk
	for i := range g.Seams {
		w, problem := measure.WalkSeam(g, &g.Seams[i], measure.Accuracy)
		require.Nil(t, problem)
		walks = append(walks, w)
	}
	out.Walks(g, walks, false)
	assert.Equal(t, `Midsummer waistcoat: 6 seams walked, in mm; over 1.5 FAILs, over 1 is near
      seam                                   first    second    ease  difference
ok    ssssssssssssssssssssssssssssssssssssssssssssssssssssssssssssssss
                                             298.0     298.0                0.00
ok    side-front-underarm                    284.0     284.0                0.00
ok    underarm-gusset                        280.0     280.0                0.00
ok    gusset-side-back                       280.0     280.0                0.00
ok    side-back-back                         322.0     319.5     2.0       +0.55
ok    back-button-stand                      328.0     328.0                0.00
`, b.String())
}

// hostile puts escape sequences, direction marks and line ends into a name.
func hostile(s string) string { return s + "\x1b[31m\u202e\x00\x9b2J\r\n\u2028\u0085" + s }

func TestNoControlCharacterReachesTheScreen(t *testing.T) {
	var b bytes.Buffer
	a, g := renamed(sample(t, "waistcoat--03-gusset"), hostile), renamed(sample(t, "waistcoat--06a-seam-move-untrued"), hostile)
	out := &report.Text{W: &b}
	everything(t, out, a, g)
	out.Problems(diag.List{{ID: hostile("x"), Found: hostile("found"), Expected: hostile("expected"), Hint: hostile("hint"), Place: diag.Place{File: hostile("file")},
		Related: []diag.Related{{Place: diag.Place{File: hostile("file")}, Text: hostile("text")}}}})
	out.Para(hostile("a note"), "  ")
	for _, r := range b.String() {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == utf8.RuneError || r == 0x2028) {
			t.Fatalf("%q is written in\n%q", r, b.String())
		}
	}
}

// In JSON they are written as escapes, so that nothing is lost and nothing acts.
func TestNoControlCharacterStandsBareInJSON(t *testing.T) {
	var b bytes.Buffer
	in := diag.List{{ID: "x", Found: "a\x1b[31m\u202e\u009b\u0085\u2028\ufeff\u200b\U000e0041ä漢🧵\"\\"}}
	require.NoError(t, report.WriteJSON(&b, report.CheckJSON(in)))
	for _, r := range b.String() {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == 0x2028 || r == 0xfeff) {
			t.Fatalf("%q is written", r)
		}
	}
	assert.Contains(t, b.String(), "ä漢🧵", "what is harmless stays readable")
	var doc struct{ Problems []struct{ Found string } }
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	assert.Equal(t, in[0].Found, doc.Problems[0].Found)
}

func TestColourIsNeverTheOnlySign(t *testing.T) {
	var plain, coloured bytes.Buffer
	a, g := sample(t, "waistcoat--03-gusset"), sample(t, "waistcoat--06a-seam-move-untrued")
	everything(t, &report.Text{W: &plain}, a, g)
	everything(t, &report.Text{W: &coloured, Colour: true}, a, g)
	assert.NotContains(t, plain.String(), "\x1b")
	bare := coloured.String()
	for _, code := range []string{"\x1b[31m", "\x1b[33m", "\x1b[32m", "\x1b[0m"} {
		assert.True(t, code == "\x1b[33m" || strings.Contains(bare, code), "%q", code)
		bare = strings.ReplaceAll(bare, code, "")
	}
	assert.Equal(t, plain.String(), bare)
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		in, indent string
		width      int
		want       []string
	}{
		{"", "  ", 10, []string{""}},
		{"one two", "  ", 10, []string{"one two"}},
		{"one two three", "  ", 10, []string{"one two", "  three"}},
		{"  one two three", "    ", 10, []string{"  one two", "    three"}},
		{"exactly ten", "", 11, []string{"exactly ten"}},
		{"exactly ten", "", 10, []string{"exactly", "ten"}},
		{"a wordthatistoolong b", " ", 8, []string{"a", " wordthatistoolong", " b"}},
		{"äöü äöü", "", 7, []string{"äöü äöü"}},
	} {
		assert.Equal(t, c.want, report.Wrap(c.in, c.width, c.indent), "%q", c.in)
	}
}

// A writer that fails ends the writing, and its error is kept.
type broken struct{ left int }

func (w *broken) Write(p []byte) (int, error) {
	if w.left--; w.left < 0 {
		return 0, errors.New("disk full")
	}
	return len(p), nil
}

func TestAWriteErrorIsKept(t *testing.T) {
	out := &report.Text{W: &broken{left: 2}}
	for range 5 {
		out.Para("line", "")
	}
	assert.EqualError(t, out.Err, "disk full")
}

func TestNothingAgainstNothing(t *testing.T) {
	var b bytes.Buffer
	out := &report.Text{W: &b}
	out.Change(compare.Garments(nil, nil, compare.Options{}), "a", "b")
	assert.Contains(t, b.String(), "nothing changed")
	require.NoError(t, report.WriteJSON(&b, report.ChangeJSON(compare.Garments(nil, nil, compare.Options{}), "a", "b")))
}

// A refusal must fit a screen of 24 lines of 80, with its cure.
func TestARefusalFitsTheScreen(t *testing.T) {
	var b bytes.Buffer
	out := &report.Text{W: &b}
	g := sample(t, "waistcoat--06a-seam-move-untrued")
	out.Problems(check.Run(check.Input{Garment: g}).Only(diag.Error))
	assert.LessOrEqual(t, strings.Count(b.String(), "\n"), 24)
	for _, part := range []string{"error: seam side-back-back", "2.55 mm longer", "at most 1.5", "[seam.differs]",
		"side-back.back measures 322.03", "back.front measures 319.49", "hint: take off side-back.back: 1.20 at the hem-back end", "seamkeep true side-back-back"} {
		assert.Contains(t, strings.Join(strings.Fields(b.String()), " "), part)
	}
}

func TestCounts(t *testing.T) {
	e, w, n := diag.Problem{Severity: diag.Error}, diag.Problem{Severity: diag.Warning}, diag.Problem{}
	assert.Equal(t, "nothing to mend", report.Count(nil))
	assert.Equal(t, "1 error", report.Count(diag.List{e}))
	assert.Equal(t, "2 errors, 1 warning, 3 notes", report.Count(diag.List{n, e, w, n, e, n}))
}

// curveNaN is a model that a hostile caller could make; no text can.
func curveNaN() curve.Point { return curve.Pt(math.NaN(), math.Inf(1)) }

func keysOf(m map[string]any) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// Numbered, each finding begins with its place in the list; what follows is the same.
func TestNumberedProblems(t *testing.T) {
	list := diag.List{
		{ID: "text.word", Severity: diag.Error, Place: diag.Place{File: "a.garment", Line: 3, Column: 1}, Found: "found sem", Expected: "seam"},
		{ID: "gap.outside", Severity: diag.Warning, Found: "the gap is 3"},
	}
	var plain, numbered bytes.Buffer
	(&report.Text{W: &plain, Width: 80}).Problems(list)
	(&report.Text{W: &numbered, Width: 80, Colour: true}).NumberedProblems(list)
	assert.Equal(t, "a.garment:3:1: error: found sem; seam [text.word]\n\nwarning: the gap is 3 [gap.outside]\n", plain.String())
	assert.Equal(t, "1. a.garment:3:1: \x1b[31merror:\x1b[0m found sem; seam [text.word]\n\n2. \x1b[33mwarning:\x1b[0m the gap is 3 [gap.outside]\n", numbered.String())
}
