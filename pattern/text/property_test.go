package text

import (
	"regexp"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
)

func TestReadingWhatWasPrintedGivesTheSameModel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := genModel().Draw(t, "model")
		src := printAny(m.model)
		got, problems := readAny(m.path, src)
		require.Empty(t, problems, "%s", src)
		require.True(t, equalAny(m.model, got), "%s", src)
		require.Equal(t, string(src), string(printAny(got)))
	})
}

func TestTidyIsDoneOnceAndLosesNoComment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := genModel().Draw(t, "model")
		src := untidy(t, printAny(m.model))
		once, problems := Tidy(m.path, src)
		require.Empty(t, problems, "%s", src)
		twice, problems := Tidy(m.path, once)
		require.Empty(t, problems)
		require.Equal(t, string(once), string(twice))
		require.Equal(t, comments(src), comments(once), "%s\n->\n%s", src, once)

		got, problems := readAny(m.path, once)
		require.Empty(t, problems)
		if p, ok := m.model.(*pattern.Piece); ok {
			Lengths(p)
		}
		require.True(t, equalAny(m.model, got))
	})
}

// comments lists the numbered comments of a text, sorted.
func comments(src []byte) []string {
	var list []string
	for _, c := range regexp.MustCompile(`(?m)#~~c\d+.*$`).FindAllString(string(src), -1) {
		list = append(list, strings.TrimRight(c, " "))
	}
	sort.Strings(list)
	return list
}

func TestUpdateWithTheSameModelChangesNoByte(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := genModel().Draw(t, "model")
		src := untidy(t, printAny(m.model))
		if rapid.Bool().Draw(t, "no line end") {
			src = []byte(strings.TrimRight(string(src), "\n"))
		}
		got, problems := readAny(m.path, src)
		require.Empty(t, problems)
		out, err := Update(m.path, src, got)
		require.NoError(t, err)
		require.Equal(t, string(src), string(out))
	})
}

// Any model can be written over any text of its kind, and no comment is lost.
func TestUpdateWritesAnyModelOverAnyText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var path string
		var old, model any
		if rapid.Bool().Draw(t, "piece") {
			path = "p.piece"
			old, model = genPiece("p").Draw(t, "old"), genPiece("p").Draw(t, "new")
			if rapid.Bool().Draw(t, "alike") {
				model = alterPiece(t, old.(*pattern.Piece))
			}
		} else {
			path = "g.garment"
			old, model = genGarment("g").Draw(t, "old"), genGarment("g").Draw(t, "new")
			if rapid.Bool().Draw(t, "alike") {
				g := pattern.Clone(old.(*pattern.Garment))
				g.Seams = shuffled(t, append(g.Seams, model.(*pattern.Garment).Seams...))
				g.Seams = distinct(g.Seams, func(s pattern.Seam) string { return s.Name })
				model = g
			}
		}
		src := untidy(t, printAny(old))
		out, err := Update(path, src, model)
		require.NoError(t, err, "%s", src)
		got, problems := readAny(path, out)
		require.Empty(t, problems)
		require.True(t, equalAny(model, got), "%s", out)
		require.Equal(t, comments(src), comments(out), "%s\n->\n%s", src, out)
		require.True(t, strings.HasSuffix(string(out), "\n"))
		switch m := model.(type) {
		case *pattern.Piece:
			needsNoFallback(t, pieceGrammar(), path, src, m)
		case *pattern.Garment:
			needsNoFallback(t, garmentGrammar(), path, src, m)
		}
	})
}

// needsNoFallback makes sure that the careful edit, not the canonical rewrite
// that stands in for it, gives the right text.
func needsNoFallback[M any](t *rapid.T, g grammar[M], path string, src []byte, m *M) {
	doc := &document{}
	old, problems, ok := read(g, path, src, doc)
	require.True(t, ok)
	require.Empty(t, problems)
	e := newEdit(doc, units(g, old), units(g, g.follow(old, m)))
	require.True(t, says(g, path, e.apply(), m), "%s", e.apply())
	canonical := e.canonical(versionText(g.kind))
	require.True(t, says(g, path, canonical, m), "%s", canonical)
	require.Equal(t, comments(src), comments(canonical))
}

// alterPiece changes, removes, adds, renames and reorders a few things.
func alterPiece(t *rapid.T, old *pattern.Piece) *pattern.Piece {
	p := pattern.Clone(old)
	p.Notches = shuffled(t, p.Notches)
	p.Marks = shuffled(t, p.Marks)
	i := rapid.IntRange(0, len(p.Edges)-1).Draw(t, "edge")
	switch rapid.IntRange(0, 4).Draw(t, "how") {
	case 0:
		p.Edges[i].Segs = drawSegs(t, 1)
		p.Edges[i].Segs[len(p.Edges[i].Segs)-1].ToCorner = true
		p.Edges[i].Segs[len(p.Edges[i].Segs)-1].To = pattern.Seg{}.To
	case 1:
		p.Edges[i].Name += "x"
	case 2:
		p.Corners = append(p.Corners[i:len(p.Corners):len(p.Corners)], p.Corners[:i]...)
		p.Edges = append(p.Edges[i:len(p.Edges):len(p.Edges)], p.Edges[:i]...)
	case 3:
		j := rapid.IntRange(0, len(p.Edges)-1).Draw(t, "other")
		p.Corners[i], p.Corners[j] = p.Corners[j], p.Corners[i]
	case 4:
		p.Corners = append(p.Corners[:i:i], append([]pattern.Corner{{Name: "new-corner"}}, p.Corners[i:]...)...)
		p.Edges = append(p.Edges[:i:i], append([]pattern.Edge{{Name: "new-edge"}}, p.Edges[i:]...)...)
		p.Corners = distinct(p.Corners, func(k pattern.Corner) string { return k.Name })
	}
	return p
}

func shuffled[T any](t *rapid.T, list []T) []T {
	if len(list) == 0 {
		return list
	}
	return rapid.Permutation(list).Draw(t, "order")
}

func distinct[T any](list []T, name func(T) string) []T {
	var out []T
	seen := map[string]bool{}
	for _, v := range list {
		if !seen[name(v)] {
			seen[name(v)] = true
			out = append(out, v)
		}
	}
	return out
}

// Only the lines of the edge that was altered may differ.
func TestUpdateOfOneEdgeLeavesAllOtherLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		old := genPiece("p").Draw(t, "piece")
		src := untidy(t, PrintPiece(old))
		p, problems := ReadPiece("p.piece", src)
		require.Empty(t, problems)
		i := rapid.IntRange(0, len(p.Edges)-1).Draw(t, "edge")
		first, last := p.Edges[i].Place.Line, p.Edges[i].Place.Line
		for _, s := range p.Edges[i].Segs {
			last = s.Place.Line
		}
		p.Edges[i].Segs = []pattern.Seg{{Curve: true, ToCorner: true}}
		p.Edges[i].Length = pattern.Some(12.5)
		out, err := Update("p.piece", src, p)
		require.NoError(t, err)
		before, after := strings.Split(string(src), "\n"), strings.Split(string(out), "\n")
		assert.Equal(t, before[:first-1], after[:first-1])
		tail := len(before) - last
		assert.Equal(t, before[last:], after[len(after)-tail:])
	})
}

func TestLineDifferenceRebuildsBothTexts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := rapid.SliceOfN(rapid.SampledFrom([]string{"a", "b", "c", "d", ""}), 0, 12)
		before, after := lines.Draw(t, "before"), lines.Draw(t, "after")
		var b, a []string
		for _, h := range diffLines(before, after) {
			b = append(append(b, h.same...), h.removed...)
			a = append(append(a, h.same...), h.added...)
		}
		assert.Equal(t, strings.Join(before, "\n"), strings.Join(b, "\n"))
		assert.Len(t, b, len(before))
		assert.Equal(t, strings.Join(after, "\n"), strings.Join(a, "\n"))
		assert.Len(t, a, len(after))
	})
}
