package handoff

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

// altered is the garment after one edge, one bone and one button of the front
// were moved.
func altered(t testing.TB) *pattern.Garment {
	g := load(t, marked)
	p := g.Piece("front")
	p.Edges[2].Segs[0].To.X += 2.5
	p.Marks[0].At.X++
	p.Marks[7].At.Y -= 3.125
	return g
}

// lines gives the lines of a drawing by id, in page mm.
func lines(t testing.TB, src []byte) map[string]curve.Path {
	d, problems := vector.Read("", src, vector.Options{})
	require.False(t, problems.HasErrors(), problems)
	out := make(map[string]curve.Path)
	for _, it := range d.Items {
		out[it.ID] = it.Path
	}
	return out
}

// apart is how far two lines are from one another, point by point.
func apart(t testing.TB, a, b curve.Path) float64 {
	require.Equal(t, len(a), len(b))
	far := 0.0
	for i := range a {
		far = max(far, a[i].P0.Dist(b[i].P0), a[i].P1.Dist(b[i].P1), a[i].P2.Dist(b[i].P2), a[i].P3.Dist(b[i].P3))
	}
	return far
}

func fine(t testing.TB, out []byte, problems diag.List) []byte {
	require.Empty(t, problems.Only(diag.Error))
	require.NotNil(t, out)
	return out
}

func TestIntoAnUnchangedDrawingChangesNothing(t *testing.T) {
	for _, dir := range []string{waistcoat, marked} {
		g := load(t, dir)
		src := written(t, g, Options{Base: bases})
		out, problems := Into(src, g, g.Pieces, IntoOptions{Base: bases})
		assert.Empty(t, problems)
		assert.Equal(t, string(src), string(out))
	}
}

// differing gives the lines of b that are not those of a.
func differing(t testing.TB, a, b []byte) []string {
	was, is := strings.Split(string(a), "\n"), strings.Split(string(b), "\n")
	require.Equal(t, len(was), len(is))
	var out []string
	for i := range is {
		if was[i] != is[i] {
			out = append(out, strings.TrimSpace(is[i]))
		}
	}
	return out
}

func TestIntoRewritesOnlyWhatChanged(t *testing.T) {
	before, after := load(t, marked), altered(t)
	src := written(t, before, Options{Base: bases})
	out, problems := Into(src, after, after.Pieces, IntoOptions{Base: func(piece string) string {
		if piece == "front" {
			return "1234"
		}
		return bases(piece)
	}})
	out = fine(t, out, problems)
	changed := differing(t, src, out)
	require.Len(t, changed, 4, "base, outline, bone and button: %q", changed)
	assert.Equal(t, `seamkeep:base="1234"`, changed[0])
	assert.Equal(t, `d="M 240,386 L 239,136"`, changed[1])
	assert.Equal(t, `cy="149.125"`, changed[2])
	assert.True(t, strings.HasPrefix(changed[3], `d="M 224,118 `), changed[3])
	// what is written into a drawing is what a new one would show
	fresh, got := lines(t, written(t, after, Options{})), lines(t, out)
	for _, id := range []string{"front-outline", "back-outline", "front-bone-b1", "front-button-k1"} {
		assert.Equal(t, fresh[id], got[id], id)
	}
}

// turned wraps the text of a layer's attributes or replaces some text, once.
func replaced(t testing.TB, src []byte, old, new string) []byte {
	require.Equal(t, 1, bytes.Count(src, []byte(old)), "%s", old)
	return bytes.Replace(src, []byte(old), []byte(new), 1)
}

// layerTag is how the layer of the front begins.
const layerTag = `     id="front"` + "\n"

func TestIntoFollowsLayersThatWereMovedAndTurned(t *testing.T) {
	before, after := load(t, marked), altered(t)
	src := written(t, before, Options{})
	tests := map[string]struct {
		transform string
		page      curve.Affine // the same by hand
	}{
		"moved":                 {"translate(2.6458333,-7.5)", curve.Translate(2.6458333, -7.5)},
		"turned":                {"rotate(90)", curve.Affine{B: 1, C: -1}},
		"turned a little":       {"rotate(7.5 100 30)", curve.Translate(-100, -30).Then(curve.Rotate(7.5 * math.Pi / 180)).Then(curve.Translate(100, 30))},
		"mirrored":              {"matrix(-1 0 0 1 600 0)", curve.Affine{A: -1, D: 1, E: 600}},
		"scaled there and back": {"scale(4) scale(0.25)", curve.Identity()},
	}
	fresh := lines(t, written(t, after, Options{}))
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			moved := replaced(t, src, layerTag, layerTag+`     transform="`+tt.transform+`"`+"\n")
			out, problems := Into(moved, after, after.Pieces, IntoOptions{})
			out = fine(t, out, problems)
			assert.Len(t, differing(t, moved, out), 3, "the outline, the bone and the button")
			got := lines(t, out)
			for _, id := range []string{"front-outline", "front-bone-b1", "front-button-k1"} {
				assert.Less(t, apart(t, fresh[id].Transform(tt.page), got[id]), 1e-5, id)
			}
		})
	}
}

// A drawing in px, with the outline's numbers in a turned and scaled group,
// without attributes of ours: the frame says where the piece lies.
func foreign(d string) string {
	return `<?xml version='1.0' encoding='ISO-8859-1'?>
<!DOCTYPE svg [ <!ENTITY w "1"> ]>` + "\r\n" + `<svg xmlns='http://www.w3.org/2000/svg' width='1200px' height="1600px"><!-- na` + "\xef" + `ve -->
<style>.k{stroke:red}</style><g transform='translate(100 900) scale(&w;2 -12)'><path class='k' id='P1'   d = '` + d + `' stroke-width='&w;'/></g>
<path d="M0,0 L10,10 20,0z" id="other"/></svg>`
}

func TestIntoAForeignDrawingKeepsEveryOtherByte(t *testing.T) {
	g := load(t, marked)
	p := g.Piece("back")
	frame := curve.Affine{A: 0, B: 1, C: 1, D: 0, E: 120, F: 40} // turned by a quarter, mirrored to y down
	old := "m 0 0 h 10 v 20 h -10 z"
	src := []byte(foreign(old))
	out, problems := Into(src, g, []*pattern.Piece{p}, IntoOptions{
		File: "mine.svg", IDs: map[string]string{"back": "P1"},
		Frame: func(string) (curve.Affine, bool) { return frame, true }, Base: bases,
	})
	require.Len(t, problems, 1, "that 96 px are taken for an inch: %v", problems)
	out = fine(t, out, problems)
	d := regexp.MustCompile(`d = '([^']*)'`).FindSubmatch(out)
	require.NotNil(t, d)
	assert.Equal(t, foreign(string(d[1])), string(out))
	// CSS Values and Units 3, section 6.2: 96 px are 25.4 mm
	px := curve.Scale(25.4/96, 25.4/96)
	toPage := curve.Scale(12, -12).Then(curve.Translate(100, 900)).Then(px)
	numbers := regexp.MustCompile(`-?[0-9.]+`).FindAllString(string(d[1]), -1)
	want := p.Outline()
	require.Len(t, numbers, 2+6+6+2+2, "two curves, two lines and a closing one")
	at := func(i int) curve.Point {
		var x, y float64
		_, err := fmt.Sscan(numbers[2*i]+" "+numbers[2*i+1], &x, &y)
		require.NoError(t, err)
		return toPage.Apply(curve.Pt(x, y))
	}
	for i, q := range []curve.Point{want[0].P0, want[0].P1, want[0].P2, want[0].P3, want[1].P1, want[1].P2, want[1].P3, want[2].P3, want[3].P3} {
		assert.Less(t, at(i).Dist(frame.Apply(q)), 2e-6, "point %d", i)
	}
}

func TestIntoWritesTheBaseWhereThereWasNone(t *testing.T) {
	g := load(t, marked)
	src := written(t, g, Options{})
	out, problems := Into(src, g, g.Pieces, IntoOptions{Base: bases})
	out = fine(t, out, problems)
	for _, p := range g.Pieces {
		assert.Equal(t, bases(p.Name), parse(t, out).one(t, p.Name).own("base"))
	}
	want := regexp.MustCompile(`\n {5}seamkeep:base="[^"]*"`).ReplaceAll(out, nil)
	assert.Equal(t, string(src), string(want))
}

// Where ungrouping took the group of the piece, its outline is known by its id.
func TestIntoFindsTheOutlineByIDAlone(t *testing.T) {
	g := load(t, marked)
	src := written(t, g, Options{})
	src = regexp.MustCompile(`\n     seamkeep:(piece|at)="[^"]*"`).ReplaceAll(src, nil)
	at := map[string]curve.Affine{"front": {A: 1, D: -1, E: 237, F: 286}, "back": {A: 1, D: -1, E: 145, F: 286}}
	after := altered(t)
	out, problems := Into(src, after, after.Pieces, IntoOptions{Frame: func(name string) (curve.Affine, bool) { return at[name], true }})
	out = fine(t, out, problems)
	assert.Len(t, differing(t, src, out), 1)
	assert.Equal(t, lines(t, written(t, after, Options{}))["front-outline"], lines(t, out)["front-outline"])
}

func TestIntoRefuses(t *testing.T) {
	g := load(t, marked)
	src := written(t, g, Options{})
	front := []*pattern.Piece{g.Piece("front")}
	group := `<g xmlns:seamkeep="seamkeep:drawing:1" seamkeep:piece="front" seamkeep:at="237 286">`
	page := func(inner string) []byte {
		return []byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:seamkeep="seamkeep:drawing:1" xmlns:xlink="http://www.w3.org/1999/xlink" width="400mm" height="400mm" viewBox="0 0 400 400">` +
			`<path id="x" d="M 0,0 L 10,0 L 10,10 Z"/>` + inner + `</svg>`)
	}
	in := func(inner string) []byte { return page(group + inner + "</g>") }
	units := utf16.Encode([]rune("\ufeff" + string(src)))
	wide := make([]byte, 0, 2*len(units))
	for _, u := range units {
		wide = append(wide, byte(u), byte(u>>8))
	}
	tests := map[string]struct {
		src      []byte
		id, says string
	}{
		"no drawing":         {[]byte("PK\x03\x04"), "drawing.file", "zip"},
		"cut off":            {src[:len(src)/2], "drawing.xml", "ends"},
		"no true size":       {[]byte(strings.Replace(string(src), `width="425mm"`, `width="100%"`, 1)), "drawing.size", ""},
		"UTF-16":             {wide, "drawing.encoding", "UTF-16"},
		"missing":            {page(""), "drawing.missing", "no outline of front"},
		"missing in group":   {in(`<path id="y" d="M 0,0 L 10,0 L 10,10 Z"/>`), "drawing.missing", "no outline of front"},
		"a rect":             {in(`<rect seamkeep:line="outline" id="r" width="100" height="300"/>`), "drawing.shape", `rect "r"`},
		"a polygon":          {in(`<polygon seamkeep:line="outline" id="r" points="0 0 10 10 20 0"/>`), "drawing.shape", `polygon "r"`},
		"a clone":            {in(`<use seamkeep:line="outline" id="u" xlink:href="#x"/>`), "drawing.shape", `use "u"`},
		"hidden":             {in(`<path seamkeep:line="outline" id="h" style="display:none" d="M 0,0 L 10,0 L 10,10 Z"/>`), "drawing.shape", "is hidden"},
		"two lines":          {in(`<path seamkeep:line="outline" id="h" d="M 0,0 L 10,0 L 10,10 Z M 2,2 L 8,2 L 8,8 Z"/>`), "drawing.shape", "holds 2 lines"},
		"empty":              {in(`<path seamkeep:line="outline" id="h" d=""/>`), "drawing.shape", ""},
		"in definitions":     {page(`<defs>` + group + `<path seamkeep:line="outline" id="h" d="M 0,0 L 10,0 L 10,10 Z"/></g></defs>`), "drawing.shape", "shows no line"},
		"twice":              {in(strings.Repeat(`<path seamkeep:line="outline" d="M 0,0 L 10,0 L 10,10 Z"/>`, 2)), "drawing.twice", "2 elements"},
		"moved by itself":    {regexp.MustCompile(`d="M 224,118 [^"]*"`).ReplaceAll(src, []byte(`d="M 25,18 L 225,18 L 225,300 Z"`)), "drawing.frame", "moved or redrawn"},
		"layer scaled":       {replaced(t, src, layerTag, layerTag+`transform="scale(1.1)"`), "drawing.frame", "1.1 times as wide"},
		"layer skewed":       {replaced(t, src, layerTag, layerTag+`transform="skewX(10)"`), "drawing.frame", "times as wide"},
		"place not known":    {replaced(t, src, `seamkeep:at="237 286"`, `seamkeep:at="NaN 286"`), "drawing.frame", "not known where"},
		"place out of sight": {replaced(t, src, `seamkeep:at="237 286"`, `seamkeep:at="1e300 286"`), "drawing.frame", "not known where"},
		"mark twice":         {replaced(t, src, `seamkeep:line="mark eyelet e2"`, `seamkeep:line="mark eyelet e1"`), "drawing.twice", "mark eyelet e1"},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			out, problems := Into(tt.src, g, front, IntoOptions{File: "a.svg"})
			assert.True(t, out == nil, "no bytes are given")
			errs := problems.Only(diag.Error)
			require.NotEmpty(t, errs)
			assert.Equal(t, tt.id, errs[0].ID, errs[0].Message())
			assert.Contains(t, errs[0].Message(), tt.says)
			assert.Equal(t, "a.svg", errs[0].Place.File)
		})
	}
}

func TestIntoSaysWhichMarksItLeft(t *testing.T) {
	g := load(t, marked)
	src := written(t, g, Options{})
	src = replaced(t, src, `seamkeep:line="mark eyelet e2"`, `seamkeep:line="mark eyelet e9"`)
	src = replaced(t, src, `     cx="267"`, `     rx="9" ry="9" cx="267"`)
	src = regexp.MustCompile(`<circle(\s[^>]*mark button k1[^>]*)>`).ReplaceAll(src, []byte("<ellipse$1>"))
	out, problems := Into(src, g, g.Pieces, IntoOptions{})
	assert.Equal(t, string(src), string(out))
	var said []string
	for _, p := range problems {
		assert.Equal(t, diag.Warning, p.Severity)
		said = append(said, p.Found)
	}
	assert.ElementsMatch(t, []string{
		"front has no mark eyelet e9 any more; the drawing still shows it",
		"the drawing has no mark eyelet e2 of front",
		`the mark button k1 of front is drawn as ellipse "front-button-k1" and was left as it is`,
	}, said)
}

func FuzzInto(f *testing.F) {
	g := load(f, marked)
	src := written(f, g, Options{Base: bases})
	f.Add(src)
	f.Add([]byte(foreign("m 0 0 h 10 v 20 h -10 z")))
	f.Add([]byte(strings.ReplaceAll(string(src), `"`, `'`)))
	f.Add(append([]byte("\xef\xbb\xbf"), src...))
	after := altered(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		out, problems := Into(src, after, after.Pieces, IntoOptions{Base: bases, IDs: map[string]string{"back": "P1"}})
		if problems.HasErrors() {
			assert.True(t, out == nil, "no bytes are given")
			return
		}
		// the drawing still has all its lines, and writing again changes nothing
		_, was := vector.Read("", src, vector.Options{})
		_, again := vector.Read("", out, vector.Options{})
		require.Len(t, again.Only(diag.Error), len(was.Only(diag.Error)))
		twice, _ := Into(out, after, after.Pieces, IntoOptions{Base: bases, IDs: map[string]string{"back": "P1"}})
		assert.Equal(t, string(out), string(twice))
	})
}

// A drawing without a size of its own, whose scale is known by a line of it: 2 mm
// a unit.
func TestIntoFollowsAKnownLength(t *testing.T) {
	g := load(t, marked)
	p := g.Piece("back")
	src := []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 300"><path id="tape" d="M 0,0 H 50"/>` +
		`<path id="b" d="M 100,100 h 10 v 20 z"/></svg>`)
	out, problems := Into(src, g, []*pattern.Piece{p}, IntoOptions{
		Read: vector.Options{Known: []vector.KnownLength{{ID: "tape", Length: 100}}}, IDs: map[string]string{"back": "b"},
		Frame: func(string) (curve.Affine, bool) { return curve.Affine{A: 1, D: -1, E: 10, F: 220}, true },
	})
	got := parse(t, fine(t, out, problems)).one(t, "b").attrs["d"]
	// (10 + x) / 2, (220 - y) / 2 of the piece file's numbers, by hand
	assert.Equal(t, "M 5,14.9375 C 15.0005,50 15.6665,80 15,110 C 14.25,130 6.5,145 5,166 L 20,166 L 20,14.9375 Z", got)
}
