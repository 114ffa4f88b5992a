package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// element is a picture read back by encoding/xml.
type element struct {
	Name     string
	Attrs    map[string]string
	Text     string
	Children []*element
}

// readBack parses a document and fails on what encoding/xml takes but XML 1.0
// (fifth edition, section 3.1, "Unique Att Spec") does not: an attribute twice.
func readBack(t require.TestingT, doc []byte) *element {
	d := xml.NewDecoder(bytes.NewReader(doc))
	top := &element{}
	open := []*element{top}
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err, "%s", doc)
		last := open[len(open)-1]
		switch tok := tok.(type) {
		case xml.StartElement:
			e := &element{Name: tok.Name.Local, Attrs: map[string]string{}}
			for _, a := range tok.Attr {
				name := a.Name.Local
				if a.Name.Space != "" {
					name = a.Name.Space + ":" + name
				}
				require.NotContains(t, e.Attrs, name, "attribute twice")
				e.Attrs[name] = a.Value
			}
			last.Children = append(last.Children, e)
			open = append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			last.Text += string(tok)
		}
	}
	require.Len(t, top.Children, 1)
	return top.Children[0]
}

// find gives all elements of a name, in document order.
func (e *element) find(name string) []*element {
	var out []*element
	for _, c := range e.Children {
		if c.Name == name {
			out = append(out, c)
		}
		out = append(out, c.find(name)...)
	}
	return out
}

// small is the picture of most tests.
var small = Picture{Width: 80, Height: 60.5, Title: "Side back", Desc: "One edge let out.", Prefix: "p1-"}

// draw makes a picture and reads it back.
func draw(t require.TestingT, pic Picture, with func(*Pen)) *element {
	var b bytes.Buffer
	p := New(&b, pic)
	with(p)
	require.NoError(t, p.Close())
	return readBack(t, b.Bytes())
}

func TestRootSaysSizeAndWords(t *testing.T) {
	root := draw(t, small, func(*Pen) {})
	assert.Equal(t, "svg", root.Name)
	// SVG 1.1 (second edition), 7.2 and 7.7: with these three one user unit is
	// one mm.
	assert.Equal(t, "80mm", root.Attrs["width"])
	assert.Equal(t, "60.5mm", root.Attrs["height"])
	assert.Equal(t, "0 0 80 60.5", root.Attrs["viewBox"])
	assert.Equal(t, "img", root.Attrs["role"])
	assert.Equal(t, "http://www.w3.org/2000/svg", root.Attrs["xmlns"])
	assert.Equal(t, "p1-title p1-desc", root.Attrs["aria-labelledby"])
	require.Len(t, root.Children, 3)
	assert.Equal(t, "p1-title", root.Children[0].Attrs["id"])
	assert.Equal(t, "Side back", root.Children[0].Text)
	assert.Equal(t, "One edge let out.", root.Children[1].Text)
	paper := root.Children[2]
	assert.Equal(t, map[string]string{"class": "p1-paper", "fill": "#ffffff",
		"x": "0.0", "y": "0.0", "width": "80.0", "height": "60.5"}, paper.Attrs)
}

func TestPictureWithoutDescNamesOnlyItsTitle(t *testing.T) {
	root := draw(t, Picture{Width: 1, Height: 1, Title: "x"}, func(*Pen) {})
	assert.Equal(t, "title", root.Attrs["aria-labelledby"])
	assert.Empty(t, root.find("desc"))
}

func TestRefusedPicturesWriteNothing(t *testing.T) {
	pt := curve.Pt
	fine := Texture{ID: "a", Colour: "#123456"}
	tests := map[string]func(p *Pen){
		"path with NaN":        func(p *Pen) { p.Path(Data(curve.Path{curve.Line(pt(0, 0), pt(math.NaN(), 1))})) },
		"path to infinity":     func(p *Pen) { p.Path(Data(curve.Path{curve.Line(pt(0, 0), pt(math.Inf(1), 1))})) },
		"line with NaN":        func(p *Pen) { p.Line(pt(0, math.NaN()), pt(1, 1)) },
		"text at infinity":     func(p *Pen) { p.Text(math.Inf(-1), 0, "x") },
		"huge circle":          func(p *Pen) { p.Circle(pt(0, 0), 1e7) },
		"negative circle":      func(p *Pen) { p.Circle(pt(0, 0), -1) },
		"negative rectangle":   func(p *Pen) { p.Rect(0, 0, 1, -1) },
		"polygon with NaN":     func(p *Pen) { p.Polygon([]curve.Point{pt(0, 0), pt(1, math.NaN())}) },
		"NaN in an attribute":  func(p *Pen) { p.Group(N("stroke-width", math.NaN())); p.End() },
		"infinite dash":        func(p *Pen) { p.Group(Dash(1, math.Inf(1))); p.End() },
		"attribute twice":      func(p *Pen) { p.Text(0, 0, "x", A("fill", "none"), A("fill", "none")) },
		"element's own":        func(p *Pen) { p.Circle(pt(0, 0), 1, A("r", "3")) },
		"id twice":             func(p *Pen) { p.Text(0, 0, "x", A("id", "a")); p.Text(0, 0, "x", A("id", "a")) },
		"texture id twice":     func(p *Pen) { p.Dots(fine); p.Stripes(fine) },
		"id of the title":      func(p *Pen) { p.Text(0, 0, "x", A("id", "title")) },
		"texture of no colour": func(p *Pen) { p.Dots(Texture{ID: "a"}) },
		"texture too thick":    func(p *Pen) { p.Dots(Texture{ID: "a", Colour: "#000", Pitch: 1, Size: 2}) },
		"texture NaN":          func(p *Pen) { p.Stripes(Texture{ID: "a", Colour: "#000", Pitch: math.NaN()}) },
		"negative window":      func(p *Pen) { p.Window("w", 0, 0, -1, 1, 0) },
		"window NaN":           func(p *Pen) { p.Window("w", 0, math.NaN(), 1, 1, 0) },
		"reference unmet":      func(p *Pen) { p.Circle(pt(0, 0), 1, A("fill", "url(#nothing)")) },
		"group left open":      func(p *Pen) { p.Group() },
		"group not begun":      func(p *Pen) { p.End() },
		"dark class":           func(p *Pen) { p.Dark(Shade{Class: "a{}b", Fill: "#000"}) },
		"dark import":          func(p *Pen) { p.Dark(Shade{Class: "a", Fill: "url(//example.org)"}) },
	}
	for name, with := range tests {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			p := New(&b, small)
			require.NoError(t, p.Err())
			with(p)
			p.Text(1, 1, "after")
			err := p.Close()
			require.Error(t, err)
			assert.Same(t, err, p.Close(), "the second answer")
			assert.Empty(t, b.Bytes())
		})
	}
}

func TestRefusedHeads(t *testing.T) {
	tests := map[string]Picture{
		"no width":        {Width: 0, Height: 1, Title: "x"},
		"width that is 0": {Width: 0.0001, Height: 1, Title: "x"},
		"below 0":         {Width: 1, Height: -1, Title: "x"},
		"NaN":             {Width: math.NaN(), Height: 1, Title: "x"},
		"no title":        {Width: 1, Height: 1, Title: "\x00\u202e"},
		"odd prefix":      {Width: 1, Height: 1, Title: "x", Prefix: `a"`},
		"digit first":     {Width: 1, Height: 1, Title: "x", Prefix: "1a"},
	}
	for name, pic := range tests {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			p := New(&b, pic)
			p.Rect(0, 0, 1, 1)
			require.Error(t, p.Close())
			assert.Empty(t, b.Bytes())
		})
	}
}

func TestFirstErrorStays(t *testing.T) {
	p := New(io.Discard, small)
	p.Circle(curve.Pt(0, 0), -1)
	first := p.Err()
	p.End()
	p.Text(0, 0, "x", A("onclick", "x"))
	assert.Same(t, first, p.Close())
}

func TestDrawingAfterCloseIsAnError(t *testing.T) {
	var b bytes.Buffer
	p := New(&b, small)
	require.NoError(t, p.Close())
	n := b.Len()
	p.Rect(0, 0, 1, 1)
	assert.Error(t, p.Err())
	assert.Error(t, p.Close())
	assert.Equal(t, n, b.Len())
}

// full is a disk with room for a few bytes.
type full struct{ room int }

var errFull = errors.New("no space left")

func (f *full) Write(b []byte) (int, error) {
	if len(b) > f.room {
		return f.room, errFull
	}
	f.room -= len(b)
	return len(b), nil
}

func TestWriteErrorIsKept(t *testing.T) {
	p := New(&full{room: 100}, small)
	p.Rect(0, 0, 1, 1)
	require.ErrorIs(t, p.Close(), errFull)
	assert.ErrorIs(t, p.Close(), errFull)
}

func TestEmptyFiguresDrawNothing(t *testing.T) {
	root := draw(t, small, func(p *Pen) {
		p.Path(Data())
		p.Path(PathData{})
		p.Polygon(nil)
		p.Polygon([]curve.Point{curve.Pt(1, 1)})
		p.Dark()
	})
	assert.Len(t, root.Children, 3, "title, desc, paper")
}

func TestTitledGroupBeginsWithItsTitle(t *testing.T) {
	root := draw(t, small, func(p *Pen) {
		p.Titled("front <1>", A("class", "ink thin"), A("data-edge", "front"))
		p.Line(curve.Pt(0, 0), curve.Pt(1, 1))
		p.End()
	})
	g := root.find("g")[0]
	assert.Equal(t, map[string]string{"class": "p1-ink p1-thin", "data-edge": "front"}, g.Attrs)
	// SVG 1.1, 5.4: a title is the first child of its parent.
	assert.Equal(t, "title", g.Children[0].Name)
	assert.Equal(t, "front <1>", g.Children[0].Text)
}

func TestNumbersOfShapesAreRounded(t *testing.T) {
	root := draw(t, small, func(p *Pen) {
		p.Line(curve.Pt(-0.0001, 1.00049), curve.Pt(2, 3.25), N("stroke-width", 0.4))
		p.Circle(curve.Pt(1, 2), 3, Rotate(-30, 1, 2.5))
		p.Group(Translate(1.23456, -0.0004), Dash(3.4, 1.8))
		p.End()
	})
	line := root.find("line")[0]
	assert.Equal(t, map[string]string{"x1": "0.00", "y1": "1.00", "x2": "2.00", "y2": "3.25", "stroke-width": "0.4"}, line.Attrs)
	circle := root.find("circle")[0]
	assert.Equal(t, map[string]string{"cx": "1", "cy": "2", "r": "3", "transform": "rotate(-30 1 2.5)"}, circle.Attrs)
	group := root.find("g")[0]
	assert.Equal(t, map[string]string{"transform": "translate(1.235 0)", "stroke-dasharray": "3.4 1.8"}, group.Attrs)
}

func TestTexturesAreFilledByTheirOwnIDs(t *testing.T) {
	var lost, gained Attr
	root := draw(t, small, func(p *Pen) {
		lost = p.Stripes(Texture{ID: "lost", Colour: "#D55E00", Class: "old"})
		gained = p.Dots(Texture{ID: "gained", Colour: "#0072B2", Pitch: 0.48, Size: 0.168})
		p.Rect(1, 1, 5, 5, lost)
		p.Rect(9, 1, 5, 5, gained, p.Window("pane", 9, 1, 4, 4, 2))
	})
	assert.Equal(t, A("fill", "url(#p1-lost)"), lost)
	assert.Equal(t, A("fill", "url(#p1-gained)"), gained)
	tiles := root.find("pattern")
	require.Len(t, tiles, 2)
	assert.Equal(t, map[string]string{"id": "p1-lost", "x": "0.0", "y": "0.0", "width": "2.6", "height": "2.6",
		"patternUnits": "userSpaceOnUse", "patternTransform": "rotate(45)"}, tiles[0].Attrs)
	assert.Equal(t, "p1-old", tiles[0].Children[0].Attrs["class"])
	assert.Len(t, tiles[1].find("circle"), 2)
	assert.Equal(t, "0.084", tiles[1].find("circle")[0].Attrs["r"])
	assert.Equal(t, "p1-pane", root.find("clipPath")[0].Attrs["id"])
}

func TestDarkWritesOneMediaQuery(t *testing.T) {
	root := draw(t, small, func(p *Pen) {
		p.Dark(Shade{Class: "paper", Fill: "#15181b"}, Shade{Class: "ink", Fill: "#e6e6e6", Stroke: "#e6e6e6"})
	})
	assert.Equal(t, "@media (prefers-color-scheme:dark){.p1-paper{fill:#15181b;}.p1-ink{fill:#e6e6e6;stroke:#e6e6e6;}}",
		strings.TrimSpace(root.find("style")[0].Text))
}

func TestSameCallsSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		p := New(w, small)
		sketch(p)
		require.NoError(t, p.Close())
	}
	assert.Equal(t, a.String(), b.String())
}

// sketch uses every part of the pen once; its picture is the golden one.
func sketch(p *Pen) {
	p.Dark(Shade{Class: "paper", Fill: "#15181b"}, Shade{Class: "ink", Stroke: "#e6e6e6"},
		Shade{Class: "words", Fill: "#e6e6e6"}, Shade{Class: "old", Fill: "#F28C38"}, Shade{Class: "new", Fill: "#56B4E9"})
	lost := p.Stripes(Texture{ID: "lost", Colour: "#D55E00", Class: "old"})
	gained := p.Dots(Texture{ID: "gained", Colour: "#0072B2", Class: "new"})
	pane := p.Window("pane", 52, 20, 24, 24, 12)
	v := View{Origin: curve.Pt(8, 50)}
	pt := curve.Pt
	panel := curve.Path{
		curve.Cubic(pt(0, 36), pt(4, 24), pt(-3, 12), pt(2, 0)), curve.Line(pt(2, 0), pt(34, 0)),
		curve.Cubic(pt(34, 0), pt(30, 12), pt(38, 24), pt(36, 36)), curve.Line(pt(36, 36), pt(0, 36)),
	}
	p.Titled("the panel <&> its edges", A("class", "ink"), A("fill", "none"), A("stroke", "#111111"), N("stroke-width", 0.4))
	p.Path(v.Data(panel))
	p.End()
	p.Rect(11, 18, 10, 26, lost)
	p.Rect(24, 18, 10, 26, gained)
	p.Group(pane)
	p.Path(View{Origin: pt(-40, 52), Scale: 3}.Data(panel), A("class", "ink"), A("fill", "none"), A("stroke", "#111111"), Dash(3.4, 1.8))
	p.End()
	p.Circle(pt(64, 32), 12, A("class", "ink"), A("fill", "none"), A("stroke", "#111111"), N("stroke-width", 0.3))
	p.Polygon([]curve.Point{pt(46, 30), pt(50, 32), pt(46, 34)}, A("class", "words"), A("fill", "#111111"))
	p.Line(pt(42, 32), pt(46, 32), A("class", "ink"), A("stroke", "#111111"), N("stroke-width", 0.6))
	p.Text(8, 9, `Side back "x" <y> — 布`, A("class", "words"), A("fill", "#111111"), N("font-size", 5), A("font-weight", "bold"))
	p.Text(78, 32, "waist", A("class", "words"), A("fill", "#111111"), N("font-size", 3), Rotate(-90, 78, 32), A("text-anchor", "middle"))
}

func TestGoldenPicture(t *testing.T) {
	var b bytes.Buffer
	p := New(&b, small)
	sketch(p)
	require.NoError(t, p.Close())
	file := filepath.Join("testdata", "golden", "sketch.svg")
	if *update {
		require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, readBack(t, want), readBack(t, b.Bytes()), "look at the picture, then renew it with -update")
}

func TestPrefixSetsPicturesOfOnePageApart(t *testing.T) {
	ids := func(prefix string) map[string]bool {
		pic := small
		pic.Prefix = prefix
		out := map[string]bool{}
		var walk func(e *element)
		walk = func(e *element) {
			for _, name := range []string{"id", "class"} {
				if v, ok := e.Attrs[name]; ok {
					out[v] = true
				}
			}
			for _, c := range e.Children {
				walk(c)
			}
		}
		walk(draw(t, pic, sketch))
		return out
	}
	a, b := ids("a-"), ids("b-")
	require.Greater(t, len(a), 6)
	for id := range a {
		assert.NotContains(t, b, id)
	}
}
