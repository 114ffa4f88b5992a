package text

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// garmentGrammar is the table of a garment file.
func garmentGrammar() grammar[pattern.Garment] {
	return grammar[pattern.Garment]{
		kind: GarmentFile,
		rules: []rule[pattern.Garment]{
			{words: []string{"title"}, form: `"TEXT"`, read: readGarmentTitle, print: printGarmentTitle},
			{words: []string{"half"}, form: "left | right", read: readHalf, print: printHalf},
			{words: []string{"whole"}, read: readHalf},
			{words: []string{"body"}, form: "NAME", read: readBodyName, print: printBodyName},
			{words: []string{"rough"}, read: readRough, print: printRough},
			{words: []string{"require"}, form: "claims", read: readRequire, print: printRequire},
			{words: []string{"tolerance"}, form: "seam | notch | turn | step NUMBER [warn NUMBER]", read: readTolerance, print: printTolerances},
			{words: []string{"level"}, form: "NAME Y", read: readGarmentLevel, print: printGarmentLevels},
			{words: []string{"around"}, form: "PIECE {PIECE}", read: readAround, print: printAround},
			{words: []string{"piece"}, form: "NAME {stretch NUMBER [of NUMBER] | tested DATE | whole | apart | number COUNT}",
				read: readPieceOption, print: printPieceOptions},
			{words: []string{"thickness"}, form: "NUMBER", read: readThickness, print: printThickness},
			{words: []string{"give"}, form: "PERCENT", read: readGive, print: printGive},
			{words: []string{"cords"}, form: "LEVEL NUMBER", read: readAmount, print: printCords},
			{words: []string{"reduce"}, form: "LEVEL NUMBER", read: readAmount, print: printReduce},
			{words: []string{"calibrate"}, form: "LEVEL NUMBER", read: readAmount, print: printCalibrate},
			{words: []string{"seam"}, form: "NAME SIDE (SIDE | mirrored) [same-way] {ease NUMBER [from NOTCH to NOTCH]} [within NUMBER [warn NUMBER]]; SIDE is PIECE.EDGE {+ PIECE.EDGE}",
				read: readSeam, print: printSeams},
			{words: []string{"run"}, form: "NAME PIECE.EDGE {PIECE.EDGE}", read: readRun, print: printRuns},
			{words: []string{"closure"}, form: "NAME buttons | lacing | hooks | slide PIECE.EDGE [PIECE.EDGE] [overlap NUMBER] [length NUMBER]",
				read: readClosure, print: printClosures},
			{words: []string{"buttons"}, form: fasteningForm, read: readFastening, print: printButtons},
			{words: []string{"eyelets"}, form: fasteningForm, read: readFastening, print: printEyelets},
			{words: []string{"hooks"}, form: "CLOSURE {from LEVEL | pitch NUMBER | up COUNT | down COUNT | count COUNT | margin NUMBER}", read: readFastening, print: printHooks},
			{words: []string{"wanted"}, form: "gap CLOSURE at LEVEL NUMBER to NUMBER", read: readWanted, print: printWanted},
			{words: []string{"allowance"}, form: "[PIECE | PIECE.EDGE | RUN] NUMBER", read: readAllowance, print: printAllowances},
			{words: []string{"join"}, form: "PIECE | PIECE.EDGE | RUN mitre | square | fold | clip", read: readJoin, print: printJoins},
			{words: []string{"clearance"}, form: "bone | cord NUMBER", read: readClearance, print: printClearances},
			{words: []string{"accept"}, form: `FINDING SUBJECT (NUMBER | at PLACE NUMBER {at PLACE NUMBER}) "REASON"`, read: readAccepted, print: printAccepted},
		},
		start: func(g *pattern.Garment, at diag.Place, name string) {
			g.Name, g.Place = name, at
			g.Place.Garment = name
		},
		finish: finishGarment,
		settle: func(*pattern.Garment) {},
		follow: func(_, g *pattern.Garment) *pattern.Garment { return g },
		equal:  equalFiles,
	}
}

const fasteningForm = "CLOSURE {from LEVEL | pitch NUMBER | diameter NUMBER | thickness NUMBER | up COUNT | down COUNT | count COUNT | margin NUMBER}"

// ReadGarment reads a garment file, without its pieces; see ReadPiece.
func ReadGarment(path string, src []byte) (*pattern.Garment, diag.List) {
	g, problems, _ := read(garmentGrammar(), path, src, nil)
	return g, problems
}

// PrintGarment gives the canonical text of a garment file; its pieces have
// files of their own. See PrintPiece.
func PrintGarment(g *pattern.Garment) []byte { return printModel(garmentGrammar(), g) }

// equalFiles compares what stands in two garment files.
func equalFiles(a, b *pattern.Garment) bool {
	x, y := *a, *b
	x.Pieces, y.Pieces = nil, nil
	return pattern.Equal(&x, &y)
}

func finishGarment(r *reader, g *pattern.Garment) {
	if g.Half == "" && len(r.faulty) == 0 {
		r.reportAt(g.Place, IDRecordMissing, "no record that says how much of the garment is drawn",
			`"half left", "half right" or "whole"`, "")
	}
}

func readGarmentTitle(c *record, _ string, g *pattern.Garment) {
	c.about("title", "")
	g.Title = c.text("the title")
}

func printGarmentTitle(g *pattern.Garment, s *sheet) {
	if g.Title != "" {
		s.record(head, "title", "", "title").text(g.Title).done()
	}
}

func readHalf(c *record, word string, g *pattern.Garment) {
	c.about("half", "")
	g.Half = pattern.Whole
	if word == "half" {
		g.Half = pattern.Half(c.need("left", "right"))
	}
}

func printHalf(g *pattern.Garment, s *sheet) {
	switch g.Half {
	case "":
	case pattern.Whole:
		s.record(head, "half", "", "whole").done()
	default:
		s.record(head, "half", "", "half").word(string(g.Half)).done()
	}
}

func readBodyName(c *record, _ string, g *pattern.Garment) {
	c.about("body", "")
	g.Body = c.name("the name of a body")
}

func printBodyName(g *pattern.Garment, s *sheet) {
	if g.Body != "" {
		s.record(head, "body", "", "body").word(g.Body).done()
	}
}

func readRough(c *record, _ string, g *pattern.Garment) {
	c.about("rough", "")
	g.Rough = true
}

func printRough(g *pattern.Garment, s *sheet) {
	if g.Rough {
		s.record(head, "rough", "", "rough").done()
	}
}

func readRequire(c *record, _ string, g *pattern.Garment) {
	c.about("require", "")
	c.need("claims")
	g.RequireClaims = true
}

func printRequire(g *pattern.Garment, s *sheet) {
	if g.RequireClaims {
		s.record(head, "require", "", "require").word("claims").done()
	}
}

func readTolerance(c *record, _ string, g *pattern.Garment) {
	t := pattern.Tolerance{Place: c.recordPlace(), Kind: c.need("seam", "notch", "turn", "step")}
	c.about("tolerance", t.Kind)
	t.Value = c.number("how far it may be off", notBelow0)
	if c.accept("warn") {
		c.option(&t.Warn, "warn", notBelow0)
	}
	g.Tolerances = append(g.Tolerances, t)
}

func printTolerances(g *pattern.Garment, s *sheet) {
	for _, t := range g.Tolerances {
		s.record(head, "tolerance", t.Kind, "tolerance").word(t.Kind).number(t.Value).option("warn", t.Warn).done()
	}
}

func readGarmentLevel(c *record, _ string, g *pattern.Garment) {
	g.Levels = append(g.Levels, c.level())
}

func printGarmentLevels(g *pattern.Garment, s *sheet) { printLevels(head, g.Levels, s) }

func readAround(c *record, _ string, g *pattern.Garment) {
	c.about("around", "")
	seen := map[string]bool{}
	for more := true; more; _, more = c.peek() {
		at := c.at()
		m := c.mention("the name of a piece")
		m.Place.Piece = m.Name
		if seen[m.Name] && m.Name != "" {
			c.r.bad(at, IDNameTwice, fmt.Sprintf("piece %s a second time", m.Name), "each piece once", "")
		}
		seen[m.Name] = true
		g.Around = append(g.Around, m)
	}
}

func printAround(g *pattern.Garment, s *sheet) {
	if len(g.Around) == 0 {
		return
	}
	l := s.record(head, "around", "", "around")
	for _, m := range g.Around {
		l.word(m.Name)
	}
	l.done()
}

func readPieceOption(c *record, _ string, g *pattern.Garment) {
	o := pattern.PieceOption{Place: c.recordPlace(), Piece: c.name("the name of a piece")}
	o.Place.Piece = o.Piece
	c.about("piece", o.Piece)
	for !c.failed && c.pieceOption(&o) {
	}
	g.Options = append(g.Options, o)
}

// pieceOption reads one option of a piece; false where none follows.
func (c *record) pieceOption(o *pattern.PieceOption) bool {
	switch {
	case c.accept("stretch"):
		c.option(&o.Stretch, "stretch", notBelow0)
		if c.accept("of") {
			c.option(&o.Of, "of", notBelow0)
		}
	case c.accept("tested"):
		c.once("tested", o.Tested != "")
		o.Tested = c.date()
	case c.accept("whole"):
		c.once("whole", o.Whole)
		o.Whole = true
	case c.accept("apart"):
		c.once("apart", o.Apart)
		o.Apart = true
	case c.accept("number"):
		c.once("number", o.Number != 0)
		o.Number = c.whole("the number on labels", 1)
	default:
		return c.noOption("stretch", "tested", "whole", "apart", "number")
	}
	return true
}

// noOption ends a list of options: at the end of the record, or with a fault.
func (c *record) noOption(words ...string) bool {
	if _, more := c.peek(); more {
		c.need(words...)
	}
	return false
}

func printPieceOptions(g *pattern.Garment, s *sheet) {
	for _, o := range g.Options {
		l := s.record(head, "piece", o.Piece, "piece").word(o.Piece).option("stretch", o.Stretch).option("of", o.Of)
		l.named("tested", o.Tested).flag("whole", o.Whole).flag("apart", o.Apart)
		if o.Number != 0 {
			l.word("number").number(float64(o.Number))
		}
		l.done()
	}
}
