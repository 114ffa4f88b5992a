package overlay

import (
	"fmt"
	"strings"

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
	s.markTable(f)
	if other := otherRecords(f.change, f.marks); len(other) > 0 {
		s.space(2)
		s.para("Also changed: "+joined(other), plain(), 12)
	}
	s.oldLevels(f)
	s.strips(f)
	if f.detail != nil {
		s.detail(f.detail)
	}
	return s
}

// pieceHead names the piece and the cloth that it gained and lost.
func (s *stack) pieceHead(f *figure) {
	s.para(f.change.Name, heading(), 4)
	c := f.whole
	switch {
	case c.Before == nil && c.After != nil:
		s.line(string(c.Status)+from(c.Was)+", "+squares(c.Area.After.Value), small())
	case c.After == nil:
		s.line("removed, was "+squares(c.Area.Before.Value), small())
	case c.Status == compare.Moved:
		s.para(c.Sentence(), small(), 3)
	case c.Moved && f.faulty():
		s.para("no areas: an outline is faulty", small(), 3)
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
	if v >= 1 {
		return "+" + squares(v)
	}
	return squares(v)
}

// edgeColumns are the places of an edge table's columns, mm from its left.
type edgeColumns struct {
	tags, names, moves                     float64 // room
	atName, atBefore, atAfter, atDelta, at float64
}

const numberRoom = 19.0

// edgeColumnsOf shares the width: names and movements get what they need; where
// that is too much, the movements give way first, to half of the room.
func edgeColumnsOf(rows []edgeRow, width float64) edgeColumns {
	h := small()
	c := edgeColumns{moves: h.Width("moved sideways") + 1, names: h.Width("edge") + 2}
	for _, r := range rows {
		c.tags = max(c.tags, tagWidth(r.number))
		c.moves = max(c.moves, rowStyle(r.edge).Width(moved(r.edge))+1)
		c.names = max(c.names, rowStyle(r.edge).Width(r.edge.Name)+2)
	}
	c.atName = c.tags + 3
	room := width - c.atName - 3*numberRoom - 5
	c.moves = max(min(c.moves, room-c.names), min(c.moves, 0.55*room))
	c.names = min(c.names, room-c.moves)
	c.atBefore = c.atName + c.names + numberRoom
	c.atAfter = c.atBefore + numberRoom
	c.atDelta = c.atAfter + numberRoom
	c.at = c.atDelta + 5
	return c
}

// edgeTable lists the edges: number, name, length before and after, movement.
func (s *stack) edgeTable(f *figure) {
	if len(f.rows) == 0 {
		return
	}
	c := edgeColumnsOf(f.rows, s.width)
	h := small()
	s.row(
		cell{c.atName, c.names, "edge", h}, cell{c.atBefore, numberRoom, "before", h.End()},
		cell{c.atAfter, numberRoom, "after", h.End()}, cell{c.atDelta, numberRoom, "length", h.End()},
		cell{c.at, c.moves, "moved sideways", h})
	s.rule()
	for _, r := range f.rows {
		st := rowStyle(r.edge)
		title := sentence(f.change.Name, r.edge)
		first, second := r.movements(c.moves)
		s.add(0, func(pg *page, x, y float64) {
			pg.pen.Titled(title, svg.A("data-row", f.change.Name+"."+r.edge.Name))
			pg.tag(curve.Pt(x+c.tags/2, y+2.75), r.number, !r.edge.Lies())
		})
		s.row(
			cell{c.atName, c.names, r.edge.Name, st},
			cell{c.atBefore, numberRoom, optional(r.edge.Length.Before), st.End()},
			cell{c.atAfter, numberRoom, optional(r.edge.Length.After), st.End()},
			cell{c.atDelta, numberRoom, difference(r.edge.Length), st.End()},
			cell{c.at, c.moves, first, st})
		s.add(0, func(pg *page, _, _ float64) { pg.pen.End() })
		if second != "" {
			s.row(cell{c.at, c.moves, second, st})
		}
		s.space(0.8)
	}
	if n := len(f.change.Edges) - len(f.rows); n > 0 {
		s.line("and "+plural(n, "edge", "edges")+" more, not listed", small())
	}
}

// movements gives how far an edge moved, the other way on a line of its own
// where both have no room beside each other.
func (r edgeRow) movements(room float64) (first, second string) {
	all := moved(r.edge)
	if at := strings.Index(all, ", "); at >= 0 && r.edge.Other.Distance >= seen && rowStyle(r.edge).Width(all) > room {
		return all[:at], all[at+2:]
	}
	return all, ""
}

func rowStyle(e compare.EdgeChange) style {
	if e.Lies() {
		return plain()
	}
	return strong()
}

// widths lists the piece's width at each level.
func (s *stack) widths(f *figure) {
	if len(f.change.Widths) > 0 {
		s.space(3)
		s.levelTable([]levelGroup{{"width", f.change.Widths}})
	}
}

// levelsAt gives how far along an edge, as it was, it crosses each level.
func levelsAt(g *pattern.Garment, p *pattern.Piece, names []pattern.Level, path curve.Path) map[string][]float64 {
	out := map[string][]float64{}
	for _, l := range names {
		y, ok := levelOn(g, p, l.Name)
		if !ok {
			continue
		}
		for _, hit := range path.CrossingsY(y) {
			out[l.Name] = append(out[l.Name], path.LengthTo(hit.Seg, hit.T, 0.001))
		}
	}
	return out
}
