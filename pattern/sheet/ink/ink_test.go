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

// Forms of the Unicode charts FB50 and FE70 (the letters from memory, the order of the
// forms as the charts list them): alone, last, first, within; lam and alef are one sign; alef
// joins nothing behind it; marks between letters part nothing; numbers and Latin stay.
func TestArabicLettersAreJoined(t *testing.T) {
	f := DejaVu()
	for words, want := range map[string]string{
		"ب":      "\uFE8F",
		"بب":     "\uFE91\uFE90",
		"ببب":    "\uFE91\uFE92\uFE90",
		"باب":    "\uFE91\uFE8E\uFE8F",
		"لا":     "\uFEFB",
		"بلا":    "\uFE91\uFEFC",
		"بَب":    "\uFE91\u064E\uFE90",
		"ـب":     "\u0640\uFE90",
		"پچ":     "\uFB58\uFB7B",
		"کی":     "\uFB90\uFBFD",
		"ب 12 b": "\uFE8F 12 b",
		"plain":  "plain",
	} {
		assert.Equal(t, want, f.joined(words), "%q", words)
	}
	for form, s := range newJoiner().letters {
		for _, r := range s {
			if r != 0 {
				assert.True(t, unicode.Is(unicode.Arabic, form), "%q joins as %q", form, r)
			}
		}
	}
}

// A sign for what the font lacks stays as it is among words from right to left: digits
// behind letters that run to the right run with them (Unicode Standard Annex 9, rule W7).
func TestNumbersOfMissingSignsStayReadable(t *testing.T) {
	f := DejaVu()
	assert.Contains(t, visual(f.joined(f.Words("ثوب \U0001F9F5"))), "[U+1F9F5]")
}

// In the file the last letter stands first, since it is seen at the left.
func TestJoinedWordsRunFromRightToLeft(t *testing.T) {
	f := DejaVu()
	assert.Equal(t, "\uFE90\uFE91", visual(f.joined("بب")))
	assert.InDelta(t, f.Width("\uFE91\uFE90", 10), f.Width("بب", 10), 1e-9, "measured as they are set")
	assert.LessOrEqual(t, f.Width(f.Shorten("بببببببببب", 10, 40), 10), 40.0)
}

// Whatever is written: as many letters or fewer, each covered by the font, and nothing
// that a second joining would change.
func FuzzJoined(f *testing.F) {
	for _, s := range []string{"", "بسم", "لا", "a ب\u200Dب", "\u064E", "\uFEFB\u0644\u0627", "סינר 12", "\xff\xfe"} {
		f.Add(s)
	}
	face := DejaVu()
	f.Fuzz(func(t *testing.T, s string) {
		words := face.Words(s)
		out := face.joined(words)
		assert.LessOrEqual(t, len([]rune(out)), len([]rune(words)))
		for _, r := range visual(out) {
			assert.True(t, face.Covers(r), "%q", r)
		}
		assert.Equal(t, out, face.joined(out), "joined once for all")
	})
}
