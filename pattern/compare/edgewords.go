package compare

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern/curve"
)

// edgeWords tell what became of the edges: of one that was split, once for all
// its parts.
func (p PieceChange) edgeWords() []string {
	var out []string
	told := map[string]bool{} // names of edges that were split
	for _, e := range p.Edges {
		switch {
		case e.Status == Split && len(e.Was) == 1:
			if !told[e.Was[0]] {
				told[e.Was[0]] = true
				out = append(out, p.splitWords(e.Was[0]))
			}
		case e.Status == Renamed && len(e.Was) == 1:
			out = append(out, e.Was[0]+" is called "+e.Name+" now")
		case e.Status == Changed && len(e.Was) == 1:
			out = append(out, e.Was[0]+" is called "+e.Name+" now, "+e.movement())
		default:
			if s := e.Phrase(); s != "" {
				out = append(out, e.Name+" "+s)
			}
		}
	}
	return out
}

// splitWords tell what became of an edge that was split: "hem split in hem and
// e1, lowered 15.0 at middle".
func (p PieceChange) splitWords(was string) string {
	var parts []EdgeChange
	var names []string
	for _, e := range p.Edges {
		if e.Status == Split && len(e.Was) == 1 && e.Was[0] == was {
			parts, names = append(parts, e), append(names, e.Name)
		}
	}
	last := len(names) - 1
	text := was + " split in " + strings.Join(names[:last], ", ") + " and " + names[last]
	if whole := together(parts); whole.Redrawn() {
		text += ", " + whole.movement()
	}
	return text
}

// together gives the parts of an edge that was split as one edge: their movement
// is measured against the same old one.
func together(parts []EdgeChange) EdgeChange {
	whole := EdgeChange{Status: Split}
	at := map[string]bool{}
	for _, e := range parts {
		whole.redrawn = whole.redrawn || e.redrawn
		whole.Before, whole.After = append(whole.Before, e.Before...), append(whole.After, e.After...)
		whole.Length.Before.Value += e.Length.Before.Value
		whole.Length.After.Value += e.Length.After.Value
		if e.Movement.Out.Dist > whole.Movement.Out.Dist {
			whole.Movement.Out = e.Movement.Out
		}
		if e.Movement.In.Dist < whole.Movement.In.Dist {
			whole.Movement.In = e.Movement.In
		}
		for _, m := range []Move{e.Largest, e.Other} {
			whole.take(m)
		}
		for _, l := range e.AtLevels {
			if !at[l.Level] {
				at[l.Level] = true
				whole.AtLevels = append(whole.AtLevels, l)
			}
		}
	}
	whole.Length.Before.Set, whole.Length.After.Set = true, true
	return whole
}

// take keeps a movement where it is the largest of its direction so far.
func (e *EdgeChange) take(m Move) {
	if m.Direction == "" {
		return
	}
	own := &e.Largest
	if e.Largest.Direction != "" && e.Largest.Direction != m.Direction {
		own = &e.Other
	}
	if m.Distance > own.Distance {
		*own = m
	}
	if e.Other.Distance > e.Largest.Distance {
		e.Largest, e.Other = e.Other, e.Largest
	}
}

// Phrase tells what became of the edge: "let out 14.0 at bust", "1.2 longer";
// "" where nothing did.
func (e EdgeChange) Phrase() string {
	switch e.Status {
	case Added:
		return "added"
	case Removed:
		return "removed"
	case Unchanged:
		return ""
	case Renamed:
		return "was " + strings.Join(e.Was, ", ")
	}
	var parts []string
	switch {
	case e.Status == Split:
		parts = append(parts, "split off "+strings.Join(e.Was, ", "))
	case e.Status == Joined:
		parts = append(parts, "joined from "+strings.Join(e.Was, " and "))
	case len(e.Was) > 0:
		parts = append(parts, "was "+strings.Join(e.Was, ", "))
	}
	if e.Redrawn() {
		parts = append(parts, e.movement())
	}
	return strings.Join(parts, ", ")
}

// movement tells how an edge that lies elsewhere moved: "let out 14.0 at bust,
// 1.2 longer".
func (e EdgeChange) movement() string {
	var parts []string
	if s := e.sideways(1); s != "" {
		parts = append(parts, e.word(1)+" "+s)
	}
	if s := e.sideways(-1); s != "" {
		parts = append(parts, e.word(-1)+" "+s)
	}
	if d, ok := e.Length.Delta(); ok && math.Abs(d) >= Seen {
		word := "longer"
		if d < 0 {
			word = "shorter"
		}
		parts = append(parts, fmt.Sprintf("%.1f %s", math.Abs(d), word))
	}
	if len(parts) == 0 {
		return "moved by less than 0.05"
	}
	return strings.Join(parts, ", ")
}

// word is what the trade calls a movement of one sign: sides are let out and
// taken in, tops and hems are raised and lowered.
func (e EdgeChange) word(sign float64) string {
	line := e.Before
	if len(line) == 0 { // of the old edge nothing lay there
		line = e.After
	}
	along := curve.Point{} // summed up: the parts of an edge may stand in two places of the list
	for _, s := range line {
		along = along.Add(s.P3.Sub(s.P0))
	}
	if math.Abs(along.X) > math.Abs(along.Y) {
		most := e.Movement.Out
		if sign < 0 {
			most = e.Movement.In
		}
		if most.New.Y > most.Old.Y {
			return "raised"
		}
		return "lowered"
	}
	if sign < 0 {
		return "taken in"
	}
	return "let out"
}

// sideways lists the movement of one sign at the levels, or the largest one
// where no level shows it.
func (e EdgeChange) sideways(sign float64) string {
	var amounts, names []string
	for _, l := range e.AtLevels {
		if l.Distance*sign >= Seen {
			amounts, names = append(amounts, fmt.Sprintf("%.1f", l.Distance*sign)), append(names, l.Level)
		}
	}
	parts := eachLevel(amounts, names, len(e.AtLevels))
	direction := "out"
	if sign < 0 {
		direction = "in"
	}
	if len(parts) == 0 && e.Largest.Direction == direction && e.Largest.Distance >= Seen {
		parts = append(parts, fmt.Sprintf("%.1f at %s", e.Largest.Distance, e.Largest.At))
	}
	return strings.Join(parts, ", ")
}
