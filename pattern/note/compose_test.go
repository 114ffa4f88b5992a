package note

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
)

func levels(names ...string) *pattern.Garment {
	g := &pattern.Garment{Name: "waistcoat"}
	for i, name := range names {
		g.Levels = append(g.Levels, pattern.Level{Name: name, Y: float64(-80 * i)})
	}
	return g
}

// noteOf reads a note of groups of the given lines, named aa, ab and so on.
func noteOf(t require.TestingT, groups ...string) *Note {
	m := "S\n\n"
	for i, g := range groups {
		m += "Alteration: a" + string(rune('a'+i)) + "\n" + g + "\n"
	}
	n, problems := read(m)
	require.Empty(t, problems, m)
	return n
}

func linesOf(claims []claim.Claim) []string {
	var out []string
	for _, c := range claims {
		out = append(out, c.Line())
	}
	return out
}

func TestClaimsOfSeveralAlterations(t *testing.T) {
	for name, c := range map[string]struct {
		groups []string
		want   []string
	}{
		"changes are added": {
			[]string{"Changes: girth bust +28", "Changes: girth bust -10.5"},
			[]string{"Changes: girth bust +17.5"},
		},
		"what cancels is kept": {
			[]string{"Changes: girth bust +28", "Changes: girth bust -28"},
			[]string{"Keeps: girth bust"},
		},
		"keeps yields to a change": {
			[]string{"Keeps: girth bust, gap front", "Changes: girth bust +4"},
			[]string{"Keeps: gap front", "Changes: girth bust +4"},
		},
		"keeps on every level yields on one": {
			[]string{"Keeps: girth", "Changes: girth bust +4"},
			[]string{"Keeps: girth waist", "Keeps: girth hip", "Changes: girth bust +4"},
		},
		"a change of every level meets one": {
			[]string{"Changes: girth -16", "Changes: girth bust +4"},
			[]string{"Changes: girth bust -12", "Changes: girth hip -16", "Changes: girth waist -16"},
		},
		"words alone drop no Only": {
			[]string{"Only: side-back", "Because: the fitting"},
			[]string{"Only: side-back"},
		},
		"every level on both sides": {
			[]string{"Changes: girth -16", "Changes: girth +4", "Keeps: girth"},
			[]string{"Changes: girth -12"},
		},
		"kept twice": {
			[]string{"Keeps: seam a", "Keeps: seam a"},
			[]string{"Keeps: seam a"},
		},
		"only is the union": {
			[]string{"Only: front, garment", "Only: back", "Only: back, strap"},
			[]string{"Only: back, front, strap, garment"},
		},
		"a group without only makes none": {
			[]string{"Only: front", "Keeps: girth"},
			[]string{"Keeps: girth"},
		},
		"to one and the same": {
			[]string{"Changes: overlap back to 30", "Changes: overlap back to 30", "Keeps: overlap back"},
			[]string{"Changes: overlap back to 30"},
		},
		"the widest tolerance": {
			[]string{"Changes: girth bust +2 within 0.5", "Changes: girth bust +2 within 3"},
			[]string{"Changes: girth bust +4 within 3"},
		},
		"the usual tolerance is wider": {
			[]string{"Changes: girth bust +2 within 0.5", "Changes: girth bust +2"},
			[]string{"Changes: girth bust +4"},
		},
		"a part of an edge has no other levels": {
			[]string{"Keeps: length back.side above bust", "Changes: length back.side below bust +2"},
			[]string{"Keeps: length back.side above bust", "Changes: length back.side below bust +2"},
		},
	} {
		claims, problems := noteOf(t, c.groups...).Claims(levels("bust", "waist", "hip"))
		assert.Empty(t, problems, name)
		assert.ElementsMatch(t, c.want, linesOf(claims), name)
	}
}

// A squash! repeats the name of what it is for, with the lines that it adds.
func TestAGroupThatRepeatsANameHasItsOnly(t *testing.T) {
	for name, c := range map[string]struct{ message, want string }{
		"the same name":        {"Alteration: out\nChanges: girth bust +4\nOnly: side\nAlteration: out\nChanges: girth bust +4\n", "Changes: girth bust +8; Only: side"},
		"with more of its own": {"Alteration: out\nOnly: side\nAlteration: out\nOnly: back\n", "Only: back, side"},
		"another name":         {"Alteration: out\nChanges: girth bust +4\nOnly: side\nAlteration: in\nChanges: girth bust +4\n", "Changes: girth bust +8"},
	} {
		t.Run(name, func(t *testing.T) {
			n, problems := read("S\n\n" + c.message)
			require.Empty(t, problems)
			claims, problems := n.Claims(levels("bust"))
			require.Empty(t, problems)
			assert.Equal(t, c.want, strings.Join(linesOf(claims), "; "))
		})
	}
}

func TestAmountsThatCannotBeAdded(t *testing.T) {
	for _, groups := range [][]string{
		{"Changes: overlap back to 30", "Changes: overlap back +6"},
		{"Changes: overlap back +6", "Changes: overlap back to 30"},
		{"Changes: overlap back to 30", "Changes: overlap back to 24"},
	} {
		claims, problems := noteOf(t, groups...).Claims(nil)
		require.Len(t, problems, 1, groups)
		assert.Empty(t, claims)
		assert.Equal(t, OrderFault, problems[0].ID)
		assert.Equal(t, 6, problems[0].Place.Line)
		assert.Equal(t, 4, problems[0].Related[0].Place.Line)
	}
}

func TestWithoutAGarmentTheNamedLevelsAreKnown(t *testing.T) {
	claims, problems := noteOf(t, "Keeps: girth", "Changes: girth bust +4\nKeeps: girth hip").Claims(nil)
	assert.Empty(t, problems)
	assert.ElementsMatch(t, []string{"Changes: girth bust +4", "Keeps: girth hip"}, linesOf(claims))
}

func TestAPiecesOwnLevelsCount(t *testing.T) {
	g := levels("bust", "waist")
	g.Pieces = []*pattern.Piece{{Name: "back", Levels: []pattern.Level{{Name: "yoke"}}}}
	claims, problems := noteOf(t, "Keeps: width back", "Changes: width back at bust +4").Claims(g)
	assert.Empty(t, problems)
	assert.ElementsMatch(t, []string{"Changes: width back at bust +4", "Keeps: width back at waist", "Keeps: width back at yoke"}, linesOf(claims))
}

// anyGroup draws the lines of a group that contradicts itself nowhere.
func anyGroup() *rapid.Generator[string] {
	measures := []string{"girth bust", "girth waist", "gap front at bust", "width back at bust", "seam side", "overlap back", "length back.side"}
	general := []string{"girth", "gap front", "width back"}
	return rapid.Custom(func(t *rapid.T) string {
		var lines []string
		pick := measures
		if rapid.Bool().Draw(t, "general") {
			pick = append(general, "seam side", "overlap back")
		}
		for _, m := range rapid.SliceOfNDistinct(rapid.SampledFrom(pick), 1, 4, rapid.ID[string]).Draw(t, "measures") {
			lines = append(lines, rapid.SampledFrom([]string{"Changes: " + m + " +2.1", "Changes: " + m + " -4", "Changes: " + m + " +4 within 3", "Keeps: " + m, "Changes: " + m + " to 20"}).Draw(t, "line"))
		}
		if rapid.Bool().Draw(t, "only") {
			lines = append(lines, rapid.SampledFrom([]string{"Only: back", "Only: front, garment"}).Draw(t, "pieces"))
		}
		return strings.Join(lines, "\n")
	})
}

func TestComposingOneGroupIsThatGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := noteOf(t, anyGroup().Draw(t, "group"))
		want := n.Groups[0].Claims
		got, problems := n.Claims(levels("bust", "waist"))
		assert.Empty(t, problems)
		assert.Equal(t, want, got)
		composed, problems := compose([][]claim.Claim{want}, levels("bust", "waist"), inAnyOrder)
		assert.Empty(t, problems)
		assert.Equal(t, linesOf(want), linesOf(composed), "composing changes nothing either")
	})
}

func TestTheOrderOfGroupsHasNoEffect(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := noteOf(t, rapid.SliceOfN(anyGroup(), 2, 5).Draw(t, "groups")...)
		want, faults := n.Claims(levels("bust", "waist"))
		n.Groups = rapid.Permutation(n.Groups).Draw(t, "order")
		got, again := n.Claims(levels("bust", "waist"))
		assert.Equal(t, want, got)
		assert.Equal(t, ids(faults), ids(again))
	})
}

// Composing is adding: changes of the same measure by any amounts give their sum,
// whatever stands between.
func TestChangesAddUpExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		amounts := rapid.SliceOfN(rapid.Int64Range(-99999, 99999), 2, 9).Draw(t, "thousandths")
		var parts [][]claim.Claim
		var sum int64
		for _, a := range amounts {
			sum += a
			c := noteOf(t, "Changes: girth bust +1").Groups[0].Claims[0]
			c.By = pattern.Some(float64(a) / 1000)
			parts = append(parts, []claim.Claim{c})
		}
		got, problems := compose(parts, nil, inAnyOrder)
		require.Empty(t, problems)
		require.Len(t, got, 1)
		if sum == 0 {
			assert.Equal(t, claim.Keeps, got[0].Kind)
			return
		}
		assert.Equal(t, float64(sum)/1000, got[0].By.Value)
	})
}
