package table_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/table"
	"seamkeep/pattern/measure"
	"seamkeep/pattern/text"
)

func readTable(t testing.TB, src string) *table.Table {
	t.Helper()
	got, problems := table.Read("widths.csv", []byte(src))
	require.Empty(t, problems)
	return got
}

// garment puts the pieces of a table together.
func garment(tab *table.Table) *pattern.Garment {
	g := &pattern.Garment{Name: "w", Half: pattern.LeftHalf, Levels: tab.Levels}
	for _, p := range tab.Pieces {
		g.Around = append(g.Around, pattern.Mention{Name: p.Name})
		g.Pieces = append(g.Pieces, p)
	}
	g.SortPieces()
	return g
}

func TestATrapezoid(t *testing.T) {
	tab := readTable(t, "piece,level,height,width\nFront panel,top,90,60\n,waist,0,80\n,hem,-110,100\n")
	assert.Equal(t, []string{"waist"}, measure.LevelNames(garment(tab)))
	require.Len(t, tab.Pieces, 1)
	p := tab.Pieces[0]
	assert.Equal(t, "front-panel", p.Name)
	assert.Equal(t, "Front panel", p.Title)
	at := map[string]curve.Point{}
	for _, c := range p.Corners {
		at[c.Name] = c.At
	}
	assert.Equal(t, map[string]curve.Point{
		"top-front": curve.Pt(-30, 90), "hem-front": curve.Pt(-50, -110), "hem-back": curve.Pt(50, -110), "top-back": curve.Pt(30, 90),
	}, at)
	// a trapezoid has half the sum of its parallel sides times its height
	assert.InDelta(t, (60+80)/2*90+(80+100)/2*110, measure.Area(p), 1e-9)
	assert.Positive(t, p.Outline().Area(), "anticlockwise")
	assert.Equal(t, []string{"front", "hem", "back", "top"}, []string{p.Edges[0].Name, p.Edges[1].Name, p.Edges[2].Name, p.Edges[3].Name})
	assert.Empty(t, check.Run(check.Input{Garment: garment(tab)}))
}

// The widths of the shared waistcoat's first version, and the gaps that its
// scenario gives for it: 52, 49, 51, 48 and 53 mm, overlap 24.
func TestTheWaistcoatsTable(t *testing.T) {
	src, err := os.ReadFile("testdata/waistcoat.csv")
	require.NoError(t, err)
	g := garment(readTable(t, string(src)))
	g.Thickness = pattern.Some(13)
	g.Reduce = []pattern.LevelNum{{Level: "under-bust", Value: 10}, {Level: "waist", Value: 30}, {Level: "high-hip", Value: 10}}
	g.Closures = []pattern.Closure{
		{Name: "front", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "front", Edge: "front"}}},
		{Name: "back", Kind: pattern.ButtonClosure, Edges: []pattern.Ref{{Piece: "button-stand", Edge: "back"}}, Overlap: pattern.Some(24)},
	}
	body := &pattern.Body{Girths: []pattern.LevelNum{
		{Level: "bust", Value: 902}, {Level: "under-bust", Value: 779}, {Level: "waist", Value: 701}, {Level: "high-hip", Value: 828}, {Level: "low-hip", Value: 883},
	}}
	for level, want := range map[string]float64{"bust": 52, "under-bust": 49, "waist": 51, "high-hip": 48, "low-hip": 53} {
		gap, ok := measure.GapAt(g, body, g.Closure("front"), level)
		require.True(t, ok)
		assert.InDelta(t, want, gap.Value(), 1e-9, level)
	}
	assert.Empty(t, text.CheckNames(g))
	for _, f := range check.Run(check.Input{Garment: g}) {
		assert.NotEqual(t, diag.Error, f.Severity, f.Message())
	}
	for _, p := range g.Pieces { // each can be written and read
		again, problems := text.ReadPiece("pieces/"+p.Name+".piece", text.PrintPiece(p))
		require.Empty(t, problems)
		assert.True(t, pattern.EqualPieces(p, again))
	}
}

// Whatever the table, the width at each level is that of the table.
func TestEveryWidthIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		heights := rapid.SliceOfNDistinct(rapid.IntRange(-400_000, 400_000), 2, 9, rapid.ID[int]).Draw(t, "heights in 0.001 mm")
		fronts := rapid.Bool().Draw(t, "fronts")
		cm := rapid.Bool().Draw(t, "cm")
		low, high := heights[0], heights[0]
		for _, h := range heights {
			low, high = min(low, h), max(high, h)
		}
		if high-low < 500 {
			t.Skip("no height")
		}
		unit, show := "mm", func(v int) string { return fmt.Sprintf("%.3f", float64(v)/1000) }
		if cm {
			unit, show = "cm", func(v int) string { return fmt.Sprintf("%.4f", float64(v)/10000) }
		}
		src := fmt.Sprintf("piece;level;height (%s);width (%s);front (%s)\n", unit, unit, unit)
		widths := map[string]int{}
		for i, h := range heights {
			name := fmt.Sprintf("l%d", i)
			if h == high {
				name = "top"
			}
			w := rapid.IntRange(500, 900_000).Draw(t, "width")
			widths[name] = w
			front := ""
			if fronts {
				front = show(rapid.IntRange(-300_000, 300_000).Draw(t, "front"))
			}
			src += strings.ReplaceAll(fmt.Sprintf("p;%s;%s;%s;%s\n", name, show(h), show(w), front), ".", ",")
		}
		tab, problems := table.Read("w.csv", []byte(src))
		if len(problems) > 0 {
			t.Fatalf("%s\n%s", problems[0].Message(), src)
		}
		g := garment(tab)
		for _, l := range g.Levels {
			got, ok := measure.Width(g, g.Pieces[0], l.Name)
			if want := float64(widths[l.Name]) / 1000; !ok || got-want > 1e-9 || want-got > 1e-9 {
				t.Fatalf("%s: %v, not %v\n%s", l.Name, got, want, src)
			}
		}
	})
}

func TestWaysToWriteATable(t *testing.T) {
	want := readTable(t, "piece,level,height,width\nside-back,top,90,52.8\nside-back,hem,-10,40\n")
	for name, src := range map[string]string{
		"semicolons and decimal commas":  "piece;level;height;width\nside-back;top;90;52,8\nside-back;hem;-10;40,0\n",
		"tabs":                           "piece\tlevel\theight\twidth\nside-back\ttop\t90\t52,8\nside-back\them\t-10\t40\n",
		"centimetres":                    "piece,level,height (cm),width cm\nside-back,top,9,5.28\nside-back,hem,-1,4\n",
		"one column in centimetres":      "piece,level,height [mm],width_cm\nside-back,top,90,5.28\nside-back,hem,-10,4.0\n",
		"another order, and fronts":      "Width,Height,Front,Level,Piece\n52.8,90,-26.4,top,side-back\n40,-10,-20,hem,side-back\n",
		"the piece once, upside down":    "piece,level,height,width\nside-back,hem,-10,40\n,top,90,52.8\n",
		"a byte order mark and returns":  "\ufeffpiece,level,height,width\r\nside-back,top,90,52.8\r\nside-back,hem,-10,40\r\n",
		"empty rows, a note, no end":     "# measured twice\n\npiece,level,height,width\n,,,\nside-back,top,90,52.8,\nside-back,hem,\u221210,+40",
		"quotes and levels without name": "\"piece\",\"level\",\"height\",\"width\"\n\"side-back\",\"\",\"90\",\"52.8\"\nside-back,,-10,40\n",
	} {
		t.Run(name, func(t *testing.T) {
			got := readTable(t, src)
			require.Len(t, got.Pieces, 1)
			assert.True(t, pattern.EqualPieces(want.Pieces[0], got.Pieces[0]))
		})
	}
}

func TestFaultsAreToldWithLineAndColumn(t *testing.T) {
	const head = "piece,level,height,width,front\n"
	for _, c := range []struct {
		what, src string
		want      []string // line:column id
	}{
		{"nothing", "", []string{"0:0 table.empty"}},
		{"no rows", head, []string{"0:0 table.empty"}},
		{"a misspelt column", "piece,level,heigth,width\np,top,1,1\n", []string{"1:13 table.column"}},
		{"no width", "piece,level,height\np,top,1\n", []string{"1:1 table.column"}},
		{"a column twice", "piece,level,height,width,width\n", []string{"1:26 table.column"}},
		{"inches", "piece,level,height,width (in)\n", []string{"1:20 table.unit"}},
		{"no numbers", head + "p,top,high,1e3,x\np,hem,0,1.2345\n", []string{"2:7 table.number", "2:12 table.number", "2:16 table.number", "3:9 table.number"}},
		{"missing numbers", head + "p,top\n", []string{"2:1 table.number", "2:1 table.number"}},
		{"too large", head + "p,top,100001,2\np,hem,0,9999999999999999999999999\n", []string{"2:7 table.number", "3:9 table.number"}},
		{"too far back", head + "p,top,9,5,99996\np,hem,0,5,0\n", []string{"2:11 table.number"}},
		{"a decimal comma between commas", "piece,level,height,width\np,top,90,52,8\n", []string{"2:13 table.fields"}},
		{"no width at all", head + "p,top,90,0\np,hem,0,-5\n", []string{"2:10 table.width", "3:9 table.width"}},
		{"names", head + "1st,top,90,5\np,\u00e9t\u00e9 bas,0,5\n", []string{"2:1 table.name", "3:3 table.name"}},
		{"columns are counted in characters", head + "p,\"\u00e9\u00e9\",x,5\n", []string{"2:3 table.name", "2:8 table.number"}},
		{"no piece", head + ",top,90,5\n", []string{"2:1 table.piece"}},
		{"one row", head + "p,top,90,5\n", []string{"2:1 table.height"}},
		{"a height twice", head + "p,top,90,5\np,,90,6\np,hem,0,5\n", []string{"3:4 table.height"}},
		{"top below", head + "p,,95,5\np,top,90,5\np,hem,0,5\n", []string{"3:7 table.end"}},
		{"a level that wanders", head + "p,top,90,5\np,hip,-10,5\np,hem,-20,5\nq,top,90,5\nq,hip,-12,5\nq,hem,-20,5\n", []string{"6:7 table.level"}},
		{"a waist that is none", head + "p,top,90,5\np,waist,10,5\np,hem,-20,5\n", []string{"3:9 table.waist"}},
		{"half the fronts", head + "p,top,90,5,1\np,hem,0,5\n", []string{"2:1 table.front"}},
		{"quotes", "piece,level,height,width\np,\"to\"p,9,5\np,hem,0,5\n", []string{"2:6 table.quote"}},
		{"no text", "\xff\xfe", []string{"0:0 table.encoding"}},
	} {
		t.Run(c.what, func(t *testing.T) {
			tab, problems := table.Read("w.csv", []byte(c.src))
			assert.Nil(t, tab)
			var got []string
			for _, p := range problems {
				assert.Equal(t, "w.csv", p.Place.File)
				assert.NotEmpty(t, p.Expected)
				got = append(got, fmt.Sprintf("%d:%d %s", p.Place.Line, p.Place.Column, p.ID))
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// A width at the top edge counts for nothing, as everywhere: that is said.
func TestAPieceThatEndsAtALevel(t *testing.T) {
	tab, problems := table.Read("w.csv", []byte("piece,level,height,width\nskirt,waist,0,200\n,hem,-600,300\n"))
	require.Len(t, problems, 1)
	assert.Equal(t, diag.Warning, problems[0].Severity)
	assert.Equal(t, "table.top", problems[0].ID)
	assert.Equal(t, diag.Place{File: "w.csv", Line: 2, Column: 13}, problems[0].Place)
	w, ok := measure.Width(garment(tab), tab.Pieces[0], "waist")
	assert.True(t, ok)
	assert.Zero(t, w)
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("piece,level,height,width\nfront,top,90,60\n,waist,0,80\n,hem,-110,100\n"))
	f.Add([]byte("piece;level;height cm;width (cm);front\n\"Side \"\"x\"\"\";top;9,5;6;1\nb;;;;\n"))
	f.Add([]byte("\ufeffpiece\tlevel\theight\twidth\r\n\"a"))
	f.Fuzz(func(t *testing.T, src []byte) {
		tab, problems := table.Read("w.csv", src)
		if (tab == nil) != problems.HasErrors() {
			t.Fatal("a table and errors, or neither")
		}
		lines := strings.Count(string(src), "\n") + 1
		for _, p := range problems {
			if p.Place.Line < 0 || p.Place.Line > lines || p.Place.Column < 0 {
				t.Fatalf("no such place: %+v", p)
			}
		}
		if tab == nil {
			return
		}
		g := garment(tab)
		for _, p := range tab.Pieces {
			if _, bad := text.ReadPiece("pieces/"+p.Name+".piece", text.PrintPiece(p)); len(bad) > 0 {
				t.Fatalf("%s\n%s", bad[0].Message(), text.PrintPiece(p))
			}
			if measure.Area(p) <= 0 || len(p.Outline().SelfCrossings()) > 0 {
				t.Fatalf("no outline\n%s", text.PrintPiece(p))
			}
		}
		if bad := text.CheckNames(g); len(bad) > 0 {
			t.Fatal(bad[0].Message())
		}
	})
}
