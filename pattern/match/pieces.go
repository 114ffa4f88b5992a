package match

import (
	"seamkeep/pattern"
)

// PieceMatch says which pieces of the earlier version are which of the later
// one. One of the lists holds a single piece, or one is empty.
type PieceMatch struct {
	Fate          Fate
	Before, After []*pattern.Piece // a split or joined one's in the order of their version
	How           How
}

// Pieces matches the pieces of two versions; each appears exactly once. In turn:
//
//  1. by was, where the earlier version lacks the new name: one piece that
//     became several was split, also where one of them kept the name;
//  2. by name;
//  3. by shape: a piece of another name whose outline lies within
//     Options.Within of the old one, or does after a movement of the whole
//     piece where no levels hold on it;
//  4. by shape in parts: one piece split into two, or two joined into one,
//     where their outlines together are the old outline and the cut; one of
//     the two may have kept its name.
//
// Former names count in both directions. Of pieces that are alike the first by
// name is taken first. Either garment may be nil. What was renamed and redrawn
// at once, with no former name recorded, was removed and added.
func Pieces(a, b *pattern.Garment, o Options) []PieceMatch {
	f := newPieceFinder(a, b, o.filled())
	f.byWas()
	f.byName()
	if f.lacking() {
		f.byShape()
	}
	if f.lacking() {
		f.byParts()
	}
	return f.matches()
}

type pieceFinder struct {
	o        Options
	old, new pieceSide
	groups   []pieceGroup
}

// pieceSide is the pieces of one version.
type pieceSide struct {
	garment *pattern.Garment
	pieces  []*pattern.Piece
	open    []bool
	names   map[string]int
	solids  []*solid // measured when first needed
}

type pieceGroup struct {
	before, after []int
	how           How
}

func newPieceFinder(a, b *pattern.Garment, o Options) *pieceFinder {
	return &pieceFinder{o: o, old: sideOf(a), new: sideOf(b)}
}

func sideOf(g *pattern.Garment) pieceSide {
	s := pieceSide{garment: g, names: map[string]int{}}
	if g == nil {
		s.garment = &pattern.Garment{}
		return s
	}
	s.pieces = g.Pieces
	s.solids = make([]*solid, len(s.pieces))
	s.open = make([]bool, len(s.pieces))
	for i, p := range s.pieces {
		s.open[i] = true
		if _, seen := s.names[p.Name]; !seen {
			s.names[p.Name] = i
		}
	}
	return s
}

func (s *pieceSide) rest() []int {
	var list []int
	for i, open := range s.open {
		if open {
			list = append(list, i)
		}
	}
	return list
}

func (f *pieceFinder) lacking() bool { return len(f.old.rest()) > 0 || len(f.new.rest()) > 0 }

func (f *pieceFinder) match(before, after []int, how How) {
	for _, i := range before {
		f.old.open[i] = false
	}
	for _, j := range after {
		f.new.open[j] = false
	}
	f.groups = append(f.groups, pieceGroup{before, after, how})
}

func (f *pieceFinder) byWas() {
	for i, js := range became(&f.old, &f.new) {
		if len(js) > 0 {
			f.match([]int{i}, js, ByWas)
		}
	}
	for j, is := range became(&f.new, &f.old) {
		if len(is) > 0 {
			f.match(is, []int{j}, ByWas)
		}
	}
}

// became lists, for each open piece of x, the open pieces of y whose former name
// it bears, where x lacks their present one; with them the piece of y that
// still bears the name.
func became(x, y *pieceSide) [][]int {
	out := make([][]int, len(x.pieces))
	was := func(p *pattern.Piece) int {
		i, ok := x.names[p.Was]
		if _, taken := x.names[p.Name]; p.Was == "" || !ok || taken || !x.open[i] {
			return -1
		}
		return i
	}
	split := map[int]bool{}
	for j, p := range y.pieces {
		if i := was(p); y.open[j] && i >= 0 {
			split[i] = true
		}
	}
	for j, p := range y.pieces {
		i := was(p)
		if k, ok := x.names[p.Name]; ok && split[k] && y.names[p.Name] == j {
			i = k
		}
		if y.open[j] && i >= 0 {
			out[i] = append(out[i], j)
		}
	}
	return out
}

func (f *pieceFinder) byName() {
	for j, p := range f.new.pieces {
		if i, ok := f.old.names[p.Name]; ok && f.old.open[i] && f.new.open[j] {
			f.match([]int{i}, []int{j}, ByName)
		}
	}
}

// matches lists the groups in the order of the later version, then what was
// removed.
func (f *pieceFinder) matches() []PieceMatch {
	at := make([]int, len(f.new.pieces)) // the group of each later piece, from 1
	for g, group := range f.groups {
		for _, j := range group.after {
			at[j] = g + 1
		}
	}
	var out []PieceMatch
	said := make([]bool, len(f.groups)+1)
	for j, p := range f.new.pieces {
		switch g := at[j]; {
		case g == 0:
			out = append(out, PieceMatch{Fate: Added, After: []*pattern.Piece{p}})
		case !said[g]:
			said[g] = true
			out = append(out, f.result(f.groups[g-1]))
		}
	}
	for _, i := range f.old.rest() {
		out = append(out, PieceMatch{Fate: Removed, Before: []*pattern.Piece{f.old.pieces[i]}})
	}
	return out
}

func (f *pieceFinder) result(g pieceGroup) PieceMatch {
	m := PieceMatch{How: g.how}
	for _, i := range g.before {
		m.Before = append(m.Before, f.old.pieces[i])
	}
	for _, j := range g.after {
		m.After = append(m.After, f.new.pieces[j])
	}
	switch {
	case len(m.After) > 1:
		m.Fate = Split
	case len(m.Before) > 1:
		m.Fate = Joined
	case m.Before[0].Name == m.After[0].Name:
		m.Fate = Same
	default:
		m.Fate = Renamed
	}
	return m
}
