package overlay

import (
	"slices"
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
	runs  []curve.Path         // the edges of the runs that findings are about, y up
	about map[string][]finding // by the name of the run
	sewn  []*sewnLine          // these runs as they are sewn
}

// aboutRun tells whether a finding is about a line that can be followed across
// pieces. One that cannot is not drawn as a line.
func (f finding) aboutRun() bool {
	switch f.ID {
	case "run.broken", "run.twice", "run.turns-back":
		return false
	}
	return strings.HasPrefix(f.ID, "run.")
}

// newFindingStrip lays out the strip; nil where no finding about a run lies on a
// panel of it.
func newFindingStrip(c *compare.Change, g *pattern.Garment, list []finding) *findingStrip {
	s := &findingStrip{assembled: sideBySide(c, g, true), pins: &pins{}, where: map[string]laid{}, about: map[string][]finding{}}
	for _, l := range s.list {
		s.where[l.piece.Name] = l
	}
	for _, f := range list {
		if slices.ContainsFunc(f.spots, func(spot findingSpot) bool { return s.shows(f, spot) }) {
			s.about[f.Subject] = append(s.about[f.Subject], f)
		}
		for _, spot := range f.spots {
			if s.shows(f, spot) {
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
		if s.about[r.Name] != nil {
			s.run(r)
		}
	}
	for _, l := range sewnLines(s.assembled, nil) {
		if s.about[l.name] != nil {
			s.sewn = append(s.sewn, l)
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

// width is that of the widest of the strip and the sewn lines.
func (s *findingStrip) width() float64 {
	wide := s.room.width()
	for _, l := range s.sewn {
		wide = max(wide, l.room.width())
	}
	return wide
}

// findingStrip adds the strip, and below it the runs as they are sewn, where a kink
// is a kink, with the numbers of the findings that they are about.
func (s *stack) findingStrip(f *findingStrip) {
	s.space(rowGap)
	s.add(tenth(f.room.y1-f.room.y0), f.draw)
	if len(f.sewn) > 0 {
		s.space(rowGap)
		s.para(asSewn, heading(), 2)
	}
	for _, l := range f.sewn {
		s.space(4)
		s.add(pinSize+2.5, func(pg *page, x, y float64) {
			for _, about := range f.about[l.name] {
				w := pinWidth(about.number)
				pg.findingTag(curve.Pt(x+w/2, y+pinSize/2), about.number, about.Severity)
				x += w + 2*pinGap
			}
			pg.text(x+1, y+pinSize/2+0.36*strong().Size, l.name, strong())
		})
		s.add(tenth(l.room.y1-l.room.y0), l.draw)
	}
}
