package claim

import (
	"strings"
	"unicode"

	"seamkeep/pattern/diag"
)

// word is a word of a value, or a comma, and where it stands.
type word struct {
	text  string
	place diag.Place
}

// split takes a value apart. Commas are words of their own. end is the place
// behind the last word. A value that a note folds over several lines counts
// columns from its own line's start.
func split(value string, at diag.Place) (words []word, end diag.Place) {
	end = at
	start := -1 // of the word that goes on
	var begun diag.Place
	finish := func(i int) {
		if start >= 0 {
			words = append(words, word{value[start:i], begun})
		}
		start = -1
	}
	for i, r := range value {
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
			words = append(words, word{",", at})
		case start < 0:
			start, begun = i, at
		}
		at.Column++
		if !unicode.IsSpace(r) {
			end = at
		}
	}
	finish(len(value))
	return words, end
}

// item is what stands between two commas.
type item struct {
	words []word
	end   diag.Place // behind its last word, or where it is missing
}

// items parts words at the commas.
func items(words []word, end diag.Place) []item {
	var out []item
	start := 0
	for i, w := range words {
		if w.text == "," {
			out = append(out, item{words[start:i], w.place})
			start = i + 1
		}
	}
	return append(out, item{words[start:], end})
}

func (it item) text() string {
	parts := make([]string, len(it.words))
	for i, w := range it.words {
		parts[i] = w.text
	}
	return strings.Join(parts, " ")
}

// place is where the item begins.
func (it item) place() diag.Place {
	if len(it.words) == 0 {
		return it.end
	}
	return it.words[0].place
}
