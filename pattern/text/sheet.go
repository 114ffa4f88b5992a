package text

import "seamkeep/pattern"

// sheet collects the canonical lines of a file.
type sheet struct{ units []unit }

// unit is one record in canonical form, with its segments.
type unit struct {
	kind  string // first word of its key
	key   string
	part  part
	lines []string
}

// record begins a unit whose line starts with word.
func (s *sheet) record(p part, kind, name, word string) *line {
	s.units = append(s.units, unit{kind: kind, key: keyOf(kind, name), part: p})
	return &line{b: []byte(word), to: &s.units[len(s.units)-1]}
}

// segment begins a further line of the last unit.
func (s *sheet) segment(word string) *line {
	return &line{b: []byte("  " + word), to: &s.units[len(s.units)-1]}
}

// line is built field by field; done puts it into its unit.
type line struct {
	b  []byte
	to *unit
}

func (l *line) word(words ...string) *line {
	for _, w := range words {
		l.b = append(append(l.b, ' '), w...)
	}
	return l
}

func (l *line) number(v float64) *line {
	l.b = appendNumber(append(l.b, ' '), v)
	return l
}

func (l *line) point(x, y float64) *line { return l.number(x).number(y) }

func (l *line) text(s string) *line {
	l.b = appendQuoted(append(l.b, ' '), s)
	return l
}

// option writes a word and its number, if there is one.
func (l *line) option(word string, o pattern.Opt) *line {
	if o.Set {
		l.word(word).number(o.Value)
	}
	return l
}

// named writes a word and a name, if there is one.
func (l *line) named(word, name string) *line {
	if name != "" {
		l.word(word, name)
	}
	return l
}

// flag writes a word, if it holds.
func (l *line) flag(word string, set bool) *line {
	if set {
		l.word(word)
	}
	return l
}

func (l *line) refs(refs []pattern.Ref, between string) *line {
	for i, r := range refs {
		if i > 0 && between != "" {
			l.word(between)
		}
		l.word(r.String())
	}
	return l
}

func (l *line) done() { l.to.lines = append(l.to.lines, string(l.b)) }

// units gives the canonical records of a model, in canonical order.
func units[M any](g grammar[M], m *M) []unit {
	var s sheet
	for _, r := range g.rules {
		if r.print != nil {
			r.print(m, &s)
		}
	}
	return s.units
}

// printModel gives the canonical text of a model, without comments.
func printModel[M any](g grammar[M], m *M) []byte {
	b := append([]byte(nil), versionText(g.kind)...)
	b = append(b, '\n')
	last := head
	for _, u := range units(g, m) {
		if u.part != last {
			b = append(b, '\n')
			last = u.part
		}
		for _, l := range u.lines {
			b = append(append(b, l...), '\n')
		}
	}
	return b
}
