package ink

import (
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// shapes are the forms of a letter by what it joins, 0 where it has none.
type shapes [4]rune

// The forms, in the order in which Unicode lists them.
const (
	alone  = iota
	last   // joined to the letter before it
	first  // joined to the one behind it
	within // joined to both
)

// joiner knows the joined forms of letters: those of Unicode's blocks of Arabic
// presentation forms, which compatibility decomposition (Unicode Standard Annex 15)
// leads back to the letters.
type joiner struct {
	letters map[rune]shapes
	pairs   map[[2]rune]shapes // two letters that have one sign together
}

func newJoiner() *joiner {
	j := &joiner{map[rune]shapes{}, map[[2]rune]shapes{}}
	for _, block := range [...][2]rune{{0xFB50, 0xFBFF}, {0xFE80, 0xFEFC}} {
		for r := block[0]; r <= block[1]; r++ {
			j.add(r)
		}
	}
	// two forms stand apart from the other two of their letter
	maksura := j.letters['\u0649']
	maksura[first], maksura[within] = '\uFBE8', '\uFBE9'
	j.letters['\u0649'] = maksura
	return j
}

// add takes a form up as the next one of its letter or pair.
func (j *joiner) add(form rune) {
	if form == '\uFBE8' || form == '\uFBE9' {
		return
	}
	of := []rune(norm.NFKC.String(string(form)))
	switch {
	case len(of) == 1 && of[0] != form:
		s := j.letters[of[0]]
		s.next(form)
		j.letters[of[0]] = s
	case len(of) == 2 && form >= 0xFEF5: // lam and alef
		s := j.pairs[[2]rune(of)]
		s.next(form)
		j.pairs[[2]rune(of)] = s
	}
}

func (s *shapes) next(form rune) {
	for k := range s {
		if s[k] == 0 {
			s[k] = form
			return
		}
	}
}

// joins tells whether words hold letters that join.
func joins(words string) bool {
	for _, r := range words {
		if r >= 0x0620 && r <= 0x06FF {
			return true
		}
	}
	return false
}

// joined gives each letter the form that its neighbours ask for, as far as the font has
// it. Words without such letters come back as they are.
func (f *Face) joined(words string) string {
	if !joins(words) {
		return words
	}
	if f.joiner == nil {
		f.joiner = newJoiner()
	}
	in := []rune(words)
	out := make([]rune, 0, len(in))
	before := false // what stands before joins what follows
	for i := 0; i < len(in); i++ {
		s, ok := f.joiner.letters[in[i]]
		if !ok {
			out = append(out, in[i])
			before = before && unicode.Is(unicode.Mn, in[i]) || joinsBoth(in[i])
			continue
		}
		if i+1 < len(in) {
			if pair, ok := f.joiner.pairs[[2]rune{in[i], in[i+1]}]; ok {
				if form := pair.form(before, false); f.Covers(form) {
					out, before = append(out, form), false
					i++
					continue
				}
			}
		}
		form := s.form(before, f.joiner.takes(in[i+1:]))
		if form == 0 || !f.Covers(form) {
			form = in[i]
		}
		out, before = append(out, form), s[first] != 0
	}
	return string(out)
}

// form is the one for a letter between others that would join it.
func (s shapes) form(before, after bool) rune {
	before, after = before && s[last] != 0, after && s[first] != 0
	switch {
	case before && after:
		return s[within]
	case before:
		return s[last]
	case after:
		return s[first]
	}
	return s[alone]
}

// takes tells whether what comes next can be joined to the letter before it.
func (j *joiner) takes(rest []rune) bool {
	for _, r := range rest {
		if !unicode.Is(unicode.Mn, r) {
			return j.letters[r][last] != 0 || joinsBoth(r)
		}
	}
	return false
}

// joinsBoth tells of signs that join what stands beside them: the stroke that lengthens
// a word, and the one without width that stands for a letter.
func joinsBoth(r rune) bool { return r == '\u0640' || r == '\u200D' }
