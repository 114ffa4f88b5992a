package report_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
)

var update = flag.Bool("update", false, "write the tables and the example of CHANGE.md; look at them")

// TestTheChangePageIsTrue holds the tables of CHANGE.md against the schemas and
// its example against a real comparison, that of testdata/gore--1 and gore--2.
func TestTheChangePageIsTrue(t *testing.T) {
	src, err := os.ReadFile("CHANGE.md")
	require.NoError(t, err)
	part := regexp.MustCompile(`(?s)(<!-- (fields|example) (\S*) ?-->\n).*?(<!-- end -->)`)
	told := map[string]bool{}
	got := part.ReplaceAllStringFunc(string(src), func(s string) string {
		m := part.FindStringSubmatch(s)
		if m[2] == "example" {
			return m[1] + "```json\n" + examplePrinted(t) + "\n```\n" + m[4]
		}
		told[m[3]] = true
		file, def, _ := strings.Cut(m[3], "/")
		return m[1] + fieldTable(t, file, def) + m[4]
	})
	if *update {
		require.NoError(t, os.WriteFile("CHANGE.md", []byte(got), 0o644))
		return
	}
	assert.Equal(t, string(src), got, "run the test with -update and look")
	for _, file := range []string{"compare", "walk", "check", "measure"} {
		for def := range readSchema(t, file).objects() {
			assert.True(t, told[file+"/"+def], "CHANGE.md says nothing of %s in %s", def, file)
		}
	}
}

// The example stands there as it was written; only its lines are longer.
func TestTheExampleIsARealComparison(t *testing.T) {
	src, err := os.ReadFile("CHANGE.md")
	require.NoError(t, err)
	_, rest, ok := strings.Cut(string(src), "```json\n")
	require.True(t, ok)
	text, _, ok := strings.Cut(rest, "```")
	require.True(t, ok)
	_, want := document(t, exampleDocument(t))
	assert.JSONEq(t, want, text)
	for n, file := range []string{"testdata/gore--1/pieces/gore.piece", "testdata/gore--2/pieces/gore.piece"} {
		piece, err := os.ReadFile(file)
		require.NoError(t, err)
		for line := range strings.Lines(string(piece)) {
			if strings.HasPrefix(line, "corner hem-back") {
				assert.Contains(t, string(src), "`"+strings.TrimSpace(line)+"`", "version %d", n+1)
			}
		}
	}
}

// The figures of the example by school geometry: a right triangle, 220 mm high,
// whose base grows from 160 to 176 mm, cut by the waist 20 mm below its top.
func TestTheFiguresOfTheExample(t *testing.T) {
	doc, _ := document(t, exampleDocument(t))
	piece := first(t, doc["pieces"])
	numbers := func(v any) []float64 {
		var out []float64
		for _, x := range v.([]any) {
			out = append(out, x.(float64))
		}
		return out
	}
	assert.InDeltaSlice(t, []float64{160 * 220 / 2, 176 * 220 / 2}, numbers(piece["area"]), 1e-6)
	assert.InDelta(t, 16*220/2, piece["gained"], 1e-3)
	assert.InDelta(t, 0, piece["lost"], 1e-3)
	assert.InDelta(t, 16, piece["deviation"], 1e-3, "the new corner from the old one")
	assert.InDeltaSlice(t, []float64{160.0 * 20 / 220, 176.0 * 20 / 220}, numbers(piece["widths"].(map[string]any)["waist"]), 1e-6)
	back := piece["edges"].([]any)[2].(map[string]any)
	assert.InDeltaSlice(t, []float64{math.Hypot(160, 220), math.Hypot(176, 220)}, numbers(back["length"]), 1e-6)
	moved := back["moved"].(map[string]any)
	assert.InDelta(t, 16*220/math.Hypot(160, 220), moved["max"], 1e-6, "square to the old edge")
	assert.InDelta(t, 16.0*20/220, moved["levels"].(map[string]any)["waist"], 1e-6)
}

func exampleDocument(t testing.TB) any {
	return report.ChangeJSON(pair{before: gore(t, "gore--1"), after: gore(t, "gore--2")}.change(), "straight (436484f)", "flared (fb87f65)")
}

func examplePrinted(t testing.TB) string {
	_, s := document(t, exampleDocument(t))
	dec := json.NewDecoder(strings.NewReader(s))
	dec.UseNumber()
	return printed(t, dec, "")
}

// printed lays JSON out like a person would: what is short stands on one line.
// The order of the fields stays.
func printed(t testing.TB, dec *json.Decoder, indent string) string {
	token, err := dec.Token()
	require.NoError(t, err)
	open, ok := token.(json.Delim)
	if !ok {
		b, err := json.Marshal(token)
		require.NoError(t, err)
		return strings.ReplaceAll(string(b), `\u003e`, ">")
	}
	var parts []string
	for dec.More() {
		field := ""
		if open == '{' {
			key, err := dec.Token()
			require.NoError(t, err)
			field = fmt.Sprintf("%q: ", key)
		}
		parts = append(parts, field+printed(t, dec, indent+"  "))
	}
	end, err := dec.Token()
	require.NoError(t, err)
	line := open.String() + strings.Join(parts, ", ") + end.(json.Delim).String()
	if len(indent)+len(line) <= 110 && !strings.Contains(line, "\n") {
		return line
	}
	return open.String() + "\n" + indent + "  " + strings.Join(parts, ",\n"+indent+"  ") + "\n" + indent + end.(json.Delim).String()
}

// fieldTable tells the fields of one object as the schema does, in the order in
// which it requires them.
func fieldTable(t *testing.T, file, def string) string {
	s := readSchema(t, file)
	properties := s.objects()[def]
	require.NotEmpty(t, properties, "%s has no object %q", file, def)
	object := s.doc
	if def != "" {
		object = s.doc["$defs"].(map[string]any)[def].(map[string]any)
	}
	var names []string
	for _, n := range object["required"].([]any) {
		names = append(names, n.(string))
	}
	var more []string
	for n := range properties {
		if !slices.Contains(names, n) {
			more = append(more, n)
		}
	}
	slices.Sort(more)
	var b strings.Builder
	b.WriteString("| field | is | meaning |\n|---|---|---|\n")
	for _, n := range append(names, more...) {
		p := properties[n].(map[string]any)
		description, _ := p["description"].(string)
		require.NotEmpty(t, description, "%s, %s", def, n)
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", n, kindOf(p), description)
	}
	return b.String()
}

// kindOf tells what a field holds, in words.
func kindOf(p map[string]any) string {
	if ref, ok := p["$ref"].(string); ok {
		return strings.TrimPrefix(ref, "#/$defs/")
	}
	if values, ok := p["enum"].([]any); ok {
		var list []string
		for _, v := range values {
			list = append(list, fmt.Sprintf("`%q`", v))
		}
		return strings.Join(list, ", ")
	}
	if v, ok := p["const"]; ok {
		return fmt.Sprintf("`%q`", v)
	}
	for _, branch := range listOf(p["anyOf"]) {
		if branch["$ref"] != nil {
			return kindOf(branch) + " or null"
		}
	}
	switch kind := p["type"].(type) {
	case []any:
		return fmt.Sprintf("%s or null", kind[0])
	case string:
		if items, ok := p["items"].(map[string]any); ok {
			count := ""
			if n, ok := p["maxItems"].(float64); ok {
				count = fmt.Sprintf("%g ", n)
			}
			return "list of " + count + kindOf(items)
		}
		if more, ok := p["additionalProperties"].(map[string]any); ok {
			return "object: name to " + kindOf(more)
		}
		return kind
	}
	return "any"
}
