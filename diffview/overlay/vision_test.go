package overlay

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"math"
	"sort"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	devtools "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/svg/browser"
)

// alongLine gives the places along a drawn line, every 0.25 mm, on the page in
// CSS pixels.
const alongLine = `(() => {
	const e = document.querySelector('[data-edge="side-back.top"][data-when="%s"] path:last-of-type');
	const m = e.getScreenCTM(), n = e.getTotalLength();
	const out = [];
	for (let s = 2; s < n - 2; s += 0.25) {
		const p = e.getPointAtLength(s).matrixTransform(m);
		out.push(p.x + scrollX, p.y + scrollY);
	}
	return out;
})()`

// shot is a part of the page from x, y on, scale pixels a CSS pixel.
type shot struct {
	image.Image
	x, y, scale float64
}

// shoot takes the part of the page round some places.
func shoot(t *testing.T, ctx context.Context, places []float64) shot {
	x0, y0, x1, y1 := places[0], places[1], places[0], places[1]
	for i := 0; i+1 < len(places); i += 2 {
		x0, x1 = min(x0, places[i]), max(x1, places[i])
		y0, y1 = min(y0, places[i+1]), max(y1, places[i+1])
	}
	s := shot{x: math.Floor(x0) - 20, y: math.Floor(y0) - 20, scale: 4}
	got, err := chromedp.Call(ctx, devtools.CaptureScreenshot, devtools.CaptureScreenshotParams{
		CaptureBeyondViewport: new(true),
		Clip:                  &devtools.Viewport{X: s.x, Y: s.y, Width: x1 - x0 + 40, Height: y1 - y0 + 40, Scale: s.scale},
	})
	require.NoError(t, err)
	s.Image, err = png.Decode(bytes.NewReader(got.Data))
	require.NoError(t, err)
	return s
}

// colour is sRGB, 0 to 1.
type colour [3]float64

func (s shot) at(x, y float64) colour {
	r, g, b, _ := s.At(int((x-s.x)*s.scale), int((y-s.y)*s.scale)).RGBA()
	return colour{float64(r) / 0xffff, float64(g) / 0xffff, float64(b) / 0xffff}
}

// luminance after WCAG 2.2, "relative luminance".
func (c colour) luminance() float64 {
	sum := 0.0
	for i, k := range []float64{0.2126, 0.7152, 0.0722} {
		v := c[i]
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += k * v
	}
	return sum
}

// contrast after WCAG 2.2, "contrast ratio".
func contrast(a, b colour) float64 {
	x, y := a.luminance(), b.luminance()
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func (c colour) dist(d colour) float64 {
	return math.Sqrt((c[0]-d[0])*(c[0]-d[0]) + (c[1]-d[1])*(c[1]-d[1]) + (c[2]-d[2])*(c[2]-d[2]))
}

// seenLine is what an eye gets of a line: the colour of its ink (the middle one
// of its places, channel by channel, so that lines that cross it do not count)
// and how much of it is paper.
type seenLine struct {
	ink  colour
	gaps float64
}

func (s shot) line(places []float64, paper colour) seenLine {
	var inks [3][]float64
	for i := 0; i+1 < len(places); i += 2 {
		if c := s.at(places[i], places[i+1]); contrast(c, paper) >= 1.5 {
			for k := range c {
				inks[k] = append(inks[k], c[k])
			}
		}
	}
	var out seenLine
	for k, list := range inks {
		sort.Float64s(list)
		if len(list) > 0 {
			out.ink[k] = list[len(list)/2]
		}
	}
	out.gaps = 1 - float64(len(inks[0]))/float64(len(places)/2)
	return out
}

// The colours and dashes seen by colour-blind readers, as Chromium emulates them
// (G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A physiologically-based
// model for simulation of color vision deficiency", 2009): both lines keep the
// contrast of 3:1 to the paper that WCAG 2.2 asks of graphics (1.4.11), the line
// before is broken and the line after is not; where colours are seen at all, the
// two also differ in colour.
func TestLinesAreToldApartWithoutColourVision(t *testing.T) {
	w := readWaistcoat(t)
	g, h := withRuns(w.garment(t, "gusset")), withRuns(w.garment(t, "half-move"))
	g.Piece("side-back").Corners[3].At.Y += 9 // the two tops lie well apart
	var b bytes.Buffer
	require.NoError(t, Strip(&b, compare.Garments(g, h, compare.Options{}), Options{}))
	ctx := browser.Picture(t, b.Bytes(), browser.Strict)
	var places [2][]float64
	for i, when := range []string{"before", "after"} {
		var err error
		places[i], err = chromedp.Run(ctx, chromedp.Evaluate[[]float64](fmt.Sprintf(alongLine, when)))
		require.NoError(t, err)
		require.Greater(t, len(places[i]), 200)
	}
	for _, eye := range []emulation.SetEmulatedVisionDeficiencyType{"none", "deuteranopia", "protanopia", "tritanopia", "achromatopsia"} {
		t.Run(string(eye), func(t *testing.T) {
			_, err := chromedp.Call(ctx, emulation.SetEmulatedVisionDeficiency, emulation.SetEmulatedVisionDeficiencyParams{Type: eye})
			require.NoError(t, err)
			s := shoot(t, ctx, append(append([]float64(nil), places[0]...), places[1]...))
			paper := s.at(s.x+2, s.y+2)
			require.Greater(t, paper.luminance(), 0.95, "the paper")
			before, after := s.line(places[0], paper), s.line(places[1], paper)
			t.Logf("before %.2f gaps %.2f, after %.2f gaps %.2f", before.ink, before.gaps, after.ink, after.gaps)
			assert.GreaterOrEqual(t, contrast(before.ink, paper), 3.0)
			assert.GreaterOrEqual(t, contrast(after.ink, paper), 3.0)
			assert.InDelta(t, 0.3, before.gaps, 0.15, "dashes: 1.8 of 5.2 mm are space")
			assert.Less(t, after.gaps, 0.02, "no gaps")
			if eye == "achromatopsia" {
				assert.InDelta(t, after.ink[0], after.ink[2], 0.02, "the emulation is on: all is grey")
				return
			}
			assert.Greater(t, before.ink.dist(after.ink), 0.25)
		})
	}
}

// In every new picture each line of text is no wider in Chromium than the room
// that was kept for it.
func TestChromiumTextFitsInTheOtherPictures(t *testing.T) {
	w := readWaistcoat(t)
	g := withRuns(w.garment(t, "gusset"))
	var strip, history, small bytes.Buffer
	require.NoError(t, Strip(&strip, compare.Garments(g, withRuns(w.garment(t, "seam-move")), compare.Options{}), Options{}))
	require.NoError(t, History(&history, "side-back", manyVersions(t, 40), Options{}))
	require.NoError(t, Thumbnail(&small, g, Options{}))
	for name, picture := range map[string][]byte{"strip": strip.Bytes(), "history": history.Bytes(), "thumbnail": small.Bytes()} {
		t.Run(name, func(t *testing.T) {
			ctx := browser.Picture(t, picture, browser.Strict)
			widths, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](`[...document.querySelectorAll('text')].map(e => e.getBBox().width)`))
			require.NoError(t, err)
			texts := readPicture(t, picture).named("text")
			require.Len(t, widths, len(texts))
			for i, e := range texts {
				assert.LessOrEqual(t, widths[i], boxOf(t, e).width(), e.text)
			}
		})
	}
}
