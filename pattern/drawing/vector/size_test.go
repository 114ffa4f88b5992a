package vector

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/diag"
)

// The drawing of the sample set has a true outline of 100.000 x 210.125 mm and a
// notch of 6 mm by the set's own statement; Chromium and a drawing program read
// its files in true or assumed units alike. The outline of 08 is written with two
// decimals (210.13), its polygon with three. A name "01-..." is the first file as a
// drawing program saved it again, moved its layer, and mirrored it.
func TestTrueSize(t *testing.T) {
	known := Options{Known: []KnownLength{{ID: "outline", Length: 210.125}}}
	for _, c := range []struct {
		file, id string
		o        Options
		source   ScaleSource
		problems []string
	}{
		{"01-mm-viewbox-layers.svg", "outline", Options{}, Sized, nil},
		{"01-resaved.svg", "outline", Options{}, Sized, nil},
		{"01-layer-moved.svg", "outline", Options{}, Sized, nil},
		{"01-flipped.svg", "outline", known, Sized, []string{"note drawing.known"}},
		{"02-px96.svg", "outline", Options{}, Assumed, []string{"warning drawing.size"}},
		{"02-px96.svg", "outline", known, Assumed, []string{"note drawing.known"}},
		{"03-pt72-px.svg", "outline", Options{DPI: 72}, Dpi, nil},
		{"04-pt-units.svg", "outline", Options{}, Sized, nil},
		{"05-mm-no-viewbox.svg", "outline", Options{}, Sized, []string{"note drawing.size"}},
		{"05-mm-no-viewbox.svg", "outline-box", Options{}, Sized, []string{"note drawing.size"}},
		{"06-viewbox-only.svg", "outline", known, Known, []string{"note drawing.known"}},
		{"06-viewbox-only.svg", "outline", Options{DPI: 25.4}, Dpi, nil},
		{"07-yup-nested.svg", "outline", Options{}, Sized, nil},
		{"08-css-use-symbol.svg", "straight", Options{}, Sized, nil},
		{"09-aspect-mismatch.svg", "outline", known, Known, []string{"note drawing.known"}},
		{"09-aspect-mismatch.svg", "outline", Options{DPI: 25.4}, Dpi, nil},
		{"10-compact-path.svg", "outline", Options{}, Sized, nil},
		{"11-90dpi-legacy.svg", "outline", Options{DPI: 90}, Dpi, nil},
		{"12-percent-300dpi.svg", "outline", Options{DPI: 300}, Dpi, nil},
		{"12-percent-300dpi.svg", "outline", known, Known, []string{"note drawing.known"}},
	} {
		t.Run(fmt.Sprint(c.file, " ", c.id, " ", c.source), func(t *testing.T) {
			d, probs := readFile(t, c.file, c.o)
			assert.Equal(t, c.source, d.Scale.Source)
			assert.Equal(t, c.problems, severities(probs))
			box := d.item(t, c.id).Path.Bounds()
			assert.InDelta(t, 100.000, box.Width(), 0.001)
			assert.InDelta(t, 210.125, box.Height(), 0.001)
			if c.file != "12-percent-300dpi.svg" { // which has none
				assert.InDelta(t, 6, d.item(t, "notch").Path.Length(1e-9), 0.001)
			}
		})
	}
}

func severities(probs diag.List) []string {
	var out []string
	for _, p := range probs {
		out = append(out, p.Severity.String()+" "+p.ID)
	}
	return out
}

// What nobody can know is refused, with the way out.
func TestRefusedSamples(t *testing.T) {
	for name, c := range map[string]struct{ found, hint string }{
		"06-viewbox-only.svg":    {"the page's width is not given", "200.0 at 25.4"},
		"09-aspect-mismatch.svg": {"200 x 200 mm, but its viewBox is 200 x 300", "--dpi 25.4 as the width has it, --dpi 38.1"},
		"12-percent-300dpi.svg":  {`"100%" of a window`, "200.0 at 300"},
	} {
		t.Run(name, func(t *testing.T) {
			d, probs := readFile(t, name, Options{})
			assert.Empty(t, d.Items)
			assert.Zero(t, d.Scale)
			require.Equal(t, []string{"error drawing.size"}, severities(probs))
			assert.Contains(t, probs[0].Found, c.found)
			assert.Contains(t, probs[0].Hint, "--known ID=100mm")
			assert.Contains(t, probs[0].Hint, "--dpi")
			assert.Contains(t, probs[0].Hint, c.hint)
			assert.Equal(t, name+":1:1", probs[0].Place.String())
		})
	}
}

// A page in px shows its size at the usual densities, so that the true one (200
// mm wide) can be recognised.
func TestPxPageShowsGuesses(t *testing.T) {
	for name, want := range map[string]string{
		"02-px96.svg": "would be 200.0 mm at --dpi 96", "03-pt72-px.svg": "200.0 at 72", "11-90dpi-legacy.svg": "took 90 px to the inch: --dpi 90",
	} {
		_, probs := readFile(t, name, Options{})
		require.Equal(t, []string{"warning drawing.size"}, severities(probs))
		assert.Contains(t, probs[0].Hint, want, name)
		assert.Contains(t, probs[0].Hint, "--known", name)
	}
}

func sized(attrs string, o Options) (*Drawing, diag.List) {
	src := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" %s><path id="a" d="M10,10 h100 v100 h-100 z"/></svg>`, attrs)
	return Read("a.svg", []byte(src), o)
}

// Units as CSS Values and Units 3 defines them, sheets as ISO 216 and the inch
// define them: A4 is 595.2755906 x 841.8897638 pt, Letter 8.5 x 11 in.
func TestUnits(t *testing.T) {
	for attrs, want := range map[string]float64{
		`width="210mm" height="297mm" viewBox="0 0 210 297"`:                              100,
		`width="21cm" height="29.7cm" viewBox="0 0 210 297"`:                              100,
		`width="840Q" height="1188q" viewBox="0 0 210 297"`:                               100,
		`width="8.5in" height="11IN" viewBox="0 0 215.9 279.4"`:                           100,
		`width="51pc" height="66pc" viewBox="0 0 215.9 279.4"`:                            100,
		`width="595.2755906pt" height="841.8897638pt" viewBox="0 0 210 297"`:              100,
		`width="210mm" height="297mm" viewBox="0 0 793.7007874 1122.519685"`:              100 * 25.4 / 96,
		`width="210mm" height="297mm" viewBox="0 0 595.2755906 841.8897638"`:              100 * 25.4 / 72,
		`width=" 2.1e2mm " height="297mm" viewBox=" -5,-5 , 210 297 "`:                    100,
		`width="200mm" height="200mm" viewBox="0 0 100 100" style="background:#fff"`:      200,
		`width="9mm" height="9mm" viewBox="0 0 100 100" style="width:200mm;height:200mm"`: 200,
	} {
		d, probs := sized(attrs, Options{})
		assert.Empty(t, probs, attrs)
		require.Len(t, d.Items, 1, attrs)
		assert.Equal(t, Sized, d.Scale.Source)
		assert.InDelta(t, want/100, d.Scale.X, 1e-5, attrs)
		assert.InDelta(t, want, d.Items[0].Path.Bounds().Width(), 0.001, attrs)
		assert.InDelta(t, want, d.Items[0].Path.Bounds().Height(), 0.001, attrs)
	}
}

// A viewBox rounded to a few digits is followed as SVG says: the smaller scale
// for both (meet), unless the file asks otherwise. From 0.5 % on nobody knows.
func TestRoundedViewBox(t *testing.T) {
	for _, c := range []struct {
		attrs         string
		width, height float64
		said          []string
	}{
		{`viewBox="0 0 100 100.005"`, 199.990, 199.990, nil},
		{`viewBox="0 0 100 100.005" preserveAspectRatio="none"`, 200, 199.990, nil},
		{`viewBox="0 0 100 100.005" preserveAspectRatio="xMinYMin slice"`, 200, 200, nil},
		{`viewBox="0 0 100 100.4"`, 199.203, 199.203, []string{"warning drawing.size"}},
		{`viewBox="0 0 100 50" preserveAspectRatio="none"`, 200, 400, []string{"warning drawing.size"}},
		{`viewBox="0 0 100 100.6"`, 0, 0, []string{"error drawing.size"}},
		{`viewBox="0 0 100 50" preserveAspectRatio="xMinYMin slice"`, 0, 0, []string{"error drawing.size"}},
	} {
		d, probs := sized(`width="200mm" height="200mm" `+c.attrs, Options{})
		assert.Equal(t, c.said, severities(probs), c.attrs)
		if c.width > 0 {
			require.Len(t, d.Items, 1, c.attrs)
			assert.InDelta(t, c.width, d.Items[0].Path.Bounds().Width(), 0.001, c.attrs)
			assert.InDelta(t, c.height, d.Items[0].Path.Bounds().Height(), 0.001, c.attrs)
		}
	}
}

func TestUnknownSize(t *testing.T) {
	for _, attrs := range []string{
		``,
		`width="200mm" viewBox="0 0 200 300"`,
		`width="200mm" height="100%" viewBox="0 0 200 300"`,
		`width="20em" height="30em" viewBox="0 0 200 300"`,
		`width="200 mm" height="300mm" viewBox="0 0 200 300"`,
		`width="mm" height="300mm" viewBox="0 0 200 300"`,
		`width="auto" height="auto" viewBox="0 0 200 300"`,
		`width="-200mm" height="300mm" viewBox="0 0 200 300"`,
		`width="0mm" height="0mm" viewBox="0 0 200 300"`,
		`width="NaNmm" height="300mm" viewBox="0 0 200 300"`,
		`width="1e5in" height="1e5in" viewBox="0 0 200 200"`,
		`width="200mm" height="300mm" viewBox="0 0 200"`,
		`width="200mm" height="300mm" viewBox="0 0 200 300 5"`,
		`width="200mm" height="300mm" viewBox="0 0 0 0"`,
		`width="200mm" height="300mm" viewBox="0 0 -200 -300"`,
		`width="200mm" height="300mm" viewBox="0 0 200 301.6"`,
		`width="200mm" height="300mm" viewBox="0 0 200 300" style="width:100%"`,
		`width="200mm" height="300mm" viewBox="0 0 .0000001 .0000001"`,
	} {
		d, probs := sized(attrs, Options{})
		assert.Empty(t, d.Items, attrs)
		assert.Zero(t, d.Scale, attrs)
		assert.Equal(t, []string{"error drawing.size"}, severities(probs), attrs)
	}
}

// px or bare numbers on one side only are assumed as well; 96 px are an inch.
func TestAssumed(t *testing.T) {
	for _, attrs := range []string{
		`width="200px" height="300"`, `width="200" height="300" viewBox="0 0 200 300"`, `width="25.4mm" height="96" viewBox="0 0 96 96"`,
		`width="25.4mm" height="96px"`,
	} {
		d, probs := sized(attrs, Options{})
		assert.Equal(t, []string{"warning drawing.size"}, severities(probs), attrs)
		assert.Equal(t, Assumed, d.Scale.Source, attrs)
		assert.InDelta(t, 25.4/96, d.Scale.X, 1e-15, attrs)
		assert.InDelta(t, 25.4/96, d.Scale.Y, 1e-15, attrs)
	}
}

// --dpi is for px where the page is given in px, else for the drawing's units.
func TestDPI(t *testing.T) {
	for attrs, want := range map[string]Scale{
		`width="200px" height="300px"`:                       {25.4 / 72, 25.4 / 72, Dpi},
		`width="400px" height="600px" viewBox="0 0 200 300"`: {50.8 / 72, 50.8 / 72, Dpi},
		`width="400px" height="400px" viewBox="0 0 200 300"`: {25.4 / 72, 25.4 / 72, Dpi},
		`width="400mm" height="400mm" viewBox="0 0 200 300"`: {25.4 / 72, 25.4 / 72, Dpi},
		`width="200mm" height="300mm"`:                       {25.4 / 72, 25.4 / 72, Dpi},
		`width="100%" height="100%" viewBox="0 0 200 300"`:   {25.4 / 72, 25.4 / 72, Dpi},
		``: {25.4 / 72, 25.4 / 72, Dpi},
	} {
		d, probs := sized(attrs, Options{DPI: 72})
		assert.False(t, probs.HasErrors(), attrs)
		assert.InDelta(t, want.X, d.Scale.X, 1e-12, attrs)
		assert.Equal(t, want.Source, d.Scale.Source, attrs)
		require.Len(t, d.Items, 1)
		assert.InDelta(t, 100*want.X, d.Items[0].Path.Bounds().Width(), 1e-9, attrs)
	}
	for _, dpi := range []float64{-72, 1e9} {
		_, probs := sized(`width="200px" height="300px"`, Options{DPI: dpi})
		assert.Equal(t, []string{"error drawing.dpi"}, severities(probs))
	}
}
