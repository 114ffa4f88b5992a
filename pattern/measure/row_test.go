package measure_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// laced is a panel with one closure on its back edge, 300 high from -103 to 197.
func laced(t testing.TB, kind, records string) *pattern.Garment {
	t.Helper()
	return read(t, "-- garment --\nhalf left\nlevel bust 160\nlevel waist 0\nlevel low 400\nclosure c "+kind+" a.back\n"+records+"-- a --\n"+box("0", "-103", "80", "197"))
}

func rowOf(t testing.TB, g *pattern.Garment) measure.Row {
	t.Helper()
	f := g.Fastened("c")
	require.NotNil(t, f)
	r, fault := measure.RowOn(g, g.Closure("c"), f, 0, measure.Accuracy)
	require.Nil(t, fault)
	return r
}

// heights gives where a row stands, the uppermost first.
func heights(r measure.Row) []float64 {
	var out []float64
	for k := range r.At {
		out = append(out, r.Point(k, 0, measure.Accuracy).Y)
	}
	return out
}

func TestWhereARowStands(t *testing.T) {
	for _, c := range []struct {
		name, kind, records string
		want                []float64
	}{
		// the waistcoat's row, by hand: 160 + 25 and 160 - k 25
		{"from a level up and down", "buttons", "buttons c from bust pitch 25 up 1 down 10\n", []float64{185, 160, 135, 110, 85, 60, 35, 10, -15, -40, -65, -90}},
		// hooks 1 1/4 in apart from the waist up and down (Text-Book on Domestic Art, 1911)
		{"from the waist, 1 1/4 in apart", "buttons", "buttons c from waist pitch 31.75 up 3 down 3\n", []float64{95.25, 63.5, 31.75, 0, -31.75, -63.5, -95.25}},
		{"hooks from the waist, 1 1/4 in apart", "hooks", "hooks c from waist pitch 31.75 up 3 down 3\n", []float64{95.25, 63.5, 31.75, 0, -31.75, -63.5, -95.25}},
		// fix top and bottom, divide equally (The New Dressmaker, 1921, ch. 24)
		{"top and bottom, divided equally", "buttons", "buttons c count 5 margin 30\n", []float64{167, 107, 47, -13, -73}},
		{"a count from a level goes down", "buttons", "buttons c from bust pitch 20 count 3\n", []float64{160, 140, 120}},
		{"a count from a level, one of them above", "buttons", "buttons c from bust pitch 20 up 1 count 3\n", []float64{180, 160, 140}},
		{"a pitch from the upper margin", "buttons", "buttons c pitch 40 count 3 margin 17\n", []float64{180, 140, 100}},
		{"a single one", "buttons", "buttons c count 1\n", []float64{47}},
		{"a single one at a level", "buttons", "buttons c from waist pitch 0 count 1\n", []float64{0}},
		// pitch = (L - 2 m)/(n - 1) = (300 - 20)/3
		{"eyelets from a level, as buttons", "lacing", "eyelets c from waist pitch 31.75 up 3 down 3\n", []float64{95.25, 63.5, 31.75, 0, -31.75, -63.5, -95.25}},
		{"eyelets at a pitch from the upper margin", "lacing", "eyelets c pitch 20 count 15 margin 10\n", []float64{187, 167, 147, 127, 107, 87, 67, 47, 27, 7, -13, -33, -53, -73, -93}},
		{"eyelets", "lacing", "eyelets c count 4 margin 10\n", []float64{187, 187 - 280.0/3, 187 - 560.0/3, -93}},
	} {
		got := heights(rowOf(t, laced(t, c.kind, c.records)))
		assert.InDeltaSlice(t, c.want, got, 1e-9, c.name)
	}
}

// 15 eyelets with margins of 10 on 300 mm stand exactly 20 apart: 280/14.
func TestPitchOfEyelets(t *testing.T) {
	g := laced(t, "lacing", "eyelets c count 15 margin 10\n")
	assert.InDelta(t, 20, rowOf(t, g).Pitch, 1e-9)
	assert.InDelta(t, 20, ask(t, g, nil, "pitch c"), 1e-9)
	assert.Equal(t, 15.0, ask(t, g, nil, "count c"))
	g = laced(t, "buttons", "buttons c count 5 margin 30\n")
	assert.InDelta(t, 60, ask(t, g, nil, "pitch c"), 1e-9, "buttons that are divided have a pitch too")
	g = laced(t, "lacing", "eyelets c from waist pitch 19.5 up 9 down 5\n")
	assert.InDelta(t, 19.5, ask(t, g, nil, "pitch c"), 1e-9)
	assert.Equal(t, 15.0, ask(t, g, nil, "count c"))
}

func TestRowsThatHaveNoPlaces(t *testing.T) {
	for _, c := range []struct{ kind, records, id, found string }{
		{"buttons", "buttons c from bust pitch 0 up 1 down 10\n", "closure.pitch", "pitch 0"},
		{"buttons", "buttons c from low pitch 25 down 10\n", "closure.anchor", "does not reach level low"},
		{"buttons", "buttons c from bust pitch 25 up 100000 down 100000\n", "closure.count", "200001 buttons"},
		{"buttons", "buttons c from bust pitch 25 up 1 down 3 count 7\n", "closure.count", "7 by their count and 5"},
		{"lacing", "eyelets c count 1\n", "closure.count", "a single eyelet"},
		{"lacing", "eyelets c count 100000\n", "closure.count", "100000 eyelets"},
		{"lacing", "eyelets c count 5 margin 150\n", "closure.margin", "leave nothing of a.back"},
		{"buttons", "buttons c count 5 margin 100000\n", "closure.margin", "leave nothing of a.back"},
		{"buttons", "buttons c from bust pitch 25\n", "closure.count", "record no count"},
		{"lacing", "eyelets c margin 5\n", "closure.count", "record no count"},
	} {
		g := laced(t, c.kind, c.records)
		f := append(append([]pattern.Fastening{}, g.Buttons...), g.Eyelets...)
		_, fault := measure.RowOn(g, g.Closure("c"), &f[0], 0, measure.Accuracy)
		require.NotNil(t, fault, c.records)
		assert.Equal(t, c.id, fault.ID, c.records)
		assert.Contains(t, fault.Error(), c.found, c.records)
	}
	_, fault := measure.RowOn(laced(t, "buttons", ""), &pattern.Closure{Name: "c"}, &pattern.Fastening{Count: pattern.Some(2)}, 0, measure.Accuracy)
	assert.Contains(t, fault.Error(), "names no edge")
	_, fault = measure.RowOn(laced(t, "buttons", ""), &pattern.Closure{Name: "c", Edges: []pattern.Ref{{Piece: "a", Edge: "x"}}}, &pattern.Fastening{Count: pattern.Some(2)}, 0, measure.Accuracy)
	assert.Contains(t, fault.Error(), "a.x")
}

// A quarter of a circle of radius 100: places stand equally far along the arc, so that
// the angle from one to the next is the same; a level's height would not do that. The
// cubic with handles of 0.5519 radii strays from the circle by 0.0002 of the radius (from
// memory).
func TestPlacesOnACurveAreAlongTheCloth(t *testing.T) {
	const k = "55.192"
	g := read(t, "-- garment --\nhalf left\nclosure c lacing a.back\neyelets c count 4\n-- a --\ncorner tf -100 100\nedge front\ncorner hf -100 0\nedge hem\n"+
		"corner hb 100 0\nedge back\n  curve 100 "+k+" "+k+" 100 to corner\ncorner tb 0 100\nedge top\n")
	r := rowOf(t, g)
	assert.InDelta(t, 100*math.Pi/6, r.Pitch, 0.02)
	for i := range r.At {
		q := r.Point(i, 10, measure.Accuracy)
		assert.InDelta(t, 90, q.Len(), 0.05, "square to the edge, into the piece")
		assert.InDelta(t, 90-30*float64(i), math.Atan2(q.Y, q.X)*180/math.Pi, 0.05)
	}
}

// Both halves of a closure, one drawn as the mirror image of the other, have their
// places at the same heights, whichever way their edges run.
func TestBothHalvesAreAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := curve.Pt(rapid.Float64Range(60, 100).Draw(t, "x"), rapid.Float64Range(-50, 150).Draw(t, "y"))
		h = pattern.Round(h)
		left := &pattern.Piece{Name: "l", Corners: []pattern.Corner{{Name: "tf", At: curve.Pt(0, 200)}, {Name: "hf", At: curve.Pt(0, -100)}, {Name: "hb", At: curve.Pt(80, -100)}, {Name: "tb", At: curve.Pt(80, 200)}},
			Edges: []pattern.Edge{{Name: "front"}, {Name: "hem"}, {Name: "back", Segs: []pattern.Seg{{Curve: true, H1: h, H2: h, ToCorner: true}}}, {Name: "top"}}}
		m := func(p curve.Point) curve.Point { return curve.Pt(-p.X, p.Y) }
		right := &pattern.Piece{Name: "r", Corners: []pattern.Corner{{Name: "tb", At: curve.Pt(-80, 200)}, {Name: "hb", At: curve.Pt(-80, -100)}, {Name: "hf", At: curve.Pt(0, -100)}, {Name: "tf", At: curve.Pt(0, 200)}},
			Edges: []pattern.Edge{{Name: "back", Segs: []pattern.Seg{{Curve: true, H1: m(h), H2: m(h), ToCorner: true}}}, {Name: "hem"}, {Name: "front"}, {Name: "top"}}}
		g := &pattern.Garment{Half: pattern.Whole, Levels: []pattern.Level{{Name: "waist"}}, Pieces: []*pattern.Piece{left, right}}
		c := &pattern.Closure{Name: "c", Kind: pattern.ButtonClosure, Edges: []pattern.Ref{{Piece: "l", Edge: "back"}, {Piece: "r", Edge: "back"}}}
		f := &pattern.Fastening{From: "waist", Pitch: pattern.Some(rapid.Float64Range(1, 40).Draw(t, "pitch")), Up: pattern.Some(2), Down: pattern.Some(2)}
		if rapid.Bool().Draw(t, "divided") {
			f = &pattern.Fastening{Count: pattern.Some(float64(rapid.IntRange(1, 20).Draw(t, "count"))), Margin: pattern.Some(rapid.Float64Range(0, 100).Draw(t, "margin"))}
		}
		a, faultA := measure.RowOn(g, c, f, 0, measure.Accuracy)
		b, faultB := measure.RowOn(g, c, f, 1, measure.Accuracy)
		if (faultA == nil) != (faultB == nil) {
			t.Fatalf("%v %v", faultA, faultB)
		}
		if faultA != nil {
			return
		}
		if len(a.At) != len(b.At) {
			t.Fatalf("%d %d", len(a.At), len(b.At))
		}
		for k := range a.At {
			p, q := a.Point(k, 9, measure.Accuracy), b.Point(k, 9, measure.Accuracy)
			if d := p.Dist(m(q)); d > 1e-4 {
				t.Fatalf("place %d: %v %v", k, p, q)
			}
			if k > 0 && math.Abs(math.Abs(a.At[k]-a.At[k-1])-a.Pitch) > 1e-6 {
				t.Fatalf("not one pitch")
			}
		}
	})
}

// One button at the bust and one at the waist, then divided evenly: 160 mm are 7
// spaces of 22.857 or 6 of 26.667; at 25 the two cannot both hold.
func TestPitchesForTwoAnchors(t *testing.T) {
	assert.InDeltaSlice(t, []float64{160.0 / 7, 160.0 / 6}, measure.BothPitches(160, 25), 1e-9)
	assert.InDeltaSlice(t, []float64{20}, measure.BothPitches(160, 20), 1e-9, "it does so already")
	assert.InDeltaSlice(t, []float64{10}, measure.BothPitches(10, 25), 1e-9, "nearer than one pitch")
	assert.Empty(t, measure.BothPitches(0, 25))
	assert.Empty(t, measure.BothPitches(160, 0))
	assert.Empty(t, measure.BothPitches(math.NaN(), 25))
	r := rowOf(t, laced(t, "buttons", "buttons c from bust pitch 25 up 1 down 10\n"))
	at, ok := r.Crossing(laced(t, "buttons", ""), "waist", measure.Accuracy)
	require.True(t, ok)
	assert.InDelta(t, 10, r.Miss(at), 1e-9, "160 = 6 * 25 + 10")
	for _, pitch := range []string{"22.857", "26.667"} {
		r := rowOf(t, laced(t, "buttons", "buttons c from bust pitch "+pitch+" up 1 down 7\n"))
		assert.InDelta(t, 0, r.Miss(at), 0.01, pitch)
	}
}

func TestAPitchForTwoAnchorsIsAWholePart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, p := rapid.Float64Range(1, 1000).Draw(t, "distance"), rapid.Float64Range(1, 100).Draw(t, "pitch")
		for _, q := range measure.BothPitches(d, p) {
			if n := d / q; math.Abs(n-math.Round(n)) > 1e-6 || n < 0.5 {
				t.Fatalf("%v is not a whole part of %v", q, d)
			}
		}
	})
}

// A button 1 in across and 1/4 in thick takes a hole of 1 1/4 in (about.com Sewing,
// 1999); the same source gives 1/8 in more than the diameter for a flat one. A hole of
// 1 1/4 diameters for a round one (The New Dressmaker, 1921) is that of one a quarter as
// thick as it is wide.
func TestButtonholes(t *testing.T) {
	assert.InDelta(t, 1.25*inch, measure.HoleLength(inch, pattern.Some(inch/4)), 1e-9)
	assert.InDelta(t, 1.125*inch, measure.HoleLength(inch, pattern.Opt{}), 1e-9)
	for _, d := range []float64{10, 18, 25} {
		assert.InDelta(t, 1.25*d, measure.HoleLength(d, pattern.Some(d/4)), 1e-9)
	}
	assert.InDelta(t, inch/8, measure.HolePast, 1e-9)
}

// The bust goes first; else the body against the garment tells, and without a body
// nothing does.
func TestWhereAClosurePullsHardest(t *testing.T) {
	g := laced(t, "buttons", "buttons c count 5\naround a\n")
	r := rowOf(t, g)
	assert.Equal(t, "bust", r.Strain(g, nil, measure.Accuracy))
	g.Levels = []pattern.Level{{Name: "waist"}, {Name: "hip", Y: -90}, {Name: "low", Y: 400}}
	assert.Empty(t, r.Strain(g, nil, measure.Accuracy))
	b := &pattern.Body{Girths: []pattern.LevelNum{{Level: "waist", Value: 150}, {Level: "hip", Value: 170}, {Level: "low", Value: 900}}}
	assert.Equal(t, "hip", r.Strain(g, b, measure.Accuracy), "170 on 160, and the edge does not reach the low one")
}

// By hand: 2 * 80 worn. A bust of 150 leaves 6.7 % of ease where a waist of 178 is pressed
// by 10 %; a lacing with a gap at the bust takes in what is recorded and leaves none.
func TestASlackBustDoesNotPullHardest(t *testing.T) {
	const lace = "closure front lacing a.front\n"
	for _, c := range []struct {
		name, records string
		bust, waist   float64
		want          string
	}{
		{"slack at the bust, pressed at the waist", "", 150, 178, "waist"},
		{"slack at both", "", 150, 155, "bust"},
		{"pressed at both", "", 165, 178, "bust"},
		{"nothing known of the bust", "", 0, 178, "bust"},
		{"laced shut and yet slack at the bust", lace + "reduce waist 18\n", 150, 178, "waist"},
		{"laced open at the bust", lace + "reduce waist 18\n", 200, 178, "bust"},
	} {
		g := laced(t, "buttons", "buttons c count 5\naround a\n"+c.records)
		b := &pattern.Body{Girths: []pattern.LevelNum{{Level: "waist", Value: c.waist}}}
		if c.bust > 0 {
			b.Girths = append(b.Girths, pattern.LevelNum{Level: "bust", Value: c.bust})
		}
		assert.Equal(t, c.want, rowOf(t, g).Strain(g, b, measure.Accuracy), c.name)
	}
}

func TestWhatIsMirrored(t *testing.T) {
	p := &pattern.Piece{Name: "a"}
	half, whole := &pattern.Garment{Half: pattern.LeftHalf}, &pattern.Garment{Half: pattern.Whole}
	assert.True(t, measure.Mirrored(half, p))
	assert.False(t, measure.Mirrored(whole, p))
	half.Options = []pattern.PieceOption{{Piece: "a", Whole: true}}
	assert.False(t, measure.Mirrored(half, p))
	p.Cloths = []pattern.Cloth{{Cut: pattern.Alike}}
	assert.False(t, measure.Mirrored(whole, p))
	p.Cloths = append(p.Cloths, pattern.Cloth{Cut: pattern.OnFold})
	assert.True(t, measure.Mirrored(whole, p) && measure.Mirrored(half, p))
}

// The channel of a bone 282 long, 9 short at both ends, is 300.
func TestTheChannelOfABone(t *testing.T) {
	ring := laced(t, "lacing", "").Piece("a").Outline()
	c, ok := measure.ChannelOf(ring, curve.Path{curve.Line(curve.Pt(5, -94), curve.Pt(5, 188))}, measure.Accuracy)
	require.True(t, ok)
	assert.InDelta(t, 300, c.Length, 1e-9)
	assert.InDelta(t, 9, c.Ends[0].Free, 1e-9)
	assert.InDelta(t, 0, c.Ends[1].At.Dist(curve.Pt(5, 197)), 1e-9)
	_, ok = measure.ChannelOf(ring, curve.Path{curve.Line(curve.Pt(5, 0), curve.Pt(5, 300))}, measure.Accuracy)
	assert.False(t, ok, "it leaves the piece and meets no sewing line going on")
	_, ok = measure.ChannelOf(ring, nil, measure.Accuracy)
	assert.False(t, ok)
}
