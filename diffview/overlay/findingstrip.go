package overlay

import (
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// findingStrip is the panels side by side with the findings about runs on them.
type findingStrip struct {
	*assembled
	pins  *pins
	where map[string]laid
	runs  []curve.Path // the edges of the runs that findings are about, y up
}

// aboutRun tells whether a finding is about a line that goes on across pieces.
func (f finding) aboutRun() bool { return strings.HasPrefix(f.ID, "run.") }

// newFindingStrip lays out the strip; nil where no finding about a run lies on a
// panel of it.
func newFindingStrip(c *compare.Change, g *pattern.Garment, list []finding) *findingStrip {
	s := &findingStrip{assembled: sideBySide(c, g, true), pins: &pins{}, where: map[string]laid{}}
	for _, l := range s.list {
		s.where[l.piece.Name] = l
	}
	flagged := map[string]bool{}
	for _, f := range list {
		for _, spot := range f.spots {
			if s.shows(f, spot) {
				flagged[f.Subject] = true
				spot.at = s.where[spot.piece].at.Add(spot.at)
				spot.lines = nil
				s.pins.add(newPin(f, spot))
			}
		}
	}
	if len(s.pins.list) == 0 {
		return nil
	}
	for _, r := range g.Runs {
		if flagged[r.Name] {
			s.run(r)
		}
	}
	s.name()
	s.room = s.room.union(s.pins.place(s.room, s.flat(), s.nameBoxes()))
	s.room.x0 -= s.lane
	return s
}

// shows tells whether a spot of a finding stands on the strip.
func (s *findingStrip) shows(f finding, spot findingSpot) bool {
	if s == nil || !f.aboutRun() {
		return false
	}
	_, ok := s.where[spot.piece]
	return ok
}

// run takes up the edges of a run.
func (s *findingStrip) run(r pattern.Run) {
	for _, ref := range r.Refs {
		l, ok := s.where[ref.Piece]
		if !ok {
			continue
		}
		if i := l.piece.EdgeIndex(ref.Edge); i >= 0 {
			s.runs = append(s.runs, l.piece.EdgePath(i).Transform(curve.Translate(l.at.X, l.at.Y)))
		}
	}
}

// nameBoxes gives the room of the panels' names.
func (s *findingStrip) nameBoxes() []rect {
	var out []rect
	for _, n := range s.names {
		for i, line := range n.lines {
			out = append(out, textBox(n.at.X, n.at.Y+lead(strong())*float64(i), line, strong().Middle()).grow(0.5))
		}
	}
	return out
}

// draw puts the strip down with its upper left corner at x, y.
func (s *findingStrip) draw(pg *page, x, y float64) {
	pg.pen.Group()
	s.assembled.draw(pg, x, y)
	origin := curve.Pt(tenth(x-s.room.x0), tenth(y-s.room.y0))
	pg.findingLines(origin, s.runs, nil)
	s.pins.draw(pg, origin)
	pg.pen.End()
}
