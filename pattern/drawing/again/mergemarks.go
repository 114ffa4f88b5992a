package again

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// side tells which of two versions of a record a merge takes.
type side int

const (
	nows side = iota
	drawns
	both
)

// pick compares three versions of a record; nil stands for none.
func pick[T any](base, now, drawn *T) side {
	switch {
	case pattern.Same(drawn, base), pattern.Same(now, drawn):
		return nows
	case pattern.Same(now, base):
		return drawns
	}
	return both
}

// settle tells whether the drawing's version is taken, and notes a conflict.
func (m *merging) settle(s side, what string) bool {
	if s != both {
		return s == drawns
	}
	if m.take != TakeDrawing && m.take != TakePattern {
		m.problems = append(m.problems, problem(m.now, "conflict", diag.Error, "", fmt.Sprintf(
			"the %s was changed in both since the drawing was made", what), "a change on one side only",
			"--take drawing or --take pattern picks a side for it"))
	}
	return m.take == TakeDrawing
}

// marks merges the marks one by one, known by kind and name.
func (m *merging) marks() {
	find := func(list []pattern.Mark, name string) *pattern.Mark {
		for i := range list {
			if markName(list[i]) == name {
				return &list[i]
			}
		}
		return nil
	}
	var out []pattern.Mark
	seen := map[string]bool{}
	for _, list := range [][]pattern.Mark{m.now.Marks, m.drawn.Marks} {
		for i := range list {
			name := markName(list[i])
			if seen[name] {
				continue
			}
			seen[name] = true
			now, drawn := find(m.now.Marks, name), find(m.drawn.Marks, name)
			from := now
			if m.settle(pick(find(m.base.Marks, name), now, drawn), name) {
				from = drawn
			}
			if from != nil {
				out = append(out, *pattern.Clone(from))
			}
		}
	}
	m.piece.Marks = out
}

func (m *merging) grain() {
	if m.settle(pick(m.base.Grain, m.now.Grain, m.drawn.Grain), "grain") {
		m.piece.Grain = pattern.Clone(m.drawn.Grain)
	}
}
