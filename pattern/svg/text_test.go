package svg

import (
	"math"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCleanText(t *testing.T) {
	tests := map[string]struct{ in, want string }{
		"plain":           {"Side back 12.5 mm", "Side back 12.5 mm"},
		"markup stays":    {`<b>"x"&amp;`, `<b>"x"&amp;`},
		"other scripts":   {"布 תפר درز ñ é", "布 תפר درز ñ é"},
		"line ends":       {"a\nb\tc\rd\u2028e", "a b c d e"},
		"NUL and ESC":     {"a\x00\x1b[31mb\x7f", "a[31mb"},
		"C1":              {"a\u009b31mb", "a31mb"},
		"bad UTF-8":       {"a\xff\xc0\xafb\xed\xa0\x80c", "abc"},
		"replacement":     {"a\uFFFDb", "a\uFFFDb"},
		"not XML":         {"a\uFFFE\uFFFFb", "ab"},
		"invisible":       {"a\uFEFF\u200b\u2060\u00adb\U000E0041", "ab"},
		"joiners of text": {"क्\u200dष", "क्\u200dष"},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) { assert.Equal(t, tt.want, CleanText(tt.in)) })
	}
}

// The twelve characters with the property Bidi_Control, Unicode 15.0,
// PropList.txt, written out here.
func TestCleanTextDropsDirectionCharacters(t *testing.T) {
	for _, r := range []rune{0x061C, 0x200E, 0x200F, 0x202A, 0x202B, 0x202C, 0x202D, 0x202E, 0x2066, 0x2067, 0x2068, 0x2069} {
		assert.Equal(t, "ab", CleanText("a"+string(r)+"b"), "%U", r)
	}
}

func TestCleanTextIsCleanAtOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := string(rapid.SliceOf(rapid.Byte()).Draw(t, "s"))
		if rapid.Bool().Draw(t, "runes") {
			s = rapid.String().Draw(t, "text")
		}
		once := CleanText(s)
		require.True(t, utf8.ValidString(once))
		require.Equal(t, once, CleanText(once))
	})
}

// Advance widths of the table hmtx of DejaVu Sans and DejaVu Sans Bold 2.37,
// summed over the text, in thousandths of the font size.
func TestTextWidthAgainstAFont(t *testing.T) {
	tests := []struct {
		text          string
		regular, bold float64
	}{
		{"Side back", 4857, 5454},
		{"fill", 1186, 1463},
		{"until filled", 4969, 5793},
		{"20.0 / 6.0 mm (7)", 8790, 9690},
		{"side-back.back let out 14.0 at bust, 6.0 at waist", 23894, 27025},
		{"WAIST", 3213, 3651},
		{"Möwenweiß ÉTÉ", 8075, 9057},
		{"before → after − 12.5°", 11297, 12482},
		{"Боковой шов", 6799, 7565},
		{"Πλάι", 2341, 2546},
	}
	for _, tt := range tests {
		got := TextWidth(tt.text, 1000)
		assert.GreaterOrEqual(t, got, 1.1*tt.regular, tt.text)
		// Our own bound: labels must not waste more room than this.
		room := 1.4
		if len(tt.text) != utf8.RuneCountInString(tt.text) {
			room = 1.6 // beyond ASCII the classes are coarse
		}
		assert.LessOrEqual(t, got, room*tt.regular, tt.text)
		assert.GreaterOrEqual(t, BoldWidth(tt.text, 1000), tt.bold, tt.text)
	}
}

func TestTextWidthOfOddTexts(t *testing.T) {
	assert.Zero(t, TextWidth("", 5))
	assert.Zero(t, TextWidth("abc", 0))
	assert.Zero(t, TextWidth("abc", -1))
	assert.Zero(t, TextWidth("abc", math.NaN()))
	assert.Equal(t, TextWidth("e", 5), TextWidth("e\u0301", 5), "a combining accent")
	assert.Equal(t, TextWidth("ab", 5), TextWidth("a\x00\u202eb", 5), "what is cleaned away")
	// Unicode Standard Annex 11: wide characters take one em.
	assert.InDelta(t, 4*5*1.15, TextWidth("縫製かな", 5), 1e-9)
}

func TestShorten(t *testing.T) {
	assert.Equal(t, "Side back", Shorten("Side\nback", 4, 100))
	assert.Equal(t, "…", Shorten("Side back", 4, 1))
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		width := rapid.Float64Range(10, 60).Draw(t, "width")
		got := Shorten(s, 4, width)
		require.LessOrEqual(t, TextWidth(got, 4), width+1e-9)
		if TextWidth(s, 4) <= width {
			require.Equal(t, CleanText(s), got)
		}
	})
}
