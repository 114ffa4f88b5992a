package drawing

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

func readFile(t *testing.T, name string, o Options) (*Result, diag.List) {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	return Read(name, src, o)
}

// page wraps elements in a drawing of 400 x 400 mm; the body stands in line 2.
func page(body string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="` + nsEditor + `" xmlns:xlink="http://www.w3.org/1999/xlink" width="400mm" height="400mm" viewBox="0 0 400 400">` +
		"\n" + body + "\n</svg>\n")
}

const square = `d="M100,100 h50 v80 h-50 z"`

func ids(l diag.List) []string {
	out := []string{}
	for _, p := range l {
		out = append(out, p.ID)
	}
	return out
}

func names(r *Result) []string {
	out := []string{}
	for _, p := range r.Pieces {
		out = append(out, p.Name)
	}
	return out
}

// figures of a piece that no placing on the sheet may change
type figures struct {
	width, height float64
	lengths       []float64
}

func figuresOf(r *Result) figures {
	f := figures{width: r.Sources[0].Width, height: r.Sources[0].Height}
	for _, e := range r.Pieces[0].Edges {
		f.lengths = append(f.lengths, e.Length.Value)
	}
	return f
}

// The drawing of the sample set has a true outline of 100.000 x 210.125 mm by
// the set's own statement, read alike by a browser and by a drawing program. The
// other files are that one as a drawing program (1.2.2) saved it again, moved its
// layer, and mirrored it.
func TestTrueSize(t *testing.T) {
	for _, name := range []string{
		"01-mm-viewbox-layers.svg", "01-resaved.svg", "01-layer-moved.svg", "01-flipped.svg",
		"04-pt-units.svg", "10-compact-path.svg",
	} {
		t.Run(name, func(t *testing.T) {
			r, probs := readFile(t, name, Options{})
			require.NotEmpty(t, r.Pieces)
			assert.False(t, probs.HasErrors(), "%v", probs)
			assert.InDelta(t, 100.000, r.Sources[0].Width, 0.0005)
			assert.InDelta(t, 210.125, r.Sources[0].Height, 0.0005)
		})
	}
}

func TestSample(t *testing.T) {
	r, probs := readFile(t, "01-mm-viewbox-layers.svg", Options{})
	require.Len(t, r.Pieces, 1)
	p := r.Pieces[0]
	assert.Equal(t, "front-panel", p.Name)
	assert.Equal(t, "Front panel", p.Title)
	assert.True(t, p.NoLevels)
	assert.Equal(t, []pattern.Corner{
		{Name: "c1", At: curve.Pt(0, 210.125)}, {Name: "c2", At: curve.Pt(0, 10)},
		{Name: "c3", At: curve.Pt(50, 0)}, {Name: "c4", At: curve.Pt(100, 210.125)},
	}, p.Corners)
	require.Len(t, p.Edges, 4)
	assert.Equal(t, "e1", p.Edges[0].Name)
	assert.Empty(t, p.Edges[0].Segs)
	assert.Equal(t, []pattern.Seg{
		{Curve: true, H1: curve.Pt(80, 0), H2: curve.Pt(100, 30), To: curve.Pt(100, 60)}, {ToCorner: true},
	}, p.Edges[2].Segs)
	// 200.125, the root of 50^2 + 10^2 (50.9902), and 100 by arithmetic
	assert.Equal(t, 200.125, p.Edges[0].Length.Value)
	assert.Equal(t, 50.990, p.Edges[1].Length.Value)
	assert.Equal(t, 100.0, p.Edges[3].Length.Value)
	assert.Positive(t, p.Outline().Area(), "anticlockwise")

	assert.Equal(t, Source{
		Place: diag.Place{File: "01-mm-viewbox-layers.svg", Line: 5, Column: 5},
		ID:    "outline", Label: "cut line", Layer: "Front panel", Width: 100, Height: 210.125,
	}, r.Sources[0])
	require.Len(t, r.Skipped, 1)
	assert.Equal(t, "notch", r.Skipped[0].ID)
	assert.Equal(t, 6, r.Skipped[0].Place.Line)
	assert.Contains(t, r.Skipped[0].Why, "open")
	require.Equal(t, []string{"drawing.cut-line"}, ids(probs))
	assert.Equal(t, diag.Warning, probs[0].Severity)
	assert.Contains(t, probs[0].Expected, "sewing line")
}

// Opening, saving and moving on the sheet change nothing; mirroring gives the
// mirror image, still anticlockwise.
func TestSavedAgain(t *testing.T) {
	want, _ := readFile(t, "01-mm-viewbox-layers.svg", Options{})
	for _, name := range []string{"01-resaved.svg", "01-layer-moved.svg"} {
		got, _ := readFile(t, name, Options{})
		require.Len(t, got.Pieces, 1, name)
		assert.True(t, pattern.EqualPieces(want.Pieces[0], got.Pieces[0]), name)
	}
	flip, _ := readFile(t, "01-flipped.svg", Options{})
	require.Len(t, flip.Pieces, 1)
	assert.Equal(t, []pattern.Corner{
		{Name: "c1", At: curve.Pt(0, 210.125)}, {Name: "c2", At: curve.Pt(50, 0)},
		{Name: "c3", At: curve.Pt(100, 10)}, {Name: "c4", At: curve.Pt(100, 210.125)},
	}, flip.Pieces[0].Corners)
	assert.InDelta(t, want.Pieces[0].Outline().Area(), flip.Pieces[0].Outline().Area(), 1e-6)

	// a layer turned by 10 degrees: lengths stay, but for the rounding of points
	turned, _ := readFile(t, "01-layer-turned.svg", Options{})
	require.Len(t, turned.Pieces, 1)
	a, b := figuresOf(want).lengths, figuresOf(turned).lengths
	require.Len(t, b, len(a))
	for i := range a {
		assert.InDelta(t, a[i], b[i], 0.003)
	}
}

// The same with the drawing program itself, where it is installed.
func TestSavedByDrawingProgram(t *testing.T) {
	program, err := exec.LookPath("inkscape")
	if err != nil {
		t.Skip("no drawing program on this machine; its saved files are in testdata")
	}
	src, err := filepath.Abs(filepath.Join("testdata", "01-mm-viewbox-layers.svg"))
	require.NoError(t, err)
	want, _ := readFile(t, "01-mm-viewbox-layers.svg", Options{})
	for name, act := range map[string]string{
		"saved":         "",
		"path moved":    "select-by-id:outline;transform-translate:20,-30;",
		"layer moved":   "select-by-id:layer1;transform-translate:-11,7;",
		"turned around": "select-by-id:outline;transform-rotate:180;transform-rotate:180;",
	} {
		t.Run(name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out.svg")
			ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
			defer cancel()
			cmd := exec.CommandContext(ctx, program, src, "--actions="+act+"export-filename:"+out+";export-do")
			cmd.Env = append(os.Environ(), "HOME="+t.TempDir())
			msg, err := cmd.CombinedOutput()
			require.NoError(t, err, "%s", msg)
			saved, err := os.ReadFile(out)
			require.NoError(t, err)
			got, probs := Read("out.svg", saved, Options{})
			require.Len(t, got.Pieces, 1, "%v", probs)
			a, b := figuresOf(want), figuresOf(got)
			assert.InDelta(t, a.width, b.width, 0.001)
			assert.InDelta(t, a.height, b.height, 0.001)
			assert.InDeltaSlice(t, a.lengths, b.lengths, 0.002)
		})
	}
}

func TestStrokeTurnedIntoShape(t *testing.T) {
	r, probs := readFile(t, "01-stroke.svg", Options{})
	require.Len(t, r.Pieces, 1)
	require.Contains(t, ids(probs), "drawing.double")
	assert.Contains(t, probs.Only(diag.Warning)[0].Found, "0.25 mm apart")
	assert.InDelta(t, 100.25, r.Sources[0].Width, 0.001, "too wide by the stroke, as the warning says")
}

// A duplicated path keeps its label, so that two pieces claim one name.
func TestDuplicateIsSaid(t *testing.T) {
	r, probs := readFile(t, "01-duplicated.svg", Options{})
	assert.Equal(t, []string{"cut-line", "cut-line-2"}, names(r))
	assert.Contains(t, ids(probs), "drawing.name")
}

func TestRefusedSamples(t *testing.T) {
	for name, want := range map[string][2]string{
		"02-px96.svg":            {"drawing.size", `given in px ("755.905512")`},
		"03-pt72-px.svg":         {"drawing.size", `given in px ("566.929134px")`},
		"05-mm-no-viewbox.svg":   {"drawing.size", "no viewBox"},
		"06-viewbox-only.svg":    {"drawing.size", "no width, so its true size is not known"},
		"07-yup-nested.svg":      {"drawing.empty", "no closed path"},
		"08-css-use-symbol.svg":  {"drawing.css", "style sheet hides parts"},
		"09-aspect-mismatch.svg": {"drawing.size", "200 x 200 mm, but its viewBox is 200 x 300"},
		"11-90dpi-legacy.svg":    {"drawing.size", "given in px"},
		"12-percent-300dpi.svg":  {"drawing.size", `"100%" of a window`},
	} {
		t.Run(name, func(t *testing.T) {
			r, probs := readFile(t, name, Options{})
			assert.Empty(t, r.Pieces)
			errs := probs.Only(diag.Error)
			require.Len(t, errs, 1)
			assert.Equal(t, want[0], errs[0].ID)
			assert.Contains(t, errs[0].Found, want[1])
			assert.NotEmpty(t, errs[0].Expected)
			assert.NotEmpty(t, errs[0].Hint, "a refusal brings its way out")
		})
	}
}

// A page in px shows its size at the usual densities, so that the true one (200
// mm wide) can be recognised.
func TestPxPageShowsGuesses(t *testing.T) {
	for name, want := range map[string]string{
		"02-px96.svg": "at 96 dots an inch its width would be 200.0 mm", "03-pt72-px.svg": "at 72 200.0 mm", "11-90dpi-legacy.svg": "at 90 200.0 mm",
	} {
		_, probs := readFile(t, name, Options{})
		require.Len(t, probs, 1)
		assert.Contains(t, probs[0].Hint, want, name)
	}
}

func TestWaist(t *testing.T) {
	waist := Options{WaistY: pattern.Some(120)}
	r, probs := Read("a.svg", page(`<path id="front" `+square+`/><path id="low" d="M200,200 h50 v80 h-50 z"/>`), waist)
	require.Equal(t, []string{"front", "low"}, names(r))
	front := r.Pieces[0]
	assert.False(t, front.NoLevels)
	// the square runs from 100 to 180 mm below the page's top
	assert.Equal(t, curve.Box{Min: curve.Pt(0, -60), Max: curve.Pt(50, 20)}, front.Outline().Bounds())
	require.Equal(t, []string{"drawing.waist"}, ids(probs), "the second piece lies below the waist")
	assert.Equal(t, "low", probs[0].Subject)

	r, _ = Read("a.svg", page(`<path id="front" `+square+`/>`), Options{})
	assert.True(t, r.Pieces[0].NoLevels)
	assert.Equal(t, curve.Box{Max: curve.Pt(50, 80)}, r.Pieces[0].Outline().Bounds())
}

func TestLeftOut(t *testing.T) {
	for name, c := range map[string]struct {
		body string
		why  string // in Skipped; empty: ignored in silence, since it is not drawn
	}{
		"hidden by attribute": {`<path display="none" ` + square + `/>`, "is hidden"},
		"hidden by style":     {`<path style="fill:none; DISPLAY : none !important" ` + square + `/>`, "is hidden"},
		"hidden layer":        {`<g style="display:none"><g><path ` + square + `/></g></g>`, "is hidden"},
		"invisible":           {`<g visibility="hidden"><path ` + square + `/></g>`, "is hidden"},
		"in defs":             {`<defs><g><path ` + square + `/></g></defs>`, ""},
		"in a clip path":      {`<clipPath id="c"><path ` + square + `/></clipPath>`, ""},
		"in a mask":           {`<mask><path ` + square + `/></mask>`, ""},
		"in a symbol":         {`<symbol><path ` + square + `/></symbol>`, ""},
		"in a pattern":        {`<pattern><path ` + square + `/></pattern>`, ""},
		"in a marker":         {`<marker><path ` + square + `/></marker>`, ""},
		"of another language": {`<x:thing xmlns:x="urn:x"><path xmlns="http://www.w3.org/2000/svg" ` + square + `/></x:thing>`, ""},
		"clone":               {`<use xlink:href="#a"/>`, "is a clone"},
		"nested drawing":      {`<svg><path ` + square + `/></svg>`, "drawing inside the drawing"},
		"switch":              {`<switch><path ` + square + `/></switch>`, "drawing inside the drawing"},
		"rectangle":           {`<rect width="50" height="80"/>`, "is a rect"},
		"polygon":             {`<polygon points="0,0 50,0 50,50"/>`, "is a polygon"},
		"circle":              {`<circle r="50"/>`, "is a circle"},
		"text":                {`<text>Front</text>`, "is a text"},
		"open line":           {`<path d="M100,100 h50 v80 h-50"/>`, "is an open line"},
		"nearly closed":       {`<path d="M100,100 h50 v80 h-50 V100.4"/>`, "is open by 0.400 mm"},
		"letter":              {`<path d="M100,100 h5 v8 h-5 z"/>`, "only 5.0 x 8.0 mm"},
		"no data":             {`<path/>`, "has no line"},
		"moveto only":         {`<path d="M10,10z"/>`, "has no line"},
	} {
		t.Run(name, func(t *testing.T) {
			r, probs := Read("a.svg", page(`<path id="kept" `+square+`/>`+"\n"+c.body), Options{})
			assert.Equal(t, []string{"kept"}, names(r))
			assert.False(t, probs.HasErrors(), "%v", probs)
			if c.why == "" {
				assert.Empty(t, r.Skipped)
				return
			}
			require.Len(t, r.Skipped, 1)
			assert.Contains(t, r.Skipped[0].Why, c.why)
			assert.Equal(t, 3, r.Skipped[0].Place.Line)
		})
	}
}

func TestVisibleAgain(t *testing.T) {
	r, _ := Read("a.svg", page(`<g visibility="hidden"><path id="kept" visibility="visible" `+square+`/></g>`), Options{})
	assert.Equal(t, []string{"kept"}, names(r))
}

func TestRefused(t *testing.T) {
	for name, c := range map[string]struct{ src, id, found string }{
		"empty":              {"", "drawing.file", "empty"},
		"compressed":         {"\x1f\x8b\x08", "drawing.file", "compressed"},
		"UTF-16":             {"\xff\xfe<\x00", "drawing.encoding", "UTF-16"},
		"Latin-1":            {`<?xml version="1.0" encoding="ISO-8859-1"?><svg/>`, "drawing.encoding", "ISO-8859-1"},
		"not XML":            {"%PDF-1.7", "drawing.xml", "no element"},
		"broken off":         {"<svg", "drawing.xml", "not well-formed"},
		"another language":   {"<html><body/></html>", "drawing.xml", `"html"`},
		"two roots":          {string(page("")) + string(page("")), "drawing.xml", "second drawing"},
		"attribute twice":    {string(page(`<path id="a" id="b"/>`)), "drawing.xml", "twice"},
		"too deep":           {string(page(strings.Repeat("<g>", 300) + strings.Repeat("</g>", 300))), "drawing.xml", "200 deep"},
		"too many":           {string(page(strings.Repeat("<g/>", 200_001))), "drawing.xml", "200000 elements"},
		"unknown entity":     {string(page(`<path id="&x;"/>`)), "drawing.xml", "not well-formed"},
		"entity of entities": {`<!DOCTYPE svg [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]>` + string(page("")), "drawing.xml", "not plain texts"},
		"entity of a file":   {`<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>` + string(page("")), "drawing.xml", "not plain texts"},
		"bad path data":      {string(page(`<path id="a" d="M0,0 L#"/>`)), "drawing.path", `'#' (character 7)`},
		"bad transform":      {string(page(`<path id="a" transform="move(3)" ` + square + `/>`)), "drawing.transform", "move with 1"},
		"flat transform":     {string(page(`<path id="a" transform="scale(0,1)" ` + square + `/>`)), "drawing.transform", "leaves nothing"},
		"moved by style":     {string(page(`<path id="a" style="transform:scale(2)" ` + square + `/>`)), "drawing.css", "moved by its style"},
		"moved by sheet":     {string(page(`<style>path{transform:scale(2)}</style><path ` + square + `/>`)), "drawing.css", "moves parts"},
		"sized by sheet":     {string(page(`<style>svg { fill:none; width : 300px }</style><path ` + square + `/>`)), "drawing.css", "sizes the page"},
		"hidden by sheet":    {string(page(`<defs><style>.a{dis/**/play:/* */none}</style></defs><path ` + square + `/>`)), "drawing.css", "hides parts"},
		"escaped sheet":      {string(page(`<style>.a{d\69splay:none}</style><path ` + square + `/>`)), "drawing.css", "backslashes"},
		"nothing closed":     {string(page(`<path d="M0,0 L100,100"/>`)), "drawing.empty", "elements left out: 1"},
		"no area":            {string(page(`<path id="a" d="M0,0 H100 Z"/>`)), "drawing.outline", "no area"},
		"endless":            {string(page(`<g transform="scale(1e6)"><path id="a" ` + square + `/></g>`)), "drawing.size", "farther than a piece may"},
		"overflow":           {string(page(strings.Repeat(`<g transform="scale(1e6)">`, 60) + `<path ` + square + `/>` + strings.Repeat("</g>", 60))), "drawing.transform", "endless"},
	} {
		t.Run(name, func(t *testing.T) {
			r, probs := Read("a.svg", []byte(c.src), Options{})
			assert.Empty(t, r.Pieces)
			errs := probs.Only(diag.Error)
			require.Len(t, errs, 1, "%v", probs)
			assert.Equal(t, c.id, errs[0].ID)
			assert.Contains(t, errs[0].Found, c.found)
			assert.Equal(t, "a.svg", errs[0].Place.File)
		})
	}
}

// Programs that define entities for their namespaces only are read.
func TestPlainEntities(t *testing.T) {
	src := strings.Replace(string(page(`<path id="a" `+square+`/>`)), `"http://www.w3.org/2000/svg"`, `"&ns;"`, 1)
	r, probs := Read("a.svg", []byte(`<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd" [ <!ENTITY ns "http://www.w3.org/2000/svg"> ]>`+src), Options{})
	assert.Empty(t, probs)
	assert.Equal(t, []string{"a"}, names(r))
}

func TestByteOrderMark(t *testing.T) {
	r, probs := Read("a.svg", append([]byte("\xef\xbb\xbf"), page(`<path id="a" `+square+`/>`)...), Options{})
	assert.Empty(t, probs)
	assert.Equal(t, []string{"a"}, names(r))
}

// One bad path keeps only itself out, and its place is that of the character.
func TestPlaceOfABadCharacter(t *testing.T) {
	r, probs := Read("a.svg", page("<path id=\"good\" "+square+"/>\n<path id=\"bäd\"\n d='M0,0 10,10\n L#'/>"), Options{})
	assert.Equal(t, []string{"good"}, names(r))
	require.Len(t, probs, 1)
	assert.Equal(t, "a.svg:5:3", probs[0].Place.String())
	// columns count characters, not bytes
	_, probs = Read("a.svg", page("<path id=\"bäd\" d=\"x\"/>"), Options{})
	require.NotEmpty(t, probs)
	assert.Equal(t, "a.svg:2:19", probs[0].Place.String())
}

func TestWarned(t *testing.T) {
	for name, c := range map[string]struct{ body, id, found string }{
		"label":     {`<path id="a" inkscape:label="Cutting line" ` + square + `/>`, "drawing.cut-line", "Cutting line"},
		"id":        {`<path id="front_cut-line" ` + square + `/>`, "drawing.cut-line", "front_cut-line"},
		"layer":     {`<g inkscape:groupmode="layer" inkscape:label="Seam allowance"><path id="a" ` + square + `/></g>`, "drawing.cut-line", "Seam allowance"},
		"clipped":   {`<path id="a" clip-path="url(#c)" ` + square + `/>`, "drawing.feature", "only in part"},
		"allowance": {`<path id="in" ` + square + `/><path id="out" d="M88,88 h74 v104 h-74 z"/>`, "drawing.cut-line", "12.00 mm from it all round"},
		"doubled":   {`<path id="in" ` + square + `/><path id="out" d="M99.5,99.5 h51 v81 h-51 z"/>`, "drawing.double", "0.50 mm from it"},
		"clone":     {`<path id="a" ` + square + `/><use/>`, "drawing.feature", "clone"},
	} {
		t.Run(name, func(t *testing.T) {
			r, probs := Read("a.svg", page(c.body), Options{})
			assert.NotEmpty(t, r.Pieces)
			require.Equal(t, []string{c.id}, ids(probs))
			assert.Equal(t, diag.Warning, probs[0].Severity)
			assert.Contains(t, probs[0].Found, c.found)
		})
	}
}

// "cutout" and the like are no cutting lines; rings in one another that do not
// run beside each other are two pieces.
func TestNotWarned(t *testing.T) {
	for _, body := range []string{
		`<path id="cutout" ` + square + `/>`, `<path id="shortcut" ` + square + `/>`,
		`<path id="in" ` + square + `/><path id="out" d="M80,90 h100 v120 h-100 z"/>`,
		`<path id="a" ` + square + `/><path id="b" d="M200,100 h50 v80 h-50 z"/>`,
	} {
		_, probs := Read("a.svg", page(body), Options{})
		assert.Empty(t, probs, body)
	}
}

// A path of several rings gives a piece for each that lies in no other.
func TestCompoundPath(t *testing.T) {
	r, probs := Read("a.svg", page(`<path id="a" d="M100,100 h50 v80 h-50 z m10,10 h20 v30 h-20 z M200,100 h50 v80 h-50 z"/>`), Options{})
	assert.Equal(t, []string{"a", "a-2"}, names(r))
	assert.Equal(t, []string{"drawing.name"}, ids(probs))
	require.Len(t, r.Skipped, 1)
	assert.Contains(t, r.Skipped[0].Why, "ring inside its outline")
}

// Many small elements on one line cost one pass, not one pass each.
func TestOneLongLine(t *testing.T) {
	start := time.Now()
	r, _ := Read("a.svg", page(`<path id="a" `+square+`/>`+strings.Repeat(`<rect/>`, 100_000)), Options{})
	assert.Len(t, r.Skipped, 100_000)
	assert.Less(t, time.Since(start), 20*time.Second)
	last := r.Skipped[len(r.Skipped)-1].Place
	assert.Equal(t, fmt.Sprint(2), fmt.Sprint(last.Line))
}
