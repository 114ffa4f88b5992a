package text

import (
	"fmt"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// fittingGrammar is the table of a fitting file.
func fittingGrammar() grammar[pattern.Fitting] {
	return grammar[pattern.Fitting]{
		kind: FittingFile,
		rules: []rule[pattern.Fitting]{
			{words: []string{"date"}, form: "DATE", read: readFittingDate, print: printFittingDate},
			{words: []string{"version"}, form: "TAG | COMMIT", read: readFittingVersion, print: printFittingVersion},
			{words: []string{"body"}, form: "NAME", read: readFittingBody, print: printFittingBody},
			{words: []string{"square"}, form: "NUMBER x NUMBER", read: readSquare, print: printSquare},
			{words: []string{"gap"}, form: "CLOSURE at LEVEL [predicted NUMBER] [observed NUMBER]", read: readFittedGap, print: printFittedGaps},
			{words: []string{"pinned"}, form: "SEAM at LEVEL NUMBER", read: readPinned, print: printPinned},
			{words: []string{"moved"}, form: `"TEXT" ` + howForm(), read: readMoved, print: printMoved},
			{words: []string{"verdict"}, form: `"TEXT" ` + howForm(), read: readVerdict, print: printVerdicts},
			{words: []string{"note"}, form: `"TEXT"`, read: readFittingNote, print: printFittingNotes},
		},
		start:  func(f *pattern.Fitting, at diag.Place, name string) { f.Name, f.Place = name, at },
		finish: func(*reader, *pattern.Fitting) {},
		settle: func(*pattern.Fitting) {},
		follow: func(_, f *pattern.Fitting) *pattern.Fitting { return f },
		equal:  pattern.EqualFittings,
	}
}

// ReadFitting reads a fitting file; see ReadPiece. The names of closures, seams and
// levels are not looked up: a fitting speaks of the version that was cut.
func ReadFitting(path string, src []byte) (*pattern.Fitting, diag.List) {
	f, problems, _ := read(fittingGrammar(), path, src, nil)
	return f, problems
}

// PrintFitting gives the canonical text of a fitting; see PrintPiece.
func PrintFitting(f *pattern.Fitting) []byte { return printModel(fittingGrammar(), f) }

func hows() []string {
	var out []string
	for _, h := range pattern.Hows() {
		out = append(out, string(h))
	}
	return out
}

func howForm() string { return strings.Join(hows(), " | ") }

func readFittingDate(c *record, _ string, f *pattern.Fitting) {
	c.about("date", "")
	f.Date = c.date()
}

func printFittingDate(f *pattern.Fitting, s *sheet) {
	if f.Date != "" {
		s.record(head, "date", "", "date").word(f.Date).done()
	}
}

func readFittingVersion(c *record, _ string, f *pattern.Fitting) {
	c.about("version", "")
	f.Version = c.revision()
}

// revision takes the name of a version as git has it: letters, digits, dots, slashes,
// hyphens and underscores.
func (c *record) revision() string {
	t, ok := c.peek()
	if !ok || t.quoted {
		c.fail(IDSyntax, "a tag or a commit")
		return ""
	}
	if !Revision(t.text) {
		c.r.bad(t.at, IDName, fmt.Sprintf("the version %s", show(t.text)), "a tag or a commit", "letters, digits, dots, slashes, hyphens and underscores, at most 100, no hyphen first")
	}
	c.next++
	return t.text
}

// Revision tells whether a fitting can name a version so.
func Revision(s string) bool {
	for i, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '.', r == '/', r == '_', r == '-' && i > 0:
		default:
			return false
		}
	}
	return s != "" && len(s) <= 100
}

func printFittingVersion(f *pattern.Fitting, s *sheet) {
	if f.Version != "" {
		s.record(head, "version", "", "version").word(f.Version).done()
	}
}

func readFittingBody(c *record, _ string, f *pattern.Fitting) {
	c.about("body", "")
	f.Body = c.name("the name of a body")
}

func printFittingBody(f *pattern.Fitting, s *sheet) {
	if f.Body != "" {
		s.record(head, "body", "", "body").word(f.Body).done()
	}
}

func readSquare(c *record, _ string, f *pattern.Fitting) {
	c.about("square", "")
	sq := &pattern.Square{Place: c.recordPlace(), Across: c.number("the width of the square in mm", least)}
	c.need("x")
	sq.Along = c.number("the height of the square in mm", least)
	f.Square = sq
}

// least is the smallest size of a square that somebody measured, mm.
const least = 1

func printSquare(f *pattern.Fitting, s *sheet) {
	if f.Square != nil {
		s.record(head, "square", "", "square").number(f.Square.Across).word("x").number(f.Square.Along).done()
	}
}

func readFittedGap(c *record, _ string, f *pattern.Fitting) {
	g := pattern.FittedGap{Place: c.recordPlace(), Closure: c.name("a closure")}
	c.need("at")
	g.Level = c.name("a level")
	c.about("gap", between(g.Closure, g.Level))
	if c.accept("predicted") {
		c.option(&g.Predicted, "predicted", anyNumber)
	}
	if c.accept("observed") {
		c.option(&g.Observed, "observed", anyNumber)
	}
	f.Gaps = append(f.Gaps, g)
}

// between names what lies at a level; "" where one of the two could not be read.
func between(name, level string) string {
	if name == "" || level == "" {
		return ""
	}
	return name + " at " + level
}

func printFittedGaps(f *pattern.Fitting, s *sheet) {
	for _, g := range f.Gaps {
		s.record(head, "gap", between(g.Closure, g.Level), "gap").word(g.Closure, "at", g.Level).
			option("predicted", g.Predicted).option("observed", g.Observed).done()
	}
}

func readPinned(c *record, _ string, f *pattern.Fitting) {
	p := pattern.Pinned{Place: c.recordPlace(), Seam: c.name("a seam")}
	c.need("at")
	p.Level = c.name("a level")
	c.about("pinned", between(p.Seam, p.Level))
	p.Amount = c.number("what was pinned out in mm", anyNumber)
	f.Pinned = append(f.Pinned, p)
}

func printPinned(f *pattern.Fitting, s *sheet) {
	for _, p := range f.Pinned {
		s.record(head, "pinned", between(p.Seam, p.Level), "pinned").word(p.Seam, "at", p.Level).number(p.Amount).done()
	}
}

// verdict reads "TEXT" HOW; what stands in the key says what it is about.
func (c *record) verdict(kind, what string) pattern.Verdict {
	v := pattern.Verdict{Place: c.recordPlace(), Of: c.text(what)}
	c.about(kind, v.Of)
	v.How = pattern.How(c.need(hows()...))
	return v
}

func printVerdictsOf(word string, list []pattern.Verdict, s *sheet) {
	for _, v := range list {
		s.record(head, word, v.Of, word).text(v.Of).word(string(v.How)).done()
	}
}

func readMoved(c *record, _ string, f *pattern.Fitting) {
	f.Moved = append(f.Moved, c.verdict("moved", "the movement"))
}

func printMoved(f *pattern.Fitting, s *sheet) { printVerdictsOf("moved", f.Moved, s) }

func readVerdict(c *record, _ string, f *pattern.Fitting) {
	f.Verdicts = append(f.Verdicts, c.verdict("verdict", "the area"))
}

func printVerdicts(f *pattern.Fitting, s *sheet) { printVerdictsOf("verdict", f.Verdicts, s) }

// Notes have no name: each is known by its number among them.
func readFittingNote(c *record, _ string, f *pattern.Fitting) {
	f.Notes = append(f.Notes, pattern.Remark{Place: c.recordPlace(), Text: c.text("the note")})
	c.about("note", strconv.Itoa(len(f.Notes)))
}

func printFittingNotes(f *pattern.Fitting, s *sheet) {
	for i, n := range f.Notes {
		s.record(head, "note", strconv.Itoa(i+1), "note").text(n.Text).done()
	}
}
