package overlay

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
)

func fittingPageOf(t *testing.T, f *pattern.Fitting, g *pattern.Garment) *node {
	var b, again bytes.Buffer
	require.NoError(t, FittingPage(&b, f, g, Options{}))
	require.NoError(t, FittingPage(&again, f, g, Options{}))
	require.Equal(t, b.String(), again.String(), "the same bytes")
	return readPicture(t, b.Bytes())
}

// boxes counts the empty boxes to write in.
func boxes(root *node) int {
	n := 0
	for _, r := range root.named("rect") {
		if r.attrs["fill"] == "none" && r.attrs["stroke"] == inkColour {
			n++
		}
	}
	return n
}

func TestThePageForAFittingHasRoomForEverything(t *testing.T) {
	g := clone(readWaistcoat(t).garment(t, "gusset"))
	g.Wanted = []pattern.Wanted{{Closure: "front", Level: g.Levels[0].Name, Min: 28, Max: 36}}
	f := &pattern.Fitting{Name: "mock-up-1", Date: "2026-05-23", Version: "wider-gusset", Body: "ringer"}
	for i, l := range g.Levels {
		f.Gaps = append(f.Gaps, pattern.FittedGap{Closure: "front", Level: l.Name, Predicted: pattern.Some(30 + float64(i))})
	}
	root := fittingPageOf(t, f, g)
	textsAreCalm(t, root)
	linesAreOnTheSheet(t, root)
	assert.Equal(t, "190mm", root.attrs["width"])
	assert.LessOrEqual(t, root.number(t, "height"), 297.0-2*10, "one sheet of A4 (ISO 216) with margins of 10 mm")
	words := root.words()
	for _, w := range []string{"Fitting mock-up-1", "cut from wider-gusset, 2026-05-23, on ringer", "28 to 36", "30.0", "Pinned out, mm", "side-back-back", "Movements tried", "no medical advice"} {
		assert.Contains(t, words, w)
	}
	assert.Equal(t, 2+2*len(g.Levels)+len(g.Levels)*len(g.Seams), boxes(root), "the square, seen and difference at each level, each seam at each level")
	assert.Contains(t, root.named("desc")[0].text, "front at "+g.Levels[1].Name+" 31.0")
}

func TestThePageForAFittingShowsWhatIsKnown(t *testing.T) {
	g := readWaistcoat(t).garment(t, "gusset")
	level := g.Levels[0].Name
	f := &pattern.Fitting{
		Name: "refit", Square: &pattern.Square{Across: 99.5, Along: 99.2}, Gaps: []pattern.FittedGap{{Closure: "front", Level: level, Predicted: pattern.Some(34), Observed: pattern.Some(31)}},
		Pinned: []pattern.Pinned{{Seam: g.Seams[0].Name, Level: level, Amount: 4.5}}, Moved: []pattern.Verdict{{Of: "arms overhead", How: "rides"}},
		Verdicts: []pattern.Verdict{{Of: "back neck", How: "gapes"}}, Notes: []pattern.Remark{{Text: "the <straps> slide"}},
	}
	root := fittingPageOf(t, f, g)
	textsAreCalm(t, root)
	for _, w := range []string{"99.5", "99.2", "34.0", "31.0", "-3.0", "4.5", "arms overhead", "rides", "back neck", "gapes", "the <straps> slide"} {
		assert.Contains(t, root.words(), w)
	}
	f.Gaps[0].Predicted = pattern.Opt{}
	assert.Contains(t, fittingPageOf(t, f, g).words(), "unknown")
}

func TestThePageForAFittingBearsAnything(t *testing.T) {
	long := strings.Repeat("a-very-long-name-", 3) + "x"
	g := longNames(readWaistcoat(t).garment(t, "gusset"))
	f := &pattern.Fitting{Name: long, Version: strings.Repeat("v", 100), Verdicts: []pattern.Verdict{{Of: strings.Repeat("word ", 80), How: "ok"}}}
	for range 30 {
		f.Notes = append(f.Notes, pattern.Remark{Text: strings.Repeat("words ", 60)})
	}
	textsAreCalm(t, fittingPageOf(t, f, g))
	root := fittingPageOf(t, &pattern.Fitting{Name: "x"}, &pattern.Garment{})
	textsAreCalm(t, root)
	assert.NotContains(t, root.words(), "Pinned out")
}
