package describe_test

import (
	"fmt"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/describe"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

// drawGarment makes a garment of panels as an import might give it, some of them
// named by the maker, with ticks, and a chain of sides that mostly agree.
func drawGarment(t *rapid.T) (*pattern.Garment, describe.Hints) {
	n := rapid.IntRange(1, 6).Draw(t, "panels")
	mm := func(what string, low, high int) float64 {
		return float64(rapid.IntRange(low*10, high*10).Draw(t, what)) / 10
	}
	var pieces []*pattern.Piece
	h := describe.Hints{SheetX: map[string]float64{}}
	top := mm("top", 60, 200)
	for i := range n {
		name := rapid.SampledFrom([]string{"p", "strap", "q"}).Draw(t, "name") + fmt.Sprintf("-%d", i)
		next := top + mm("rise", -4, 40)*float64(rapid.IntRange(0, 1).Draw(t, "rises"))
		right := mm("width", 30, 120)
		var p *pattern.Piece
		if rapid.Bool().Draw(t, "bent") {
			in := mm("in", 0, 12)
			p = ring(name, 0, top, in, 0, 0, -100, right, -100, right-in, 0, right, next)
		} else {
			p = ring(name, 0, top, 0, -100, right, -100, right, next)
		}
		for e := range p.Edges {
			if rapid.IntRange(0, 7).Draw(t, "named") == 0 {
				p.Edges[e].Name = rapid.SampledFrom([]string{"back", "front", fmt.Sprintf("own-%d", e)}).Draw(t, "own")
				if p.EdgeIndex(p.Edges[e].Name) != e {
					p.Edges[e].Name = fmt.Sprintf("own-%d", e)
				}
			}
			for k := range rapid.IntRange(0, 3).Draw(t, "ticks") {
				length := p.EdgePath(e).Length(measure.Accuracy)
				at := pattern.RoundLength(length * float64(rapid.IntRange(1, 19).Draw(t, "at")) / 20)
				notch := rapid.SampledFrom([]string{"n%d", "bell-%d"}).Draw(t, "notch")
				p.Notches = append(p.Notches, from(fmt.Sprintf(notch, k+1), p.Edges[e].Name, p.Corners[e].Name, at))
			}
		}
		pieces = append(pieces, p)
		h.SheetX[name] = mm("sheet", 0, 1000)
		top = next
	}
	g := garment(pieces...)
	g.Half = ""
	g.Levels = append(g.Levels, pattern.Level{Name: "bust", Y: 55})
	if rapid.Bool().Draw(t, "no levels") {
		g.Levels = nil
	}
	if rapid.Bool().Draw(t, "no sheet") {
		h = describe.Hints{}
	}
	return g, h
}

var madeUp = regexp.MustCompile(`^[ecn][0-9]+$`)

// Whatever the pieces: accepting all gives a garment without a fault of names, in
// which every seam's sides agree, no line has moved and no name of the maker's has
// changed; then only questions are left.
func TestAcceptingAllOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, h := drawGarment(t)
		before := pattern.Clone(g)
		list := describe.Propose(g, h)
		out, err := describe.Accept(g, list, nil, nil)
		require.NoError(t, err)
		require.True(t, pattern.Equal(before, g), "the garment that was given is not changed")
		require.Empty(t, text.CheckNames(out))
		for i := range out.Seams {
			w, problem := measure.WalkSeam(out, &out.Seams[i], measure.Accuracy)
			require.Nil(t, problem)
			require.LessOrEqual(t, max(w.Difference, -w.Difference), describe.Agree+1e-6)
		}
		for _, p := range g.Pieces {
			kept(t, p, out.Piece(p.Name))
		}
		again := describe.Propose(out, h)
		for _, p := range again {
			require.NotZero(t, p.Choice, "proposed again: %s", p.Sentence)
		}
		same, err := describe.Accept(out, again, nil, nil)
		require.NoError(t, err)
		require.True(t, pattern.Equal(out, same))
	})
}

// kept checks that a piece lost nothing but names that a program made up.
func kept(t *rapid.T, was, is *pattern.Piece) {
	require.True(t, curve.Lies(was.Outline(), is.Outline(), 1e-9))
	for i := range was.Edges {
		if !madeUp.MatchString(was.Edges[i].Name) {
			require.Equal(t, was.Edges[i].Name, is.Edges[i].Name)
		}
		if !madeUp.MatchString(was.Corners[i].Name) {
			require.Equal(t, was.Corners[i].Name, is.Corners[i].Name)
		}
	}
	require.GreaterOrEqual(t, len(is.Notches), len(was.Notches))
	for i, n := range was.Notches {
		if !madeUp.MatchString(n.Name) {
			require.Equal(t, n.Name, is.Notches[i].Name)
		}
	}
}

// Each proposal that is no question can be accepted alone or with any others that
// come before it, or is refused with words.
func TestAcceptingSome(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, h := drawGarment(t)
		list := describe.Propose(g, h)
		which := []int{}
		for _, p := range list {
			if p.Choice == 0 && rapid.Bool().Draw(t, "accepted") {
				which = append(which, p.Number)
			}
		}
		out, err := describe.Accept(g, list, which, nil)
		if err != nil {
			require.Regexp(t, `^proposal [0-9]+ cannot be accepted: [a-z]`, err.Error())
			return
		}
		require.Empty(t, text.CheckNames(out))
	})
}

// Many panels: each side fits one other only.
func manyPanels(n int) *pattern.Garment {
	var pieces []*pattern.Piece
	for i := range n {
		a, b := 100+float64(i)*7, 107+float64(i)*7
		pieces = append(pieces, ring(fmt.Sprintf("p-%d", i), 0, a, 5, 0, 0, -100, 90, -100, 85, 0, 90, b))
	}
	return garment(pieces...)
}

func TestManyPanels(t *testing.T) {
	g := acceptAll(t, manyPanels(60), describe.Hints{})
	require.Len(t, g.Seams, 59)
	require.Len(t, g.Around, 60)
	require.Len(t, g.Run("hem").Refs, 60)
}

func BenchmarkPropose(b *testing.B) {
	for _, n := range []int{7, 60, 240} {
		g := manyPanels(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				describe.Propose(g, describe.Hints{})
			}
		})
	}
}
