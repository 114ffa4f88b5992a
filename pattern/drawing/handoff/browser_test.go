package handoff

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg/browser"
)

// inMM gives the box of an element and points at parts of its length, in mm on
// the screen: 25.4 mm are 96 CSS pixels (CSS Values and Units 3, section 6.2).
const inMM = `(() => {
	const e = document.getElementById('%s'), m = e.getScreenCTM(), b = e.getBBox(), n = e.getTotalLength();
	const at = (x, y) => { const p = new DOMPoint(x, y).matrixTransform(m); return [(p.x + scrollX) * 25.4 / 96, (p.y + scrollY) * 25.4 / 96]; };
	const along = [0, 0.2, 0.4, 0.6, 0.8].flatMap(f => { const p = e.getPointAtLength(f * n); return at(p.x, p.y); });
	return [...at(b.x, b.y), ...at(b.x + b.width, b.y + b.height), ...along];
})()`

func TestChromiumShowsTrueSize(t *testing.T) {
	for _, dir := range []string{waistcoat, marked} {
		g := load(t, dir)
		src := written(t, g, Options{})
		ctx := browser.Picture(t, src, browser.Strict)
		root := parse(t, src)
		for _, p := range g.Pieces {
			got, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](fmt.Sprintf(inMM, p.Name+"-outline")))
			require.NoError(t, err)
			require.Len(t, got, 14)
			at := strings.Fields(root.one(t, p.Name).own("at"))
			shown := func(q curve.Point) curve.Point { return curve.Pt(number(t, at[0])+q.X, number(t, at[1])-q.Y) }
			ring := p.Outline()
			box := ring.Bounds()
			want := []curve.Point{shown(curve.Pt(box.Min.X, box.Max.Y)), shown(curve.Pt(box.Max.X, box.Min.Y))}
			for _, part := range []float64{0, 0.2, 0.4, 0.6, 0.8} {
				want = append(want, shown(ring.PointAt(part*ring.Length(1e-6), 1e-6)))
			}
			for i, q := range want {
				assert.InDelta(t, q.X, got[2*i], 0.01, "%s %d", p.Name, i)
				assert.InDelta(t, q.Y, got[2*i+1], 0.01, "%s %d", p.Name, i)
			}
		}
		got, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](fmt.Sprintf(inMM, "check-square")))
		require.NoError(t, err)
		assert.InDelta(t, 100, got[2]-got[0], 0.001)
		assert.InDelta(t, 100, got[3]-got[1], 0.001)
	}
}

// The paper is opaque whatever the page behind it, and no text is wider than the
// room that was kept for it.
func TestChromiumPaperAndWords(t *testing.T) {
	ctx := browser.Picture(t, written(t, load(t, marked), Options{}), browser.Strict)
	fill, err := chromedp.Run(ctx, chromedp.Evaluate[string](`(() => { const s = getComputedStyle(document.getElementById('paper')); return s.fill + ' ' + s.fillOpacity; })()`))
	require.NoError(t, err)
	assert.Equal(t, "rgb(255, 255, 255) 1", fill)
	overlaps, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`(() => {
		const all = [...document.querySelectorAll('text')], out = [];
		all.forEach((a, i) => all.slice(i + 1).forEach(b => {
			const p = a.getBoundingClientRect(), q = b.getBoundingClientRect(), slack = 1.5;
			if (p.left + slack < q.right && q.left + slack < p.right && p.top + slack < q.bottom && q.top + slack < p.bottom)
				out.push(a.textContent + ' / ' + b.textContent);
		}));
		return out;
	})()`))
	require.NoError(t, err)
	assert.Empty(t, overlaps)
}
