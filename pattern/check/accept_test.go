package check_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// off gives two panels whose seam differs by mm, with records that accept findings.
func off(mm float64, accepted ...pattern.Accepted) *pattern.Garment {
	g := strip(2)
	g.Pieces[1].Corners[0].At.Y, g.Pieces[1].Corners[3].At.Y = 100-mm, 100-mm
	for i := range accepted {
		accepted[i].Place = diag.Place{File: "strip.garment", Line: 30 + i, Column: 1}
	}
	g.Accepted = accepted
	return g
}

func accepts(id, subject string, amount float64) pattern.Accepted {
	return pattern.Accepted{ID: id, Subject: subject, Amount: amount, Reason: "eased in by hand"}
}

func walked(t require.TestingT, g *pattern.Garment) *measure.Walk {
	w, problem := measure.WalkSeam(g, &g.Seams[0], measure.Accuracy)
	require.Nil(t, problem)
	return w
}

// weights gives severity and address of each finding.
func weights(list diag.List) []string {
	out := []string{}
	for _, x := range list {
		out = append(out, x.Severity.String()+" "+x.Address())
	}
	return out
}

func TestWhatTheGarmentFileAccepts(t *testing.T) {
	const seam = "s00001"
	for _, c := range []struct {
		name     string
		off      float64
		accepted []pattern.Accepted
		want     []string
	}{
		{"an error", 1.7, []pattern.Accepted{accepts("seam.differs", seam, 1.7)}, []string{"note seam.differs s00001"}},
		{"a warning", 1.2, []pattern.Accepted{accepts("seam.near", seam, 1.2)}, []string{"note seam.near s00001"}},
		{"a little worse", 1.749, []pattern.Accepted{accepts("seam.differs", seam, 1.7)}, []string{"note seam.differs s00001"}},
		{"worse", 1.76, []pattern.Accepted{accepts("seam.differs", seam, 1.7)}, []string{"error seam.differs s00001"}},
		{"a lighter finding of the same", 1.2, []pattern.Accepted{accepts("seam.differs", seam, 1.7)}, []string{"note seam.near s00001"}},
		{"never a heavier one", 1.6, []pattern.Accepted{accepts("seam.near", seam, 1.9)}, []string{"error seam.differs s00001"}},
		{"about another seam", 1.2, []pattern.Accepted{accepts("seam.near", "other", 1.2)}, []string{"warning seam.near s00001", "warning accept.idle other"}},
		{"mended", 0, []pattern.Accepted{accepts("seam.near", seam, 1.2)}, []string{"warning accept.idle s00001"}},
		{"unknown", 0, []pattern.Accepted{accepts("seam.neer", seam, 1.2)}, []string{"warning accept.unknown s00001"}},
		{"never", 0, []pattern.Accepted{accepts("edge.length-stale", "p00000.front", 1)}, []string{"warning accept.never p00000.front"}},
		{"a gap that is not predicted", 0, []pattern.Accepted{accepts("gap.outside", "front", 1)}, []string{}},
	} {
		assert.ElementsMatch(t, c.want, weights(check.Run(check.Input{Garment: off(c.off, c.accepted...)})), c.name)
	}
}

func TestAnAcceptedFindingSaysWhyAndWhere(t *testing.T) {
	list := check.Run(check.Input{Garment: off(1.7, accepts("seam.differs", "s00001", 1.7))})
	require.Len(t, list, 1)
	assert.Equal(t, "accepted: eased in by hand (strip.garment:30)", list[0].Expected)
	assert.Empty(t, list[0].Hint)

	list = check.Run(check.Input{Garment: off(2, accepts("seam.differs", "s00001", 1.7))})
	require.Len(t, list, 1)
	require.NotEmpty(t, list[0].Related)
	last := list[0].Related[len(list[0].Related)-1]
	assert.Equal(t, "strip.garment:30:1: accepted up to 1.7; it got worse by 0.30", last.Place.String()+": "+last.Text)
	assert.NotEmpty(t, list[0].Hint, "it is to be mended")
}

func TestTheNearestIDIsNamed(t *testing.T) {
	list := check.Run(check.Input{Garment: off(0, accepts("seam.neer", "s00001", 1))})
	require.Len(t, list, 1)
	assert.Contains(t, list[0].Expected, `nearest: "seam.near"`)
}

// A fault that leaves something unmeasured may hide what is accepted: then nobody
// is told to take the line out.
func TestNothingIsIdleWhileSomethingIsUnmeasured(t *testing.T) {
	g := off(0, accepts("seam.near", "s00001", 1.2))
	g.Seams[0].Second[0].Edge = "nosuch"
	assert.Equal(t, []string{"error name.unknown p00001.nosuch"}, weights(check.Run(check.Input{Garment: g})))
}

// However far a seam is off, accepting what is found leaves nothing but the note, and
// the walk says that it stays.
func TestWhatIsFoundCanBeAccepted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.Float64Range(-20, 20).Draw(t, "mm")
		g := off(mm)
		found := check.Run(check.Input{Garment: g})
		for _, x := range found {
			g.Accepted = append(g.Accepted, accepts(x.ID, x.Subject, pattern.RoundLength(x.Amount)))
		}
		for _, x := range check.Run(check.Input{Garment: g}) {
			if x.Severity != diag.Note {
				t.Fatalf("%s: %s", x.Address(), x.Message())
			}
		}
		if w := walked(t, g); check.Stays(g, w) != (len(found) > 0) {
			t.Fatalf("%v: stays %v", found, check.Stays(g, w))
		}
	})
}

// What may get worse by a little may do so over the limit too.
func TestAnAcceptedFindingHasItsGraceAtTheLimit(t *testing.T) {
	accepted := accepts("seam.near", "s00001", 1.5)
	for mm, want := range map[float64]string{1.49: "note seam.near s00001", 1.54: "note seam.differs s00001", 1.56: "error seam.differs s00001"} {
		g := off(mm, accepted)
		assert.Equal(t, []string{want}, weights(check.Run(check.Input{Garment: g})), mm)
		assert.Equal(t, mm < 1.55, check.Stays(g, walked(t, g)), mm)
	}
}

// What sheets, lists and status say of the same garments.
func TestTheStandingSaysWhatMatchesAndWhatIsOffOnPurpose(t *testing.T) {
	differs := accepts("seam.differs", "s00001", 1.7)
	for _, c := range []struct {
		off      float64
		accepted []pattern.Accepted
		walked   bool
		words    string
	}{
		{0, nil, true, "WALKED 1.5"},
		{1.2, nil, true, "WALKED 1.5"},
		{1.7, nil, false, "NOT WALKED: s00001 1.70"},
		{1.7, []pattern.Accepted{differs}, true, "WALKED 1.5 BUT 1 ON PURPOSE: s00001 1.70"},
		{1.9, []pattern.Accepted{differs}, false, "NOT WALKED: s00001 1.90"},
		{1.2, []pattern.Accepted{differs}, true, "WALKED 1.5"},
	} {
		s := check.StandingOf(check.Input{Garment: off(c.off, c.accepted...)})
		assert.Equal(t, c.walked, s.Walked(), c.words)
		assert.Equal(t, c.words, s.Words())
	}
	g := off(0)
	g.Pieces[1].Corners[2].At = g.Pieces[1].Corners[0].At // an outline that crosses itself
	s := check.StandingOf(check.Input{Garment: g})
	assert.False(t, s.Walked())
	assert.NotEmpty(t, s.Faults)
	g.Seams, g.Pieces = nil, g.Pieces[:1]
	assert.Equal(t, "NOT WALKED (no seams described)", check.StandingOf(check.Input{Garment: g}).Words())
}

// turning gives a row of panels whose run of top edges turns at each seam by so many
// degrees: the edge before the seam rises towards it, the one behind is level.
func turning(degrees []float64, accepted ...pattern.Accepted) *pattern.Garment {
	g := strip(len(degrees) + 1)
	run := pattern.Run{Name: "hem"}
	for i, p := range g.Pieces {
		front, back := p.Corners[0].At, p.Corners[3].At
		seg := pattern.Seg{Curve: true, H1: curve.Pt(back.X-20, back.Y), H2: curve.Pt(front.X+20, front.Y), ToCorner: true}
		if i < len(degrees) {
			seg.H1.Y -= 20 * math.Tan(degrees[i]*math.Pi/180)
		}
		p.Edges[3].Segs = []pattern.Seg{seg}
		run.Refs = append(run.Refs, pattern.Ref{Piece: p.Name, Edge: p.Edges[3].Name})
	}
	g.Runs, g.Accepted = []pattern.Run{run}, accepted
	return g
}

// kinkOf gives the finding about where the run turns.
func kinkOf(t require.TestingT, g *pattern.Garment) diag.Problem {
	for _, x := range check.Run(check.Input{Garment: g}) {
		if x.ID == "run.kink" {
			return x
		}
	}
	require.Fail(t, "no kink")
	return diag.Problem{}
}

// acceptsAll gives a record that accepts a finding as it is, place by place.
func acceptsAll(x diag.Problem) pattern.Accepted {
	return pattern.Accepted{ID: x.ID, Subject: x.Subject, Parts: x.Parts, Reason: "a dipped hem"}
}

func TestEachPlaceOfAFindingIsAcceptedByItself(t *testing.T) {
	x := kinkOf(t, turning([]float64{6, 8, 2}))
	require.Len(t, x.Parts, 2, "the third turn is within the tolerance")
	first, second := x.Parts[0].At, x.Parts[1].At
	assert.Equal(t, []string{"p00000", "p00001"}, []string{first[:6], second[:6]})
	assert.InDelta(t, 6, x.Parts[0].Amount, 1e-6)
	assert.InDelta(t, 8, x.Parts[1].Amount, 1e-6)
	a := acceptsAll(x)

	for _, c := range []struct {
		name    string
		degrees []float64
		weight  diag.Severity
		says    string
	}{
		{"as it was", []float64{6, 8, 2}, diag.Note, ""},
		{"a little worse", []float64{6.04, 8.04, 2}, diag.Note, ""},
		{"better", []float64{5, 7, 2}, diag.Note, ""},
		{"a gain and as great a loss", []float64{7, 7, 2}, diag.Warning, "accepted up to 6 at " + first + "; it got worse there by 1.00"},
		{"one mended, a new one", []float64{6, 0, 5}, diag.Warning, "not accepted at p00002"},
	} {
		x := kinkOf(t, turning(c.degrees, a))
		assert.Equal(t, c.weight, x.Severity, c.name)
		if c.says != "" {
			require.NotEmpty(t, x.Related, c.name)
			assert.Contains(t, x.Related[len(x.Related)-1].Text, c.says, c.name)
		}
	}
}

func TestAPlaceThatWentIsToldAsIdle(t *testing.T) {
	a := acceptsAll(kinkOf(t, turning([]float64{6, 8})))
	list := check.Run(check.Input{Garment: turning([]float64{6, 0}, a)})
	assert.ElementsMatch(t, []string{"note run.kink hem", "warning accept.idle hem"}, weights(list))
	for _, x := range list {
		if x.ID == "accept.idle" {
			assert.Equal(t, "there is no run.kink hem at "+a.Parts[1].At+" to accept any more", x.Found)
		}
	}
	list = check.Run(check.Input{Garment: turning([]float64{0, 0}, a)})
	assert.Equal(t, []string{"warning accept.idle hem"}, weights(list), "once for all its places")
}

// Whichever place gets worse by more than the slack makes the finding count again and is
// named, however much better all others get.
func TestNoGainElsewhereMakesUpForAWorsePlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		was := rapid.SliceOfN(rapid.Float64Range(15, 40), 2, 5).Draw(t, "degrees") // a gain leaves a kink
		a := acceptsAll(kinkOf(t, turning(was)))
		now := make([]float64, len(was))
		for i := range was {
			now[i] = was[i] - rapid.Float64Range(0, 10).Draw(t, "gain")
		}
		if x := kinkOf(t, turning(now, a)); x.Severity != diag.Note {
			t.Fatalf("no place is worse: %s", x.Message())
		}
		k := rapid.IntRange(0, len(was)-1).Draw(t, "worse")
		now[k] = was[k] + check.AcceptedSlack + rapid.Float64Range(1e-3, 5).Draw(t, "loss")
		x := kinkOf(t, turning(now, a))
		if x.Severity != diag.Warning || !strings.Contains(x.Related[len(x.Related)-1].Text, a.Parts[k].At) {
			t.Fatalf("%s is worse, yet: %v %s, %v", a.Parts[k].At, x.Severity, x.Message(), x.Related)
		}
	})
}

// A reason for a difference one way does not cover one the other way (arithmetic): the
// place is the longer side's edge, and for a gap the level and on which side of the wanted
// range it lies.
func TestWhatIsAcceptedOneWayIsNotAcceptedTheOther(t *testing.T) {
	for _, mm := range []float64{1.3, 2} {
		list := check.Run(check.Input{Garment: off(mm)})
		require.Len(t, list, 1)
		require.NotEmpty(t, list[0].Parts)
		a := pattern.Accepted{ID: list[0].ID, Subject: list[0].Subject, Parts: list[0].Parts, Reason: "eased in"}
		assert.Equal(t, diag.Note, check.Run(check.Input{Garment: off(mm, a)})[0].Severity)
		g := off(-mm, a)
		assert.Contains(t, weights(check.Run(check.Input{Garment: g})), list[0].Severity.String()+" "+list[0].Address())
		assert.False(t, check.Stays(g, walked(t, g)))
	}
}
