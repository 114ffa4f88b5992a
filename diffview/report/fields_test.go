package report

import (
	"encoding/json"
	"os"
	"reflect"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// published says which part of which schema describes a type.
var published = []struct {
	file, def string
	of        reflect.Type
}{
	{"compare", "", reflect.TypeFor[jsonChange]()},
	{"compare", "fault", reflect.TypeFor[jsonFault]()},
	{"compare", "piece-change", reflect.TypeFor[jsonPiece]()},
	{"compare", "edge-change", reflect.TypeFor[jsonEdge]()},
	{"compare", "part-change", reflect.TypeFor[jsonPart]()},
	{"compare", "moved", reflect.TypeFor[jsonMoved]()},
	{"compare", "seam-change", reflect.TypeFor[jsonSeamChange]()},
	{"compare", "edit", reflect.TypeFor[jsonEdit]()},
	{"walk", "seam", reflect.TypeFor[jsonSeam]()},
	{"walk", "side", reflect.TypeFor[jsonSide]()},
	{"walk", "segment", reflect.TypeFor[jsonSegment]()},
	{"check", "problem", reflect.TypeFor[jsonProblem]()},
	{"check", "related", reflect.TypeFor[jsonRelated]()},
}

func propertiesOf(t *testing.T, file, def string) []string {
	src, err := os.ReadFile(file + ".schema.json")
	require.NoError(t, err)
	type object struct {
		Properties map[string]any
		Required   []string
	}
	var doc struct {
		object
		Defs map[string]object `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(src, &doc))
	found := doc.object
	if def != "" {
		found = doc.Defs[def]
	}
	var names []string
	for k := range found.Properties {
		names = append(names, k)
	}
	sort.Strings(names)
	sort.Strings(found.Required)
	assert.Equal(t, names, found.Required, "%s, %s: every field is always there", file, def)
	return names
}

func fieldNames(of reflect.Type) []string {
	var out []string
	for i := range of.NumField() {
		f := of.Field(i)
		if f.Anonymous {
			out = append(out, fieldNames(f.Type)...)
			continue
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		out = append(out, name)
	}
	sort.Strings(out)
	return out
}

func TestEveryFieldIsInItsSchema(t *testing.T) {
	for _, p := range published {
		assert.Equal(t, propertiesOf(t, p.file, p.def), fieldNames(p.of), "%s, %s", p.file, p.def)
	}
}

// The records of edits are the model's own types: each of them, found from the
// garment downwards, stands in the schema with all its fields.
func TestEveryFieldOfTheModelIsInTheSchema(t *testing.T) {
	done := map[reflect.Type]bool{}
	var visit func(of reflect.Type)
	visit = func(of reflect.Type) {
		switch {
		case of.Kind() == reflect.Pointer || of.Kind() == reflect.Slice:
			visit(of.Elem())
			return
		case of.Kind() != reflect.Struct || done[of]:
			return
		case of == reflect.TypeFor[diag.Place]() || of == reflect.TypeFor[pattern.Opt]() || of.Name() == "Point":
			return
		}
		done[of] = true
		var names []string
		for i := range of.NumField() {
			if f := of.Field(i); f.Type != reflect.TypeFor[diag.Place]() {
				names = append(names, lowered(f.Name))
				visit(f.Type)
			}
		}
		sort.Strings(names)
		assert.Equal(t, names, propertiesOf(t, "compare", lowered(of.Name())), of.Name())
	}
	visit(reflect.TypeFor[pattern.Garment]())
	assert.Greater(t, len(done), 20, "the walk over the model found its types")
}
