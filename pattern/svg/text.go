package svg

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// CleanText takes out of a text of a stranger what can mislead or break: control
// characters, characters that turn the direction of writing, invisible tags,
// what XML cannot hold and bytes that are not UTF-8. Line ends and tabs become
// spaces. A clean text comes back as it is.
func CleanText(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		i += n
		switch {
		case r == utf8.RuneError && n == 1: // a byte that is not UTF-8
		case r == '\n' || r == '\r' || r == '\t' || r == 0x85 || r == 0x2028 || r == 0x2029:
			b.WriteByte(' ')
		case !hidden(r):
			b.WriteRune(r)
		}
	}
	return b.String()
}

// hidden tells whether a character has no place in a line of text.
func hidden(r rune) bool {
	switch {
	case unicode.Is(unicode.Cc, r), unicode.Is(unicode.Bidi_Control, r),
		unicode.Is(unicode.Noncharacter_Code_Point, r):
		return true
	case r == 0xFEFF, // byte order mark
		r == 0xAD, // soft hyphen
		r == 0x200B || r >= 0x2060 && r <= 0x206F, // no width at all
		r >= 0xFFF9 && r <= 0xFFFB,                // interlinear notes
		r >= 0xE0000 && r <= 0xE007F:              // tags
		return true
	}
	return false
}

// textSlack is what one viewer's fonts may be wider than the ones counted here.
const textSlack = 1.15

// TextWidth guesses how wide a line of text is, in mm, at the font size in mm: on
// the large side, since viewers take the font that they have. Counted by
// classes of characters after DejaVu Sans, with 15 % added; a character of the
// far east counts as a square, a combining one as nothing. A size below 0 or NaN
// counts as 0.
func TextWidth(s string, size float64) float64 {
	if !(size > 0) {
		return 0
	}
	hundredths := 0
	for _, r := range CleanText(s) {
		hundredths += runeWidth(r)
	}
	return float64(hundredths) / 100 * textSlack * size
}

// BoldWidth is TextWidth for bold text.
func BoldWidth(s string, size float64) float64 { return TextWidth(s, size) * 1.1 }

// Shorten gives the text, or as much of its beginning as fits in width mm with
// "…" behind it, counted by TextWidth; the "…" alone where nothing fits.
func Shorten(s string, size, width float64) string {
	s = CleanText(s)
	if TextWidth(s, size) <= width {
		return s
	}
	runes := []rune(s)
	room := width - TextWidth("…", size)
	end, used := 0, 0.0
	for _, r := range runes {
		used += TextWidth(string(r), size)
		if used > room {
			break
		}
		end++
	}
	return strings.TrimRight(string(runes[:end]), " ") + "…"
}

// runeWidth gives a width in hundredths of the font size: about
// that of the widest character of the class.
func runeWidth(r rune) int {
	if r < 0x80 {
		return asciiWidth(r)
	}
	switch {
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return 0
	case isSquare(r):
		return 100
	case r >= 0x1F000, r >= 0x1C4 && r <= 0x1CC, r >= 0x1F1 && r <= 0x1F3: // pictures, pairs of letters
		return 130
	case strings.ContainsRune("ÆæŒœ", r):
		return 106
	case unicode.Is(unicode.Cyrillic, r):
		return letterWidth(r, 96, 82)
	case unicode.In(r, unicode.Latin, unicode.Greek, unicode.Hebrew):
		return letterWidth(r, 87, 75)
	case r == 0xB7 || r == 0xB0 || r == 0x2013 || unicode.In(r, unicode.Pi, unicode.Pf):
		return 54
	case unicode.Is(unicode.Sm, r), r >= 0x2190 && r < 0x2200: // signs and arrows
		return 84
	}
	return 105
}

func letterWidth(r rune, capital, small int) int {
	if unicode.IsUpper(r) {
		return capital
	}
	return small
}

func asciiWidth(r rune) int {
	switch {
	case strings.ContainsRune("ijl'", r):
		return 28
	case strings.ContainsRune(" ,.:;/\\|IJ", r):
		return 34
	case strings.ContainsRune("!()[]-rtf", r):
		return 42
	case strings.ContainsRune("\"*?_`csz", r):
		return 55
	case strings.ContainsRune("ABCKRVXZ", r):
		return 70
	case strings.ContainsRune("DGHNOQU&", r):
		return 79
	case strings.ContainsRune("w#+<=>^~", r):
		return 84
	case strings.ContainsRune("@%MWm", r):
		return 100
	}
	return 64
}

// isSquare tells whether a character is written in a square of the font's size
// (blocks of the East Asian Wide and Fullwidth characters).
func isSquare(r rune) bool {
	return unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul) ||
		r >= 0x3000 && r <= 0x33FF || r >= 0xFE30 && r <= 0xFE6F || r >= 0xFF01 && r <= 0xFF60
}
