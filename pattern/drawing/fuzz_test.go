package drawing

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

// Whatever a drawing holds, telling what it is ends without a panic, loses no
// line, and each piece that comes out can be written and read back.
func FuzzRecognise(f *testing.F) {
	for _, dir := range []string{"testdata", filepath.Join("vector", "testdata")} {
		files, err := filepath.Glob(filepath.Join(dir, "*.svg"))
		require.NoError(f, err)
		for _, name := range files {
			src, err := os.ReadFile(name)
			require.NoError(f, err)
			f.Add(src, 0.0, true)
		}
	}
	f.Add(page(panel+`<path d="M150,120 V280 M147,125 L150,120 L153,125"/><path id="bone width 7" d="M100,150 h6"/>`), 1.0, false)
	f.Add(page(`<path d="M0,0 A1e-6,1e-300 0 0,0 200,0 z"/><path d="M0,0 1e5,0 1e5,1e5 z"/><path d="M20,20 c90,0 0,90 0,0"/>`), 0.0, false)
	f.Add(page(sides(0.5)+twoPanels+`<path id="waist" d="M0,200 H300"/>`+within(`id="path7"`, 0.25)), 3.0, false)
	f.Fuzz(func(t *testing.T, src []byte, snap float64, waist bool) {
		d, probs := vector.Read("a.svg", src, vector.Options{})
		if len(d.Items) == 0 || probs.HasErrors() {
			return
		}
		o := Options{Snap: snap, Outline: Inner}
		if waist {
			o = Options{WaistY: pattern.Some(100)}
		}
		s, probs := Recognise(d, o)
		checkSheet(t, d, s, probs)
	})
}

// Read gives as many sources as pieces.
func TestReadGivesASourceForEachPiece(t *testing.T) {
	r, probs := Read("a.svg", page(twoPanels), Options{})
	assert.Empty(t, probs.Only(diag.Warning))
	assert.Len(t, r.Sources, len(r.Pieces))
}
