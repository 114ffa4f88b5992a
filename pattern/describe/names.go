package describe

import (
	"fmt"
	"regexp"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
)

// Names that a program made up: those of edges, corners and notches as an import
// gives them.
var (
	madeUpEdge   = regexp.MustCompile(`^e[0-9]+$`)
	madeUpCorner = regexp.MustCompile(`^c[0-9]+$`)
	madeUpNotch  = regexp.MustCompile(`^(n|t|notch-?)[0-9]+$`)
)

// proposeNames names the edges and corners of each piece by their places.
func (d *draft) proposeNames() {
	var all []alter.NewName
	for _, p := range d.g.Pieces {
		q := place(p)
		list := edgeNames(q)
		list = append(list, cornerNames(q)...)
		if len(list) == 0 {
			continue
		}
		pr := Proposal{Kind: OfNames, Piece: p.Name, Sentence: namesSentence(p, list), Change: Change{Names: list}}
		for _, n := range list {
			if !n.Corner {
				pr.Edges = append(pr.Edges, pattern.Ref{Piece: p.Name, Edge: n.New})
			}
		}
		d.put(pr)
		all = append(all, list...)
	}
	if g, problem := alter.Rename(d.g, all); problem == nil { // each name is free and sound
		d.g = g
	}
}

// edgeNames names the sides of a piece. A side of several edges is numbered from
// the top down or front to back, but left alone where the maker named one of
// them; so is a side whose name is taken elsewhere on the piece.
func edgeNames(q panel) []alter.NewName {
	var list []alter.NewName
	for _, s := range []struct {
		name     string
		side     side
		backward bool // the outline runs up, or to the front
	}{{"front", q.front, false}, {"hem", q.hem, false}, {"back", q.back, true}, {"top", q.top, true}} {
		n := len(s.side.edges)
		var names []alter.NewName
		for i, e := range s.side.edges {
			k := i + 1
			if s.backward {
				k = n - i
			}
			to := s.name
			if n > 1 {
				to = fmt.Sprintf("%s-%d", s.name, k)
			}
			old := q.piece.Edges[e].Name
			if !madeUpEdge.MatchString(old) || q.piece.EdgeIndex(to) >= 0 {
				names = nil
				break
			}
			names = append(names, alter.NewName{Piece: q.piece.Name, Old: old, New: to})
		}
		list = append(list, names...)
	}
	return list
}

// cornerNames names the corners where two sides meet.
func cornerNames(q panel) []alter.NewName {
	var list []alter.NewName
	for _, c := range []struct {
		name string
		a, b side
	}{{"top-front", q.top, q.front}, {"hem-front", q.front, q.hem}, {"hem-back", q.hem, q.back}, {"top-back", q.back, q.top}} {
		if !c.a.meets(c.b) {
			continue
		}
		old := q.piece.Corners[c.b.first()].Name
		if madeUpCorner.MatchString(old) && q.piece.CornerIndex(c.name) < 0 {
			list = append(list, alter.NewName{Piece: q.piece.Name, Corner: true, Old: old, New: c.name})
		}
	}
	return list
}

// namesSentence tells which edge becomes which; the corners between four sides
// need no list.
func namesSentence(p *pattern.Piece, list []alter.NewName) string {
	var parts, corners []string
	for _, n := range list {
		if n.Corner {
			corners = append(corners, n.Old+" "+n.New)
		} else {
			parts = append(parts, n.Old+" "+n.New)
		}
	}
	switch {
	case len(corners) == 4 && len(parts) > 0:
		parts = append(parts, "and the corners between them")
	case len(corners) > 0:
		parts = append(parts, "corner "+strings.Join(corners, ", corner "))
	}
	return "names in " + p.Name + ": " + strings.Join(parts, ", ")
}
