package report_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
)

// Every object is closed, and every field always there.
func TestTheSchemasOfWidthsAreClosed(t *testing.T) {
	for _, file := range []string{"widths", "waterfall"} {
		s := readSchema(t, file)
		all := map[string]any{"": s.doc}
		for k, v := range s.doc["$defs"].(map[string]any) {
			all[k] = v
		}
		for k, v := range all {
			def := v.(map[string]any)
			properties, ok := def["properties"].(map[string]any)
			if !ok {
				continue
			}
			assert.Equal(t, false, def["additionalProperties"], k)
			var required []string
			for _, n := range def["required"].([]any) {
				required = append(required, n.(string))
			}
			assert.ElementsMatch(t, keysOf(properties), required, k)
		}
	}
	s := readSchema(t, "widths")
	doc, _ := document(t, report.WidthsJSON(pair{before: gore(t, "gore--1"), after: gore(t, "gore--2")}.change(), report.WidthsOptions{}))
	require.NoError(t, s.compiled.Validate(doc))
	doc["more"] = 1.0
	assert.Error(t, s.compiled.Validate(doc), "a field too many")
	delete(doc, "more")
	delete(doc, "sums")
	assert.Error(t, s.compiled.Validate(doc), "a field too few")
}

func TestTheDocumentOfWidthsKeepsToItsSchema(t *testing.T) {
	s := readSchema(t, "widths")
	pairs := append(samplePairs(t), specialPairs(t)...)
	for _, p := range append(pairs, pair{"filled", sample(t, "waistcoat--04-half-move"), withCalibration(t), body(sample(t, "waistcoat--04-half-move"))}) {
		for _, o := range []report.WidthsOptions{{}, {Calibrated: true}} {
			s.accepts(t, report.WidthsJSON(p.change(), o), p.name)
		}
	}
	assert.Empty(t, s.unseen(), "in the schema, but never written")
}

// withCalibration is a garment whose gap has every term.
func withCalibration(t testing.TB) *pattern.Garment {
	g := sample(t, "waistcoat--06-seam-move")
	g.Calibrate = []pattern.LevelNum{{Level: "waist", Value: -2}}
	g.Cords = []pattern.LevelNum{{Level: "waist", Value: 20}}
	g.Give = pattern.Some(1.5)
	g.Options[0].Tested = "2026-04-30"
	g.Closures[1].Overlap = pattern.Some(30)
	return g
}

func TestRandomWidthsKeepToTheSchema(t *testing.T) {
	s := readSchema(t, "widths")
	var garments []*pattern.Garment
	for _, name := range sampleNames {
		garments = append(garments, sample(t, name))
	}
	garments = append(garments, filled(t), withCalibration(t))
	rapid.Check(t, func(t *rapid.T) {
		c := drawPair(t, garments).change()
		s.accepts(t, report.WidthsJSON(c, report.WidthsOptions{Calibrated: true}), "random")
		var b strings.Builder
		out := report.Text{W: &b}
		out.Widths(c, report.WidthsOptions{From: "a", To: "b", Calibrated: true})
		require.NoError(t, out.Err)
		assert.NotRegexp(t, `NaN|Inf\b|-0\.0( |$)`, b.String())
	})
}

func TestTheWidthsPageIsTrue(t *testing.T) { pageIsTrue(t, "WIDTHS.md", "widths", "waterfall") }

// pageIsTrue holds the tables of a page against the schemas that it tells of.
func pageIsTrue(t *testing.T, page string, schemas ...string) {
	src, err := os.ReadFile(page)
	require.NoError(t, err)
	part := regexp.MustCompile(`(?s)(<!-- fields (\S+) -->\n).*?(<!-- end -->)`)
	told := map[string]bool{}
	got := part.ReplaceAllStringFunc(string(src), func(s string) string {
		m := part.FindStringSubmatch(s)
		told[m[2]] = true
		file, def, _ := strings.Cut(m[2], "/")
		return m[1] + fieldTable(t, file, def) + m[3]
	})
	if *update {
		require.NoError(t, os.WriteFile(page, []byte(got), 0o644))
		return
	}
	assert.Equal(t, string(src), got, "run the test with -update and look")
	for _, file := range schemas {
		for def := range readSchema(t, file).objects() {
			assert.True(t, told[file+"/"+def], "%s says nothing of %q in %s", page, def, file)
		}
	}
}
