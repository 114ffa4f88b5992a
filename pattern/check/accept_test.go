package check_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
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
