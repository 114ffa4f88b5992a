package handoff

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// saved opens a drawing in Inkscape, does something and saves it under the same
// name in another folder.
func saved(t *testing.T, src []byte, actions string) []byte {
	program, err := exec.LookPath("inkscape")
	if err != nil {
		t.Skip("Inkscape is not installed")
	}
	dir := t.TempDir()
	from, to := filepath.Join(dir, "sheet.svg"), filepath.Join(dir, "saved", "sheet.svg")
	require.NoError(t, os.Mkdir(filepath.Dir(to), 0o755))
	require.NoError(t, os.WriteFile(from, src, 0o644))
	if actions != "" {
		actions += ";"
	}
	cmd := exec.Command(program, from, "--actions="+actions+"export-filename:"+to+";export-overwrite;export-do")
	cmd.Env = append(os.Environ(), "HOME="+dir, "XDG_CONFIG_HOME="+dir) // no preferences of a person
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	result, err := os.ReadFile(to)
	require.NoError(t, err, "%s", out)
	return result
}

func TestInkscapeOpenAndSaveChangesNoLine(t *testing.T) {
	for _, dir := range []string{waistcoat, marked} {
		src := written(t, load(t, dir), Options{Base: bases, File: "sheet.svg"})
		once := saved(t, src, "")
		assert.Equal(t, string(src), string(once))
		assert.Equal(t, string(once), string(saved(t, once, "")), "saved again")
	}
	// without the file's name it adds one line, which says it
	src := written(t, load(t, marked), Options{})
	assert.Equal(t, 1, bytes.Count(saved(t, src, ""), []byte("\n"))-bytes.Count(src, []byte("\n")))
}

// step is a px in mm: the editor's actions count in px of CSS (CSS Values and
// Units 3, section 6.2).
const step = 25.4 / 96

func TestInkscapeMovesALayer(t *testing.T) {
	g := load(t, marked)
	src := written(t, g, Options{Base: bases, File: "sheet.svg"})
	moved := saved(t, src, "select-by-id:front;transform-translate:10,-30")
	assert.Equal(t, 1, bytes.Count(moved, []byte("\n"))-bytes.Count(src, []byte("\n")), "the layer's transform")
	was, is := lines(t, src), lines(t, moved)
	for id, line := range was {
		by := curve.Affine{A: 1, D: 1}
		if strings.HasPrefix(id, "front-") {
			by = curve.Translate(10*step, -30*step)
		}
		assert.Less(t, apart(t, line.Transform(by), is[id]), 1e-5, id)
	}
	out, problems := Into(moved, g, g.Pieces, IntoOptions{Base: bases})
	assert.Equal(t, string(moved), string(fine(t, out, problems)), "nothing to write")
}

// frameOf lays a piece on its drawn outline as the program that imports does, by
// the least squares of its joints. A mirrored drawing has none.
func frameOf(t *testing.T, p *pattern.Piece, drawn curve.Path) curve.Affine {
	own := p.Outline().Transform(curve.Scale(1, -1))
	require.GreaterOrEqual(t, len(drawn), len(own), "the editor may close a path by a line of a millionth")
	var from, to []curve.Point
	for i := range own {
		from, to = append(from, own[i].P0), append(to, drawn[i].P0)
	}
	rigid, rest, ok := curve.Register(from, to)
	require.True(t, ok)
	require.Less(t, rest, 1e-4)
	return curve.Scale(1, -1).Then(rigid.Affine())
}

// What the editor does to a drawing between two exports; afterwards the altered
// piece is written into it and must lie where the old one lay.
func TestInkscapeEditsAreFollowed(t *testing.T) {
	before, after := load(t, marked), altered(t)
	src := written(t, before, Options{Base: bases, File: "sheet.svg"})
	truth := lines(t, written(t, after, Options{}))
	tests := map[string]struct {
		actions string
		framed  bool // the place must be found by the outline
	}{
		"layer moved":              {"select-by-id:front;transform-translate:123,-45", false},
		"layer turned":             {"select-by-id:front;transform-rotate:15", false},
		"sheet moved":              {"select-by-id:front,back;transform-translate:20,20", false},
		"layer ungrouped":          {"select-by-id:front;transform-rotate:15;selection-ungroup", true},
		"outline moved by itself":  {"select-by-id:front-outline;transform-translate:50,10", true},
		"outline turned by itself": {"select-by-id:front-outline;transform-rotate:-20", true},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			edited := saved(t, src, tt.actions)
			drawn := lines(t, edited)["front-outline"]
			frame := frameOf(t, before.Piece("front"), drawn)
			front := []*pattern.Piece{after.Piece("front")}
			o := IntoOptions{Base: bases}
			out, problems := Into(edited, after, front, o)
			if tt.framed {
				assert.True(t, out == nil, "no bytes are given")
				require.NotEmpty(t, problems.Only(diag.Error))
				assert.Equal(t, "drawing.frame", problems.Only(diag.Error)[0].ID)
				o.Frame = func(string) (curve.Affine, bool) { return frame, true }
				out, problems = Into(edited, after, front, o)
			}
			out = fine(t, out, problems)
			got := lines(t, out)["front-outline"]
			// the truth on its own page, undone to the piece's plane, laid by the frame
			at := curve.Affine{A: 1, D: -1, E: -237, F: 286}
			want := truth["front-outline"].Transform(at).Transform(frame)
			assert.Less(t, apart(t, want, got), 1e-4)
			assert.Less(t, apart(t, lines(t, src)["back-outline"].Transform(shiftOf(t, src, edited)), lines(t, out)["back-outline"]), 1e-5, "the other piece stays")
		})
	}
}

// shiftOf is how far the other piece was moved.
func shiftOf(t *testing.T, src, edited []byte) curve.Affine {
	by := lines(t, edited)["back-outline"].Start().Sub(lines(t, src)["back-outline"].Start())
	return curve.Translate(by.X, by.Y)
}

func TestInkscapeDuplicateIsRefused(t *testing.T) {
	g := load(t, marked)
	src := written(t, g, Options{Base: bases, File: "sheet.svg"})
	for _, id := range []string{"front", "front-outline"} {
		twice := saved(t, src, "select-by-id:"+id+";duplicate;transform-translate:30,0")
		out, problems := Into(twice, g, g.Pieces, IntoOptions{})
		assert.True(t, out == nil, "no bytes are given")
		require.NotEmpty(t, problems.Only(diag.Error))
		assert.Equal(t, "drawing.twice", problems.Only(diag.Error)[0].ID)
		assert.Equal(t, "front", problems.Only(diag.Error)[0].Subject)
	}
}

func TestInkscapeDeletedOutlineIsMissed(t *testing.T) {
	g := load(t, marked)
	src := written(t, g, Options{File: "sheet.svg"})
	_, problems := Into(saved(t, src, "select-by-id:front-outline;delete"), g, g.Pieces, IntoOptions{})
	require.NotEmpty(t, problems.Only(diag.Error))
	assert.Equal(t, "drawing.missing", problems.Only(diag.Error)[0].ID)
}

// Inkscape itself says where each element lies: the second judge of true size.
func TestInkscapeMeasuresTheOutlines(t *testing.T) {
	program, err := exec.LookPath("inkscape")
	if err != nil {
		t.Skip("Inkscape is not installed")
	}
	g := load(t, waistcoat)
	src := written(t, g, Options{})
	file := filepath.Join(t.TempDir(), "sheet.svg")
	require.NoError(t, os.WriteFile(file, src, 0o644))
	out, err := exec.Command(program, "--query-all", file).Output()
	require.NoError(t, err)
	size := make(map[string][4]float64) // x, y, width, height in px, strokes and all
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		words := strings.Split(line, ",")
		require.Len(t, words, 5)
		var v [4]float64
		for i := range v {
			v[i] = pattern.RoundLength(number(t, words[i+1]) * step)
		}
		size[words[0]] = v
	}
	assert.InDelta(t, 100+0.3, size["check-square"][2], 0.002, "with its line of 0.3")
	assert.InDelta(t, 100+0.3, size["check-square"][3], 0.002)
	root := parse(t, src)
	for _, p := range g.Pieces {
		at := strings.Fields(root.one(t, p.Name).own("at"))
		box, v := p.Outline().Bounds(), size[p.Name+"-outline"]
		// mitred corners reach out of the box by no more than a few strokes
		assert.InDelta(t, number(t, at[0])+(box.Min.X+box.Max.X)/2, v[0]+v[2]/2, 0.5, p.Name)
		assert.InDelta(t, number(t, at[1])-(box.Min.Y+box.Max.Y)/2, v[1]+v[3]/2, 0.5, p.Name)
		assert.Less(t, math.Abs(v[2]-box.Width()), 1.0, p.Name)
	}
}
