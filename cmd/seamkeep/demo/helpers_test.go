package demo

import (
	"encoding/json"
	"os"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

// levels from the top down, as the tables of these tests have them.
var levels = [...]string{"bust", "under-bust", "waist", "high-hip", "low-hip"}

// byName gives the versions by their names.
func byName(t *testing.T) map[string]Version {
	t.Helper()
	list, err := Versions()
	require.NoError(t, err)
	m := map[string]Version{}
	for _, v := range list {
		m[v.Name] = v
	}
	return m
}

// trees gives every tree of the story by name; what was tried first is called
// "gusset, first try".
func trees(t *testing.T) map[string]map[string][]byte {
	t.Helper()
	m := map[string]map[string][]byte{}
	for name, v := range byName(t) {
		m[name] = v.Files
		if v.Refused != nil {
			m[name+", first try"] = v.Refused.Files
		}
	}
	return m
}

// garment reads a tree, which must have no problem at all.
func garment(t *testing.T, tree map[string][]byte) *pattern.Garment {
	t.Helper()
	require.NotEmpty(t, tree)
	fsys := fstest.MapFS{}
	for name, src := range tree {
		fsys[name] = &fstest.MapFile{Data: src}
	}
	folder, problems := text.Load(fsys, ".")
	for _, p := range problems {
		t.Errorf("%s: %s", p.Place, p.Message())
	}
	require.NotNil(t, folder.Garment)
	return folder.Garment
}

// garmentOf reads a tree of the story by name.
func garmentOf(t *testing.T, name string) *pattern.Garment {
	t.Helper()
	return garment(t, trees(t)[name])
}

func body(t *testing.T) *pattern.Body {
	t.Helper()
	path, src := Body()
	b, problems := text.ReadBody(path, src)
	require.Empty(t, problems)
	return b
}

// eval answers a measure that must have exactly one known value.
func eval(t *testing.T, g *pattern.Garment, words string) float64 {
	t.Helper()
	values := evalAll(t, g, words)
	require.Len(t, values, 1, words)
	return values[0].Value
}

func evalAll(t *testing.T, g *pattern.Garment, words string) []measure.Value {
	t.Helper()
	m, err := measure.Parse(words)
	require.NoError(t, err)
	values, err := m.Eval(measure.Input{Garment: g, Body: body(t)})
	require.NoError(t, err)
	for _, v := range values {
		require.True(t, v.Known, "%s: %s", words, v.Why)
	}
	return values
}

func walk(t *testing.T, g *pattern.Garment, seam string) *measure.Walk {
	t.Helper()
	require.NotNil(t, g.Seam(seam), seam)
	w, problem := measure.WalkSeam(g, g.Seam(seam), measure.Accuracy)
	require.Nil(t, problem)
	return w
}

type point [2]float64

// state is the front and back edges of all panels as they were worked out
// before anything was drawn.
type state struct {
	Step    string
	Overlap float64
	Gap     map[string]float64
	Pieces  map[string]struct{ Front, Back []point }
}

func states(t *testing.T) []state {
	t.Helper()
	src, err := os.ReadFile("testdata/states.json")
	require.NoError(t, err)
	var file struct{ States []state }
	require.NoError(t, json.Unmarshal(src, &file))
	require.Len(t, file.States, 10)
	return file.States
}

// treeOfStep tells which tree of the story shows a state.
func treeOfStep(step string) string {
	switch step {
	case "03a-gusset-untrued":
		return "gusset, first try"
	case "06a-seam-move-untrued":
		return "seam-move, first try"
	}
	return step[len("00-"):]
}
