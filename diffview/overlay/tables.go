package overlay

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// pieceBlock holds all words and figures of one piece.
func pieceBlock(f *figure, width float64) *stack {
	s := &stack{width: width}
	s.pieceHead(f)
	s.edgeTable(f)
	s.widths(f)
	if len(f.change.Records) > 0 {
		s.space(2)
		s.para("Also changed: "+joined(f.change.Records), plain(), 12)
	}
	s.strips(f)
	if f.detail != nil {
		s.detail(f.detail)
	}
	return s
}

// pieceHead names the piece and the cloth that it gained and lost.
func (s *stack) pieceHead(f *figure) {
	s.para(f.change.Name, heading(), 4)
	c := f.change
	switch {
	case c.Status == compare.Added:
		s.line("added, "+squares(c.Area.After.Value), small())
	case c.Status == compare.Removed:
		s.line("removed, was "+squares(c.Area.Before.Value), small())
	case c.Moved:
		d, _ := c.Area.Delta()
		gained, lost := f.areas.sum()
		words := fmt.Sprintf("area %s to %s", squares(c.Area.Before.Value), squares(c.Area.After.Value))
		switch {
		case f.areas.unsure:
			words += ", together " + signedSquares(d) + "; where the lines tangle no area is painted"
		default:
			words += fmt.Sprintf(": gained %s, lost %s", squares(gained), squares(lost))
		}
		s.para(words, small(), 3)
	}
}

func signedSquares(v float64) string {
	if t := signed(v / 100); t != "=" {
		return t + " cm\u00b2"
	}
	return "="
}

// edgeTable lists the edges: number, name, length before and after, movement.
func (s *stack) edgeTable(f *figure) {
	if len(f.rows) == 0 {
		return
	}
	var moves float64
	for _, r := range f.rows {
		moves = max(moves, rowStyle(r.edge).width(moved(r.edge)))
	}
	moves = min(moves, s.width-140)
	const tagRoom, number = 9.0, 19.0
	atMove := s.width - moves
	atDelta := atMove - 5
	atAfter := atDelta - number
	atBefore := atAfter - number
	name := atBefore - number - tagRoom
	h := small()
	s.row(
		cell{tagRoom, name, "edge", h}, cell{atBefore, number, "before", h.end()}, cell{atAfter, number, "after", h.end()},
		cell{atDelta, number, "length", h.end()}, cell{atMove, moves, "moved sideways", h})
	s.rule()
	for _, r := range f.rows {
		st := rowStyle(r.edge)
		title := sentence(f.change.Name, r.edge)
		s.add(0, func(pg *page, x, y float64) {
			pg.pen.Titled(title, svg.A("data-row", f.change.Name+"."+r.edge.Name))
			pg.tag(curve.Pt(x+tagSize/2, y+2.75), r.number, r.edge.Status != compare.Unchanged)
		})
		s.row(
			cell{tagRoom + max(0, tagWidth(r.number)-tagSize), name, r.edge.Name, st},
			cell{atBefore, number, optional(r.edge.Length.Before), st.end()},
			cell{atAfter, number, optional(r.edge.Length.After), st.end()},
			cell{atDelta, number, difference(r.edge.Length), st.end()},
			cell{atMove, moves, moved(r.edge), st})
		s.add(0, func(pg *page, _, _ float64) { pg.pen.End() })
		s.space(0.4)
	}
	if n := len(f.change.Edges) - len(f.rows); n > 0 {
		s.line("and "+plural(n, "edge", "edges")+" more, not listed", small())
	}
}

func rowStyle(e compare.EdgeChange) style {
	if e.Status == compare.Unchanged {
		return plain()
	}
	return strong()
}

// widths lists the piece's width at each level.
func (s *stack) widths(f *figure) {
	if len(f.change.Widths) == 0 {
		return
	}
	s.space(3)
	s.levelTable("width at", f.change.Widths, nil)
}

// levelRow is one more row of a table by levels.
type levelRow struct {
	label  string
	values map[string]string
	strong bool
}

// levelTable writes figures per level: before, after and the change, or one row
// where nothing changed; further rows come after. Levels that do not fit beside
// each other begin a new band.
func (s *stack) levelTable(label string, list []compare.AtLevel, more []levelRow) {
	rows := append(pairRows(list), more...)
	labels := small().width(label)
	for _, r := range rows {
		labels = max(labels, r.style().width(r.label))
	}
	labels = min(labels, s.width/3) + 2
	column := 17.0
	for _, l := range list {
		column = max(column, small().width(l.Level)+3)
	}
	column = min(column, s.width-labels)
	n := max(1, int((s.width-labels)/column))
	for from := 0; from < len(list); from += n {
		band := list[from:min(from+n, len(list))]
		s.levelBand(label, labels, column, band, rows)
	}
}

func (s *stack) levelBand(label string, labels, column float64, band []compare.AtLevel, rows []levelRow) {
	head := []cell{{0, labels, label, small()}}
	for i, l := range band {
		head = append(head, cell{labels + column*float64(i+1), column - 1.5, l.Level, small().end()})
	}
	s.row(head...)
	s.rule()
	for _, r := range rows {
		cells := []cell{{0, labels, r.label, r.style()}}
		for i, l := range band {
			cells = append(cells, cell{labels + column*float64(i+1), column - 1.5, r.values[l.Level], r.style().end()})
		}
		s.row(cells...)
	}
}

func (r levelRow) style() style {
	if r.strong {
		return strong()
	}
	return plain()
}

// pairRows gives the rows before, after and change, or one row where no level
// shows a change.
func pairRows(list []compare.AtLevel) []levelRow {
	before, after, change := map[string]string{}, map[string]string{}, map[string]string{}
	differs, was, is := false, false, false
	for _, l := range list {
		before[l.Level], after[l.Level] = optional(l.Before), optional(l.After)
		change[l.Level] = difference(l.Pair)
		differs = differs || l.Differs(seen)
		was, is = was || l.Before.Set, is || l.After.Set
	}
	switch {
	case was && !is:
		return []levelRow{{"before", before, false}}
	case is && !was:
		return []levelRow{{"after", after, false}}
	case !differs:
		return []levelRow{{"as before", after, false}}
	}
	return []levelRow{{"before", before, false}, {"after", after, false}, {"change", change, true}}
}

// levelsAt gives how far along an edge, as it was, it crosses each level.
func levelsAt(g *pattern.Garment, p *pattern.Piece, names []pattern.Level, path curve.Path) map[string][]float64 {
	out := map[string][]float64{}
	for _, l := range names {
		y, ok := g.LevelOn(p, l.Name)
		if !ok {
			continue
		}
		for _, hit := range path.CrossingsY(y) {
			out[l.Name] = append(out[l.Name], path.LengthTo(hit.Seg, hit.T, 0.001))
		}
	}
	return out
}
