package describe_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/describe"
	"seamkeep/pattern/measure"
)

// notched is a seam of two straight sides, 100 below and 150 above the waist.
func notched(a, b []pattern.Notch) *pattern.Garment {
	p := ring("a", 0, 150, 0, -100, 80, -100, 80, 150)
	q := ring("b", 0, 150, 0, -100, 90, -100, 90, 150)
	p.Notches, q.Notches = a, b
	g := garment(p, q)
	g.Levels = append(g.Levels, pattern.Level{Name: "bust", Y: 90})
	g.Seams = []pattern.Seam{{Name: "a-b", First: []pattern.Ref{{Piece: "a", Edge: "e3"}}, Second: []pattern.Ref{{Piece: "b", Edge: "e1"}}}}
	return g
}

func from(name, edge, corner string, mm float64) pattern.Notch {
	return pattern.Notch{Name: name, Edge: pattern.Mention{Name: edge}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: corner, Distance: mm}}
}

// a.e3 runs up from c3, b.e1 runs down from c1; the bust is at 190 from c3, and at
// 60 from c1.
func TestTicksOfADrawingBecomePairs(t *testing.T) {
	g := notched(
		[]pattern.Notch{from("n1", "e3", "c3", 40), from("n2", "e3", "c3", 140), from("n3", "e3", "c3", 191), from("n4", "e3", "c3", 230)},
		[]pattern.Notch{from("n1", "e1", "c1", 22), from("n2", "e1", "c1", 59.5), from("n3", "e1", "c1", 111), from("n4", "e1", "c1", 212)})
	g = acceptAll(t, g, describe.Hints{})
	assert.Equal(t, []string{"below-1", "above-1", "bust", "above-2", "waist"}, notchesOf(g, "a"))
	assert.Equal(t, []string{"above-2", "bust", "above-1", "below-1", "waist"}, notchesOf(g, "b"))
	w, problem := measure.WalkSeam(g, &g.Seams[0], measure.Accuracy)
	require.Nil(t, problem)
	var cut []string
	for _, s := range w.Segments {
		a, b := s.Lengths()
		cut = append(cut, fmt.Sprintf("%s %.1f %.1f", s.To, a, b))
	}
	// 250 less the distance from the top, by hand
	assert.Equal(t, []string{"below-1 40.0 38.0", "waist 60.0 62.0", "above-1 40.0 39.0", "bust 51.0 51.5", "above-2 39.0 37.5", "a.top-back 20.0 22.0"}, cut)
	_, settled := questions(describe.Propose(g, describe.Hints{}))
	assert.Empty(t, settled)
}

// A pair is known by its name: one that stands twice on a side, on two of its
// edges, is given to no notch of the other side, or what was two and one would be
// two pairs, or none, when the pattern is described again.
func TestANameThatStandsTwiceOnASideIsNotGivenToThePair(t *testing.T) {
	p := ring("a", 0, 60, 0, 0, 0, -100, 30, -100, 30, 0, 30, 60)
	q := ring("b", 0, 60, 0, 0, 0, -100, 30, -100, 30, 0, 30, 60)
	p.Notches = []pattern.Notch{from("bell", "e4", "c4", 5), from("n2", "e4", "c4", 45), from("bell", "e5", "c5", 51)}
	q.Notches = []pattern.Notch{from("n1", "e1", "c1", 6), from("n1", "e2", "c2", 50)}
	g := garment(p, q)
	g.Seams = []pattern.Seam{{
		Name:   "a-b",
		First:  []pattern.Ref{{Piece: "a", Edge: "e4"}, {Piece: "a", Edge: "e5"}},
		Second: []pattern.Ref{{Piece: "b", Edge: "e1"}, {Piece: "b", Edge: "e2"}},
	}}
	g = acceptAll(t, g, describe.Hints{})
	assert.Equal(t, []string{"bell", "n2", "bell"}, notchesOf(g, "a"))
	assert.Equal(t, []string{"n1", "n1"}, notchesOf(g, "b"))
	_, settled := questions(describe.Propose(g, describe.Hints{}))
	assert.Empty(t, settled)
}

func notchesOf(g *pattern.Garment, piece string) []string {
	var out []string
	for _, n := range g.Piece(piece).Notches {
		out = append(out, n.Name)
	}
	return out
}

func TestTicksThatAreNoPairs(t *testing.T) {
	for _, c := range []struct {
		what string
		a, b []pattern.Notch
		want [2]string
	}{
		{"the maker's name is that of the pair", []pattern.Notch{from("bell", "e3", "c3", 40)}, []pattern.Notch{from("n1", "e1", "c1", 211)}, [2]string{"bell waist", "bell waist"}},
		{"two names of the maker's stay", []pattern.Notch{from("bell", "e3", "c3", 40)}, []pattern.Notch{from("book", "e1", "c1", 211)}, [2]string{"bell waist", "book waist"}},
		{"more on one side", []pattern.Notch{from("n1", "e3", "c3", 40), from("n2", "e3", "c3", 60)}, []pattern.Notch{from("n1", "e1", "c1", 30)}, [2]string{"n1 n2 waist", "n1 waist"}},
		{"too far apart", []pattern.Notch{from("n1", "e3", "c3", 40)}, []pattern.Notch{from("n1", "e1", "c1", 200)}, [2]string{"n1 waist", "n1 waist"}},
		{"a waist notch on one side", []pattern.Notch{from("waist", "e3", "c3", 99)}, nil, [2]string{"waist", "waist"}},
		{"a tick at the waist on one side", []pattern.Notch{from("n1", "e3", "c3", 99)}, nil, [2]string{"n1", ""}},
	} {
		t.Run(c.what, func(t *testing.T) {
			g := acceptAll(t, notched(c.a, c.b), describe.Hints{})
			assert.Equal(t, c.want, [2]string{strings.Join(notchesOf(g, "a"), " "), strings.Join(notchesOf(g, "b"), " ")})
		})
	}
}

func TestNotchesAtOtherLevels(t *testing.T) {
	g := acceptAll(t, notched(nil, nil), describe.Hints{NotchLevels: []string{"waist", "bust", "ankle"}})
	assert.Equal(t, []string{"waist", "bust"}, notchesOf(g, "a"))
	assert.Equal(t, []string{"waist", "bust"}, notchesOf(g, "b"))
	g = acceptAll(t, notched(nil, nil), describe.Hints{NotchLevels: []string{}})
	assert.Empty(t, notchesOf(g, "a"))
}
