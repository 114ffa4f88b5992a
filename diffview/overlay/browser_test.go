package overlay

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg/browser"
)

func seamMove(t *testing.T) ([]byte, *compare.Change) {
	w := readWaistcoat(t)
	s := samples(t)[1]
	require.Equal(t, "seam-move", s.name)
	var b bytes.Buffer
	c := s.change(w)
	require.NoError(t, Sheet(&b, c, s.options))
	return b.Bytes(), c
}

// inMM gives points of a drawn edge, at these parts of its length, in mm on the
// screen: 25.4 mm are 96 CSS pixels (CSS Values and Units 3, section 6.2).
const inMM = `(() => {
	const e = document.querySelector('[data-edge="%s"][data-when="%s"] path:last-of-type');
	const m = e.getScreenCTM(), n = e.getTotalLength();
	return [0, 0.25, 0.5, 0.75, 1].flatMap(f => {
		const p = e.getPointAtLength(f * n).matrixTransform(m);
		return [(p.x + scrollX) * 25.4 / 96, (p.y + scrollY) * 25.4 / 96];
	});
})()`

func TestChromiumShowsTrueSize(t *testing.T) {
	picture, c := seamMove(t)
	ctx := browser.Picture(t, picture, browser.Strict)
	root := readPicture(t, picture)
	for _, g := range root.with("data-piece") {
		origin := curve.Pt(g.number(t, "data-x"), g.number(t, "data-y"))
		for _, e := range edgesOf(c, g.attrs["data-piece"]) {
			when, path := "after", e.After
			if e.Status == compare.Unchanged {
				when = "same"
			}
			got, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](fmt.Sprintf(inMM, g.attrs["data-piece"]+"."+e.Name, when)))
			require.NoError(t, err)
			require.Len(t, got, 10)
			length := path.Length(1e-4)
			for i := range 5 {
				want := path.PointAt(length*float64(i)/4, 1e-4)
				assert.InDelta(t, origin.X+want.X, got[2*i], 0.01, "%s", e.Name)
				assert.InDelta(t, origin.Y-want.Y, got[2*i+1], 0.01, "%s", e.Name)
			}
		}
	}
}

// painted reads the colours of the paper and of the first line after.
const painted = `[getComputedStyle(document.querySelector('.paper')).fill, getComputedStyle(document.querySelector('[data-when="after"] path')).stroke].join(' ')`

func TestChromiumColours(t *testing.T) {
	picture, _ := seamMove(t)
	const light, dark = "rgb(255, 255, 255) rgb(0, 114, 178)", "rgb(21, 24, 27) rgb(86, 180, 233)"
	tests := map[string]struct{ policy, scheme, want string }{
		"light":                           {"default-src 'none'; style-src 'unsafe-inline'", "light", light},
		"dark":                            {"default-src 'none'; style-src 'unsafe-inline'", "dark", dark},
		"dark, where no sheet is allowed": {browser.Strict, "dark", light},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			ctx := browser.Picture(t, picture, tt.policy)
			_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
				Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: tt.scheme}},
			})
			require.NoError(t, err)
			got, err := chromedp.Run(ctx, chromedp.Evaluate[string](painted))
			require.NoError(t, err)
			assert.Equal(t, tt.want, got)
		})
	}
}

// Each line of text is no wider in Chromium than the room that was kept for it.
func TestChromiumTextFits(t *testing.T) {
	picture, _ := seamMove(t)
	ctx := browser.Picture(t, picture, browser.Strict)
	widths, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](`[...document.querySelectorAll('text')].map(e => e.getBBox().width)`))
	require.NoError(t, err)
	texts := readPicture(t, picture).named("text")
	require.Len(t, widths, len(texts))
	for i, e := range texts {
		assert.LessOrEqual(t, widths[i], boxOf(t, e).width(), e.text)
	}
}
