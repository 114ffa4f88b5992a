package drawing

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

func sampleSheet(t *testing.T) *vector.Drawing {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("testdata", "sheet.svg"))
	require.NoError(t, err)
	d, probs := vector.Read("sheet.svg", src, vector.Options{})
	require.Empty(t, probs)
	return d
}

// A whole sheet: a piece with its line to cut along, one of separate lines,
// levels through both, marks by label, layer and shape, texts and a check square.
func TestSheet(t *testing.T) {
	d := sampleSheet(t)
	s, probs := Recognise(d, Options{})
	checkSheet(t, d, s, probs)
	assert.Empty(t, probs)
	assert.Equal(t, map[string]float64{"bust": 160, "waist": 0, "low-hip": -120}, heights(s))
	require.Len(t, s.Pieces, 2)

	front := s.Pieces[0]
	assert.Equal(t, "front", front.Name)
	assert.Equal(t, "Front", front.Title)
	// the sewing line: 120 x 350, its top 200 above the waist
	assert.Equal(t, []string{"corner c1 0 200", "corner c2 0 -150", "corner c3 120 -150", "corner c4 120 200"}, records(front.Piece, "corner"))
	assert.Equal(t, 120.0*350, front.Area)
	assert.ElementsMatch(t, []string{
		"grain 30 -130 to 30 170", "notch waist on e3 at waist", "notch n1 on e3 100 from c4",
		"bone middle width 7 from 60 190 to 60 -140", "eyelet eye1 10 180 diameter 5", "eyelet eye2 10 150 diameter 5",
	}, records(front.Piece, markWords...))

	back := s.Pieces[1]
	assert.Equal(t, "side-back", back.Name)
	assert.Equal(t, 5, back.Joined)
	assert.Equal(t, "Side back", back.Layer)
	assert.ElementsMatch(t, []string{"grain 60 -130 to 60 120", "notch waist on e1 at waist", "notch top on e1 100 from c1"}, records(back.Piece, markWords...))
	// its back edge slants by atan(20/60) = 18.4 degrees above the waist and by
	// atan(10/40) = 14.0 below it: no corner between them
	assert.Len(t, back.Piece.Corners, 4)

	why := map[string]string{}
	for _, l := range s.Left {
		why[l.ID] = l.Why
	}
	assert.Contains(t, why["path4"], "is the line to cut along, 12.00 mm outside")
	assert.Contains(t, why["path16"], "head of an arrow")
	assert.Contains(t, why["path18"], "decoration")
	assert.Contains(t, why["path19"], "decoration")
	assert.Contains(t, why["check-square"], "aid")
	assert.Contains(t, why["path20"], "open line that lies in no piece")
	assert.Len(t, s.Left, 7)
}

// What a drawing program makes of the sheet, where one is installed: moving and
// saving changes no piece, and its traps are told.
func TestSheetSavedByDrawingProgram(t *testing.T) {
	program, err := exec.LookPath("inkscape")
	if err != nil {
		t.Skip("no drawing program on this machine")
	}
	want, _ := Recognise(sampleSheet(t), Options{})
	for name, c := range map[string]struct{ act, problem string }{
		"saved":                 {"", ""},
		"layer moved":           {"select-by-id:layer3;transform-translate:37.795276,0;", ""},
		"layer ungrouped":       {"select-by-id:layer3;selection-ungroup;", "sides of no name"},
		"lines made one path":   {"select-by-id:path10,path11,path12,path13,path14;path-combine;", ""},
		"outline duplicated":    {"select-by-id:path5;duplicate;", "drawing.claim"},
		"layer duplicated":      {"select-by-id:layer2;duplicate;", "drawing.claim"},
		"outline made a stroke": {"select-by-id:path5;object-stroke-to-path;", "drawing.double"},
		"side made a stroke":    {"select-by-id:path10;object-stroke-to-path;", "drawing.double"},
	} {
		t.Run(name, func(t *testing.T) {
			d := savedBy(t, program, c.act)
			got, probs := Recognise(d, Options{})
			checkSheet(t, d, got, probs)
			switch c.problem {
			case "":
				assert.Empty(t, probs)
			case "sides of no name": // the layer's name is gone, the piece is not
				require.Len(t, got.Pieces, 2)
				assert.InDelta(t, want.Pieces[1].Area, got.Pieces[1].Area, 0.1)
				return
			default:
				assert.Contains(t, ids(probs.Only(diag.Error)), c.problem)
				return
			}
			require.Len(t, got.Pieces, 2)
			for i, p := range want.Pieces {
				assert.True(t, pattern.EqualPieces(p.Piece, got.Pieces[i].Piece), p.Name)
			}
		})
	}
}

// savedBy lets a drawing program act on the sheet and save it.
func savedBy(t *testing.T, program, act string) *vector.Drawing {
	t.Helper()
	src, err := filepath.Abs(filepath.Join("testdata", "sheet.svg"))
	require.NoError(t, err)
	out := filepath.Join(t.TempDir(), "out.svg")
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, src, "--actions="+act+"export-filename:"+out+";export-do")
	cmd.Env = append(os.Environ(), "HOME="+t.TempDir())
	msg, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", msg)
	saved, err := os.ReadFile(out)
	require.NoError(t, err)
	d, probs := vector.Read("out.svg", saved, vector.Options{})
	require.Empty(t, probs.Only(diag.Error))
	return d
}

// In whatever order the lines are drawn, which way, and where on the page, the
// pieces are the same.
func TestOrderAndPlaceDoNotMatter(t *testing.T) {
	d := sampleSheet(t)
	want, _ := Recognise(d, Options{})
	rapid.Check(t, func(t *rapid.T) {
		move := curve.Translate(float64(rapid.IntRange(-500, 500).Draw(t, "x")), float64(rapid.IntRange(-500, 500).Draw(t, "y")))
		c := &vector.Drawing{Width: d.Width, Height: d.Height}
		for _, g := range rapid.Permutation(elements(d)).Draw(t, "order") {
			for _, it := range g {
				it.Path = it.Path.Transform(move)
				if rapid.Bool().Draw(t, "backwards") {
					it.Path = it.Path.Reverse()
				}
				c.Items = append(c.Items, it)
			}
		}
		got, probs := Recognise(c, Options{})
		checkSheet(t, c, got, probs)
		require.Empty(t, probs)
		require.Len(t, got.Pieces, 2)
		require.Len(t, got.Left, len(want.Left))
		for _, w := range want.Pieces {
			for _, g := range got.Pieces {
				if g.Name == w.Name {
					assert.True(t, pattern.EqualPieces(plain(w.Piece), plain(g.Piece)), "%v %v", w.Piece, g.Piece)
				}
			}
		}
	})
}

// elements gives the items of each element.
func elements(d *vector.Drawing) [][]vector.Item {
	var out [][]vector.Item
	for _, it := range d.Items {
		if it.Part > 0 {
			out[len(out)-1] = append(out[len(out)-1], it)
			continue
		}
		out = append(out, []vector.Item{it})
	}
	return out
}

// plain gives a copy whose marks have no numbers in the order of drawing.
func plain(p *pattern.Piece) *pattern.Piece {
	c := pattern.Clone(p)
	var marks []pattern.Mark
	for _, m := range c.Marks {
		if m.Kind == pattern.Bone && m.At.Y < m.Path().End().Y {
			m.At, m.Segs = m.Path().End(), []pattern.Seg{{To: m.At}}
		}
		if m.Kind != pattern.Eyelet {
			marks = append(marks, m)
		}
	}
	c.Marks = marks
	return c
}
