package alter_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
)

// boned gives one upright piece from -112 to top and 80 wide, with a bone from 5 to 5 as
// given.
func boned(top, from, to float64, length pattern.Opt) *pattern.Garment {
	return &pattern.Garment{Name: "g", Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}, Clearances: []pattern.Clearance{{Kind: "bone", Value: 9}},
		Pieces: []*pattern.Piece{{Name: "front",
			Corners: []pattern.Corner{{Name: "tf", At: curve.Pt(0, top)}, {Name: "hf", At: curve.Pt(0, -112)}, {Name: "hb", At: curve.Pt(80, -112)}, {Name: "tb", At: curve.Pt(80, top)}},
			Edges:   []pattern.Edge{{Name: "front"}, {Name: "hem"}, {Name: "back"}, {Name: "top"}},
			Marks: []pattern.Mark{{Kind: pattern.Bone, Name: "outer", Width: pattern.Some(7), Length: length, At: curve.Pt(5, from),
				Segs: []pattern.Seg{{To: curve.Pt(5, to)}}}}}}}
}

// A channel of 300 with 9 free at each end holds a bone of 282 (bone = finished channel
// less twice the clearance); the edge is then altered, and the bone with it.
func TestBonesFitTheirChannelsAgain(t *testing.T) {
	for _, c := range []struct {
		name             string
		top, from, to    float64
		length           pattern.Opt
		channel, was     float64
		now, foot, head  float64
		recorded, keeps  bool
		movedAt, movedTo float64
	}{
		{"fits", 188, -103, 179, pattern.Some(282), 300, 282, 282, -103, 179, true, true, 0, 0},
		{"the top was lowered by 12", 176, -103, 179, pattern.Some(282), 288, 282, 270, -103, 167, true, false, 0, -12},
		{"the top was raised by 12", 200, -103, 179, pattern.Some(282), 312, 282, 294, -103, 191, true, false, 0, 12},
		{"no length is recorded", 176, -103, 179, pattern.Opt{}, 288, 282, 270, -103, 167, false, false, 0, -12},
		{"drawn as the channel", 176, -112, 188, pattern.Some(282), 288, 282, 270, -112, 176, true, false, 0, -12},
		{"it stops on purpose far below the top", 176, -103, 100, pattern.Some(203), 288, 203, 203, -103, 100, true, true, 0, 0},
		{"only its length is too great", 188, -103, 179, pattern.Some(290), 300, 290, 282, -103, 179, true, false, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := boned(c.top, c.from, c.to, c.length)
			before := pattern.Clone(g)
			after, list := alter.FitBones(g, pattern.Bone, nil, tol)
			assert.Equal(t, before, g, "the garment that was given is not changed")
			require.Len(t, list, 1)
			assert.Equal(t, !c.keeps, list[0].Changed())
			assert.InDelta(t, c.channel, list[0].Channel, 1e-6)
			assert.InDelta(t, c.was, list[0].Was, 1e-6)
			assert.InDelta(t, c.now, list[0].Now, 1e-6)
			assert.InDelta(t, c.movedAt, list[0].Ends[0], 1e-6)
			assert.InDelta(t, c.movedTo, list[0].Ends[1], 1e-6)
			m := after.Pieces[0].Marks[0]
			assert.InDelta(t, c.foot, m.Path().Start().Y, 1e-6)
			assert.InDelta(t, c.head, m.Path().End().Y, 1e-6)
			assert.Equal(t, c.recorded, m.Length.Set)
			assert.InDelta(t, c.now, m.Length.Or(c.now), 1e-9)
		})
	}
}

func TestBonesThatCannotBeFitted(t *testing.T) {
	for why, g := range map[string]*pattern.Garment{
		"it has no length":           boned(188, 5, 5, pattern.Opt{}),
		"it lies outside":            boned(188, 200, 300, pattern.Opt{}),
		"its channel leaves nothing": boned(-100, -108, -104, pattern.Opt{}),
	} {
		after, list := alter.FitBones(g, pattern.Bone, nil, tol)
		require.Len(t, list, 1)
		assert.Contains(t, list[0].Kept, why)
		assert.False(t, list[0].Changed())
		assert.True(t, pattern.Equal(g, after), why)
	}
	_, list := alter.FitBones(boned(188, -103, 179, pattern.Opt{}), pattern.Cord, nil, tol)
	assert.Empty(t, list, "it is no cord")
	_, list = alter.FitBones(boned(188, -103, 179, pattern.Opt{}), pattern.Bone, map[string]bool{"back": true}, tol)
	assert.Empty(t, list, "another piece is meant")
}

// Whatever the edges became, the checks find no bone too long afterwards, and doing it
// again changes nothing.
func TestFittedBonesAreNotTooLong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(low, high float64, what string) float64 {
			return pattern.RoundLength(rapid.Float64Range(low, high).Draw(t, what))
		}
		length := pattern.Opt{}
		if rapid.Bool().Draw(t, "recorded") {
			length = pattern.Some(mm(50, 320, "length"))
		}
		g := boned(mm(120, 240, "top"), mm(-130, -60, "from"), mm(90, 230, "to"), length)
		p := g.Pieces[0]
		p.Corners[3].At.Y += mm(-60, 60, "slope")
		p.Marks[0].At.X, p.Marks[0].Segs[0].To.X = mm(10, 60, "x"), mm(20, 70, "x2")
		after, list := alter.FitBones(g, pattern.Bone, nil, tol)
		if list[0].Kept != "" {
			return
		}
		for _, x := range check.Run(check.Input{Garment: after}) {
			if x.ID == "bone.long" || x.ID == "mark.outside" {
				t.Fatal(x.Message())
			}
		}
		if _, again := alter.FitBones(after, pattern.Bone, nil, tol); again[0].Changed() {
			t.Fatalf("changes again: %+v, then %+v", list[0], again[0])
		}
	})
}
