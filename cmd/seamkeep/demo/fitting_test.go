package demo

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

// The refit of mock-up 1: what the version with the wider gusset predicts, what was
// seen, and the difference, which the card keeps as its calibration.
func TestTheRefitSaysWhatTheCardKeeps(t *testing.T) {
	all := byName(t)
	const file = "fittings/mock-up-1.fitting"
	assert.NotContains(t, all["wider-gusset"].Files, file)
	f, problems := text.ReadFitting(file, all["lower-back-neck"].Files[file])
	require.Empty(t, problems)
	assert.Equal(t, "wider-gusset", f.Version)
	assert.Equal(t, all["lower-back-neck"].Files[file], all["card-1"].Files[file])
	cut, card := garmentOf(t, "wider-gusset"), garmentOf(t, "card-1")
	_, src := Body()
	body, problems := text.ReadBody("bodies/ringer.body", src)
	require.Empty(t, problems)
	require.Len(t, f.Gaps, 5)
	for i, want := range []struct{ predicted, observed, calibration float64 }{{34, 31, -3}, {31, 30, -1}, {33, 31, -2}, {30, 28, -2}, {35, 33, -2}} {
		g := f.Gaps[i]
		gap, ok := measure.GapAt(cut, body, cut.Closure(g.Closure), g.Level)
		require.True(t, ok)
		assert.InDelta(t, gap.Value(), g.Predicted.Value, 0.001, g.Level)
		assert.Equal(t, want.predicted, g.Predicted.Value, g.Level)
		assert.Equal(t, want.observed, g.Observed.Value, g.Level)
		assert.Equal(t, want.calibration, g.Difference().Value, g.Level)
		assert.Equal(t, want.calibration, card.CalibrateAt(g.Level), g.Level)
	}
}
