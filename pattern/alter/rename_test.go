package alter_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

// A garment that names its pieces and edges in every record that can, and
// comments that have to stay.
const (
	namedGarment = `seamkeep garment 1
# the garment of the tests
half left
level waist 0
level bust 100
around side middle  # front to back
piece side stretch 15 of 60
piece middle number 2

# how it is sewn
seam side-middle side.back from low to high middle.front from low to high ease 1
seam upper side.back from high to end middle.front from high to end
seam centre middle.back mirrored
run hem side.hem middle.hem
run neck side.top middle.top
closure front lacing side.front  # laced
eyelets front count 9
allowance 12
allowance side 10  # the whole piece
allowance side.back 6
allowance hem 0
join side.front fold
accept seam.near side 1.2 "a seam may have a piece's name"
accept around.no-level side 1 "it ends below"  # on purpose
accept notch.crowded side.back.low 2 "a tight corner"
accept bone.near side.back 2 "a bone may have an edge's name"
accept run.kink hem at middle.hem-front 6 at side.hem-back 5.5 "a corner"
accept notch.crowded middle at middle.front.low 3 at middle.top.low 1 "an edge"
accept bone.long side at side.back 4 "a mark"
`
	namedSide = `seamkeep piece 1
title "Side"
cloth "canvas" 1 on fold front  # the fold
corner top-front 0 150
edge front
# the hem follows
corner hem-front 0 -100
edge hem
corner hem-back 80 -100
edge back  # to the middle
  line to 70 0
  line to corner
corner top-back 80 150
edge top
notch low on back 20 from hem-back  # not at the corner
notch high on back at bust
notch end on back 10 from top-back
notch waist on front at waist nearest top-front
`
	namedMiddle = `seamkeep piece 1
corner top-front 0 150
edge front
  line to 10 0
  line to corner
corner hem-front 0 -100
edge hem
corner hem-back 60 -100
edge back
corner top-back 60 150
edge top
notch low on front 20 from hem-front
notch high on front at bust
notch end on front 10 from top-front
`
)

func namedFiles() map[string]string {
	return map[string]string{"w.garment": namedGarment, "pieces/side.piece": namedSide, "pieces/middle.piece": namedMiddle}
}

func named(t testing.TB) *pattern.Garment {
	fsys := fstest.MapFS{}
	for name, src := range namedFiles() {
		fsys[name] = &fstest.MapFile{Data: []byte(src)}
	}
	folder, problems := text.Load(fsys, ".")
	require.Empty(t, problems)
	return folder.Garment
}

// changedLines writes a garment into its files and gives the lines that differ.
func changedLines(t *testing.T, g *pattern.Garment, moved map[string]string) []string {
	t.Helper()
	var out []string
	for name, src := range namedFiles() {
		var model any = g
		path := name
		if to := moved[name]; to != "" {
			path = to
		}
		if piece, ok := strings.CutPrefix(path, "pieces/"); ok {
			model = g.Piece(strings.TrimSuffix(piece, ".piece"))
		}
		after, err := text.Update(path, []byte(src), model)
		require.NoError(t, err)
		was := strings.Split(src, "\n")
		counts := map[string]int{}
		for _, l := range was {
			counts[l]++
		}
		for _, l := range strings.Split(string(after), "\n") {
			if counts[l]--; counts[l] < 0 {
				out = append(out, l)
			}
		}
		for _, l := range was {
			if i := strings.Index(l, "#"); i >= 0 {
				assert.Contains(t, string(after), l[i:], "a comment is lost")
			}
		}
	}
	return out
}

func TestRenamingAnEdgeRewritesTheLinesThatNameIt(t *testing.T) {
	g := named(t)
	before := pattern.Clone(g)
	c, problem := alter.RenameEdge(g, "side", "back", "seam-edge", true)
	require.Nil(t, problem)
	assert.Equal(t, before, g, "the garment that was given is not changed")
	assert.Empty(t, text.CheckNames(c))
	assert.ElementsMatch(t, []string{
		"seam side-middle side.seam-edge from low to high middle.front from low to high ease 1",
		"seam upper side.seam-edge from high to end middle.front from high to end",
		"allowance side.seam-edge 6",
		`accept notch.crowded side.seam-edge.low 2 "a tight corner"`,
		"edge seam-edge was back  # to the middle",
		"notch low on seam-edge 20 from hem-back  # not at the corner",
		"notch high on seam-edge at bust",
		"notch end on seam-edge 10 from top-back",
	}, changedLines(t, c, nil))

	c, problem = alter.RenameEdge(g, "side", "front", "centre", false)
	require.Nil(t, problem)
	assert.ElementsMatch(t, []string{
		"closure front lacing side.centre  # laced",
		"join side.centre fold",
		`cloth "canvas" 1 on fold centre  # the fold`,
		"edge centre",
		"notch waist on centre at waist nearest top-front",
	}, changedLines(t, c, nil))

	c, problem = alter.RenameEdge(g, "middle", "hem", "lower", false)
	require.Nil(t, problem)
	assert.ElementsMatch(t, []string{"run hem side.hem middle.lower", "edge lower"}, changedLines(t, c, nil))
}

func TestRenamingAPieceRewritesTheLinesThatNameIt(t *testing.T) {
	g := named(t)
	c, problem := alter.RenamePiece(g, "side", "wing", true)
	require.Nil(t, problem)
	assert.Empty(t, text.CheckNames(c))
	assert.ElementsMatch(t, []string{
		"around wing middle  # front to back",
		"piece wing stretch 15 of 60",
		"seam side-middle wing.back from low to high middle.front from low to high ease 1",
		"seam upper wing.back from high to end middle.front from high to end",
		"run hem wing.hem middle.hem",
		"run neck wing.top middle.top",
		"closure front lacing wing.front  # laced",
		"allowance wing 10  # the whole piece",
		"allowance wing.back 6",
		"join wing.front fold",
		`accept around.no-level wing 1 "it ends below"  # on purpose`,
		`accept notch.crowded wing.back.low 2 "a tight corner"`,
		`accept bone.near wing.back 2 "a bone may have an edge's name"`,
		`accept run.kink hem at middle.hem-front 6 at wing.hem-back 5.5 "a corner"`,
		`accept bone.long wing at wing.back 4 "a mark"`,
		"was side",
	}, changedLines(t, c, map[string]string{"pieces/side.piece": "pieces/wing.piece"}))
	assert.Equal(t, "wing", c.Pieces[1].Name, "the pieces are in order again")
}

func TestRenamingACorner(t *testing.T) {
	c, problem := alter.RenameCorner(named(t), "side", "top-front", "shoulder", true)
	require.Nil(t, problem)
	assert.Empty(t, text.CheckNames(c))
	assert.ElementsMatch(t, []string{"corner shoulder 0 150 was top-front", "notch waist on front at waist nearest shoulder"}, changedLines(t, c, nil))
	c, problem = alter.RenameCorner(named(t), "middle", "hem-front", "toe", false)
	require.Nil(t, problem)
	assert.Contains(t, changedLines(t, c, nil), `accept run.kink hem at middle.toe 6 at side.hem-back 5.5 "a corner"`)
	c, problem = alter.RenameEdge(named(t), "middle", "top", "neck", false)
	require.Nil(t, problem)
	assert.Contains(t, changedLines(t, c, nil), `accept notch.crowded middle at middle.front.low 3 at middle.neck.low 1 "an edge"`)
	c, problem = alter.RenameCorner(named(t), "side", "hem-back", "foot", false)
	require.Nil(t, problem)
	assert.ElementsMatch(t, []string{`accept run.kink hem at middle.hem-front 6 at side.foot 5.5 "a corner"`, "corner foot 80 -100", "notch low on back 20 from foot  # not at the corner"}, changedLines(t, c, nil))
}

func TestTheFormerName(t *testing.T) {
	for _, c := range []struct {
		what, was, old, to string
		kept               bool
		want               string
	}{
		{"a kept name is remembered", "", "back", "seam-edge", true, "back"},
		{"a name never kept is forgotten", "", "back", "seam-edge", false, ""},
		{"the name kept before stays", "e3", "back", "seam-edge", false, "e3"},
		{"the name kept last counts", "e3", "back", "seam-edge", true, "back"},
		{"back to the former name", "e3", "back", "e3", false, ""},
		{"back to the former name, kept", "e3", "back", "e3", true, ""},
	} {
		t.Run(c.what, func(t *testing.T) {
			g := named(t)
			p := g.Piece("side")
			p.Edges[p.EdgeIndex(c.old)].Was = c.was
			p.Was = c.was
			out, problem := alter.RenameEdge(g, "side", c.old, c.to, c.kept)
			require.Nil(t, problem)
			q := out.Piece("side")
			assert.Equal(t, c.want, q.Edges[q.EdgeIndex(c.to)].Was)
		})
	}
}

func TestRenamesThatAreRefused(t *testing.T) {
	g := named(t)
	type try func() (*pattern.Garment, *diag.Problem)
	edge := func(piece, old, to string) try {
		return func() (*pattern.Garment, *diag.Problem) { return alter.RenameEdge(g, piece, old, to, true) }
	}
	piece := func(old, to string) try {
		return func() (*pattern.Garment, *diag.Problem) { return alter.RenamePiece(g, old, to, true) }
	}
	corner := func(piece, old, to string) try {
		return func() (*pattern.Garment, *diag.Problem) { return alter.RenameCorner(g, piece, old, to, true) }
	}
	for _, c := range []struct {
		try         try
		id, message string
	}{
		{edge("sidr", "back", "x"), "name.unknown", `there is no piece named "sidr"; the name of one that there is (nearest: "side")`},
		{edge("side", "bock", "x"), "name.unknown", `there is no edge of side named "bock"; the name of one that there is (nearest: "back")`},
		{edge("side", "back", "top"), "name.twice", `there is a edge of side named top already; a name that is free`},
		{edge("side", "back", "back"), "name.twice", `edge side.back has that name already; another name`},
		{edge("side", "back", "Back"), "text.name", `the name "Back" does not begin with a lower-case letter; a lower-case letter, then letters, digits and single hyphens`},
		{edge("side", "back", "corner"), "text.name", `the name "corner" is a word that the text keeps for itself; a lower-case letter, then letters, digits and single hyphens`},
		{piece("nothing", "x"), "name.unknown", `there is no piece named "nothing"; the name of one that there is`},
		{piece("side", "middle"), "name.twice", `there is a piece named middle already; a name that is free`},
		{piece("side", "neck"), "name.ambiguous", `there is a run named neck already; a name that is free`},
		{piece("side", "nul"), "text.name", `the name "nul" cannot be a file name on Windows; a lower-case letter, then letters, digits and single hyphens`},
		{corner("side", "top", "x"), "name.unknown", `there is no corner of side named "top"; the name of one that there is`},
		{corner("side", "top-back", "hem-back"), "name.twice", `there is a corner of side named hem-back already; a name that is free`},
	} {
		got, problem := c.try()
		require.NotNil(t, problem, c.message)
		assert.Nil(t, got)
		assert.Equal(t, c.id, problem.ID)
		assert.Equal(t, strings.ReplaceAll(c.message, "a edge", "an edge"), problem.Message())
		assert.Equal(t, diag.Error, problem.Severity)
	}
}

// A comparison of the two versions sees a rename and no movement.
func TestAComparisonSeesOnlyTheRename(t *testing.T) {
	g := named(t)
	c, problem := alter.RenamePiece(g, "side", "wing", true)
	require.Nil(t, problem)
	pieces := compare.Garments(g, c, compare.Options{}).Pieces
	require.Len(t, pieces, 2)
	assert.Equal(t, []compare.Status{compare.Renamed, compare.Unchanged}, []compare.Status{pieces[0].Status, pieces[1].Status})

	c, problem = alter.RenameEdge(g, "side", "back", "seam-edge", true)
	require.Nil(t, problem)
	renamed := 0
	for _, p := range compare.Garments(g, c, compare.Options{}).Pieces {
		for _, e := range p.Edges {
			assert.True(t, e.Lies(), "%s.%s moved", p.Name, e.Name)
			if e.Status == compare.Renamed {
				renamed++
				assert.Equal(t, "seam-edge", e.Name)
			}
		}
	}
	assert.Equal(t, 1, renamed)
}

// Renaming there and back is the garment as it was, whatever HEAD has; between
// the two the checks find as much as before.
func TestRenamingThereAndBack(t *testing.T) {
	samples := []*pattern.Garment{named(t), sample(t, "waistcoat--03a-gusset-untrued"), sample(t, "apron--1")}
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.SampledFrom(samples).Draw(t, "garment")
		p := rapid.SampledFrom(g.Pieces).Draw(t, "piece")
		to := fmt.Sprintf("free-%d", rapid.IntRange(1, 9).Draw(t, "name"))
		kept, again := rapid.Bool().Draw(t, "kept"), rapid.Bool().Draw(t, "kept again")
		var rename func(g *pattern.Garment, old, to string, kept bool) (*pattern.Garment, *diag.Problem)
		var old string
		switch rapid.IntRange(0, 2).Draw(t, "what") {
		case 0:
			rename, old = alter.RenamePiece, p.Name
		case 1:
			old = rapid.SampledFrom(p.Edges).Draw(t, "edge").Name
			rename = func(g *pattern.Garment, old, to string, kept bool) (*pattern.Garment, *diag.Problem) {
				return alter.RenameEdge(g, p.Name, old, to, kept)
			}
		default:
			old = rapid.SampledFrom(p.Corners).Draw(t, "corner").Name
			rename = func(g *pattern.Garment, old, to string, kept bool) (*pattern.Garment, *diag.Problem) {
				return alter.RenameCorner(g, p.Name, old, to, kept)
			}
		}
		there, problem := rename(g, old, to, kept)
		if problem != nil {
			t.Fatal(problem.Message())
		}
		if pattern.Equal(g, there) {
			t.Fatal("the rename did nothing")
		}
		if a, b := check.Run(check.Input{Garment: g}), check.Run(check.Input{Garment: there}); len(a) != len(b) {
			t.Fatalf("%d findings before, %d after: %v", len(a), len(b), b)
		}
		if faults := text.CheckNames(there); len(faults) > 0 {
			t.Fatal(faults[0].Message())
		}
		// a name that was never kept remembers nothing on the way back either
		back, problem := rename(there, to, old, again && kept)
		if problem != nil {
			t.Fatal(problem.Message())
		}
		if !pattern.Equal(g, back) {
			t.Fatalf("%s to %s and back is another garment", old, to)
		}
	})
}
