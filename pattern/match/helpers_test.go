package match_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
	"seamkeep/pattern/text"
)

// panel is the piece that most cases start from: a straight front, a hem, a
// curved back of two segments, a curved top.
const panel = `seamkeep piece 1
cloth "canvas" 1 pair

corner top-front -13 168
edge front
corner hem-front -13 -112
edge hem
corner hem-back 53.78 -111.12
edge back
  curve 49 -80.7 40 -30.4 to 40 0
  curve 40 73.4 61.7 138 to corner
corner top-back 51.24 208.31
edge top
  curve 31.7 204 12 168 to corner

notch waist on front at waist
notch waist on back at waist
notch low on front 30 from hem-front
bone b1 width 7 from 10 -100 to 10 160
eyelet e1 0 100
drill d1 20 20
`

func readPiece(t testing.TB, name, src string) *pattern.Piece {
	t.Helper()
	p, problems := text.ReadPiece("pieces/"+name+".piece", []byte(src))
	require.Empty(t, problems)
	p.Name = name
	return p
}

// edited gives the panel with some of its text replaced, from and to in turn.
func edited(t testing.TB, fromTo ...string) *pattern.Piece {
	t.Helper()
	src := panel
	for i := 0; i < len(fromTo); i += 2 {
		require.Contains(t, src, fromTo[i])
		src = strings.Replace(src, fromTo[i], fromTo[i+1], 1)
	}
	return readPiece(t, "panel", src)
}

func names[T any](list []int, of []T, name func(T) string) string {
	out := make([]string, len(list))
	for k, i := range list {
		out[k] = name(of[i])
	}
	return strings.Join(out, "+")
}

func edgeName(e pattern.Edge) string { return e.Name }

// tell writes one match: "same front", "renamed front > side", "added top".
func tell(fate match.Fate, before, after string) string {
	switch {
	case after == "" || before == after:
		return string(fate) + " " + before
	case before == "":
		return string(fate) + " " + after
	}
	return fmt.Sprintf("%s %s > %s", fate, before, after)
}

func tellEdges(a, b *pattern.Piece, list []match.EdgeMatch) []string {
	var out []string
	for _, m := range list {
		out = append(out, tell(m.Fate, names(m.Before, a.Edges, edgeName), names(m.After, b.Edges, edgeName)))
	}
	return out
}

func tellParts[T any](a, b []T, name func(T) string, list []match.PartMatch) []string {
	var out []string
	for _, m := range list {
		var before, after string
		if m.Before >= 0 {
			before = name(a[m.Before])
		}
		if m.After >= 0 {
			after = name(b[m.After])
		}
		out = append(out, tell(m.Fate, before, after))
	}
	return out
}

func tellPieces(list []match.PieceMatch) []string {
	var out []string
	join := func(pieces []*pattern.Piece) string {
		var names []string
		for _, p := range pieces {
			names = append(names, p.Name)
		}
		return strings.Join(names, "+")
	}
	for _, m := range list {
		out = append(out, strings.TrimSpace(tell(m.Fate, join(m.Before), join(m.After))+" "+string(m.How)))
	}
	return out
}

// mapped gives a piece whose every point went through a map, on the step of a
// file.
func mapped(p *pattern.Piece, m curve.Affine) *pattern.Piece {
	c := pattern.Clone(p)
	to := func(q *curve.Point) { *q = pattern.Round(m.Apply(*q)) }
	segs := func(list []pattern.Seg) {
		for i := range list {
			to(&list[i].H1)
			to(&list[i].H2)
			if !list[i].ToCorner {
				to(&list[i].To)
			}
		}
	}
	for i := range c.Corners {
		to(&c.Corners[i].At)
	}
	for i := range c.Edges {
		segs(c.Edges[i].Segs)
	}
	for i := range c.Marks {
		to(&c.Marks[i].At)
		segs(c.Marks[i].Segs)
	}
	return c
}

// rotated starts the outline at another corner.
func rotated(p *pattern.Piece, by int) *pattern.Piece {
	c := pattern.Clone(p)
	c.Corners = append(c.Corners[by:len(c.Corners):len(c.Corners)], c.Corners[:by]...)
	c.Edges = append(c.Edges[by:len(c.Edges):len(c.Edges)], c.Edges[:by]...)
	return c
}

// cut splits an edge with one segment at a parameter, with a new corner there.
func cut(p *pattern.Piece, i int, t float64, corner, first, second string) *pattern.Piece {
	c := pattern.Clone(p)
	path := p.EdgePath(i)
	x, y := path[0].Split(t)
	at := pattern.Round(x.P3)
	x.P3, y.P0 = at, at
	rest := append(curve.Path{y}, path[1:]...)
	c.Corners = append(c.Corners[:i+1:i+1], append([]pattern.Corner{{Name: corner, At: at}}, p.Corners[i+1:]...)...)
	c.Edges = append(c.Edges[:i:i], append([]pattern.Edge{
		{Name: first, Segs: pattern.SegsOf(curve.Path{x})}, {Name: second, Segs: pattern.SegsOf(rest)}}, p.Edges[i+1:]...)...)
	return c
}

func polygon(name string, xy ...float64) *pattern.Piece {
	p := &pattern.Piece{Name: name}
	for i := 0; i < len(xy); i += 2 {
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", i/2+1), At: curve.Pt(xy[i], xy[i+1])})
		p.Edges = append(p.Edges, pattern.Edge{Name: fmt.Sprintf("e%d", i/2+1)})
	}
	return p
}

func garment(pieces ...*pattern.Piece) *pattern.Garment {
	g := &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist", Y: 0}, {Name: "bust", Y: 160}}}
	for _, p := range pieces {
		g.Pieces = append(g.Pieces, pattern.Clone(p))
	}
	g.SortPieces()
	return g
}

func called(name string, p *pattern.Piece) *pattern.Piece {
	c := pattern.Clone(p)
	c.Name = name
	return c
}

func was(name string, p *pattern.Piece) *pattern.Piece {
	c := pattern.Clone(p)
	c.Was = name
	return c
}

func freely(p *pattern.Piece) *pattern.Piece {
	c := pattern.Clone(p)
	c.NoLevels = true
	return c
}
