package again

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

func TestSavingAndMovingChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom([]*pattern.Piece{sideBack(), sleeve()}).Draw(t, "piece")
		got, report, problems := Lay(p, edited(t, drawing(p)), Options{})
		require.Empty(t, problems)
		assert.True(t, pattern.EqualPieces(p, got), "%+v", report)
		assert.True(t, report.Same())
		assert.Equal(t, p.Corners, got.Corners)
		assert.Equal(t, p.Edges, got.Edges)
	})
}

// Marks tell which way up a piece lies that a half turn lays on itself; without
// them the smaller turn is taken.
func TestARectangleComesBackTheWayUpThatItsMarksSay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rectangle()
		p.Marks = []pattern.Mark{{Kind: pattern.Drill, Name: "d1", At: curve.Pt(3, 4)}}
		got, _, problems := Lay(p, edited(t, drawing(p)), Options{})
		require.Empty(t, problems)
		assert.True(t, pattern.EqualPieces(p, got))
	})
}

func TestOneChangeTouchesOnlyItsEdges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom([]*pattern.Piece{sideBack(), sleeve()}).Draw(t, "piece")
		c := rapid.SampledFrom(changesOf(p)).Draw(t, "change")
		want := changed(p, c)
		got, report, problems := Lay(p, edited(t, drawing(want)), Options{})
		noErrors(t, problems)
		require.Len(t, got.Edges, len(p.Edges))
		assert.ElementsMatch(t, c.edges, report.Changed)
		assert.ElementsMatch(t, c.corners, report.Moved)
		for i, e := range p.Edges {
			assert.Equal(t, e.Name, got.Edges[i].Name)
			assert.Equal(t, p.Corners[i].Name, got.Corners[i].Name)
			assert.InDelta(t, 0, got.Corners[i].At.Dist(want.Corners[i].At), 0.002)
			truth, line := want.EdgePath(i), got.EdgePath(i)
			assert.True(t, curve.Lies(truth, line, 0.002) && curve.Lies(line, truth, 0.002), e.Name)
			if !contains(c.edges, e.Name) {
				assert.Equal(t, e, got.Edges[i])
				continue
			}
			assert.InDelta(t, want.Edges[i].Length.Value, got.Edges[i].Length.Value, 0.004)
		}
		assert.Equal(t, p.Marks, got.Marks)
		assert.Equal(t, p.Grain, got.Grain)
	})
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func TestMergingWithItselfIsLaying(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom([]*pattern.Piece{sideBack(), sleeve()}).Draw(t, "piece")
		d := edited(t, drawing(changed(b, rapid.SampledFrom(changesOf(b)).Draw(t, "change"))))
		want, _, _ := Lay(b, d, Options{})
		got, out, problems := Merge(b, b, d, Options{})
		noErrors(t, problems)
		assert.Equal(t, Changed, out.Status)
		assert.True(t, pattern.EqualPieces(want, got))
	})
}

func TestAStaleDrawingChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom([]*pattern.Piece{sideBack(), sleeve()}).Draw(t, "piece")
		now := changed(b, rapid.SampledFrom(changesOf(b)).Draw(t, "change"))
		now.Title = "Later"
		got, out, problems := Merge(b, now, edited(t, drawing(b)), Options{})
		require.Empty(t, problems)
		assert.Equal(t, Kept, out.Status)
		assert.Equal(t, now, got)
	})
}

func TestChangesOfDifferentEdgesCommute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom([]*pattern.Piece{sideBack(), sleeve()}).Draw(t, "piece")
		list := changesOf(b)
		x, y := rapid.SampledFrom(list).Draw(t, "x"), rapid.SampledFrom(list).Draw(t, "y")
		for _, e := range x.edges {
			if contains(y.edges, e) {
				t.Skip("they touch the same edge")
			}
		}
		for _, pair := range [][2]change{{x, y}, {y, x}} {
			got, out, problems := Merge(b, changed(b, pair[0]), handled(t, drawing(changed(b, pair[1]))), Options{At: &curve.Point{}})
			noErrors(t, problems)
			assert.Equal(t, Changed, out.Status)
			assert.Empty(t, out.Both)
			assert.ElementsMatch(t, pair[1].edges, out.Drawing)
			assert.ElementsMatch(t, pair[0].edges, out.Pattern)
			want := changed(b, x, y)
			for i := range want.Edges {
				assert.Equal(t, want.Corners[i], got.Corners[i])
				assert.InDelta(t, want.Edges[i].Length.Value, got.Edges[i].Length.Value, 0.002)
				assert.LessOrEqual(t, curve.Hausdorff(want.EdgePath(i), got.EdgePath(i), 1e-4).Dist, 0.001)
			}
		}
	})
}
