package again

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// handle bends the top.
func handle(mm float64) *pattern.Piece {
	p := sideBack()
	p.Edges[3].Segs[0].H1.Y += mm
	return measured(p)
}

// hemBack moves the back corner of the hem.
func hemBack(p *pattern.Piece, dx float64) *pattern.Piece {
	p = pattern.Clone(p)
	p.Corners[2].At.X += dx
	return measured(p)
}

// hemRenamed gives the hem and its back corner other names, as describe does.
func hemRenamed(p *pattern.Piece) *pattern.Piece {
	p = pattern.Clone(p)
	p.Corners[2].Name, p.Edges[1].Name = "lower-back", "lower-edge"
	for i := range p.Notches {
		if p.Notches[i].On.Corner == "hem-back" {
			p.Notches[i].On.Corner = "lower-back"
		}
	}
	return p
}

func TestMergeSaysWhatTheDrawingDoes(t *testing.T) {
	base := sideBack()
	renamed := pattern.Clone(base)
	renamed.Edges[3].Name, renamed.Edges[3].Was = "yoke", "top"
	renamed.Corners[3].Name = "yoke-back"
	withYoke := pattern.Clone(renamed)
	withYoke.Edges[3].Segs[0].H1.Y += 4
	withYoke = measured(withYoke)
	moved := curve.Rigid{Angle: 0.3, Shift: curve.Pt(100, 20)}
	for name, c := range map[string]struct {
		base, now, drawn, want *pattern.Piece
		o                      Options
		status                 Status
	}{
		"nothing changed":                        {base, base, base, base, Options{}, Unchanged},
		"nothing changed, base not known":        {nil, base, base, base, Options{}, Unchanged},
		"it lies elsewhere on the sheet":         {base, base, base, base, Options{At: at(0, 0)}, Moved},
		"only the pattern changed":               {base, handle(4), base, handle(4), Options{}, Kept},
		"only the pattern changed, drawing wins": {base, handle(4), base, handle(4), Options{Take: TakeDrawing}, Kept},
		"only the drawing changed":               {base, base, handle(4), handle(4), Options{}, Changed},
		"only the drawing changed, pattern wins": {base, base, handle(4), handle(4), Options{Take: TakePattern}, Changed},
		"both changed alike":                     {base, handle(4), handle(4), handle(4), Options{}, Unchanged},
		"each changed another edge":              {base, handle(4), hemBack(base, 3), hemBack(handle(4), 3), Options{}, Changed},
		"taken in and renamed":                   {base, renamed, handle(4), withYoke, Options{}, Changed},
		"both moved a corner that was renamed":   {base, hemRenamed(hemBack(base, 5)), hemBack(base, 3), hemRenamed(hemBack(base, 3)), Options{Take: TakeDrawing}, Changed},
		"the drawing wins":                       {base, handle(4), handle(6), handle(6), Options{Take: TakeDrawing}, Changed},
		"the pattern wins":                       {base, handle(4), handle(6), handle(4), Options{Take: TakePattern}, Kept},
		"one in both, one in the drawing":        {base, handle(4), hemBack(handle(6), 3), hemBack(handle(4), 3), Options{Take: TakePattern}, Changed},
		"one in both, one in the pattern":        {base, hemBack(handle(4), 3), handle(6), hemBack(handle(6), 3), Options{Take: TakeDrawing}, Changed},
		"base not known, the drawing wins":       {nil, handle(4), handle(6), handle(6), Options{Take: TakeDrawing}, Changed},
		"base not known, the pattern wins":       {nil, handle(4), handle(6), handle(4), Options{Take: TakePattern}, Kept},
	} {
		t.Run(name, func(t *testing.T) {
			got, out, problems := Merge(c.base, c.now, onSheet(drawing(c.drawn), moved), c.o)
			require.Empty(t, problems)
			assert.Equal(t, c.status, out.Status)
			assert.True(t, pattern.EqualPieces(c.want, got), "%+v", got)
		})
	}
}

// bowed is the rectangle with a top that bows: handles raised by h lift the
// middle of a cubic by 3/4 h (the Bernstein polynomials 3 t (1-t)^2 and
// 3 t^2 (1-t) are 3/8 each there).
func bowed(h float64) *pattern.Piece {
	p := rectangle()
	p.Edges[2].Segs = []pattern.Seg{{Curve: true, H1: curve.Pt(20./3, 20+h), H2: curve.Pt(10./3, 20+h), ToCorner: true}}
	return measured(p)
}

func TestOneEdgeChangedInBothIsAConflict(t *testing.T) {
	_, out, problems := Merge(rectangle(), bowed(1), drawing(bowed(4)), Options{})
	x := onlyID(t, problems, diag.Error, "drawing.conflict")
	assert.Contains(t, x.Found, "edge high was changed in both")
	assert.Contains(t, x.Found, "the drawing moved it by up to 3.0 mm, the pattern by up to 0.8 mm")
	assert.Contains(t, x.Hint, "--take drawing")
	require.Len(t, out.Both, 1)
	assert.InDelta(t, 3, out.Both[0].Drawing, 0.011)
	assert.InDelta(t, 0.75, out.Both[0].Pattern, 0.011)
}

func TestACornerMovedTwoWaysIsAConflictOfBothItsEdges(t *testing.T) {
	base := sideBack()
	_, out, problems := Merge(base, hemBack(base, 5), drawing(hemBack(base, -3)), Options{})
	require.Len(t, problems.Only(diag.Error), 2)
	assert.Len(t, out.Both, 2)
	got, _, problems := Merge(base, hemBack(base, 5), drawing(hemBack(base, -3)), Options{Take: TakeDrawing})
	require.Empty(t, problems)
	assert.True(t, pattern.EqualPieces(hemBack(base, -3), got))
}

func TestAnUnknownBaseIsRefused(t *testing.T) {
	got, out, problems := Merge(nil, handle(4), drawing(handle(6)), Options{})
	x := onlyID(t, problems, diag.Error, "drawing.unknown-version")
	assert.Contains(t, x.Found, "it differs in top")
	assert.Equal(t, Kept, out.Status)
	assert.Equal(t, handle(4), got)
}

// The drawing bent the back and the pattern bent it too and moved its upper
// corner: with the drawing's line the edge ends where the corner is now.
func TestATakenEdgeEndsAtItsCorner(t *testing.T) {
	base := sideBack()
	now, drawn := pattern.Clone(base), pattern.Clone(base)
	now.Corners[3].At = curve.Pt(54, 210)
	now = measured(now)
	drawn.Edges[2].Segs[0].H1.X += 3
	drawn = measured(drawn)
	got, _, problems := Merge(base, now, drawing(drawn), Options{Take: TakeDrawing})
	noErrors(t, problems)
	onlyID(t, problems, diag.Warning, "drawing.joined")
	assert.Equal(t, curve.Pt(54, 210), got.Corners[3].At)
	assert.Equal(t, drawn.Edges[2].Segs[0], got.Edges[2].Segs[0])
	assert.Equal(t, curve.Pt(64.46, 139.69), got.Edges[2].Segs[1].H2)
	assert.InDelta(t, got.EdgePath(2).Length(1e-6), got.Edges[2].Length.Value, 0.0006)
	assert.Equal(t, now.Edges[3], got.Edges[3])
}

func TestACornerAddedInTheDrawingJoinsAnEdgeChangedInThePattern(t *testing.T) {
	base := sideBack()
	now := handle(4)
	now.Edges[3].Name = "e1" // taken: the new parts of the hem need other names
	now.Corners[3].Name = "c2"
	got, _, problems := Merge(base, now, Drawn{Ring: nicked(base)}, Options{})
	noErrors(t, problems)
	assert.Equal(t, []string{"front", "hem", "e2", "e3", "e4", "back", "e1"}, edgeNames(got))
	assert.Equal(t, now.Edges[3], got.Edges[6])
	assert.Equal(t, "c2", got.Corners[6].Name)
	assert.Equal(t, now.Notches, got.Notches)
}

func TestAPieceMovedInItsFileTakesTheDrawingInItsNewFrame(t *testing.T) {
	base := sideBack()
	shift := curve.Rigid{Shift: curve.Pt(0, 25)}
	now := movedPiece(base, shift)
	got, _, problems := Merge(base, now, drawing(hemBack(base, 3)), Options{})
	noErrors(t, problems)
	assert.True(t, pattern.EqualPieces(movedPiece(hemBack(base, 3), shift), got))
}

func TestMarksAreMergedOneByOne(t *testing.T) {
	base := sideBack()
	now := pattern.Clone(base)
	now.Marks[0].Width = pattern.Some(5)
	now.Marks = append(now.Marks, pattern.Mark{Kind: pattern.Drill, Name: "d1", At: curve.Pt(5, 5)})
	d := drawing(base)
	d.Marks[1].At = curve.Pt(20, 60)
	got, out, problems := Merge(base, now, d, Options{})
	require.Empty(t, problems)
	assert.Equal(t, Changed, out.Status)
	want := pattern.Clone(now)
	want.Marks[1].At = curve.Pt(20, 60)
	assert.Equal(t, want.Marks, got.Marks)

	now.Marks[1].At = curve.Pt(22, 50)
	_, _, problems = Merge(base, now, d, Options{})
	x := onlyID(t, problems, diag.Error, "drawing.conflict")
	assert.Contains(t, x.Found, "eyelet o1")
	got, _, problems = Merge(base, now, d, Options{Take: TakePattern})
	require.Empty(t, problems)
	assert.Equal(t, now.Marks, got.Marks)
}

func TestWithoutAPieceTheDrawingIsNew(t *testing.T) {
	got, out, problems := Merge(nil, nil, drawing(sideBack()), Options{})
	assert.Nil(t, got)
	assert.Equal(t, New, out.Status)
	assert.Empty(t, problems)
}

func TestAGrainDrawnTwoWaysIsAConflict(t *testing.T) {
	base := sideBack()
	now := pattern.Clone(base)
	now.Grain.To = curve.Pt(4, 150)
	d := drawing(base)
	d.Grain.To = curve.Pt(-4, 150)
	got, _, problems := Merge(base, base, d, Options{})
	require.Empty(t, problems)
	assert.Equal(t, curve.Pt(-4, 150), got.Grain.To)
	_, _, problems = Merge(base, now, d, Options{})
	assert.Contains(t, onlyID(t, problems, diag.Error, "drawing.conflict").Found, "the grain")
	got, _, problems = Merge(base, now, d, Options{Take: TakeDrawing})
	require.Empty(t, problems)
	assert.Equal(t, curve.Pt(-4, 150), got.Grain.To)
}

func TestWhereNoCornerIsSharedTheWholeOutlineIsOneConflict(t *testing.T) {
	base := sideBack()
	now := rectangle()
	for i := range now.Corners {
		now.Corners[i].At = now.Corners[i].At.Add(curve.Pt(500, 500))
	}
	d := drawing(handle(4))
	_, out, problems := Merge(base, now, d, Options{})
	onlyID(t, problems.Only(diag.Error), diag.Error, "drawing.conflict")
	assert.Len(t, out.Both, 1)
	got, _, problems := Merge(base, now, d, Options{Take: TakeDrawing})
	noErrors(t, problems)
	assert.Equal(t, handle(4).Corners, got.Corners)
	got, _, problems = Merge(base, now, d, Options{Take: TakePattern})
	noErrors(t, problems)
	assert.Equal(t, now.Corners, got.Corners)
}
