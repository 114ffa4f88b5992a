package overlay

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
)

// Words stand at least 11 px high where the picture is 200 px wide: common practice for
// what is just read on a screen, no source.
func TestAPieceThumbnailIsReadAtTheSizeOfHosting(t *testing.T) {
	for name, g := range thumbnails(t) {
		for _, p := range g.Pieces[:min(len(g.Pieces), 8)] {
			var b bytes.Buffer
			require.NoError(t, PieceThumbnail(&b, g, p.Name, Options{To: "let-out-the-hip (1234567)"}))
			root := readPicture(t, b.Bytes())
			textsAreCalm(t, root)
			linesAreOnTheSheet(t, root)
			width, err := strconv.ParseFloat(strings.TrimSuffix(root.attrs["width"], "mm"), 64)
			require.NoError(t, err)
			for _, text := range root.named("text") {
				assert.GreaterOrEqual(t, text.number(t, "font-size")*200/width, 11.0, text.text)
			}
			drawn := root.with("data-piece")
			require.Len(t, drawn, 1, name)
			assert.Equal(t, p.Name, drawn[0].attrs["data-piece"])
			was, is := p.Outline().Bounds(), pathPoints(t, drawn[0].named("path")[0].attrs["d"])[0].Bounds()
			assert.InDelta(t, was.Width()/was.Height(), is.Width()/is.Height(), 0.02, "its shape is kept")
			assert.Contains(t, root.words(), "not to scale")
			assert.Contains(t, root.words(), "1234567")
		}
	}
}

func TestAPieceThatCannotBeDrawnIsTold(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, PieceThumbnail(&b, &pattern.Garment{Title: "<b>"}, "sleeve", Options{}))
	assert.Contains(t, strings.Join(strings.Fields(readPicture(t, b.Bytes()).words()), " "), "sleeve: it cannot be drawn")
}
