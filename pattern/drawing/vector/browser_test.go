package vector

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

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg/browser"
)

// inMM gives start, end and nine points of an element, at these parts of its
// length, in mm on the screen: 25.4 mm are 96 CSS pixels (CSS Values and Units 3,
// section 6.2).
const inMM = `(() => {
	const e = document.querySelector('#%s'), m = e.getScreenCTM(), n = e.getTotalLength();
	return Array.from({length: 11}, (_, k) => e.getPointAtLength(k / 10 * n).matrixTransform(m))
		.flatMap(p => [(p.x + scrollX) * 25.4 / 96, (p.y + scrollY) * 25.4 / 96]);
})()`

// isSeen tells whether Chromium draws an element at all.
const isSeen = `(() => { const e = document.querySelector('#%s'); return e.getClientRects().length > 0 && getComputedStyle(e).visibility == 'visible'; })()`

// Chromium puts every point where we put it. It measures arcs along one cubic for
// each quarter and so up to 0.16 % short of the true length, and before an uneven
// transform; lines of the class "near" are therefore asked to be at the place, the
// others to have each point at the same part of its length too.
func TestChromiumPutsPointsAtTheSamePlaces(t *testing.T) {
	b := browser.Open(t, "")
	files := map[string][]byte{"placed.svg": []byte(placedLines)}
	names, err := filepath.Glob(filepath.Join("testdata", "*.svg"))
	require.NoError(t, err)
	for _, name := range names {
		files[filepath.Base(name)], err = os.ReadFile(name)
		require.NoError(t, err)
	}
	checked := 0
	for name, src := range files {
		d, _ := Read(name, src, Options{})
		if len(d.Items) == 0 {
			continue // refused: a browser guesses where we ask
		}
		t.Run(name, func(t *testing.T) {
			b.Show(t, name, src)
			for _, it := range d.Items {
				if it.ID != "" && !it.Clone && d.parts(it.ID) == 1 {
					samePlaces(t, b, it)
					checked++
				}
			}
			for _, s := range d.Skipped {
				if s.Why == "is hidden" && s.ID != "" {
					seen := browser.Ask[bool](t, b, fmt.Sprintf(isSeen, s.ID))
					assert.False(t, seen, s.ID)
				}
			}
		})
	}
	assert.Greater(t, checked, 30)
}

func samePlaces(t *testing.T, b *browser.Window, it Item) {
	got := browser.Ask[[]float64](t, b, fmt.Sprintf(inMM, it.ID))
	require.Len(t, got, 22)
	length := it.Path.Length(1e-6)
	for k := range 11 {
		shown := curve.Pt(got[2*k], got[2*k+1])
		assert.InDelta(t, 0, it.Path.Nearest(shown).Dist, 0.01, "%s at %d/10", it.ID, k)
		if it.Class != "near" {
			assert.InDelta(t, 0, it.Path.PointAt(length*float64(k)/10, 1e-6).Dist(shown), 0.01, "%s at %d/10", it.ID, k)
		}
	}
}

func (d *Drawing) parts(id string) int {
	n := 0
	for _, it := range d.Items {
		if it.ID == id {
			n++
		}
	}
	return n
}

// placedLines holds what moves lines: transforms, viewports, units, style sheets.
const placedLines = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="150mm" viewBox="-10 -20 400 300">
<style>.off { display: none } g > .off2 { visibility: hidden } rect.w { width: 30px; height: 40px } #sheet-none { transform: none }</style>
<path id="plain" d="M10,10 h50 v80 c10,10 20,-30 -40,-40 s5,-9 -6,-8 q5,5 9,3 t8,-2"/>
<g transform="translate(100,20) rotate(30) skewX(10)"><g transform="scale(-1,1.5)"><path id="chain" class="near" transform="matrix(1,.2,.3,1,5,6)" d="M0,0 l20,5 5,30 z"/></g></g>
<path id="arcs" class="near" transform="rotate(-20)" d="M100,100 a20,10 30 0150,10 a5,30 0 1 0 20,5 A1,1 0 0 1 200,180"/>
<svg x="10%" y="20" width="25%" height="100" viewBox="5 5 100 40" preserveAspectRatio="xMaxYMin meet"><path id="meet" d="M5,5 h90 l5,40"/>
<svg x="10mm" width="50%" height="50%" viewBox="0 0 10 10" preserveAspectRatio="xMinYMid slice" overflow="visible"><line id="slice" x1="1" y1="10%" x2="90%" y2="9"/></svg></svg>
<svg width="80" height="30" viewBox="0 0 10 10" preserveAspectRatio="none"><polyline id="none" class="near" points="1,2 3,4 5,-6"/></svg>
<rect id="rect" x="1cm" y="10mm" width="1in" height="72pt"/><rect id="round" class="near" x="5" y="6" width="70" height="40" rx="30" ry="8"/>
<rect id="sheet" class="w" x="200" y="10" width="3" height="4"/><rect id="sheet-none" transform="scale(3)" width="30" height="20"/>
<circle id="circle" class="near" cx="50%" cy="50%" r="10%"/><ellipse id="ellipse" class="near" cx="100" cy="90" rx="50" ry="20" transform="rotate(15 100 90)"/>
<polygon id="polygon" points="10,60 20,60 20,80 5,5e1"/>
<g><path id="off" class="off" d="M0,0 h5"/><path id="off2" class="off2" d="M0,0 h5"/></g>
<switch><path id="de" systemLanguage="xx" d="M0,0 h5"/><g><path id="switch" d="M0,0 h55 v7"/></g><path id="late" d="M0,0 h5"/></switch>
</svg>`

// The same with a drawing program, where it is installed: what it saves after
// moving things has the same lines.
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
			require.Len(t, got.Items, len(want.Items), "%v", probs)
			for i, it := range got.Items {
				assert.Equal(t, want.Items[i].ID, it.ID)
				assert.Equal(t, want.Items[i].Layers[0].Label, it.Layers[0].Label)
				for k, s := range it.Path {
					assert.InDelta(t, want.Items[i].Path[k].P0.Dist(want.Items[i].Path[k].P3), s.P0.Dist(s.P3), 0.001)
				}
			}
		})
	}
}
