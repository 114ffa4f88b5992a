package text

import (
	"strings"

	"seamkeep/pattern/diag"
)

// Tidy gives the canonical text of a file: the kinds of records in their fixed
// order, the records of one kind as they stood, one space between fields,
// numbers trimmed, and the true length on every edge. Comments keep to their
// record, a blank line stays where there was at least one. Doing it twice
// changes nothing more. A file that cannot be read, or whose ending is no
// pattern file's, gives nil and the problems.
func Tidy(path string, src []byte) ([]byte, diag.List) {
	switch KindOf(path) {
	case PieceFile:
		return tidy(pieceGrammar(), path, src)
	case GarmentFile:
		return tidy(garmentGrammar(), path, src)
	case BodyFile:
		return tidy(bodyGrammar(), path, src)
	case FittingFile:
		return tidy(fittingGrammar(), path, src)
	}
	return nil, diag.List{unknownEnding(path)}
}

func unknownEnding(path string) diag.Problem {
	return diag.Problem{
		ID: IDFileKind, Severity: diag.Error, Place: diag.Place{File: path},
		Found: "found a file with another ending", Expected: "expected .piece, .garment, .body or .fitting",
	}
}

func tidy[M any](g grammar[M], path string, src []byte) ([]byte, diag.List) {
	doc := &document{}
	m, problems, ok := read(g, path, src, doc)
	if !ok || problems.HasErrors() {
		return nil, problems
	}
	g.settle(m)
	t := &typist{tidy: true}
	t.lines(doc.version, versionText(g.kind))
	old := doc.unitsByKey()
	for _, u := range units(g, m) {
		if from := old[u.key]; from != nil {
			t.rewrite(from, u)
		} else {
			t.fresh(u)
		}
	}
	t.leads(doc.tail, "")
	return t.bytes(), problems
}

// typist writes a file line by line.
type typist struct {
	b     []byte
	blank bool // the last line is blank, or there is none
	want  bool // a blank line is wanted before the next line that is not blank
	any   bool
	tidy  bool // blank lines and comments are put in order
}

func (t *typist) put(line string) {
	blank := strings.Trim(line, " ") == ""
	if t.want && !blank && !t.blank {
		t.b = append(t.b, '\n')
	}
	t.b = append(append(t.b, line...), '\n')
	t.want, t.blank, t.any = false, blank, true
}

// gap makes sure that the last line is blank, unless there is no last line.
func (t *typist) gap() {
	if t.any && !t.blank {
		t.put("")
	}
}

// leads writes blank lines and comments that stand above a record.
func (t *typist) leads(leads []string, indent string) {
	for _, l := range leads {
		switch {
		case !t.tidy:
			t.put(l)
		case isComment(l):
			t.put(indent + strings.Trim(l, " "))
		default:
			t.gap()
		}
	}
}

// lines writes a line with the comments of the one that it stands for.
func (t *typist) lines(from docLine, text string) {
	t.leads(from.leads, indentOf(text))
	t.put(withComment(text, from.comment))
}

func indentOf(text string) string { return text[:len(text)-len(strings.TrimLeft(text, " "))] }

func withComment(text, comment string) string {
	if comment == "" {
		return text
	}
	return text + "  " + comment
}

// rewrite writes a record in canonical form with its comments. Where it has
// another number of lines than before, all comments go above it.
func (t *typist) rewrite(from *docUnit, u unit) {
	if len(from.lines) == len(u.lines) {
		for i, l := range u.lines {
			t.lines(from.lines[i], l)
		}
		return
	}
	first := docLine{leads: from.loose(0, true), comment: from.lines[0].comment}
	t.lines(first, u.lines[0])
	for _, l := range u.lines[1:] {
		t.put(l)
	}
}

// fresh writes a record that stood nowhere before.
func (t *typist) fresh(u unit) {
	for _, l := range u.lines {
		t.put(l)
	}
}

// bytes gives the text; tidied text does not end in blank lines.
func (t *typist) bytes() []byte {
	if t.tidy {
		return append([]byte(strings.TrimRight(string(t.b), "\n")), '\n')
	}
	return t.b
}
