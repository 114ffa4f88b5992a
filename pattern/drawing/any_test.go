package drawing

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

// anyItem draws a line of a few kinds on a small grid, so that lines meet, lie on
// each other and in each other often, under a name that may say anything.
func anyItem(t *rapid.T, n int) vector.Item {
	at := func() curve.Point {
		p := curve.Pt(float64(rapid.IntRange(0, 8).Draw(t, "x"))*25, float64(rapid.IntRange(0, 8).Draw(t, "y"))*25)
		if rapid.IntRange(0, 4).Draw(t, "off") == 0 {
			p = p.Add(curve.Pt(rapid.Float64Range(-3, 3).Draw(t, "dx"), rapid.Float64Range(-3, 3).Draw(t, "dy")))
		}
		return p
	}
	it := vector.Item{Place: diag.Place{File: "a.svg", Line: 1 + n, Column: 1}, Element: "path"}
	a, b := at(), at()
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		it.Path = curve.Path{curve.Line(a, b)}
	case 1:
		it.Path = curve.Path{curve.Cubic(a, at(), at(), b)}
	case 2:
		c, d := curve.Pt(b.X, a.Y), curve.Pt(a.X, b.Y)
		it.Path, it.Closed = curve.Path{curve.Line(a, c), curve.Line(c, b), curve.Line(b, d), curve.Line(d, a)}, true
	default:
		c := at()
		it.Path = curve.Path{curve.Line(a, b), curve.Line(b, c)}
		if it.Closed = rapid.Bool().Draw(t, "closed"); it.Closed {
			it.Path = append(it.Path, curve.Line(c, a))
		}
	}
	var path curve.Path
	for _, s := range it.Path {
		if s.P0 != s.P3 || !s.Straight {
			path = append(path, s)
		}
	}
	if it.Path = path; len(path) == 0 {
		it.Path, it.Closed = curve.Path{curve.Line(a, a.Add(curve.Pt(20, 0)))}, false
	}
	words := []string{"", "", "", "front", "bone", "bone 3", "notch", "notch x", "cutout", "eyelet", "buttonhole", "grain", "waist", "bust", "level x", "level", "cut line", "sewing line", "outline y", "text", "check square", "drill width 3", "None", "Käse"}
	it.Label = rapid.SampledFrom(words).Draw(t, "label")
	if rapid.IntRange(0, 3).Draw(t, "id") == 0 {
		it.ID = rapid.SampledFrom(words).Draw(t, "its id")
	}
	if rapid.IntRange(0, 4).Draw(t, "own") == 0 {
		it.Own = map[string]string{"line": rapid.SampledFrom([]string{"outline", "grain", "check", "level hip", "notch e1 n", "mark bone b1", "mark drill d1", "mark cutout c", "mark x y", "level"}).Draw(t, "own line")}
	}
	return it
}

// Whatever is drawn, no line is lost, each piece can be written and read back, and
// a drawing without a piece says why.
func TestAnyLines(t *testing.T) {
	layers := [][]vector.Layer{nil, {{Label: "Front"}}, {{Label: "Bones"}}, {{ID: "back", Group: true}}, {{Label: "Back", Own: map[string]string{"piece": "back", "at": "20 100", "base": "x"}}}}
	rapid.Check(t, func(t *rapid.T) {
		d := &vector.Drawing{Width: 300, Height: 300}
		for i := range rapid.IntRange(1, 24).Draw(t, "lines") {
			it := anyItem(t, i)
			it.Layers = rapid.SampledFrom(layers).Draw(t, "layers")
			if i > 0 && rapid.IntRange(0, 9).Draw(t, "part") == 0 {
				it.Place, it.Part = d.Items[i-1].Place, d.Items[i-1].Part+1
			}
			d.Items = append(d.Items, it)
		}
		o := Options{
			Snap:    rapid.SampledFrom([]float64{0, 0, 0.5, 4, 1000}).Draw(t, "snap"),
			Outline: rapid.SampledFrom([]Which{Ask, Inner, Outer}).Draw(t, "outline"),
		}
		if rapid.Bool().Draw(t, "waist") {
			o.WaistY = pattern.Some(rapid.Float64Range(-10, 300).Draw(t, "waist at"))
		}
		s, probs := Recognise(d, o)
		checkSheet(t, d, s, probs)
		few, some := recogniseWithin(d, o, rapid.IntRange(0, 300).Draw(t, "work"))
		checkSheet(t, d, few, some)
		again, more := Recognise(d, o)
		if fmt.Sprint(s.Left, probs) != fmt.Sprint(again.Left, more) {
			t.Fatal("the same drawing gave another answer")
		}
	})
}
