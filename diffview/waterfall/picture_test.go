package waterfall

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/svg/browser"
)

func drawn(t *testing.T, d Data, o Options) string {
	var b bytes.Buffer
	require.NoError(t, Picture(&b, d, o))
	return b.String()
}

// words gives the texts of a picture, and the smallest letters and the size of the
// sheet in mm; it fails on what is not well-formed.
func words(t *testing.T, picture string) (texts []string, smallest, width, height float64) {
	smallest = 1000
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSuffix(s, "mm"), 64)
		require.NoError(t, err)
		return v
	}
	in := ""
	for d := xml.NewDecoder(strings.NewReader(picture)); ; {
		token, err := d.Token()
		if err == io.EOF {
			return
		}
		require.NoError(t, err)
		switch e := token.(type) {
		case xml.StartElement:
			in = e.Name.Local
			for _, a := range e.Attr {
				switch {
				case in == "svg" && a.Name.Local == "width":
					width = number(a.Value)
				case in == "svg" && a.Name.Local == "height":
					height = number(a.Value)
				case a.Name.Local == "font-size":
					smallest = min(smallest, number(a.Value))
				}
			}
		case xml.CharData:
			if in == "text" {
				texts = append(texts, string(e))
			}
			in = ""
		}
	}
}

// manyVersions are more than a picture shows, with long and hostile names.
func manyVersions(n int) []Version {
	var list []Version
	for i := range n {
		v := Version{Note: fmt.Sprintf("note-%d", i), Subject: "<b> & \x1b[31m\u202e", Short: "abc1234", Garment: laced(300 + float64(i*37%90))}
		switch i % 7 {
		case 2:
			v.Note = strings.Repeat("w", pattern.MaxName)
		case 4:
			v.Note = ""
		case 6:
			v.Garment = laced(300 + float64((i-1)*37%90))
		}
		v.Garment.Wanted = []pattern.Wanted{{Closure: "front", Level: "waist", Min: 28, Max: 36}}
		list = append(list, v)
	}
	return list
}

func TestThePictureOfTheStory(t *testing.T) {
	list, b := story(t, "card-1")
	picture := drawn(t, Of(list, b, "front", "bust"), Options{Title: "Midsummer waistcoat"})
	texts, _, _, _ := words(t, picture)
	assert.Subset(t, texts, []string{"Gap front at bust", "Midsummer waistcoat", "52.0 to 34.0 mm (\u221218.0), predicted", "wanted 28 to 36: met",
		"base", "gusset", "+0.4", "52.4", "wider-gusset", "\u221218.4", "gap now", "34.0", "wider", "narrower", "wanted"})
	assert.Contains(t, picture, "<desc id=\"desc\">The predicted gap was 52.0 mm (base) and is 34.0 mm (card-1). wanted 28 to 36: met. straps: 52.0 as before.")
	assert.Equal(t, len(list)-1, strings.Count(picture, "data-step="))
	assert.Equal(t, picture, drawn(t, Of(list, b, "front", "bust"), Options{Title: "Midsummer waistcoat"}), "the same bytes")
	assert.NotContains(t, drawn(t, Of(list, b, "back", "bust"), Options{}), "data-step=", "buttons have no gap")
}

// A sheet of A4 (ISO 216: 210 by 297 mm) with margins of 10 mm holds the longest
// picture. On a telephone 390 pixels wide no letter is smaller than 11 pixels; common
// practice, no source.
func TestThePictureFitsPaperAndTelephone(t *testing.T) {
	for name, n := range map[string]int{"one": 1, "two": 2, "some": 12, "full": MostSteps + 1, "many": 90} {
		d := Of(manyVersions(n), body700(), "front", "waist")
		picture := drawn(t, d, Options{Title: "A garment with a title"})
		_, smallest, width, height := words(t, picture)
		assert.LessOrEqual(t, width, 190.0, name)
		assert.LessOrEqual(t, height, 277.0, name)
		assert.GreaterOrEqual(t, smallest*390/width, 11.0, name)
		assert.Equal(t, min(n-1, MostSteps), strings.Count(picture, "data-step="), name)
		assert.NotContains(t, picture, "\x1b")
		assert.NotContains(t, picture, "\u202e")
		assert.NotContains(t, picture, "NaN")
	}
}

func TestPicturesOfExtremes(t *testing.T) {
	for name, list := range map[string][]Version{
		"nothing":      nil,
		"not known":    {{Note: "a"}, {Note: "b"}},
		"no change":    {{Garment: laced(350)}, {Garment: laced(350)}},
		"below zero":   {{Garment: laced(350)}, {Garment: laced(380)}},
		"a slip":       {{Garment: laced(350)}, {Garment: laced(90000)}},
		"hardly any":   {{Garment: laced(350)}, {Garment: laced(350.001)}},
		"late to come": {{}, {Garment: laced(350)}, {Garment: laced(340)}},
	} {
		t.Run(name, func(t *testing.T) {
			texts, _, _, _ := words(t, drawn(t, Of(list, body700(), "front", "waist"), Options{Prefix: "p"}))
			if name == "nothing" || name == "not known" {
				assert.Contains(t, strings.Join(texts, "\n"), "not known: ")
				return
			}
			assert.Contains(t, texts, "gap now")
		})
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestAWriteErrorComesBack(t *testing.T) {
	assert.ErrorContains(t, Picture(broken{}, Of(nil, nil, "front", "waist"), Options{}), "disk full")
}

// clashes lists words that reach beyond the sheet, and words that lie over other words
// or over a bar, by more than 0.2 mm.
const clashes = `(() => {
	const view = document.documentElement.viewBox.baseVal, out = [];
	const texts = [...document.querySelectorAll('text')].map(e => [e.getBBox(), e.textContent]);
	const bars = [...document.querySelectorAll('rect.wider, rect.narrow')].map(e => [e.getBBox(), 'a bar']);
	texts.forEach(([a, s], i) => {
		if (a.x < 0 || a.x + a.width > view.width || a.y + a.height > view.height) out.push(s + ' off the sheet');
		[...texts.slice(i + 1), ...bars].forEach(([b, t]) => {
			// a text's box is taller than its letters: ascent and descent are room for accents
			const h = t === 'a bar' ? 0.12 : 0.3;
			if (a.x + 0.2 < b.x + b.width && b.x + 0.2 < a.x + a.width && a.y + h * a.height < b.y + b.height && b.y < a.y + (1 - h) * a.height) out.push(s + ' over ' + t);
		});
	});
	return out.join('; ');
})()`

func TestChromiumShowsNoClash(t *testing.T) {
	list, b := story(t, "card-1")
	for name, d := range map[string]Data{"story": Of(list, b, "front", "waist"), "many": Of(manyVersions(90), body700(), "front", "waist"), "some": Of(manyVersions(12), body700(), "front", "waist")} {
		got, err := chromedp.Run(browser.Picture(t, []byte(drawn(t, d, Options{Title: "Midsummer waistcoat"})), ""), chromedp.Evaluate[string](clashes))
		require.NoError(t, err)
		assert.Empty(t, got, name)
	}
}

// painted reads the colours of the paper, of a bar's edge and of the wanted range.
const painted = `[...['.paper', '.band', '.word']].map(s => getComputedStyle(document.querySelector(s)).fill).join(' ')`

func TestChromiumColours(t *testing.T) {
	list, b := story(t, "card-1")
	ctx := browser.Picture(t, []byte(drawn(t, Of(list, b, "front", "waist"), Options{})), "")
	for scheme, want := range map[string]string{"light": "rgb(255, 255, 255) rgb(236, 236, 236) rgb(17, 17, 17)", "dark": "rgb(21, 24, 27) rgb(38, 43, 48) rgb(230, 230, 230)"} {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		require.NoError(t, err)
		got, err := chromedp.Run(ctx, chromedp.Evaluate[string](painted))
		require.NoError(t, err)
		assert.Equal(t, want, got, scheme)
	}
}
