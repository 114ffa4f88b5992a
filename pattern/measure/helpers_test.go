package measure_test

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

const inch = 25.4 // mm

// read gives the garment of an archive: the file "garment", every other one a
// piece, all without their first line.
func read(t testing.TB, archive string) *pattern.Garment {
	t.Helper()
	fsys := fstest.MapFS{}
	heads := regexp.MustCompile(`(?m)^-- (.*) --\n`)
	names := heads.FindAllStringSubmatch(archive, -1)
	for i, body := range heads.Split(archive, -1)[1:] {
		name, head := "pieces/"+names[i][1]+".piece", "seamkeep piece 1\n"
		if names[i][1] == "garment" {
			name, head = "g.garment", "seamkeep garment 1\n"
		}
		fsys[name] = &fstest.MapFile{Data: []byte(head + body)}
	}
	folder, problems := text.Load(fsys, ".")
	for _, p := range problems {
		t.Errorf("%s: %s", p.Place, p.Message())
	}
	require.NotNil(t, folder.Garment)
	return folder.Garment
}

// sample gives a garment that several packages share, with its body.
func sample(t testing.TB, name string) (*pattern.Garment, *pattern.Body) {
	t.Helper()
	dir := filepath.Join("..", "..", "testdata", "patterns", name)
	folder, problems := text.Load(os.DirFS(dir), ".")
	require.Empty(t, problems)
	src, err := os.ReadFile(filepath.Join(dir, "bodies", "ringer.body"))
	require.NoError(t, err)
	b, problems := text.ReadBody("bodies/ringer.body", src)
	require.Empty(t, problems)
	return folder.Garment, b
}

// values answers a measure.
func values(t testing.TB, g *pattern.Garment, b *pattern.Body, words string) []measure.Value {
	t.Helper()
	m, err := measure.Parse(words)
	require.NoError(t, err)
	list, err := m.Eval(measure.Input{Garment: g, Body: b})
	require.NoError(t, err, words)
	return list
}

// ask answers a measure that has one known value.
func ask(t testing.TB, g *pattern.Garment, b *pattern.Body, words string) float64 {
	t.Helper()
	list := values(t, g, b, words)
	require.Len(t, list, 1, words)
	require.True(t, list[0].Known, "%s: %s", words, list[0].Why)
	return list[0].Value
}

// walkOf walks a seam that can be walked.
func walkOf(t testing.TB, g *pattern.Garment, seam string) *measure.Walk {
	t.Helper()
	require.NotNil(t, g.Seam(seam), seam)
	w, problem := measure.WalkSeam(g, g.Seam(seam), measure.Accuracy)
	require.Nil(t, problem)
	return w
}

// ring makes a piece of a closed path, one edge a segment: e0 begins at c0.
func ring(name string, path curve.Path) *pattern.Piece {
	p := &pattern.Piece{Name: name}
	for i, s := range path {
		n := string(rune('a' + i))
		p.Corners = append(p.Corners, pattern.Corner{Name: "c" + n, At: s.P0})
		e := pattern.Edge{Name: "e" + n}
		if !s.Straight {
			e.Segs = []pattern.Seg{{Curve: true, H1: s.P1, H2: s.P2, ToCorner: true}}
		}
		p.Edges = append(p.Edges, e)
	}
	return p
}

// box gives the outline of an upright rectangle, anticlockwise from its upper
// left corner, as text: edges front, hem, back and top.
func box(left, bottom, right, top string) string {
	return "corner tf " + left + " " + top + "\nedge front\ncorner hf " + left + " " + bottom + "\nedge hem\n" +
		"corner hb " + right + " " + bottom + "\nedge back\ncorner tb " + right + " " + top + "\nedge top\n"
}
