package report_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/cmd/seamkeep/demo"
	"seamkeep/diffview/report"
	"seamkeep/diffview/waterfall"
	"seamkeep/pattern"
)

// storyVersions gives the main branch of the demo; f may change each version.
func storyVersions(t testing.TB, f func(v *waterfall.Version)) ([]waterfall.Version, *pattern.Body) {
	g, b := demoVersions(t)
	list, err := demo.Versions()
	require.NoError(t, err)
	var out []waterfall.Version
	for _, x := range list {
		if x.Branch == demo.MainBranch {
			v := waterfall.Version{Note: x.Name, Subject: "about " + x.Name, Short: "abc1234", Garment: g[x.Name]}
			f(&v)
			out = append(out, v)
		}
	}
	return out, b
}

func fallsOf(versions []waterfall.Version, b *pattern.Body) []waterfall.Data {
	var out []waterfall.Data
	for _, level := range demoLevels {
		out = append(out, waterfall.Of(versions, b, "front", level))
	}
	return out
}

func fallWritten(t testing.TB, list []waterfall.Data, width int) string {
	var b bytes.Buffer
	out := report.Text{W: &b, Width: width}
	out.Waterfall(list)
	require.NoError(t, out.Err)
	return b.String()
}

// The gaps of the story, worked by hand from its points.
func TestTheStoryAsAWaterfall(t *testing.T) {
	list, b := storyVersions(t, func(*waterfall.Version) {})
	assert.Equal(t, `gap front, predicted, in mm: what each note did to it
                      bust  under-bust    waist  high-hip  low-hip
  old gap: base       52.0        49.0     51.0      48.0     53.0
  straps                 =           =        =         =        =
  gusset              +0.4        +0.4     +0.4      +0.4     +0.4
  seam-move              =           =        =         =        =
  wider-gusset       -18.4       -18.4    -18.4     -18.4    -18.4
  lower-back-neck        =           =        =         =        =
  button-stand           =           =        =         =        =
  card-1                 =           =        =         =        =
  gap now             34.0        31.0     33.0      30.0     35.0
  wanted: bust 28 to 36 (met), under-bust 28 to 36 (met), waist 28 to 36 (met),
    high-hip 28 to 36 (met), low-hip 28 to 36 (met)
`, fallWritten(t, fallsOf(list, b), 80))
}

func TestAWaterfallOutsideNotesAndUnknown(t *testing.T) {
	list, b := storyVersions(t, func(v *waterfall.Version) {
		switch v.Note {
		case "wider-gusset":
			v.Note = ""
		case "gusset":
			v.Garment = nil
		}
	})
	words := fallWritten(t, fallsOf(list, b), 80)
	for _, want := range []string{"  no note (abc1234)", "seam-move and 1 version before it\n", "  of it, by notes", "  without a note",
		"  not known: gusset: that version has no pattern that can be read\n"} {
		assert.Contains(t, words, want)
	}
	assert.Contains(t, fallWritten(t, fallsOf(list, nil), 80), "not known: no body here")
	assert.Empty(t, fallWritten(t, nil, 80))

	s := readSchema(t, "waterfall")
	s.accepts(t, report.WaterfallJSON(fallsOf(list, b)), "known")
	s.accepts(t, report.WaterfallJSON(fallsOf(list, nil)), "no body")
	s.accepts(t, report.WaterfallJSON(nil), "none")
	doc, _ := document(t, report.WaterfallJSON(fallsOf(list, b)))
	sum := at(doc, "levels", "bust", "start").(float64)
	for _, step := range at(doc, "levels", "bust", "steps").([]any) {
		if v, ok := at(step, "change").(float64); ok {
			sum += v
		}
	}
	assert.InDelta(t, 34, sum, 1e-9)
	assert.InDelta(t, -18.4, at(doc, "levels", "bust", "outside"), 1e-6)
	assert.InDelta(t, 0.4, at(doc, "levels", "bust", "byNotes"), 1e-6)
	undone := fallsOf(list, nil)
	undone[0].First.Short = ""
	s.accepts(t, report.WaterfallJSON(undone), "no id")
	assert.Empty(t, s.unseen())
}

func TestAWaterfallFitsTheScreen(t *testing.T) {
	for name, f := range map[string]func(string) string{"long": func(s string) string { return s + strings.Repeat("-x", 28) }, "hostile": hostile} {
		list, b := storyVersions(t, func(v *waterfall.Version) { v.Note = f(v.Note) })
		for _, width := range []int{60, 80, 120} {
			for _, l := range strings.Split(fallWritten(t, fallsOf(list, b), width), "\n") {
				if utf8.RuneCountInString(l) > width {
					assert.Len(t, strings.Fields(l), 1, "%s, %d: %s", name, width, l)
				}
				assert.NotContains(t, l, "\x1b")
				assert.NotContains(t, l, "\u202e")
			}
		}
	}
}
