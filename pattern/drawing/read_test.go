package drawing

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
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
	src, err := os.ReadFile(filepath.Join("vector", "testdata", name))
	require.NoError(t, err)
	return Read(name, src, o)
}

// page wraps elements in a drawing of 400 x 400 mm; the body stands in line 2.
func page(body string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" xmlns:seamkeep="seamkeep:drawing:1" xmlns:xlink="http://www.w3.org/1999/xlink" width="400mm" height="400mm" viewBox="0 0 400 400">` +
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
	assert.Equal(t, "is taken for a notch of piece front-panel", r.Skipped[0].Why)
	require.Equal(t, []string{"drawing.cut-line"}, ids(probs))
	assert.Equal(t, diag.Warning, probs[0].Severity)
	assert.Contains(t, probs[0].Expected, "sewing line")
	// 95 of 300 below the page's top on a piece whose top lies at 20
	assert.Equal(t, []string{"notch n1 on e3 75 from c4"}, records(p, "notch"))
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
	src, err := filepath.Abs(filepath.Join("vector", "testdata", "01-mm-viewbox-layers.svg"))
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

func TestStrokeTurnedIntoShape(t *testing.T) {
	r, probs := readFile(t, "01-stroke.svg", Options{})
	assert.Empty(t, r.Pieces, "which of the two lines is meant is not guessed")
	errs := probs.Only(diag.Error)
	require.Equal(t, []string{"drawing.double"}, ids(errs))
	assert.Contains(t, errs[0].Found, "0.25 mm from it all round")
	r, _ = readFile(t, "01-stroke.svg", Options{Outline: Outer})
	require.Len(t, r.Pieces, 1)
	assert.InDelta(t, 100.25, r.Sources[0].Width, 0.001, "too wide by the stroke")
}

// A duplicated path keeps its label, so that two outlines claim one piece.
func TestDuplicateIsSaid(t *testing.T) {
	_, probs := readFile(t, "01-duplicated.svg", Options{})
	errs := probs.Only(diag.Error)
	require.Equal(t, []string{"drawing.claim"}, ids(errs))
	assert.Len(t, errs[0].Related, 1)
}

func TestRefusedSamples(t *testing.T) {
	for name, id := range map[string]string{"06-viewbox-only.svg": "drawing.size", "09-aspect-mismatch.svg": "drawing.size", "12-percent-300dpi.svg": "drawing.size"} {
		r, probs := readFile(t, name, Options{})
		assert.Empty(t, r.Pieces)
		assert.Equal(t, []string{id}, ids(probs.Only(diag.Error)), name)
	}
}

// A path of several rings gives a piece for each that lies in no other.
func TestCompoundPath(t *testing.T) {
	r, probs := Read("a.svg", page(`<path id="a" d="M100,100 h50 v80 h-50 z m10,10 h20 v30 h-20 z M200,100 h50 v80 h-50 z"/>`), Options{})
	assert.Equal(t, []string{"a", "a-2"}, names(r))
	assert.Equal(t, []string{"drawing.name"}, ids(probs))
	require.Len(t, r.Skipped, 1)
	assert.Contains(t, r.Skipped[0].Why, "lies inside path \"a\"")
}

// A drawing without a piece says so, also where it has lines.
func TestNothingToTake(t *testing.T) {
	for body, left := range map[string]int{"": 0, `<path d="M0,0 L100,100"/>`: 1, `<path id="cutout" ` + square + `/>`: 1} {
		r, probs := Read("a.svg", page(body), Options{})
		assert.Empty(t, r.Pieces)
		require.Equal(t, []string{"drawing.empty"}, ids(probs))
		assert.Contains(t, probs[0].Found, fmt.Sprintf("lines left out: %d", left))
	}
}

func TestOutlinesThatAreNone(t *testing.T) {
	for body, id := range map[string]string{
		`<path id="a" d="M0,0 H100 Z"/>`:          "drawing.outline",
		`<path id="a" d="M0,0 H100 L0,0.001 Z"/>`: "drawing.outline",
	} {
		r, probs := Read("a.svg", page(body), Options{})
		assert.Empty(t, r.Pieces)
		assert.Equal(t, []string{id}, ids(probs))
	}
}

// The label stays on a piece that is called a line to cut along, and is warned
// of.
func TestCutLineAlone(t *testing.T) {
	for _, body := range []string{
		`<path id="a" inkscape:label="Cutting line" ` + square + `/>`, `<path id="front_cut-line" ` + square + `/>`,
		`<g inkscape:groupmode="layer" inkscape:label="Seam allowance"><path id="a" ` + square + `/></g>`,
	} {
		r, probs := Read("a.svg", page(body), Options{})
		assert.Len(t, r.Pieces, 1)
		require.Equal(t, []string{"drawing.cut-line"}, ids(probs), body)
		assert.Equal(t, diag.Warning, probs[0].Severity)
	}
	for _, body := range []string{
		`<path id="shortcut" ` + square + `/>`,
		`<path id="a" ` + square + `/><path id="b" d="M200,100 h50 v80 h-50 z"/>`,
	} {
		_, probs := Read("a.svg", page(body), Options{})
		assert.Empty(t, probs, body)
	}
}
