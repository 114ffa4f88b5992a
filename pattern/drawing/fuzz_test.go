package drawing

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Whatever the bytes, reading ends without a panic, and each piece that comes
// out is sound.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("testdata", "*.svg"))
	require.NoError(f, err)
	for _, name := range files {
		src, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(src)
	}
	f.Add(page(`<path d="M0 0a20 15 30 0130 30t1.5-.5q1,2 3,4s5,5 6,6z" transform="rotate(5)scale(3,-1)"/>`))
	f.Add(page(`<path d="M100,100 C180,200 20,200 100,100 z"/>`))
	f.Fuzz(func(t *testing.T, src []byte) {
		r, probs := Read("a.svg", src, Options{WaistY: pattern.Some(100)})
		checkResult(t, r, probs)
	})
}

// FuzzPath puts the text where the path data of a good drawing stand.
func FuzzPath(f *testing.F) {
	for _, d := range []string{
		"m 20,20 h 100 v 150.125 c 0,30 -20,60 -50,60 l -50,-10 z", "M30 60a20 15 30 0130 30 20 15 30 1 1-30-30m.5.5-.5-.5T40 40t1.5-.5",
		"M0,0 A1e-6,1e-300 0 0,0 200,0 z", "M100,50 A50,50 0 0 0 100,150 A50,50 0 0 0 100,50 z", "M0,0 1e6,0 1e6,1e6 z",
	} {
		f.Add(d)
	}
	f.Fuzz(func(t *testing.T, d string) {
		m := curve.Scale(0.5, 3)
		subs, _ := parsePath(d, 0.01, 10_000)
		r := &reader{where: locator{line: 1, col: 1}, res: &Result{}}
		r.take(element{}, frame{}, r.closedOnly(element{}, subs, m))
		r.build()
		checkResult(t, r.res, r.probs)
	})
}

func checkResult(t *testing.T, r *Result, probs diag.List) {
	require.NotNil(t, r)
	require.Len(t, r.Sources, len(r.Pieces))
	assert.True(t, len(r.Pieces) > 0 || probs.HasErrors(), "no piece and no reason")
	seen := map[string]bool{}
	for _, p := range r.Pieces {
		assert.Empty(t, pattern.NameFault(p.Name))
		assert.False(t, seen[p.Name], "a name twice")
		seen[p.Name] = true
		require.GreaterOrEqual(t, len(p.Corners), 2)
		require.Len(t, p.Edges, len(p.Corners))
		ring := p.Outline()
		assert.Positive(t, ring.Area())
		for _, s := range ring {
			for _, q := range []curve.Point{s.P0, s.P1, s.P2, s.P3} {
				assert.LessOrEqual(t, max(math.Abs(q.X), math.Abs(q.Y)), 100_000.0)
			}
			assert.Equal(t, pattern.Round(s.P0), s.P0)
		}
		for _, e := range p.Edges {
			assert.True(t, e.Length.Set)
			assert.GreaterOrEqual(t, e.Length.Value, 0.0)
		}
	}
}
