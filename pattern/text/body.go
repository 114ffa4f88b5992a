package text

import (
	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// bodyGrammar is the table of a body file.
func bodyGrammar() grammar[pattern.Body] {
	return grammar[pattern.Body]{
		kind: BodyFile,
		rules: []rule[pattern.Body]{
			{words: []string{"girth"}, form: "LEVEL NUMBER", read: readGirth, print: printGirths},
			{words: []string{"moves"}, form: "LEVEL NUMBER", read: readMoves, print: printMoves},
			{words: []string{"measured"}, form: "DATE", read: readMeasured, print: printMeasured},
			{words: []string{"note"}, form: `"TEXT"`, read: readNote, print: printNote},
		},
		start:  func(b *pattern.Body, at diag.Place, name string) { b.Name, b.Place = name, at },
		finish: func(*reader, *pattern.Body) {},
		settle: func(*pattern.Body) {},
		follow: func(_, b *pattern.Body) *pattern.Body { return b },
		equal:  pattern.EqualBodies,
	}
}

// ReadBody reads a body file; see ReadPiece.
func ReadBody(path string, src []byte) (*pattern.Body, diag.List) {
	b, problems, _ := read(bodyGrammar(), path, src, nil)
	return b, problems
}

// PrintBody gives the canonical text of a body; see PrintPiece.
func PrintBody(b *pattern.Body) []byte { return printModel(bodyGrammar(), b) }

func readGirth(c *record, word string, b *pattern.Body) {
	b.Girths = append(b.Girths, c.levelNumber(word, notBelow0))
}

func printGirths(b *pattern.Body, s *sheet) { printAmounts("girth", b.Girths, s) }

func readMoves(c *record, word string, b *pattern.Body) {
	b.Moves = append(b.Moves, c.levelNumber(word, notBelow0))
}

func printMoves(b *pattern.Body, s *sheet) { printAmounts("moves", b.Moves, s) }

func readMeasured(c *record, _ string, b *pattern.Body) {
	c.about("measured", "")
	b.Measured = c.date()
}

func printMeasured(b *pattern.Body, s *sheet) {
	if b.Measured != "" {
		s.record(head, "measured", "", "measured").word(b.Measured).done()
	}
}

func readNote(c *record, _ string, b *pattern.Body) {
	c.about("note", "")
	b.Note = c.text("the note")
}

func printNote(b *pattern.Body, s *sheet) {
	if b.Note != "" {
		s.record(head, "note", "", "note").text(b.Note).done()
	}
}
