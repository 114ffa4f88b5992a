package check_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// quad is a piece with straight edges front, hem, back and top through four corners,
// anticlockwise from the top of its front.
func quad(name string, corners ...curve.Point) *pattern.Piece {
	p := &pattern.Piece{Name: name}
	edges := []string{"front", "hem", "back", "top"}
	for i, at := range corners {
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", i), At: at})
		p.Edges = append(p.Edges, pattern.Edge{Name: edges[i]})
	}
	return p
}

func ref(s string) pattern.Ref {
	piece, edge, _ := strings.Cut(s, ".")
	return pattern.Ref{Piece: piece, Edge: edge}
}

func sewn(name, first, second string) pattern.Seam {
	return pattern.Seam{Name: name, First: []pattern.Ref{ref(first)}, Second: []pattern.Ref{ref(second)}}
}

func running(name string, refs ...string) pattern.Run {
	r := pattern.Run{Name: name}
	for _, s := range refs {
		r.Refs = append(r.Refs, ref(s))
	}
	return r
}

func xy(x, y float64) curve.Point { return curve.Point{X: x, Y: y} }

// pair is two panels of 100 x 200 sewn a.back to b.front, whose tops rise by the given
// heights towards the seam.
func pair(rise, rise2 float64, runs ...pattern.Run) *pattern.Garment {
	g := &pattern.Garment{
		Name: "pair", Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}, Runs: runs,
		Pieces: []*pattern.Piece{
			quad("a", xy(0, 100-rise), xy(0, -100), xy(100, -100), xy(100, 100)),
			quad("b", xy(0, 100), xy(0, -100), xy(100, -100), xy(100, 100-rise2)),
		},
		Seams: []pattern.Seam{sewn("s", "a.back", "b.front")},
	}
	g.SortPieces()
	return g
}

func aboutRuns(g *pattern.Garment) diag.List {
	var out diag.List
	for _, x := range check.Run(check.Input{Garment: g}) {
		if strings.HasPrefix(x.ID, "run.") {
			out = append(out, x)
		}
	}
	return out
}

// Join front and back at the shoulder: the armhole must be one true curve, without a
// point or a scoop (I. DeN. Conover, A Complete Course in Dressmaking, vol. 9, 1921-22,
// p. 22); the angles of both sides then make 180 degrees. The angle of a rise of 20 on
// 100 is 11.3099 degrees (arctangent).
func TestARunThatTurnsAtASeam(t *testing.T) {
	top := running("top", "a.top", "b.top")
	assert.Empty(t, aboutRuns(pair(0, 0, top)))
	assert.Empty(t, aboutRuns(pair(20, -20, top)), "one goes on as the other comes")
	list := aboutRuns(pair(20, 0, top))
	require.Len(t, list, 1)
	x := list[0]
	assert.Equal(t, "run.kink top", x.Address())
	assert.Equal(t, diag.Warning, x.Severity)
	assert.InDelta(t, 11.3099, x.Amount, 1e-4)
	assert.Equal(t, "run top turns out by 11.3 degrees at seam s, to a point: a.top meets it at 78.7, b.top at 90.0", x.Found)
	assert.Equal(t, "redraw the end of a.top by 11.3 degrees, to meet the seam at 90.0; its corner stays", x.Hint)
	assert.Equal(t, [2]float64{100, 100}, [2]float64{x.Place.X, x.Place.Y})
	assert.Equal(t, "a.top", x.Place.Piece+"."+x.Place.Edge)

	list = aboutRuns(pair(0, -20, top))
	require.Len(t, list, 1)
	assert.Contains(t, list[0].Found, "turns in by 11.3 degrees at seam s, to a scoop")
	assert.Equal(t, "redraw the end of b.top by 11.3 degrees, to meet the seam at 90.0; its corner stays", list[0].Hint)

	list = aboutRuns(pair(20, 10, top))
	require.Len(t, list, 1)
	assert.InDelta(t, 11.3099+5.7106, list[0].Amount, 1e-4, "arctangents of 20 and 10 on 100")
	assert.Equal(t, "redraw the end of a.top by 11.3 degrees and that of b.top by 5.7, square to the seam; the corners stay", list[0].Hint)

	loose := pair(20, 0, top)
	loose.Tolerances = []pattern.Tolerance{{Kind: "turn", Value: 12}}
	assert.Empty(t, aboutRuns(loose))
}

// One finding a run, the worst place first.
func TestKinksOfOneRunAreOneFinding(t *testing.T) {
	g := pair(20, 0, running("top", "a.top", "b.top", "c.top"))
	g.Pieces = append(g.Pieces, quad("c", xy(0, 100), xy(0, -100), xy(100, -100), xy(100, 90)))
	g.Pieces[1].Corners[3].At = xy(100, 100)
	g.Seams = append(g.Seams, sewn("u", "b.back", "c.front"))
	list := aboutRuns(g)
	require.Len(t, list, 1)
	assert.Contains(t, list[0].Found, "at seam s")
	assert.Contains(t, list[0].Found, "; and at 1 more")
	assert.InDelta(t, 11.3099+5.7106, list[0].Amount, 1e-4, "the sum, so that a record for the first kink does not cover the second")
	require.Len(t, list[0].Related, 1)
	assert.Equal(t, "out by 5.7 at seam u: b.top at 90.0, c.top at 84.3; redraw c.top to 90.0", list[0].Related[0].Text)
	assert.Equal(t, "c", list[0].Related[0].Place.Piece)
}

func TestRunsThatAreNoLine(t *testing.T) {
	for name, c := range map[string]struct {
		run  pattern.Run
		want string
	}{
		"no seam between them":      {running("r", "a.hem", "b.top"), "run.broken r: run r breaks at corner a.c2, between a.hem and b.top: no seam joins the end of one to the end of the other"},
		"an edge twice":             {running("r", "a.hem", "b.hem", "a.hem"), "run.twice r: run r has a.hem twice"},
		"back over the same corner": {running("r", "b.back", "b.top", "a.top"), ""},
		"an edge left where it began": {running("r", "a.top", "b.top", "b.front"),
			"run.turns-back r: run r leaves b.top where it came in, so it turns back there"},
		"a missing piece": {running("r", "a.top", "z.top"), "run.broken r: run r breaks between a.top and z.top: no seam joins the end of one to the end of the other"},
		"a missing edge":  {running("r", "a.nosuch"), ""},
		"no edge":         {running("r"), ""},
	} {
		t.Run(name, func(t *testing.T) {
			got := ""
			for _, x := range aboutRuns(pair(0, 0, c.run)) {
				if x.ID != "run.kink" {
					got += x.Address() + ": " + x.Found
				}
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// A corner inside one piece is a place where a run may turn too.
func TestARunOverACornerOfOnePiece(t *testing.T) {
	list := aboutRuns(pair(0, 0, running("r", "a.hem", "a.back")))
	require.Len(t, list, 1)
	assert.InDelta(t, 90, list[0].Amount, 1e-9)
	assert.Contains(t, list[0].Found, "turns out by 90.0 degrees at corner a.c2")
}

// At a fold both halves go on as each other's mirror image, so the edge is square to it
// (the same of Conover: one curve; the angle doubles).
func TestARunMeetsAFoldSquare(t *testing.T) {
	g := pair(0, 10, running("top", "a.top", "b.top"))
	fold := ref("b.back")
	g.Pieces[1].Cloths = []pattern.Cloth{{Name: "linen", Count: 1, Cut: pattern.OnFold, Fold: pattern.Mention{Name: "back"}}}
	list := aboutRuns(g)
	ids := []string{}
	for _, x := range list {
		ids = append(ids, x.Address())
	}
	assert.Equal(t, []string{"run.kink top", "run.not-square top"}, ids)
	turn := 2 * (90 - math.Atan2(100, -10)*180/math.Pi) // of the top's line to the fold
	assert.InDelta(t, math.Abs(turn), list[1].Amount, 1e-9)
	assert.Contains(t, list[1].Found, "meets the fold b.back at 95.7 degrees")

	g.Pieces[1].Cloths = nil
	g.Seams = append(g.Seams, pattern.Seam{Name: "m", First: []pattern.Ref{fold}, Mirrored: true})
	require.Len(t, aboutRuns(g), 2)
	assert.Contains(t, aboutRuns(g)[1].Found, "meets the mirrored seam b.back")
}

// A seam with a looser tolerance of its own passes, and the run steps there all the
// same; where the seam is told, the step is the same fault.
func TestARunSteps(t *testing.T) {
	g := pair(0, 0, running("top", "a.top", "b.top"))
	g.Pieces[1].Corners[0].At.Y, g.Pieces[1].Corners[3].At.Y = 98.8, 98.8
	assert.Empty(t, aboutRuns(g), "seam.near tells it")
	g.Seams[0].Within, g.Seams[0].Warn = pattern.Some(3), pattern.Some(3)
	list := aboutRuns(g)
	require.Len(t, list, 1)
	assert.Equal(t, "run.step top", list[0].Address())
	assert.InDelta(t, 1.2, list[0].Amount, 1e-6)
	assert.Equal(t, "run top steps by 1.20 mm at seam s: a.back reaches further than b.front", list[0].Found)
	assert.Equal(t, "take off a.back: 1.20 at the c3 end (to 100.000 98.800), or as much the other way on b.front", list[0].Hint)
	trued, err := alter.True(g, "s", "a", measure.Accuracy)
	require.NoError(t, err)
	assert.Empty(t, trued.Slid, "a seam that passes stays as it is, so the hint names no command")
	g.Pieces[0].Corners[3].At = xy(100, 98.8)
	assert.NotContains(t, runIDs(aboutRuns(g)), "run.step top")
}

// Two parts above the waist are off by 0.8 each, the part below it by 0.8 the other way
// (sums by hand): each passes, and so does the whole seam, off by 0.8. From the waist up
// they add to a step of 1.6.
func TestAStepThatCancelsOverTheSeam(t *testing.T) {
	g := pair(0, 0, running("top", "a.top", "b.top"), running("hem", "a.hem", "b.hem"))
	notch := func(p *pattern.Piece, name, edge string, y float64) {
		p.Notches = append(p.Notches, pattern.Notch{Name: name, Edge: pattern.Mention{Name: edge},
			On: pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: y, Above: true}})
	}
	notch(g.Pieces[0], "waist", "back", 0)
	notch(g.Pieces[1], "waist", "front", 0)
	notch(g.Pieces[0], "bust", "back", 50)
	notch(g.Pieces[1], "bust", "front", 49.2)
	g.Pieces[1].Corners[0].At.Y, g.Pieces[1].Corners[3].At.Y = 98.4, 98.4
	g.Pieces[1].Corners[1].At.Y, g.Pieces[1].Corners[2].At.Y = -100.8, -100.8
	list := aboutRuns(g)
	require.Equal(t, []string{"run.step top"}, runIDs(list))
	assert.InDelta(t, 1.6, list[0].Amount, 1e-6)
}

func runIDs(list diag.List) []string {
	out := []string{}
	for _, x := range list {
		out = append(out, x.Address())
	}
	return out
}

// The lines of the waistcoat: its straight hem turns by 23 degrees at
// side-front|underarm from the gusset on (worked by hand from its coordinates).
func TestTheLinesOfTheWaistcoat(t *testing.T) {
	for _, version := range []string{"waistcoat--03-gusset", "waistcoat--06-seam-move"} {
		var got []string
		for _, x := range aboutRuns(load(t, version).Garment) {
			got = append(got, x.Address())
			if x.Subject == "hem" {
				assert.Contains(t, x.Found, "run hem turns out by 23.5 degrees at seam side-front-underarm")
			}
		}
		assert.Equal(t, []string{"run.kink neckline", "run.centre neckline", "run.kink hem"}, got, version)
	}
}

// However two pieces that share a seam lie, a line that is one where they are sewn has
// no kink; turning or mirroring them makes none.
func TestALineCutByASeamHasNoKink(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		slope, lean := draw("slope", -0.6, 0.6), draw("lean", -30, 30)
		g := pair(0, 0, running("top", "a.top", "b.top"))
		foot, head := xy(100, -100), xy(100+lean, 100+slope*lean)
		g.Pieces[0] = quad("a", xy(0, 100-100*slope), xy(0, -100), foot, head)
		g.Pieces[1] = quad("b", head, foot, xy(250, -100), xy(250, 100+150*slope))
		require.Empty(t, aboutRuns(g))
		turned := curve.Rigid{Angle: draw("angle", -3, 3), Shift: xy(draw("x", -50, 50), 0)}.Affine()
		for i := range g.Pieces[1].Corners {
			c := &g.Pieces[1].Corners[i]
			c.At = turned.Apply(c.At)
		}
		require.Empty(t, aboutRuns(g))
	})
}

// A neckline that is to run on over the closed centre meets it square, as at a fold;
// a V does not, so that it is a note. 10 down on 100 is 5.71 degrees (arctangent).
func TestARunMeetsTheCentreEdge(t *testing.T) {
	g := pair(0, 10, running("top", "a.top", "b.top"))
	g.Closures = []pattern.Closure{{Name: "back", Kind: pattern.Lacing, Edges: []pattern.Ref{ref("b.back")}}}
	list := aboutRuns(g)
	require.Equal(t, []string{"run.kink top", "run.centre top"}, runIDs(list))
	assert.Equal(t, diag.Note, list[1].Severity)
	assert.InDelta(t, 2*5.7106, list[1].Amount, 1e-4)
	assert.Contains(t, list[1].Found, "meets the centre edge b.back at 95.7 degrees")
	g.Half = pattern.Whole
	assert.Equal(t, []string{"run.kink top"}, runIDs(aboutRuns(g)), "drawn whole there is another edge opposite")
}

// A run that breaks names the corner, and what leads on from there.
func TestWhereARunBreaks(t *testing.T) {
	three := func(seams ...pattern.Seam) *pattern.Garment {
		g := pair(0, 0)
		g.Pieces = append(g.Pieces, quad("c", xy(0, 100), xy(0, -100), xy(100, -100), xy(100, 100)))
		g.Seams = seams
		return g
	}
	s, u := sewn("s", "a.back", "b.front"), sewn("u", "b.back", "c.front")
	for name, c := range map[string]struct {
		seams         []pattern.Seam
		run           pattern.Run
		corner, leads string
	}{
		"no seam there, along the hem":         {nil, running("r", "a.hem", "b.hem"), "a.c2", "write: seam a-b a.back b.front\n"},
		"no seam there, along the top":         {[]pattern.Seam{u}, running("r", "a.top", "b.top", "c.top"), "a.c3", "write: seam a-b a.back b.front\n"},
		"the run came from a seam":             {[]pattern.Seam{s}, running("r", "a.top", "b.top", "c.top"), "b.c3", "if b.back, 200.0 long, and c.front, 200.0, are sewn together, write: seam b-c b.back c.front\n"},
		"a piece between them is left out":     {[]pattern.Seam{s, u}, running("r", "a.hem", "c.hem"), "a.c2", "seam s leads from there to b.hem: write that between the two\n"},
		"another edge of the piece is written": {[]pattern.Seam{s}, running("r", "a.hem", "b.top"), "a.c2", "seam s leads from there to b.hem: write that in the place of b.top\n"},
	} {
		t.Run(name, func(t *testing.T) {
			g := three(c.seams...)
			g.Runs = []pattern.Run{c.run}
			list := aboutRuns(g)
			require.Len(t, list, 1)
			assert.Equal(t, "run.broken r", list[0].Address())
			assert.Contains(t, list[0].Found, "run r breaks at corner "+c.corner+", between ")
			assert.Equal(t, c.corner[:1], list[0].Place.Piece)
			assert.Contains(t, list[0].Hint, c.leads)
		})
	}
}

// Of the waistcoat any seam that a run crosses may be missing: what the finding asks for is
// that very seam, and with it the run goes on.
func TestAMissingSeamIsNamed(t *testing.T) {
	whole := load(t, "waistcoat--06-seam-move").Garment
	for i, gone := range whole.Seams {
		g := pattern.Clone(whole)
		g.Seams = slices.Delete(g.Seams, i, i+1)
		broken := 0
		for _, c := range measure.Courses(g) {
			for _, b := range c.Breaks {
				broken++
				edges := [2]string{b.Sewn[0].Piece + "." + b.Sewn[0].Edge, b.Sewn[1].Piece + "." + b.Sewn[1].Edge}
				assert.Equal(t, [2]string{name(gone.First[0]), name(gone.Second[0])}, edges, "%s at %s", c.Run.Name, gone.Name)
			}
		}
		assert.Equal(t, 2, broken, "the neckline and the hem at %s", gone.Name)
	}
}

func name(r pattern.Ref) string { return r.Piece + "." + r.Edge }

// Where one side lost all its notches the other side's have no partners; that of the
// waist alone needs none.
func TestNotchesThatLostAllTheirPartners(t *testing.T) {
	notch := func(name string, from float64) pattern.Notch {
		return pattern.Notch{Name: name, Edge: pattern.Mention{Name: "back"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "c2", Distance: from}}
	}
	g := pair(0, 0)
	single := func() bool {
		return slices.ContainsFunc(check.Run(check.Input{Garment: g}), func(x diag.Problem) bool { return x.Address() == "notch.single s" })
	}
	g.Pieces[0].Notches = []pattern.Notch{notch("waist", 100)}
	assert.False(t, single())
	g.Pieces[0].Notches = append(g.Pieces[0].Notches, notch("bust", 150))
	assert.True(t, single())
}
