package diag

import "unicode"

// Word is a word of a text, or a comma, and where it stands.
type Word struct {
	Text  string
	Place Place
}

// Words takes a text that begins at a place apart at white space. Commas are
// words of their own. end is the place behind the last word. A text that is
// folded over several lines counts columns from each line's own start.
func Words(text string, at Place) (words []Word, end Place) {
	end = at
	start, begun := -1, at // of the word that goes on
	finish := func(i int) {
		if start >= 0 {
			words = append(words, Word{text[start:i], begun})
		}
		start = -1
	}
	for i, r := range text {
		switch {
		case r == '\n':
			finish(i)
			at.Line++
			at.Column = 1
			continue
		case unicode.IsSpace(r):
			finish(i)
		case r == ',':
			finish(i)
			words = append(words, Word{",", at})
		case start < 0:
			start, begun = i, at
		}
		at.Column++
		if !unicode.IsSpace(r) {
			end = at
		}
	}
	finish(len(text))
	return words, end
}
