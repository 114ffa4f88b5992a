package step_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/step"
)

// mm draws an amount in tenths of a millimetre.
func mm(t *rapid.T, name string) float64 { return float64(rapid.IntRange(10, 250).Draw(t, name)) / 10 }

// Whatever was moved at the three levels, the step that says so is proven, and the
// one that says 2 mm more at one of them is not. What the sides lose is drawn from
// the same numbers by hand: F1 and F2.
func TestAmountsOfAnySizeAreProven(outer *testing.T) {
	before := twoPanels(outer, straight(100), straight(0))
	rapid.Check(outer, func(t *rapid.T) {
		high, waist, low := mm(t, "high"), mm(t, "waist"), mm(t, "low")
		by := [5]float64{low, low, waist, high, high}
		verb := rapid.SampledFrom([]string{"take-in", "let-out", "move-seam"}).Draw(t, "verb")
		part := float64(rapid.IntRange(0, 10).Draw(t, "part")) / 10
		rear, front := -part, 1-part // of the amount, in x: the back edge of a and the front edge of b
		rest := fmt.Sprintf(" share %g:%g", part*10, 10-part*10)
		switch verb {
		case "let-out":
			rear, front = -rear, -front
		case "move-seam":
			rear, front, rest = 1, 1, " to a"
		}
		back, ahead := make([]float64, 5), make([]float64, 5)
		for i, d := range by {
			back[i], ahead[i] = 100+rear*d, front*d
		}
		after := twoPanels(outer, back, ahead)
		words := func(waist float64) string {
			return fmt.Sprintf("%s a-b %g at high, %g at waist, %g at low%s", verb, high, waist, low, rest)
		}
		c := compare.Garments(before, after, compare.Options{})
		judge := func(text string) (wrong []string) {
			s, problems := step.Parse(text, place())
			require.Empty(t, problems, text)
			for _, r := range claim.Judge(c, step.Claims(s, before)) {
				if !r.OK {
					wrong = append(wrong, r.Claim.Line())
				}
			}
			return wrong
		}
		assert.Empty(t, judge(words(waist)))
		assert.NotEmpty(t, judge(words(waist+2)))
	})
}
