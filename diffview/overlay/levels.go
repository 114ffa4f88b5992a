package overlay

import "seamkeep/pattern/compare"

// levelGroup is a figure that is given for each level.
type levelGroup struct {
	label string
	list  []compare.AtLevel
}

// levelRow is one line of a table by levels.
type levelRow struct {
	label, kind string
	values      map[string]string
	style       style
}

// kindRoom is the room of the words before, after and change.
const kindRoom = 21.0

// levelTable writes figures per level: before, after and the change, or one row
// where no level shows a change. Levels that do not fit beside each other begin
// a new band.
func (s *stack) levelTable(groups []levelGroup) {
	var rows []levelRow
	var levels []string
	labels := 0.0
	seen := map[string]bool{}
	for _, g := range groups {
		rows = append(rows, pairRows(g)...)
		labels = max(labels, plain().Width(g.label)+2)
		for _, l := range g.list {
			if !seen[l.Level] {
				seen[l.Level] = true
				levels = append(levels, l.Level)
			}
		}
	}
	labels = min(labels, 0.26*s.width)
	room := s.width - labels - kindRoom
	for len(levels) > 0 {
		n, used := 0, 0.0
		for n < len(levels) {
			w := levelRoom(levels[n], room)
			if n > 0 && used+w > room {
				break
			}
			n, used = n+1, used+w
		}
		s.levelBand(labels, room, levels[:n], rows)
		levels = levels[n:]
	}
}

// levelRoom is the width of a level's column; a longer name is cut.
func levelRoom(level string, most float64) float64 {
	return min(max(small().Width(level)+3, 19), 50, most)
}

func (s *stack) levelBand(labels, room float64, levels []string, rows []levelRow) {
	var head []cell
	at := make([]float64, len(levels))
	x := labels + kindRoom
	for i, l := range levels {
		x += levelRoom(l, room)
		at[i] = x
		head = append(head, cell{x, levelRoom(l, room) - 1.5, l, small().End()})
	}
	s.row(head...)
	s.ruleTo(x)
	for i, r := range rows {
		if !r.hasAny(levels) {
			continue
		}
		if i > 0 && r.label != "" && rows[i-1].kind == "change" {
			s.space(1.5)
		}
		cells := []cell{{0, labels - 1, r.label, plain()}, {labels, kindRoom - 1, r.kind, r.style}}
		for j, l := range levels {
			cells = append(cells, cell{at[j], levelRoom(l, room) - 1.5, r.values[l], r.style.End()})
		}
		s.row(cells...)
	}
	s.space(1)
}

// hasAny tells whether the row has a figure for one of the levels.
func (r levelRow) hasAny(levels []string) bool {
	for _, l := range levels {
		if _, ok := r.values[l]; ok {
			return true
		}
	}
	return false
}

// pairRows gives the rows before, after and change, or one row where no level
// shows a change.
func pairRows(g levelGroup) []levelRow {
	before, after, change := map[string]string{}, map[string]string{}, map[string]string{}
	differs, was, is := false, false, false
	for _, l := range g.list {
		before[l.Level], after[l.Level] = optional(l.Before), optional(l.After)
		change[l.Level] = difference(l.Pair)
		differs = differs || l.Differs(seen)
		was, is = was || l.Before.Set, is || l.After.Set
	}
	switch {
	case was && !is:
		return []levelRow{{g.label, "before", before, plain()}}
	case is && !was:
		return []levelRow{{g.label, "after", after, plain()}}
	case !differs:
		return []levelRow{{g.label, "same", after, plain()}}
	}
	return []levelRow{{g.label, "before", before, plain()}, {"", "after", after, plain()}, {"", "change", change, strong()}}
}
