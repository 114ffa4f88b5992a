package demo

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

// seen is the gap at a level: predicted, observed, and the difference (rho of the sum
// for a gap).
type seen struct{ predicted, observed, difference float64 }

// fittingOf reads a fitting that a version keeps, and checks what it predicts
// against the version that was cut for it.
func fittingOf(t *testing.T, keptBy, name, cutFrom string, want [5]seen) *pattern.Fitting {
	t.Helper()
	all := byName(t)
	file := text.FittingPath(".", name)
	f, problems := text.ReadFitting(file, all[keptBy].Files[file])
	require.Empty(t, problems)
	cut := garmentOf(t, cutFrom)
	_, src := Body()
	body, problems := text.ReadBody("bodies/ringer.body", src)
	require.Empty(t, problems)
	require.Len(t, f.Gaps, 5)
	for i, g := range f.Gaps {
		gap, ok := measure.GapAt(cut, body, cut.Closure(g.Closure), g.Level)
		require.True(t, ok)
		assert.InDelta(t, gap.Value(), g.Predicted.Value, 0.001, g.Level)
		assert.Equal(t, want[i], seen{g.Predicted.Value, g.Observed.Value, g.Difference().Value}, g.Level)
	}
	return f
}

// Mock-up 1 is cut from the version that bears its tag, and stands some 18 mm wider open
// than the middle of what is wanted.
func TestMockUp1StandsTooFarOpen(t *testing.T) {
	f := fittingOf(t, "wider-gusset", "mock-up-1", "seam-move",
		[5]seen{{52.4, 50, -2.4}, {49.4, 48, -1.4}, {51.4, 50, -1.4}, {48.4, 46, -2.4}, {53.4, 51, -2.4}})
	assert.Equal(t, byName(t)["seam-move"].Tag, f.Version)
	waist := f.Gaps[2]
	w := garmentOf(t, "wider-gusset").Wanted[0]
	assert.Equal(t, 18.0, waist.Observed.Value-(w.Min+w.Max)/2)
}

// The refit of mock-up 1: what the version with the wider gusset predicts, what was
// seen, and the difference, which the card keeps as its calibration.
func TestTheRefitSaysWhatTheCardKeeps(t *testing.T) {
	f := fittingOf(t, "lower-back-neck", "mock-up-1-refit", "wider-gusset",
		[5]seen{{34, 31, -3}, {31, 30, -1}, {33, 31, -2}, {30, 28, -2}, {35, 33, -2}})
	assert.Equal(t, "wider-gusset", f.Version)
	card := garmentOf(t, "card-1")
	for _, g := range f.Gaps {
		assert.Equal(t, g.Difference().Value, card.CalibrateAt(g.Level), g.Level)
	}
}

// What a note answers is kept with it and was cut from a version before it.
func TestNotesAnswerFittingsOfEarlierVersions(t *testing.T) {
	all := byName(t)
	answered := 0
	for name, v := range all {
		for _, line := range trailers(t, v.Message) {
			if line.key != "Answers" {
				continue
			}
			answered++
			file := text.FittingPath(".", line.value)
			f, problems := text.ReadFitting(file, v.Files[file])
			require.Empty(t, problems, "%s answers %s", name, line.value)
			cut := false
			for at := v.Parent; at != ""; at = all[at].Parent {
				cut = cut || f.Version == at || f.Version == all[at].Tag
			}
			assert.True(t, cut, "%s answers %s, cut from %s", name, line.value, f.Version)
			assert.Less(t, f.Date, v.When.Format("2006-01-02"))
		}
	}
	assert.Equal(t, 2, answered)
}
