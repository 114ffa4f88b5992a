package check_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// buttoned is a panel 200 high, -100 to 100, whose back edge is buttoned.
func buttoned(overlap, diameter float64) *pattern.Garment {
	return &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}, Pieces: []*pattern.Piece{panel("a", -100, 100)},
		Closures: []pattern.Closure{{Name: "c", Kind: pattern.ButtonClosure, Edges: []pattern.Ref{{Piece: "a", Edge: "back"}}, Overlap: pattern.Some(overlap)}},
		Buttons:  []pattern.Fastening{{Closure: "c", From: "waist", Pitch: pattern.Some(25), Diameter: pattern.Some(diameter), Up: pattern.Some(1), Down: pattern.Some(1)}}}
}

func ids(list diag.List) string {
	var out []string
	for _, x := range list {
		out = append(out, x.ID)
	}
	return strings.Join(out, " ")
}

// At least 3/4 of the diameter lies beyond the button (trantor.is): 13.5 for one of 18,
// which an overlap of 27 has and one of 26.9 has not.
func TestTheEdgeOfAnExtension(t *testing.T) {
	for overlap, want := range map[float64]string{30: "", 27: "", 26.9: "closure.extension", 24: "closure.extension", 0: "closure.extension"} {
		list := check.Run(check.Input{Garment: buttoned(overlap, 18)})
		assert.Equal(t, want, ids(list), "%v", overlap)
		for _, x := range list {
			assert.InDelta(t, 13.5-overlap/2, x.Amount, 1e-9)
			assert.Equal(t, "closure.extension c", x.Address())
			assert.Contains(t, x.Hint, "overlap 27")
		}
	}
}

// Not more than 3 cm apart and within 15 mm of the edge (zanotowane.pl/808/9480).
func TestTheEdgeOfEyelets(t *testing.T) {
	for margin, want := range map[float64]string{10: "", 9.9: "closure.apart"} { // 180/6 = 30
		for away, far := range map[float64]string{15: "", 15.1: " closure.far", 3: "", 2.9: " closure.near"} { // 3: common practice, no source
			g := buttoned(0, 0)
			g.Buttons, g.Closures[0].Kind = nil, pattern.Lacing
			g.Eyelets = []pattern.Fastening{{Closure: "c", Count: pattern.Some(7), Margin: pattern.Some(margin)}}
			for k := range 7 {
				g.Pieces[0].Marks = append(g.Pieces[0].Marks, pattern.Mark{Kind: pattern.Eyelet, Name: fmt.Sprintf("e%d", k+1), At: curve.Pt(80-away, 90-30*float64(k))})
			}
			assert.Equal(t, strings.TrimSpace(want+far), ids(check.Run(check.Input{Garment: g})), "%v %v", margin, away)
		}
	}
}

// A bone that stops half an inch short of the top of its casing (Baldt 1916) fits
// where the clearance says no more than that.
func TestABoneShortOfItsCasing(t *testing.T) {
	for clearance, want := range map[float64]string{6.35: "", 6.7: "bone.long"} {
		g := buttoned(30, 18)
		g.Clearances = []pattern.Clearance{{Kind: "bone", Value: clearance}}
		g.Pieces[0].Marks = []pattern.Mark{{Kind: pattern.Bone, Name: "b", Width: pattern.Some(7), Length: pattern.Some(200 - 12.7), At: curve.Pt(40, -100), Segs: []pattern.Seg{{To: curve.Pt(40, 100-12.7)}}}}
		assert.Equal(t, want, ids(check.Run(check.Input{Garment: g})), "%v", clearance)
	}
}

// After the top was lowered by 10 each bone that fitted is 10 too long: one finding.
func TestBonesAfterAnEdgeChange(t *testing.T) {
	g := buttoned(30, 18)
	g.Clearances = []pattern.Clearance{{Kind: "bone", Value: 9}}
	for k := range 3 {
		x := 20 + 15*float64(k)
		g.Pieces[0].Marks = append(g.Pieces[0].Marks, pattern.Mark{Kind: pattern.Bone, Name: fmt.Sprintf("b%d", k+1), At: curve.Pt(x, -91), Segs: []pattern.Seg{{To: curve.Pt(x, 91)}}})
	}
	assert.Empty(t, check.Run(check.Input{Garment: g}))
	g.Pieces[0].Corners[0].At.Y, g.Pieces[0].Corners[3].At.Y = 92, 92
	g.Buttons[0].Up, g.Buttons[0].Down = pattern.Some(0), pattern.Some(0)
	list := check.Run(check.Input{Garment: g})
	require.Len(t, list, 1)
	assert.Equal(t, "bone.long a", list[0].Address())
	assert.InDelta(t, 8, list[0].Amount, 1e-6)
	assert.Contains(t, list[0].Found, "3 bones of a are now too long")
	assert.Contains(t, list[0].Hint, "length 174")
	assert.Len(t, list[0].Related, 2)
	assert.True(t, list[0].Place.HasPoint)
}

func TestElasticThatWasTestedLongAgo(t *testing.T) {
	g := buttoned(30, 18)
	g.Options = []pattern.PieceOption{{Piece: "a", Stretch: pattern.Some(15), Of: pattern.Some(60), Tested: "2026-04-30"}}
	for day, want := range map[string]string{"": "", "2026-05-01": "", "2028-04-30": "", "2028-05-01": "elastic.old"} {
		in := check.Input{Garment: g}
		if day != "" {
			var err error
			in.Today, err = time.Parse(time.DateOnly, day)
			require.NoError(t, err)
		}
		list := check.Run(in)
		assert.Equal(t, want, ids(list), day)
		for _, x := range list {
			assert.Contains(t, x.Hint, check.ElasticCaution)
		}
	}
}

// Whatever records and marks say, there is no panic, no figure that is no number, and
// at most one finding of an id for a closure or piece.
func TestAnyFastening(t *testing.T) {
	number := rapid.OneOf(rapid.SampledFrom([]float64{0, 1, 3, 18, 25, 300, 100000}), rapid.Float64Range(0, 500))
	opt := func(t *rapid.T, name string, whole bool) pattern.Opt {
		if rapid.Bool().Draw(t, "no "+name) {
			return pattern.Opt{}
		}
		v := number.Draw(t, name)
		if whole {
			v = math.Floor(v)
		}
		return pattern.Some(v)
	}
	rapid.Check(t, func(t *rapid.T) {
		g := buttoned(number.Draw(t, "overlap"), 18)
		f := pattern.Fastening{Closure: "c", From: rapid.SampledFrom([]string{"", "waist", "nowhere"}).Draw(t, "from"),
			Pitch: opt(t, "pitch", false), Diameter: opt(t, "diameter", false), Thickness: opt(t, "thickness", false), Margin: opt(t, "margin", false),
			Up: opt(t, "up", true), Down: opt(t, "down", true), Count: opt(t, "count", true)}
		g.Buttons = []pattern.Fastening{f}
		switch rapid.SampledFrom([]string{pattern.ButtonClosure, pattern.Lacing, pattern.HookClosure, "none"}).Draw(t, "closed by") {
		case pattern.Lacing:
			g.Closures[0].Kind, g.Buttons, g.Eyelets = pattern.Lacing, nil, []pattern.Fastening{f}
		case pattern.HookClosure:
			g.Closures[0].Kind, g.Buttons, g.Hooks = pattern.HookClosure, nil, []pattern.Fastening{f}
		case "none":
			g.Closures[0].Kind = rapid.SampledFrom([]string{pattern.ButtonClosure, pattern.Lacing, pattern.Slide}).Draw(t, "kind")
			g.Closures[0].Length, g.Buttons = opt(t, "slide", false), nil
		}
		if rapid.Bool().Draw(t, "sewn") {
			g.Seams = []pattern.Seam{{Name: "s", First: []pattern.Ref{{Piece: "a", Edge: "back"}}, Mirrored: true}}
		}
		g.Closures[0].Edges = rapid.SampledFrom([][]pattern.Ref{nil, {{Piece: "a", Edge: "back"}}, {{Piece: "x", Edge: "back"}}, {{Piece: "a", Edge: "front"}, {Piece: "a", Edge: "back"}}}).Draw(t, "edges")
		for i := range rapid.IntRange(0, 6).Draw(t, "marks") {
			at := curve.Pt(rapid.Float64Range(-10, 90).Draw(t, "x"), rapid.Float64Range(-110, 110).Draw(t, "y"))
			m := pattern.Mark{Kind: rapid.SampledFrom([]pattern.MarkKind{pattern.Button, pattern.Buttonhole, pattern.Eyelet, pattern.Bone, pattern.Cord}).Draw(t, "kind"),
				Only: rapid.SampledFrom([]string{"", "left", "right"}).Draw(t, "only"), Name: fmt.Sprintf("b%d", i), Width: opt(t, "width", false), Length: opt(t, "length", false), Angle: opt(t, "angle", false), At: at}
			if m.Kind.IsLine() {
				m.Segs = []pattern.Seg{{To: at.Add(curve.Pt(0, number.Draw(t, "long")))}}
			}
			g.Pieces[0].Marks = append(g.Pieces[0].Marks, m)
		}
		seen := map[string]bool{}
		for _, x := range check.Run(check.Input{Garment: g}) {
			if math.IsNaN(x.Amount) || math.IsInf(x.Amount, 0) || strings.Contains(x.Message()+x.Hint, "NaN") || strings.Contains(x.Message()+x.Hint, "Inf") {
				t.Fatalf("%s %v: %s (%s)", x.ID, x.Amount, x.Message(), x.Hint)
			}
			if x.ID != "mark.outside" && seen[x.Address()] {
				t.Fatalf("twice: %s", x.Address())
			}
			seen[x.Address()] = true
			worst := 0.0
			for _, p := range x.Parts {
				worst = max(worst, p.Amount)
			}
			if strings.HasPrefix(x.ID, "closure.") && x.ID != "closure.no-record" && len(x.Parts) > 0 && math.Abs(worst-x.Amount) > 1e-9 {
				t.Fatalf("%s is %v bad, its parts %v", x.ID, x.Amount, x.Parts)
			}
		}
	})
}

// Of several places each says how bad it is there: two eyelets that stand 4 and 7 off, an
// edge of 280 and one of 290 beyond which a row of 13 at 25, 300 long, ends by 20 and 10.
func TestThePartsOfAClosure(t *testing.T) {
	g := buttoned(0, 0)
	g.Buttons, g.Closures[0].Kind = nil, pattern.Lacing
	g.Eyelets = []pattern.Fastening{{Closure: "c", Count: pattern.Some(9), Margin: pattern.Some(0)}}
	for k, off := range []float64{0, 4, 0, 0, 7, 0, 0, 0, 0} {
		g.Pieces[0].Marks = append(g.Pieces[0].Marks, pattern.Mark{Kind: pattern.Eyelet, Name: fmt.Sprintf("e%d", k+1), At: curve.Pt(68, 100-25*float64(k)-off)})
	}
	list := check.Run(check.Input{Garment: g})
	require.Equal(t, "closure.marks", ids(list))
	require.Len(t, list[0].Parts, 2)
	assert.Equal(t, "a.e2", list[0].Parts[0].At)
	assert.InDeltaSlice(t, []float64{4, 7}, []float64{list[0].Parts[0].Amount, list[0].Parts[1].Amount}, 1e-9)

	g = &pattern.Garment{Half: pattern.LeftHalf, Tolerances: []pattern.Tolerance{{Kind: "seam", Value: 50}}, Pieces: []*pattern.Piece{panel("a", -150, 130), panel("b", -150, 140)},
		Closures: []pattern.Closure{{Name: "c", Kind: pattern.HookClosure, Edges: []pattern.Ref{{Piece: "a", Edge: "back"}, {Piece: "b", Edge: "back"}}}},
		Hooks:    []pattern.Fastening{{Closure: "c", Pitch: pattern.Some(25), Count: pattern.Some(13)}}}
	list = check.Run(check.Input{Garment: g})
	require.Equal(t, "closure.beyond", ids(list))
	assert.Equal(t, []diag.Part{{At: "a.back", Amount: 20}, {At: "b.back", Amount: 10}}, list[0].Parts)
}

// Buttons at a pitch smaller than they are lie over each other (arithmetic).
func TestButtonsThatLieOverEachOther(t *testing.T) {
	g := pair(0, 0)
	g.Closures = []pattern.Closure{{Name: "back", Kind: pattern.ButtonClosure, Edges: []pattern.Ref{ref("b.back")}, Overlap: pattern.Some(30)}}
	for pitch, want := range map[float64]bool{10: true, 17.9: true, 18: false, 25: false} {
		g.Buttons = []pattern.Fastening{{Closure: "back", From: "waist", Pitch: pattern.Some(pitch), Diameter: pattern.Some(18), Up: pattern.Some(2), Down: pattern.Some(2)}}
		assert.Equal(t, want, strings.Contains(ids(check.Run(check.Input{Garment: g})), "closure.pitch"), pitch)
	}
}
