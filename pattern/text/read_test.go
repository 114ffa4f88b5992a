package text

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// outlineText is an outline to put other records round.
const outlineText = "corner a 0 0\nedge one\ncorner b 0 9\nedge two\n"

func readRecords(t *testing.T, records string) *pattern.Piece {
	t.Helper()
	p, problems := ReadPiece("dir/pieces/side-back.piece", []byte("seamkeep piece 1\n"+outlineText+records))
	require.Empty(t, problems)
	return p
}

func TestPieceRecordsAreReadIntoTheModel(t *testing.T) {
	at := func(line, column int) diag.Place {
		return diag.Place{File: "dir/pieces/side-back.piece", Piece: "side-back", Line: line, Column: column}
	}
	p := readRecords(t, `title "A \"b\" \\"
was old
cloth "linen" 2 on fold two
grain 1 2 to 3 4.5
level hip -200
levels none
notch waist on one at waist nearest a
notch n on two 5.5 below hip
notch n on one 7 from b
cord c left only length 9 from 1 2
  curve 1 2 3 4 to 5 6
  line to 7 8
button b 1 2 diameter 15 angle -90 width 3
`)
	assert.Equal(t, "side-back", p.Name)
	assert.Equal(t, `A "b" \`, p.Title)
	assert.Equal(t, "old", p.Was)
	assert.Equal(t, []pattern.Cloth{{Place: at(8, 1), Name: "linen", Count: 2, Cut: pattern.OnFold, Fold: pattern.Mention{Place: at(8, 25), Name: "two"}}}, p.Cloths)
	assert.Equal(t, &pattern.Grain{Place: at(9, 1), From: curve.Pt(1, 2), To: curve.Pt(3, 4.5)}, p.Grain)
	assert.Equal(t, []pattern.Level{{Place: at(10, 1), Name: "hip", Y: -200}}, p.Levels)
	assert.True(t, p.NoLevels)

	require.Len(t, p.Notches, 3)
	assert.Equal(t, pattern.Spot{Kind: pattern.AtLevel, Level: "waist", Nearest: "a"}, p.Notches[0].On)
	assert.Equal(t, pattern.Spot{Kind: pattern.FromLevel, Level: "hip", Distance: 5.5}, p.Notches[1].On)
	assert.Equal(t, pattern.Spot{Kind: pattern.FromCorner, Corner: "b", Distance: 7}, p.Notches[2].On)
	assert.Equal(t, "one", p.Notches[2].Edge.Name)
	assert.Equal(t, 12, p.Notches[2].Edge.Place.Column)

	require.Len(t, p.Marks, 2)
	assert.Equal(t, pattern.Mark{Place: at(15, 1), Kind: pattern.Cord, Name: "c", Only: "left", Length: pattern.Some(9), At: curve.Pt(1, 2), Segs: []pattern.Seg{
		{Place: at(16, 3), Curve: true, H1: curve.Pt(1, 2), H2: curve.Pt(3, 4), To: curve.Pt(5, 6)},
		{Place: at(17, 3), To: curve.Pt(7, 8)},
	}}, p.Marks[0])
	assert.Equal(t, pattern.Mark{Place: at(18, 1), Kind: pattern.Button, Name: "b", At: curve.Pt(1, 2),
		Width: pattern.Some(3), Diameter: pattern.Some(15), Angle: pattern.Some(-90)}, p.Marks[1])
}

func TestGarmentRecordsAreReadIntoTheModel(t *testing.T) {
	g, problems := ReadGarment("dir/vest.garment", []byte(`seamkeep garment 1
half right
piece gusset number 3 apart stretch 15 of 60 tested 2026-04-30
seam s a.x from n to m + b.y c.z same-way ease -1 from n to m ease 2 from m to o
closure c buttons a.x b.y overlap 30
buttons c down 10 from bust up 0 margin 4
wanted gap c at bust -5 to 36
allowance -0
allowance a.x 6
tolerance turn 3 warn 2
`))
	require.Empty(t, problems)
	at := func(line, column int, piece, edge string) diag.Place {
		return diag.Place{File: "dir/vest.garment", Garment: "vest", Piece: piece, Edge: edge, Line: line, Column: column}
	}
	assert.Equal(t, "vest", g.Name)
	assert.Equal(t, pattern.RightHalf, g.Half)
	assert.Equal(t, []pattern.PieceOption{{Place: at(3, 1, "gusset", ""), Piece: "gusset", Number: 3, Apart: true,
		Stretch: pattern.Some(15), Of: pattern.Some(60), Tested: "2026-04-30"}}, g.Options)
	assert.Equal(t, []pattern.Seam{{Place: at(4, 1, "", ""), Name: "s", SameWay: true,
		First: []pattern.Ref{
			{Place: at(4, 8, "a", "x"), Piece: "a", Edge: "x", From: "n", To: "m"},
			{Place: at(4, 26, "b", "y"), Piece: "b", Edge: "y"}},
		Second: []pattern.Ref{{Place: at(4, 30, "c", "z"), Piece: "c", Edge: "z"}},
		Eases: []pattern.Ease{
			{Place: at(4, 43, "", ""), Amount: -1, From: "n", To: "m"},
			{Place: at(4, 63, "", ""), Amount: 2, From: "m", To: "o"}}}}, g.Seams)
	assert.Equal(t, pattern.Some(30), g.Closures[0].Overlap)
	assert.Len(t, g.Closures[0].Edges, 2)
	assert.Equal(t, []pattern.Fastening{{Place: at(6, 1, "", ""), Closure: "c", From: "bust", Up: pattern.Some(0), Down: pattern.Some(10), Margin: pattern.Some(4)}}, g.Buttons)
	assert.Equal(t, []pattern.Wanted{{Place: at(7, 1, "", ""), Closure: "c", Level: "bust", Min: -5, Max: 36}}, g.Wanted)
	assert.Equal(t, pattern.Target{}, g.Allowances[0].Target)
	assert.Equal(t, pattern.Target{Place: at(9, 11, "", ""), Name: "a", Edge: "x"}, g.Allowances[1].Target)
	assert.Equal(t, []pattern.Tolerance{{Place: at(10, 1, "", ""), Kind: "turn", Value: 3, Warn: pattern.Some(2)}}, g.Tolerances)
}

// Columns count characters: the two ideographs are one column each.
func TestColumnsCountCharacters(t *testing.T) {
	_, problems := ReadPiece("p.piece", []byte("seamkeep piece 1\n"+outlineText+"cloth \"漢字\" x pair\n"))
	require.Len(t, problems, 1)
	assert.Equal(t, 12, problems[0].Place.Column)
}

func TestSpacesAndOrderAreFree(t *testing.T) {
	src := "# first\n\n  # indented\nseamkeep   piece 1   # one\nnotch  n on  one at   waist\ncorner a 0 0\ntitle \"T\"# close\nedge one\n\n   # within\n " +
		"  line  to corner  \ngrain 0 0 to 0 1\ncorner b 0 9\nedge two"
	p, problems := ReadPiece("p.piece", []byte(src))
	require.Empty(t, problems)
	assert.Equal(t, "T", p.Title)
	assert.Len(t, p.Edges[0].Segs, 1)
	want, problems := ReadPiece("p.piece", []byte("seamkeep piece 1\ntitle \"T\"\ngrain 0 0 to 0 1\n"+outlineText+"notch n on one at waist\n"))
	require.Empty(t, problems)
	assert.True(t, pattern.EqualPieces(want, p))
}

func TestALoneLineToTheCornerIsAStraightEdge(t *testing.T) {
	out, problems := Tidy("p.piece", []byte("seamkeep piece 1\ncorner a 0 0\nedge one # why\n  # above\n  line to corner # behind\ncorner b 0 9\nedge two\nbone m from 0 0\n  line to 0 5\n"))
	require.Empty(t, problems)
	assert.Equal(t, "seamkeep piece 1\n# above\n# behind\ncorner a 0 0\nedge one length 9  # why\ncorner b 0 9\nedge two length 9\nbone m from 0 0 to 0 5\n",
		strings.Replace(string(out), "corner a 0 0\n# above\n# behind\n", "# above\n# behind\ncorner a 0 0\n", 1))
}

func TestAFileTooLargeIsNotRead(t *testing.T) {
	p, problems := ReadPiece("p.piece", []byte("seamkeep piece 1\n"+strings.Repeat("#\n", 1<<19)))
	assert.Nil(t, p)
	require.Len(t, problems, 1)
	assert.Equal(t, IDSize, problems[0].ID)

	many := "seamkeep piece 1\n" + strings.Repeat("levels none\n", 2) + strings.Repeat("level a 1\n", 20000)
	_, problems = ReadPiece("p.piece", []byte(many))
	assert.LessOrEqual(t, len(problems), maxProblems)

	var b strings.Builder
	b.WriteString("seamkeep piece 1\n" + outlineText + "bone b from 0 0\n")
	for range 20000 {
		b.WriteString("  line to 1 1\n")
	}
	_, problems = ReadPiece("p.piece", []byte(b.String()))
	require.Len(t, problems, 1)
	assert.Equal(t, IDSize, problems[0].ID)
	assert.Equal(t, 20001, problems[0].Place.Line)
}

func TestTheNumberOfProblemsIsBounded(t *testing.T) {
	for name, line := range map[string]string{"words": "oops\n", "characters": "#\x01\n", "names": "corner A 0 0\nedge B\n"} {
		_, problems := ReadGarment("g.garment", []byte("seamkeep garment 1\n"+strings.Repeat(line, 5000)))
		assert.LessOrEqual(t, len(problems), maxProblems, name)
		assert.Equal(t, IDMany, problems[len(problems)-1].ID, name)
	}
}

func TestAFileOfANewerVersionGivesNothing(t *testing.T) {
	p, problems := ReadPiece("p.piece", []byte("seamkeep piece 2\n"))
	assert.Nil(t, p)
	require.Len(t, problems, 1)
	assert.Equal(t, IDNewer, problems[0].ID)
	assert.Contains(t, problems[0].Found, "written by a newer seamkeep")
}

func TestEveryRuleOfATableIsComplete(t *testing.T) {
	checkRules(t, pieceGrammar())
	checkRules(t, garmentGrammar())
	checkRules(t, bodyGrammar())
}

func checkRules[M any](t *testing.T, g grammar[M]) {
	last := head
	for _, r := range g.rules {
		assert.NotEmpty(t, r.words)
		assert.NotNil(t, r.read, r.words)
		if !r.seg {
			assert.GreaterOrEqual(t, r.part, last, "parts in order: %s", r.words)
			last = r.part
		}
	}
	assert.Len(t, g.byWord(), len(g.words()), "no word twice")
}

func TestALineThatIsTooLongIsAnErrorAndNotRead(t *testing.T) {
	long := "around" + strings.Repeat(" a", MaxLine)
	_, problems := ReadGarment("x.garment", []byte("seamkeep garment 1\nhalf left\n"+long+"\nlevel waist zero\n"))
	require.Len(t, problems, 2)
	assert.Equal(t, IDSize, problems[0].ID)
	assert.Equal(t, 3, problems[0].Place.Line)
	assert.Equal(t, IDNumber, problems[1].ID, "the lines after it are read")
}
