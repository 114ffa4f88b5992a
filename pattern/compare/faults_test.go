package compare_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// faulty are ways to spoil the piece of one(), with what must be said of it.
// The corners are 0 200, 0 -100, 80 -100 and 170 200.
var faulty = map[string]struct {
	why   string
	spoil func(*pattern.Piece)
}{
	// hem and top swap their back ends; the two straight edges meet where
	// 200 - 300 x/80 = -100 + 300 x/170, which is x = 54.4
	"self-crossing": {"edge hem crosses edge top at 54.4 -4.0", func(p *pattern.Piece) {
		p.Edges[0].Segs = nil
		p.Corners[2].At, p.Corners[3].At = p.Corners[3].At, p.Corners[2].At
	}},
	"a loop in one edge": {"edge hem crosses itself at 40.0 ", func(p *pattern.Piece) {
		// symmetrical about x = 40, so it crosses itself there
		p.Edges[1].Segs = []pattern.Seg{{Curve: true, H1: curve.Pt(240, -300), H2: curve.Pt(-160, -300), ToCorner: true}}
	}},
	"clockwise": {"its outline runs clockwise", func(p *pattern.Piece) {
		for i := range p.Corners {
			p.Corners[i].At.X *= -1
		}
		for i := range p.Edges[0].Segs {
			p.Edges[0].Segs[i].H1.X *= -1
			p.Edges[0].Segs[i].H2.X *= -1
		}
	}},
	"one edge without length":  {"edge hem has no length", func(p *pattern.Piece) { p.Corners[2].At = p.Corners[1].At }},
	"a slip of the point":      {"it is 17.0 m large, more than 10 m", func(p *pattern.Piece) { p.Corners[3].At.X = 17000 }},
	"an endless one":           {"a number of its outline is no measure", func(p *pattern.Piece) { p.Edges[0].Segs[0].H1.Y = math.Inf(1) }},
	"an edge without a corner": {"3 corners and 4 edges make no outline", func(p *pattern.Piece) { p.Corners = p.Corners[:3] }},
	"nothing at all":           {"0 corners and 0 edges make no outline", func(p *pattern.Piece) { p.Corners, p.Edges = nil, nil }},
	"all in one line": {"edge ", func(p *pattern.Piece) {
		p.Edges[0].Segs = nil
		for i := range p.Corners {
			p.Corners[i].At.X = 0
		}
	}},
}

func TestAFaultyVersionIsSaidToBe(t *testing.T) {
	for name, f := range faulty {
		bad := one()
		f.spoil(bad.Pieces[0])
		for _, after := range []bool{false, true} {
			a, b, when := one(), bad, "later"
			if !after {
				a, b, when = bad, one(), "earlier"
			}
			c := compare.Garments(a, b, compare.Options{})
			require.Len(t, c.Faults, 1, name)
			assert.Equal(t, "p", c.Faults[0].Piece, name)
			assert.Equal(t, after, c.Faults[0].After, name)
			assert.Contains(t, c.Faults[0].Why, f.why, name)
			assert.Contains(t, c.Sentences()[0], "p in the "+when+" version is faulty: "+f.why, name)
			assert.Equal(t, c.Faults, c.FaultsOf("p"))
		}
		assert.Empty(t, compare.Garments(bad, bad, compare.Options{}).Faults, "%s: what did not change is not looked at", name)
	}
}

func TestSoundVersionsHaveNoFaults(t *testing.T) {
	for _, pair := range [][2]string{{"waistcoat--01-base", "waistcoat--03-gusset"}, {"waistcoat--03-gusset", "waistcoat--06-seam-move"}} {
		assert.Empty(t, between(t, pair[0], pair[1]).Faults)
	}
	assert.Empty(t, compare.Garments(nil, sample(t, "waistcoat--03-gusset"), compare.Options{}).Faults)
}

func TestAFaultOfAPieceThatWasSplitIsTold(t *testing.T) {
	a, b := one(), one()
	a.Pieces[0].Name, a.Around = "old", nil
	a.Pieces[0].Corners[2].At, a.Pieces[0].Corners[3].At = a.Pieces[0].Corners[3].At, a.Pieces[0].Corners[2].At
	b.Pieces[0].Was = "old"
	second := one().Pieces[0]
	second.Name, second.Was = "q", "old"
	b.Pieces = append(b.Pieces, second)
	c := compare.Garments(a, b, compare.Options{})
	require.Equal(t, compare.Split, pieceOf(t, c, "q").Status)
	require.Len(t, c.Faults, 1, "told once, not with each part")
	assert.Equal(t, "old", c.Faults[0].Piece)
}

func TestEmptyAndMissingVersions(t *testing.T) {
	g, empty := one(), one()
	empty.Pieces = nil
	assert.Equal(t, "the later version has no pieces", compare.Garments(g, empty, compare.Options{}).Sentences()[0])
	first := compare.Garments(empty, g, compare.Options{})
	assert.Empty(t, first.Faults, "a garment that has no pieces yet")
	assert.Equal(t, []string{"the first pieces: p"}, first.Sentences())
	assert.Equal(t, []string{"the earlier version has no pieces", "the later version has no pieces", "nothing else changed"},
		compare.Garments(empty, empty, compare.Options{}).Sentences())
	assert.Equal(t, []string{"the later version has no pattern: 1 piece removed"}, compare.Garments(g, nil, compare.Options{}).Sentences())
}

func TestFaultsOfReadingComeFirst(t *testing.T) {
	read := []compare.Fault{{After: true, Why: "pieces/back.piece cannot be read"}}
	c := compare.Garments(one(), one(), compare.Options{Faults: read})
	assert.Equal(t, read, c.Faults)
	assert.Equal(t, []string{"the later version: pieces/back.piece cannot be read", "nothing else changed"}, c.Sentences())
}

// A version that could not be read at all is no empty one.
func TestAVersionThatCannotBeReadIsNotEmpty(t *testing.T) {
	read := []compare.Fault{{After: true, Why: "skirt.garment cannot be read"}}
	assert.Equal(t, []string{"the later version: skirt.garment cannot be read", "nothing to compare 1 piece with"},
		compare.Garments(one(), nil, compare.Options{Faults: read}).Sentences())
	read[0].After = false
	assert.Equal(t, []string{"the earlier version: skirt.garment cannot be read", "nothing to compare 1 piece with"},
		compare.Garments(nil, one(), compare.Options{Faults: read}).Sentences())
}

// Only one side of a change of two was made, or both were.
func TestWidthThatNoOtherPieceGave(t *testing.T) {
	for _, c := range []struct{ before, after, want string }{
		{"waistcoat--03-gusset", "waistcoat--04-half-move", "nothing was taken from another piece"},
		{"waistcoat--04-half-move", "waistcoat--03-gusset", "nothing was given to another piece"},
		{"waistcoat--03-gusset", "waistcoat--06-seam-move", ""},
		{"waistcoat--01-base", "waistcoat--03-gusset", ""}, // a piece came
		{"waistcoat--03a-gusset-untrued", "waistcoat--03-gusset", ""},
	} {
		sentences := between(t, c.before, c.after).Sentences()
		if c.want != "" {
			assert.Contains(t, sentences, c.want)
			continue
		}
		for _, s := range sentences {
			assert.NotContains(t, s, "another piece", "%s to %s", c.before, c.after)
		}
	}
}

// A wider button stand that overlaps by as much more takes nothing from anyone.
func TestAWiderOverlapIsNoLonelyWidth(t *testing.T) {
	a, b := sample(t, "waistcoat--03-gusset"), sample(t, "waistcoat--04-half-move")
	b.Closures[1].Overlap = pattern.Some(52)
	assert.NotContains(t, compare.Garments(a, b, compare.Options{}).Sentences(), "nothing was taken from another piece")
}

func TestSettingsOfPiecesAreNotPieces(t *testing.T) {
	a := sample(t, "waistcoat--03-gusset")
	b := pattern.Clone(a)
	for _, p := range b.Pieces {
		if p.Name != "gusset" {
			b.Options = append(b.Options, pattern.PieceOption{Piece: p.Name, Number: 1})
		}
	}
	assert.Contains(t, compare.Garments(a, b, compare.Options{}).Sentences(), "recorded: settings of 6 pieces added")
}
