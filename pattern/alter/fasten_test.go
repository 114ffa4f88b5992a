package alter_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/text"
)

// stand is a button stand with a straight back edge, 309 from -112 to 197, and a
// laced front of 300.
func stand(t testing.TB, records, marks string) *pattern.Garment {
	t.Helper()
	fsys := fstest.MapFS{
		"g.garment": {Data: []byte("seamkeep garment 1\nhalf left\nlevel bust 160\nlevel waist 0\n" + records)},
		"pieces/a.piece": {Data: []byte("seamkeep piece 1\n\ncorner tf -60 188\nedge front\ncorner hf -60 -112\nedge hem\ncorner hb 3 -112\nedge back\ncorner tb 3 197\nedge top\n" +
			marks)},
		"pieces/b.piece": {Data: []byte("seamkeep piece 1\n\ncorner tf 0 188\nedge front\ncorner hf 0 -112\nedge hem\ncorner hb 50 -112\nedge back\ncorner tb 50 197\nedge top\n")},
	}
	folder, problems := text.Load(fsys, ".")
	for _, p := range problems {
		t.Fatalf("%s: %s", p.Place, p.Message())
	}
	return folder.Garment
}

func placed(t testing.TB, g *pattern.Garment, o alter.Fasten) *alter.Fastened {
	t.Helper()
	before := pattern.Clone(g)
	f, fault := alter.PlaceMarks(g, o, tol)
	require.Nil(t, fault)
	require.Equal(t, before, g, "the garment that was given is not changed")
	return f
}

const buttoned = "closure back buttons a.back overlap 30\nbuttons back from bust pitch 25 diameter 18 thickness 4 up 1 down 10\n"

// Half of the overlap of 30 lies on each side of the buttons; a hole begins 1/8 in,
// 3.175 mm, beyond them and is as long as diameter and thickness (about.com Sewing,
// 1999).
func TestButtonsAndTheirHoles(t *testing.T) {
	f := placed(t, stand(t, buttoned, ""), alter.Fasten{Closure: "back"})
	require.Len(t, f.Sets, 2)
	b, h := f.Sets[0], f.Sets[1]
	assert.Equal(t, []any{pattern.Button, "left", pattern.Buttonhole, "right"}, []any{b.Kind, b.Only, h.Kind, h.Only})
	require.Len(t, b.Marks, 12)
	require.Len(t, h.Marks, 12)
	for k, y := range []float64{185, 160, 135, 110, 85, 60, 35, 10, -15, -40, -65, -90} {
		assert.Equal(t, curve.Pt(-12, y), b.Marks[k].At)
		assert.Equal(t, curve.Pt(-8.825, y), h.Marks[k].At)
		assert.Equal(t, []float64{22, 180}, []float64{h.Marks[k].Length.Value, h.Marks[k].Angle.Value})
	}
	assert.Equal(t, []string{"a"}, f.Pieces)
	assert.Len(t, f.Garment.Piece("a").Marks, 24)
}

func TestWhichHalfHasTheHoles(t *testing.T) {
	side := func(g *pattern.Garment, holes string) string {
		return placed(t, g, alter.Fasten{Closure: "back", Holes: holes}).Sets[1].Only
	}
	assert.Equal(t, "right", side(stand(t, buttoned, ""), ""))
	assert.Equal(t, "left", side(stand(t, buttoned, ""), "left"))
	assert.Equal(t, "left", side(stand(t, buttoned, "\nbuttonhole h7 -8 0 length 21 angle 180 left only\n"), ""), "they stand there already")
	two := "closure back buttons a.back b.front overlap 30\nbuttons back from bust pitch 25 diameter 18 up 1 down 10\n"
	for holes, piece := range map[string]string{"": "a", "a.back": "a", "b.front": "b"} {
		f := placed(t, stand(t, two, ""), alter.Fasten{Closure: "back", Holes: holes})
		assert.Equal(t, piece, f.Sets[1].Row.Piece.Name, holes)
		assert.NotEqual(t, piece, f.Sets[0].Row.Piece.Name, holes)
		assert.Equal(t, []string{"a", "b"}, f.Pieces)
		assert.Empty(t, f.Sets[0].Only+f.Sets[1].Only)
	}
	kept := placed(t, stand(t, two, ""), alter.Fasten{Closure: "back", Holes: "b.front"}).Garment
	assert.Equal(t, "b", placed(t, kept, alter.Fasten{Closure: "back"}).Sets[1].Row.Piece.Name, "as they stand")
}

// 15 eyelets a side at pitch 20, 12 inside unless told otherwise.
func TestEyeletsOnBothHalves(t *testing.T) {
	g := stand(t, "closure front lacing b.front\neyelets front count 15 margin 10\n", "")
	for inset, x := range map[pattern.Opt]float64{{}: 12, pattern.Some(14): 14} {
		f := placed(t, g, alter.Fasten{Closure: "front", Inset: inset})
		require.Len(t, f.Sets, 1)
		for k, m := range f.Sets[0].Marks {
			assert.Equal(t, curve.Pt(x, 178-20*float64(k)), m.At)
			assert.Empty(t, m.Only)
		}
		assert.Equal(t, "e15", f.Sets[0].Marks[14].Name)
	}
}

// Counted from the waist they stand there, 7 above it and 5 below.
func TestEyeletsFromALevel(t *testing.T) {
	g := stand(t, "closure front lacing b.front\neyelets front from waist pitch 19.5 up 7 down 5 diameter 5\n", "")
	f := placed(t, g, alter.Fasten{Closure: "front"})
	require.Len(t, f.Sets, 1)
	require.Len(t, f.Sets[0].Marks, 13)
	for k, m := range f.Sets[0].Marks {
		assert.Equal(t, curve.Pt(12, 136.5-19.5*float64(k)), m.At)
	}
	assert.Empty(t, check.OfClosure(f.Garment, "front", tol))
}

// The edge was moved in by 10, or the eyelets have another diameter: 14 is kept only
// where half a diameter and 3 mm (common practice, no source) lie beside the edge, and
// not more than 15 (zanotowane.pl/808/9480).
func TestWhichInsetOfEyeletsIsKept(t *testing.T) {
	for _, c := range []struct{ x, diameter, want float64 }{{14, 5, 14}, {5.5, 5, 5.5}, {5.4, 5, 12}, {4, 5, 12}, {-2, 5, 12}, {-8, 5, 12}, {15, 5, 15}, {15.1, 5, 12}, {14, 24, 15}} {
		g := stand(t, "closure front lacing b.front\neyelets front count 15 margin 10\n", "")
		for k := range 15 {
			g.Piece("b").Marks = append(g.Piece("b").Marks, pattern.Mark{Kind: pattern.Eyelet, Name: fmt.Sprintf("e%d", k+1), At: curve.Pt(c.x, 178-20*float64(k))})
		}
		g.Eyelets[0].Diameter = pattern.Some(c.diameter)
		assert.InDelta(t, c.want, placed(t, g, alter.Fasten{Closure: "front"}).Inset, 1e-9, "%v", c)
		g.Piece("b").Marks[7].At.X++
		assert.InDelta(t, max(12, c.diameter/2+3), placed(t, g, alter.Fasten{Closure: "front"}).Inset, 1e-9, "one stands out of line: %v", c)
	}
	_, fault := alter.PlaceMarks(stand(t, "closure front lacing b.front\neyelets front diameter 5 count 15 margin 10\n", ""), alter.Fasten{Closure: "front", Inset: pattern.Some(5.4)}, tol)
	require.NotNil(t, fault)
	assert.Equal(t, "closure.near", fault.ID)
	assert.Contains(t, fault.Expected, "at least 5.5")
}

// Marks of other names and kinds, and those of another closure, stay as they are.
func TestOtherMarksStay(t *testing.T) {
	records := buttoned + "closure slit buttons a.front overlap 20\nbuttons slit count 3 margin 20 diameter 12\n"
	g := stand(t, records, "\nbutton pocket -40 50\nbutton b1 -12 100 left only\ndrill b2 -20 0\nbuttonhole h1 -50 50 length 15 angle 0 right only\n")
	f := placed(t, g, alter.Fasten{Closure: "back"})
	assert.Empty(t, f.Others, "the pocket is far from the edge")
	marks := f.Garment.Piece("a").Marks
	assert.Equal(t, "pocket", marks[0].Name)
	assert.Equal(t, "b1", marks[1].Name, "in the place of the one that it replaces")
	assert.Equal(t, curve.Pt(-12, 185), marks[1].At)
	assert.Equal(t, "h2", f.Sets[1].Marks[0].Name, "h1 belongs to the other closure")
	slit := placed(t, f.Garment, alter.Fasten{Closure: "slit"})
	assert.Equal(t, []string{"b13", "h1"}, []string{slit.Sets[0].Marks[0].Name, slit.Sets[1].Marks[0].Name})
	assert.Len(t, slit.Garment.Piece("a").Marks, 2+24+6)
	again := placed(t, slit.Garment, alter.Fasten{Closure: "back"})
	assert.Empty(t, again.Pieces, "nothing to do")
	fewer := pattern.Clone(slit.Garment)
	fewer.Buttons[0].Down = pattern.Some(3)
	assert.Len(t, placed(t, fewer, alter.Fasten{Closure: "back"}).Garment.Piece("a").Marks, 2+10+6)
}

func TestMarksThatSomebodyElseNamedAreTold(t *testing.T) {
	g := stand(t, "closure front lacing b.front\neyelets front count 15 margin 10\n", "")
	g.Piece("b").Marks = []pattern.Mark{{Kind: pattern.Eyelet, Name: "eye1", At: curve.Pt(12, 178)}, {Kind: pattern.Drill, Name: "d", At: curve.Pt(12, 0)}}
	assert.Equal(t, []string{"eyelet eye1 of b"}, placed(t, g, alter.Fasten{Closure: "front"}).Others)
}

func TestWhatIsNotPlaced(t *testing.T) {
	for _, c := range []struct {
		records string
		o       alter.Fasten
		id      string
	}{
		{"", alter.Fasten{}, "name.unknown"},
		{"closure back buttons a.back overlap 30\n", alter.Fasten{}, "closure.no-record"},
		{"closure back hooks a.back\n", alter.Fasten{}, "closure.no-record"},
		{buttoned, alter.Fasten{Inset: pattern.Some(10)}, "closure.inset"},
		{"closure back buttons a.back\nbuttons back count 3 margin 20\n", alter.Fasten{}, "closure.inset"},
		{buttoned, alter.Fasten{Holes: "up"}, "closure.side"},
		{"closure back buttons a.back b.front overlap 30\nbuttons back count 3 margin 20\n", alter.Fasten{Holes: "left"}, "closure.side"},
		{"piece a whole\n" + buttoned, alter.Fasten{}, "closure.one-edge"},
		{strings.Replace(buttoned, "pitch 25", "pitch 0", 1), alter.Fasten{}, "closure.pitch"},
		{strings.Replace(buttoned, "up 1", "up 9", 1), alter.Fasten{}, "closure.beyond"},
		{strings.Replace(buttoned, "pitch 25", "pitch 400", 1), alter.Fasten{}, "closure.pitch"},
		{"closure back buttons a.back overlap 2000\nbuttons back count 3 margin 20\n", alter.Fasten{}, "closure.overlap"},
		{"closure back buttons a.back\nbuttons back count 3 margin 20\n", alter.Fasten{Inset: pattern.Some(70)}, "mark.outside"},
		{"closure back buttons a.back overlap 30\nbuttons back pitch 25 diameter 18\n", alter.Fasten{}, "closure.count"},
		{"closure back buttons a.back overlap 30\nbuttons back count 100000\n", alter.Fasten{}, "closure.count"},
	} {
		c.o.Closure = "back"
		_, fault := alter.PlaceMarks(stand(t, c.records, ""), c.o, tol)
		require.NotNil(t, fault, c.records)
		assert.Equal(t, c.id, fault.ID, c.records)
		assert.NotEmpty(t, fault.Found)
		assert.NotEmpty(t, fault.Expected)
	}
}

// Where the records can be kept, what is placed is what check asks for, on straight
// and on curved edges; and to place it again changes nothing, also after the garment
// was written and read.
func TestWhatIsPlacedIsWhatCheckAsksFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawPanel(t, "a"), drawPanel(t, "b")
		g := &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}, Pieces: []*pattern.Piece{a, b},
			Closures: []pattern.Closure{
				{Name: "laced", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "a", Edge: "front"}}},
				{Name: "shut", Kind: pattern.ButtonClosure, Edges: []pattern.Ref{{Piece: "b", Edge: "back"}}, Overlap: pattern.Some(30)}},
			Eyelets: []pattern.Fastening{{Closure: "laced", Count: pattern.Some(float64(rapid.IntRange(11, 30).Draw(t, "eyelets"))), Margin: pattern.Some(25)}},
			Buttons: []pattern.Fastening{{Closure: "shut", From: "waist", Diameter: pattern.Some(15), Pitch: pattern.Some(rapid.Float64Range(15, 30).Draw(t, "pitch")), Up: pattern.Some(3), Down: pattern.Some(2)}},
		}
		if rapid.Bool().Draw(t, "eyelets from the waist") {
			g.Eyelets[0] = pattern.Fastening{Closure: "laced", From: "waist", Pitch: pattern.Some(rapid.Float64Range(10, 30).Draw(t, "eyelets apart")), Up: pattern.Some(2), Down: pattern.Some(2)}
		}
		if rapid.Bool().Draw(t, "two edges") {
			g.Closures[1].Edges = append(g.Closures[1].Edges, pattern.Ref{Piece: "a", Edge: "back"})
		}
		for _, name := range []string{"laced", "shut"} {
			f, fault := alter.PlaceMarks(g, alter.Fasten{Closure: name}, tol)
			if fault != nil {
				if fault.ID != "closure.anchor" && fault.ID != "mark.outside" {
					t.Fatalf("%s: %s", fault.ID, fault.Found)
				}
				t.Skip("the edge waves across the waist")
			}
			again, fault := alter.PlaceMarks(f.Garment, alter.Fasten{Closure: name}, tol)
			if fault != nil || len(again.Pieces) > 0 {
				t.Fatalf("placing again changes %v", again.Pieces)
			}
			g = f.Garment
		}
		for _, x := range check.Run(check.Input{Garment: g}) {
			if strings.HasPrefix(x.ID, "closure.") && x.ID != "closure.halves" || strings.HasPrefix(x.ID, "mark.") {
				t.Fatalf("%s: %s", x.ID, x.Found)
			}
		}
		for _, p := range g.Pieces {
			for _, m := range p.Marks {
				if math.IsNaN(m.At.X + m.At.Y + m.Angle.Value) {
					t.Fatalf("%s is nowhere", m.Name)
				}
			}
		}
	})
}

// What check finds of a closure is what place refuses it for, word by word: no way leads
// round in a circle from one to the other.
func TestPlaceRefusesInTheWordsOfCheck(t *testing.T) {
	for id, records := range map[string]string{
		"closure.overlap":   strings.Replace(buttoned, "overlap 30", "overlap 100", 1),
		"closure.beyond":    strings.Replace(buttoned, "up 1", "up 9", 1),
		"closure.pitch":     strings.Replace(buttoned, "pitch 25", "pitch 400", 1),
		"closure.no-record": "closure back buttons a.back overlap 30\nallowance 12\n",
	} {
		g := stand(t, records, "")
		_, fault := alter.PlaceMarks(g, alter.Fasten{Closure: "back"}, tol)
		require.NotNil(t, fault, id)
		var said []string
		for _, x := range check.Run(check.Input{Garment: g}) {
			if x.Subject == "back" {
				assert.Equal(t, id, x.ID, "one cause is one finding")
				said = append(said, x.Message()+x.Hint)
			}
		}
		assert.Equal(t, []string{fault.Message() + fault.Hint}, said)
	}
}
