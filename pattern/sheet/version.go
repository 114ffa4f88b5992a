package sheet

import (
	"fmt"
	"strings"
	"unicode"

	"seamkeep/pattern"
)

// Version says what is printed, as it stands on each page and piece.
type Version struct {
	Commit string // short id of the version, or of the one before what is printed; empty: none
	Note   string // name of its alteration note
	Tag    string // tag of the mock-up, where this very version bears one
	Date   string // YYYY-MM-DD, or empty
	Kept   bool   // nothing printed differs from Commit

	Walked bool   // its seams match
	Walk   string // whether they do, in words: WALKED 1.5
}

// String is the version in one line: commit, note, tag, date.
func (v Version) String() string {
	var parts []string
	for _, s := range []string{v.Commit, v.Note, v.Tag, v.Date} {
		if s != "" && (len(parts) == 0 || parts[len(parts)-1] != s) {
			parts = append(parts, s)
		}
	}
	if s := strings.Join(parts, ", "); v.Kept || s == "" {
		return s
	}
	return "after " + strings.Join(parts, ", ")
}

// Standing says in the words of the sheets whether the version can be had again
// and whether its seams match.
func (v Version) Standing() string {
	s := v.keptWords()
	switch {
	case v.Kept:
	case v.Commit == "":
		s += " (there is no version yet)"
	default:
		s += " (it differs from " + v.Commit + ")"
	}
	return s + "; " + v.Walk
}

// keptWords tell whether the version can be had again.
func (v Version) keptWords() string {
	if v.Kept {
		return "KEPT"
	}
	return "NOT KEPT"
}

// short is what is chalked on the cloth before the piece's number: of a tag its
// first letter and its number (mock-up-1: M1), else the commit, with a + where
// more than it is printed.
func (v Version) short() string {
	switch {
	case v.Commit == "":
		return "?"
	case !v.Kept:
		return v.Commit + "+"
	case v.Tag == "":
		return v.Commit
	}
	base := v.Tag[strings.LastIndex(v.Tag, "/")+1:]
	number := base[len(strings.TrimRightFunc(base, unicode.IsDigit)):]
	first := strings.IndexFunc(base, unicode.IsLetter)
	if number == "" || first < 0 {
		return base
	}
	return strings.ToUpper(string([]rune(base[first:])[:1])) + number
}

// code is what is chalked on a piece: M1-3/7.
func (v Version) code(n, of int) string { return fmt.Sprintf("%s-%d/%d", v.short(), n, of) }

// numbering gives each piece its number: the ones that the garment gives where
// they are all there and differ, else the order of those, of around, of the names.
func numbering(g *pattern.Garment) map[string]int {
	around := map[string]int{}
	for i, m := range g.Around {
		if around[m.Name] == 0 {
			around[m.Name] = i + 1
		}
	}
	given, all := map[int]bool{}, len(g.Pieces) > 0
	for _, p := range g.Pieces {
		n := g.Option(p.Name).Number
		all = all && n > 0 && n <= len(g.Pieces) && !given[n]
		given[n] = true
	}
	out := map[string]int{}
	if all {
		for _, p := range g.Pieces {
			out[p.Name] = g.Option(p.Name).Number
		}
		return out
	}
	for i, p := range sorted(g.Pieces, func(p *pattern.Piece) [2]int {
		return [2]int{orLast(g.Option(p.Name).Number), orLast(around[p.Name])}
	}) {
		out[p.Name] = i + 1
	}
	return out
}
