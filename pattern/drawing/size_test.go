package drawing

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func sized(attrs string) (*Result, []string) {
	src := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" %s><path id="a" d="M10,10 h100 v100 h-100 z"/></svg>`, attrs)
	r, probs := Read("a.svg", []byte(src), Options{})
	return r, ids(probs)
}

// Units as CSS Values and Units 3 defines them, sheets as ISO 216 and the inch
// define them: A4 is 595.2755906 x 841.8897638 pt, Letter 8.5 x 11 in.
func TestUnits(t *testing.T) {
	for attrs, want := range map[string]float64{
		`width="210mm" height="297mm" viewBox="0 0 210 297"`:                         100,
		`width="21cm" height="29.7cm" viewBox="0 0 210 297"`:                         100,
		`width="840Q" height="1188q" viewBox="0 0 210 297"`:                          100,
		`width="8.5in" height="11IN" viewBox="0 0 215.9 279.4"`:                      100,
		`width="51pc" height="66pc" viewBox="0 0 215.9 279.4"`:                       100,
		`width="595.2755906pt" height="841.8897638pt" viewBox="0 0 210 297"`:         100,
		`width="210mm" height="297mm" viewBox="0 0 793.7007874 1122.519685"`:         100 * 25.4 / 96,
		`width="210mm" height="297mm" viewBox="0 0 595.2755906 841.8897638"`:         100 * 25.4 / 72,
		`width=" 2.1e2mm " height="297mm" viewBox=" -5,-5 , 210 297 "`:               100,
		`width="200mm" height="200mm" viewBox="0 0 100 100" style="background:#fff"`: 200,
	} {
		r, probs := sized(attrs)
		assert.Empty(t, probs, attrs)
		require.Len(t, r.Sources, 1, attrs)
		assert.InDelta(t, want, r.Sources[0].Width, 0.001, attrs)
		assert.InDelta(t, want, r.Sources[0].Height, 0.001, attrs)
	}
}

// A viewBox rounded to a few digits is followed as SVG says: the smaller scale
// for both (meet), unless the file asks otherwise.
func TestRoundedViewBox(t *testing.T) {
	const page = `width="200mm" height="200mm" viewBox="0 0 100 100.005" `
	for ratio, want := range map[string][2]float64{
		``:                                     {199.990, 199.990},
		`preserveAspectRatio="none"`:           {200, 199.990},
		`preserveAspectRatio="xMinYMin slice"`: {200, 200},
	} {
		r, probs := sized(page + ratio)
		assert.Empty(t, probs, ratio)
		require.Len(t, r.Sources, 1, ratio)
		assert.InDelta(t, want[0], r.Sources[0].Width, 0.001, ratio)
		assert.InDelta(t, want[1], r.Sources[0].Height, 0.001, ratio)
	}
}

func TestUnknownSize(t *testing.T) {
	for _, attrs := range []string{
		``,
		`width="200mm" viewBox="0 0 200 300"`,
		`width="200mm" height="300" viewBox="0 0 200 300"`,
		`width="200px" height="300px" viewBox="0 0 200 300"`,
		`width="200mm" height="100%" viewBox="0 0 200 300"`,
		`width="20em" height="30em" viewBox="0 0 200 300"`,
		`width="200 mm" height="300mm" viewBox="0 0 200 300"`,
		`width="mm" height="300mm" viewBox="0 0 200 300"`,
		`width="auto" height="auto" viewBox="0 0 200 300"`,
		`width="-200mm" height="300mm" viewBox="0 0 200 300"`,
		`width="0mm" height="0mm" viewBox="0 0 200 300"`,
		`width="NaNmm" height="300mm" viewBox="0 0 200 300"`,
		`width="1e5in" height="1e5in" viewBox="0 0 200 200"`,
		`width="200mm" height="300mm"`,
		`width="200mm" height="300mm" viewBox="0 0 200"`,
		`width="200mm" height="300mm" viewBox="0 0 200 300 5"`,
		`width="200mm" height="300mm" viewBox="0 0 0 0"`,
		`width="200mm" height="300mm" viewBox="0 0 -200 -300"`,
		`width="200mm" height="300mm" viewBox="0 0 200 301"`,
		`width="200mm" height="300mm" viewBox="0 0 200 300" transform="scale(2)"`,
		`width="200mm" height="300mm" viewBox="0 0 200 300" style="width:100%"`,
	} {
		r, probs := sized(attrs)
		assert.Empty(t, r.Pieces, attrs)
		assert.Equal(t, []string{"drawing.size"}, probs, attrs)
	}
}
