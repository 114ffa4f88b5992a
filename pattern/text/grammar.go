package text

import (
	"fmt"

	"seamkeep/pattern/diag"
)

// part is a block of a file; a file that is written from scratch has a blank
// line between its parts.
type part int

const (
	head part = iota
	outline
	marks
)

// rule is one kind of record: how it begins, what it looks like, how it is
// read into a model M and how all records of the kind are printed from it.
type rule[M any] struct {
	words []string // any of these begins the record
	form  string   // after the word: for hints and the grammar page
	part  part
	seg   bool // it belongs to the record before it and is indented
	read  func(c *record, word string, m *M)
	print func(m *M, s *sheet) // nil where another rule prints it
}

// grammar is everything that differs between the kinds of files. Its rules
// stand in canonical order.
type grammar[M any] struct {
	kind   Kind
	rules  []rule[M]
	start  func(m *M, at diag.Place, name string) // before the first record
	finish func(r *reader, m *M)                  // whole-file checks after the last record
	settle func(m *M)                             // what tidy recomputes
	follow func(old, m *M) *M                     // m, laid out as near to old as it may be
	equal  func(a, b *M) bool
}

// words lists every word that begins a record.
func (g grammar[M]) words() []string {
	var all []string
	for _, r := range g.rules {
		all = append(all, r.words...)
	}
	return all
}

// byWord gives the index of the rule that each word belongs to.
func (g grammar[M]) byWord() map[string]int {
	index := make(map[string]int, 2*len(g.rules))
	for i, r := range g.rules {
		for _, w := range r.words {
			index[w] = i
		}
	}
	return index
}

// read reads a whole file. ok is false where nothing of it could be read: it
// is too large, in another encoding, or written by a newer version. doc, if
// not nil, receives the lines with their comments.
func read[M any](g grammar[M], file string, src []byte, doc *document) (m *M, problems diag.List, ok bool) {
	r := newReader(g.kind, file, src, doc)
	r.index = g.byWord()
	m = new(M)
	name := nameOf(file, g.kind)
	g.start(m, diag.Place{File: file, Line: 1, Column: 1}, name)
	r.checkName(name)
	if !r.checkFile(src) {
		return nil, r.problems, false
	}
	if r.readLines(func(word string) { readRecord(g, r, word, m) }) {
		if r.version {
			g.finish(r, m)
		}
		ok = true
	}
	r.problems.Sort()
	if !ok {
		return nil, r.problems, false
	}
	return m, r.problems, true
}

// readRecord reads the current line, whose first field is word.
func readRecord[M any](g grammar[M], r *reader, word string, m *M) {
	i, known := r.index[word]
	if !known {
		expected := fmt.Sprintf("a record of a %s file", g.kind)
		if near := diag.Nearest(word, g.words()); near != "" {
			expected = fmt.Sprintf("%q", near)
		}
		r.bad(r.tokens[0].at, IDUnknownWord, show(word), expected, "")
		r.open = skipping
		return
	}
	rl := g.rules[i]
	r.checkIndent(rl.seg, word)
	if !rl.seg {
		r.open = nothing
		r.place.Edge = ""
	} else if r.open == skipping {
		return
	}
	c := &record{r: r, next: 1, word: word, form: rl.form}
	rl.read(c, word, m)
	c.end()
	if rl.seg {
		r.doc.segment(r.leads, r.text, r.comment)
	} else {
		r.doc.record(r.leads, r.text, r.comment, r.key)
	}
	r.leads = nil
}
