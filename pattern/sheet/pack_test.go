package sheet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Whatever is packed lies on its page and over nothing else; the same again gives
// the same places.
func TestPackedBoxesLieOnThePageAndApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		page := size{rapid.Float64Range(100, 900).Draw(t, "width"), rapid.Float64Range(100, 1200).Draw(t, "height")}
		switch rapid.IntRange(0, 2).Draw(t, "endless") {
		case 1:
			page.w = math.Inf(1)
		case 2:
			page.h = math.Inf(1)
		}
		n := rapid.IntRange(1, 40).Draw(t, "boxes")
		sizes := make([]size, n)
		for i := range sizes {
			sizes[i] = size{
				rapid.Float64Range(1, min(page.w, 2000)).Draw(t, "w"),
				rapid.Float64Range(1, min(page.h, 2000)).Draw(t, "h"),
			}
		}
		spots, pages := pack(sizes, page)
		again, _ := pack(sizes, page)
		assert.Equal(t, spots, again)
		for i, a := range spots {
			assert.Less(t, a.page, pages)
			assert.GreaterOrEqual(t, a.x, 0.0)
			assert.GreaterOrEqual(t, a.y, 0.0)
			assert.LessOrEqual(t, a.x+sizes[i].w, page.w+1e-6)
			assert.LessOrEqual(t, a.y+sizes[i].h, page.h+1e-6)
			for k, b := range spots[:i] {
				apart := a.page != b.page || a.x+sizes[i].w <= b.x+1e-6 || b.x+sizes[k].w <= a.x+1e-6 ||
					a.y+sizes[i].h <= b.y+1e-6 || b.y+sizes[k].h <= a.y+1e-6
				assert.True(t, apart, "%d and %d: %+v %+v, %+v %+v", i, k, a, sizes[i], b, sizes[k])
			}
		}
	})
}

// Four boxes of a quarter page fill one page.
func TestPackWastesNothingThatFitsExactly(t *testing.T) {
	_, pages := pack([]size{{50, 50}, {50, 50}, {50, 50}, {50, 50}}, size{100, 100})
	assert.Equal(t, 1, pages)
	_, pages = pack([]size{{100, 60}, {100, 40}, {60, 100}, {40, 100}}, size{100, 100})
	assert.Equal(t, 2, pages)
}
