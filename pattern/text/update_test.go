package text

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
)

const handWritten = `# Cut from the green remnant.
seamkeep piece 1
title   "Side back"          # the odd spacing is on purpose

# the outline
corner a 0 0
edge  front  length 100  # sewn first
corner b 0.0 -100
edge hem
  # the belly of the curve
  curve 20 -120 60 -120 to 80 -110   # knot
  line to 90 -105
  line to corner  # and out
corner c 100 -100
edge side # straight

notch waist on side at waist   # pair
bone b1 from 10 -90 to 10 -10


drill d 5 -5
# the end
`

func TestUpdateRewritesOnlyTheLinesThatDiffer(t *testing.T) {
	cases := map[string]struct {
		change func(p *pattern.Piece)
		old    []string // lines that go
		now    []string // lines that come in their place
	}{
		"nothing": {change: func(*pattern.Piece) {}},
		"a corner": {
			change: func(p *pattern.Piece) { p.Corners[1].At.X = 1.25 },
			old:    []string{"corner b 0.0 -100"}, now: []string{"corner b 1.25 -100"},
		},
		"a length keeps the comment": {
			change: func(p *pattern.Piece) { p.Edges[0].Length = pattern.Some(101) },
			old:    []string{"edge  front  length 100  # sewn first"}, now: []string{"edge front length 101  # sewn first"},
		},
		"one segment of an edge": {
			change: func(p *pattern.Piece) { p.Edges[1].Segs[0].H1.X = 21 },
			old:    []string{"  curve 20 -120 60 -120 to 80 -110   # knot"}, now: []string{"  curve 21 -120 60 -120 to 80 -110  # knot"},
		},
		"a segment inserted": {
			change: func(p *pattern.Piece) {
				s := p.Edges[1].Segs
				p.Edges[1].Segs = append(s[:2:2], append([]pattern.Seg{{To: s[0].H1}}, s[2:]...)...)
			},
			old: []string{"  line to corner  # and out"}, now: []string{"  line to 20 -120", "  line to corner  # and out"},
		},
		"a segment removed leaves its comment": {
			change: func(p *pattern.Piece) { p.Edges[1].Segs = p.Edges[1].Segs[1:] },
			old:    []string{"  curve 20 -120 60 -120 to 80 -110   # knot"}, now: []string{"  # knot"},
		},
		"an edge renamed": {
			change: func(p *pattern.Piece) { p.Edges[0].Name, p.Edges[0].Was = "cut", "front" },
			old:    []string{"edge  front  length 100  # sewn first"}, now: []string{"edge cut length 100 was front  # sewn first"},
		},
		"a record removed leaves its comments": {
			change: func(p *pattern.Piece) { p.Title = "" },
			old:    []string{`title   "Side back"          # the odd spacing is on purpose`}, now: []string{"# the odd spacing is on purpose"},
		},
		"a record removed leaves no double blank line": {
			change: func(p *pattern.Piece) { p.Notches = nil },
			old:    []string{"notch waist on side at waist   # pair"}, now: []string{"# pair"},
		},
		"a mark removed": {
			change: func(p *pattern.Piece) { p.Marks = p.Marks[1:] },
			old:    []string{"bone b1 from 10 -90 to 10 -10"}, now: nil,
		},
		"records added after their predecessors": {
			change: func(p *pattern.Piece) { p.Levels = []pattern.Level{{Name: "waist", Y: -20}} },
			old:    []string{"edge side # straight"}, now: []string{"edge side # straight", "level waist -20"},
		},
		"a corner and an edge added": {
			change: func(p *pattern.Piece) {
				p.Corners = append(p.Corners, pattern.Corner{Name: "d"})
				p.Edges = append(p.Edges, pattern.Edge{Name: "top"})
			},
			old: []string{"edge side # straight"}, now: []string{"edge side # straight", "corner d 0 0", "edge top"},
		},
		"the outline begins elsewhere, which says the same": {
			change: func(p *pattern.Piece) {
				p.Corners = append(p.Corners[1:], p.Corners[0])
				p.Edges = append(p.Edges[1:], p.Edges[0])
			},
		},
		"the order of notches and marks, which says the same": {
			change: func(p *pattern.Piece) { p.Marks[0], p.Marks[1] = p.Marks[1], p.Marks[0] },
		},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			p, problems := ReadPiece("p.piece", []byte(handWritten))
			require.Empty(t, problems)
			c.change(p)
			out, err := Update("p.piece", []byte(handWritten), p)
			require.NoError(t, err)
			want := handWritten
			if len(c.old) > 0 {
				old := strings.Join(c.old, "\n") + "\n"
				require.Equal(t, 1, strings.Count(want, old))
				now := ""
				if len(c.now) > 0 {
					now = strings.Join(c.now, "\n") + "\n"
				}
				want = strings.Replace(want, old, now, 1)
			}
			assert.Equal(t, want, string(out))
		})
	}
}

func TestUpdateOfAnOutlineInAnotherOrderKeepsItsComments(t *testing.T) {
	p, problems := ReadPiece("p.piece", []byte(handWritten))
	require.Empty(t, problems)
	p.Corners[1], p.Corners[2] = p.Corners[2], p.Corners[1]
	p.Edges[1], p.Edges[2] = p.Edges[2], p.Edges[1]
	out, err := Update("p.piece", []byte(handWritten), p)
	require.NoError(t, err)
	assert.Equal(t, `# Cut from the green remnant.
seamkeep piece 1
title   "Side back"          # the odd spacing is on purpose

# the outline
corner a 0 0
edge  front  length 100  # sewn first
corner c 100 -100
edge side # straight
corner b 0.0 -100
edge hem
  # the belly of the curve
  curve 20 -120 60 -120 to 80 -110   # knot
  line to 90 -105
  line to corner  # and out

notch waist on side at waist   # pair
bone b1 from 10 -90 to 10 -10


drill d 5 -5
# the end
`, string(out))
}

func TestUpdateStartsANewBlockWithABlankLine(t *testing.T) {
	src := []byte("seamkeep piece 1\n\ncorner a 0 0\nedge one\ncorner b 0 9\nedge two\n")
	p, problems := ReadPiece("p.piece", src)
	require.Empty(t, problems)
	p.Title = "New"
	p.Marks = []pattern.Mark{{Kind: pattern.Drill, Name: "d"}, {Kind: pattern.Drill, Name: "e"}}
	out, err := Update("p.piece", src, p)
	require.NoError(t, err)
	assert.Equal(t, "seamkeep piece 1\ntitle \"New\"\n\ncorner a 0 0\nedge one\ncorner b 0 9\nedge two\n\ndrill d 0 0\ndrill e 0 0\n", string(out))
}

func TestUpdateOfAGarmentAddsAfterTheSameKind(t *testing.T) {
	src := []byte("seamkeep garment 1\n# fit\nreduce waist 30 # tight\nhalf left\nseam a x.a y.a\n\nallowance 12\n")
	g, problems := ReadGarment("g.garment", src)
	require.Empty(t, problems)
	g.Reduce[0].Value = 25
	g.Seams = append(g.Seams, pattern.Seam{Name: "b", First: []pattern.Ref{{Piece: "x", Edge: "b"}}, Mirrored: true})
	g.Pieces = []*pattern.Piece{{Name: "x"}} // has a file of its own
	out, err := Update("g.garment", src, g)
	require.NoError(t, err)
	assert.Equal(t, "seamkeep garment 1\n# fit\nreduce waist 25  # tight\nhalf left\nseam a x.a y.a\nseam b x.b mirrored\n\nallowance 12\n", string(out))
}

func TestUpdateRoundsToAThousandth(t *testing.T) {
	b := &pattern.Body{Name: "b", Girths: []pattern.LevelNum{{Level: "waist", Value: 700.12349}}}
	out, err := Update("b.body", nil, b)
	require.NoError(t, err)
	assert.Equal(t, "seamkeep body 1\ngirth waist 700.123\n", string(out))
}

func TestUpdateRefuses(t *testing.T) {
	src := []byte("seamkeep piece 1\ncorner a 0 0\nedge one\ncorner b 0 9\nedge two\n")
	piece := func(change func(p *pattern.Piece)) *pattern.Piece {
		p, problems := ReadPiece("p.piece", src)
		require.Empty(t, problems)
		change(p)
		return p
	}
	cases := map[string]struct {
		path  string
		src   string
		model any
	}{
		"no model":                {"p.piece", string(src), 5},
		"no piece":                {"p.piece", string(src), (*pattern.Piece)(nil)},
		"another kind of file":    {"p.garment", string(src), piece(func(*pattern.Piece) {})},
		"another name":            {"q.piece", string(src), piece(func(*pattern.Piece) {})},
		"a text with faults":      {"p.piece", string(src) + "oops\n", piece(func(*pattern.Piece) {})},
		"a carriage return":       {"p.piece", strings.ReplaceAll(string(src), "\n", "\r\n"), piece(func(*pattern.Piece) {})},
		"a name with a space":     {"p.piece", string(src), piece(func(p *pattern.Piece) { p.Edges[0].Name = "a b" })},
		"a title of two lines":    {"p.piece", string(src), piece(func(p *pattern.Piece) { p.Title = "a\nb" })},
		"a number without end":    {"p.piece", string(src), piece(func(p *pattern.Piece) { p.Corners[0].At.X = inf() })},
		"a number that is none":   {"p.piece", string(src), piece(func(p *pattern.Piece) { p.Corners[0].At.Y = inf() - inf() })},
		"a number too large":      {"p.piece", string(src), piece(func(p *pattern.Piece) { p.Corners[0].At.X = 100000.001 })},
		"a name twice":            {"p.piece", string(src), piece(func(p *pattern.Piece) { p.Corners[1].Name = "a" })},
		"a mark of no kind":       {"p.piece", string(src), piece(func(p *pattern.Piece) { p.Marks = []pattern.Mark{{Name: "m"}} })},
		"parts that would vanish": {"g.garment", "", &pattern.Garment{Name: "g", Half: pattern.Whole, Options: []pattern.PieceOption{{Piece: "p", Of: pattern.Some(5)}}}},
		"a seam with two seconds": {"g.garment", "", &pattern.Garment{Name: "g", Half: pattern.Whole, Seams: []pattern.Seam{{
			Name: "s", Mirrored: true, First: []pattern.Ref{{Piece: "a", Edge: "b"}}, Second: []pattern.Ref{{Piece: "a", Edge: "c"}}}}}},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			out, err := Update(c.path, []byte(c.src), c.model)
			assert.Error(t, err)
			assert.Nil(t, out)
		})
	}
}

func inf() float64 { return 1 / zero() }

func zero() float64 { return 0 }

func TestLengthsAreTheTrueOnes(t *testing.T) {
	p := &pattern.Piece{Corners: make([]pattern.Corner, 3), Edges: make([]pattern.Edge, 3)}
	p.Corners[1].At.X = 3
	p.Corners[2].At.X, p.Corners[2].At.Y = 3, 4
	Lengths(p)
	// a right triangle of 3, 4 and 5 (Euclid, Elements, I.47)
	for i, want := range []float64{3, 4, 5} {
		assert.Equal(t, pattern.Some(want), p.Edges[i].Length)
	}
	p.Corners[2].At.X, p.Corners[2].At.Y = 1e5, 1e5
	Lengths(p)
	assert.False(t, p.Edges[2].Length.Set, "longer than a file can say")
	Lengths(&pattern.Piece{Edges: make([]pattern.Edge, 1)})
}
