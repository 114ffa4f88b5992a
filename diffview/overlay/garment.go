package overlay

import (
	"sort"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/svg"
)

// fromTop sorts levels from the highest down.
func fromTop(levels []pattern.Level) []pattern.Level {
	out := append([]pattern.Level(nil), levels...)
	sort.SliceStable(out, func(i, j int) bool { return out[i].Y > out[j].Y })
	return out
}

func levelData(l pattern.Level) []svg.Attr { return []svg.Attr{svg.A("data-level", l.Name)} }

// garmentBlocks hold what the change did to the garment as a whole.
func garmentBlocks(c *compare.Change, width float64) []*stack {
	var out []*stack
	add := func(title string, fill func(s *stack)) {
		s := &stack{width: width}
		s.line(title, heading())
		s.space(1)
		fill(s)
		out = append(out, s)
	}
	if groups, pressed := garmentFigures(c); len(groups) > 0 {
		add("Garment", func(s *stack) {
			s.levelTable(groups)
			if pressed {
				s.space(1)
				s.para("% is the garment's girth against the body's: + larger, \u2212 smaller. "+check.Caution, small(), 10)
			}
		})
	}
	if list := changedSeams(c); len(list) > 0 {
		add("Seams", func(s *stack) { s.seams(list) })
	}
	if len(c.Records) > 0 {
		add("Garment file", func(s *stack) { s.para(joined(c.Records), plain(), 20) })
	}
	return out
}

func known(list []compare.AtLevel) bool {
	for _, l := range list {
		if l.Before.Set || l.After.Set {
			return true
		}
	}
	return false
}

func equalFigures(a, b []compare.AtLevel) bool {
	for i := range a {
		if i >= len(b) || a[i].Pair != b[i].Pair {
			return false
		}
	}
	return len(a) == len(b)
}

// joined lists records, with a real arrow.
func joined(records []string) string {
	return strings.ReplaceAll(strings.Join(records, "; "), "->", "\u2192")
}

// garmentFigures gives girths, gaps and, where the body is known, how the
// garment presses, which asks for the caution.
func garmentFigures(c *compare.Change) (groups []levelGroup, pressed bool) {
	add := func(label string, list []compare.AtLevel) bool {
		if !known(list) {
			return false
		}
		groups = append(groups, levelGroup{label, list})
		return true
	}
	add("girth", c.Girths)
	if !equalFigures(c.Worn, c.Girths) {
		add("girth worn", c.Worn)
	}
	for _, g := range c.Gaps {
		add("gap "+g.Closure, g.Levels)
	}
	if c.Body == nil {
		return groups, false
	}
	worn, shut := presses(c)
	pressed = add("% worn", worn)
	return groups, add("% laced shut", shut) || pressed
}

// presses pairs the percentages of both versions by level.
func presses(c *compare.Change) (worn, shut []compare.AtLevel) {
	find := func(list []check.Press, level string, of func(check.Press) (float64, bool)) pattern.Opt {
		for _, p := range list {
			if p.Level == level {
				if v, ok := of(p); ok {
					return pattern.Some(v)
				}
			}
		}
		return pattern.Opt{}
	}
	var before, after []check.Press
	if c.Before != nil {
		before = check.Presses(c.Before, c.Body)
	}
	if c.After != nil {
		after = check.Presses(c.After, c.Body)
	}
	asWorn := func(p check.Press) (float64, bool) { return p.AsWorn, true }
	laced := func(p check.Press) (float64, bool) { return p.LacedShut, p.HasLacing }
	for _, level := range c.Levels {
		w := compare.AtLevel{Level: level, Pair: compare.Pair{Before: find(before, level, asWorn), After: find(after, level, asWorn)}}
		if w.Before.Set || w.After.Set {
			worn = append(worn, w)
		}
		l := compare.AtLevel{Level: level, Pair: compare.Pair{Before: find(before, level, laced), After: find(after, level, laced)}}
		if l.Before.Set || l.After.Set {
			shut = append(shut, l)
		}
	}
	return worn, shut
}

// changedSeams gives the seams whose sides changed.
func changedSeams(c *compare.Change) []compare.SeamChange {
	var out []compare.SeamChange
	for _, s := range c.Seams {
		if s.Difference.Differs(0.001) || s.Lengths[0].Differs(0.001) || s.Lengths[1].Differs(0.001) || s.Worst.Differs(0.001) {
			out = append(out, s)
		}
	}
	return out
}

// seams lists both sides of seams and how far they are apart, before and after.
func (s *stack) seams(list []compare.SeamChange) {
	h, side, apart := small(), 36.0, 32.0
	name := s.width - 2*side - apart
	s.row(cell{0, name, "seam", h}, cell{name + side, side - 1, "first side", h.End()},
		cell{name + 2*side, side - 1, "second side", h.End()}, cell{s.width, apart - 1, "difference", h.End()})
	s.rule()
	for _, c := range list {
		s.row(cell{0, name, c.Name, plain()}, cell{name + side, side - 1, course(c.Lengths[0]), plain().End()},
			cell{name + 2*side, side - 1, course(c.Lengths[1]), plain().End()}, cell{s.width, apart - 1, course(c.Difference), strong().End()})
	}
}

// course gives a figure before and after.
func course(p compare.Pair) string {
	switch {
	case !p.Before.Set:
		return "new " + optional(p.After)
	case !p.After.Set:
		return "was " + optional(p.Before)
	case !p.Differs(seen):
		return optional(p.After)
	}
	return optional(p.Before) + " \u2192 " + optional(p.After)
}
