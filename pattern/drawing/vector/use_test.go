package vector

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
)

// SVG 2, section 5.5: a clone is its target moved by x and y, within the
// transform of the use; a symbol is fitted into width and height.
func TestClones(t *testing.T) {
	const defs = `<defs><path id="p" inkscape:label="P" d="M0,0 h10 v20"/><g id="g" transform="scale(2)"><path id="in" d="M0,0 h10 v20"/><path d="M0,0 h10 v20"/></g>
<symbol id="s" viewBox="0 0 10 20"><path d="M0,0 h10 v20"/></symbol><symbol id="plain"><path d="M0,0 h10 v20"/></symbol>
<svg id="v" width="100" height="100" viewBox="0 0 10 20" preserveAspectRatio="none"><path d="M0,0 h10 v20"/></svg></defs>`
	for use, want := range map[string]curve.Box{
		`<use id="u" href="#p" x="5" y="6"/>`:                  {Min: curve.Pt(5, 6), Max: curve.Pt(15, 26)},
		`<use id="u" xlink:href="#p"/>`:                        {Max: curve.Pt(10, 20)},
		`<use id="u" href=" #p " x="5" transform="scale(2)"/>`: {Min: curve.Pt(10, 0), Max: curve.Pt(30, 40)},
		`<use id="u" href="#g" x="1in"/>`:                      {Min: curve.Pt(96, 0), Max: curve.Pt(116, 40)},
		`<use id="u" href="#s" x="3" width="10" height="20"/>`: {Min: curve.Pt(3, 0), Max: curve.Pt(13, 20)},
		`<use id="u" href="#s" width="100" height="20"/>`:      {Min: curve.Pt(45, 0), Max: curve.Pt(55, 20)},
		`<use id="u" href="#s"/>`:                              {Min: curve.Pt(100, 0), Max: curve.Pt(300, 400)},
		`<use id="u" href="#plain" width="1" height="1"/>`:     {Max: curve.Pt(10, 20)},
		`<use id="u" href="#v"/>`:                              {Max: curve.Pt(100, 100)},
		`<use id="u" href="#v" width="50%"/>`:                  {Max: curve.Pt(200, 100)},
		`<g display="inline"><use id="u" href="#u2" y="1"/></g><defs><use id="u2" href="#p" y="2"/></defs>`: {Min: curve.Pt(0, 3), Max: curve.Pt(10, 23)},
	} {
		d, probs := Read("a.svg", onPage(defs+"\n"+use), Options{})
		assert.Empty(t, probs, use)
		require.NotEmpty(t, d.Items, use)
		for _, it := range d.Items {
			box := it.Path.Bounds()
			assert.InDelta(t, 0, box.Min.Dist(want.Min), 1e-9, "%s %v", use, box)
			assert.InDelta(t, 0, box.Max.Dist(want.Max), 1e-9, "%s %v", use, box)
			assert.True(t, it.Clone)
			assert.Equal(t, 5, it.Place.Line, "where the clone stands")
		}
	}
}

func TestNamesOfClones(t *testing.T) {
	d, _ := Read("a.svg", onPage(`<path id="p" inkscape:label="P" `+square+`/><g id="g" inkscape:label="G"><path id="in" `+square+`/><path `+square+`/></g>
<use id="u" href="#p"/><use id="v" inkscape:label="V" seamkeep:line="grain" href="#p"/><use href="#p"/><use id="w" href="#g"/>`), Options{})
	require.Len(t, d.Items, 8)
	var names []string
	for _, it := range d.Items[3:] {
		names = append(names, it.ID+" "+it.Label)
	}
	assert.Equal(t, []string{"u P", "v V", " P", "in ", "w "}, names)
	assert.Equal(t, map[string]string{"line": "grain"}, d.Items[4].Own)
	assert.Equal(t, []Layer{{ID: "w", Group: true}, {ID: "g", Label: "G", Group: true}}, d.Items[6].Layers)
	assert.False(t, d.Items[0].Clone)
}

// What is hidden where it stands is seen as a clone; what hides itself is not
// (SVG 2, section 5.5.2: the clone inherits from the use).
func TestHiddenClones(t *testing.T) {
	d, _ := Read("a.svg", onPage(`<g display="none"><path id="p" `+square+`/></g><path id="q" display="none" `+square+`/>
<use id="seen" href="#p"/><use id="gone" href="#q"/><use id="hid" display="none" href="#p"/><g visibility="hidden"><use href="#p"/></g>
<g stroke-dasharray="3"><use id="dashed" href="#p"/></g>`), Options{})
	assert.Equal(t, []string{"seen", "dashed"}, itemIDs(d))
	assert.False(t, d.Items[0].Dashed)
	assert.True(t, d.Items[1].Dashed)
	assert.Len(t, d.Skipped, 5)
}

// preserveAspectRatio (SVG 2, section 8.6) worked out by hand: a picture of
// 100 x 50 in a viewport of 200 x 200 is drawn twice as large (meet) or four times
// (slice), and the rest of the room is shared.
func TestPreserveAspectRatio(t *testing.T) {
	for ratio, want := range map[string]curve.Box{
		``:               {Min: curve.Pt(10, 70), Max: curve.Pt(210, 170)},
		`xMidYMid meet`:  {Min: curve.Pt(10, 70), Max: curve.Pt(210, 170)},
		`xMinYMin`:       {Min: curve.Pt(10, 20), Max: curve.Pt(210, 120)},
		`xMaxYMax`:       {Min: curve.Pt(10, 120), Max: curve.Pt(210, 220)},
		`none`:           {Min: curve.Pt(10, 20), Max: curve.Pt(210, 220)},
		`none slice`:     {Min: curve.Pt(10, 20), Max: curve.Pt(210, 220)},
		`xMinYMin slice`: {Min: curve.Pt(10, 20), Max: curve.Pt(410, 220)},
		`xMidYMax slice`: {Min: curve.Pt(-90, 20), Max: curve.Pt(310, 220)},
		`xMaxYMid slice`: {Min: curve.Pt(-190, 20), Max: curve.Pt(210, 220)},
		`defer xMinYMin`: {Min: curve.Pt(10, 20), Max: curve.Pt(210, 120)},
	} {
		it := one(t, `<svg x="10" y="20" width="200" height="200" viewBox="-7 -8 100 50" preserveAspectRatio="`+ratio+`"><rect x="-7" y="-8" width="100%" height="100%"/></svg>`)
		box := it.Path.Bounds()
		assert.InDelta(t, 0, box.Min.Dist(want.Min)+box.Max.Dist(want.Max), 1e-9, "%s: %v", ratio, box)
	}
}

func TestNestedDrawingWithoutRoom(t *testing.T) {
	d, probs := Read("a.svg", onPage(`<svg width="0" viewBox="0 0 5 5"><path `+square+`/></svg><svg id="n" width="5" height="5"><rect id="r" width="50%" height="9"/></svg>`), Options{})
	assert.Empty(t, probs)
	require.Equal(t, []string{"r"}, itemIDs(d))
	assert.InDelta(t, 2.5, d.Items[0].Path.Bounds().Width(), 1e-12)
	assert.Equal(t, []Layer{{ID: "n", Group: true}}, d.Items[0].Layers)
}
