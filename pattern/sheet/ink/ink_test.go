package ink

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
	"pgregory.net/rapid"

	"seamkeep/pattern/curve"
)

func book(words ...string) *Book {
	f := DejaVu()
	d := &Drawing{}
	for i, w := range words {
		d.Write(Text{Layer: Labels, At: curve.Pt(10, 10+float64(i)*10), Size: 4, Words: f.Words(w)})
	}
	return &Book{Title: f.Words(strings.Join(words, " ")), Face: f, Date: time.Unix(0, 0).UTC(),
		Pages: []Page{{Width: 100, Height: 100, Parts: []Part{{Drawing: d, Clip: curve.EmptyBox()}}}}}
}

// No character stops the writing: each is set, told by its number, or taken out
// where it cannot be seen.
func TestEveryCharacterIsSetOrTold(t *testing.T) {
	f := DejaVu()
	rapid.Check(t, func(t *rapid.T) {
		s := string(rapid.SliceOfN(rapid.Rune(), 1, 12).Draw(t, "runes")) + string(rune(rapid.IntRange(0, 0x10ffff).Draw(t, "rune")))
		words := f.Words(s)
		for _, r := range words {
			assert.True(t, f.Covers(r), "%q in %q", r, words)
		}
		var pdf, svg bytes.Buffer
		b := book(s)
		require.NoError(t, b.WritePDF(&pdf))
		require.NoError(t, b.WriteSVG(&svg))
		assert.True(t, bytes.HasPrefix(pdf.Bytes(), []byte("%PDF-")))
	})
}

func TestWhatTheFontLacksIsToldByItsNumber(t *testing.T) {
	f := DejaVu()
	assert.Equal(t, "Ärmel Ποδιά Фартук סינר", f.Words("Ärmel Ποδιά Фартук סינר"))
	assert.Equal(t, "bell [U+1F514], [U+56F4]", f.Words("bell \U0001F514, 围"))
	assert.Equal(t, "ab", f.Words("a\x00\x1b\u202eb"), "what cannot be seen is taken out")
	assert.Equal(t, "", f.Words(""))
}

// fpdf measures the same font by its own reading of it.
func TestWidthsAgreeWithTheLibraryThatSetsThem(t *testing.T) {
	f := DejaVu()
	d := fpdf.New("P", "mm", "A4", "")
	d.AddUTF8FontFromBytes("x", "", dejavusans.TTF)
	d.SetFont("x", "", 100*72/25.4)
	for _, s := range []string{"Side back", "WALKED 1.5", "M1-3/7", "Schürze Ποδιά", "iiiWWW"} {
		assert.InDelta(t, d.GetStringWidth(s), f.Width(s, 100), 0.2, s)
	}
}

func TestOtherFontsAreTakenOrRefusedWithWords(t *testing.T) {
	f, err := ParseFace(goregular.TTF)
	require.NoError(t, err)
	assert.True(t, f.Covers('é'))
	assert.False(t, f.Covers('א'), "Go Regular has no Hebrew")
	for name, data := range map[string][]byte{
		"nothing": nil, "words": []byte("seamkeep garment 1\n"), "PostScript outlines": []byte("OTTO\x00\x01"),
		"cut short": dejavusans.TTF[:2000],
	} {
		_, err := ParseFace(data)
		assert.Error(t, err, name)
	}
}

// Cut or bent fonts are refused or serve; they never end the program.
func FuzzParseFace(f *testing.F) {
	f.Add(4, 0, byte(1))
	f.Add(200, 77, byte(255))
	f.Fuzz(func(t *testing.T, cut, at int, value byte) {
		data := bytes.Clone(goregular.TTF)
		data[((at%len(data))+len(data))%len(data)] ^= value
		data = data[:len(data)-((cut%len(data))+len(data))%len(data)]
		if face, err := ParseFace(data); err == nil {
			var out bytes.Buffer
			b := Book{Face: face, Pages: book("Side back 12").Pages}
			_ = b.WritePDF(&out)
		}
	})
}

// Hebrew stands in a PDF from its last letter to its first, numbers within it the
// right way round (Unicode Standard Annex 9).
func TestRightToLeftWordsAreTurnedForThePDF(t *testing.T) {
	assert.Equal(t, "back, 3 of 7", visual("back, 3 of 7"))
	assert.Equal(t, "רניס", visual("סינר"))
	for logical, seen := range map[string]string{
		"סינר 12":          "12 רניס",
		"back סינר 12 cm":  "back 12 רניס cm",
		"סינר (back) לבן":  "ןבל (back) רניס",
		"(סינר)":           "(רניס)",
		"back (סינר לבן).": "back (ןבל רניס).",
		"12 back":          "12 back",
		"":                 "",
	} {
		assert.Equal(t, seen, visual(logical), logical)
	}
}

// The cubic of a quarter circle strays from it by at most 2.73e-4 of the radius
// (M. Goldapp, Approximation of circular arcs by cubic polynomials, 1991, from
// memory).
func TestCirclesAreRound(t *testing.T) {
	for _, s := range Circle(curve.Pt(3, 4), 100) {
		for k := range 101 {
			assert.InDelta(t, 100, s.At(float64(k)/100).Dist(curve.Pt(3, 4)), 0.0273)
		}
	}
	assert.InDelta(t, math.Pi*1e4, Circle(curve.Pt(3, 4), 100).Area(), 10)
}

func TestATextTurnedTakesTheRoomThatItTurnsTo(t *testing.T) {
	f := DejaVu()
	flat := Text{Size: 4, Words: "waist"}
	up := flat
	up.Turn = 90
	a, b := flat.Box(f), up.Box(f)
	assert.InDelta(t, a.Width(), b.Height(), 1e-9)
	assert.InDelta(t, a.Height(), b.Width(), 1e-9)
	assert.InDelta(t, -a.Max.Y, b.Min.X, 1e-9, "its head is to the left")
}

func TestShortenKeepsWhatFits(t *testing.T) {
	f := DejaVu()
	rapid.Check(t, func(t *rapid.T) {
		words := f.Words(rapid.StringOf(rapid.RuneFrom(nil, unicode.Latin)).Draw(t, "words"))
		room := rapid.Float64Range(10, 60).Draw(t, "room")
		got := f.Shorten(words, 3, room)
		assert.LessOrEqual(t, f.Width(got, 3), room+1e-9)
		if got != words {
			assert.True(t, strings.HasPrefix(words, strings.TrimSuffix(got, "...")))
		}
	})
}
