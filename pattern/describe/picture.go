package describe

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// Sizes of the picture, mm. It is narrow so that its words are large enough on a
// telephone; on an A4 sheet it can be printed larger.
const (
	sheetWidth = 150.0
	edgeRoom   = 6.0  // of white round all
	tallest    = 82.0 // a piece on the picture
	widest     = 100.0
	cellGap    = 2.0
)

// Picture draws the pieces side by side at the waist, front to back as far as it is
// known, each edge with the name that it will have once the proposed names are
// accepted, and at the edges of each proposal its number in a square; below stand
// the proposals in words. Marks, levels and the grain are drawn faint. It is reduced to a round scale, which it tells, and not for
// cutting. Opaque paper; grey and dark pages are readable.
//
// The proposals are those of Propose for the same garment and hints. An error is
// one of writing, or says what cannot be drawn.
func Picture(w io.Writer, g *pattern.Garment, ps []Proposal, h Hints) error {
	if g == nil {
		g = &pattern.Garment{}
	}
	named := pattern.Clone(g)
	named.SortPieces()
	var list []alter.NewName
	for _, p := range ps {
		list = append(list, p.Change.Names...)
	}
	if c, problem := alter.Rename(named, list); problem == nil {
		named = c
	}
	s := &sheet{g: named, list: ps}
	s.scale = scaleOf(named)
	s.layOut(h)
	return s.draw(w)
}

// sheet is the picture while it is laid out.
type sheet struct {
	g     *pattern.Garment
	list  []Proposal
	scale float64 // mm of cloth on a mm of the picture
	lane  float64 // room at the left for the names of levels
	rows  []sheetRow
}

// sheetRow is one row of cells with their waists in one line.
type sheetRow struct {
	cells      []*cell
	up, down   float64 // mm above and below the waist
	withLevels bool
}

// scaleOf finds the round scale at which every piece has room.
func scaleOf(g *pattern.Garment) float64 {
	need := 1.0
	for _, p := range g.Pieces {
		box := p.Outline().Bounds()
		if !box.Empty() {
			need = max(need, box.Height()/tallest, box.Width()/widest)
		}
	}
	for ten := 1.0; ; ten *= 10 {
		for _, k := range []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8} {
			if k*ten >= need {
				return k * ten
			}
		}
	}
}

// layOut makes a cell of each piece and puts them in rows.
func (s *sheet) layOut(h Hints) {
	for _, l := range s.g.Levels {
		s.lane = max(s.lane, svg.TextWidth(l.Name, levelSize)+2)
	}
	s.lane = min(s.lane, 30)
	room := sheetWidth - 2*edgeRoom - s.lane
	var row sheetRow
	used := 0.0
	for _, p := range s.inOrder(h) {
		c := s.cell(p)
		if len(row.cells) > 0 && used+c.room.width() > room {
			s.rows = append(s.rows, row)
			row, used = sheetRow{}, 0
		}
		row.cells = append(row.cells, c)
		row.up, row.down = max(row.up, -c.room.y0), max(row.down, c.room.y1)
		row.withLevels = row.withLevels || !p.NoLevels
		used += c.room.width() + cellGap
	}
	if len(row.cells) > 0 {
		s.rows = append(s.rows, row)
	}
}

// inOrder gives the pieces front to back, then the others.
func (s *sheet) inOrder(h Hints) []*pattern.Piece {
	var first []string
	for _, m := range s.g.Around {
		first = append(first, m.Name)
	}
	for _, p := range s.list {
		first = append(first, p.Change.Around...)
	}
	if len(first) == 0 {
		d := &draft{g: s.g, hints: h}
		d.seePanels()
		if order, ok := d.fromSheet(); ok {
			for _, i := range order {
				first = append(first, d.panels[i].piece.Name)
			}
		}
	}
	var out []*pattern.Piece
	done := map[string]bool{}
	add := func(p *pattern.Piece) {
		if p != nil && !done[p.Name] {
			out, done[p.Name] = append(out, p), true
		}
	}
	for _, name := range first {
		add(s.g.Piece(name))
	}
	for _, p := range s.g.Pieces {
		add(p)
	}
	return out
}

// draw writes the picture.
func (s *sheet) draw(w io.Writer) error {
	lines := s.words()
	height := edgeRoom + headRoom
	for _, r := range s.rows {
		height += r.up + r.down + rowGap
	}
	top := height
	for _, l := range lines {
		height += l.height()
	}
	title := "What is proposed for " + nameOf(s.g)
	pen := svg.New(w, svg.Picture{Width: sheetWidth, Height: math.Ceil(height + edgeRoom), Title: title, Desc: s.describe()})
	pen.Dark(svg.Shades()...)
	ink := ink{pen}
	size := titleSize * min(1, max(0.75, (sheetWidth-2*edgeRoom)/svg.BoldWidth(title, titleSize)))
	ink.text(edgeRoom, edgeRoom+5, svg.Shorten(title, size, (sheetWidth-2*edgeRoom)/1.1), svg.Style{Size: size, Bold: true})
	ink.text(edgeRoom, edgeRoom+10.5, fmt.Sprintf("scale 1 : %g, not for cutting; a square bears the number of a proposal,", s.scale), svg.Style{Size: listSize})
	ink.text(edgeRoom, edgeRoom+15.2, "a dashed one that of a question", svg.Style{Size: listSize})
	y := edgeRoom + headRoom
	for _, r := range s.rows {
		s.drawRow(ink, r, y+r.up)
		y += r.up + r.down + rowGap
	}
	ink.list(lines, top)
	return pen.Close()
}

func nameOf(g *pattern.Garment) string {
	if strings.TrimSpace(svg.CleanText(g.Title)) != "" {
		return g.Title
	}
	if g.Name != "" {
		return g.Name
	}
	return "the pieces"
}

// drawRow draws the levels, then the pieces, with the waist at y.
func (s *sheet) drawRow(ink ink, r sheetRow, y float64) {
	ink.pen.Group(svg.A("class", "row"))
	if r.withLevels {
		s.drawLevels(ink, r, y)
	}
	x := edgeRoom + s.lane
	for _, c := range r.cells {
		s.drawCell(ink, c, curve.Pt(tenth(x-c.room.x0), tenth(y)))
		x += c.room.width() + cellGap
	}
	ink.pen.End()
}

// describe says what is proposed, for readers who do not see it.
func (s *sheet) describe() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Pieces at scale 1 : %g, not for cutting.", s.scale)
	for _, p := range s.list {
		if b.Len() > mostWords {
			b.WriteString(" And more.")
			break
		}
		fmt.Fprintf(&b, " %d: %s.", p.Number, p.Sentence)
	}
	return b.String()
}

// mostWords bounds the description; the picture itself holds everything.
const mostWords = 6000

// tenth rounds up to 0.1 mm, so that a figure's origin costs its points none of
// their three decimals.
func tenth(v float64) float64 { return math.Ceil(v*10-1e-9) / 10 }
