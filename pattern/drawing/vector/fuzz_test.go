package vector

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/diag"
)

// Whatever the bytes, reading ends without a panic, and each line that comes out
// is a sound chain.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("testdata", "*.svg"))
	require.NoError(f, err)
	require.NotEmpty(f, files)
	for _, name := range files {
		src, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(src, "", 0.0, 0.0)
		f.Add(src, "outline", 210.125, 0.0)
		f.Add(src, "notch", 6.0, 72.0)
	}
	for _, body := range []string{
		`<path d="M0 0a20 15 30 0130 30t1.5-.5q1,2 3,4s5,5 6,6z" transform="rotate(5)scale(3,-1)"/>`,
		`<style>.a,g>#b{display:none}@media screen{c d{visibility:hidden}}</style><g class="a"/><rect id="b" width="5" height="6%" rx="1"/>`,
		`<switch><use href="#s" width="5"/></switch><symbol id="s" viewBox="0 0 1 1"><circle r="1"/></symbol>`,
		`<svg viewBox="0 0 5 5" preserveAspectRatio="xMinYMax slice"><polygon points="1,2 3,4 5,5"/></svg>`,
	} {
		f.Add(onPage(body), "b", 5.0, 0.0)
	}
	f.Add([]byte(`<!DOCTYPE svg [<!ENTITY a "b">]><svg viewBox="0 0 9 9"><path id="&a;" d="M0,0 h5"/></svg>`), "b", 50.0, 0.0)
	f.Add(append([]byte("\xfe\xff"), 0, '<', 0, 's'), "", 0.0, 0.0)
	f.Fuzz(func(t *testing.T, src []byte, id string, length, dpi float64) {
		o := Options{DPI: dpi}
		if id != "" {
			o.Known = []KnownLength{{ID: id, Length: length}}
		}
		d, probs := Read("a.svg", src, o)
		checkDrawing(t, d, probs)
	})
}

// FuzzPathData puts the text where the path data of a good drawing stand, or its
// points.
func FuzzPathData(f *testing.F) {
	for _, d := range []string{
		"m 20,20 h 100 v 150.125 c 0,30 -20,60 -50,60 l -50,-10 z", "M30 60a20 15 30 0130 30 20 15 30 1 1-30-30m.5.5-.5-.5T40 40t1.5-.5",
		"M0,0 A1e-6,1e-300 0 0,0 200,0 z", "M100,50 A50,50 0 0 0 100,150 A50,50 0 0 0 100,50 z", "M0,0 1e6,0 1e6,1e6 z", "1,2 3,4 5e-3-6",
	} {
		f.Add(d)
	}
	f.Fuzz(func(t *testing.T, d string) {
		r := &reader{dpi: 96, opt: Options{}, drawn: &Drawing{}, told: map[said]bool{}, root: &node{line: 1, col: 1}}
		for _, kind := range []string{"path", "polygon", "polyline"} {
			n := &node{kind: kind, line: 1, col: 1}
			subs, ok := r.path(n, d, map[bool]string{true: "path data", false: "list of points"}[kind == "path"], 0.01)
			if ok {
				r.take(n, frame{toPage: affine(0.5, 3)}, subs)
			}
		}
		checkDrawing(t, r.drawn, r.probs)
	})
}

func checkDrawing(t *testing.T, d *Drawing, probs diag.List) {
	require.NotNil(t, d)
	for _, p := range probs {
		assert.True(t, strings.HasPrefix(p.ID, "drawing."))
		assert.NotEmpty(t, p.Found)
		if p.ID != "drawing.dpi" && p.ID != "drawing.known" {
			assert.Positive(t, p.Place.Line)
			assert.Positive(t, p.Place.Column)
		}
	}
	for _, it := range d.Items {
		require.NotEmpty(t, it.Path)
		for i, s := range it.Path {
			for _, v := range []float64{s.P0.X, s.P0.Y, s.P1.X, s.P1.Y, s.P2.X, s.P2.Y, s.P3.X, s.P3.Y} {
				require.LessOrEqual(t, math.Abs(v), float64(farthest))
			}
			assert.False(t, s.P0 == s.P3 && s.P1 == s.P0 && s.P2 == s.P0, "a point")
			if i > 0 {
				assert.Equal(t, it.Path[i-1].P3, s.P0)
			}
		}
		if it.Closed {
			assert.Equal(t, it.Path.Start(), it.Path.End())
		}
		assert.NotEmpty(t, it.Element)
	}
	for _, s := range d.Skipped {
		assert.NotEmpty(t, s.Why)
	}
}
