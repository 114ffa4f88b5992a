package vector

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/diag"
)

// 1 inch = 96 px = 72 pt (CSS Values and Units 3): what was drawn at 72, 90 or 300
// to the inch and is read at 96 is 0.75, 0.9375 or 3.125 times its size.
func TestKnownLengthRecognisesDensities(t *testing.T) {
	for file, want := range map[string]string{
		"03-pt72-px.svg":      "read it with --dpi 72: everything becomes 1.3333 times as large",
		"11-90dpi-legacy.svg": "read it with --dpi 90: everything becomes 1.0667 times as large",
	} {
		d, probs := readFile(t, file, Options{Known: []KnownLength{{"outline", 210}}}) // as a tape reads it
		assert.Empty(t, d.Items, file)
		require.Equal(t, []string{"error drawing.known"}, severities(probs), file)
		assert.Equal(t, want, probs[0].Hint)
		assert.Equal(t, "outline", probs[0].Subject)
		assert.Contains(t, probs[0].Found, "known to be 210.000 mm")
	}
	for _, c := range []struct {
		attrs string
		known float64 // of 100 units
		hint  string
	}{
		{`width="400" height="400"`, 100 * 25.4 / 300, "--dpi 300: everything becomes 0.32 times"},
		{`width="400mm" height="400mm" viewBox="0 0 400 400"`, 100 * 25.4 / 72, "--dpi 72: everything becomes 0.35278 times"},
		{`width="400mm" height="400mm" viewBox="0 0 400 400"`, 100 * 25.4 / 96, "--dpi 96: everything becomes 0.26458 times"},
		{`width="400mm" height="400mm" viewBox="0 0 400 400"`, 1000, "--dpi 2.54: everything becomes 10 times"},
		{`width="400mm" height="400mm" viewBox="0 0 200 200"`, 100, "--dpi 25.4: everything becomes 0.5 times"},
		{`width="400mm" height="400mm" viewBox="0 0 400 400"`, 100 * 96.0 / 72, "--dpi 19.05: everything becomes 1.3333 times"},
		{`width="400mm" height="400mm" viewBox="0 0 400 400"`, 117, "measure again; if the drawing is at another scale, say how many units make an inch: --dpi 21.7094"},
	} {
		known := Options{Known: []KnownLength{{"a", c.known}}}
		_, probs := sized(c.attrs, known)
		require.Equal(t, []string{"error drawing.known"}, severities(probs), c.attrs)
		assert.Contains(t, probs[0].Hint, c.hint)
		assert.Contains(t, probs[0].Found, `path "a" measures`)
	}
}

// Read again with the offered option the known length is met.
func TestOfferedOptionGivesTheKnownLength(t *testing.T) {
	for _, attrs := range []string{
		`width="400" height="400"`, `width="400px" height="400px" viewBox="0 0 200 200"`, `width="400mm" height="400mm" viewBox="0 0 400 400"`,
	} {
		for _, n := range []float64{72, 90, 300} {
			d, _ := sized(attrs, Options{})
			true96 := d.Items[0].Path.Bounds().Width()
			p := page{sx: d.Scale.X}
			if d.Scale.Source == Assumed {
				p.px = 96
			}
			dpi, _, ok := p.offer(96 / n)
			require.True(t, ok)
			d, _ = sized(attrs, Options{DPI: dpi, Known: []KnownLength{{"a", true96 * 96 / n}}})
			require.Len(t, d.Items, 1)
			assert.InDelta(t, true96*96/n, d.Items[0].Path.Bounds().Width(), 1e-9)
		}
	}
}

func TestKnownLengthOfKindsOfElements(t *testing.T) {
	src := []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 300"><defs><symbol id="s"><path d="M0,0 h4 M0,0 h7"/></symbol></defs>
<path id="line" d="M0,0 h30 v40"/><rect id="box" width="20" height="50"/><path id="two" d="M0,0 h3 M0,0 h5"/>
<path data-name="by label" d="M0,0 v10"/><use id="clone" href="#s"/><g id="group"><line x2="5"/><rect x="100" width="100" height="1"/></g>
<path id="mixed" d="M0,0 h30 M0,0 h2 v2 z"/></svg>`)
	for id, units := range map[string]float64{
		"line": 70, "box": 50, "two": 5, "by label": 10, " by label ": 10, "clone": 7, "group": 200, "mixed": 30,
	} {
		d, probs := Read("a.svg", src, Options{Known: []KnownLength{{id, 140}}})
		assert.False(t, probs.HasErrors(), "%v", probs)
		assert.InDelta(t, 140/units, d.Scale.X, 1e-9, id)
		assert.Equal(t, Known, d.Scale.Source)
		assert.InDelta(t, 200*140/units, d.Width, 1e-6)
	}
}

// The first of several known lengths sets the scale, the others check it.
func TestSeveralKnownLengths(t *testing.T) {
	src := []byte(`<svg viewBox="5 5 200 300"><path id="a" d="M5,5 h10"/><path id="b" d="M5,5 h20"/></svg>`)
	d, probs := Read("a.svg", src, Options{Known: []KnownLength{{"a", 30}, {"b", 60.1}}})
	assert.Equal(t, []string{"note drawing.known", "note drawing.known"}, severities(probs))
	assert.InDelta(t, 3, d.Scale.X, 1e-12)
	assert.InDelta(t, 0, d.Items[0].Path.Start().X, 1e-9, "the page begins where its viewBox does")
	d, probs = Read("a.svg", src, Options{Known: []KnownLength{{"a", 30}, {"b", 70}}})
	assert.True(t, probs.HasErrors())
	assert.Empty(t, d.Items)
}

// An arc keeps its error of 0.0005 mm where the scale is found by measuring.
func TestArcsOfAKnownScaleAreAsFine(t *testing.T) {
	src := []byte(`<svg viewBox="0 0 2 2"><circle id="c" cx="1" cy="1" r="1"/></svg>`)
	d, _ := Read("a.svg", src, Options{Known: []KnownLength{{"c", 2000}}})
	require.Len(t, d.Items, 1)
	assert.LessOrEqual(t, worstOfCircle(d.Items[0].Path, 1000, 1000, 1000), arcError)
	assert.Greater(t, len(d.Items[0].Path), 8)
}

func TestKnownLengthRefused(t *testing.T) {
	for name, c := range map[string]struct {
		known KnownLength
		found string
	}{
		"no such id":  {KnownLength{"x", 10}, `no line has the id or label "x"`},
		"two of them": {KnownLength{"twin", 10}, `several elements are called "twin"`},
		"no length":   {KnownLength{"a", 0}, "0 mm"},
		"below 0":     {KnownLength{"a", -5}, "-5 mm"},
		"no name":     {KnownLength{" ", 10}, `""`},
		"endless":     {KnownLength{"a", 1e9}, "1e+09 mm"},
		"hidden":      {KnownLength{"hid", 10}, "no line has"},
		"tiny":        {KnownLength{"a", 1e-7}, "that one would be"},
	} {
		t.Run(name, func(t *testing.T) {
			src := []byte(`<svg viewBox="0 0 200 300"><path id="a" d="M0,0 h10"/><path data-name="twin" d="M0,0 h10"/><path data-name="twin" d="M0,0 h10"/><path id="hid" display="none" d="M0,0 h10"/></svg>`)
			d, probs := Read("a.svg", src, Options{Known: []KnownLength{c.known}})
			assert.Empty(t, d.Items)
			errs := probs.Only(diag.Error)
			require.Len(t, errs, 1)
			assert.Equal(t, "drawing.known", errs[0].ID)
			assert.Contains(t, errs[0].Found, c.found)
		})
	}
	_, probs := Read("a.svg", []byte(`<svg viewBox="0 0 2 3"><path id="b" d="M0,0 h1"/></svg>`), Options{Known: []KnownLength{{"a", 5}}})
	assert.Equal(t, "lines that have one: b", probs[0].Hint)
}
