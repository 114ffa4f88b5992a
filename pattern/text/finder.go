package text

import (
	"strings"

	"seamkeep/pattern/diag"
)

// finder finds the column of a word, where the model knows only the place of
// its record.
type finder struct {
	sources map[string][]byte
	lines   map[string][]string
}

// first finds the word from its place on.
func (f *finder) first(at diag.Place, word string) diag.Place {
	return f.pick(at, word, func(hits []int) int { return hits[0] })
}

// last finds the last mention of the word in the line.
func (f *finder) last(at diag.Place, word string) diag.Place {
	return f.pick(at, word, func(hits []int) int { return hits[len(hits)-1] })
}

// afterKeyword finds the level of a notch, which stands after "at", "above" or
// "below" and may have the same name as the notch.
func (f *finder) afterKeyword(at diag.Place, word string) diag.Place {
	line := f.line(at)
	for _, k := range []string{"at", "above", "below"} {
		for _, hit := range hits(line, at.Column, k) {
			after := at
			after.Column = hit
			if found := hits(line, hit+1, word); len(found) > 0 {
				after.Column = found[0]
				return after
			}
		}
	}
	return f.last(at, word)
}

func (f *finder) pick(at diag.Place, word string, pick func([]int) int) diag.Place {
	if found := hits(f.line(at), at.Column, word); len(found) > 0 {
		at.Column = pick(found)
	}
	return at
}

// maxSearch is the length of a line, in bytes, in which a word is still looked for.
const maxSearch = 10000

func (f *finder) line(at diag.Place) string {
	if f.lines == nil {
		f.lines = map[string][]string{}
	}
	lines, ok := f.lines[at.File]
	if !ok {
		lines = strings.Split(string(f.sources[at.File]), "\n")
		f.lines[at.File] = lines
	}
	if at.Line < 1 || at.Line > len(lines) || len(lines[at.Line-1]) > maxSearch {
		return ""
	}
	return lines[at.Line-1]
}

// hits lists the columns, not before from and never the line's first field,
// where a field is the word.
func hits(line string, from int, word string) []int {
	if i := strings.IndexByte(line, '#'); i >= 0 {
		line = line[:i] // no record with names to find has text in quotes before them
	}
	var columns []int
	column, field := 1, 0
	for rest := line; rest != ""; {
		f, after, _ := strings.Cut(rest, " ")
		if f != "" {
			field++
		}
		if f == word && field > 1 && column >= from {
			columns = append(columns, column)
		}
		column += len([]rune(f)) + 1
		rest = after
	}
	return columns
}
