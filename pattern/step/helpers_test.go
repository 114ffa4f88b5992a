package step_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/cmd/seamkeep/demo"
	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/step"
	"seamkeep/pattern/text"
)

// place is where the steps of these tests stand.
func place() diag.Place { return diag.Place{File: "message", Line: 5, Column: 7} }

// version is one version of the demo's waistcoat.
type version struct {
	garment *pattern.Garment
	parent  string
	note    string
}

// story gives the versions by name, and what was tried before a seam was trued
// as "NAME, first try".
func story(t testing.TB) map[string]version {
	t.Helper()
	list, err := demo.Versions()
	require.NoError(t, err)
	out := map[string]version{}
	for _, v := range list {
		out[v.Name] = version{garmentOf(t, v.Files), v.Parent, v.Message}
		if v.Refused != nil {
			out[v.Name+", first try"] = version{garmentOf(t, v.Refused.Files), v.Parent, v.Message}
		}
	}
	return out
}

func garmentOf(t testing.TB, files map[string][]byte) *pattern.Garment {
	t.Helper()
	tree := fstest.MapFS{}
	for name, src := range files {
		tree[name] = &fstest.MapFile{Data: src}
	}
	folder, problems := text.Load(tree, ".")
	require.Empty(t, problems)
	return folder.Garment
}

// parse reads a step, which must be sound.
func parse(t testing.TB, words string) step.Step {
	t.Helper()
	s, problems := step.Parse(words, place())
	require.Empty(t, problems, words)
	return s
}

// lines gives claims as lines of a note.
func lines(claims []claim.Claim) []string {
	out := []string{}
	for _, c := range claims {
		out = append(out, c.Line())
	}
	return out
}

// untrue judges the claims of steps on a pair of versions and gives the lines
// that are not true, or cannot be told. The names of the steps must exist.
func untrue(t testing.TB, before, after *pattern.Garment, words ...string) []string {
	t.Helper()
	var list []step.Step
	for _, w := range words {
		s := parse(t, w)
		assert.Empty(t, step.Check(s, before, after), w)
		list = append(list, s)
	}
	claims := together(step.All(list, before))
	require.NotEmpty(t, claims)
	assert.Equal(t, claim.Only, claims[len(claims)-1].Kind, "it is said what alone changed")
	c := compare.Garments(before, after, compare.Options{})
	assert.Empty(t, claim.Check(c, claims))
	assert.Empty(t, claim.Contradictions(claims))
	out := []string{}
	for _, r := range claim.Judge(c, claims) {
		if !r.OK {
			out = append(out, r.Claim.Line())
			t.Log(r.Claim.Line(), "but", r.Measured, r.Unknown)
		}
	}
	return out
}

// together puts the claims of several steps together as a note does: changes of
// one measure are added, what stays yields to them, and Only is the union.
func together(parts [][]claim.Claim) []claim.Claim {
	only := claim.Claim{Kind: claim.Only}
	var out []claim.Claim
	at := map[measure.Measure]int{}
	for _, c := range slices.Concat(parts...) {
		i, known := at[c.Measure]
		switch {
		case c.Kind == claim.Only:
			for _, name := range c.Pieces {
				if !slices.Contains(only.Pieces, name) {
					only.Pieces = append(only.Pieces, name)
				}
			}
		case !known:
			at[c.Measure] = len(out)
			out = append(out, c)
		case out[i].Kind == claim.Keeps:
			out[i] = c
		case c.By.Set && out[i].By.Set:
			out[i].By.Value += c.By.Value
		}
	}
	return append(out, only)
}

// panel is a piece with straight sides given by the x of its front and back edge
// at the heights of the levels, from hem to top.
type panel struct {
	name        string
	front, back []float64
}

// heights are the levels of the skirt of these tests, from hem to top.
func heights() []float64 { return []float64{-200, -100, 0, 100, 200} }

// skirt makes a half garment of panels that are sewn front to back. Its levels
// are low -100, waist 0 and high 100; hem and top are straight and level.
func skirt(t testing.TB, panels ...panel) *pattern.Garment {
	t.Helper()
	files := map[string][]byte{}
	garment := "seamkeep garment 1\nhalf left\nlevel high 100\nlevel waist 0\nlevel low -100\naround"
	for _, p := range panels {
		garment += " " + p.name
		files["pieces/"+p.name+".piece"] = []byte(p.source())
	}
	garment += "\n"
	for i := 1; i < len(panels); i++ {
		a, b := panels[i-1].name, panels[i].name
		garment += fmt.Sprintf("seam %s-%s %s.back %s.front\n", a, b, a, b)
	}
	tops, hems := "run top", "run hem"
	for _, p := range panels {
		tops += " " + p.name + ".top"
		hems += " " + p.name + ".hem"
	}
	files["skirt.garment"] = []byte(garment + tops + "\n" + hems + "\nclosure back buttons " + panels[len(panels)-1].name + ".back overlap 20\n")
	return garmentOf(t, files)
}

func (p panel) source() string {
	y := heights()
	n := len(y) - 1
	var b strings.Builder
	at := func(x, y float64) string { return fmt.Sprintf("%g %g", pattern.RoundLength(x), y) }
	fmt.Fprintf(&b, "seamkeep piece 1\ncorner top-front %s\nedge front\n", at(p.front[n], y[n]))
	for i := n - 1; i > 0; i-- {
		fmt.Fprintf(&b, "  line to %s\n", at(p.front[i], y[i]))
	}
	fmt.Fprintf(&b, "  line to corner\ncorner hem-front %s\nedge hem\ncorner hem-back %s\nedge back\n", at(p.front[0], y[0]), at(p.back[0], y[0]))
	for i := 1; i < n; i++ {
		fmt.Fprintf(&b, "  line to %s\n", at(p.back[i], y[i]))
	}
	fmt.Fprintf(&b, "  line to corner\ncorner top-back %s\nedge top\n", at(p.back[n], y[n]))
	return b.String()
}

// straight gives a side at the same x at every height.
func straight(x float64) []float64 { return []float64{x, x, x, x, x} }
