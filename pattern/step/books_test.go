package step_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/measure"
	"seamkeep/pattern/step"
)

// inch is exact by the agreement of 1959.
const inch = 25.4

// A bust of 20 in the half gives 10 a front quarter, a waist of 24 gives 6: 4
// inches to be taken up. S. T. Taylor, A Guide to Dressmaking (1876), p. 38. Here
// they are taken up in the seam between two panels of 5.
func TestTheWaistOfAFrontQuarter(t *testing.T) {
	before := skirt(t, panel{"a", straight(0), straight(5 * inch)}, panel{"b", straight(0), straight(5 * inch)})
	half := skirt(t, panel{"a", straight(0), []float64{127, 127, 3 * inch, 127, 127}}, panel{"b", straight(0), straight(127)})
	after := skirt(t, panel{"a", straight(0), []float64{127, 127, 3 * inch, 127, 127}}, panel{"b", []float64{0, 0, 2 * inch, 0, 0}, straight(127)})
	values, err := measure.Measure{Kind: "girth", Level: "waist"}.Eval(measure.Input{Garment: after})
	require.NoError(t, err)
	assert.InDelta(t, 2*6*inch-20, values[0].Value, 1e-9, "6 in a quarter, less the overlap of 20 mm")
	const words = "take-in a-b 101.6 at waist"
	assert.Contains(t, lines(step.Claims(parse(t, words), before)), "Changes: girth waist -203.2", "4 in on each half")
	assert.Equal(t, []string{"Changes: width b at waist -50.8", "Changes: girth waist -203.2"}, untrue(t, before, half, words), "2 in of 4")
	assert.Empty(t, untrue(t, before, after, words))
}

// At the back waist 3/4 in are taken out each side. The Practical Designer
// (Rosenfeld, c. 1918), p. 255.
func TestTheBackWaistOfATightFit(t *testing.T) {
	before := skirt(t, panel{"front", straight(0), straight(240)}, panel{"back", straight(0), straight(230)})
	after := skirt(t, panel{"front", straight(0), straight(240)}, panel{"back", []float64{0, 0, 0.75 * inch, 0, 0}, straight(230)})
	const words = "take-in front-back 19.05 at waist only back"
	assert.Equal(t, []string{"Keeps: width back at high", "Changes: width back at waist -19.05", "Keeps: width back at low",
		"Keeps: girth high", "Changes: girth waist -38.1", "Keeps: girth low", "Only: back"}, lines(step.Claims(parse(t, words), before)))
	assert.Empty(t, untrue(t, before, after, words))
	assert.Equal(t, []string{"Changes: width back at waist -9.525", "Changes: girth waist -19.05"},
		untrue(t, before, after, "take-in front-back 9.525 at waist only back"), "half of it")
}
