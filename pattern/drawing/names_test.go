package drawing

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
)

func TestPieceNames(t *testing.T) {
	for label, want := range map[string]string{
		"Front panel":             "front-panel",
		"  Front -- panel (2) ":   "front-panel-2",
		"Rückenteil":              "ruckenteil",
		"Dos gauche, élargi":      "dos-gauche-elargi",
		"path18":                  "path18",
		"2 Back":                  "piece-2-back",
		"none":                    "piece-none",
		"CON":                     "piece-con",
		"Перед":                   "",
		"***":                     "",
		"":                        "",
		strings.Repeat("ab ", 40): strings.TrimSuffix(strings.Repeat("ab-", 22)[:64], "-"),
	} {
		got := pieceName(label)
		assert.Equal(t, want, got, label)
		if got != "" {
			assert.Empty(t, pattern.NameFault(got), label)
		}
	}
}

func TestWhereNamesComeFrom(t *testing.T) {
	const a, b = `d="M100,100 h50 v80 h-50 z"`, `d="M200,100 h50 v80 h-50 z"`
	layer := func(label, body string) string {
		return `<g inkscape:groupmode="layer" inkscape:label="` + label + `">` + body + `</g>`
	}
	for name, c := range map[string]struct {
		body string
		want []string
		said []string
	}{
		"the layer of one path":       {layer("Front panel", `<path id="path1" inkscape:label="outline" `+a+`/>`), []string{"front-panel"}, nil},
		"the layer round a group":     {layer("Front panel", `<g id="g4"><path id="path1" `+a+`/></g>`), []string{"front-panel"}, nil},
		"the nearest layer":           {layer("Sheet", layer("Front", `<path `+a+`/>`)), []string{"front"}, nil},
		"a layer without own name":    {layer("Layer 1", `<path id="path1" inkscape:label="Side back" `+a+`/>`), []string{"side-back"}, nil},
		"a layer in another alphabet": {layer("Перед", `<path id="front" `+a+`/>`), []string{"front"}, nil},
		"labels in a layer of two":    {layer("Pieces", `<path inkscape:label="Front" `+a+`/><path id="back" `+b+`/>`), []string{"front", "back"}, nil},
		"numbers in a layer of two":   {layer("Pieces", `<path id="path1" `+a+`/><path id="path2" `+b+`/>`), []string{"pieces", "pieces-2"}, []string{"drawing.name"}},
		"no layer":                    {`<path id="x" inkscape:label="Front" ` + a + `/><path id="back" ` + b + `/>`, []string{"front", "back"}, nil},
		"made-up ids":                 {`<path id="path18" ` + a + `/>`, []string{"path18"}, nil},
		"nothing":                     {`<path ` + a + `/><path ` + b + `/>`, []string{"piece", "piece-2"}, []string{"drawing.name"}},
		"the same twice":              {`<path inkscape:label="Front" ` + a + `/><path inkscape:label="front!" ` + b + `/>`, []string{"front", "front-2"}, []string{"drawing.claim"}},
	} {
		t.Run(name, func(t *testing.T) {
			r, probs := Read("a.svg", page(c.body), Options{})
			assert.Equal(t, c.want, names(r))
			assert.ElementsMatch(t, c.said, ids(probs))
			for _, p := range r.Pieces {
				assert.Equal(t, p.Name, p.Place.Piece)
			}
		})
	}
}

// Titles go into files and pictures: no control and no direction characters.
func TestTitles(t *testing.T) {
	r, _ := Read("a.svg", page("<path inkscape:label=\"Front\u202e &#9;panel&#x200f; \u0085&quot;x&quot;\" "+square+"/>"), Options{})
	require.Len(t, r.Pieces, 1)
	assert.Equal(t, `Front  panel "x"`, r.Pieces[0].Title)
	r, _ = Read("a.svg", page(`<path inkscape:label="`+strings.Repeat("ä", 1000)+`" `+square+`/>`), Options{})
	require.Len(t, r.Pieces, 1)
	assert.Len(t, []rune(r.Pieces[0].Title), 200)
}
