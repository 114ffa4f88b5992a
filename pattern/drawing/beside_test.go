package drawing

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/diag"
)

// frame draws a rectangle that lies d inside the panel of 100 x 200.
func within(attrs string, d float64) string {
	return fmt.Sprintf(`<rect %s x="%g" y="%g" width="%g" height="%g"/>`, attrs, 100+d, 100+d, 100-2*d, 200-2*d)
}

// Two rings beside each other are a stroke turned into a shape, or a sewing line
// and its line to cut along. Which of them is meant is asked. Sizes by
// arithmetic: a rectangle set off by d is 2 d wider and higher.
func TestTwoRings(t *testing.T) {
	for _, c := range []struct {
		d  float64
		id string
	}{{0.05, "drawing.double"}, {0.25, "drawing.double"}, {2.5, "drawing.double"}, {6, "drawing.cut-line"}, {15, "drawing.cut-line"}} {
		body := panel + within(`id="path7"`, c.d)
		s, probs := recognised(t, body, Options{})
		require.Equal(t, []string{c.id}, ids(probs), "%g", c.d)
		assert.Equal(t, diag.Error, probs[0].Severity)
		assert.Contains(t, probs[0].Found, fmt.Sprintf("%.2f mm", c.d))
		assert.Contains(t, probs[0].Hint, "--outline inner")
		assert.Empty(t, s.Pieces)
		assert.Len(t, s.Left, 2)

		s, probs = recognised(t, body, Options{Outline: Inner})
		assert.Empty(t, probs)
		require.Len(t, s.Pieces, 1)
		assert.InDelta(t, 100-2*c.d, s.Pieces[0].Width, 1e-9)
		assert.Equal(t, "front", s.Pieces[0].Name, "the outer one gives its name")
		s, probs = recognised(t, body, Options{Outline: Outer})
		assert.Empty(t, probs)
		require.Len(t, s.Pieces, 1)
		assert.Equal(t, 200.0, s.Pieces[0].Height)
	}
}

// An open line whose stroke was turned into a shape is no piece, unless it says
// so.
func TestStrokeOfAnOpenLine(t *testing.T) {
	const strip = `<path %s d="M100,100 V300 H100.5 V100 z"/>`
	_, probs := recognised(t, fmt.Sprintf(strip, `id="front"`), Options{})
	require.NotEmpty(t, probs)
	assert.Equal(t, "drawing.double", probs[0].ID)
	assert.Contains(t, probs[0].Found, "0.50 mm wide")
	s, probs := recognised(t, fmt.Sprintf(strip, `inkscape:label="outline piping"`), Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	assert.Equal(t, "piping", s.Pieces[0].Name)
}

// Labels answer for a line to cut along, not for a stroke.
func TestLabelsOfTwoRings(t *testing.T) {
	layer := func(outer, inner string, d float64) string {
		return `<g inkscape:groupmode="layer" inkscape:label="Front"><path ` + outer + ` d="M100,100 V300 H200 V100 z"/>` + within(inner, d) + `</g>`
	}
	for name, body := range map[string]string{
		"both":           layer(`inkscape:label="cut line"`, `inkscape:label="sewing line"`, 12),
		"outer":          layer(`inkscape:label="Seam allowance"`, ``, 12),
		"inner":          layer(``, `inkscape:label="seam line"`, 12),
		"own":            layer(``, `seamkeep:line="outline"`, 12),
		"own of two":     layer(``, `seamkeep:line="outline"`, 0.3),
		"layers of each": `<g id="front"><g id="cut-line">` + panel + `</g><g id="sewing-line">` + within("", 12) + `</g></g>`,
	} {
		s, probs := recognised(t, body, Options{})
		require.Empty(t, probs, name)
		require.Len(t, s.Pieces, 1, name)
		assert.Less(t, s.Pieces[0].Width, 100.0, name)
		assert.Equal(t, "front", s.Pieces[0].Name, name)
		require.Len(t, s.Left, 1)
	}
	_, probs := recognised(t, layer(`inkscape:label="cut line"`, `inkscape:label="sewing line"`, 0.3), Options{})
	assert.Equal(t, []string{"drawing.double"}, ids(probs))
}

// A hem has more allowance than the sides.
func TestUnevenAllowance(t *testing.T) {
	const uneven = `<rect inkscape:label="%s" x="112" y="112" width="76" height="148"/>`
	_, probs := recognised(t, panel+fmt.Sprintf(uneven, ""), Options{})
	assert.Equal(t, []string{"drawing.cut-line"}, ids(probs))
	s, probs := recognised(t, panel+fmt.Sprintf(uneven, "sewing line"), Options{})
	require.Len(t, s.Pieces, 1)
	assert.Equal(t, 76.0, s.Pieces[0].Width)
	assert.Equal(t, []string{"drawing.cut-line"}, ids(probs.Only(diag.Warning)), "said, since only the label tells")
}

// Marks inside belong to the sewing line; what lies between the two does too.
func TestMarksInsideTwoRings(t *testing.T) {
	s, probs := recognised(t, panel+within(`inkscape:label="sewing line"`, 10)+`<path id="bone" d="M150,150 V250"/><path d="M110,150 h-8"/>`, Options{})
	assert.Empty(t, probs)
	require.Len(t, s.Pieces, 1)
	assert.Equal(t, []string{"notch n1 on e1 40 from c1", "bone b1 from 40 140 to 40 40"}, records(s.Pieces[0].Piece, "notch", "bone"))
}
