package check_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
)

func TestAWarningAboveTheToleranceIsTold(t *testing.T) {
	for _, c := range []struct {
		name  string
		set   func(*pattern.Garment)
		found string
	}{
		{"a seam's own", func(g *pattern.Garment) { g.Seams[0].Within, g.Seams[0].Warn = pattern.Some(1), pattern.Some(2.5) },
			"seam s00001 warns from 2.5 mm on, above its tolerance of 1, so it never warns"},
		{"the garment's", func(g *pattern.Garment) {
			g.Tolerances = []pattern.Tolerance{{Kind: "seam", Value: 1.5, Warn: pattern.Some(3)}}
		}, "the garment warns from 3 mm on, above its tolerance of 1.5, so it never warns"},
		{"as high as the tolerance", func(g *pattern.Garment) { g.Seams[0].Within, g.Seams[0].Warn = pattern.Some(1), pattern.Some(1) }, ""},
		{"a tolerance below the garment's warning", func(g *pattern.Garment) { g.Seams[0].Within = pattern.Some(0.5) }, ""},
	} {
		g := off(0)
		c.set(g)
		list := check.Run(check.Input{Garment: g})
		if c.found == "" {
			assert.Empty(t, list, c.name)
			continue
		}
		require.Len(t, list, 1, c.name)
		assert.Equal(t, "seam.warn-above", list[0].ID, c.name)
		assert.Equal(t, c.found, list[0].Found, c.name)
		assert.InDelta(t, 1.5, list[0].Amount, 1e-9, c.name)
	}
}
