package report_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// schema is one of the published forms: JSON Schema, draft 2020-12.
type schema struct {
	doc      map[string]any
	compiled *jsonschema.Schema
	seen     map[string]bool // properties that held something, as DEF.PROPERTY
}

func readSchema(t testing.TB, name string) *schema {
	t.Helper()
	src, err := os.ReadFile(name + ".schema.json")
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(src))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("seamkeep:"+name, doc))
	compiled, err := c.Compile("seamkeep:" + name)
	require.NoError(t, err)
	s := &schema{compiled: compiled, seen: map[string]bool{}}
	require.NoError(t, json.Unmarshal(src, &s.doc))
	return s
}

// accepts writes a document as JSON, and holds what comes against the schema.
func (s *schema) accepts(t require.TestingT, v any, name string) {
	var b bytes.Buffer
	require.NoError(t, report.WriteJSON(&b, v))
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b.Bytes()))
	require.NoError(t, err)
	require.NoError(t, s.compiled.Validate(doc), name)
	var plain any
	require.NoError(t, json.Unmarshal(b.Bytes(), &plain))
	s.note(s.doc, "", plain)
}

// note marks the properties that hold something in a value.
func (s *schema) note(at map[string]any, def string, v any) {
	if ref, ok := at["$ref"].(string); ok {
		def = strings.TrimPrefix(ref, "#/$defs/")
		s.note(s.doc["$defs"].(map[string]any)[def].(map[string]any), def, v)
	}
	for _, branch := range listOf(at["anyOf"]) {
		if v != nil {
			s.note(branch, def, v)
		}
	}
	for _, branch := range listOf(at["allOf"]) {
		kinds := branch["if"].(map[string]any)["properties"].(map[string]any)["kind"].(map[string]any)["enum"].([]any)
		if slices.Contains(kinds, v.(map[string]any)["kind"]) {
			s.note(branch["then"].(map[string]any), def, v)
		}
	}
	switch v := v.(type) {
	case map[string]any:
		properties, _ := at["properties"].(map[string]any)
		for k, value := range v {
			if p, ok := properties[k].(map[string]any); ok {
				s.seen[def+"."+k] = s.seen[def+"."+k] || holds(value)
				s.note(p, def, value)
			} else if more, ok := at["additionalProperties"].(map[string]any); ok {
				s.note(more, def, value)
			}
		}
	case []any:
		if items, ok := at["items"].(map[string]any); ok {
			for _, value := range v {
				s.note(items, def, value)
			}
		}
	}
}

func listOf(v any) []map[string]any {
	var out []map[string]any
	list, _ := v.([]any)
	for _, x := range list {
		out = append(out, x.(map[string]any))
	}
	return out
}

// holds tells whether a value says anything.
func holds(v any) bool {
	switch v := v.(type) {
	case nil:
		return false
	case string:
		return v != ""
	case float64:
		return v != 0
	case bool:
		return v
	case []any:
		return len(v) > 0
	case map[string]any:
		return len(v) > 0
	}
	return true
}

// objects gives the properties of each object that the schema describes; the
// document itself is "".
func (s *schema) objects() map[string]map[string]any {
	out := map[string]map[string]any{"": s.doc["properties"].(map[string]any)}
	defs, _ := s.doc["$defs"].(map[string]any)
	for name, def := range defs {
		if p, ok := def.(map[string]any)["properties"].(map[string]any); ok {
			out[name] = p
		}
	}
	return out
}

// unseen lists the properties that no document so far held anything in.
func (s *schema) unseen() []string {
	var out []string
	for name, properties := range s.objects() {
		for k := range properties {
			if !s.seen[name+"."+k] {
				out = append(out, name+"."+k)
			}
		}
	}
	sort.Strings(out)
	return out
}

// Every object is closed: a field that the schema does not name is refused.
func TestSchemasAreClosed(t *testing.T) {
	for _, name := range []string{"compare", "walk", "check", "measure", "sheet"} {
		s := readSchema(t, name)
		defs, _ := s.doc["$defs"].(map[string]any)
		all := map[string]any{"": s.doc}
		for k, v := range defs {
			all[k] = v
		}
		for k, v := range all {
			if def := v.(map[string]any); def["properties"] != nil {
				assert.Equal(t, false, def["additionalProperties"], "%s, %s", name, k)
				assert.NotEmpty(t, def["required"], "%s, %s", name, k)
			}
		}
	}
	s := readSchema(t, "compare")
	assert.Error(t, s.compiled.Validate(map[string]any{"schema": "seamkeep.compare/1"}), "fields are missing")
	doc, _ := document(t, report.ChangeJSON(pair{before: gore(t, "gore--1"), after: gore(t, "gore--2")}.change(), "a", "b"))
	require.NoError(t, s.compiled.Validate(doc))
	doc["more"] = 1.0
	assert.Error(t, s.compiled.Validate(doc), "a field too many")
	delete(doc, "more")
	first(t, doc["edits"])["kind"] = "tolerance"
	assert.Error(t, s.compiled.Validate(doc), "a record of another kind than it says")
}

func TestTheCompareDocumentKeepsToItsSchema(t *testing.T) {
	s := readSchema(t, "compare")
	for _, p := range append(samplePairs(t), specialPairs(t)...) {
		s.accepts(t, report.ChangeJSON(p.change(), "a", "b"), p.name)
	}
	assert.Empty(t, s.unseen(), "in the schema, but never written")
	statuses := map[string]bool{}
	for _, p := range specialPairs(t) {
		for _, piece := range p.change().Pieces {
			statuses["piece "+string(piece.Status)] = true
			for _, e := range piece.Edges {
				statuses["edge "+string(e.Status)] = true
			}
		}
	}
	for _, status := range []string{"unchanged", "changed", "added", "removed", "renamed", "split", "joined"} {
		assert.True(t, statuses["piece "+status], status)
		assert.True(t, statuses["edge "+status], status)
	}
	assert.True(t, statuses["piece moved"])
}

func TestRandomComparisonsKeepToTheSchema(t *testing.T) {
	s := readSchema(t, "compare")
	var garments []*pattern.Garment
	for _, name := range sampleNames {
		garments = append(garments, sample(t, name))
	}
	garments = append(garments, filled(t))
	rapid.Check(t, func(t *rapid.T) {
		p := drawPair(t, garments)
		c := p.change()
		s.accepts(t, report.ChangeJSON(c, "a", "b"), "random")
		var out bytes.Buffer
		require.NoError(t, report.HTML(&out, report.Page{Change: c}))
		require.NoError(t, report.Markdown(&out, report.Page{Change: c}))
		text := report.Text{W: &out}
		text.Change(c, "a", "b")
		require.NoError(t, text.Err)
		assert.NotRegexp(t, `NaN|Inf\b`, out.String())
	})
}

func TestTheOtherDocumentsKeepToTheirSchemas(t *testing.T) {
	walk, findings, values := readSchema(t, "walk"), readSchema(t, "check"), readSchema(t, "measure")
	for _, name := range sampleNames {
		g := sample(t, name)
		walk.accepts(t, report.WalkJSON(g, walksOf(t, g)), name)
		findings.accepts(t, report.CheckJSON(check.Run(check.Input{Garment: g})), name)
		for _, m := range []measure.Measure{{Kind: "girth"}, {Kind: "gap", Closure: g.Closures[0].Name}, {Kind: "seam", Seam: g.Seams[0].Name}} {
			list, err := m.Eval(measure.Input{Garment: g})
			require.NoError(t, err)
			values.accepts(t, report.ValuesJSON(list), name)
		}
	}
	eased := sample(t, "waistcoat--03-gusset")
	for _, notch := range []struct {
		piece, edge string
	}{{"side-back", "back"}, {"back", "front"}} {
		p := eased.Piece(notch.piece)
		for _, level := range []string{"waist", "bust"} {
			p.Notches = append(p.Notches, pattern.Notch{Name: level, Edge: pattern.Mention{Name: notch.edge}, On: pattern.Spot{Level: level}})
		}
	}
	eased.Seams[4].Eases = []pattern.Ease{{Amount: 1.2, From: "waist", To: "bust"}}
	eased.Accepted = []pattern.Accepted{{ID: "seam.differs", Subject: eased.Seams[4].Name, Amount: 9, Reason: "eased in"}}
	walk.accepts(t, report.WalkJSON(eased, walksOf(t, eased)), "eased")
	findings.accepts(t, report.CheckJSON(diag.List{{ID: "x", Amount: math.NaN(), Parts: []diag.Part{{At: "p.m", Amount: 2}}, Hint: "do", Place: diag.Place{File: "f", Line: 3, Column: 2, Piece: "p", Edge: "e", OnEdge: true, At: 4, X: -1, Y: 2.5, HasPoint: true},
		Related: []diag.Related{{Text: "there", Place: diag.Place{Garment: "g", File: "f", Line: 3, Column: 2, Piece: "p", Edge: "e", OnEdge: true, At: 4, X: -1, Y: 2.5, HasPoint: true}}}}}), "by hand")
	assert.Empty(t, walk.unseen())
	assert.Empty(t, findings.unseen())
	assert.Empty(t, values.unseen())
}
