package overlay

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// A piece that only lies elsewhere gained no cloth and lost none.
func TestAPieceMovedAsAWholeIsPaintedWithoutAreas(t *testing.T) {
	garment := func(move curve.Affine) *pattern.Garment {
		p := strap("strap")
		p.NoLevels = true
		for i := range p.Corners {
			p.Corners[i].At = pattern.Round(move.Apply(p.Corners[i].At))
		}
		return &pattern.Garment{Half: pattern.LeftHalf, Pieces: []*pattern.Piece{p}}
	}
	c := compare.Garments(garment(curve.Identity()), garment(curve.Rotate(0.14)), compare.Options{})
	require.Equal(t, compare.Moved, c.Pieces[0].Status)
	var b bytes.Buffer
	require.NoError(t, Sheet(&b, c, Options{Title: "strap"}))
	root := readPicture(t, b.Bytes())
	assert.Empty(t, root.with("data-area"))
	assert.Contains(t, root.words(), "strap – moved as a whole")
	assert.Contains(t, root.words(), "turned 8.0 degrees")
}
