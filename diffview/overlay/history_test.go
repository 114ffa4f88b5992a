package overlay

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// versionsOf gives versions of a square: each number is how far its upper right
// corner lies out, NaN where the piece is absent.
func versionsOf(out ...float64) []Version {
	var list []Version
	for i, d := range out {
		v := Version{Label: fmt.Sprintf("v%d", i+1), Note: fmt.Sprintf("reason %d", i+1), When: "2026-05-01",
			Garment: &pattern.Garment{Levels: []pattern.Level{{Name: "waist", Y: 0}, {Name: "bust", Y: 60}}}}
		if !math.IsNaN(d) {
			v.Piece = poly(0, 100, 0, -20, 100, -20, 100+d, 100)
		}
		list = append(list, v)
	}
	return list
}

func historyOf(t require.TestingT, versions []Version) *node {
	var b bytes.Buffer
	require.NoError(t, History(&b, "block", versions, Options{Title: "Midsummer waistcoat"}))
	return readPicture(t, b.Bytes())
}

func TestHistoryDrawsEachLineWhereItDiffers(t *testing.T) {
	root := historyOf(t, versionsOf(0, 0, 14, 5))
	var numbers []string
	for _, n := range root.with("data-version") {
		numbers = append(numbers, n.attrs["data-version"])
	}
	assert.Equal(t, []string{"1", "3", "4"}, numbers, "oldest first, so that the newest lies on top; the second is like the first")
	for i, n := range root.with("data-version") {
		at := curve.Pt(n.number(t, "data-x"), n.number(t, "data-y"))
		path := n.named("path")[0]
		got := pathPoints(t, path.attrs["d"])
		d := []float64{0, 14, 5}[i]
		if i == 2 {
			assert.Equal(t, "0.95", path.attrs["stroke-width"], "the last one is heavy")
			samePoints(t, poly(0, 100, 0, -20, 100, -20, 100+d, 100).Outline(), onPattern(got[0], at))
			continue
		}
		require.Len(t, got, 1, "the back and the top, which differ from the next version")
		want := curve.Path{curve.Line(curve.Pt(100, -20), curve.Pt(100+d, 100)), curve.Line(curve.Pt(100+d, 100), curve.Pt(0, 100))}
		samePoints(t, want, onPattern(got[0], at))
		assert.Equal(t, "0.35", path.attrs["stroke-width"])
	}
	older, newer := root.with("data-version")[0].named("path")[0], root.with("data-version")[1].named("path")[0]
	assert.Less(t, older.number(t, "stroke-opacity"), newer.number(t, "stroke-opacity"), "the older the fainter")
}

// farthest14 is the place of the old back x = 100 that lies farthest from the
// outline whose upper corner went 14 out, by hand: as far from the top, 100 - y,
// as from the new back through (100, -20) along (14, 120), (y + 20) k with
// k = 14 / |(14, 120)|; so y = (100 - 20 k) / (1 + k) = 87.54, 12.46 away.
func farthest14() (y, far float64) {
	k := 14 / math.Hypot(14, 120)
	y = (100 - 20*k) / (1 + k)
	return y, 100 - y
}

func TestHistorySaysHowFarVersionsAreApart(t *testing.T) {
	words := historyOf(t, versionsOf(0, 0, 14, 5)).words()
	_, far := farthest14()
	require.InDelta(t, 12.46, far, 0.01)
	assert.Contains(t, words, fmt.Sprintf("up to %.1f mm from the next; the same up to version 2", far))
	assert.Contains(t, words, "up to 9.0 mm from the next", "the top's new end lies within the old top: 9 mm back along it")
	assert.Contains(t, words, "4 versions; its outline changed 2 times.")
	assert.Less(t, strings.Index(words, "v4, 2026-05-01"), strings.Index(words, "v1, 2026-05-01"), "newest first")
	assert.NotContains(t, words, "reason 2", "nothing moved in it")
	assert.NotContains(t, words, "absent")
}

// Number tags point to where a line departs most.
func TestHistoryTagsPointToTheirLine(t *testing.T) {
	eras := erasOf(versionsOf(0, 14, 5))
	h := newHistory(eras)
	require.Len(t, h.tags, 3)
	assert.Equal(t, "2", h.tags[0].number)
	assert.InDelta(t, 0, h.tags[0].tip.Dist(flip(curve.Pt(114, 100))), 0.01)
	assert.Equal(t, "1", h.tags[1].number)
	y, _ := farthest14()
	assert.InDelta(t, 0, h.tags[1].tip.Dist(flip(curve.Pt(100, y))), 0.2, "within what 0.01 mm of distance leaves")
	assert.True(t, h.tags[2].newest)
	ring := eras[2].ring
	assert.InDelta(t, 0, ring.Nearest(flip(h.tags[2].tip)).Dist, 1e-6)
}

func TestHistorySaysWhereThePieceIsAbsent(t *testing.T) {
	none := math.NaN()
	root := historyOf(t, versionsOf(none, none, 0, none, 0, 3, none))
	words := strings.ReplaceAll(root.words(), "absent from 4\nversions", "absent from 4 versions") // as the line breaks
	assert.Equal(t, 3, strings.Count(words, "the piece is absent\n")+strings.Count(words, "the piece is absent;"))
	assert.Contains(t, words, "the piece is absent; the same up to version 2")
	assert.Contains(t, words, "its outline changed 1 time; the piece is absent from 4 versions.")
	last := root.with("data-version")
	assert.Equal(t, "6", last[len(last)-1].attrs["data-version"], "the last that has the piece is heavy")
	textsAreCalm(t, root)
	empty := historyOf(t, versionsOf(none, none))
	assert.Contains(t, empty.words(), "2 versions, none with this piece.")
	assert.Contains(t, historyOf(t, nil).words(), "There is no version of this piece.")
	assert.Contains(t, historyOf(t, versionsOf(2, 2, 2)).words(), "3 versions; its outline never changed.")
}

// manyVersions are n versions in which one corner after the other moves a little.
func manyVersions(t require.TestingT, n int) []Version {
	w := readWaistcoat(t)
	g := w.garment(t, "gusset")
	var out []Version
	for i := range n {
		c := clone(g)
		p := c.Piece("side-back")
		at := &p.Corners[i%len(p.Corners)].At
		*at = pattern.Round(at.Add(curve.Pt(float64(i*7919%31)/10, float64(i*104729%53)/10)))
		out = append(out, Version{Label: fmt.Sprintf("v%d", i+1), Note: "a little more room, as the second fitting asked for", When: "2026-05-01", Piece: p, Garment: c})
	}
	return out
}

func TestHistoryOfManyVersionsStaysReadable(t *testing.T) {
	for _, n := range []int{1, 2, 12, 13, 40, 500} {
		root := historyOf(t, manyVersions(t, n))
		textsAreCalm(t, root)
		linesAreOnTheSheet(t, root)
		assert.Len(t, root.with("data-version"), n, "all are drawn")
		listed := strings.Count(root.words(), "2026-05-01")
		assert.Equal(t, min(n, MostNotes), listed)
		if n > MostNotes {
			assert.Contains(t, root.words(), fmt.Sprintf("and %d more, drawn but not listed", n-MostNotes))
			assert.Contains(t, root.words(), "v1, 2026", "the oldest is listed too")
		} else {
			assert.NotContains(t, root.words(), "more, drawn")
		}
		assert.Less(t, root.number(t, "height"), 900.0)
	}
}

func TestHistoryIsSafe(t *testing.T) {
	v := versionsOf(0, 4)
	v[0].Label, v[0].Note, v[0].When = `"><script>x</script>`, strings.Repeat("]]>&amp; \u202e long ", 80), "\x1b[31m"
	v[1].Label, v[1].Note = strings.Repeat("x", 400), ""
	var b bytes.Buffer
	require.NoError(t, History(&b, `<g onload="x">`, v, Options{Prefix: "h-", Note: []string{"<b>"}}))
	root := readPicture(t, b.Bytes())
	assert.Empty(t, root.named("script"))
	assert.Empty(t, root.with("onload"))
	assert.NotContains(t, b.String(), "\u202e")
	assert.NotContains(t, b.String(), "\x1b")
	textsAreCalm(t, root)
	var again bytes.Buffer
	require.NoError(t, History(&again, `<g onload="x">`, v, Options{Prefix: "h-", Note: []string{"<b>"}}))
	assert.Equal(t, b.String(), again.String())
}

func BenchmarkHistory500(b *testing.B) {
	versions := manyVersions(b, 500)
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		require.NoError(b, History(&out, "side-back", versions, Options{Title: "Midsummer waistcoat"}))
	}
}

// The list gives the reason and the tags, and a name only once.
func TestHistorySaysWhyAndWhichTags(t *testing.T) {
	v := versionsOf(0, 14, 14, 5)
	v[0].Label, v[0].Note, v[0].Because, v[0].Tags = "first-paper (8451d54)", "first-paper", "traced from the card", []string{"mock-up-1"}
	v[1].Label, v[1].Note, v[1].Because, v[1].Tags = "let-out (c7b0074)", "Let out the back", "it pulled", []string{"a", "", "b"}
	v[2].Tags = []string{"mock-up-2"}
	v[3].Label, v[3].Note = "v4", "v4"
	root := historyOf(t, v)
	words := root.words()
	assert.Contains(t, words, "first-paper (8451d54), 2026-05-01, tag mock-up-1\nbecause: traced from the card\n")
	assert.Contains(t, words, "let-out (c7b0074), 2026-05-01, tags a, b\nLet out the back\nbecause: it pulled\n")
	assert.Contains(t, words, "the same up to version 3; tag mock-up-2 at version 3")
	assert.Contains(t, words, "v4, 2026-05-01\ndrawn heavy\n")
	desc := root.named("desc")[0].text
	assert.Contains(t, desc, "first-paper (8451d54), tag mock-up-1: because: traced from the card")
	textsAreCalm(t, root)

	v[0].Because, v[0].Tags = strings.Repeat("<b>because</b> ", 300), []string{strings.Repeat("tag ", 400), "\x1b[31m\u202e"}
	root = historyOf(t, v)
	textsAreCalm(t, root)
	assert.Empty(t, root.named("b"))
}
