package ink

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// Face is the font that words are set in, embedded in the PDF.
type Face struct {
	data   []byte
	font   *sfnt.Font
	widths map[rune]float64 // of the characters asked for so far, in sizes; below 0: not covered
	joiner *joiner          // nil until words need it
}

// DejaVu is the font that comes with the program: Latin, Greek, Cyrillic, Hebrew,
// Arabic, Georgian, Armenian, signs.
func DejaVu() *Face {
	f, err := parse(dejavusans.TTF)
	if err != nil {
		panic("ink: the font of the module cannot be read: " + err.Error())
	}
	return f
}

// ParseFace reads a TrueType font (.ttf).
func ParseFace(data []byte) (*Face, error) {
	if len(data) >= 4 && string(data[:4]) == "OTTO" {
		return nil, errors.New("an OpenType font with PostScript outlines; only TrueType outlines (.ttf) can be embedded")
	}
	f, err := parse(data)
	if err != nil {
		return nil, err
	}
	return f, f.embeds()
}

func parse(data []byte) (*Face, error) {
	parsed, err := sfnt.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("not a TrueType font: %w", err)
	}
	f := &Face{data: data, font: parsed, widths: map[rune]float64{}}
	if f.width('n') <= 0 {
		return nil, errors.New("a font without the letter n")
	}
	return f, nil
}

// width is the advance of one character at the size 1; below 0 where the font
// does not cover it. The PDF names characters by two bytes: above U+FFFF nothing
// is covered.
func (f *Face) width(r rune) float64 {
	if w, ok := f.widths[r]; ok {
		return w
	}
	w := f.advance(r)
	f.widths[r] = w
	return w
}

func (f *Face) advance(r rune) float64 {
	if r > 0xFFFF {
		return -1
	}
	var buf sfnt.Buffer
	i, err := f.font.GlyphIndex(&buf, r)
	if err != nil || i == 0 {
		return -1
	}
	const em = 1024
	a, err := f.font.GlyphAdvance(&buf, i, fixed.I(em), font.HintingNone)
	if err != nil {
		return -1
	}
	return float64(a) / 64 / em
}

// Covers tells whether the font has a sign for a character.
func (f *Face) Covers(r rune) bool { return f.width(r) >= 0 }

// Words makes any text fit to be set: what can mislead is taken out (control
// characters, invisible ones), and what the font does not cover is told by its
// number, as [U+1F514].
func (f *Face) Words(s string) string {
	var b strings.Builder
	for _, r := range svg.CleanText(s) {
		if f.Covers(r) {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, "[U+%04X]", r)
		}
	}
	return strings.TrimSpace(b.String())
}

// Width is how wide a line of words is, in mm, at a size in mm.
func (f *Face) Width(words string, size float64) float64 {
	sum := 0.0
	for _, r := range f.joined(words) {
		sum += max(f.width(r), 0)
	}
	return float64(sum * size)
}

// Shorten gives the words, or as much of their beginning as fits in room mm with
// "..." behind it.
func (f *Face) Shorten(words string, size, room float64) string {
	if f.Width(words, size) <= room {
		return words
	}
	const more = "..."
	room -= f.Width(more, size)
	end := len(words)
	for end > 0 && f.Width(words[:end], size) > room {
		_, n := utf8.DecodeLastRuneInString(words[:end])
		end -= n
	}
	return strings.TrimSpace(words[:end]) + more
}

// Corners are those of the room that a text takes, and mm more each way: its foot
// first, along the line, then back along its head.
func (t Text) Corners(f *Face, more float64) [4]curve.Point {
	w := f.Width(t.Words, t.Size)
	left := [...]float64{Start: 0, Middle: -w / 2, End: -w}[t.Anchor] - more
	right, foot, head := left+w+2*more, -0.25*t.Size-more, 0.8*t.Size+more
	m := curve.Rotate(t.Turn * math.Pi / 180).Then(curve.Translate(t.At.X, t.At.Y))
	return [4]curve.Point{
		m.Apply(curve.Pt(left, foot)), m.Apply(curve.Pt(right, foot)),
		m.Apply(curve.Pt(right, head)), m.Apply(curve.Pt(left, head)),
	}
}

// Box is the upright box of that room.
func (t Text) Box(f *Face) curve.Box {
	box := curve.EmptyBox()
	for _, c := range t.Corners(f, 0) {
		box = box.Add(c)
	}
	return box
}
