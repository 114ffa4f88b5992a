package overlay

import (
	"math"

	"seamkeep/pattern"
)

// jointTable lists all joints: how far the line turns and how far the corners are
// apart, also before where there is an earlier version.
func (s *stack) jointTable(a *assembled, was *pattern.Garment) {
	if len(a.joints) == 0 {
		return
	}
	s.line("Where tops and hems cross seams", heading())
	s.space(1)
	old := map[string]joint{}
	if was != nil {
		for _, j := range jointsOf(was, besides(was)) {
			old[j.key()] = j
		}
	}
	const number, gap = 23.0, 3.0
	columns := 2.0
	if was != nil {
		columns = 4
	}
	width := min(s.width, columnMax)
	room := width - columns*(number+gap) - 6
	lines, seams := 0.38*room, 0.62*room
	x := room + 6
	at := func(i int) float64 { return x + float64(i)*(number+gap) + number }
	h := small()
	head := []cell{{0, lines - 2, "line", h}, {lines, seams - 2, "seam", h}}
	titles := []string{"turn", "step"}
	if was != nil {
		titles = []string{"turn before", "turn after", "step before", "step after"}
	}
	for i, t := range titles {
		head = append(head, cell{at(i), number + gap - 1, t, h.End()})
	}
	s.row(head...)
	s.ruleTo(width)
	over := func(v pattern.Opt, kind string) style {
		if math.Abs(v.Value) > a.g.ToleranceOf(kind) {
			return strong()
		}
		return plain()
	}
	for _, j := range a.joints {
		st := plain()
		if !j.fine {
			st = strong()
		}
		cells := []cell{{0, lines - 2, j.line, st}, {lines, seams - 2, j.seam, st}}
		values := []string{bends(j.kink), stepped(j.step)}
		styles := []style{over(j.kink, "turn"), over(j.step, "step")}
		if was != nil {
			b := old[j.key()]
			values = []string{bends(b.kink), values[0], stepped(b.step), values[1]}
			styles = []style{over(b.kink, "turn"), styles[0], over(b.step, "step"), styles[1]}
		}
		for i, v := range values {
			cells = append(cells, cell{at(i), number + gap - 1, v, styles[i].End()})
		}
		s.row(cells...)
	}
	s.space(1)
	s.para("A turn out is a point of the sewn edge, a turn in a dent. Heavy: a turn over "+compact(a.g.ToleranceOf("turn"))+"\u00b0, a step over "+compact(a.g.ToleranceOf("step"))+" mm.", small(), 3)
}

// stepped gives a step by its size.
func stepped(step pattern.Opt) string {
	if !step.Set {
		return "\u2013"
	}
	return mm(math.Abs(step.Value))
}
