package claim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
)

func two() *pattern.Garment { return bodice(panel("front", 100, 80, 90), panel("back", 100, 80, 90)) }

// altered gives a pair of garments of which the later one was changed.
func altered(change func(g *pattern.Garment)) *compare.Change {
	g := pattern.Clone(two())
	change(g)
	g.SortPieces()
	return compare.Garments(two(), g, compare.Options{})
}

// A figure at the edge of its tolerance is told with the decimals that show on
// which side it lies.
func TestTheEdgeOfATolerance(t *testing.T) {
	c := altered(func(g *pattern.Garment) { g.Piece("back").Edges[2].Segs[1].To.X = 80.502 })
	r := judgeOne(t, c, "Keeps: girth waist")
	assert.False(t, r.OK)
	assert.Equal(t, "girth at waist 320.000 -> 321.004, +1.004", r.Measured)
	assert.Equal(t, []string{"back.back let out 0.5 at waist; nothing was taken from another piece"}, r.Where)
	c = altered(func(g *pattern.Garment) { g.Piece("back").Edges[2].Segs[1].To.X = 80.5 })
	r = judgeOne(t, c, "Keeps: girth waist")
	assert.True(t, r.OK, "what lies on the tolerance is within it")
	assert.Equal(t, "girth at waist 320.0 -> 321.0, +1.0", r.Measured)
	assert.False(t, judgeOne(t, c, "Keeps: girth waist within 0.999").OK)
	assert.True(t, judgeOne(t, c, "Changes: girth waist +2").OK)
	assert.False(t, judgeOne(t, c, "Changes: girth waist +2.001").OK)
	assert.False(t, judgeOne(t, c, "Changes: girth waist -1").OK, "the other way")
}

// What two pieces gave and took is told piece by piece, the most telling first.
func TestSeveralReasons(t *testing.T) {
	c := altered(func(g *pattern.Garment) {
		g.Piece("back").Edges[2].Segs[1].To.X = 90
		g.Piece("front").Edges[2].Segs[1].To.X = 76
		g.Closures = []pattern.Closure{{Name: "middle", Kind: pattern.ButtonClosure, Overlap: pattern.Some(3)}}
	})
	r := judgeOne(t, c, "Keeps: girth")
	assert.False(t, r.OK)
	assert.Equal(t, "girth at bust 400.0 -> 397.0, -3.0; at waist 320.0 -> 329.0, +9.0; at hem 360.0 -> 357.0, -3.0", r.Measured)
	assert.Equal(t, []string{"back.back let out 10.0 at waist", "front.back taken in 4.0 at waist", "overlap of middle 0 -> 3"}, r.Where)
}

// A level that lies elsewhere explains every width there.
func TestALevelThatMoved(t *testing.T) {
	c := altered(func(g *pattern.Garment) { g.Levels[1].Y = 15 })
	r := judgeOne(t, c, "Keeps: girth waist")
	assert.False(t, r.OK)
	assert.Equal(t, "girth at waist 320.0 -> 328.0, +8.0", r.Measured) // 2 mm more of each of four panels
	assert.Equal(t, []string{"level waist moved from 0 to 15"}, r.Where)
	assert.Equal(t, []string{"level waist moved from 0 to 15"}, judgeOne(t, c, "Keeps: width back").Where)
}

// A level that only one version records is measured at its height in the other.
func TestALevelThatIsNew(t *testing.T) {
	add := func(g *pattern.Garment) { g.Levels = append(g.Levels, pattern.Level{Name: "ribs", Y: 75}) }
	allTrue(t, claim.Judge(altered(add), parse(t, "Keeps: girth, girth ribs, width back", "Only: garment")), "a level was written down")
	c := altered(func(g *pattern.Garment) {
		add(g)
		g.Piece("back").Edges[2].Segs[1].To.X = 90
	})
	r := judgeOne(t, c, "Keeps: girth ribs")
	assert.Equal(t, "girth at ribs 360.0 -> 370.0, +10.0", r.Measured)
	c = altered(func(g *pattern.Garment) { g.Levels = g.Levels[:2] })
	allTrue(t, claim.Judge(c, parse(t, "Keeps: girth, girth hem")), "a level was lost")
	c = altered(func(g *pattern.Garment) {
		add(g)
		g.Piece("front").Levels = []pattern.Level{{Name: "ribs", Y: 0}}
	})
	allTrue(t, claim.Judge(c, parse(t, "Keeps: girth ribs", "Changes: girth ribs to 340 within 0")), "on one piece it lies elsewhere")
}

func TestPiecesAndEdgesThatWereRenamed(t *testing.T) {
	c := altered(func(g *pattern.Garment) {
		p := g.Piece("back")
		p.Name, p.Was = "rear", "back"
		p.Edges[2].Name, p.Edges[2].Was = "middle", "back"
		g.Around[1].Name = "rear"
	})
	allTrue(t, claim.Judge(c, parse(t, "Keeps: girth, width rear, area rear, length rear.middle", "Only: rear, garment")), "by the new name")
	allTrue(t, claim.Judge(c, parse(t, "Only: back, garment")), "by the old name")
	r := judgeOne(t, c, "Keeps: width back")
	assert.False(t, r.OK)
	assert.Contains(t, r.Unknown, "there is no piece back")
}

func TestWhatCannotBeTold(t *testing.T) {
	c := altered(func(g *pattern.Garment) {
		g.Closures = []pattern.Closure{{Name: "middle", Kind: pattern.ButtonClosure}}
		g.Levels = append(g.Levels, pattern.Level{Name: "collar", Y: 900})
	})
	for line, want := range map[string]string{
		"Keeps: gap middle":           "is no lacing",
		"Keeps: pitch middle":         "no buttons, eyelets or hooks are recorded",
		"Keeps: overlap middle":       "there is no closure middle",
		"Keeps: girth collar":         "no piece of around reaches level collar",
		"Changes: count middle to 12": "no buttons, eyelets or hooks are recorded",
	} {
		r := judgeOne(t, c, line)
		assert.False(t, r.OK, line)
		assert.False(t, r.NoBody, line)
		assert.Contains(t, r.Unknown, want, line)
		assert.Contains(t, r.Measured, want, line)
		p, wrong := r.Problem()
		assert.True(t, wrong)
		assert.Equal(t, claim.Untold, p.ID)
	}
	r := judgeOne(t, c, "Keeps: girth")
	assert.True(t, r.OK, "no version reaches the collar")
	require.Len(t, r.Notes, 1)
	assert.Contains(t, r.Notes[0], "not measured at collar: no piece of around reaches level collar")
}

// A piece of the round that one version cannot measure leaves the girth untold
// there, and so the claim on every level.
func TestAFigureThatOneVersionLacks(t *testing.T) {
	c := altered(func(g *pattern.Garment) { g.Piece("back").NoLevels = true })
	r := judgeOne(t, c, "Keeps: girth")
	assert.False(t, r.OK)
	assert.Equal(t, "girth at bust: piece back goes round but has no level bust", r.Unknown)
	allTrue(t, claim.Judge(c, claim.Suggest(c)), "suggestions")
}

func TestFirstAndLastVersions(t *testing.T) {
	first := compare.Garments(nil, two(), compare.Options{})
	r := judgeOne(t, first, "Keeps: girth")
	assert.False(t, r.OK)
	assert.Equal(t, "there is no earlier version", r.Unknown)
	allTrue(t, claim.Judge(first, parse(t, "Changes: girth waist to 320", "Only: front, back, garment")), "what is to be")
	assert.Empty(t, claim.Unclaimed(first, nil))
	assert.Empty(t, claim.Suggest(first))
	last := compare.Garments(two(), nil, compare.Options{})
	r = judgeOne(t, last, "Changes: girth waist to 320")
	assert.Equal(t, "there is no later version", r.Unknown)
	assert.Empty(t, claim.Judge(nil, parse(t, "Keeps: girth")))
	none := compare.Garments(nil, nil, compare.Options{})
	assert.Equal(t, "there is no later version", judgeOne(t, none, "Keeps: girth").Unknown)
	assert.Empty(t, claim.Check(none, parse(t, "Keeps: girth x")))
}

func TestNamesThatNoVersionHas(t *testing.T) {
	c := altered(func(g *pattern.Garment) { g.Pieces = append(g.Pieces, panel("strap", 30, 30, 30)) })
	for line, want := range map[string]struct{ found, hint string }{
		"Keeps: girth wiast":          {"there is no level wiast", "did you mean waist?"},
		"Changes: width bakc +3":      {"there is no piece bakc", "did you mean back?"},
		"Keeps: gap front":            {"there is no closure front", ""},
		"Keeps: length back.bottom":   {"there is no edge bottom", ""},
		"Only: front, garmet":         {"there is no piece garmet", "did you mean garment?"},
		"Only: front, strip, garment": {"there is no piece strip", "did you mean strap?"},
	} {
		problems := claim.Check(c, parse(t, line))
		require.Len(t, problems, 1, line)
		assert.Equal(t, claim.UnknownName, problems[0].ID)
		assert.Contains(t, problems[0].Found, want.found, line)
		assert.Equal(t, want.hint, problems[0].Hint, line)
		assert.Equal(t, "message", problems[0].Place.File)
	}
	assert.Empty(t, claim.Check(c, parse(t, "Keeps: width strap", "Only: strap, garment")), "one version has it")
}

// Two Only lines of a group are one list; names that nothing changed under are
// told and do no harm; many pieces are counted.
func TestOnlyThesePieces(t *testing.T) {
	c := altered(func(g *pattern.Garment) {
		for _, name := range []string{"a", "b", "c", "d", "e"} {
			g.Pieces = append(g.Pieces, panel(name, 30, 30, 30))
		}
	})
	r := judgeOne(t, c, "Only: front")
	assert.Equal(t, "also changed: a, b, c, d, e", r.Measured)
	assert.Equal(t, []string{"a added", "b added", "and 3 more"}, r.Where)
	assert.Equal(t, []string{"front is named and did not change"}, r.Notes)
	results := claim.Judge(c, parse(t, "Only: a, b, c", "Only: d, e, garment"))
	allTrue(t, results, "two lines")
	assert.Equal(t, []string{"the garment file is named and did not change"}, results[1].Notes)
}
