package match_test

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
)

// drawPiece draws a star-shaped outline. Its radii grow from corner to corner,
// and with seed, so that no turn and no other piece lays it on itself.
func drawPiece(t *rapid.T, name string, seed int) *pattern.Piece {
	n := rapid.IntRange(3, 8).Draw(t, "corners")
	p := &pattern.Piece{Name: name}
	at := make([]curve.Point, n)
	for i := range n {
		turn := curve.Rotate(2 * math.Pi * float64(i) / float64(n))
		r := 60 + 17*float64(i) + 5*float64(seed) + float64(rapid.IntRange(0, 4000).Draw(t, "radius"))/1000
		at[i] = pattern.Round(turn.Apply(curve.Pt(r, 0)))
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", i), At: at[i]})
	}
	for i := range n {
		e := pattern.Edge{Name: fmt.Sprintf("e%d", i)}
		if rapid.Bool().Draw(t, "curved") {
			e.Segs = pattern.SegsOf(curve.Path{bent(t, at[i], at[(i+1)%n])})
		}
		p.Edges = append(p.Edges, e)
	}
	return p
}

func bent(t *rapid.T, a, b curve.Point) curve.Segment {
	push := func(what string) curve.Point {
		return b.Sub(a).Left().Mul(float64(rapid.IntRange(-200, 200).Draw(t, what)) / 1000)
	}
	return curve.Cubic(a, pattern.Round(a.Lerp(b, 1.0/3).Add(push("handle"))), pattern.Round(a.Lerp(b, 2.0/3).Add(push("handle"))), b)
}

// answer is what was done to a piece: for each later edge the earlier one.
type answer map[string]string

// alterEdges renames, splits, turns and restarts a piece at random, and tells
// what it did: the earlier name of each later edge.
func alterEdges(t *rapid.T, a *pattern.Piece) (b *pattern.Piece, is answer, moved bool) {
	b, is = pattern.Clone(a), answer{}
	order := rapid.Permutation(indices(len(a.Edges))).Draw(t, "names")
	for i, k := range order {
		if rapid.Bool().Draw(t, "rename") {
			b.Edges[i].Name = fmt.Sprintf("x%d", k)
		} else {
			b.Edges[i].Name = fmt.Sprintf("y%d", i)
		}
	}
	if rapid.Bool().Draw(t, "swap names") {
		for i, k := range order {
			b.Edges[i].Name = a.Edges[k].Name
		}
	}
	for i := range b.Edges {
		is[b.Edges[i].Name] = a.Edges[i].Name
	}
	for range rapid.IntRange(0, 2).Draw(t, "splits") {
		i := rapid.IntRange(0, len(b.Edges)-1).Draw(t, "split")
		if len(b.EdgePath(i)) != 1 {
			continue
		}
		n := len(b.Edges)
		old := b.Edges[i].Name
		first, second := fmt.Sprintf("s%d", n), fmt.Sprintf("t%d", n)
		b = cut(b, i, rapid.Float64Range(0.3, 0.7).Draw(t, "at"), fmt.Sprintf("k%d", n), first, second)
		is[first], is[second] = is[old], is[old]
		delete(is, old)
	}
	b = rotated(b, rapid.IntRange(0, len(b.Corners)-1).Draw(t, "start"))
	m := drawMovement(t)
	return mapped(b, m), is, m != curve.Identity()
}

// drawMovement draws none, or one well above the step of a file: below that
// the rounding of a split decides whether an edge lies where it lay.
func drawMovement(t *rapid.T) curve.Affine {
	x, y := rapid.IntRange(10, 90000).Draw(t, "x"), rapid.IntRange(-90000, 90000).Draw(t, "y")
	shift := curve.Translate(float64(x)/1000, float64(y)/1000)
	switch rapid.IntRange(0, 2).Draw(t, "movement") {
	case 0:
		return curve.Identity()
	case 1:
		return shift
	}
	turn := rapid.Float64Range(0.001, 6.28).Draw(t, "turn")
	return curve.Rotate(turn).Then(shift)
}

func indices(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// stillMostly tells whether enough whole edges are left for a movement to show:
// Register needs more than half of the outline.
func stillMostly(a *pattern.Piece, is answer) bool {
	parts := map[string]int{}
	for _, old := range is {
		parts[old]++
	}
	kept, total, count := 0.0, 0.0, 0
	for i, e := range a.Edges {
		l := a.EdgePath(i).Length(1e-6)
		total += l
		if parts[e.Name] == 1 {
			kept += l
			count++
		}
	}
	return count >= 2 && 2*kept > total+1
}

// The identity that was applied is found again, in both directions.
func TestAppliedEdgeIdentityIsFoundAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawPiece(t, "p", 0)
		b, is, moved := alterEdges(t, a)
		if moved && !stillMostly(a, is) {
			return
		}
		list := match.Edges(a, b, match.Options{})
		assertOnce(t, a, b, list)
		for _, m := range list {
			assert.Len(t, m.Before, 1)
			assert.True(t, m.Lies)
			for _, j := range m.After {
				assert.Equal(t, is[b.Edges[j].Name], a.Edges[m.Before[0]].Name)
			}
		}
		assert.Equal(t, sides(list, false), sides(match.Edges(b, a, match.Options{}), true))
	})
}

// sides writes matches down without regard to order; turned swaps the versions.
func sides(list []match.EdgeMatch, turned bool) []string {
	var out []string
	for _, m := range list {
		before, after, fate := m.Before, m.After, m.Fate
		if turned {
			before, after, fate = after, before, opposite(fate)
		}
		out = append(out, fmt.Sprint(fate, before, after))
	}
	sort.Strings(out)
	return out
}

func opposite(f match.Fate) match.Fate {
	switch f {
	case match.Split:
		return match.Joined
	case match.Joined:
		return match.Split
	case match.Added:
		return match.Removed
	case match.Removed:
		return match.Added
	}
	return f
}

// drawHostile draws an outline that no maker would draw: few corners, points
// that coincide, names that recur, a ring that lacks a corner.
func drawHostile(t *rapid.T) *pattern.Piece {
	n := rapid.IntRange(0, 6).Draw(t, "corners")
	number := rapid.SampledFrom([]float64{0, 0, 0.001, 0.0005, 1, 10, 10.001, -10, 1e5, -1e5})
	point := func() curve.Point { return curve.Pt(number.Draw(t, "x"), number.Draw(t, "y")) }
	name := rapid.SampledFrom([]string{"a", "b", "c", "d", ""})
	p := &pattern.Piece{Name: "p", NoLevels: rapid.Bool().Draw(t, "no levels")}
	for range n {
		p.Corners = append(p.Corners, pattern.Corner{Name: name.Draw(t, "corner"), Was: name.Draw(t, "was"), At: point()})
	}
	if rapid.IntRange(0, 9).Draw(t, "broken") == 0 {
		n++
	}
	for range n {
		e := pattern.Edge{Name: name.Draw(t, "edge"), Was: name.Draw(t, "was")}
		for range rapid.IntRange(0, 2).Draw(t, "segments") {
			e.Segs = append(e.Segs, pattern.Seg{Curve: rapid.Bool().Draw(t, "curve"), H1: point(), H2: point(), To: point()})
		}
		if len(e.Segs) > 0 {
			e.Segs[len(e.Segs)-1].ToCorner = true
		}
		p.Edges = append(p.Edges, e)
	}
	for range rapid.IntRange(0, 3).Draw(t, "notches") {
		on := pattern.Spot{Kind: pattern.FromCorner, Corner: name.Draw(t, "from"), Distance: number.Draw(t, "distance")}
		p.Notches = append(p.Notches, pattern.Notch{Name: name.Draw(t, "notch"), Edge: pattern.Mention{Name: name.Draw(t, "on")}, On: on})
		p.Marks = append(p.Marks, pattern.Mark{Kind: pattern.Drill, Name: name.Draw(t, "mark"), At: point()})
	}
	return p
}

func TestEveryPartAppearsOnceWhateverThePieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawHostile(t), drawHostile(t)
		edges := match.Edges(a, b, match.Options{})
		assertOnce(t, a, b, edges)
		assertEach(t, len(a.Corners), len(b.Corners), match.Corners(a, b, edges, match.Options{}))
		ga, gb := garment(a), garment(b)
		assertEach(t, len(a.Notches), len(b.Notches), match.Notches(ga, gb, a, b, edges, match.Options{}))
		assertEach(t, len(a.Marks), len(b.Marks), match.Marks(a, b, match.Options{}))
		fit, _ := match.Register(a, b, match.Options{})
		assert.False(t, math.IsNaN(fit.Angle+fit.Shift.X+fit.Shift.Y))
		gb.Pieces[0].Name = "q"
		assertPieces(t, ga, gb, match.Pieces(ga, gb, match.Options{}))
	})
}

// Whichever version is called the later one, the same parts are the same.
func TestSwappingTheVersionsSwapsTheFates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawHostile(t), drawHostile(t)
		if rapid.Bool().Draw(t, "sound") {
			a, b = drawPiece(t, "p", 0), drawPiece(t, "p", rapid.IntRange(0, 1).Draw(t, "seed"))
		}
		for _, p := range []*pattern.Piece{a, b} {
			unique(p)
			for i := range p.Edges {
				p.Edges[i].Was = ""
			}
			for i := range p.Corners {
				p.Corners[i].Was = ""
			}
		}
		assert.Equal(t, sides(match.Edges(a, b, match.Options{}), false), sides(match.Edges(b, a, match.Options{}), true))
	})
}

func assertEach(t *rapid.T, before, after int, list []match.PartMatch) {
	a, b := make([]int, before), make([]int, after)
	for _, m := range list {
		if m.Before >= 0 {
			a[m.Before]++
		}
		if m.After >= 0 {
			b[m.After]++
		}
	}
	for _, n := range append(a, b...) {
		assert.Equal(t, 1, n)
	}
}

func assertPieces(t *rapid.T, a, b *pattern.Garment, list []match.PieceMatch) {
	seen := map[*pattern.Piece]int{}
	for _, m := range list {
		assert.True(t, len(m.Before) <= 1 || len(m.After) <= 1)
		for _, p := range append(append([]*pattern.Piece{}, m.Before...), m.After...) {
			seen[p]++
		}
	}
	for _, p := range append(append([]*pattern.Piece{}, a.Pieces...), b.Pieces...) {
		assert.Equal(t, 1, seen[p])
	}
}

func TestAPieceIsTheSameAsItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawHostile(t)
		if rapid.Bool().Draw(t, "sound") {
			a = drawPiece(t, "p", 1)
		}
		unique(a)
		b := pattern.Clone(a)
		edges := match.Edges(a, b, match.Options{})
		for _, m := range edges {
			assert.Equal(t, match.Same, m.Fate)
			assert.Equal(t, m.Before, m.After)
		}
		for _, list := range [][]match.PartMatch{match.Corners(a, b, edges, match.Options{}), match.Marks(a, b, match.Options{}),
			match.Notches(garment(a), garment(b), a, b, edges, match.Options{})} {
			for _, m := range list {
				assert.Equal(t, match.Same, m.Fate)
			}
		}
	})
}

// unique gives the parts names of their own, as a file must.
func unique(p *pattern.Piece) {
	for i := range p.Corners {
		p.Corners[i].Name = fmt.Sprintf("c%d", i)
	}
	for i := range p.Edges {
		p.Edges[i].Name = fmt.Sprintf("e%d", i)
	}
	for i := range p.Notches {
		p.Notches[i].Name = fmt.Sprintf("n%d", i)
		p.Marks[i].Name = fmt.Sprintf("m%d", i)
	}
}

// alterPieces renames, halves and moves the pieces of a garment, and gives for
// each later name the earlier one.
func alterPieces(t *rapid.T, a *pattern.Garment) (*pattern.Garment, answer) {
	b := &pattern.Garment{Half: a.Half, Levels: a.Levels}
	is := answer{}
	add := func(p *pattern.Piece, from string) {
		b.Pieces = append(b.Pieces, p)
		is[p.Name] = from
	}
	for i, p := range a.Pieces {
		q := pattern.Clone(p)
		what := rapid.SampledFrom([]string{"keep", "rename", "rename with was", "split", "split, one keeps the name", "split with was"}).Draw(t, "what")
		if p.NoLevels && what != "keep" && what[0] != 's' {
			q = mapped(q, drawMovement(t))
		}
		x, y := fmt.Sprintf("x%d", 9-i), fmt.Sprintf("y%d", i)
		switch what {
		case "keep":
			add(q, p.Name)
		case "rename":
			add(called(x, q), p.Name)
		case "rename with was":
			add(was(p.Name, called(x, q)), p.Name)
		default:
			first, second := halves(q)
			switch what {
			case "split":
				first, second = called(x, first), called(y, second)
			case "split, one keeps the name":
				second = called(y, second)
			case "split with was":
				first, second = was(p.Name, called(x, first)), was(p.Name, called(y, second))
			}
			add(first, p.Name)
			add(second, p.Name)
		}
	}
	b.SortPieces()
	return b, is
}

// halves cuts a piece straight from its first corner to a middle one.
func halves(p *pattern.Piece) (*pattern.Piece, *pattern.Piece) {
	k := len(p.Corners) / 2
	if len(p.Corners) == 3 {
		p = cut(p, 1, 0.5, "k", "s", "t")
		k = 2
	}
	x, y := pattern.Clone(p), pattern.Clone(p)
	x.Corners, x.Edges = x.Corners[:k+1], append(x.Edges[:k:k], pattern.Edge{Name: "cut"})
	y.Corners = append(y.Corners[k:len(y.Corners):len(y.Corners)], p.Corners[0])
	y.Edges = append(y.Edges[k:len(y.Edges):len(y.Edges)], pattern.Edge{Name: "cut"})
	return x, y
}

func TestAppliedPieceIdentityIsFoundAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pieces []*pattern.Piece
		for i := range rapid.IntRange(1, 5).Draw(t, "pieces") {
			p := drawPiece(t, fmt.Sprintf("p%d", i), 1+i)
			p.NoLevels = rapid.Bool().Draw(t, "no levels")
			pieces = append(pieces, p)
		}
		a := garment(pieces...)
		b, is := alterPieces(t, a)
		list := match.Pieces(a, b, match.Options{})
		assertPieces(t, a, b, list)
		for _, m := range list {
			assert.Len(t, m.Before, 1, "%s %v", m.Fate, m.After)
			for _, q := range m.After {
				assert.Equal(t, is[q.Name], m.Before[0].Name)
			}
		}
		assert.Equal(t, namesOf(list, false), namesOf(match.Pieces(b, a, match.Options{}), true))
	})
}

func namesOf(list []match.PieceMatch, turned bool) []string {
	var out []string
	for _, m := range list {
		if turned {
			m.Before, m.After, m.Fate = m.After, m.Before, opposite(m.Fate)
		}
		out = append(out, tellPieces([]match.PieceMatch{m})...)
	}
	slices.Sort(out)
	return out
}
