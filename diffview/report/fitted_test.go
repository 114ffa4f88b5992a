package report_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
)

// A print at a scale f makes a girth of G wrong by (1 - f) G: at 97 % a girth of 863
// loses 26 mm. A page that was "fitted" to another paper is often 97 % (A4 on Letter, a
// printing site).
func TestAPrintThatIsTooSmall(t *testing.T) {
	g := sample(t, "apron--1")
	back := g.Piece("back")
	for _, i := range []int{2, 3} {
		back.Corners[i].At.X = 331.5 // 2 (100 + 331.5) = 863
	}
	f := &pattern.Fitting{Square: &pattern.Square{Across: 97, Along: 100}}
	assert.Contains(t, report.PrintScale(f, g), "the print is 97 % across and 100 % along")
	assert.Contains(t, report.PrintScale(f, g), "bust -25.9, waist -25.9")
	f.Square.Across = 100.05
	assert.Empty(t, report.PrintScale(f, g), "nobody measures that")
	assert.Empty(t, report.PrintScale(&pattern.Fitting{}, g))
}

func TestAFittingFitsTheScreen(t *testing.T) {
	name := strings.Repeat("long-name-", 6) + "x"
	f := &pattern.Fitting{
		Name: name, Date: "2026-05-23", Version: strings.Repeat("v", 90), Body: name,
		Gaps: []pattern.FittedGap{
			{Closure: name, Level: name, Predicted: pattern.Some(34), Observed: pattern.Some(31)}, {Closure: "b", Level: "waist", Observed: pattern.Some(-1)},
		},
		Pinned:   []pattern.Pinned{{Seam: name, Level: name, Amount: 4}, {Seam: "side", Level: "waist", Amount: -2.5}},
		Verdicts: []pattern.Verdict{{Of: "the\x1b[31mback", How: "gapes"}}, Moved: []pattern.Verdict{{Of: strings.Repeat("word ", 40), How: "ok"}},
		Notes: []pattern.Remark{{Text: "n\u202eote"}},
	}
	var b strings.Builder
	out := report.Text{W: &b}
	out.Fitted(f)
	require.NoError(t, out.Err)
	for _, line := range strings.Split(b.String(), "\n") {
		if len(strings.Fields(line)) > 1 {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
		}
	}
	assert.Contains(t, b.String(), "side at waist: wanting 2.5")
	assert.Contains(t, b.String(), "-3.0")
	assert.NotContains(t, b.String(), "\x1b")
	assert.NotContains(t, b.String(), "\u202e")
}
