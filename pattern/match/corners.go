package match

import (
	"seamkeep/pattern"
)

// Corners matches the corners of two versions of a piece: by name, by was where
// the other version lacks the name, by place after Register's movement, and
// then, where edges are given, as the corner between the same two edges.
func Corners(a, b *pattern.Piece, edges []EdgeMatch, o Options) []PartMatch {
	return cornersIn(frameOf(a, b, o.filled()), edges)
}

func cornersIn(f *frame, edges []EdgeMatch) []PartMatch {
	a, b := f.old.piece, f.new.piece
	return cornersOf(f, edges).matches(func(i, j int) bool { return a.Corners[i].Name == b.Corners[j].Name })
}

func cornersOf(f *frame, edges []EdgeMatch) *pairing {
	a, b := f.old.piece.Corners, f.new.piece.Corners
	p := newPairing(len(a), len(b))
	nameA, nameB := func(i int) string { return a[i].Name }, func(j int) string { return b[j].Name }
	p.pairWhere(ByName, nameA, nameB)
	p.pairWhere(ByWas, nameA, func(j int) string { return b[j].Was })
	p.pairWhere(ByWas, func(i int) string { return a[i].Was }, nameB)
	p.pairNear(f, ByShape, cornerSpots(a), cornerSpots(b), func(int, int) bool { return true })
	p.pairBetween(f, edges)
	return p
}

func cornerSpots(corners []pattern.Corner) []spot {
	out := make([]spot, len(corners))
	for i, c := range corners {
		out[i] = spot{c.At, true}
	}
	return out
}

// pairBetween pairs corners that lie between the same two matches of edges.
func (p *pairing) pairBetween(f *frame, edges []EdgeMatch) {
	if !f.old.shaped() || !f.new.shaped() {
		return
	}
	before, after := map[int]int{}, map[int]int{}
	for g, m := range edges {
		for _, i := range m.Before {
			before[i] = g + 1
		}
		for _, j := range m.After {
			after[j] = g + 1
		}
	}
	type sides [2]int
	open := map[sides][]int{}
	n := len(f.old.paths)
	for i := range p.before {
		s := sides{before[(i+n-1)%n], before[i]}
		if s[0] > 0 && s[1] > 0 && p.before[i] < 0 {
			open[s] = append(open[s], i)
		}
	}
	n = len(f.new.paths)
	for j := range p.after {
		list := open[sides{after[(j+n-1)%n], after[j]}]
		if p.after[j] < 0 && len(list) == 1 && p.before[list[0]] < 0 {
			p.pair(list[0], j, ByCorners)
		}
	}
}
