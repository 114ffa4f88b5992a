package svg

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern/curve"
)

// What may stand in a picture, listed here apart from the code. Elements of SVG
// 1.1 that neither run, nor link, nor fetch.
const (
	allowedElements = " svg title desc style defs pattern clipPath g path line rect circle polygon text "
	allowedAttrs    = " xmlns xmlns:xlink width height viewBox role aria-labelledby aria-label aria-hidden font-family id class " +
		"type x y cx cy r rx ry x1 y1 x2 y2 d points patternUnits patternTransform transform clip-path " +
		"fill stroke stroke-width stroke-miterlimit stroke-dasharray stroke-dashoffset stroke-linecap stroke-linejoin " +
		"font-size font-weight font-style text-anchor opacity fill-opacity stroke-opacity fill-rule paint-order "
)

// hostile are texts that break out of careless writers.
var hostile = []string{
	`"><script>alert(1)</script>`, `' onload='alert(1)`, `fill:red" onload="alert(1)`, `]]>`, `<![CDATA[x]]>`,
	`--><!-- `, `&lt;&#x3c;&bogus;`, "\x00", "\x1b[31m", "\xff\xfe", "\xed\xa0\x80", "\u202egnp.exe", "\u2066x\u2069",
	"\uFFFE\uFFFF", "url(http://example.org/x)", "url(#a) url(//example.org)", "javascript:alert(1)", `#fff" href="//example.org`,
	"a\nb\tc\r\n", "<?xml version='1.0'?>", "<!DOCTYPE x [<!ENTITY e 'x'>]>", "\u2028", "\U000E0041", "%s%n", "=", "x=y",
	"</svg>", "</text><a href='//example.org'>", "@import url(//example.org)", "expression(1)", "布\U0001F9F5e\u0301",
}

// assertSafe looks at every element and attribute of a picture.
func assertSafe(t require.TestingT, e *element) {
	require.Contains(t, allowedElements, " "+e.Name+" ")
	for name, v := range e.Attrs {
		if !strings.HasPrefix(name, "data-") {
			require.Contains(t, allowedAttrs, " "+name+" ")
		}
		for _, r := range v {
			require.False(t, r < ' ' || r == '\u202e', "%q", v)
		}
		if name == "aria-label" || strings.HasPrefix(name, "data-") || strings.HasPrefix(name, "xmlns") {
			continue // words for people, and the two fixed names
		}
		require.NotContains(t, strings.ReplaceAll(v, "url(#", ""), "url(")
		require.NotContains(t, v, ":")
		require.NotContains(t, v, "/")
	}
	if e.Name == "style" {
		require.Regexp(t, `^\s*@media \(prefers-color-scheme:dark\)\{(\.[\w-]+\{(fill:#\w+;)?(stroke:#\w+;)?\})*\}\s*$`, e.Text)
	}
	for _, c := range e.Children {
		assertSafe(t, c)
	}
}

// scrawl draws with texts and an attribute of a stranger. The second answer is
// false where the pen refused; it must have written nothing then.
func scrawl(t require.TestingT, title, text, name, value string) (*element, bool) {
	var b bytes.Buffer
	p := New(&b, Picture{Width: 50, Height: 50, Title: title, Desc: text, Prefix: "p-"})
	p.Titled(title)
	p.Text(1, 2, text, A("aria-label", text), A("data-note", text))
	p.Path(Data(curve.Path{curve.Line(curve.Pt(0, 0), curve.Pt(1, 1))}), Attr{name, value})
	p.End()
	if err := p.Close(); err != nil {
		require.Empty(t, b.Bytes())
		return nil, false
	}
	require.True(t, utf8.Valid(b.Bytes()))
	root := readBack(t, b.Bytes())
	assertSafe(t, root)
	group := root.find("g")[0]
	require.Equal(t, CleanText(title), root.Children[0].Text)
	require.Equal(t, CleanText(title), group.Children[0].Text)
	words := group.Children[1]
	require.Equal(t, CleanText(text), words.Text)
	require.Equal(t, CleanText(text), words.Attrs["aria-label"])
	require.Equal(t, CleanText(text), words.Attrs["data-note"])
	if text != "" {
		require.Equal(t, CleanText(text), root.find("desc")[0].Text)
	}
	return root, true
}

func TestHostileTextsStayTexts(t *testing.T) {
	for _, s := range hostile {
		_, drawn := scrawl(t, "x"+s, s, "fill", "none")
		assert.True(t, drawn, "%q", s)
	}
}

func TestHostileValuesAreRefused(t *testing.T) {
	names := strings.Fields("fill stroke stroke-width stroke-dasharray transform id class clip-path font-family font-size " +
		"text-anchor opacity fill-rule role aria-hidden rx stroke-linecap paint-order")
	for _, name := range names {
		for _, s := range hostile {
			_, drawn := scrawl(t, "x", "y", name, s)
			assert.False(t, drawn, "%s=%q", name, s)
		}
	}
}

func TestNamesThatRunFetchOrStyleAreRefused(t *testing.T) {
	names := strings.Fields("onload onclick ONLOAD href xlink:href src style filter mask marker-end xmlns xml:base xml:space " +
		"begin attributeName d width viewBox data- data-A data-x=y data-x> aria-labelledby tabindex target formaction Fill")
	for _, name := range append(names, "", " ", `fill="none" onload`, "fill\x00", "fill\n") {
		_, drawn := scrawl(t, "x", "y", name, "none")
		assert.False(t, drawn, "%q", name)
	}
}

func TestValuesThatPicturesNeedAreDrawn(t *testing.T) {
	tests := map[Attr]string{ // as it stands in the picture
		A("fill", "none"):                        "none",
		A("stroke", "#D55E00"):                   "#D55E00",
		A("fill", "#fff"):                        "#fff",
		N("stroke-width", 0.95):                  "0.95",
		Dash(3.4, 1.8):                           "3.4 1.8",
		A("stroke-dasharray", "none"):            "none",
		N("stroke-dashoffset", -1):               "-1",
		Translate(1, -2):                         "translate(1 -2)",
		Rotate(90, 1, 2):                         "rotate(90 1 2)",
		A("id", "edge-1"):                        "p-edge-1",
		A("class", "ink moved"):                  "p-ink p-moved",
		A("font-family", "DejaVu Sans, Verdana"): "DejaVu Sans, Verdana",
		A("data-edge", "side.front"):             "side.front",
		A("stroke-linejoin", "round"):            "round",
		A("fill-rule", "evenodd"):                "evenodd",
	}
	for a, want := range tests {
		root, drawn := scrawl(t, "x", "y", a.Name, a.Value)
		require.True(t, drawn, "%v", a)
		assert.Equal(t, want, root.find("path")[0].Attrs[a.Name])
	}
}

func TestAnyTextAndAttribute(t *testing.T) {
	names := append(strings.Fields(allowedAttrs), "data-x", "onload", "href", "style")
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.OneOf(rapid.String(), rapid.SampledFrom(hostile),
			rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) }))
		text := func(label string) string { return strings.Join(rapid.SliceOfN(part, 0, 4).Draw(t, label), "") }
		name := rapid.OneOf(rapid.SampledFrom(names), rapid.String()).Draw(t, "name")
		scrawl(t, text("title"), text("text"), name, text("value"))
	})
}

func FuzzPen(f *testing.F) {
	for i, s := range hostile {
		f.Add("Side back", s, "fill", hostile[(i+1)%len(hostile)])
		f.Add(s, "let out 6 mm", "data-x", s)
	}
	f.Add("t", "x", "fill", "#0072B2")
	f.Add("t", "x", "transform", "rotate(45 1 2)")
	f.Add("t", "x", "class", "ink moved")
	f.Fuzz(func(t *testing.T, title, text, name, value string) { scrawl(t, title, text, name, value) })
}
