package vector

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/diag"
)

// What hides by CSS 2.1, chapters 4 to 6, and Selectors 3: each body holds lines
// called kept, which are seen, and others, which are not.
func TestStyleSheetsHide(t *testing.T) {
	kept, gone := `<path id="kept" class="k" `+square+`/>`, func(attrs string) string { return `<path id="gone" ` + attrs + ` ` + square + `/>` }
	for sheet, attrs := range map[string]string{
		`.a{display:none}`:                                              `class="a"`,
		`.a { DISPLAY : None ; fill:red }`:                              `class="x a  y"`,
		`#gone{display:none}`:                                           ``,
		`path.a.b{display:none}`:                                        `class="b a"`,
		`path.a,.zz,#q{display:none}`:                                   `class="a"`,
		`*.a{visibility:hidden}`:                                        `class="a"`,
		`.a{visibility:collapse}`:                                       `class="a"`,
		`g .a{display:none}`:                                            `class="a"`,
		`svg>g > .a{display:none}`:                                      `class="a"`,
		`:root g .a{display:none}`:                                      `class="a"`,
		`svg g g .a{display:none} g g .k{display:none}`:                 `class="" style="display:none"`,
		`.b .a{display:none} .c>.k{display:none}`:                       `style="display:none" class="a"`,
		`/* .k{display:none} */ .a{dis/**/play:x} .a{display/**/:none}`: `class="a"`,
		`<!-- .a{display:none} -->`:                                     `class="a"`,
		`@charset "utf-8"; @font-face{src:url(a);d:b} .a{display:none}`: `class="a"`,
		`@media screen{.a{display:none}}`:                               `class="a"`,
		`@media all { @media screen { .a{display:none} } } @media print { .k{display:none} }`: `class="a"`,
		`.a{content:"}";display:none} .k::b{content:"{"}`:                                     `class="a"`,
		`.\61 1{display:none} .k:hover{display:none}`:                                         `class="a1"`,
		`.a{d\69splay:none}`: `class="a"`,
		`.ä{display:none}`:   `class="ä"`,
		// the weightier, then the later, then the style attribute; important above
		`#gone{display:none} path.a{display:inline}`:                 `class="a"`,
		`.a{display:inline} .b{display:none}`:                        `class="b a"`,
		`path{display:inline} .a{display:none} path{display:inline}`: `class="a"`,
		`.a{display:none!important} #gone{display:inline}`:           `class="a" style="display:inline"`,
		`.a{display:none ! important}`:                               `class="a" style="display:inline"`,
		`.a{display:inline}`:                                         `class="a" style="display:none"`,
		`.k{display:inline}`:                                         `display="none"`,
		`.a{display:inline!important}`:                               `class="a" style="display:none!important"`,
	} {
		d, probs := Read("a.svg", onPage(`<defs><style type="text/css"><![CDATA[`+sheet+`]]></style></defs><g>`+kept+gone(attrs)+`</g>`), Options{})
		assert.Empty(t, probs, sheet)
		assert.Equal(t, []string{"kept"}, itemIDs(d), sheet)
		assert.Len(t, d.Skipped, 1, sheet)
	}
}

func TestStyleSheetsShow(t *testing.T) {
	for sheet, attrs := range map[string]string{
		`.a{display:inline}`: `class="a" display="none"`,
		`.A{display:none} PATH{display:none} #Kept{display:none}`:     `class="a"`,
		`.ab{display:none} .a.b{display:none}`:                        `class="a"`,
		`g>path{display:none} g path{display:none}`:                   ``,
		`path#other{display:none} #kept#other{display:none}`:          ``,
		`path:hover{display:none} .a:focus,path:active{display:none}`: `class="a"`,
		`.a{display:none} .a{display:inline}`:                         `class="a"`,
		`[id="kept"]{fill:none} path:nth-child(1){stroke:red}`:        ``,
		`.a{displayed:none}`:                                          `class="a"`,
		`.a{display:none`:                                             `class="b"`,
		`.a`:                                                          `class="a"`,
		`}{`:                                                          `class="a"`,
	} {
		d, probs := Read("a.svg", onPage(`<style>`+strings.ReplaceAll(sheet, ">", "&gt;")+`</style><path id="kept" `+attrs+` `+square+`/>`), Options{})
		assert.Empty(t, probs, sheet)
		assert.Equal(t, []string{"kept"}, itemIDs(d), sheet)
	}
	for _, other := range []string{`media="print"`, `type="text/less"`} {
		d, _ := Read("a.svg", onPage(`<style `+other+`>path{display:none}</style><path id="kept" `+square+`/>`), Options{})
		assert.Equal(t, []string{"kept"}, itemIDs(d), other)
	}
}

// A rule that is not followed, but would hide or move something, is refused.
func TestStyleSheetsRefused(t *testing.T) {
	for _, sheet := range []string{
		`[id="a"]{display:none}`, `path:nth-child(2){visibility:hidden}`, `g+path{transform:scale(2)}`, `g~path{display:none}`,
		`path:not(.b){display:none}`, `g{path{display:none}}`, `g{&amp; .a{fill:red;display:none}}`,
		`a b c d e f g h i j k l m n o p q{display:none}`,
	} {
		d, probs := Read("a.svg", onPage("\n <style>"+sheet+`</style><path id="a" `+square+`/>`), Options{})
		assert.Empty(t, d.Items, sheet)
		require.Equal(t, []string{"error drawing.css"}, severities(probs), sheet)
		assert.Equal(t, "a.svg:3:2", probs[0].Place.String())
	}
}

// A rule that moves elements is refused for those that it is for.
func TestStyleSheetsThatMove(t *testing.T) {
	d, probs := Read("a.svg", onPage(`<style>.a{transform:scale(2)} .b{transform:none;d:none}</style><path id="kept" `+square+`/>`+"\n"+`<path class="a" `+square+`/><path id="still" class="b" transform="scale(9)" `+square+`/>`), Options{})
	assert.Equal(t, []string{"kept", "still"}, itemIDs(d))
	assert.InDelta(t, 50, d.Items[1].Path.Bounds().Width(), 1e-9, "none stands above the attribute")
	require.Equal(t, []string{"error drawing.css"}, severities(probs))
	assert.Equal(t, 3, probs[0].Place.Line)
}

// A page sized by its style sheet has that size (CSS stands above attributes).
func TestStyleSheetSizesThePage(t *testing.T) {
	src := func(sheet string) []byte {
		return []byte(`<svg width="9mm" height="9mm" viewBox="0 0 100 100"><style>` + sheet + `</style><path id="a" d="M0,0 h10"/></svg>`)
	}
	d, probs := Read("a.svg", src(`svg{width:200mm;height:20cm}`), Options{})
	assert.Empty(t, probs)
	assert.Equal(t, 2.0, d.Scale.X)
	_, probs = Read("a.svg", src(`svg{width:100%}`), Options{})
	assert.Equal(t, []string{"error drawing.size"}, severities(probs))
}

func TestDashed(t *testing.T) {
	for body, want := range map[string]bool{
		`<path ` + square + `/>`:                                                false,
		`<path stroke-dasharray="2,1" ` + square + `/>`:                         true,
		`<path stroke-dasharray=" 0 , 3mm" ` + square + `/>`:                    true,
		`<path style="stroke-dasharray:1, 2" ` + square + `/>`:                  true,
		`<path class="dash" ` + square + `/>`:                                   true,
		`<g class="dash"><path ` + square + `/></g>`:                            true,
		`<g class="dash"><path stroke-dasharray="none" ` + square + `/></g>`:    false,
		`<g class="dash"><path stroke-dasharray="inherit" ` + square + `/></g>`: true,
		`<path stroke-dasharray="0 0" ` + square + `/>`:                         false,
		`<path stroke-dasharray="0px,0%" ` + square + `/>`:                      false,
		`<path stroke-dasharray="-1 2" ` + square + `/>`:                        false,
		`<path stroke-dasharray="x" ` + square + `/>`:                           false,
		`<path class="dash" style="stroke-dasharray:none" ` + square + `/>`:     false,
	} {
		assert.Equal(t, want, one(t, `<style>.dash{stroke-dasharray:4 2}</style>`+body).Dashed, body)
	}
}

// Sheets made to harm end soon.
func TestStyleSheetsAreBounded(t *testing.T) {
	for name, body := range map[string]string{
		"rules":       `<style>` + strings.Repeat(`.a{display:none}`, maxRules+1) + `</style>`,
		"many to all": `<style>` + strings.Repeat(`path{r:1}`, 15_000) + `</style>` + strings.Repeat(`<path/>`, 100_000),
	} {
		start := time.Now()
		_, probs := Read("a.svg", onPage(body), Options{})
		require.Equal(t, []string{"error drawing.css"}, severities(probs), name)
		assert.Less(t, time.Since(start), 30*time.Second, name)
	}
	start := time.Now()
	deep := `<style>` + strings.Repeat(`g g g g g g g g g g g g g g>path{display:inline}`, 100) + `</style>` + strings.Repeat("<g>", 190) +
		strings.Repeat("<path "+square+"/>", 1000) + strings.Repeat("</g>", 190)
	d, probs := Read("a.svg", onPage(deep), Options{})
	assert.Empty(t, probs)
	assert.Len(t, d.Items, 1000)
	assert.Less(t, time.Since(start), 30*time.Second)
	_, probs = Read("a.svg", onPage("<style>"+strings.Repeat("<!---->a", 200_000)+"</style>"), Options{})
	assert.Empty(t, probs)
	_, probs = Read("a.svg", onPage("<style>"+strings.Repeat("@media screen{", 100_000)+"</style>"), Options{})
	assert.Empty(t, probs.Only(diag.Error))
}

// A rule names things where its class stands on them: their class is kept.
func TestClassIsKept(t *testing.T) {
	assert.Equal(t, "cutting a", one(t, fmt.Sprintf(`<path class="cutting a" %s/>`, square)).Class)
}
