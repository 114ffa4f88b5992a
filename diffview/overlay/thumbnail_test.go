package overlay

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

func thumbnailOf(t require.TestingT, g *pattern.Garment) *node {
	var b bytes.Buffer
	require.NoError(t, Thumbnail(&b, g, Options{To: "card-1"}))
	return readPicture(t, b.Bytes())
}

// thumbnails are garments of several sizes.
func thumbnails(t require.TestingT) map[string]*pattern.Garment {
	w := readWaistcoat(t)
	withStrap := clone(w.garment(t, "gusset"))
	withStrap.Pieces = append(withStrap.Pieces, strap("strap"))
	withStrap.SortPieces()
	small := buckle(0)
	return map[string]*pattern.Garment{
		"waistcoat": w.garment(t, "gusset"), "with a strap": withStrap, "forty pieces": many(w.garment(t, "gusset"), 0),
		"long names": longNames(w.garment(t, "gusset")), "a buckle": small, "straps only": {Pieces: []*pattern.Piece{strap("a"), strap("b")}},
	}
}

func TestThumbnailShowsAllPiecesAlike(t *testing.T) {
	for name, g := range thumbnails(t) {
		t.Run(name, func(t *testing.T) {
			root := thumbnailOf(t, g)
			textsAreCalm(t, root)
			linesAreOnTheSheet(t, root)
			assert.Equal(t, "200mm", root.attrs["width"])
			assert.Contains(t, root.words(), "overview, not to scale")
			assert.Contains(t, root.named("desc")[0].text, "not to scale")
			drawn := root.with("data-piece")
			require.Len(t, drawn, len(g.Pieces))
			scale := 0.0
			var boxes []curve.Box
			for _, n := range drawn {
				p := g.Piece(n.attrs["data-piece"])
				require.NotNil(t, p)
				box := pathPoints(t, n.named("path")[0].attrs["d"])[0].Bounds()
				for _, b := range boxes {
					assert.False(t, b.Overlaps(box), "no piece lies on another")
				}
				boxes = append(boxes, box)
				k := box.Height() / p.Outline().Bounds().Height()
				if scale == 0 {
					scale = k
				}
				assert.InDelta(t, scale, k, 0.001, "all are made smaller alike")
				written := ""
				for _, line := range n.named("text") {
					written += line.text
					b := boxOf(t, line)
					assert.Greater(t, b.y0, box.Max.Y, "the name stands under its piece")
				}
				if name != "long names" {
					assert.Equal(t, p.Name, written)
				}
			}
			assert.LessOrEqual(t, scale, 0.5+1e-9)
		})
	}
}

// The waists of the panels lie at one height, front to back.
func TestThumbnailHangsPanelsByTheWaist(t *testing.T) {
	w := readWaistcoat(t)
	g := w.garment(t, "gusset")
	var names []string
	waist, right := 0.0, 0.0
	for _, n := range thumbnailOf(t, g).with("data-piece") {
		p := g.Piece(n.attrs["data-piece"])
		names = append(names, p.Name)
		box, own := pathPoints(t, n.named("path")[0].attrs["d"])[0].Bounds(), p.Outline().Bounds()
		y := box.Max.Y + own.Min.Y*box.Height()/own.Height()
		if waist == 0 {
			waist = y
		}
		assert.InDelta(t, waist, y, 0.01)
		assert.Greater(t, box.Min.X, right)
		right = box.Max.X
	}
	assert.Equal(t, "front side-front underarm gusset side-back back button-stand", strings.Join(names, " "))
}

func TestThumbnailOfNothing(t *testing.T) {
	assert.Contains(t, thumbnailOf(t, &pattern.Garment{}).words(), "no pieces yet")
}

func TestThumbnailLeavesOutWhatIsTooMuch(t *testing.T) {
	g := &pattern.Garment{Title: "Sampler"}
	for i := range MostInOverview + 3 {
		p := square()
		p.Name = "p" + strings.Repeat("x", i)
		g.Pieces = append(g.Pieces, p)
	}
	root := thumbnailOf(t, g)
	assert.Len(t, root.with("data-piece"), MostInOverview)
	assert.Contains(t, root.words(), "and 3 pieces more")
	textsAreCalm(t, root)
}

// The grain lies in its piece as it does on the cloth, with a head at both ends.
func TestThumbnailShowsTheGrain(t *testing.T) {
	g := clone(readWaistcoat(t).garment(t, "gusset"))
	for _, p := range g.Pieces {
		p.Grain = nil
	}
	assert.NotContains(t, thumbnailOf(t, g).words(), "grain")
	p := g.Piece("back")
	box := p.Outline().Bounds()
	p.Grain = &pattern.Grain{From: curve.Pt((box.Min.X+box.Max.X)/2, box.Min.Y+20), To: curve.Pt((box.Min.X+box.Max.X)/2+12, box.Max.Y-20)}
	root := thumbnailOf(t, g)
	textsAreCalm(t, root)
	assert.Contains(t, root.words(), "arrows: grain")
	for _, n := range root.with("data-piece") {
		grains := n.named("line")
		if n.attrs["data-piece"] != "back" {
			assert.Empty(t, grains, "no grain is recorded")
			continue
		}
		require.Len(t, grains, 1)
		assert.Len(t, n.named("polygon"), 2)
		drawn := pathPoints(t, n.named("path")[0].attrs["d"])[0].Bounds()
		k := drawn.Height() / box.Height()
		assert.InDelta(t, drawn.Min.X+k*(p.Grain.From.X-box.Min.X), grains[0].number(t, "x1"), 0.02)
		assert.InDelta(t, drawn.Max.Y-k*(p.Grain.From.Y-box.Min.Y), grains[0].number(t, "y1"), 0.02)
		assert.InDelta(t, drawn.Min.X+k*(p.Grain.To.X-box.Min.X), grains[0].number(t, "x2"), 0.02)
		assert.InDelta(t, drawn.Max.Y-k*(p.Grain.To.Y-box.Min.Y), grains[0].number(t, "y2"), 0.02)
	}
	p.Grain.To = p.Grain.From
	for _, n := range thumbnailOf(t, g).with("data-piece") {
		assert.Empty(t, n.named("line"), "a grain of no length has no direction")
	}
}

func TestThumbnailOfSomePieces(t *testing.T) {
	g := readWaistcoat(t).garment(t, "gusset")
	for _, c := range []struct {
		names []string
		width string
	}{{[]string{"back"}, "110mm"}, {[]string{"back", "front"}, "110mm"}, {[]string{"front", "back", "gusset"}, "200mm"}, {[]string{"back", "nothing"}, "110mm"}} {
		var b, again bytes.Buffer
		require.NoError(t, ThumbnailOf(&b, g, c.names, Options{Title: "Midsummer waistcoat", To: "card-1 (13b4903), as cut for mock-up-1"}))
		require.NoError(t, ThumbnailOf(&again, g, c.names, Options{Title: "Midsummer waistcoat", To: "card-1 (13b4903), as cut for mock-up-1"}))
		assert.Equal(t, b.String(), again.String(), "the same bytes")
		root := readPicture(t, b.Bytes())
		textsAreCalm(t, root)
		linesAreOnTheSheet(t, root)
		assert.Equal(t, c.width, root.attrs["width"])
		for _, n := range root.with("data-piece") {
			assert.Contains(t, c.names, n.attrs["data-piece"])
		}
		assert.Len(t, g.Pieces, 7, "the garment is as it was")
	}
}
