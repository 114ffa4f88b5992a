package vector

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

func readFile(t *testing.T, name string, o Options) (*Drawing, diag.List) {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	return Read(name, src, o)
}

// onPage wraps elements in a drawing of 400 x 400 mm; the body stands in line 2.
func onPage(body string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="` + nsEditor + `" xmlns:seamkeep="` + nsOwn +
		`" xmlns:xlink="` + nsLink + `" width="400mm" height="400mm" viewBox="0 0 400 400">` + "\n" + body + "\n</svg>\n")
}

const square = `d="M100,100 h50 v80 h-50 z"`

func problemIDs(l diag.List) []string {
	out := []string{}
	for _, p := range l {
		out = append(out, p.ID)
	}
	return out
}

func itemIDs(d *Drawing) []string {
	out := []string{}
	for _, i := range d.Items {
		out = append(out, i.ID)
	}
	return out
}

func (d *Drawing) item(t *testing.T, id string) Item {
	t.Helper()
	for _, i := range d.Items {
		if i.ID == id {
			return i
		}
	}
	require.Fail(t, "no item", id)
	return Item{}
}

func TestItemsOfASavedDrawing(t *testing.T) {
	d, probs := readFile(t, "01-mm-viewbox-layers.svg", Options{})
	assert.Empty(t, probs)
	assert.Empty(t, d.Skipped)
	require.Len(t, d.Items, 2)
	layers := []Layer{{ID: "layer1", Label: "Front panel"}}
	assert.Equal(t, Item{
		Place: diag.Place{File: "01-mm-viewbox-layers.svg", Line: 5, Column: 5}, Element: "path", ID: "outline", Label: "cut line",
		Layers: layers, Closed: true, Path: curve.Path{
			curve.Line(curve.Pt(20, 20), curve.Pt(120, 20)), curve.Line(curve.Pt(120, 20), curve.Pt(120, 170.125)),
			curve.Cubic(curve.Pt(120, 170.125), curve.Pt(120, 200.125), curve.Pt(100, 230.125), curve.Pt(70, 230.125)),
			curve.Line(curve.Pt(70, 230.125), curve.Pt(20, 220.125)), curve.Line(curve.Pt(20, 220.125), curve.Pt(20, 20)),
		},
	}, d.Items[0])
	notch := d.Items[1]
	assert.Equal(t, "notch", notch.ID)
	assert.False(t, notch.Closed)
	assert.Equal(t, layers, notch.Layers)
	assert.Equal(t, curve.Path{curve.Line(curve.Pt(120, 95), curve.Pt(114, 95))}, notch.Path)
	assert.Equal(t, `path "cut line"`, d.Items[0].Title())
}

// Saving again changes nothing; moving, turning and mirroring keep the lengths.
func TestSavedAgain(t *testing.T) {
	want, _ := readFile(t, "01-mm-viewbox-layers.svg", Options{})
	for _, name := range []string{"01-resaved.svg", "01-layer-moved.svg", "01-flipped.svg", "01-layer-turned.svg"} {
		got, probs := readFile(t, name, Options{})
		assert.Empty(t, probs, name)
		require.Len(t, got.Items, 2, name)
		for i := range want.Items {
			assert.InDelta(t, want.Items[i].Path.Length(1e-9), got.Items[i].Path.Length(1e-9), 2e-5, name)
			assert.Equal(t, want.Items[i].Label, got.Items[i].Label, name)
		}
		mirrored := name == "01-flipped.svg"
		assert.Equal(t, mirrored, want.Items[0].Path.Area()*got.Items[0].Path.Area() < 0, name)
	}
}

func TestNamesLayersAndOwnAttributes(t *testing.T) {
	d, probs := Read("a.svg", onPage(`<g inkscape:groupmode="layer" inkscape:label=" Front " id="layer1" seamkeep:piece="front" seamkeep:at="10 20">
<g><g id="marks"><path id="a" class="x y" seamkeep:line="outline" inkscape:label="A" data-name="B" `+square+`><title>C</title></path>
<path data-name="B" `+square+`><title>C</title></path><path `+square+`><title> C </title></path></g></g>
<a data-name="link"><line x2="5" stroke-dasharray="3 2"/></a></g>
<path id="free" d="M0,0 h5 M10,10 h5 z"/>`), Options{})
	assert.Empty(t, probs)
	require.Len(t, d.Items, 6)
	front := Layer{ID: "layer1", Label: "Front", Own: map[string]string{"piece": "front", "at": "10 20"}}
	marks := Layer{ID: "marks", Group: true}
	a := d.Items[0]
	assert.Equal(t, []Layer{front, marks}, a.Layers)
	assert.Equal(t, map[string]string{"line": "outline"}, a.Own)
	assert.Equal(t, "x y", a.Class)
	assert.Equal(t, []string{"A", "B", "C"}, []string{a.Label, d.Items[1].Label, d.Items[2].Label})
	assert.Nil(t, d.Items[1].Own)
	assert.Equal(t, []Layer{front, {Label: "link", Group: true}}, d.Items[3].Layers)
	assert.Equal(t, "line", d.Items[3].Element)
	assert.True(t, d.Items[3].Dashed)
	assert.Equal(t, []int{0, 1}, []int{d.Items[4].Part, d.Items[5].Part})
	assert.Equal(t, []bool{false, true}, []bool{d.Items[4].Closed, d.Items[5].Closed})
	assert.Empty(t, d.Items[4].Layers)
}

func TestLeftOut(t *testing.T) {
	for name, c := range map[string]struct {
		body string
		why  string // in Skipped; empty: ignored in silence, since it is not drawn
	}{
		"hidden by attribute":   {`<path display="none" ` + square + `/>`, "is hidden"},
		"hidden by style":       {`<path style="fill:none; DISPLAY : none !important" ` + square + `/>`, "is hidden"},
		"hidden layer":          {`<g style="display:none"><g><path ` + square + `/></g></g>`, "is hidden"},
		"invisible":             {`<g visibility="hidden"><path ` + square + `/></g>`, "is hidden"},
		"in defs":               {`<defs><g><path ` + square + `/></g></defs>`, ""},
		"in a clip path":        {`<clipPath id="c"><path ` + square + `/></clipPath>`, ""},
		"in a mask":             {`<mask><path ` + square + `/></mask>`, ""},
		"in a symbol":           {`<symbol><path ` + square + `/></symbol>`, ""},
		"in a pattern":          {`<pattern><path ` + square + `/></pattern>`, ""},
		"in a marker":           {`<marker><path ` + square + `/></marker>`, ""},
		"a script":              {`<script>document.documentElement.remove()</script>`, ""},
		"of another language":   {`<x:thing xmlns:x="urn:x"><path xmlns="http://www.w3.org/2000/svg" ` + square + `/></x:thing>`, ""},
		"unchosen in a switch":  {`<switch><path requiredExtensions="urn:x" ` + square + `/></switch>`, ""},
		"text":                  {`<text>Front</text>`, "is text"},
		"picture":               {`<image href="photo.png" width="5" height="5"/>`, "is a picture"},
		"another language":      {`<foreignObject width="5" height="5"/>`, "another language"},
		"unknown":               {`<blob/>`, "kind that is not read"},
		"animated":              {`<g><animateTransform attributeName="transform" to="3"/></g>`, "moves with time"},
		"no data":               {`<path/>`, "has no line"},
		"moveto only":           {`<path d="M10,10z"/>`, "has no line"},
		"a point":               {`<path d="M10,10 h0"/>`, "has no line"},
		"rectangle without one": {`<rect width="50"/>`, "has no line"},
		"circle without one":    {`<circle r="0"/>`, "has no line"},
		"no points":             {`<polygon points=" "/>`, "has no line"},
	} {
		t.Run(name, func(t *testing.T) {
			d, probs := Read("a.svg", onPage(`<path id="kept" `+square+`/>`+"\n"+c.body), Options{})
			assert.Equal(t, []string{"kept"}, itemIDs(d))
			assert.Empty(t, probs)
			if c.why == "" {
				assert.Empty(t, d.Skipped)
				return
			}
			require.Len(t, d.Skipped, 1)
			assert.Contains(t, d.Skipped[0].Why, c.why)
			assert.Equal(t, 3, d.Skipped[0].Place.Line)
		})
	}
}

func TestVisibleAgain(t *testing.T) {
	d, _ := Read("a.svg", onPage(`<g visibility="hidden"><path id="kept" visibility="visible" `+square+`/></g>`), Options{})
	assert.Equal(t, []string{"kept"}, itemIDs(d))
}

func TestSwitchDrawsItsFirstChild(t *testing.T) {
	d, probs := Read("a.svg", onPage(`<switch><foreignObject requiredExtensions="urn:x"/><path id="german" systemLanguage="de" `+square+`/>
<g><path id="kept" `+square+`/></g><path id="late" `+square+`/></switch>`), Options{})
	assert.Empty(t, probs)
	assert.Equal(t, []string{"kept"}, itemIDs(d))
}

func TestRefused(t *testing.T) {
	deep := strings.Repeat("<g>", 1_000_000) + strings.Repeat("</g>", 1_000_000)
	for name, c := range map[string]struct{ src, id, found, at string }{
		"empty":              {"", "drawing.file", "empty", "1:1"},
		"compressed":         {"\x1f\x8b\x08", "drawing.file", "compressed", "1:1"},
		"a picture":          {"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "drawing.file", "PNG picture", "1:1"},
		"a PDF":              {"%PDF-1.7", "drawing.file", "PDF", "1:1"},
		"not XML":            {"hello", "drawing.xml", "no element", "1:6"},
		"broken off":         {"<svg", "drawing.xml", "ends too early", "1:5"},
		"cut off":            {strings.TrimSuffix(string(onPage(`<g id="a">`+"\n<path")), "\n</svg>\n"), "drawing.xml", `ends before g "a" (line 2) is closed`, "3:6"},
		"crossed":            {string(onPage("<g>\n</a></g>")), "drawing.xml", "closed by", "3:1"},
		"another language":   {"<html><body/></html>", "drawing.xml", `"html"`, "1:1"},
		"two roots":          {string(onPage("")) + string(onPage("")), "drawing.xml", "second drawing", "4:1"},
		"attribute twice":    {string(onPage(`<path id="a" id="b"/>`)), "drawing.xml", "twice", "2:1"},
		"one of many twice":  {string(onPage(`<path a1="" a2="" a3="" a4="" a5="" a6="" a7="" a8="" a9="" a10="" a11="" a12="" a1=""/>`)), "drawing.xml", "twice", "2:1"},
		"too deep":           {string(onPage(deep)), "drawing.xml", "200 deep", "2:598"},
		"too many":           {string(onPage(strings.Repeat("<g/>", 200_001))), "drawing.xml", "200000 elements", "2:799997"},
		"unknown entity":     {string(onPage(`<path id="&x;"/>`)), "drawing.xml", "invalid character entity", "2:1"},
		"entity bomb":        {`<!DOCTYPE svg [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]>` + string(onPage("&b;")), "drawing.xml", "not plain texts", "1:1"},
		"entity of a file":   {`<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>` + string(onPage("&a;")), "drawing.xml", "not plain texts", "1:1"},
		"parameter entity":   {`<!DOCTYPE svg [<!ENTITY % a "b">]>` + string(onPage("")), "drawing.xml", "not plain texts", "1:1"},
		"long entity":        {`<!DOCTYPE svg [<!ENTITY a "` + strings.Repeat("a", 300) + `">]>` + string(onPage("")), "drawing.xml", "300 bytes", "1:1"},
		"entity everywhere":  {`<!DOCTYPE svg [<!ENTITY a "` + strings.Repeat("a", 250) + `">]>` + string(onPage(strings.Repeat("&a;", 40_000))), "drawing.xml", "too often", "1:1"},
		"transform of all":   {`<svg transform="scale(2)" width="9mm" height="9mm"/>`, "drawing.transform", "whole drawing is moved", "1:1"},
		"moved by style all": {`<svg style="zoom:2" width="9mm" height="9mm"/>`, "drawing.transform", "whole drawing is moved", "1:1"},
	} {
		t.Run(name, func(t *testing.T) {
			d, probs := Read("a.svg", []byte(c.src), Options{})
			assert.Empty(t, d.Items)
			assert.Zero(t, d.Scale)
			require.Len(t, probs, 1)
			assert.Equal(t, c.id, probs[0].ID)
			assert.Equal(t, diag.Error, probs[0].Severity)
			assert.Contains(t, probs[0].Found, c.found)
			assert.NotEmpty(t, probs[0].Expected)
			assert.Equal(t, "a.svg:"+c.at, probs[0].Place.String())
		})
	}
}

// What is wrong with one element keeps that one out, and says where.
func TestElementsThatCannotBeRead(t *testing.T) {
	for name, c := range map[string]struct{ body, id, found, at string }{
		"path data":          {`<path id="a" d="M0,0 L#"/>`, "drawing.path", `'#' (character 7)`, "3:23"},
		"huge number":        {`<path id="a" d="M0,0 L1e999,0"/>`, "drawing.path", "the number 1e999", "3:23"},
		"no number":          {`<path id="a" d="M0,0 LNaN,0"/>`, "drawing.path", "'N'", "3:23"},
		"points":             {`<polygon points="1,2 3"/>`, "drawing.path", "the end of the text", "3:23"},
		"points of a path":   {`<polygon points="1,2 L3,4"/>`, "drawing.path", "'L'", "3:22"},
		"points and more":    {`<polyline points="1,2 3,4 ;"/>`, "drawing.path", "';'", "3:27"},
		"bad transform":      {`<path transform="move(3)" ` + square + `/>`, "drawing.transform", "move with 1", "3:18"},
		"flat transform":     {`<path transform="scale(0,1)" ` + square + `/>`, "drawing.transform", "leaves nothing", "3:1"},
		"overflow":           {strings.Repeat(`<g transform="scale(1e6)">`, 60) + strings.Repeat("</g>", 60), "drawing.transform", "endless", "3:27"},
		"moved by style":     {`<path style="transform:scale(2)" ` + square + `/>`, "drawing.css", "moved by its style", "3:1"},
		"turned elsewhere":   {`<path transform="rotate(3)" transform-origin="5 5" ` + square + `/>`, "drawing.css", "transform-origin", "3:1"},
		"redrawn by style":   {`<path style="d:path('M0 0h5')" ` + square + `/>`, "drawing.css", "(d)", "3:1"},
		"far away":           {`<g transform="scale(1e6)"><path ` + square + `/></g>`, "drawing.size", "farther than 100 m", "3:27"},
		"length unit":        {`<rect width="3em" height="5"/>`, "drawing.length", `"3em"`, "3:1"},
		"length":             {`<rect width="NaN" height="5"/>`, "drawing.length", `"NaN"`, "3:1"},
		"negative size":      {`<rect width="-3" height="5"/>`, "drawing.shape", "below 0", "3:1"},
		"negative radius":    {`<circle r="-3"/>`, "drawing.shape", "below 0", "3:1"},
		"viewBox inside":     {`<svg viewBox="0 0 0 5"><rect width="5" height="5"/></svg>`, "drawing.size", "viewBox", "3:1"},
		"endless inside":     {strings.Repeat(`<svg width="1" height="1" viewBox="0 0 .0001 .0001">`, 9) + strings.Repeat("</svg>", 9), "drawing.transform", "endless", "3:105"},
		"clone of itself":    {`<g id="g"><use href="#g"/></g>`, "drawing.use", "lies in itself", "3:11"},
		"clones in a circle": {`<defs><g id="g"><use href="#h"/></g><g id="h"><use href="#g"/></g></defs><use href="#g"/>`, "drawing.use", "lies in itself", "3:47"},
	} {
		t.Run(name, func(t *testing.T) {
			d, probs := Read("a.svg", onPage(`<path id="kept" `+square+`/>`+"\n"+c.body), Options{})
			assert.Equal(t, []string{"kept"}, itemIDs(d))
			require.Len(t, probs, 1)
			assert.Equal(t, c.id, probs[0].ID)
			assert.Equal(t, diag.Error, probs[0].Severity)
			assert.Contains(t, probs[0].Found, c.found)
			assert.Equal(t, "a.svg:"+c.at, probs[0].Place.String())
		})
	}
}

func TestWarned(t *testing.T) {
	for name, c := range map[string]struct{ body, id, found string }{
		"clipped":          {`<path id="a" clip-path="url(#c)" ` + square + `/>`, "drawing.feature", "only in part, through a clip-path"},
		"masked group":     {`<g mask="url(#c)"><path id="a" ` + square + `/></g>`, "drawing.feature", "through a mask"},
		"clone of nothing": {`<path id="a" ` + square + `/><use href="#b"/>`, "drawing.use", `"#b", which is not there`},
		"clone of outside": {`<path id="a" ` + square + `/><use href="b.svg#a"/>`, "drawing.feature", "outside the file: b.svg#a"},
		"clone by address": {`<path id="a" ` + square + `/><use xlink:href="http://127.0.0.1/b.svg#a"/>`, "drawing.feature", "outside the file"},
		"sheet outside":    {`<path id="a" ` + square + `/><style>@import url("b.css");</style>`, "drawing.feature", "outside the file"},
		"sheet beside it":  {`<?xml-stylesheet href="b.css"?><path id="a" ` + square + `/>`, "drawing.feature", "outside the file"},
		"rules under ifs":  {`<style>@supports (x:y) { g{ display : none } }</style><path id="a" ` + square + `/>`, "drawing.css", "@supports (x:y)"},
		"id of two":        {`<g id="b"><path id="a" ` + square + `/></g><g id="b"/><g id="b"/>`, "drawing.id", `"b" stands twice`},
	} {
		t.Run(name, func(t *testing.T) {
			d, probs := Read("a.svg", onPage(c.body), Options{})
			assert.Equal(t, []string{"a"}, itemIDs(d))
			require.Equal(t, []string{c.id}, problemIDs(probs))
			assert.Equal(t, diag.Warning, probs[0].Severity)
			assert.Contains(t, probs[0].Found, c.found)
			assert.Equal(t, 2, probs[0].Place.Line)
		})
	}
}

// Nothing but shapes and groups is asked for an id of its own.
func TestDuplicateIDNamesBothPlaces(t *testing.T) {
	d, probs := Read("a.svg", onPage("<path id='a' "+square+"/>\n <path id='a' "+square+"/><metadata id='m'/><metadata id='m'/>"), Options{})
	assert.Equal(t, []string{"a", "a"}, itemIDs(d))
	require.Len(t, probs, 1)
	assert.Equal(t, "a.svg:3:2", probs[0].Place.String())
	require.Len(t, probs[0].Related, 1)
	assert.Equal(t, "a.svg:2:1", probs[0].Related[0].Place.String())
}

// Programs that define entities for their namespaces only are read.
func TestPlainEntities(t *testing.T) {
	src := strings.Replace(string(onPage(`<path id="a" `+square+`/>`)), `"http://www.w3.org/2000/svg"`, `"&ns;"`, 1)
	d, probs := Read("a.svg", []byte(`<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd" [ <!ENTITY ns "http://www.w3.org/2000/svg"> <!ATTLIST svg a CDATA ""> ]>`+src), Options{})
	assert.Empty(t, probs)
	assert.Equal(t, []string{"a"}, itemIDs(d))
}

// Columns count characters, not bytes, and a bad character is pointed at.
func TestPlaceOfABadCharacter(t *testing.T) {
	_, probs := Read("a.svg", onPage("<path id=\"bäd\"\n d='M0,0 10,10\n L#'/>"), Options{})
	require.Len(t, probs, 1)
	assert.Equal(t, "a.svg:4:3", probs[0].Place.String())
	_, probs = Read("a.svg", onPage("<path id=\"bäd\" d=\"x\"/>"), Options{})
	require.Len(t, probs, 1)
	assert.Equal(t, "a.svg:2:19", probs[0].Place.String())
	_, probs = Read("a.svg", onPage("<path id=\"bäd\" d=\"&#120;\"/>"), Options{})
	require.Len(t, probs, 1)
	assert.Equal(t, "a.svg:2:1", probs[0].Place.String(), "written as a reference: the element is named")
}

// Many small elements on one line cost one pass, not one pass each.
func TestOneLongLine(t *testing.T) {
	start := time.Now()
	d, _ := Read("a.svg", onPage(`<path id="a" `+square+`/>`+strings.Repeat(`<rect/>`, 100_000)), Options{})
	assert.Len(t, d.Skipped, 100_000)
	assert.Less(t, time.Since(start), 20*time.Second)
	last := d.Skipped[len(d.Skipped)-1].Place
	assert.Equal(t, "2 "+fmt.Sprint(1+len(`<path id="a" `+square+`/>`)+7*99_999), fmt.Sprint(last.Line, " ", last.Column))
}

// Clones of clones of clones multiply: they are counted as they are drawn.
func TestClonesThatMultiply(t *testing.T) {
	start := time.Now()
	var b strings.Builder
	b.WriteString(`<defs><path id="g0" ` + square + `/>`)
	for i := 1; i < 30; i++ {
		fmt.Fprintf(&b, `<g id="g%d">%s</g>`, i, strings.Repeat(fmt.Sprintf(`<use href="#g%d"/>`, i-1), 10))
	}
	d, probs := Read("a.svg", onPage(b.String()+`</defs><use href="#g29"/>`), Options{})
	assert.Empty(t, d.Items)
	require.Len(t, probs, 1)
	assert.Equal(t, "drawing.use", probs[0].ID)
	assert.Less(t, time.Since(start), 20*time.Second)
}

func TestFileTooLarge(t *testing.T) {
	_, probs := Read("a.svg", make([]byte, maxFile+1<<20), Options{})
	require.Len(t, probs, 1)
	assert.Equal(t, "the file has 65 MiB", probs[0].Found)
}
