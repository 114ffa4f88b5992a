package check

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

func TestAFittingThatTellsWhatTheBodyMeasuresIsFound(t *testing.T) {
	b := &pattern.Body{Girths: []pattern.LevelNum{{Level: "waist", Value: 701}}}
	f := &pattern.Fitting{
		Name: "first", Gaps: []pattern.FittedGap{{Closure: "front", Level: "waist", Observed: pattern.Some(701)}},
		Moved:    []pattern.Verdict{{Of: "seated", How: "ok"}},
		Verdicts: []pattern.Verdict{{Of: "waist of 70.1 cm", How: "tight", Place: diag.Place{Line: 7}}},
		Notes:    []pattern.Remark{{Text: "closes by 6"}, {Text: "waist 701 mm", Place: diag.Place{Line: 9}}},
	}
	var lines []int
	for _, p := range Private(f, b) {
		assert.Equal(t, "fitting.private", p.ID)
		lines = append(lines, p.Place.Line)
	}
	assert.Equal(t, []int{7, 9}, lines)
	assert.Empty(t, Private(f, nil), "no body here")
}
