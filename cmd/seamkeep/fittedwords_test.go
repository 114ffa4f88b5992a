package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

// Whatever is typed is refused with words, or stands in a file that reads back the same.
func TestWhatIsToldOfAFittingCanBeReadBack(t *testing.T) {
	g := &pattern.Garment{
		Levels: []pattern.Level{{Name: "bust"}, {Name: "waist"}}, Seams: []pattern.Seam{{Name: "side"}, {Name: "side-back"}},
	}
	word := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
		"front", "at", "bust", "waist", "side", "side-back", "ok", "rides", ":", `"`, `\`, "31", "-4.25", "1e3", "NaN", "0x1p4", "99.5x99.2", "100X100", "2026-05-23", " ", "\t", "#", "\u202e", "\xff",
		strings.Repeat("long ", 20_000),
	}))
	rapid.Check(t, func(t *rapid.T) {
		f := &pattern.Fitting{Name: "first", Gaps: []pattern.FittedGap{{Closure: "front", Level: "bust", Predicted: pattern.Some(34)}}}
		w := newTelling(f, nil, g)
		for range rapid.IntRange(1, 6).Draw(t, "sentences") {
			words := ""
			for range rapid.IntRange(0, 5).Draw(t, "words") {
				words += word.Draw(t, "word") + rapid.SampledFrom([]string{" ", ""}).Draw(t, "apart")
			}
			tell := rapid.SampledFrom([]func(string) error{w.date, w.square, w.observed, w.pinned, w.moved, w.verdict, w.note}).Draw(t, "what")
			before := pattern.Clone(f)
			if err := tell(words); err != nil {
				assert.NotEmpty(t, err.Error())
				assert.Equal(t, before, f, "a refused sentence leaves nothing behind")
			}
		}
		again, problems := text.ReadFitting("fittings/first.fitting", text.PrintFitting(f))
		require.Empty(t, problems)
		assert.True(t, pattern.EqualFittings(f, again), "%+v %+v", f, again)
	})
}
