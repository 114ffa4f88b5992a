package again

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// letDown lowers the hem of the side back by mm, along its straight front.
func letDown(mm float64) *pattern.Piece {
	p := sideBack()
	p.Corners[1].At.Y -= mm
	p.Corners[2].At.Y -= mm
	return measured(p)
}

func at(x, y float64) *curve.Point {
	p := curve.Pt(x, y)
	return &p
}

// A hem let down keeps its shape, and so does the top: only the place on the
// sheet, or a mark, tells which of the two moved.
func TestAHemLetDownStaysTheHem(t *testing.T) {
	want := letDown(10)
	shift := curve.Rigid{Shift: curve.Pt(300, -700)}
	turned := curve.Rigid{Angle: 0.7, Shift: curve.Pt(300, -700)}
	noMarks := onSheet(Drawn{Ring: want.Outline()}, shift)
	for name, c := range map[string]struct {
		d Drawn
		o Options
	}{
		"in place on the sheet":     {noMarks, Options{At: at(300, -700)}},
		"moved, with marks":         {onSheet(drawing(want), turned), Options{}},
		"moved from where it lay":   {onSheet(drawing(want), turned), Options{At: at(300, -700)}},
		"in place, without a place": {onSheet(drawing(want), shift), Options{}},
	} {
		t.Run(name, func(t *testing.T) {
			got, report, problems := Lay(sideBack(), c.d, c.o)
			noErrors(t, problems)
			assert.True(t, pattern.EqualPieces(want, got), "%+v", got.Corners)
			assert.Equal(t, []string{"hem-front", "hem-back"}, report.Moved)
			assert.ElementsMatch(t, []string{"front", "hem", "back"}, report.Changed)
		})
	}
}

func TestAFrameThatStandsOnOneOfTwoEdgesIsDoubted(t *testing.T) {
	want := letDown(10)
	_, report, problems := Lay(sideBack(), onSheet(Drawn{Ring: want.Outline()}, curve.Rigid{Angle: 0.7}), Options{})
	assert.Equal(t, ByEdges, report.By)
	x := onlyID(t, problems, diag.Warning, "drawing.frame")
	assert.Contains(t, x.Found, "10.0 mm")
}

// The numbers of an editor: eight digits, and sides that grew from 100 to
// 100.000032 mm after ten turns with a save between (measured with a general
// vector editor).
func TestEightDigitsAndDriftAreNoise(t *testing.T) {
	p := sideBack()
	grown := onSheet(drawing(p), curve.Rigid{Angle: 1.234, Shift: curve.Pt(523.25, -871.5)})
	m := curve.Scale(1+3.2e-7, 1+3.2e-7)
	grown.Ring = grown.Ring.Transform(m)
	for i := range grown.Ring {
		s := &grown.Ring[i]
		s.P0, s.P1, s.P2, s.P3 = digits(s.P0), digits(s.P1), digits(s.P2), digits(s.P3)
	}
	got, _, problems := Lay(p, grown, Options{})
	require.Empty(t, problems)
	assert.Equal(t, p, got)
}

func digits(p curve.Point) curve.Point {
	round := func(v float64) float64 {
		r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 8, 64), 64)
		return r
	}
	return curve.Pt(round(p.X), round(p.Y))
}

func TestAMirrorImageIsRefused(t *testing.T) {
	for _, p := range []*pattern.Piece{sideBack(), sleeve()} {
		for name, ring := range map[string]curve.Path{
			"whole":           p.Outline().Transform(curve.Scale(-1, 1)),
			"one edge redone": changed(p, changesOf(p)[0]).Outline().Transform(curve.Scale(-1, 1)),
		} {
			t.Run(p.Name+" "+name, func(t *testing.T) {
				got, _, problems := Lay(p, Drawn{Ring: ring.Reverse()}, Options{})
				assert.Nil(t, got)
				onlyID(t, problems, diag.Error, "drawing.mirrored")
			})
		}
	}
}

// Where no edge is left the corners decide, in least squares without scale or
// mirroring. The figures are those of NumPy's SVD (Kabsch's method) for a 10 x
// 20 rectangle turned by 30 degrees and moved by (5, -3), with one corner pulled
// by (1, 0): 28.7196266 degrees, (5.0004583, -3.0121818), RMS 0.3537635.
func TestWhereNoEdgeIsLeftTheCornersDecide(t *testing.T) {
	p := rectangle()
	turn := curve.Rigid{Angle: math.Pi / 6, Shift: curve.Pt(5, -3)}
	var ring curve.Path
	at := []curve.Point{}
	for i, c := range p.Corners {
		q := turn.Affine().Apply(c.At)
		if i == 2 {
			q = q.Add(curve.Pt(1, 0))
		}
		at = append(at, q)
	}
	for i := range at { // each side bows by half a millimetre, so that none is left
		a, b := at[i], at[(i+1)%4]
		u, _ := b.Sub(a).Unit()
		out := u.Left().Mul(-0.5)
		ring = append(ring, curve.Cubic(a, a.Lerp(b, 1./3).Add(out), a.Lerp(b, 2./3).Add(out), b))
	}
	_, report, problems := Lay(p, Drawn{Ring: ring}, Options{})
	x := onlyID(t, problems, diag.Warning, "drawing.frame")
	assert.Contains(t, x.Found, "0.4 mm")
	put := inverse(report.Fit)
	assert.Equal(t, ByCorners, report.By)
	assert.InDelta(t, 28.7196266, put.Angle*180/math.Pi, 5e-8)
	assert.InDelta(t, 5.0004583, put.Shift.X, 5e-8)
	assert.InDelta(t, -3.0121818, put.Shift.Y, 5e-8)
	k, _ := keptOf(p, 0)
	from, to := (&search{k: k, l: newLoop(ring)}).pairs()
	_, rms, ok := bestOf(from, to)
	require.True(t, ok)
	assert.InDelta(t, 0.3537635, rms, 5e-8)
}

func TestWhereNoEdgeIsLeftThePageDecides(t *testing.T) {
	p := sideBack()
	q := pattern.Clone(p)
	for i := range q.Corners {
		q.Corners[i].At = pattern.Round(q.Corners[i].At.Mul(1.01))
	}
	got, report, problems := Lay(p, onSheet(Drawn{Ring: q.Outline()}, curve.Rigid{Shift: curve.Pt(40, 50)}), Options{At: at(40, 50)})
	noErrors(t, problems)
	assert.Equal(t, ByPage, report.By)
	assert.Equal(t, measured(q).Corners, got.Corners)
	assert.Equal(t, measured(q).Edges, got.Edges)
}

// nicked cuts a triangular nick of 4 mm depth into the hem.
func nicked(p *pattern.Piece) curve.Path {
	a, b := p.Corners[1].At, p.Corners[2].At
	l, m, r := a.Lerp(b, 0.6), a.Lerp(b, 0.65).Add(curve.Pt(0, 4)), a.Lerp(b, 0.7)
	var ring curve.Path
	ring = append(ring, p.EdgePath(0)...)
	ring = append(ring, curve.Line(a, l), curve.Line(l, m), curve.Line(m, r), curve.Line(r, b))
	ring = append(ring, p.EdgePath(2)...)
	return append(ring, p.EdgePath(3)...)
}

func TestNewCornersSplitTheirEdge(t *testing.T) {
	p := sideBack()
	p.Notches = append(p.Notches,
		pattern.Notch{Name: "n1", Edge: pattern.Mention{Name: "hem"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "hem-front", Distance: 5}},
		pattern.Notch{Name: "n2", Edge: pattern.Mention{Name: "hem"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "hem-back", Distance: 5}})
	got, report, problems := Lay(p, Drawn{Ring: nicked(p)}, Options{})
	noErrors(t, problems)
	assert.Equal(t, []string{"c1", "c2", "c3"}, report.New.Corners)
	assert.Equal(t, []string{"e1", "e2", "e3"}, report.New.Edges)
	assert.Equal(t, []string{"front", "hem", "e1", "e2", "e3", "back", "top"}, edgeNames(got))
	for _, e := range report.New.Edges {
		assert.Equal(t, "hem", got.Edges[got.EdgeIndex(e)].Was)
	}
	assert.Equal(t, "lower", got.Edges[1].Was, "the longest part keeps the record")
	assert.Equal(t, "hem", got.Notches[2].Edge.Name)
	assert.Equal(t, "e3", got.Notches[3].Edge.Name, "a notch follows the corner that it is measured from")
	assert.InDelta(t, 66.786*0.6, got.Edges[1].Length.Value, 0.001)
}

func edgeNames(p *pattern.Piece) []string {
	var out []string
	for _, e := range p.Edges {
		out = append(out, e.Name)
	}
	return out
}

func TestANotchThatLosesItsPlaceIsAnError(t *testing.T) {
	p := sideBack()
	p.Notches = append(p.Notches, pattern.Notch{Name: "far", Edge: pattern.Mention{Name: "hem"},
		On: pattern.Spot{Kind: pattern.FromCorner, Corner: "hem-front", Distance: 50}})
	_, _, problems := Lay(p, Drawn{Ring: nicked(p)}, Options{})
	x := onlyID(t, problems, diag.Error, "drawing.notch")
	assert.Contains(t, x.Found, "notch far on edge hem")
	assert.Contains(t, x.Hint, "--take pattern")
}

func TestACornerThatIsGoneTakesTheShorterEdge(t *testing.T) {
	p := sideBack()
	p.Notches = nil
	q := pattern.Clone(p)
	q.Corners = append(q.Corners[:1:1], q.Corners[2:]...) // from the top straight to the back of the hem
	q.Edges = append(q.Edges[:1:1], q.Edges[2:]...)
	got, report, problems := Lay(p, Drawn{Ring: q.Outline()}, Options{})
	noErrors(t, problems)
	onlyID(t, problems, diag.Warning, "drawing.corner-gone")
	assert.Equal(t, Parts{Corners: []string{"hem-front"}, Edges: []string{"hem"}}, report.Gone)
	assert.Equal(t, []string{"front", "back", "top"}, edgeNames(got))

	p.Notches = []pattern.Notch{{Name: "n1", Edge: pattern.Mention{Name: "hem"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "hem-back", Distance: 5}}}
	p.Cloths = []pattern.Cloth{{Name: "canvas", Count: 1, Cut: pattern.OnFold, Fold: pattern.Mention{Name: "hem"}}}
	_, _, problems = Lay(p, Drawn{Ring: q.Outline()}, Options{})
	assert.Len(t, problems.Only(diag.Error), 2)
}

// The crown of the sleeve has no turn: it stays where the line passes it, goes
// with its joint, or keeps its part of the way where the joint was taken out.
func TestASmoothCornerStaysOnItsLine(t *testing.T) {
	p := sleeve()
	k, _ := keptOf(p, 0)
	require.Equal(t, []bool{true, true, true, true, false}, k.sharp)

	lifted := pattern.Clone(p)
	lifted.Corners[4].At.Y += 6
	lifted.Edges[3].Segs[0].H2.Y += 6
	lifted.Edges[4].Segs[0].H1.Y += 6
	got, report, problems := Lay(p, Drawn{Ring: lifted.Outline()}, Options{})
	require.Empty(t, problems)
	assert.Equal(t, []string{"crown"}, report.Moved)
	assert.True(t, pattern.EqualPieces(measured(lifted), got))

	cap := curve.Cubic(p.Corners[3].At, curve.Pt(80, 210), curve.Pt(-70, 210), p.Corners[0].At)
	ring := append(p.Outline()[:4:4], cap)
	got, _, problems = Lay(p, Drawn{Ring: ring}, Options{})
	noErrors(t, problems)
	onlyID(t, problems, diag.Note, "drawing.corner")
	part := k.lengths[3] / (k.lengths[3] + k.lengths[4])
	a, b := got.EdgePath(3).Length(1e-6), got.EdgePath(4).Length(1e-6)
	assert.InDelta(t, part, a/(a+b), 1e-5)
	assert.LessOrEqual(t, curve.Hausdorff(append(got.EdgePath(3), got.EdgePath(4)...), curve.Path{cap}, 1e-4).Dist, 0.0015)
}

func TestATurnInsideAnEdgeStaysInside(t *testing.T) {
	p := sleeve()
	q := pattern.Clone(p)
	q.Edges[1].Segs[0].To = curve.Pt(4, -452)
	got, report, problems := Lay(p, Drawn{Ring: q.Outline()}, Options{})
	require.Empty(t, problems)
	assert.Equal(t, []string{"wrist"}, report.Changed)
	assert.True(t, pattern.EqualPieces(measured(q), got))
}

func TestSegmentsThatStayedKeepTheirNumbers(t *testing.T) {
	p := sideBack()
	q := pattern.Clone(p)
	q.Edges[2].Segs[1].H2.X += 3 // the lower half of the back stays
	got, _, problems := Lay(p, onSheet(Drawn{Ring: q.Outline()}, curve.Rigid{Angle: 2, Shift: curve.Pt(77, 1)}), Options{})
	require.Empty(t, problems)
	assert.Equal(t, p.Edges[2].Segs[0], got.Edges[2].Segs[0])
	assert.True(t, pattern.EqualPieces(measured(q), got))
}

func TestALineDrawnAsACurveIsALine(t *testing.T) {
	p := sideBack()
	q := pattern.Clone(p)
	q.Corners[1].At.X -= 5
	ring := q.Outline()
	for i := range ring {
		ring[i].Straight = false
	}
	got, _, problems := Lay(p, Drawn{Ring: ring}, Options{})
	require.Empty(t, problems)
	assert.True(t, pattern.EqualPieces(measured(q), got))
	assert.Empty(t, got.Edges[0].Segs)
}

func TestMarksGoWithTheDrawing(t *testing.T) {
	p := sideBack()
	d := drawing(p)
	d.Marks[0].Segs[0].To = curve.Pt(14, 160)                                   // the bone leans
	d.Marks[1] = pattern.Mark{Kind: pattern.Drill, At: curve.Pt(30.00004, -20)} // the eyelet went, a hole came
	d.Grain.To = curve.Pt(3, 150)
	got, report, problems := Lay(p, onSheet(d, curve.Rigid{Angle: -1, Shift: curve.Pt(9, 9)}), Options{})
	require.Empty(t, problems)
	assert.Equal(t, []string{"bone b1", "grain"}, report.Redrawn)
	assert.Equal(t, []string{"drill d1"}, report.New.Marks)
	assert.Equal(t, []string{"eyelet o1"}, report.Gone.Marks)
	assert.Equal(t, []pattern.Mark{
		{Kind: pattern.Bone, Name: "b1", Width: pattern.Some(7), At: curve.Pt(10, -100), Segs: []pattern.Seg{{To: curve.Pt(14, 160)}}},
		{Kind: pattern.Drill, Name: "d1", At: curve.Pt(30, -20)},
	}, got.Marks)
	assert.Equal(t, curve.Pt(3, 150), got.Grain.To)
	assert.Equal(t, p.Edges, got.Edges)

	d.HasMarks, d.Grain = false, nil
	got, _, _ = Lay(p, d, Options{})
	assert.True(t, pattern.EqualPieces(p, got), "marks that the drawing does not show stay")
}

func TestMarksWithoutNamesAreKnownByPlace(t *testing.T) {
	p := sideBack()
	p.Marks = append(p.Marks, pattern.Mark{Kind: pattern.Eyelet, Name: "o2", At: curve.Pt(20, 80)})
	d := drawing(p)
	d.Marks = []pattern.Mark{
		{Kind: pattern.Eyelet, At: curve.Pt(20, 80)}, {Kind: pattern.Eyelet, At: curve.Pt(20, 57)},
		{Kind: pattern.Bone, At: curve.Pt(10, 160), Segs: []pattern.Seg{{To: curve.Pt(10, -100)}}}, // from its other end
	}
	got, report, problems := Lay(p, d, Options{})
	require.Empty(t, problems)
	assert.Equal(t, []string{"eyelet o1"}, report.Redrawn)
	assert.Equal(t, []pattern.Mark{p.Marks[0], {Kind: pattern.Eyelet, Name: "o1", Diameter: pattern.Some(5), At: curve.Pt(20, 57)}, p.Marks[2]}, got.Marks)
}

func TestAnOutlineThatCrossesItselfIsAnError(t *testing.T) {
	p := sideBack()
	q := pattern.Clone(p)
	q.Corners[2].At = curve.Pt(-40, 0) // the back of the hem is pulled through the front
	_, _, problems := Lay(p, Drawn{Ring: q.Outline()}, Options{})
	onlyID(t, problems, diag.Error, "drawing.crosses")
}

func TestDrawingsThatAreNoOutlineAreRefused(t *testing.T) {
	line := curve.Line(curve.Pt(0, 0), curve.Pt(100, 0))
	for name, ring := range map[string]curve.Path{
		"nothing":        nil,
		"open":           {line, curve.Line(curve.Pt(100, 0), curve.Pt(100, 50))},
		"a gap":          {line, curve.Line(curve.Pt(90, 0), curve.Pt(0, 50)), curve.Line(curve.Pt(0, 50), curve.Pt(0, 0))},
		"no inside":      {line, line.Reverse()},
		"no number":      {curve.Line(curve.Pt(math.NaN(), 0), curve.Pt(1, 1))},
		"off the sheet":  {curve.Line(curve.Pt(math.Inf(1), 0), curve.Pt(1, 1))},
		"all in a point": {curve.Line(curve.Pt(1, 1), curve.Pt(1, 1))},
	} {
		t.Run(name, func(t *testing.T) {
			got, _, problems := Lay(sideBack(), Drawn{Ring: ring}, Options{})
			assert.Nil(t, got)
			onlyID(t, problems, diag.Error, "drawing.outline")
		})
	}
	t.Run("a piece without its outline", func(t *testing.T) {
		for _, p := range []*pattern.Piece{{Name: "x"}, {Name: "x", Corners: make([]pattern.Corner, 2), Edges: make([]pattern.Edge, 2)}} {
			got, _, problems := Lay(p, Drawn{Ring: sideBack().Outline()}, Options{})
			assert.Nil(t, got)
			onlyID(t, problems, diag.Error, "drawing.outline")
		}
	})
}

// A ring that has nothing to do with the piece still gives a piece whose outline
// is that ring, or a refusal.
func TestAnyOutlineIsTakenWhole(t *testing.T) {
	for n := 3; n < 40; n++ {
		var ring curve.Path
		point := func(i int) curve.Point {
			r := 80 + 30*math.Sin(float64(7*i))
			s, c := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
			return curve.Pt(r*c, r*s)
		}
		for i := range n {
			ring = append(ring, curve.Line(point(i%n), point((i+1)%n)))
		}
		for _, p := range shapes() {
			t.Run(fmt.Sprint(n, " ", p.Name), func(t *testing.T) {
				p.Notches = nil
				got, report, problems := Lay(p, Drawn{Ring: ring}, Options{})
				noErrors(t, problems)
				laid := ring.Transform(report.Fit.Affine())
				assert.LessOrEqual(t, curve.Hausdorff(laid, got.Outline(), 1e-4).Dist, 0.005)
				assert.Len(t, got.Edges, len(got.Corners))
				assert.GreaterOrEqual(t, len(got.Edges), 2)
			})
		}
	}
}
