package describe

import (
	"fmt"

	"seamkeep/pattern"
)

// proposeRuns proposes the hem and the top line across the panels that are sewn
// together one to the next.
func (d *draft) proposeRuns() {
	for _, line := range []struct {
		name, note string
		of         func(*standing) side
		meets      func(a, b *standing) bool // whether the line goes on over their seam
	}{
		{"hem", "", func(s *standing) side { return s.hem }, func(a, b *standing) bool { return a.hem.meets(a.back) && b.front.meets(b.hem) }},
		{"top", " (neckline, or whatever ends it above)", func(s *standing) side { return s.top }, func(a, b *standing) bool { return a.back.meets(a.top) && b.top.meets(b.front) }},
	} {
		for _, group := range d.groups(line.of, line.meets) {
			d.proposeRun(line.name, line.note, group)
		}
	}
}

// groups gives the stretches of at least two panels across which a line runs on.
func (d *draft) groups(of func(*standing) side, meets func(a, b *standing) bool) [][]side {
	next, _ := d.sewn()
	at := map[*standing]int{}
	for i, p := range d.panels {
		at[p] = i
	}
	var out [][]side
	var group []side
	end := func() {
		if len(group) > 1 {
			out = append(out, group)
		}
		group = nil
	}
	for k, p := range d.order {
		s := of(p)
		if !s.known() {
			end()
			continue
		}
		if len(group) > 0 {
			before := d.order[k-1]
			if next[at[before]] != at[p] || !meets(before, p) {
				end()
			}
		}
		group = append(group, s)
	}
	end()
	return out
}

// proposeRun proposes a run unless one of its edges is in a run or sewn.
func (d *draft) proposeRun(name, note string, group []side) {
	var refs []pattern.Ref
	_, bound := d.sewn()
	used := d.inRuns()
	for _, s := range group {
		if isBound(bound, s) || isBound(used, s) {
			return
		}
		list := s.refs()
		if name == "top" { // the outline runs to the front there
			for i, j := 0, len(list)-1; i < j; i, j = i+1, j-1 {
				list[i], list[j] = list[j], list[i]
			}
		}
		refs = append(refs, list...)
	}
	name = free(name, func(n string) bool { return d.g.Run(n) != nil || d.g.Piece(n) != nil })
	text := make([]string, len(refs))
	for i, r := range refs {
		text[i] = r.String()
	}
	d.add(Proposal{
		Kind: OfRun, Sentence: fmt.Sprintf("run %s%s, front to back: %s", name, note, words(text)),
		Edges: refs, Change: Change{Run: &pattern.Run{Name: name, Refs: append([]pattern.Ref{}, refs...)}},
	})
}

func (d *draft) inRuns() map[string]bool {
	used := map[string]bool{}
	for _, r := range d.g.Runs {
		for _, ref := range r.Refs {
			used[key(ref)] = true
		}
	}
	return used
}
