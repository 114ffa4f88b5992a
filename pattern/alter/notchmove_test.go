package alter_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/measure"
)

// put writes a notch without asking anybody.
func put(g *pattern.Garment, piece, edge, name string, on pattern.Spot) {
	p := g.Piece(piece)
	p.Notches = append(p.Notches, pattern.Notch{Name: name, Edge: pattern.Mention{Name: edge}, On: on})
}

// notched gives the two upright edges with a pair at the waist and one 60 above it, of
// which the second side's stands off mm too high.
func notched(off float64) *pattern.Garment {
	g := two(0)
	for _, ref := range [][2]string{{"a", "back"}, {"b", "front"}} {
		put(g, ref[0], ref[1], "waist", atLevel("waist"))
	}
	put(g, "a", "back", "bust", above(60, "waist"))
	put(g, "b", "front", "bust", above(60+off, "waist"))
	return g
}

func spotOf(g *pattern.Garment, piece, name string) pattern.Spot {
	for _, n := range g.Piece(piece).Notches {
		if n.Name == name {
			return n.On
		}
	}
	return pattern.Spot{}
}

func TestTheMissingHalfOfAPair(t *testing.T) {
	for _, c := range []struct {
		name         string
		piece, other string
		on, partner  pattern.Spot
	}{
		{"on the second side", "a", "b", above(40, "waist"), above(40, "waist")},
		{"on the first side, though the level was asked for there", "b", "a", atLevel("bust"), atLevel("bust")},
		// from the corner at 104, 30 down: 74 above the waist
		{"from a corner", "b", "a", pattern.Spot{Kind: pattern.FromCorner, Corner: "tf", Distance: 30}, above(74, "waist")},
	} {
		g := two(0)
		edge := map[string]string{"a": "back", "b": "front"}
		put(g, c.piece, edge[c.piece], "n", c.on)
		out, err := alter.CompleteNotches(g, "s", "n", tol)
		require.NoError(t, err, c.name)
		require.Len(t, out.Stood, 1)
		require.Len(t, out.Placed, 1)
		assert.Equal(t, c.piece, out.Stood[0].Piece)
		assert.Equal(t, c.partner, spotOf(out.Garment, c.other, "n"), c.name)
		again, err := alter.CompleteNotches(out.Garment, "s", "n", tol)
		require.NoError(t, err)
		assert.Empty(t, again.Placed)
		assert.Len(t, again.Stood, 2)
	}
	g := two(0)
	put(g, "b", "front", "bust", atLevel("bust"))
	out, err := alter.AddNotches(g, "s", atLevel("bust"), "", tol)
	require.NoError(t, err)
	assert.Equal(t, "a", out.Placed[0].Piece)
	assert.Equal(t, "b", out.Stood[0].Piece)
}

func TestAPairIsBroughtTogether(t *testing.T) {
	for _, c := range []struct {
		move         string
		first, other float64 // mm above the waist
	}{{"a", 63, 63}, {"b", 60, 60}, {alter.Both, 61.5, 61.5}} {
		g := notched(3)
		before := pattern.Clone(g)
		out, err := alter.MatchNotches(g, "s", "bust", c.move, tol)
		require.NoError(t, err, c.move)
		assert.Equal(t, before, g, "the garment that was given is not changed")
		assert.InDelta(t, 3, math.Abs(out.Before), 1e-6)
		assert.InDelta(t, 0, out.Now, 1e-6)
		assert.InDelta(t, c.first, heightOf(t, out.Garment, "a", "bust"), 1e-6, c.move)
		assert.InDelta(t, c.other, heightOf(t, out.Garment, "b", "bust"), 1e-6, c.move)
	}
	still, err := alter.MatchNotches(notched(0), "s", "bust", "a", tol)
	require.NoError(t, err)
	assert.Empty(t, still.Moved)
}

// heightOf gives how high a notch stands on one of the upright edges.
func heightOf(t *testing.T, g *pattern.Garment, piece, name string) float64 {
	t.Helper()
	p := g.Piece(piece)
	for _, n := range p.Notches {
		if n.Name == name {
			i := p.EdgeIndex(n.Edge.Name)
			at, fault := g.SpotAt(p, i, n.On, tol)
			require.Nil(t, fault)
			return p.EdgePath(i).PointAt(at, tol).Y
		}
	}
	require.Fail(t, "no such notch")
	return 0
}

// The pair of the waist is what others are walked from: where it is off itself, it goes to
// where the others agree.
func TestThePairOfTheWaistGoesToTheOthers(t *testing.T) {
	g := two(0)
	put(g, "a", "back", "waist", above(5, "waist"))
	put(g, "b", "front", "waist", atLevel("waist"))
	for _, ref := range [][2]string{{"a", "back"}, {"b", "front"}} {
		put(g, ref[0], ref[1], "bust", atLevel("bust"))
	}
	out, err := alter.MatchNotches(g, "s", "waist", "a", tol)
	require.NoError(t, err)
	assert.Equal(t, atLevel("waist"), spotOf(out.Garment, "a", "waist"))
	assert.Len(t, out.Moved, 1)
}

func TestAPairGoesElsewhere(t *testing.T) {
	out, err := alter.MoveNotches(notched(3), "s", "bust", above(40, "waist"), tol)
	require.NoError(t, err)
	assert.Equal(t, above(40, "waist"), spotOf(out.Garment, "a", "bust"))
	assert.Equal(t, above(40, "waist"), spotOf(out.Garment, "b", "bust"))
	assert.InDelta(t, 0, out.Now, 1e-9)
}

func TestNotchesThatStay(t *testing.T) {
	span := notched(3)
	span.Seams = append(span.Seams, pattern.Seam{Name: "t", First: []pattern.Ref{{Piece: "a", Edge: "back", From: "waist", To: "bust"}}, Second: []pattern.Ref{{Piece: "b", Edge: "hem"}}})
	zone := notched(0)
	zone.Seams[0].Eases = []pattern.Ease{{Amount: 1, From: "waist", To: "bust"}}
	half := two(0)
	put(half, "a", "back", "bust", atLevel("bust"))
	// 1.4 more of the first side between each two notches up to 60, then as much less: each
	// part passes at 1.5, but with the bust at equal distances the part above it would not
	uneven := two(0)
	uneven.Piece("b").Corners[0].At.Y, uneven.Piece("b").Corners[3].At.Y = 100, 100
	for i, ref := range [][2]string{{"a", "back"}, {"b", "front"}} {
		put(uneven, ref[0], ref[1], "waist", atLevel("waist"))
		for k, n := range []struct {
			name string
			at   float64
		}{{"low", 20}, {"bust", 40}, {"up", 60}, {"high", 75}, {"higher", 90}} {
			more := []float64{1.4, 2.8, 4.2, 2.8, 1.4}[k] * float64(1-i)
			put(uneven, ref[0], ref[1], n.name, above(n.at+more, "waist"))
		}
	}
	crowded := notched(3)
	put(crowded, "b", "front", "other", above(57, "waist"))
	for _, c := range []struct {
		g    *pattern.Garment
		seam string
		name string
		move string
		why  string
	}{
		{notched(3), "t", "bust", "a", "there is no such seam"},
		{notched(3), "s", "hip", "a", "no notch hip stands on it"},
		{notched(3), "s", "bust", "c", "no notch bust of it stands on c"},
		{half, "s", "bust", "a", "stands on a.back alone"},
		{span, "s", "bust", "b", "a span of seam t ends"},
		{uneven, "s", "bust", "b", "bust to up would be off by"},
		{crowded, "s", "bust", "b", "would stand 3.0 mm from notch other"},
	} {
		out, err := alter.MatchNotches(c.g, c.seam, c.name, c.move, tol)
		var no *alter.Refusal
		require.ErrorAs(t, err, &no, c.why)
		assert.Contains(t, no.Error(), c.why)
		assert.True(t, out == nil || out.Garment == c.g, "nothing is altered")
	}
	for _, c := range []struct {
		g         *pattern.Garment
		name, why string
	}{{span, "bust", "a span of seam t ends"}, {zone, "bust", "a zone of its ease ends"}, {two(0), "bust", "no notch bust"}} {
		_, _, err := alter.DropNotches(c.g, "s", c.name, tol)
		require.ErrorContains(t, err, c.why)
	}
}

// Of any pair that is off, either notch can be brought to the other; adding what was taken
// out gives the pair back.
func TestMovedPairsMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		off := pattern.RoundLength(rapid.Float64Range(-8, 8).Draw(t, "off"))
		g := notched(off)
		if ease := rapid.Float64Range(-4, 4).Draw(t, "ease"); rapid.Bool().Draw(t, "eased") {
			g.Seams[0].Eases = []pattern.Ease{{Amount: pattern.RoundLength(ease)}}
		}
		move := rapid.SampledFrom([]string{"a", "b", alter.Both}).Draw(t, "move")
		out, err := alter.MatchNotches(g, "s", "bust", move, tol)
		if err != nil {
			return // the part above would not match
		}
		w, problem := measure.WalkSeam(out.Garment, out.Garment.Seam("s"), tol)
		if problem != nil {
			t.Fatal(problem.Message())
		}
		for _, d := range w.Drifts() {
			if math.Abs(d.By) > 0.002 {
				t.Fatalf("%s is off by %v", d.Name, d.By)
			}
		}
		bare, gone, err := alter.DropNotches(out.Garment, "s", "bust", tol)
		if err != nil || len(gone) != 2 {
			t.Fatal(err, gone)
		}
		back, err := alter.AddNotches(bare, "s", gone[0].Notch.On, "bust", tol)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back.Placed[1].At-gone[1].At) > 0.002 {
			t.Fatalf("%v, not %v", back.Placed[1].At, gone[1].At)
		}
	})
}

// obey does what the first command about notches in a hint says.
func obey(g *pattern.Garment, hint string) (*pattern.Garment, error) {
	for line := range strings.Lines(hint) {
		words := strings.Fields(line)
		if len(words) < 5 || words[0] != "seamkeep" || words[1] != "notches" {
			continue
		}
		switch words[2] {
		case "add":
			out, err := alter.CompleteNotches(g, words[3], words[5], tol)
			if err != nil {
				return nil, err
			}
			return out.Garment, nil
		case "move":
			out, err := alter.MatchNotches(g, words[3], words[4], words[6], tol)
			if err != nil {
				return nil, err
			}
			return out.Garment, nil
		}
	}
	return nil, nil
}

// Where a finding names a command for a pair of notches, the command can be carried out and
// the finding is gone then.
func TestFindingsOfNotchesNameCommandsThatMendThem(t *testing.T) {
	obeyed := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		mm := func(low, high float64, what string) float64 {
			return pattern.RoundLength(rapid.Float64Range(low, high).Draw(t, what))
		}
		g := notched(mm(-9, 9, "off"))
		g.Piece("b").Corners[0].At.Y, g.Piece("b").Corners[3].At.Y = 100, 100
		put(g, "a", "back", "low", pattern.Spot{Kind: pattern.FromCorner, Corner: "hb", Distance: mm(6, 94, "low")})
		if rapid.Bool().Draw(t, "paired") {
			put(g, "b", "front", "low", pattern.Spot{Kind: pattern.FromCorner, Corner: "hf", Distance: mm(6, 94, "low too")})
		}
		if rapid.Bool().Draw(t, "loose") {
			g.Seams[0].Within = pattern.Some(mm(1, 20, "within"))
			g.Seams[0].Warn = pattern.Some(g.Seams[0].Within.Value)
		}
		for _, x := range check.Run(check.Input{Garment: g}) {
			if x.ID != "notch.drift" && x.ID != "notch.single" {
				continue
			}
			after, err := obey(g, x.Hint)
			if err != nil {
				t.Fatalf("%s\n%s\n%v", x.Message(), x.Hint, err)
			}
			if after == nil {
				continue // no command is offered
			}
			obeyed[x.ID]++
			for _, y := range check.Run(check.Input{Garment: after}) {
				if y.Address() == x.Address() && y.Amount >= x.Amount {
					t.Fatalf("%s\n%s\nand then: %s", x.Message(), x.Hint, y.Message())
				}
			}
		}
	})
	assert.Greater(t, obeyed["notch.drift"], 0)
	assert.Greater(t, obeyed["notch.single"], 0)
}
