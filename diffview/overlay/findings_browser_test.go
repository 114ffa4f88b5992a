package overlay

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg/browser"
)

// dotInMM gives the centre of the dot of a finding on a piece, in mm on the screen:
// 25.4 mm are 96 CSS pixels (CSS Values and Units 3, section 6.2).
const dotInMM = `(() => {
	const e = document.querySelector('[data-piece="%s"] [data-finding="%d"] circle').getBoundingClientRect();
	return [(e.x + e.width / 2 + scrollX) * 25.4 / 96, (e.y + e.height / 2 + scrollY) * 25.4 / 96];
})()`

func TestChromiumShowsFindingsAtTheirPoints(t *testing.T) {
	s := wrongs(t)["thirty"]
	picture := s.picture(t)
	ctx := browser.Picture(t, picture, browser.Strict)
	g := readPicture(t, picture).with("data-piece")[0]
	origin := curve.Pt(g.number(t, "data-x"), g.number(t, "data-y"))
	for i, p := range s.list {
		got, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](fmt.Sprintf(dotInMM, p.Place.Piece, i+1)))
		require.NoError(t, err)
		require.Len(t, got, 2)
		assert.InDelta(t, origin.X+p.Place.X, got[0], 0.01, "%d", i+1)
		assert.InDelta(t, origin.Y-p.Place.Y, got[1], 0.01, "%d", i+1)
	}
}

// On a page where a sheet of style is allowed the numbers of errors are dark on
// light tags where the reader asks for a dark page.
func TestChromiumColoursOfFindings(t *testing.T) {
	ctx := browser.Picture(t, wrongs(t)["thirty"].picture(t), "default-src 'none'; style-src 'unsafe-inline'")
	const colours = `(() => { const e = document.querySelector('[data-severity="error"]');
		return [getComputedStyle(e.querySelector('rect')).fill, getComputedStyle(e.querySelector('text')).fill].join(' ') })()`
	for scheme, want := range map[string]string{"light": "rgb(143, 45, 107) rgb(255, 255, 255)", "dark": "rgb(231, 156, 203) rgb(21, 24, 27)"} {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
		})
		require.NoError(t, err)
		got, err := chromedp.Run(ctx, chromedp.Evaluate[string](colours))
		require.NoError(t, err)
		assert.Equal(t, want, got, scheme)
	}
}

// Each line of text is no wider in Chromium than the room that was kept for it, and
// each number lies in its tag.
func TestChromiumTextOfFindingsFits(t *testing.T) {
	picture := wrongs(t)["broken"].picture(t)
	ctx := browser.Picture(t, picture, browser.Strict)
	widths, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](`[...document.querySelectorAll('text')].map(e => e.getBBox().width)`))
	require.NoError(t, err)
	texts := readPicture(t, picture).named("text")
	require.Len(t, widths, len(texts))
	for i, e := range texts {
		assert.LessOrEqual(t, widths[i], boxOf(t, e).width(), e.text)
	}
	out, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`[...document.querySelectorAll('[data-finding]')].filter(g => {
		const r = g.querySelector('rect').getBoundingClientRect(), n = g.querySelector('text').getBoundingClientRect();
		return n.left < r.left || n.right > r.right;
	}).map(g => g.querySelector('text').textContent)`))
	require.NoError(t, err)
	assert.Empty(t, out)
}
