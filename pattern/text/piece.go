package text

import (
	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// pieceGrammar is the table of a piece file.
func pieceGrammar() grammar[pattern.Piece] {
	return grammar[pattern.Piece]{
		kind: PieceFile,
		rules: []rule[pattern.Piece]{
			{words: []string{"title"}, form: `"TEXT"`, read: readPieceTitle, print: printPieceTitle},
			{words: []string{"was"}, form: "NAME", read: readWas, print: printWas},
			{words: []string{"cloth"}, form: `"TEXT" COUNT pair | alike | on fold EDGE`, read: readCloth, print: printCloths},
			{words: []string{"grain"}, form: "X Y to X Y", read: readGrain, print: printGrain},
			{words: []string{"corner"}, form: "NAME X Y [was NAME]", part: outline, read: readCorner, print: printOutline},
			{words: []string{"edge"}, form: "NAME [length NUMBER] [was NAME]", part: outline, read: readEdge},
			{words: []string{"line"}, form: "to X Y | to corner", seg: true, read: readSegment},
			{words: []string{"curve"}, form: "X Y X Y to X Y | to corner", seg: true, read: readSegment},
			{words: []string{"levels"}, form: "none", part: marks, read: readNoLevels, print: printNoLevels},
			{words: []string{"level"}, form: "NAME Y", part: marks, read: readPieceLevel, print: printPieceLevels},
			{words: []string{"notch"}, form: "NAME on EDGE at LEVEL [nearest CORNER] | NUMBER above | below LEVEL | NUMBER from CORNER",
				part: marks, read: readNotch, print: printNotches},
			{words: lineMarks(), form: "NAME {OPTION} from X Y [to X Y]", part: marks, read: readMark, print: printMarks},
			{words: pointMarks(), form: "NAME X Y {OPTION}", part: marks, read: readMark},
		},
		start:  func(p *pattern.Piece, at diag.Place, name string) { p.Name, p.Place = name, at; p.Place.Piece = name },
		finish: finishPiece,
		settle: Lengths,
		follow: followOutline,
		equal:  pattern.EqualPieces,
	}
}

// ReadPiece reads a piece file. path is a path with slashes: it stands in
// every place, and its base name without ".piece" is the piece's name. All
// problems are reported. The piece is nil where nothing could be read, for
// example because a newer version wrote the file (IDNewer). Where there are
// errors it holds what could be read, good only to look for further problems.
func ReadPiece(path string, src []byte) (*pattern.Piece, diag.List) {
	p, problems, _ := read(pieceGrammar(), path, src, nil)
	return p, problems
}

// PrintPiece gives the canonical text of a piece. Numbers are rounded to
// 0.001. What no file can say, such as a name with a space, is written all the
// same: ReadPiece will refuse it.
func PrintPiece(p *pattern.Piece) []byte { return printModel(pieceGrammar(), p) }

func readPieceTitle(c *record, _ string, p *pattern.Piece) {
	c.about("title", "")
	p.Title = c.text("the title")
}

func printPieceTitle(p *pattern.Piece, s *sheet) {
	if p.Title != "" {
		s.record(head, "title", "", "title").text(p.Title).done()
	}
}

func readWas(c *record, _ string, p *pattern.Piece) {
	c.about("was", "")
	p.Was = c.name("the piece's former name")
}

func printWas(p *pattern.Piece, s *sheet) {
	if p.Was != "" {
		s.record(head, "was", "", "was").word(p.Was).done()
	}
}

func readCloth(c *record, _ string, p *pattern.Piece) {
	cl := pattern.Cloth{Place: c.recordPlace()}
	cl.Name = c.text("the name of the cloth")
	c.about("cloth", cl.Name)
	cl.Count = c.whole("how many are cut", 1)
	switch c.need("pair", "alike", "on") {
	case "pair":
		cl.Cut = pattern.Pair
	case "alike":
		cl.Cut = pattern.Alike
	case "on":
		c.need("fold")
		cl.Cut = pattern.OnFold
		cl.Fold = c.mention("the edge on the fold")
	}
	p.Cloths = append(p.Cloths, cl)
}

func printCloths(p *pattern.Piece, s *sheet) {
	for _, cl := range p.Cloths {
		l := s.record(head, "cloth", cl.Name, "cloth").text(cl.Name).number(float64(cl.Count)).word(string(cl.Cut))
		if cl.Cut == pattern.OnFold {
			l.word(cl.Fold.Name)
		}
		l.done()
	}
}

func readGrain(c *record, _ string, p *pattern.Piece) {
	c.about("grain", "")
	g := pattern.Grain{Place: c.recordPlace()}
	c.point(&g.From.X, &g.From.Y)
	c.need("to")
	c.point(&g.To.X, &g.To.Y)
	if !c.failed && !c.r.marked && g.From == g.To {
		c.r.bad(c.r.tokens[0].at, IDRange, "a grain line without length", "two different points", c.hint())
	}
	p.Grain = &g
}

func printGrain(p *pattern.Piece, s *sheet) {
	if g := p.Grain; g != nil {
		s.record(head, "grain", "", "grain").point(g.From.X, g.From.Y).word("to").point(g.To.X, g.To.Y).done()
	}
}

func readNoLevels(c *record, _ string, p *pattern.Piece) {
	c.about("levels", "")
	c.need("none")
	p.NoLevels = true
}

func printNoLevels(p *pattern.Piece, s *sheet) {
	if p.NoLevels {
		s.record(marks, "levels", "", "levels").word("none").done()
	}
}

func readPieceLevel(c *record, _ string, p *pattern.Piece) { p.Levels = append(p.Levels, c.level()) }

func printPieceLevels(p *pattern.Piece, s *sheet) { printLevels(marks, p.Levels, s) }

// level reads a level of a piece or of a garment.
func (c *record) level() pattern.Level {
	l := pattern.Level{Place: c.recordPlace(), Name: c.name("the name of the level")}
	c.declare("level", l.Name)
	l.Y = c.number("its height above the waist in mm", anyNumber)
	return l
}

func printLevels(p part, levels []pattern.Level, s *sheet) {
	for _, l := range levels {
		s.record(p, "level", l.Name, "level").word(l.Name).number(l.Y).done()
	}
}
