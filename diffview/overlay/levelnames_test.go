package overlay

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
)

// narrow is a garment of three panels 40 mm wide with those levels, the tops
// higher by d.
func narrow(d float64, levels ...string) *pattern.Garment {
	g := &pattern.Garment{Half: pattern.LeftHalf}
	for i, name := range levels {
		g.Levels = append(g.Levels, pattern.Level{Name: name, Y: 120 - 40*float64(i)})
	}
	for _, name := range []string{"back", "front", "side"} {
		p := poly(0, 140+d, 0, -80, 40, -80, 40, 140+d)
		p.Name = name
		g.Pieces = append(g.Pieces, p)
		g.Around = append(g.Around, pattern.Mention{Name: name})
	}
	return g
}

// Whichever level has the longest name, each name stands whole in every picture;
// only one beyond all bounds is cut.
func TestLevelNamesStandWhole(t *testing.T) {
	names := []string{"bust", "under-bust", "waist", "high-hip", "low-hip", "high-hip-and-a-little"}
	long := strings.Repeat("w", 40)
	for i := range names {
		for j := i + 1; j <= len(names); j++ {
			levels := names[i:j]
			before, after := narrow(0, append([]string{}, levels...)...), narrow(5, append([]string{}, levels...)...)
			c := compare.Garments(before, after, compare.Options{})
			var sheet, strip, history bytes.Buffer
			require.NoError(t, Sheet(&sheet, c, Options{}))
			require.NoError(t, Strip(&strip, c, Options{}))
			require.NoError(t, History(&history, "side", []Version{
				{Label: "a", Piece: before.Piece("side"), Garment: before}, {Label: "b", Piece: after.Piece("side"), Garment: after},
			}, Options{}))
			for kind, b := range map[string]*bytes.Buffer{"sheet": &sheet, "strip": &strip, "history": &history} {
				root := readPicture(t, b.Bytes())
				words := "\n" + root.words()
				for _, l := range levels {
					assert.Contains(t, words, "\n"+l+"\n", "%s of %v", kind, levels)
				}
				assert.NotContains(t, words, "\u2026", "%s of %v", kind, levels)
				textsAreCalm(t, root)
			}
		}
	}
	c := compare.Garments(narrow(0, long), narrow(5, long), compare.Options{})
	var b bytes.Buffer
	require.NoError(t, Sheet(&b, c, Options{}))
	assert.Contains(t, readPicture(t, b.Bytes()).words(), "www\u2026")
}

// A corner that rose by 6 draws the edge beside it a little sideways: that is in
// the table alone. Small movements that nothing larger is near are called out.
func TestSmallMovementsBesideLargerOnesAreNotCalledOut(t *testing.T) {
	callouts := func(before, after *pattern.Piece) (out []string) {
		before.Name, after.Name = "back", "back"
		c := compare.Garments(&pattern.Garment{Pieces: []*pattern.Piece{before}}, &pattern.Garment{Pieces: []*pattern.Piece{after}}, compare.Options{})
		require.Len(t, c.ChangedPieces(), 1)
		var b bytes.Buffer
		require.NoError(t, Sheet(&b, c, Options{}))
		root := readPicture(t, b.Bytes())
		for _, n := range root.with("data-callout") {
			out = append(out, n.attrs["data-callout"])
		}
		if len(out) == 1 {
			moved := 0
			for _, r := range root.with("data-row") {
				if cells := r.named("text"); strings.Contains(cells[len(cells)-1].text, "out 0.2") {
					moved++
				}
			}
			assert.Equal(t, 1, moved, "the table has it")
		}
		return out
	}
	square := func(x, y float64) *pattern.Piece { return poly(0, 100, 0, -100, 100, -100, 100+x, 100+y) }
	assert.Equal(t, []string{"out 6.0"}, callouts(square(0, 0), square(0.2, 6)))
	assert.Equal(t, []string{"out 0.4", "out 6.0"}, callouts(square(0, 0), square(0.4, 6)))
	assert.Equal(t, []string{"out 0.2"}, callouts(square(0, 0), square(0.2, 0)))
	apart := poly(0, 100, 0, -100, 100.2, -100, 100.2, 100)
	apart.Corners[0].At.Y = 106
	assert.Equal(t, []string{"out 0.2", "out 6.0"}, callouts(square(0, 0), apart), "100 mm away")
}
