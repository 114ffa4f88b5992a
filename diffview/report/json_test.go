package report_test

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// document writes a value as JSON and reads it as anybody would.
func document(t testing.TB, v any) (map[string]any, string) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, report.WriteJSON(&b, v))
	var doc map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	assert.True(t, strings.HasSuffix(b.String(), "}\n"))
	return doc, b.String()
}

func walksOf(t testing.TB, g *pattern.Garment) []*measure.Walk {
	t.Helper()
	var walks []*measure.Walk
	for i := range g.Seams {
		w, problem := measure.WalkSeam(g, &g.Seams[i], measure.Accuracy)
		require.Nil(t, problem)
		walks = append(walks, w)
	}
	return walks
}

func first(t testing.TB, list any) map[string]any {
	t.Helper()
	items, ok := list.([]any)
	require.True(t, ok, "%v", list)
	require.NotEmpty(t, items)
	m, ok := items[0].(map[string]any)
	require.True(t, ok)
	return m
}

func TestTheWalkDocument(t *testing.T) {
	g := sample(t, "waistcoat--06a-seam-move-untrued")
	doc, _ := document(t, report.WalkJSON(g, walksOf(t, g)[4:5]))
	assert.Equal(t, []string{"garment", "schema", "seams"}, keysOf(doc))
	assert.Equal(t, "seamkeep.walk/1", doc["schema"])
	assert.Equal(t, "waistcoat", doc["garment"])
	seam := first(t, doc["seams"])
	assert.Equal(t, []string{"accepted", "difference", "ease", "name", "ok", "segments", "sides", "tolerance", "warn"}, keysOf(seam))
	assert.Equal(t, "side-back-back", seam["name"])
	assert.Equal(t, false, seam["ok"])
	assert.Equal(t, false, seam["accepted"])
	g.Accepted = []pattern.Accepted{{ID: "seam.differs", Subject: "side-back-back", Amount: 2.6, Reason: "tried on so"}}
	doc, _ = document(t, report.WalkJSON(g, walksOf(t, g)[4:5]))
	assert.Equal(t, []any{false, true}, []any{first(t, doc["seams"])["ok"], first(t, doc["seams"])["accepted"]})
	assert.Equal(t, 1.5, seam["tolerance"])
	assert.Equal(t, 0.0, seam["ease"])
	assert.InDelta(t, 2.55, seam["difference"], 0.006)
	sides := seam["sides"].([]any)
	require.Len(t, sides, 2)
	assert.Equal(t, []string{"edges", "length"}, keysOf(first(t, sides)))
	assert.Equal(t, []any{"side-back.back"}, sides[0].(map[string]any)["edges"])
	assert.Equal(t, []any{"back.front"}, sides[1].(map[string]any)["edges"])
	segments := seam["segments"].([]any)
	require.Len(t, segments, 2)
	below, above := segments[0].(map[string]any), segments[1].(map[string]any)
	assert.Equal(t, []string{"difference", "ease", "from", "lengths", "to"}, keysOf(below))
	assert.Equal(t, []any{"side-back.hem-back", "waist", "waist", "side-back.top-back"}, []any{below["from"], below["to"], above["from"], above["to"]})
	lengths := below["lengths"].([]any)
	require.Len(t, lengths, 2)
	assert.InDelta(t, lengths[0].(float64)-lengths[1].(float64), below["difference"], 2e-6)
	assert.InDelta(t, 1.20, below["difference"], 0.006)
	assert.InDelta(t, 1.35, above["difference"], 0.006)
}

// ok means within the tolerance, whole and in each segment; warn that it is ok
// and over the warning.
func TestOkAndWarnOfTheWalkDocument(t *testing.T) {
	for name, want := range map[string][2]bool{
		"waistcoat--03-gusset": {true, false}, "waistcoat--04-half-move": {true, true}, "waistcoat--06a-seam-move-untrued": {false, false},
	} {
		g := sample(t, name)
		doc, _ := document(t, report.WalkJSON(g, walksOf(t, g)[4:5]))
		seam := first(t, doc["seams"])
		assert.Equal(t, want, [2]bool{seam["ok"].(bool), seam["warn"].(bool)}, name)
	}
	cancel := sample(t, "waistcoat--03-gusset")
	p := cancel.Piece("back")
	for _, c := range []string{"hem-front", "top-front"} {
		p.Corners[p.CornerIndex(c)].At.Y += 2
	}
	doc, _ := document(t, report.WalkJSON(cancel, walksOf(t, cancel)[4:5]))
	seam := first(t, doc["seams"])
	assert.Equal(t, false, seam["ok"], "errors that cancel over the waist")
	assert.Less(t, math.Abs(seam["difference"].(float64)), 1.0)
}

func TestTheMeasureDocument(t *testing.T) {
	g := sample(t, "waistcoat--03-gusset")
	ask := func(words string, b *pattern.Body) map[string]any {
		m, err := measure.Parse(words)
		require.NoError(t, err)
		list, err := m.Eval(measure.Input{Garment: g, Body: b})
		require.NoError(t, err)
		doc, _ := document(t, report.ValuesJSON(list))
		assert.Equal(t, []string{"schema", "values"}, keysOf(doc))
		assert.Equal(t, "seamkeep.measure/1", doc["schema"])
		return first(t, doc["values"])
	}
	v := ask("gap front at bust", body(g))
	assert.Equal(t, []string{"measure", "unit", "value"}, keysOf(v))
	assert.Equal(t, "gap front at bust", v["measure"])
	assert.Equal(t, "mm", v["unit"])
	assert.InDelta(t, 52.4, v["value"], 1e-6)
	unknown := ask("gap front at bust", nil)
	assert.Contains(t, unknown, "value")
	assert.Nil(t, unknown["value"])
	assert.Contains(t, unknown["why"], "no body here")
	assert.Equal(t, "side-back.back", ask("seam side-back-back", nil)["of"])
	doc, _ := document(t, report.ValuesJSON(nil))
	assert.Equal(t, []any{}, doc["values"], "an empty list, not null")
}

func TestTheCheckDocument(t *testing.T) {
	g := sample(t, "waistcoat--06a-seam-move-untrued")
	doc, _ := document(t, report.CheckJSON(check.Run(check.Input{Garment: g}).Only(diag.Error)))
	assert.Equal(t, []string{"problems", "schema"}, keysOf(doc))
	assert.Equal(t, "seamkeep.check/1", doc["schema"])
	p := first(t, doc["problems"])
	assert.Equal(t, []string{"amount", "at", "column", "edge", "expected", "file", "found", "garment", "hint", "id", "line", "parts", "piece", "point", "related", "severity", "subject"}, keysOf(p))
	assert.Equal(t, []any{"seam.differs", "error", "waistcoat", "waistcoat.garment", 21.0, 1.0}, []any{p["id"], p["severity"], p["garment"], p["file"], p["line"], p["column"]})
	assert.Nil(t, p["at"], "no distance: null")
	related := first(t, p["related"])
	assert.Equal(t, []any{"side-back", "back", "pieces/side-back.piece"}, []any{related["piece"], related["edge"], related["file"]})
	assert.Nil(t, p["point"], "a seam is no point")
	assert.Len(t, related["point"], 2, "where the sides differ most")
	doc, _ = document(t, report.CheckJSON(nil))
	assert.Equal(t, []any{}, doc["problems"])
	doc, _ = document(t, report.CheckJSON(diag.List{{ID: "x", Amount: math.NaN(), Place: diag.Place{OnEdge: true, At: math.Inf(1)}}}))
	p = first(t, doc["problems"])
	for _, k := range []string{"amount", "at", "line", "column"} {
		assert.Nil(t, p[k], k)
	}
	assert.Equal(t, []any{}, p["related"])
}

func TestTheCompareDocument(t *testing.T) {
	a, b := sample(t, "waistcoat--03-gusset"), sample(t, "waistcoat--04-half-move")
	doc, _ := document(t, report.ChangeJSON(compare.Garments(a, b, compare.Options{Body: body(b)}), "main", "half-move"))
	assert.Equal(t, []string{"edits", "faults", "from", "gaps", "girths", "pieces", "records", "schema", "seams", "sentences", "to", "worn"}, keysOf(doc))
	assert.Equal(t, []any{"seamkeep.compare/1", "main", "half-move"}, []any{doc["schema"], doc["from"], doc["to"]})
	var sideBack map[string]any
	for _, p := range doc["pieces"].([]any) {
		m := p.(map[string]any)
		assert.Equal(t, []string{"area", "deviation", "edges", "gained", "lost", "name", "parts", "records", "shift", "status", "turn", "was", "widths"}, keysOf(m))
		if m["name"] == "side-back" {
			sideBack = m
		}
	}
	require.NotNil(t, sideBack)
	assert.Equal(t, "changed", sideBack["status"])
	widths := sideBack["widths"].(map[string]any)["bust"].([]any)
	assert.InDelta(t, 53, widths[0], 1e-6)
	assert.InDelta(t, 67, widths[1], 1e-6)
	girth := doc["girths"].(map[string]any)["bust"].([]any)
	assert.InDelta(t, 28, girth[1].(float64)-girth[0].(float64), 1e-6)
	gap := doc["gaps"].(map[string]any)["front"].(map[string]any)["bust"].([]any)
	assert.InDelta(t, 52.4, gap[0], 1e-6)
	assert.InDelta(t, 24.4, gap[1], 1e-6)
	for _, e := range sideBack["edges"].([]any) {
		m := e.(map[string]any)
		assert.Equal(t, []string{"length", "moved", "name", "status", "was"}, keysOf(m))
		moved := m["moved"].(map[string]any)
		assert.Equal(t, []string{"at", "direction", "levels", "max", "other"}, keysOf(moved))
		if m["name"] == "back" {
			assert.Equal(t, []any{"out", "bust"}, []any{moved["direction"], moved["at"]})
			assert.InDelta(t, 14, moved["max"], 0.02)
		}
	}
	edited := doc["edits"].([]any)
	require.NotEmpty(t, edited)
	for _, e := range edited {
		m := e.(map[string]any)
		assert.Equal(t, []string{"after", "before", "kind", "name", "piece"}, keysOf(m))
		if m["kind"] == "corner" && m["name"] == "top-back" {
			after := m["after"].(map[string]any)
			assert.Equal(t, []string{"at", "name", "was"}, keysOf(after), "no places in the text")
			assert.Equal(t, []any{51.211, 208.807}, after["at"])
		}
	}
	for _, s := range doc["seams"].([]any) {
		m := s.(map[string]any)
		assert.Equal(t, []string{"difference", "lengths", "name", "worst"}, keysOf(m))
		if m["name"] == "side-back-back" {
			d := m["difference"].([]any)
			assert.InDelta(t, 0, d[0], 0.002)
			assert.InDelta(t, 1.03, d[1], 0.006)
		}
	}
}

func TestWhatIsUnknownInTheCompareDocumentIsNull(t *testing.T) {
	g := sample(t, "waistcoat--03-gusset")
	doc, _ := document(t, report.ChangeJSON(compare.Garments(nil, g, compare.Options{}), "", "work"))
	p := first(t, doc["pieces"])
	assert.Equal(t, "added", p["status"])
	assert.Nil(t, p["area"].([]any)[0])
	assert.NotNil(t, p["area"].([]any)[1])
	e := first(t, p["edges"])
	assert.Nil(t, e["length"].([]any)[0])
	assert.Nil(t, e["moved"].(map[string]any)["max"])
	assert.Nil(t, doc["girths"].(map[string]any)["bust"].([]any)[0])
	assert.Equal(t, map[string]any{"front": map[string]any{}}, doc["gaps"], "no body, no gaps")
}

// Figures keep at least six decimals, none is NaN or infinite, and plain zero
// has no sign.
func TestFiguresOfJSON(t *testing.T) {
	values := func(v float64) string {
		_, s := document(t, report.ValuesJSON([]measure.Value{{Measure: "m", Value: v, Known: true}}))
		return regexp.MustCompile(`"value": (\S+),`).FindStringSubmatch(s)[1]
	}
	for v, want := range map[float64]string{
		0: "0", 1: "1", 100: "100", 1.5: "1.5", 1.0000004: "1", 1.000001: "1.000001", -0.0000001: "0", -2.25: "-2.25", 1.0 / 3: "0.333333", 123456.789012: "123456.789012", 1e5: "100000",
	} {
		assert.Equal(t, want, values(v))
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		assert.Equal(t, "null", values(v))
	}
	g := sample(t, "waistcoat--03-gusset")
	g.Piece("back").Corners[0].At = curveNaN()
	_, s := document(t, report.ChangeJSON(compare.Garments(sample(t, "waistcoat--03-gusset"), g, compare.Options{}), "a", "b"))
	assert.NotRegexp(t, `NaN,|Inf,`, s)
}
