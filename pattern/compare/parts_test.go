package compare_test

import (
	"fmt"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// equipped is the piece of one() with parts of every sort: the back runs from
// 80 -100 to 170 200, so that 52.2 mm along it are 50 mm up.
func equipped() *pattern.Garment {
	g := one()
	p := g.Pieces[0]
	p.Notches = []pattern.Notch{
		{Name: "waist", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.AtLevel, Level: "waist"}},
		{Name: "n1", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "tf", Distance: 40}},
		{Name: "n2", Edge: pattern.Mention{Name: "back"}, On: pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: 30, Above: true}},
	}
	p.Marks = []pattern.Mark{
		{Kind: pattern.Eyelet, Name: "o1", At: curve.Pt(60, 100), Diameter: pattern.Some(5)},
		{Kind: pattern.Bone, Name: "b1", Width: pattern.Some(7), At: curve.Pt(50, -60), Segs: []pattern.Seg{{To: curve.Pt(50, 120)}}},
		{Kind: pattern.Cord, Name: "c1", At: curve.Pt(40, 0), Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(50, 0), H2: curve.Pt(60, 0), To: curve.Pt(70, 0)}}},
	}
	return g
}

func partOf(t testing.TB, p compare.PieceChange, kind, name string) compare.PartChange {
	t.Helper()
	for _, c := range p.Parts {
		if c.Kind == kind && c.Name == name {
			return c
		}
	}
	t.Fatalf("no %s %s", kind, name)
	return compare.PartChange{}
}

func callEdge(p *pattern.Piece, i int, name string, recorded bool) {
	old := p.Edges[i].Name
	p.Edges[i].Name = name
	if recorded {
		p.Edges[i].Was = old
	}
	for k := range p.Notches {
		if p.Notches[k].Edge.Name == old {
			p.Notches[k].Edge.Name = name
		}
	}
}

func callCorner(p *pattern.Piece, i int, name string, recorded bool) {
	old := p.Corners[i].Name
	p.Corners[i].Name = name
	if recorded {
		p.Corners[i].Was = old
	}
	for k := range p.Notches {
		if p.Notches[k].On.Corner == old {
			p.Notches[k].On.Corner = name
		}
	}
}

func TestWhatBecameOfPartsInWords(t *testing.T) {
	rename := func(recorded bool) func(*pattern.Piece) {
		return func(p *pattern.Piece) {
			callEdge(p, 0, "side", recorded)
			callCorner(p, 0, "neck", recorded)
		}
	}
	for name, c := range map[string]struct {
		change func(*pattern.Piece)
		want   string
	}{
		"an edge and a corner renamed, recorded":  {rename(true), "p: front is called side now; corner tf is called neck now"},
		"an edge and a corner renamed by the way": {rename(false), "p: front is called side now; corner tf is called neck now"},
		"a notch renamed":                         {func(p *pattern.Piece) { p.Notches[2].Name = "top" }, "p: notch n2 on back is called top now"},
		"a notch renamed with its edge": {func(p *pattern.Piece) { callEdge(p, 2, "spine", true); p.Notches[2].Name = "top" },
			"p: back is called spine now; notch n2 on spine is called top now"},
		"a notch moved on an edge that was renamed": {func(p *pattern.Piece) { callEdge(p, 2, "spine", true); p.Notches[2].On.Distance = 37 },
			"p: back is called spine now; notch n2 on spine moved 7.0"},
		"a notch written otherwise": {func(p *pattern.Piece) {
			// waist lies 100 mm up of 300, so 104.403 along the back of 313.209
			p.Notches[2].On = pattern.Spot{Kind: pattern.FromCorner, Corner: "hb", Distance: 134.403}
		}, ""},
		"a mark renamed":            {func(p *pattern.Piece) { p.Marks[0].Name = "top" }, "p: eyelet o1 is called top now"},
		"a mark renamed and larger": {func(p *pattern.Piece) { p.Marks[0].Name, p.Marks[0].Diameter.Value = "top", 6 }, "p: eyelet o1 is called top now and changed"},
		"a mark moved":              {func(p *pattern.Piece) { p.Marks[0].At.X += 3 }, "p: eyelet o1 moved 3.0"},
		"a mark moved a hair":       {func(p *pattern.Piece) { p.Marks[0].At.X += 0.03 }, "p: eyelet o1 moved by less than 0.05"},
		"a mark moved and larger":   {func(p *pattern.Piece) { p.Marks[1].At.X += 4; p.Marks[1].Segs[0].To.X += 4; p.Marks[1].Width.Value = 9 }, "p: bone b1 moved 4.0 and changed"},
		// handles 8 mm to the side of a straight line: 8 x 3/4 at its middle
		"a curve bent by its handles": {func(p *pattern.Piece) { p.Marks[2].Segs[0].H1.Y, p.Marks[2].Segs[0].H2.Y = 8, 8 }, "p: cord c1 moved 6.0"},
		"a line with another point": {func(p *pattern.Piece) {
			p.Marks[1].Segs = []pattern.Seg{{To: curve.Pt(50, 0)}, {To: curve.Pt(50, 120)}}
		}, ""},
		"a line that bends now": {func(p *pattern.Piece) {
			p.Marks[1].Segs = []pattern.Seg{{To: curve.Pt(55, 0)}, {To: curve.Pt(50, 120)}}
		}, "p: bone b1 moved 5.0"},
		"a mark added, one lost": {func(p *pattern.Piece) { p.Marks[0].At.X, p.Marks[0].Name = 20, "x" }, "p: eyelet x added; eyelet o1 lost"},
		"a mark of another kind": {func(p *pattern.Piece) { p.Marks[0].Kind = pattern.Drill }, "p: drill o1 added; eyelet o1 lost"},
		"a notch on another edge": {func(p *pattern.Piece) {
			p.Notches[1] = pattern.Notch{Name: "n1", Edge: pattern.Mention{Name: "top"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "tb", Distance: 20}}
		}, "p: notch n1 on top added; notch n1 on front lost"},
	} {
		a, b := equipped(), equipped()
		c.change(b.Pieces[0])
		change := compare.Garments(a, b, compare.Options{})
		p := change.Pieces[0]
		if c.want == "" {
			assert.Equal(t, compare.Unchanged, p.Status, name)
		} else {
			assert.Equal(t, c.want, p.Sentence(), name)
			assert.Equal(t, compare.Changed, p.Status, name)
		}
		assert.True(t, pattern.Equal(b, compare.Apply(a, change.Edits)), name)
	}
}

func TestPartsThatStayedAreUnchangedThoughTheirEdgeHasAnotherName(t *testing.T) {
	a, b := equipped(), equipped()
	callEdge(b.Pieces[0], 0, "side", true)
	p := compare.Garments(a, b, compare.Options{}).Pieces[0]
	require.Len(t, p.Parts, 4+3+3)
	for _, c := range p.Parts {
		assert.Equal(t, compare.Unchanged, c.Status, c.Name)
		assert.Zero(t, c.Distance, c.Name)
	}
	n := partOf(t, p, compare.Notch, "n1")
	assert.Equal(t, []string{"side", "front"}, []string{n.Edge, n.WasEdge})
}

// A bone that moved 4 to the side and a corner that moved 3, 4 and so 5.
func TestHowFarAndWherePartsMoved(t *testing.T) {
	a, b := equipped(), equipped()
	q := b.Pieces[0]
	q.Corners[2].At = q.Corners[2].At.Add(curve.Pt(3, -4))
	q.Marks[1].At.X += 4
	q.Marks[1].Segs[0].To.X += 4
	p := compare.Garments(a, b, compare.Options{}).Pieces[0]
	hb := partOf(t, p, compare.Corner, "hb")
	assert.Equal(t, compare.Moved, hb.Status)
	assert.InDelta(t, 5, hb.Distance, 1e-9)
	assert.Equal(t, []curve.Point{{X: 80, Y: -100}, {X: 83, Y: -104}}, []curve.Point{hb.From, hb.To})
	assert.Empty(t, hb.Words(), "the edges tell it")
	bone := partOf(t, p, "bone", "b1")
	assert.Equal(t, compare.Moved, bone.Status)
	assert.InDelta(t, 4, bone.Distance, 1e-9)
	assert.InDelta(t, 50, bone.From.X, 1e-9)
	assert.InDelta(t, 54, bone.To.X, 1e-9)
	assert.Empty(t, partOf(t, p, compare.Notch, "n2").Words(), "it went with its edge")
}

func TestPartsOfAPieceThatCameOrWentOrIsShared(t *testing.T) {
	g := equipped()
	for status, c := range map[compare.Status]*compare.Change{
		compare.Added: compare.Garments(nil, g, compare.Options{}), compare.Removed: compare.Garments(g, nil, compare.Options{}),
		compare.Unchanged: compare.Garments(g, g, compare.Options{}),
	} {
		require.Len(t, c.Pieces[0].Parts, 10, status)
		for _, p := range c.Pieces[0].Parts {
			assert.Equal(t, status, p.Status)
			assert.Equal(t, status == compare.Added, p.Before < 0)
			assert.Equal(t, status == compare.Removed, p.After < 0)
		}
		assert.Empty(t, c.Pieces[0].Records)
	}
}

func TestManyPartsThatWereRenamedAreCounted(t *testing.T) {
	a, b := equipped(), equipped()
	for i := range b.Pieces[0].Corners {
		callCorner(b.Pieces[0], i, []string{"a", "b", "c", "d"}[i], true)
	}
	c := compare.Garments(a, b, compare.Options{})
	assert.Equal(t, "p: 4 corners renamed", c.Pieces[0].Sentence())
	assert.Len(t, c.Pieces[0].Records, 4)
}

// drawnIn puts a point into the hem of one(), from 0 -100 to 80 -100, lower by so
// much.
func drawnIn(p *pattern.Piece, lower float64, was string) {
	p.Corners = append(p.Corners[:2:2], append([]pattern.Corner{{Name: "mid", At: curve.Pt(30, -100-lower)}}, p.Corners[2:]...)...)
	p.Edges = append(p.Edges[:2:2], append([]pattern.Edge{{Name: "e1", Was: was}}, p.Edges[2:]...)...)
}

// The parts are the hypotenuses over 30 and 50 mm of the old hem.
func TestAnEdgeSplitByAPointDrawnLower(t *testing.T) {
	for _, was := range []string{"hem", ""} {
		a, b := one(), one()
		drawnIn(b.Pieces[0], 15, was)
		c := compare.Garments(a, b, compare.Options{})
		p := c.Pieces[0]
		assert.Equal(t, "p: hem split in hem and e1, lowered 15.0 at mid, 5.7 longer; corner mid added", p.Sentence(), "was %q", was)
		assert.True(t, pattern.Equal(b, compare.Apply(a, c.Edits)))
		for name, want := range map[string][3]float64{"hem": {30, 33.541, 0}, "e1": {50, 52.202, 30}} {
			e := edgeOf(t, c, "p", name)
			assert.Equal(t, compare.Split, e.Status)
			assert.False(t, e.Lies())
			assert.True(t, e.Redrawn())
			assert.InDelta(t, want[0], e.Length.Before.Value, 1e-3)
			assert.InDelta(t, want[1], e.Length.After.Value, 1e-3)
			assert.InDelta(t, want[2], e.Before.Start().X, 1e-3, "the part of the old hem that lay there")
			assert.InDelta(t, 15, e.Largest.Distance, 1e-3)
			assert.Equal(t, []string{"out", "mid"}, []string{e.Largest.Direction, e.Largest.At})
		}
		// and back: no place of the straight hem is farther from the two legs than
		// where it is as far from both, 31.3 sin(26.57) = 48.7 sin(16.70) = 14.0
		c = compare.Garments(b, a, compare.Options{})
		assert.Equal(t, "p: hem joined from hem and e1, raised 14.0 at mid, 5.7 shorter; corner mid lost", c.Pieces[0].Sentence(), "was %q", was)
		assert.True(t, edgeOf(t, c, "p", "hem").Redrawn())
		assert.True(t, pattern.Equal(a, compare.Apply(b, c.Edits)))
	}
}

func TestAnEdgeSplitWhereItLayHasNotMoved(t *testing.T) {
	a, b := one(), one()
	drawnIn(b.Pieces[0], 0, "")
	p := compare.Garments(a, b, compare.Options{}).Pieces[0]
	assert.Equal(t, "p: hem split in hem and e1; corner mid added", p.Sentence())
	assert.False(t, p.Moved)
	for _, e := range p.Edges {
		assert.True(t, e.Lies(), e.Name)
	}
}

// The back, straight, grows by 12 along itself and swerves there: what its middle
// bends the other way meanwhile is no second movement at that end.
func TestAnEndThatGrewIsNoSecondMovement(t *testing.T) {
	along := curve.Pt(90, 300).Mul(1 / curve.Pt(90, 300).Len())
	out := curve.Pt(along.Y, -along.X)
	for name, c := range map[string]struct {
		grown, swerve, bend float64 // along; in at the new end; out before the old one
		other               string
	}{
		"grew upwards":             {12, 0.7, 0.3, ""},
		"did not grow":             {0, 0.7, 0.3, "out"},
		"grew, and bent in itself": {12, 4, 3, "out"},
	} {
		a, b := one(), one()
		q := b.Pieces[0]
		end := q.Corners[3].At
		q.Edges[2].Segs = []pattern.Seg{
			{To: end.Sub(along.Mul(120))}, {To: end.Sub(along.Mul(20)).Add(out.Mul(c.bend))}, {ToCorner: true}}
		q.Corners[3].At = end.Add(along.Mul(c.grown)).Sub(out.Mul(c.swerve))
		a.Levels, b.Levels = nil, nil
		e := edgeOf(t, compare.Garments(a, b, compare.Options{}), "p", "back")
		assert.Equal(t, "in", e.Largest.Direction, name)
		assert.InDelta(t, c.swerve, e.Largest.Distance, 1e-2, name)
		assert.Equal(t, c.other, e.Other.Direction, name)
	}
}

func TestTheFirstPiecesOfAGarment(t *testing.T) {
	empty, g := sample(t, "waistcoat--03-gusset"), sample(t, "waistcoat--03-gusset")
	empty.Pieces = nil
	c := compare.Garments(empty, g, compare.Options{})
	assert.Empty(t, c.Faults)
	assert.Equal(t, []string{"the first pieces: front, side-front, underarm, gusset, side-back, back, button-stand"}, c.Sentences())
}

// Pieces that need not even make sense are compared without failing, each part
// stands exactly once.
func TestEveryPartIsToldOnce(t *testing.T) {
	base := full(t)
	rapid.Check(t, func(t *rapid.T) {
		a, b := pattern.Clone(base), pattern.Clone(base)
		odds := rapid.SampledFrom([]int{15, 100, 400}).Draw(t, "odds")
		a.Pieces, b.Pieces = a.Pieces[:1], b.Pieces[:1] // the one that has parts of every sort
		a.Seams, b.Seams = nil, nil
		mutate(t, reflect.ValueOf(a.Pieces[0]), odds)
		mutate(t, reflect.ValueOf(b.Pieces[0]), odds)
		a.SortPieces()
		b.SortPieces()
		for _, p := range compare.Garments(a, b, compare.Options{}).Pieces {
			before, after := map[string]bool{}, map[string]bool{}
			for _, c := range p.Parts {
				kind := c.Kind
				if kind != compare.Corner && kind != compare.Notch {
					kind = "mark"
				}
				x, y := fmt.Sprint(kind, c.Before), fmt.Sprint(kind, c.After)
				if c.Before >= 0 && before[x] || c.After >= 0 && after[y] {
					t.Fatalf("%s: %s %s twice", p.Name, c.Kind, c.Name)
				}
				before[x], after[y] = c.Before >= 0, c.After >= 0
				_ = c.Words()
			}
			if p.Before != nil && p.After != nil {
				want := max(len(p.Before.Corners), len(p.After.Corners)) + max(len(p.Before.Notches), len(p.After.Notches)) + max(len(p.Before.Marks), len(p.After.Marks))
				if len(p.Parts) < want {
					t.Fatalf("%s: %d parts, at least %d expected", p.Name, len(p.Parts), want)
				}
			}
		}
	})
}
