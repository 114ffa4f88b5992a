package claim

import (
	"strings"

	"seamkeep/pattern/diag"
)

// item is what stands between two commas.
type item struct {
	words []diag.Word
	end   diag.Place // behind its last word, or where it is missing
}

// items parts words at the commas.
func items(words []diag.Word, end diag.Place) []item {
	var out []item
	start := 0
	for i, w := range words {
		if w.Text == "," {
			out = append(out, item{words[start:i], w.Place})
			start = i + 1
		}
	}
	return append(out, item{words[start:], end})
}

func (it item) text() string {
	parts := make([]string, len(it.words))
	for i, w := range it.words {
		parts[i] = w.Text
	}
	return strings.Join(parts, " ")
}

// place is where the item begins.
func (it item) place() diag.Place {
	if len(it.words) == 0 {
		return it.end
	}
	return it.words[0].Place
}
